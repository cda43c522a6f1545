"""Whether a file is a workbook that may be opened: looked at from outside, before anything in it is unpacked."""

from __future__ import annotations

import os
import re
import zipfile
import zlib
from pathlib import Path

from loadbench.errors import Place, Problem, UnreadableFileError

MOST_BYTES = 64_000_000
MOST_ENTRIES = 500
MOST_RATIO = 200
LARGE_ENTRY = 1_000_000
# The table of contents ends the file: a record of 22 bytes and a comment; an entry takes 46 bytes and its names.
END_RECORD = b"PK\x05\x06"
END_BYTES = 22
MOST_COMMENT = 65535
MOST_CONTENTS = 1_000_000
WORKBOOK = "a workbook (.xlsx) of at most 64 MB"
OWN_PROPERTIES = "docprops/custom.xml"
OWN_MARK = re.compile(rb'<property\b[^<>]*\bname="LoadBench"')
SAVE_AS = "the workbook saved as .xlsx from a spreadsheet program, or the printout as CSV"
TYPES = "[content_types].xml"
MACROS = ("vbaproject.bin", "xl/macrosheets/")
KINDS = (
    ("xl/workbook.bin", "This is a binary workbook (.xlsb)."),
    ("word/document.xml", "This is a text document, not a workbook."),
    ("ppt/presentation.xml", "This is a presentation, not a workbook."),
)


def guard(path: Path) -> None:
    """Refuse what must not or cannot be opened as a workbook; reads the table of contents and two small entries.

    Args:
        path: a file that begins as a zip archive does.

    Raises:
        UnreadableFileError: too large, packed like a bomb, with macros, locked, damaged, or another kind of document.
    """
    try:
        if (size := path.stat().st_size) > MOST_BYTES:
            raise refused(f"The file has {size / 1e6:.0f} MB.", WORKBOOK, path.name)
        if _contents_bytes(path) > MOST_CONTENTS:
            raise refused(f"The workbook holds more than {MOST_ENTRIES} entries.", WORKBOOK, path.name)
        with zipfile.ZipFile(path) as archive:
            _check(archive, path)
    except (
        zipfile.BadZipFile,
        NotImplementedError,
        RuntimeError,
        ValueError,
        EOFError,
        LookupError,
        zlib.error,
    ) as error:
        raise damaged(path.name) from error
    except OSError as error:
        raise refused(f"The file cannot be read: {error.strerror or error}.", "a readable file", path.name) from error


def refused(what: str, expected: str, name: str) -> UnreadableFileError:
    """A refusal in words: what is wrong, what was expected, of which file."""
    return UnreadableFileError((Problem(what=what, expected=expected, place=Place(file=name or None)),))


def damaged(name: str) -> UnreadableFileError:
    """The refusal of an archive that cannot be read."""
    return refused("The workbook is damaged or cut short.", f"{WORKBOOK}; save it anew or export it as CSV", name)


def _contents_bytes(path: Path) -> int:
    """The length of the table of contents as the file states it; reading it takes time and room by that length."""
    with path.open("rb") as stream:
        size = stream.seek(0, os.SEEK_END)
        stream.seek(max(0, size - END_BYTES - MOST_COMMENT))
        tail = stream.read()
    at = tail.rfind(END_RECORD)
    if at < 0 or len(tail) < at + END_BYTES:
        raise zipfile.BadZipFile
    return int.from_bytes(tail[at + 12 : at + 16], "little")


def _check(archive: zipfile.ZipFile, path: Path) -> None:
    entries = archive.infolist()
    names = {entry.filename.lower() for entry in entries}
    _check_kind(archive, names, path)
    if len(entries) > MOST_ENTRIES:
        raise refused(f"The workbook holds {len(entries):,} entries.", f"at most {MOST_ENTRIES}", path.name)
    if any(entry.flag_bits & 1 for entry in entries):
        raise refused("The archive is locked with a password.", SAVE_AS, path.name)
    unpacked = sum(entry.file_size for entry in entries)
    packed_tight = any(
        entry.file_size > LARGE_ENTRY and entry.file_size > MOST_RATIO * max(entry.compress_size, 1)
        for entry in entries
    )
    if unpacked > MOST_BYTES or packed_tight:
        what = f"The workbook would unpack to {unpacked / 1e6:,.0f} MB from {path.stat().st_size / 1e6:,.1f} MB."
        raise refused(
            what, f"at most {MOST_BYTES / 1e6:.0f} MB, and no part packed more than {MOST_RATIO}-fold", path.name
        )


def _check_kind(archive: zipfile.ZipFile, names: set[str], path: Path) -> None:
    """Refuse archives of another kind, each with what to do."""
    macros = any(name.endswith(MACROS[0]) or name.startswith(MACROS[1]) for name in names)
    if macros or path.suffix.lower() in {".xlsm", ".xltm"} or b"macroEnabled" in _small(archive, names, TYPES):
        raise refused("This is a workbook with macros.", "it saved as .xlsx, which holds none", path.name)
    for name, what in KINDS:
        if name in names:
            raise refused(what, SAVE_AS, path.name)
    if _small(archive, names, "mimetype").startswith(b"application/vnd.oasis.opendocument"):
        raise refused("This is an OpenDocument file (.ods or a relative).", SAVE_AS, path.name)
    if OWN_MARK.search(_small(archive, names, OWN_PROPERTIES)):
        raise refused("This is LoadBench's own workbook, a report of a job.", "the tester's printout itself", path.name)
    if "xl/workbook.xml" not in names and TYPES not in names:
        raise refused("This is an archive, not a workbook.", "the printout itself, unpacked", path.name)


def _small(archive: zipfile.ZipFile, names: set[str], wanted: str) -> bytes:
    """An entry's bytes, whatever the case of its name; nothing where it is missing or large."""
    if wanted not in names:
        return b""
    entry = next(one for one in archive.infolist() if one.filename.lower() == wanted)
    return archive.read(entry) if entry.file_size <= LARGE_ENTRY and not entry.flag_bits & 1 else b""
