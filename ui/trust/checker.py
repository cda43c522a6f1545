"""Checks the set once for each state of the job, and only while somebody looks; a very large one off the window."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import QObject, Signal

from loadbench.errors import LoadBenchError
from loadbench.findings.set_check.check_set import check_set
from loadbench.findings.set_check.result import SetCheck
from ui.desk import Desk

if TYPE_CHECKING:
    from loadbench.analysis import Analysis
    from loadbench.findings.shop import Shop
    from ui.session import Session

MOST_HERE = 4000
"""Readings that are checked within 0.2 s; more go to the desk."""

Token = tuple[object, object]


class Checker(QObject):
    """Holds the last check."""

    changed = Signal()

    def __init__(self, session: Session, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self.session = session
        self.check: SetCheck | None = None
        self.failure = ""
        self.live = False
        self._of: Token | None = None  # what the check, or the work under way, is of
        self._desk = Desk(self)
        self._desk.done.connect(self._take)
        self._desk.failed.connect(self._fail)
        session.changed.connect(self._follow)

    @property
    def busy(self) -> bool:
        """Whether a check is awaited."""
        return self._desk.busy

    def set_live(self, live: bool) -> None:
        """Follow the job from now on, or not."""
        self.live = live
        if live:
            self._follow()
        elif self.busy:
            self._of = None
            self._desk.cancel()

    def _follow(self, _state: object = None) -> None:
        if not self.live:
            return
        token = (self.session.state, self.session.shop)
        if self._of is not None and token[0] is self._of[0] and token[1] is self._of[1]:
            return
        self._of = token
        analysis, shop = self.session.state.analysis, self.session.shop
        if _size(analysis) > MOST_HERE:
            self._desk.start(lambda _progress: check_set(analysis, shop))
            self.changed.emit()
        else:
            self._here(analysis, shop)

    def _here(self, analysis: Analysis, shop: Shop | None) -> None:
        if self.busy:
            self._desk.cancel()
        self._take(check_set(analysis, shop))

    def _take(self, check: object) -> None:
        if isinstance(check, SetCheck):
            self.check, self.failure = check, ""
        self.changed.emit()

    def _fail(self, error: object) -> None:
        """An error of ours says what it is; any other is told as what it came to."""
        self.failure = str(error) if isinstance(error, LoadBenchError) else self.tr("The set could not be checked.")
        self.changed.emit()

    def shutdown(self) -> None:
        """End the thread; the next work has another."""
        if self._desk.busy:
            self._of = None
        self._desk.shutdown()


def _size(analysis: Analysis) -> int:
    """How many readings there are, those of earlier checks included."""
    job = analysis.job
    sets = (job.springs, *(check.springs for check in job.history))
    return sum(len(spring.readings) for springs in sets for spring in springs)
