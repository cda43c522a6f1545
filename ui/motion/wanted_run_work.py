"""The wanted seat load by the dynamic run, worked out beside the window once what is typed has settled."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import QObject, QTimer, Signal

from loadbench.analysis.motion.wanted_run import HeldByRun, held_by_run
from loadbench.errors import LoadBenchError
from ui.desk import Desk, Progress

if TYPE_CHECKING:
    from loadbench.analysis.motion.result import Dynamic

SETTLED_MS = 350

Key = tuple[object, ...]


class WantedRunWork(QObject):
    """Holds the last answer and what it is of; a new question cancels the work on the one before."""

    changed = Signal()

    def __init__(self, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self.answer: HeldByRun | None = None
        self.failure = ""
        self.stopped = False
        self.share = 0.0
        self._question: tuple[Dynamic, float, float, float] | None = None
        self._key: Key | None = None
        self._desk = Desk(self)
        self._desk.done.connect(self._take)
        self._desk.failed.connect(self._fail)
        self._desk.progress.connect(self._advance)
        self._wait = QTimer(self)
        self._wait.setSingleShot(True)
        self._wait.setInterval(SETTLED_MS)
        self._wait.timeout.connect(self._begin)

    @property
    def busy(self) -> bool:
        """Whether an answer is to come."""
        return self._wait.isActive() or self._desk.busy

    def ask(self, dynamic: Dynamic, lift: float, speed: float, margin: float) -> None:
        """Ask; nothing is done where the same was asked before.

        Args:
            dynamic: of the line.
            lift: net valve lift, m.
            speed: engine speed, rad/s.
            margin: force to be left, N.
        """
        key = (dynamic.key, lift, speed, margin)
        if key == self._key:
            return
        self._drop()
        self._key, self._question = key, (dynamic, lift, speed, margin)
        self._wait.start()

    def forget(self) -> None:
        """Want nothing: there is nothing to ask, or nobody looks."""
        if self._key is not None:
            self._drop()

    def stop(self) -> None:
        """Leave the work undone; again() takes it up."""
        if self.busy:
            self._wait.stop()
            self._desk.cancel()
            self.stopped = True
            self.changed.emit()

    def again(self) -> None:
        """Work out after all what was stopped."""
        if self._question is not None and not self.busy:
            self.stopped, self.failure, self.share = False, "", 0.0
            self._begin()
            self.changed.emit()

    def shutdown(self) -> None:
        """Cancel and wait for the thread."""
        self._wait.stop()
        self._desk.shutdown()

    def _drop(self) -> None:
        self._wait.stop()
        self._desk.cancel()
        self._key, self._question, self.answer = None, None, None
        self.stopped, self.failure, self.share = False, "", 0.0

    def _begin(self) -> None:
        if self._question is None:
            return
        dynamic, lift, speed, margin = self._question

        def work(progress: Progress) -> HeldByRun:
            return held_by_run(dynamic, lift, speed, margin, progress=progress)

        self._desk.start(work)

    def _advance(self, share: float) -> None:
        if share - self.share >= 0.05:
            self.share = share
            self.changed.emit()

    def _take(self, answer: HeldByRun) -> None:
        self.answer = answer
        self.changed.emit()

    def _fail(self, error: Exception) -> None:
        """An error of ours says what it is; any other is told as what it came to."""
        own = isinstance(error, LoadBenchError)
        self.failure = str(error) if own else self.tr("the run failed within; other entries may do.")
        self.changed.emit()
