"""The steps that undo takes back: jobs before and after, in plain Python.

Not Qt's own stack: it owns its commands without hearing of their end. Where Python's collector takes a ring apart that
holds a session, it frees the commands first, and the stack then frees them again: the program would crash.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from weakref import WeakMethod

from PySide6.QtCore import QObject, Signal
from PySide6.QtGui import QAction

from loadbench.job.model import Job


@dataclass(slots=True)
class Step:
    """One step: with a frozen job, undo is two references."""

    text: str
    gesture: int
    before: Job
    after: Job


class History(QObject):
    """The steps of one session; methods bear the names of Qt's own stack, which it stands for."""

    moved = Signal()  # a step was made, taken back or made again; or what is clean changed

    def __init__(self, install: Callable[[Job], None], parent: QObject) -> None:
        """Begin without a step.

        Args:
            install: a method that puts a job on the table.
            parent: who owns the history.
        """
        super().__init__(parent)
        self._install = WeakMethod(install)  # the session holds the history, not the other way round
        self._steps: list[Step] = []
        self._index = 0  # steps below it are done
        self._clean: int | None = 0  # the index at which the job is as in its file

    # What there is

    def count(self) -> int:
        """How many steps there are, done or taken back."""
        return len(self._steps)

    def text(self, number: int) -> str:
        """What a step does; empty where there is none."""
        return self._steps[number].text if 0 <= number < len(self._steps) else ""

    def undoText(self) -> str:  # noqa: N802 - Qt's name
        """What the next undo takes back; empty where there is nothing."""
        return self.text(self._index - 1)

    def redoText(self) -> str:  # noqa: N802 - Qt's name
        """What the next redo makes again; empty where there is nothing."""
        return self.text(self._index)

    def canUndo(self) -> bool:  # noqa: N802 - Qt's name
        """Whether there is a step to take back."""
        return self._index > 0

    def canRedo(self) -> bool:  # noqa: N802 - Qt's name
        """Whether there is a step to make again."""
        return self._index < len(self._steps)

    def isClean(self) -> bool:  # noqa: N802 - Qt's name
        """Whether the job is as in its file."""
        return self._index == self._clean

    # Changes

    def push(self, step: Step) -> None:
        """Make a step: its job comes on the table, what was taken back is gone; steps of one gesture become one."""
        del self._steps[self._index :]
        if self._clean is not None and self._clean > self._index:
            self._clean = None
        last = self._steps[-1] if self._steps else None
        if last is None or last.gesture != step.gesture or self.isClean():
            self._steps.append(step)
        elif step.after == last.before:
            self._steps.pop()  # typed and typed back leaves no step
        else:
            last.after = step.after
        self._move(len(self._steps), step.after)

    def undo(self) -> None:
        """Take the last step back, if there is one."""
        if self.canUndo():
            self._move(self._index - 1, self._steps[self._index - 1].before)

    def redo(self) -> None:
        """Make the step again that was taken back, if there is one."""
        if self.canRedo():
            self._move(self._index + 1, self._steps[self._index].after)

    def clear(self) -> None:
        """Forget all steps; the job on the table counts as clean."""
        self._steps.clear()
        self._index = self._clean = 0
        self.moved.emit()

    def setClean(self) -> None:  # noqa: N802 - Qt's name
        """The job is as in its file now."""
        self._clean = self._index
        self.moved.emit()

    def resetClean(self) -> None:  # noqa: N802 - Qt's name
        """No step leads to what is in the file."""
        self._clean = None
        self.moved.emit()

    def _move(self, index: int, job: Job) -> None:
        self._index = index
        install = self._install()
        if install is not None:
            install(job)
        self.moved.emit()


class StepAction(QAction):
    """Undo or redo in a menu: says what it would do, and can be chosen only where there is something."""

    def __init__(self, history: History, word: str, *, redo: bool, parent: QObject) -> None:
        """Follow a history.

        Args:
            history: whose steps.
            word: "&Undo" or "&Redo" as it stands in the menu.
            redo: whether it makes again what was taken back.
            parent: who owns the action.
        """
        super().__init__(parent)
        self._history, self._word, self._redo = history, word, redo
        self.triggered.connect(history.redo if redo else history.undo)
        history.moved.connect(self._show)
        self._show()

    def _show(self) -> None:
        history = self._history
        self.setEnabled(history.canRedo() if self._redo else history.canUndo())
        text = history.redoText() if self._redo else history.undoText()
        self.setText(f"{self._word} {text.replace('&', '&&')}".rstrip())
