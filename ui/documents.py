"""New, open, save, close: what stands between the session's job and its file."""

from __future__ import annotations

from pathlib import Path

from PySide6.QtCore import QObject
from PySide6.QtWidgets import QApplication, QFileDialog, QWidget

import loadbench
from loadbench.errors import SaveError, UnreadableFileError
from loadbench.findings import Level
from loadbench.job.files import SUFFIX, open_job, save_job
from loadbench.job.model import Job
from ui.asks import Changed, Unsaved, about_changed, about_existing, about_unsaved
from ui.lift_import.imports import LiftImports
from ui.notice import NoticeArea
from ui.printout.printouts import Printouts
from ui.recent import Recent
from ui.recovery import Found, Holder, Recovery
from ui.session import Session
from ui.settings import Settings

DEMO = "short-travel-hydraulic-roller"


def sample_files() -> list[Path]:
    """The demo jobs that come with the program; none where only the package was installed."""
    return sorted((Path(loadbench.__file__).parent.parent / "samples").glob(f"*{SUFFIX}"))


def settle() -> None:
    """Have the field that is being typed in commit: leaving it does, and the focus goes back."""
    focused = QApplication.focusWidget()
    if focused is not None:
        focused.clearFocus()
        focused.setFocus()


def _stamp(path: Path | None) -> tuple[int, int] | None:
    """What tells that a file is no longer the one that was read: its time and its size."""
    try:
        status = path.stat() if path is not None else None
    except OSError:
        return None
    return (status.st_mtime_ns, status.st_size) if status is not None else None


class Documents(QObject):
    """The files of one window."""

    def __init__(self, session: Session, window: QWidget, notices: NoticeArea, settings: Settings) -> None:
        super().__init__(window)
        self._session = session
        self._window = window
        self._notices = notices
        self._settings = settings
        self.recent = Recent(settings)
        self.recovery = Recovery(session)
        self.printouts = Printouts(session, window, settings)
        self.lifts = LiftImports(session, window, settings)
        self.read_only = False
        self._stamp: tuple[int, int] | None = None

    @property
    def name(self) -> str:
        """What the job on the table is called: its file's name, or its title while it has none."""
        path = self._session.path
        return path.name.removesuffix(SUFFIX) if path else self._session.job.title or self.tr("Untitled")

    # Another job on the table

    def new(self) -> None:
        """An empty job."""
        if self.may_leave():
            self._put(Job(title=self.tr("Untitled"), units=str(self._session.style)), None)

    def open(self) -> None:
        """Ask for a file and open it."""
        chosen, _ = QFileDialog.getOpenFileName(
            self._window,
            self.tr("Open a job"),
            self._settings.folder,
            self.tr("LoadBench jobs (*.loadbench.json *.json)"),
        )
        if chosen:
            self.open_path(Path(chosen))

    def open_path(self, path: Path) -> bool:
        """Open a file; a refused one is told, and the job on the table stays."""
        job = self._read(path)
        if job is None or not self.may_leave():
            return False
        self._put(job, path.absolute())
        self.recent.add(path)
        self._settings.put("folder", str(path.absolute().parent))
        return True

    def open_sample(self, path: Path) -> None:
        """Open a demo job as an untitled copy, so that saving asks for a name."""
        job = self._read(path)
        if job is not None and self.may_leave():
            self._put(job, None)

    def put_untitled(self, job: Job) -> None:
        """Put a job without a file on the table, asking nobody."""
        self._put(job, None)

    def restore(self, found: Found) -> None:
        """Put unsaved work of an earlier run back on the table, still unsaved."""
        if self.may_leave():
            self._put(found.job, found.path, unsaved=True)
            found.file.unlink(missing_ok=True)

    def _read(self, path: Path) -> Job | None:
        try:
            return open_job(path)
        except UnreadableFileError as refused:
            head = self.tr("{name} was not opened; nothing was changed.").format(name=path.name)
            self._notices.tell(Level.STOP, f"{head}\n{refused}")
            self._session.announce(head)
            return None

    def _put(self, job: Job, path: Path | None, *, unsaved: bool = False) -> None:
        self._notices.clear()
        holder = self.recovery.take(path)
        self.read_only = holder is not None
        self._stamp = _stamp(path)
        self._session.reload(job, path, unsaved=unsaved)
        if unsaved:
            self.recovery.write()
        if holder is not None and path is not None:
            self._tell_holder(path, holder)

    def _tell_holder(self, path: Path, holder: Holder) -> None:
        text = self.tr("{name} is open in another LoadBench (process {process} on {host}). Here it can be read and "
                       "changed, but saved under another name only.")  # fmt: skip
        said = text.format(name=path.name, process=holder.process, host=holder.host)
        self._notices.tell(Level.WATCH, said, (self.tr("Save as…"), self.save_as))

    # Saving

    def save(self) -> bool:
        """Save to the job's own file; asks for one where it has none. False: not saved."""
        settle()
        path = self._session.path
        if path is None or self.read_only:
            return self.save_as()
        if _stamp(path) != self._stamp and path.exists():
            answer = about_changed(self._window, path.name)
            if answer is not Changed.OVERWRITE:
                return answer is Changed.SAVE_AS and self.save_as()
        return self._write(path)

    def save_as(self) -> bool:
        """Ask for a file and save to it. False: not saved."""
        settle()
        proposed = str(self._session.path or Path(self._settings.folder) / f"{_file_name(self.name)}{SUFFIX}")
        chosen, _ = QFileDialog.getSaveFileName(
            self._window, self.tr("Save the job as"), proposed, self.tr("LoadBench jobs (*.loadbench.json)")
        )
        if not chosen:
            return False
        path = Path(chosen)
        if not path.name.endswith(".json"):  # the dialog asked about another name
            path = path.with_name(f"{path.name}{SUFFIX}")
            if path.exists() and not about_existing(self._window, path.name):
                return False
        return self._write(path.absolute())

    def _write(self, path: Path) -> bool:
        try:
            save_job(self._session.job, path)
        except SaveError as error:
            self._notices.tell(Level.STOP, str(error), (self.tr("Save as…"), self.save_as))
            self._session.announce(self.tr("Not saved."))
            return False
        if path != self._session.path or self.read_only:
            self.read_only = self.recovery.take(path) is not None
        self._stamp = _stamp(path)
        self._session.undo_stack.setClean()
        self.recovery.forget()
        self._session.set_path(path)
        self.recent.add(path)
        self._settings.put("folder", str(path.parent))
        self._session.announce(self.tr("Saved {name}.").format(name=path.name))
        return True

    # Leaving

    def may_leave(self) -> bool:
        """Whether the job on the table may go: saved, or the user wants no changes kept."""
        settle()
        if self._session.undo_stack.isClean():
            return True
        answer = about_unsaved(self._window, self.name)
        if answer is Unsaved.SAVE:
            return self.save()
        return answer is Unsaved.DROP


def _file_name(title: str) -> str:
    """A title as a file's name: what a path could misread becomes a hyphen."""
    kept = "".join(letter if letter.isalnum() or letter in " -_().," else "-" for letter in title)
    return kept.strip(" .-")[:80] or "job"
