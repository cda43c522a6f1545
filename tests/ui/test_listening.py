"""What is said of a job whose rules are looser than the shop's."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import pytest

from loadbench.analysis.motion.dynamics import run_dynamics
from loadbench.job.model import Job
from ui.app import demo_job
from ui.listening import Listening, counted
from ui.notice import NoticeArea
from ui.session import Session
from ui.state import run_key

if TYPE_CHECKING:
    from pytestqt.qtbot import QtBot

BUCKET = {"follower": {"family": "bucket"}}


def opened(qtbot: QtBot, rules: dict[str, Any], **parts: Any) -> tuple[Session, NoticeArea]:
    session, notices = Session(Job(title="before")), NoticeArea()
    qtbot.addWidget(notices)
    Listening(session, notices)
    job = Job.model_validate({"title": "opened", "units": "inch-pound", "rules": rules, **parts})
    session.reload(job, None)
    return session, notices


def test_a_looser_job_is_told_and_may_take_the_shops_limits(qtbot: QtBot) -> None:
    rules = {
        "bind-margin-min": {"watch": "0.040 in"},
        "retainer-margin-min": {"watch": "0.050 in", "stop": "0.040 in"},
        "set-spread": {"watch": "3 %"},
    }
    session, notices = opened(qtbot, rules)
    (notice,) = notices.notices()
    notice.buttons[1].click()
    assert set(session.job.rules) == {"retainer-margin-min", "set-spread"}
    assert session.job.rules["retainer-margin-min"].watch is None
    assert session.job.rules["retainer-margin-min"].stop == "0.040 in"
    assert notices.notices() == []
    session.undo_stack.undo()
    assert set(session.job.rules) == set(rules)


@pytest.mark.parametrize(("parts", "told"), [({}, 1), (BUCKET, 0)])
def test_a_plain_change_is_read_for_the_row_in_force(qtbot: QtBot, parts: dict[str, Any], told: int) -> None:
    """0.045 in is looser than 0.060 for most families, stricter than a bucket's 0.040."""
    _, notices = opened(qtbot, {"bind-margin-min": {"watch": "0.045 in"}}, **parts)
    assert len(notices.notices()) == told


def test_a_stricter_job_is_not_remarked_on(qtbot: QtBot) -> None:
    _, notices = opened(qtbot, {"bind-margin-min": {"watch": "0.080 in"}})
    assert notices.notices() == []


def test_a_run_that_comes_in_is_no_change_for_the_worse(qtbot: QtBot) -> None:
    job = demo_job()
    assert job is not None
    session, notices = Session(job), NoticeArea()
    qtbot.addWidget(notices)
    Listening(session, notices)
    said: list[str] = []
    session.announced.connect(said.append)
    line = session.state.analysis.lines[0]
    run = run_dynamics(line.motion, refine=False)
    assert run is not None
    session.take_run(line.name, run_key(line), run)
    (told,) = said
    assert told.startswith("The dynamic run is in: stop ")
    before = counted(session.state)
    # an edit drops the run and what it judged: no change for the better
    session.set_field("duty.idle_speed", "910 rpm")
    lost = counted(session.state)
    session.set_field("valve_gear.masses.valve", "111 g")
    assert counted(session.state, at_once=True) == counted(session.state)
    assert counted(session.state) < before
    assert lost >= counted(session.state)
    assert said == [told]
