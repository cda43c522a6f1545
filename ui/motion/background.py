"""Sweeps every line once the entries have settled, whatever page is on show: some verdicts rest on a dynamic run."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import QTimer
from PySide6.QtWidgets import QWidget

from loadbench.analysis.motion.dynamics import run_dynamics
from loadbench.analysis.motion.result import Dynamics
from ui.desk import Desk, Progress
from ui.state import run_key
from ui.window_watch import WindowWatch

if TYPE_CHECKING:
    from loadbench.analysis import LineAnalysis
    from ui.motion.sweeper import Sweeper
    from ui.session import Session

SETTLED_MS = 400
"""Without an edit for so long, what is stated is swept."""

FIRST_MS = 1500
"""At first the window's other pages are still being made: loading the compiled loop beside that would hold up both."""

Work = tuple[str, tuple[object, ...]]
"""A line's name, and all that its run rests on."""


class BackgroundSweep(QWidget):
    """Hands the session a run of each line that has none; what a page sweeps already is left to it.

    It is never seen: it ends with the window that it stands in. The compiled loop is loaded on its thread, after the
    window stands.
    """

    wanted = True
    """Tests that judge windows have it off."""

    def __init__(self, session: Session, sweeper: Sweeper, parent: QWidget) -> None:
        super().__init__(parent)
        self.hide()
        self.session, self.sweeper = session, sweeper
        self._asked: Work | None = None
        self._failed: list[Work] = []
        self.desk = Desk(self)
        self.desk.done.connect(self._take)
        self.desk.failed.connect(self._fail)
        self._watch = WindowWatch(self, self.shutdown)
        self._settled = QTimer(self)
        self._settled.setSingleShot(True)
        self._settled.timeout.connect(self._start)
        session.changed.connect(self._follow)
        session.loaded.connect(self._forget)
        if self.wanted:
            self._settled.start(FIRST_MS)

    def _lacking(self) -> LineAnalysis | None:
        """The next line without a run of what is stated now."""
        runs = self.session.runs
        for line in self.session.state.analysis.lines:
            key = run_key(line)
            if key is None or self.sweeper.refuses(line.name, key) or (line.name, key) in self._failed:
                continue
            if line.name not in runs or runs[line.name][0] != key:
                return line
        return None

    def _follow(self, _state: object) -> None:
        """An edit: work on what is no longer stated is dropped, and what is stated waits until it has settled."""
        if not self.wanted:
            return
        if self._asked is not None:
            name, key = self._asked
            lines = self.session.state.analysis.lines
            if any(line.name == name and run_key(line) == key for line in lines):
                return  # the edit was about something else
            self._drop()
        if self._lacking() is None:
            self._settled.stop()
        else:
            self._settled.start(SETTLED_MS)

    def _start(self) -> None:
        line, window = self._lacking(), self.window()
        if line is None or self._asked is not None or not window.isVisible():
            return
        self._watch.watch(window)
        key, motion = run_key(line), line.motion
        if key is None:
            return
        before = self.session.runs.get(line.name)
        start = None if before is None else before[1].found
        self._asked = line.name, key

        def work(progress: Progress) -> object:
            return run_dynamics(motion, start=start, progress=progress)

        self.desk.start(work)

    def _take(self, answer: object) -> None:
        asked, self._asked = self._asked, None
        if asked is not None and isinstance(answer, Dynamics):
            self.session.take_run(*asked, answer)
        self._start()

    def _fail(self, _error: object) -> None:
        """The page tells what fails when it is opened; here it is only not tried again."""
        asked, self._asked = self._asked, None
        if asked is not None:
            self._failed.append(asked)
        self._start()

    def _forget(self) -> None:
        self._failed.clear()
        self._drop()

    def _drop(self) -> None:
        self._settled.stop()
        self._asked = None
        self.desk.cancel()

    def shutdown(self) -> None:
        """End the thread; the next work has another."""
        self._drop()
        self.desk.shutdown()
