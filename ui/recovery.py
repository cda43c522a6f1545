"""Copies of unsaved work, and the locks that tell whose job is open where."""

from __future__ import annotations

import contextlib
import hashlib
import json
import time
import uuid
from dataclasses import dataclass
from pathlib import Path

from PySide6.QtCore import QLockFile, QObject, QTimer

import loadbench
from loadbench.errors import SaveError, UnreadableFileError
from loadbench.job.files import text_of_job, write_atomically
from loadbench.job.model import Job
from loadbench.job.reading_in import job_from_text
from ui.places import recovery_folder
from ui.session import Session

AFTER_MS = 2000
AT_MOST_S = 30.0
SUFFIX = ".recovery.json"


@dataclass(frozen=True, slots=True, kw_only=True)
class Found:
    """Unsaved work that an earlier run left behind."""

    file: Path
    job: Job
    path: Path | None
    saved: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Holder:
    """Who has a job open."""

    process: int
    host: str


def key_of(path: Path) -> str:
    """A name for a job's lock: the same for every way to the same file."""
    return hashlib.sha256(str(path.resolve()).encode("utf-8", "surrogateescape")).hexdigest()[:32]


class Recovery(QObject):
    """Watches one session: locks its file, and keeps a copy while it has unsaved changes."""

    def __init__(self, session: Session) -> None:
        super().__init__()
        self._session = session
        self._locks: list[QLockFile] = []
        self._copy: Path | None = None
        self._first = 0.0  # when the oldest change that has no copy yet was made
        self._timer = QTimer(self)
        self._timer.setSingleShot(True)
        self._timer.timeout.connect(self.write)
        session.undo_stack.moved.connect(self._changed)

    def take(self, path: Path | None) -> Holder | None:
        """Lock a job that is now on the table, and let go of the one before.

        Args:
            path: its file; None for an untitled one.

        Returns:
            None; or who else has it open.
        """
        self.release()
        self._copy = recovery_folder() / f"{uuid.uuid4().hex}{SUFFIX}"
        self._locks = [_lock(_lock_of(self._copy))]
        self._locks[0].tryLock(0)
        if path is None:
            return None
        document = _lock(recovery_folder() / f"{key_of(path)}.lock")
        if document.tryLock(0):
            self._locks.append(document)
            return None
        process, host, _ = document.getLockInfo()
        return Holder(process=process, host=host)

    def release(self) -> None:
        """The job is saved, or nobody wants its changes: no copy, no lock."""
        self.forget()
        for lock in self._locks:
            lock.unlock()
        self._locks = []
        self._copy = None

    def forget(self) -> None:
        """Remove the copy."""
        self._timer.stop()
        self._first = 0.0
        if self._copy is not None:
            self._copy.unlink(missing_ok=True)

    def write(self) -> None:
        """Write the copy now."""
        self._timer.stop()
        self._first = 0.0
        if self._copy is None or self._session.undo_stack.isClean():
            return
        path = self._session.path
        kept = {
            "path": None if path is None else str(path),
            "changed_on_disk": None if path is None or not path.exists() else path.stat().st_mtime,
            "program": loadbench.__version__,
            "saved": time.time(),
            "job": text_of_job(self._session.job),
        }
        with contextlib.suppress(SaveError):  # a full disk is told when the user saves
            write_atomically(self._copy, json.dumps(kept).encode("utf-8"))

    def _changed(self) -> None:
        if self._session.undo_stack.isClean():
            self.forget()
            return
        now = time.monotonic()
        self._first = self._first or now
        left = AT_MOST_S - (now - self._first)
        self._timer.start(max(0, min(AFTER_MS, round(1000 * left))))


def found() -> list[Found]:
    """Unsaved work whose program no longer runs, the newest first."""
    left = [one for file in recovery_folder().glob(f"*{SUFFIX}") if (one := _read(file)) is not None]
    return sorted(left, key=lambda one: -one.saved)


def _read(file: Path) -> Found | None:
    lock = _lock(_lock_of(file))
    if not lock.tryLock(0):
        return None
    lock.unlock()
    try:
        kept = json.loads(file.read_text(encoding="utf-8"))
        job = job_from_text(kept["job"], file.name)
        path = None if kept["path"] is None else Path(kept["path"])
        return Found(file=file, job=job, path=path, saved=float(kept["saved"]))
    except (OSError, ValueError, KeyError, TypeError, UnreadableFileError):
        return None


def _lock_of(copy: Path) -> Path:
    return copy.with_name(f"{copy.name.removesuffix(SUFFIX)}.lock")


def _lock(file: Path) -> QLockFile:
    lock = QLockFile(str(file))
    lock.setStaleLockTime(0)  # never by age: a crashed holder is known by its process
    return lock
