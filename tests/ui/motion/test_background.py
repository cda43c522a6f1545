"""The sweep in the background: verdicts that rest on a dynamic run need no visit to the Motion page."""

from __future__ import annotations

import math
import threading
from collections.abc import Callable, Iterator
from typing import TYPE_CHECKING, Any

import pytest
from PySide6.QtCore import QEvent
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QWidget

from loadbench.analysis.motion import dynamics
from loadbench.errors import Cancelled
from loadbench.findings.finding import Level
from tests.ui.spring.spring_jobs import pair
from ui.motion import background
from ui.motion import sweeper as sweeper_module
from ui.motion.background import BackgroundSweep
from ui.motion.sweeper import Sweeper
from ui.session import Session
from ui.state import run_key

if TYPE_CHECKING:
    from pytestqt.qtbot import QtBot

LONG = 30_000
HEAVY = {"valve_gear": {"masses": {"valve": "150 g"}}}
"""An exhaust of its own."""


class Stand:
    """A window with nothing but the sweeps in it."""

    def __init__(self, session: Session) -> None:
        self.session, self.window = session, QWidget()
        self.sweeper = Sweeper(session, self.window)
        self.background = BackgroundSweep(session, self.sweeper, self.window)

    def runs(self) -> set[str]:
        """The lines that have a run of what is stated now."""
        lines = self.session.state.analysis.lines
        runs = self.session.runs
        return {each.name for each in lines if each.name in runs and runs[each.name][0] == run_key(each)}


@pytest.fixture(autouse=True)
def _soon(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(BackgroundSweep, "wanted", True)
    monkeypatch.setattr(background, "SETTLED_MS", 30)
    monkeypatch.setattr(background, "FIRST_MS", 30)
    monkeypatch.setattr(dynamics, "STEP", 1000 * math.pi / 30)


@pytest.fixture
def stand(qtbot: QtBot) -> Iterator[Callable[..., Stand]]:
    made: list[Stand] = []

    def make(*, shown: bool = True, **changes: Any) -> Stand:
        own = Stand(Session(pair(**changes)))
        made.append(own)
        if shown:
            own.window.show()
            qtbot.waitExposed(own.window)
        return own

    yield make
    for each in made:
        each.sweeper.shutdown()
        each.window.close()
        each.background.shutdown()
        each.window.deleteLater()
    QApplication.sendPostedEvents(None, QEvent.Type.DeferredDelete)


class Waiting:
    """A run that waits until it is let go, or is cancelled."""

    def __init__(self, monkeypatch: pytest.MonkeyPatch) -> None:
        self.begun, self.go, self.cancelled = threading.Event(), threading.Event(), threading.Event()
        self.calls: list[dict[str, Any]] = []
        self.run = background.run_dynamics
        monkeypatch.setattr(background, "run_dynamics", self)

    def __call__(self, motion: Any, *, progress: Callable[[float], None], **given: Any) -> Any:
        self.calls.append({"motion": motion, **given})
        self.begun.set()
        while not self.go.wait(0.005):
            try:
                progress(0.4)
            except Cancelled:
                self.cancelled.set()
                raise
        return self.run(motion, progress=progress, **given)


def test_every_line_gets_its_run_and_the_verdicts_know_it(stand: Callable[..., Stand], qtbot: QtBot) -> None:
    own = stand(lines__exhaust=HEAVY)

    def contact() -> list[Level]:
        return [each.level for each in own.session.state.verdicts.findings if each.id == "contact-lost"]

    assert Level.UNKNOWN in contact()
    qtbot.waitUntil(lambda: own.runs() == {"intake", "exhaust"}, timeout=LONG)
    assert Level.UNKNOWN not in contact()
    assert own.session.state.analysis.line("exhaust").dynamics is own.session.runs["exhaust"][1]


def test_an_edit_that_has_settled_is_swept_from_the_run_before(
    stand: Callable[..., Stand], qtbot: QtBot, monkeypatch: pytest.MonkeyPatch
) -> None:
    own = stand()
    qtbot.waitUntil(lambda: own.runs() == {"common"}, timeout=LONG)
    before = own.session.runs["common"][1]
    waiting = Waiting(monkeypatch)
    waiting.go.set()
    own.session.set_field("spring.installed_height", "1.840 in")
    own.session.set_field("spring.installed_height", "1.835 in")
    assert own.runs() == set()
    qtbot.waitUntil(lambda: own.runs() == {"common"}, timeout=LONG)
    assert len(waiting.calls) == 1  # the two edits were one to it
    assert waiting.calls[0]["start"] is before.found


def test_an_edit_drops_the_run_of_what_is_no_longer_stated(
    stand: Callable[..., Stand], qtbot: QtBot, monkeypatch: pytest.MonkeyPatch
) -> None:
    waiting = Waiting(monkeypatch)
    own = stand()
    qtbot.waitUntil(waiting.begun.is_set)
    own.session.set_field("customer", "somebody")  # nothing that moves
    QTest.qWait(30)
    assert not waiting.cancelled.is_set()
    own.session.set_field("spring.installed_height", "1.840 in")
    assert waiting.cancelled.wait(2.0)
    waiting.go.set()
    qtbot.waitUntil(lambda: own.runs() == {"common"}, timeout=LONG)
    dynamic = own.session.state.analysis.line("common").motion.dynamic
    assert dynamic is not None
    assert waiting.calls[-1]["motion"].dynamic.key == dynamic.key


def test_what_the_page_sweeps_is_left_to_it_and_the_other_line_is_not(
    stand: Callable[..., Stand], qtbot: QtBot, monkeypatch: pytest.MonkeyPatch
) -> None:
    waiting = Waiting(monkeypatch)
    waiting.go.set()
    own = stand(shown=False, lines__exhaust=HEAVY)
    own.sweeper.answered.connect(own.session.take_run)
    own.sweeper.set_live(True)
    own.window.show()
    qtbot.waitUntil(lambda: own.runs() == {"intake", "exhaust"}, timeout=LONG)
    exhaust = own.session.state.analysis.line("exhaust").motion.dynamic
    assert exhaust is not None
    assert [each["motion"].dynamic.key for each in waiting.calls] == [exhaust.key]
    own.sweeper.set_live(False)


def test_a_page_that_is_opened_takes_what_is_there(
    stand: Callable[..., Stand], qtbot: QtBot, monkeypatch: pytest.MonkeyPatch
) -> None:
    own = stand()
    qtbot.waitUntil(lambda: own.runs() == {"common"}, timeout=LONG)
    calls: list[object] = []
    monkeypatch.setattr(sweeper_module, "run_dynamics", lambda *args, **_: calls.append(args))
    with qtbot.waitSignal(own.sweeper.changed):
        own.sweeper.set_live(True)
    held = own.sweeper.held
    assert held is not None
    assert held.refined
    assert held.dynamics is own.session.runs["common"][1]
    assert not own.sweeper.stale
    own.sweeper.set_live(False)
    assert calls == []


def test_what_fails_is_tried_once(stand: Callable[..., Stand], qtbot: QtBot, monkeypatch: pytest.MonkeyPatch) -> None:
    calls: list[object] = []

    def broken(*args: Any, **_: Any) -> Any:
        calls.append(args)
        raise ZeroDivisionError

    monkeypatch.setattr(background, "run_dynamics", broken)
    own = stand()
    qtbot.waitUntil(lambda: bool(calls))
    own.session.set_field("customer", "somebody")
    QTest.qWait(120)
    assert len(calls) == 1
    own.session.set_field("spring.installed_height", "1.840 in")
    qtbot.waitUntil(lambda: len(calls) == 2)


def test_nothing_begins_before_the_window_stands_and_its_end_ends_the_thread(
    stand: Callable[..., Stand], qtbot: QtBot, monkeypatch: pytest.MonkeyPatch
) -> None:
    waiting = Waiting(monkeypatch)
    own = stand(shown=False)
    QTest.qWait(100)
    assert not waiting.calls
    own.window.show()
    own.session.set_field("spring.installed_height", "1.840 in")
    qtbot.waitUntil(waiting.begun.is_set)
    own.window.close()
    assert waiting.cancelled.is_set()
    assert not any(thread.name.startswith("loadbench-desk") for thread in threading.enumerate())


def test_another_job_is_swept_anew(stand: Callable[..., Stand], qtbot: QtBot) -> None:
    own = stand()
    qtbot.waitUntil(lambda: own.runs() == {"common"}, timeout=LONG)
    own.session.reload(pair(spring__installed_height="1.830 in"), None)
    assert own.runs() == set()
    qtbot.waitUntil(lambda: own.runs() == {"common"}, timeout=LONG)
