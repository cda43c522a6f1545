"""A printout from a file or pasted text: what it is, refused in words if it cannot be one, then split into cells."""

from __future__ import annotations

import os
import re
from collections.abc import Callable
from pathlib import Path

from loadbench.errors import UnreadableFileError
from loadbench.job.model import FORMAT
from loadbench.readings.printout.cells import Grid
from loadbench.readings.printout.decoding import decoded, is_text, no_text
from loadbench.readings.printout.splitting import grid_of_text
from loadbench.readings.printout.workbook_guard import WORKBOOK, refused
from loadbench.readings.printout.workbook_in import grid_of_workbook

MOST_TEXT = 16_000_000
MOST_WORKBOOK = 64_000_000
PRINTOUT = "a printout as text (CSV, tabs, columns of blanks) or a workbook (.xlsx)"
ROWS = "a printout with a header and a row for each spring or reading"
HEAD = 512
JOB = re.compile(rf'\s*\{{.{{0,400}}?"format"\s*:\s*"{FORMAT}"', re.DOTALL)
ARCHIVE = (b"PK\x03\x04", b"PK\x05\x06")
COMPOUND = b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1"
# How a locked workbook names its part inside the old container; the container's directory may stand at either end.
LOCKED = "EncryptedPackage".encode("utf-16-le")
DIRECTORY_REACH = 1_000_000
PICTURE = "This is a picture, which is kept for the record but not read."
OTHERS = (
    (b"\x89PNG\r\n\x1a\n", PICTURE),
    (b"\xff\xd8\xff", PICTURE),
    (b"GIF87a", PICTURE),
    (b"GIF89a", PICTURE),
    (b"II*\x00", PICTURE),
    (b"MM\x00*", PICTURE),
    (b"%PDF-", "This is a PDF, which is laid out for paper."),
    (b"{\\rtf", "This is a formatted text (RTF)."),
    (b"\x1f\x8b", "This is a packed file (gzip)."),
    (b"7z\xbc\xaf\x27\x1c", "This is an archive (7z)."),
)

Progress = Callable[[float], None]


def read_grid(path: str | os.PathLike[str], *, sheet: str | None = None, progress: Progress | None = None) -> Grid:
    """Read a printout: text in any usual encoding and with any usual separator, or a sheet of an .xlsx workbook.

    Args:
        path: the file; what it holds decides how it is read, not its name.
        sheet: which sheet of a workbook; None: the first with rows of numbers.
        progress: told the share done; it may raise Cancelled.

    Returns:
        The grid, with at least one row.

    Raises:
        UnreadableFileError: missing, a folder, empty, too large, or no printout; says what was expected.
        Cancelled: by `progress`.
    """
    path = Path(path)
    try:
        head = _head(path)
        if head.startswith(ARCHIVE):
            return grid_of_workbook(path, sheet=sheet, progress=progress)
        _check_kind(path, head)
        data = path.read_bytes()
    except (OSError, ValueError) as error:
        # ValueError: a name that no file can have, such as one with a NUL.
        why = getattr(error, "strerror", None) or str(error)
        raise refused(f"The file cannot be read: {why}.", "a readable file", path.name) from error
    if sheet is not None:
        raise refused(f"A text has no sheets, so none named {sheet!r}.", "no sheet asked for", path.name)
    if progress is not None:
        progress(0.1)
    text, encoding = decoded(data, name=path.name)
    if JOB.match(text):
        raise refused("This is a LoadBench job, not a printout.", "the tester's printout itself", path.name)
    if progress is not None:
        progress(0.3)
    return _filled(grid_of_text(text, name=path.name, encoding=encoding))


def grid_of_pasted(text: str) -> Grid:
    """Split text from the clipboard into cells.

    Args:
        text: what was pasted.

    Returns:
        The grid, with at least one row; without name and encoding.

    Raises:
        UnreadableFileError: nothing in it, too much, or no text.
    """
    if len(text) > MOST_TEXT:
        raise refused(f"The text has {len(text) / 1e6:.0f} million characters.", "at most 16 million", "")
    text = text.removeprefix("\ufeff").encode("utf-8", "replace").decode("utf-8")
    if not is_text(text):
        raise no_text("", "What was pasted is not text.")
    return _filled(grid_of_text(text))


def _filled(grid: Grid) -> Grid:
    if not grid.rows:
        raise refused("There is nothing in it but blanks.", ROWS, grid.name)
    return grid


def _head(path: Path) -> bytes:
    """The first bytes of a file that may be read; its size is looked at before."""
    if not path.is_file():
        other = "This is not a file of data." if path.exists() else "There is no such file."
        raise refused("This is a folder." if path.is_dir() else other, PRINTOUT, path.name)
    size = path.stat().st_size
    if size == 0:
        raise refused("The file is empty.", ROWS, path.name)
    with path.open("rb") as stream:
        head = stream.read(HEAD)
    if size > (MOST_WORKBOOK if head.startswith(ARCHIVE) else MOST_TEXT):
        most = WORKBOOK if head.startswith(ARCHIVE) else "a printout of at most 16 MB as text, or 64 MB as a workbook"
        raise refused(f"The file has {size / 1e6:,.0f} MB.", most, path.name)
    return head


def _check_kind(path: Path, head: bytes) -> None:
    """Refuse what is known by its first bytes to be something else, with what to do."""
    if head.startswith(COMPOUND):
        raise _old_container(path)
    for mark, what in OTHERS:
        if head.startswith(mark):
            raise no_text(path.name, what)


def _old_container(path: Path) -> UnreadableFileError:
    with path.open("rb") as stream:
        found = LOCKED in stream.read(DIRECTORY_REACH)
        stream.seek(max(0, path.stat().st_size - DIRECTORY_REACH))
        found = found or LOCKED in stream.read()
    if found:
        return refused("The workbook is locked with a password.", "it saved without one, as .xlsx or CSV", path.name)
    what = "This is a workbook or document of an old kind (such as .xls)."
    return refused(what, "it saved as .xlsx, or the printout as CSV", path.name)
