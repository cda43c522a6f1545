"""The command that makes a polydyne lobe: one step, the words it says, and where it leads."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import pytest

from loadbench.motion.polydyne import Polydyne
from loadbench.motion.ratio import Scaled
from tests.analysis.test_motion import job
from ui.motion.lobe_maker import make_polydyne
from ui.session import Session

if TYPE_CHECKING:
    from pytestqt.qtbot import QtBot

ANGLES: dict[str, Any] = {"cam.law.opening": "128 deg", "cam.ramps.opening": "50 deg"}


class Told:
    """What was said and led to."""

    def __init__(self, session: Session) -> None:
        self.said: list[str] = []
        self.led: list[str] = []
        self.told: list[str] = []
        session.announced.connect(self.said.append)


def made(qtbot: QtBot, changes: dict[str, Any]) -> tuple[Session, Told]:
    session = Session(job(**changes))
    told = Told(session)
    make_polydyne(session, told.led.append, told.told.append)
    return session, told


def test_the_lobe_is_made_in_one_step(qtbot: QtBot) -> None:
    session, told = made(qtbot, ANGLES)
    lobe = session.state.analysis.lines[0].motion.lobe
    assert isinstance(lobe, Scaled)
    assert isinstance(lobe.lift, Polydyne)
    assert "stays so when the spring changes" in told.said[-1]
    assert session.undo_stack.undoText() == "make a polydyne lobe"
    session.undo_stack.undo()
    assert session.job.cam.law.name is None


def test_angles_that_are_wanting_are_led_to(qtbot: QtBot) -> None:
    session, told = made(qtbot, {"cam.durations": ()})
    assert session.job.cam.law.name == "polydyne"
    assert "waits for: Law opening, Ramp, opening" in told.told[-1]
    assert told.led == ["cam.law.opening"]


@pytest.mark.parametrize(
    ("changes", "said", "led"),
    [
        ({"duty.speed_limit": None}, "waits for: Speed limit", "duty.speed_limit"),
        ({"cam.profile": (("0 deg", "0.1 in"),)}, "comes before a law", "cam.profile"),
    ],
    ids=["no speed", "a table"],
)  # fmt: skip
def test_nothing_is_changed_where_it_cannot_be_made(qtbot: QtBot, changes: dict[str, Any], said: str, led: str) -> None:
    session, told = made(qtbot, changes)
    assert said in told.said[-1]
    assert told.led == [led]
    assert not session.undo_stack.canUndo()
    assert session.job.cam.law.name is None


def test_each_line_may_have_its_own_lobe(qtbot: QtBot) -> None:
    lines = {"lines.exhaust.valve_gear.masses.valve": "90 g", "lines.intake.valve_gear.lobe_lift": "0.360 in"}
    session = Session(job(**ANGLES | lines))
    told = Told(session)
    for line in ("intake", "exhaust"):
        session.choose_line(line)
        make_polydyne(session, told.led.append, told.told.append)
        assert "common part" not in told.told[-1]
    intake, exhaust = (session.state.analysis.line(name).stated for name in ("intake", "exhaust"))
    heavy, light = (each.value("cam.law.design.mass") for each in (intake, exhaust))
    assert heavy - light == pytest.approx(0.022, abs=1e-4)


def test_a_lobe_that_stands_for_both_lines_is_told_so(qtbot: QtBot) -> None:
    session = Session(job(**ANGLES | {"lines.exhaust.valve_gear.masses.valve": "90 g"}))
    told = Told(session)
    session.choose_line("intake")
    make_polydyne(session, told.led.append, told.told.append)
    assert "every line without a law of its own" in told.told[-1]
    assert "typical" in told.told[-1]


def test_angles_that_nobody_stated_are_proposed_from_the_durations(qtbot: QtBot) -> None:
    session, told = made(qtbot, {})
    assert "Proposed, as no angle was stated: Law opening" in told.told[-1]
    assert told.led == []
    assert session.state.analysis.lines[0].motion.lobe is not None
