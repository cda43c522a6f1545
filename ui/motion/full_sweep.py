"""The full sweep, when it is asked for: the follower as a mass of its own, worked out beside the window and kept."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from PySide6.QtCore import QObject, Signal

from loadbench.analysis.motion.dynamics import run_dynamics
from loadbench.analysis.motion.result import Dynamics
from loadbench.analysis.own_follower import BUCKET, FullMotion, full_motion
from loadbench.errors import LoadBenchError
from ui.desk import Desk, Progress

if TYPE_CHECKING:
    from loadbench.analysis import LineAnalysis
    from ui.session import Session

Key = tuple[object, ...]


@dataclass(frozen=True, slots=True)
class Kept:
    """A full sweep, and all that it rests on."""

    key: Key
    dynamics: Dynamics


class FullSweep(QObject):
    """Sweeps once when it is wanted. An edit does not start it again: what is there stands, as of earlier entries."""

    changed = Signal()  # another sweep, or none to come
    advanced = Signal(float)

    def __init__(self, session: Session, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self.session = session
        self.wanted = False
        self.failure = ""
        self.stopped = False
        self._kept: dict[str, Kept] = {}
        self._asked: tuple[str, Key] | None = None
        self._known: tuple[LineAnalysis, FullMotion] | None = None
        self._desk = Desk(self)
        self._desk.done.connect(self._take)
        self._desk.failed.connect(self._fail)
        self._desk.progress.connect(self.advanced)
        session.changed.connect(self._follow)
        session.line_chosen.connect(self._follow)
        session.loaded.connect(self._forget)

    # What is known

    @property
    def motion(self) -> FullMotion:
        """The motion of the line on show with its own follower, or what that waits for."""
        line = self.session.state.analysis.line(self.session.line)
        if self._known is None or self._known[0] is not line:
            self._known = line, full_motion(line)
        return self._known[1]

    @property
    def why_not(self) -> str:
        """Why there is none, where it is not an entry that is missing; "" where there can be one."""
        return BUCKET if self.motion.note == BUCKET else ""

    @property
    def possible(self) -> bool:
        """Whether it can be had from what is stated."""
        return self._key() is not None

    def _key(self) -> Key | None:
        motion = self.motion.motion
        if motion is None or motion.dynamic is None or self.motion.note:
            return None
        return (*motion.dynamic.key, motion.speed_limit)

    @property
    def shown(self) -> Dynamics | None:
        """What there is to show of the line on show, where it is wanted."""
        kept = self._kept.get(self.session.line)
        return kept.dynamics if kept is not None and self.wanted and self.possible else None

    @property
    def stale(self) -> bool:
        """Whether what is shown is of earlier entries."""
        kept = self._kept.get(self.session.line)
        return self.shown is not None and kept is not None and kept.key != self._key()

    @property
    def busy(self) -> bool:
        """Whether an answer is awaited."""
        return self._desk.busy

    # What is asked of it

    def want(self, wanted: bool) -> None:
        """Show it from now on, or not; it is worked out where there is none yet."""
        self.wanted = wanted
        self.failure, self.stopped = "", False
        if not wanted:
            self._drop()
        elif self.shown is None:
            self._start()
        self.changed.emit()

    def again(self) -> None:
        """Work it out of what is stated now."""
        self.failure, self.stopped = "", False
        self._start()
        self.changed.emit()

    def cancel(self) -> None:
        """Stop the work; what was there before stays."""
        self._drop()
        self.stopped = True
        self.changed.emit()

    def _follow(self, _what: object = None) -> None:
        """Entries or the line on show have changed: only work under way, or what was never made, is done for them."""
        if not self.wanted:
            return
        key = self._key()
        if key is None:
            self._drop()
        elif self.busy and self._asked != (self.session.line, key):
            self._start()  # the newest entries win
        elif self.wanted and self.shown is None and not self.busy and not self.stopped and not self.failure:
            self._start()

    def _forget(self) -> None:
        self._drop()
        self._kept.clear()
        self.wanted, self.stopped, self.failure = False, False, ""
        self.changed.emit()

    def _drop(self) -> None:
        self._asked = None
        self._desk.cancel()

    def shutdown(self) -> None:
        """End the thread; the next work has another."""
        self._drop()
        self._desk.shutdown()

    # Work

    def _start(self) -> None:
        key, motion = self._key(), self.motion.motion
        if key is None or motion is None:
            return
        self._asked = self.session.line, key
        kept = self._kept.get(self.session.line)
        start = None if kept is None else kept.dynamics.found

        def work(progress: Progress) -> object:
            return run_dynamics(motion, start=start, progress=progress)

        self._desk.start(work)

    def _take(self, answer: object) -> None:
        asked, self._asked = self._asked, None
        if asked is not None and isinstance(answer, Dynamics):
            self._kept[asked[0]] = Kept(asked[1], answer)
        self._follow()
        self.changed.emit()

    def _fail(self, error: object) -> None:
        """An error of ours says what it is; any other is told as what it came to."""
        own = isinstance(error, LoadBenchError)
        self._asked = None
        self.failure = str(error) if own else self.tr("The full sweep could not be worked out.")
        self.changed.emit()
