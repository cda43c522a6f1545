"""Works out the plan beside the window: the newest inputs win, nothing is done while the page is hidden."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import QObject, QTimer, Signal

from loadbench.assembly.answer import FitAnswer
from loadbench.errors import LoadBenchError
from loadbench.job.model import Job
from ui.desk import Desk, Progress

if TYPE_CHECKING:
    from ui.session import Session

WAIT_MS = 120
"""After an edit: a block of keystrokes is one piece of work."""

UNREAD = frozenset(
    {"title", "customer", "notes", "record", "variants", "history", "printouts", "recipes", "photos", "plan"}
)
"""The parts of a job that no plan depends on."""

Token = tuple[object, ...]


class Planner(QObject):
    """Holds the last answer and knows whether it still speaks of the job on the table."""

    changed = Signal()  # the answer, whether it is out of date, or whether work is under way
    advanced = Signal(float)

    def __init__(self, session: Session, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self.session = session
        self.answer: FitAnswer | None = None
        self.failure = ""
        self.live = False
        self._desk = Desk(self)
        self._desk.done.connect(self._take)
        self._desk.failed.connect(self._fail)
        self._desk.progress.connect(self.advanced)
        self._answered: Token | None = None
        self._asked: Token | None = None
        self._seen: Token | None = None
        self._stopped: Token | None = None  # the inputs whose work the user stopped
        self._wait = QTimer(self)
        self._wait.setSingleShot(True)
        self._wait.setInterval(WAIT_MS)
        self._wait.timeout.connect(self.find)
        session.changed.connect(self._follow)
        session.loaded.connect(self._forget)

    @property
    def busy(self) -> bool:
        """Whether an answer is awaited."""
        return self._wait.isActive() or self._desk.busy

    @property
    def stale(self) -> bool:
        """Whether there is an answer, and the job has changed since."""
        return self.answer is not None and self._answered != self._seen

    @property
    def usable(self) -> bool:
        """Whether the plan may be taken over: it holds, and it is of the job as it stands."""
        if self.answer is None or not self.answer.feasible or self.session.previewing:
            return False
        return self._answered == _token(self.session.job, self.session.shop)  # also while nobody follows the job

    # Following

    def set_live(self, live: bool) -> None:
        """Follow the job from now on, or not; work under way for nobody is dropped."""
        self.live = live
        if live:
            self._follow()
        else:
            self._drop()

    def _forget(self) -> None:
        self.answer, self.failure = None, ""
        self._answered = self._asked = self._seen = self._stopped = None

    def _follow(self, _state: object = None) -> None:
        """What is typed but not committed asks for no plan yet."""
        if not self.live or self.session.previewing:
            return
        token = _token(self.session.job, self.session.shop)
        if token == self._seen and (token in (self._answered, self._stopped) or self.busy):
            return
        self._seen = token
        if token == self._answered:
            self._drop()
        else:
            self._wait.start()
        self.changed.emit()

    # Work

    def find(self) -> None:
        """Work the plan out for the job as committed."""
        if self.session.previewing:
            return  # what is typed is committed first, and asks again
        self._wait.stop()
        self._seen = self._asked = _token(self.session.job, self.session.shop)
        self._stopped = None
        analysis, shop = self.session.state.analysis, self.session.shop

        def work(progress: Progress) -> FitAnswer:
            from loadbench.assembly.fit import fit

            return fit(analysis, shop, progress)

        self._desk.start(work)
        self.changed.emit()

    def cancel(self) -> None:
        """Stop the work; the answer before, if any, stays and is out of date."""
        self._stopped = self._seen
        self._drop()
        self.changed.emit()

    def _drop(self) -> None:
        self._wait.stop()
        self._desk.cancel()

    def shutdown(self) -> None:
        """End the thread; the next work has another."""
        self._drop()
        self._desk.shutdown()

    def _take(self, answer: object) -> None:
        if isinstance(answer, FitAnswer):
            self.answer, self._answered, self.failure = answer, self._asked, ""
        self.changed.emit()

    def _fail(self, error: object) -> None:
        """An error of ours says what it is; any other is told as what it came to."""
        told = str(error) if isinstance(error, LoadBenchError) else self.tr("The plan could not be worked out.")
        self.answer, self._answered, self.failure = None, self._asked, told
        self._stopped = self._asked
        self.changed.emit()


def _token(job: Job, shop: object) -> Token:
    """What a plan depends on, to see whether it changed; parts that no edit touched are compared by identity."""
    return (*(getattr(job, name) for name in Job.model_fields if name not in UNREAD), shop)
