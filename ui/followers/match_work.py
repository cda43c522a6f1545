"""Works the match out beside the window, a moment after the last edit; the newest job wins."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import QCoreApplication, QObject, QTimer, Signal

from loadbench.errors import LoadBenchError
from ui.desk import Desk, Progress

if TYPE_CHECKING:
    from loadbench.findings.match.result import Match
    from loadbench.findings.shop import Shop
    from ui.session import Session
    from ui.state import State

AFTER_MS = 40
"""A key that is still being typed is waited for."""


class Matcher(QObject):
    """Holds which state was asked for last and which is answered; idle while nobody looks."""

    found = Signal(object)  # a Match
    failed = Signal(str)

    def __init__(self, session: Session, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self.session = session
        self.answered: State | None = None
        self._wanted: State | None = None
        self._asked: State | None = None
        self._desk = Desk(self)
        self._desk.done.connect(self._take)
        self._desk.failed.connect(self._fail)
        self._later = QTimer(self)
        self._later.setSingleShot(True)
        self._later.setInterval(AFTER_MS)
        self._later.timeout.connect(self._start)

    @property
    def busy(self) -> bool:
        """Whether an answer is awaited."""
        return self._later.isActive() or self._desk.busy

    @property
    def stale(self) -> bool:
        """Whether the last answer is of another job than the one that is wanted."""
        return self._wanted is not self.answered

    def want(self, state: State) -> None:
        """Have the match of a state worked out; the first one at once."""
        self._wanted = state
        if not self.stale or (self._desk.busy and self._asked is state):
            return
        if self.answered is None and not self.busy:
            self._start()
        else:
            self._later.start()

    def now(self, state: State) -> None:
        """Work the match of a state out at once, for whoever takes it away."""
        self._wanted = state
        if self.stale:
            self.rest()
            self._asked = state
            self._take(_match(state, self.session.shop))

    def rest(self) -> None:
        """Nobody looks any more: what is under way is dropped."""
        self._later.stop()
        self._desk.cancel()

    def shutdown(self) -> None:
        """End the thread; the next work has another."""
        self.rest()
        self._desk.shutdown()

    def _start(self) -> None:
        state, shop = self._wanted, self.session.shop
        if state is None or not self.stale:
            return
        self._asked = state

        def work(_progress: Progress) -> Match:
            return _match(state, shop)

        self._desk.start(work)

    def _take(self, match: object) -> None:
        self.answered = self._asked
        self.found.emit(match)

    def _fail(self, error: object) -> None:
        """An error of ours says what it is; any other is told as what it came to."""
        self.answered = self._asked
        told = QCoreApplication.translate("FollowersPage", "The match could not be worked out.")
        self.failed.emit(str(error) if isinstance(error, LoadBenchError) else told)


def _match(state: State, shop: Shop | None) -> Match:
    from loadbench.findings.match.match import match_of

    return match_of(state.analysis, shop)
