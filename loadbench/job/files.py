"""Job files on disk: opened whole or refused, saved atomically or not at all."""

from __future__ import annotations

import contextlib
import json
import os
import stat
import tempfile
from pathlib import Path

from loadbench.errors import Place, Problem, SaveError, UnreadableFileError
from loadbench.job.model import Job
from loadbench.job.reading_in import MOST_BYTES, job_from_text

SUFFIX = ".loadbench.json"
ARCHIVE = b"PK\x03\x04"
WORKBOOK_PART = b"xl/workbook"
OLD_CONTAINER = b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1"


def open_job(path: str | os.PathLike[str]) -> Job:
    """Open a job file.

    Args:
        path: the file.

    Returns:
        The job. Faults of value do not stop it: see `loadbench.job.stated`.

    Raises:
        UnreadableFileError: the file cannot be read, is not ours, is damaged, or is from a later version.
    """
    path = Path(path)
    return job_from_text(_text_of(path), path.name)


def _text_of(path: Path) -> str:
    place = Place(file=path.name)

    def refused(what: str, expected: str) -> UnreadableFileError:
        return UnreadableFileError((Problem(what=what, expected=expected, place=place),))

    try:
        if not path.is_file():
            what = "This is a folder." if path.is_dir() else "There is no such file."
            raise refused(what, "a LoadBench job file")
        if path.stat().st_size > MOST_BYTES:
            raise refused(f"The file has {path.stat().st_size / 1e6:.0f} MB.", f"at most {MOST_BYTES / 1e6:.0f} MB")
        content = path.read_bytes()
        if (other := _no_job(content)) is not None:
            raise refused(other, f"a LoadBench job, *{SUFFIX}")
        return content.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        raise refused(f"Byte {error.start + 1} is not UTF-8 text.", "a LoadBench job in UTF-8") from error
    except OSError as error:
        raise refused(f"The file cannot be read: {error.strerror or error}.", "a readable file") from error


def _no_job(content: bytes) -> str | None:
    """What a file is that is known by its bytes to be no job, as a sentence; None where it may be one."""
    if content.startswith(ARCHIVE):
        return f"This is {'a workbook' if WORKBOOK_PART in content else 'an archive'}, not a job."
    if content.startswith(OLD_CONTAINER):
        return "This is a workbook or document of an old kind (such as .xls), not a job."
    return None


def text_of_job(job: Job) -> str:
    """The job as the text of its file: what is stated, in the document's order, ending with a newline."""
    stated = job.model_dump(mode="json", exclude_none=True, exclude_defaults=True)
    head = {"format": job.format, "version": job.version, "title": job.title}
    return json.dumps(head | stated, indent=2, ensure_ascii=False) + "\n"


def save_job(job: Job, path: str | os.PathLike[str]) -> None:
    """Save a job: the file is replaced whole, or stays as it was.

    Args:
        job: what to save.
        path: where; a symbolic link is followed, the file's mode is kept.

    Raises:
        SaveError: the file cannot be written; says why.
    """
    try:
        content = text_of_job(job).encode("utf-8")
    except UnicodeEncodeError as error:
        raise SaveError("The job cannot be saved: a text holds half of a character.") from error
    write_atomically(Path(path), content)


def write_atomically(path: Path, content: bytes) -> None:
    """Replace a file's content whole: a new file beside it, flushed to disk, then moved over it.

    Args:
        path: the file; a symbolic link is followed.
        content: all of it.

    Raises:
        SaveError: it could not be written; the old file stands, no other file is left.
    """
    try:
        target = path.resolve()
        if not target.parent.is_dir():
            raise SaveError(
                f"{path.name} cannot be saved: No such file or directory: there is no folder {path.parent}."
            )
        handle, temporary = tempfile.mkstemp(dir=target.parent, prefix=f".{target.name}.", suffix=".part")
    except (OSError, RuntimeError, ValueError) as error:
        raise SaveError(f"{path.name} cannot be saved: {getattr(error, 'strerror', None) or error}.") from error
    try:
        with os.fdopen(handle, "wb") as stream:
            stream.write(content)
            stream.flush()
            os.fsync(stream.fileno())
        Path(temporary).chmod(_mode_for(target))
        Path(temporary).replace(target)
    except OSError as error:
        with contextlib.suppress(OSError):
            Path(temporary).unlink()
        raise SaveError(f"{path.name} cannot be saved: {error.strerror or error}.") from error
    _flush_folder(target.parent)


def _mode_for(target: Path) -> int:
    """The mode the file had; for a new one, what the user's mask gives."""
    with contextlib.suppress(OSError):
        return stat.S_IMODE(target.stat().st_mode)
    mask = os.umask(0)
    os.umask(mask)
    return 0o666 & ~mask


def _flush_folder(folder: Path) -> None:
    """Make the move itself durable where the system can (not on Windows)."""
    with contextlib.suppress(OSError):
        handle = os.open(folder, os.O_RDONLY)
        try:
            os.fsync(handle)
        finally:
            os.close(handle)
