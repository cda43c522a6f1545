"""The search beside the window: the newest wants win; the last answer is kept with the wants that it is for."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from PySide6.QtCore import QObject, QTimer, Signal

from loadbench.errors import LoadBenchError
from loadbench.spring.materials import Material
from loadbench.spring.wanted import SearchAnswer, Wanted
from ui.desk import Desk, Progress
from ui.spring.wording import tr

if TYPE_CHECKING:
    from loadbench.assembly.spring_wanted import Choices

WAIT_MS = 120
"""After an edit: a block of keystrokes is one search."""


@dataclass(frozen=True, slots=True)
class Task:
    """All that an answer depends on, and the choices it was asked with."""

    wanted: Wanted
    wire: Material
    stock: str
    choices: Choices


class Searcher(QObject):
    """Holds the last answer and the task that it answers."""

    changed = Signal()  # the answer, or whether work is under way
    advanced = Signal(float)

    def __init__(self, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self.task: Task | None = None
        self.answered: Task | None = None
        self.answer: SearchAnswer | None = None
        self.failure = ""
        self.stopped = False
        self._desk = Desk(self)
        self._desk.done.connect(self._take)
        self._desk.failed.connect(self._fail)
        self._desk.progress.connect(self.advanced)
        self._wait = QTimer(self)
        self._wait.setSingleShot(True)
        self._wait.setInterval(WAIT_MS)
        self._wait.timeout.connect(self.begin)

    @property
    def busy(self) -> bool:
        """Whether an answer is awaited."""
        return self._wait.isActive() or self._desk.busy

    @property
    def current(self) -> bool:
        """Whether the answer is for the task of now."""
        return self.answer is not None and self.task is not None and self.answered == self.task

    def want(self, task: Task | None, *, at_once: bool = False) -> None:
        """Ask for an answer; one that is there or under way already is not asked for again."""
        if task == self.task and (task is None or self.current or self.busy or self.stopped or self.failure):
            return
        self.task, self.stopped, self.failure = task, False, ""
        self._drop()
        if task is not None and self.answered != task:
            self._wait.start(0 if at_once else WAIT_MS)
        self.changed.emit()

    def begin(self) -> None:
        """Search now."""
        self._wait.stop()
        self.stopped, self.failure = False, ""
        task = self.task
        if task is None:
            return

        def work(progress: Progress) -> tuple[Task, SearchAnswer]:
            from loadbench.spring.design import search
            from loadbench.spring.wires import stock_wires

            return task, search(task.wanted, task.wire, stock_wires(task.stock), progress)

        self._desk.start(work)
        self.changed.emit()

    def cancel(self) -> None:
        """Stop the search; the answer before, if any, stays and is of the wants before."""
        self.stopped = True
        self._drop()
        self.changed.emit()

    def _drop(self) -> None:
        self._wait.stop()
        self._desk.cancel()

    def leave(self) -> None:
        """Nobody looks: what is under way is dropped, and asked for anew when somebody does."""
        if self.busy:
            self._drop()
            self.task = None

    def shutdown(self) -> None:
        """End the thread; the next search has another."""
        self.leave()
        self._desk.shutdown()

    def _take(self, found: tuple[Task, SearchAnswer]) -> None:
        self.answered, self.answer = found
        self.changed.emit()

    def _fail(self, error: object) -> None:
        """An error of ours says what it is; any other is told as what it came to."""
        self.failure = str(error) if isinstance(error, LoadBenchError) else tr("The search could not be done.")
        self.changed.emit()
