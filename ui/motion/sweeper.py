"""Sweeps the line on show beside the window: first quickly, then its bands, then what each input does."""

from __future__ import annotations

import sys
from dataclasses import dataclass
from typing import TYPE_CHECKING

from PySide6.QtCore import QObject, QTimer, Signal

from loadbench.analysis.motion.dynamics import run_dynamics
from loadbench.analysis.motion.result import Dynamics
from loadbench.analysis.motion.sensitivity import Moved, mass_parts, onset_sensitivity
from loadbench.errors import LoadBenchError
from ui.desk import Desk, Progress
from ui.state import Failed, Pending, Ready, Slow, run_key

if TYPE_CHECKING:
    from loadbench.analysis import LineAnalysis
    from ui.session import Session

IDLE_MS = 300
"""Without an edit for so long, the bands are looked for."""

DRAG_TURNS = 2
"""A quick sweep that follows a hand goes on from the one before for so many turns."""

TURN_S = 0.001
"""While a sweep follows the hand, Python goes from thread to thread as often as this, s: at its usual 5 ms each of the
sweep's few returns from the compiled loop waits longer for the window than the loop takes."""

QUICK, BANDS, INPUTS = "quick", "bands", "inputs"

Key = tuple[object, ...]


@dataclass(slots=True)
class Held:
    """What is known of one line: a sweep, of which entries, with its bands or not, and what each input does."""

    key: Key
    dynamics: Dynamics
    refined: bool = False
    onsets: tuple[Moved, ...] | None = None


class Sweeper(QObject):
    """Holds the last sweep of each line.

    A quick sweep is let finish while the height is dragged: a picture that waited for the last edit would stand still.
    """

    changed = Signal()  # another sweep, or none to come
    begun = Signal()  # work was begun
    answered = Signal(str, object, object)  # line, what the run rests on, its Dynamics with bands
    advanced = Signal(float)

    def __init__(self, session: Session, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self.session = session
        self.live = False
        self.wants_inputs = False
        self.failure = ""
        self.share = 0.0
        self.doing = ""
        self._usual = sys.getswitchinterval()
        self._held: dict[str, Held] = {}
        self._asked: tuple[str, Key] | None = None  # the line and key of the work under way
        self._stopped: Key | None = None  # what the user stopped, or what failed
        self._desk = Desk(self)
        self._desk.done.connect(self._take)
        self._desk.failed.connect(self._fail)
        self._desk.progress.connect(self._advance)
        self._idle = QTimer(self)
        self._idle.setSingleShot(True)
        self._idle.setInterval(IDLE_MS)
        self._idle.timeout.connect(self._go_on)
        session.changed.connect(self.follow)
        session.line_chosen.connect(self.follow)
        session.loaded.connect(self._forget)

    # What is known

    def _line(self) -> LineAnalysis:
        return self.session.state.analysis.line(self.session.line)

    def _key(self) -> Key | None:
        return run_key(self._line())

    @property
    def held(self) -> Held | None:
        """The last sweep of the line on show."""
        return self._held.get(self.session.line) if self._key() is not None else None

    @property
    def stale(self) -> bool:
        """Whether there is a sweep, and it is of entries before."""
        held = self.held
        return held is not None and held.key != self._key()

    @property
    def busy(self) -> bool:
        """Whether an answer is awaited."""
        return self._desk.busy

    @property
    def tracking(self) -> bool:
        """Whether a quick sweep is under way that goes on from one that is on show: the next picture is soon there."""
        return self.busy and self.doing == QUICK and self.held is not None

    @property
    def stopped(self) -> bool:
        """Whether the user stopped the work on what is stated now."""
        return not self.failure and self._stopped is not None and self._stopped == self._key()

    def refuses(self, line: str, key: object) -> bool:
        """Whether a line is swept here already, or the user stopped the work on what is stated of it."""
        return key == self._stopped or (self.live and line == self.session.line)

    @property
    def slow(self) -> Slow | None:
        """The sweep of the line on show as a slow part of the window's state; None where it cannot be had."""
        held = self.held
        if self._key() is None:
            return None
        if self.failure:
            return Failed(self.failure)
        if held is not None and held.refined and not self.stale:
            return Ready(held.dynamics)
        return Pending(self.share)

    # Following

    def set_live(self, live: bool) -> None:
        """Follow the job from now on, or not; work under way for nobody is dropped."""
        if live is not self.live:
            self.live = live
            self._take_turns(often=live)
        if live:
            self.follow()
        else:
            self._drop()

    def _take_turns(self, *, often: bool) -> None:
        if often:
            self._usual = sys.getswitchinterval()
        sys.setswitchinterval(min(TURN_S, self._usual) if often else self._usual)

    def want_inputs(self, wanted: bool) -> None:
        """Whether somebody looks at what each input does."""
        self.wants_inputs = wanted
        if wanted and self.live and not self.busy:
            self._go_on()

    def follow(self, _what: object = None) -> None:
        """Sweep anew where the entries ask for it."""
        if not self.live:
            return
        key = self._key()
        if key is None:
            self._drop()
            return
        if key == self._stopped:
            return
        self._stopped, self.failure = None, ""
        asked = (self.session.line, key)
        if self.busy and (self._asked == asked or self.doing == QUICK):
            return  # a quick sweep is soon there, and is followed by that of the newest entries
        self._adopt(key)
        held = self.held
        if held is not None and held.key == key:
            self._drop()
            self._idle.start()
        else:
            self._start(QUICK)

    def _adopt(self, key: Key) -> None:
        """Take what was worked out while the page was hidden."""
        line, held = self.session.line, self.held
        kept = self.session.runs.get(line)
        if kept is not None and kept[0] == key and (held is None or held.key != key):
            self._held[line] = Held(key, kept[1], refined=True)
            self.changed.emit()

    def again(self) -> None:
        """Go on with what was stopped."""
        self._stopped, self.failure = None, ""
        self.follow()
        self.changed.emit()

    def cancel(self) -> None:
        """Stop the work; the sweep before, if any, stays."""
        self._stopped = self._key()
        self._drop()
        self.changed.emit()

    def _forget(self) -> None:
        self._held.clear()
        self._stopped, self.failure = None, ""
        self._drop()

    def _drop(self) -> None:
        self._idle.stop()
        self.doing, self._asked = "", None
        self._desk.cancel()

    def shutdown(self) -> None:
        """End the thread; the next work has another."""
        self._drop()
        self._desk.shutdown()

    # Work

    def _go_on(self) -> None:
        """The next slower piece of work, where nothing has changed for a while."""
        held = self.held
        if not self.live or held is None or self.busy or self._stopped == self._key():
            return
        if self.stale:
            self._start(QUICK)
        elif not held.refined:
            self._start(BANDS)
        elif self.wants_inputs and held.onsets is None:
            self._start(INPUTS)

    def _start(self, what: str) -> None:
        line, key, held = self._line(), self._key(), self.held
        if key is None:
            return
        self._idle.stop()
        self.doing, self._asked, self.share = what, (line.name, key), 0.0
        motion, start = line.motion, None if held is None else held.dynamics.found
        parts = mass_parts(line.figures["referred_mass"]) if what == INPUTS else {}
        turns = DRAG_TURNS if what == QUICK and self.session.previewing else None

        def work(progress: Progress) -> object:
            if what == INPUTS and start is not None:
                return onset_sensitivity(motion, start.speeds, parts, progress=progress)
            return run_dynamics(motion, start=start, refine=what == BANDS, turns=turns, progress=progress)

        self._desk.start(work)
        self.begun.emit()

    def _advance(self, share: float) -> None:
        self.share = share
        self.advanced.emit(share)

    def _take(self, answer: object) -> None:
        asked, doing = self._asked, self.doing
        self._asked, self.doing = None, ""
        if asked is not None:
            line, key = asked
            held = self._held.get(line)
            if isinstance(answer, Dynamics):
                self._held[line] = Held(key, answer, refined=doing == BANDS)
            elif isinstance(answer, tuple) and held is not None and held.key == key:
                held.onsets = answer
        if self.live:
            self._after()
        self.changed.emit()
        if asked is not None and doing == BANDS and isinstance(answer, Dynamics):
            self.answered.emit(*asked, answer)

    def _after(self) -> None:
        if self.held is None or self.stale:
            self._start(QUICK)
        else:
            self._idle.start()

    def _fail(self, error: object) -> None:
        """An error of ours says what it is; any other is told as what it came to."""
        told = str(error) if isinstance(error, LoadBenchError) else self.tr("The sweep could not be worked out.")
        self._stopped = self._asked[1] if self._asked is not None else None
        self._asked, self.doing, self.failure = None, "", told
        self.changed.emit()
