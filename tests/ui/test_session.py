"""The session: undo, preview, lines, units."""

from __future__ import annotations

import gc
import subprocess
import sys
import weakref
from typing import TYPE_CHECKING

import pytest

from loadbench.errors import AmbiguousEntry, InputError
from loadbench.job.edits import replaced
from loadbench.job.files import text_of_job
from loadbench.job.model import Job
from loadbench.units import Style
from ui.session import PREVIEW_MS, Session
from ui.state import Pointing, State

if TYPE_CHECKING:
    from pytestqt.qtbot import QtBot

HEIGHT = "spring.installed_height"


def heard(session: Session) -> list[State]:
    states: list[State] = []
    session.changed.connect(states.append)
    return states


def test_d05_every_kind_of_edit_is_undone_and_redone_byte_for_byte(session: Session) -> None:
    before = text_of_job(session.job)
    reading = {"height": "1.85 in", "load": "150 lbf"}
    session.set_field(HEIGHT, "1.9")
    session.set_field("valve_gear.rocker_ratio", "1,6")
    session.set_field("duty.first_running", True)
    session.set_field("spring.readings", (reading,))
    session.set_field("lines.exhaust.spring.bind_height", "1.1")
    session.edit("rename", lambda job: replaced(job, "title", "Other"))
    after = text_of_job(session.job)
    for _ in range(6):
        session.undo_stack.undo()
    assert text_of_job(session.job) == before
    for _ in range(6):
        session.undo_stack.redo()
    assert text_of_job(session.job) == after
    assert session.job.valve_gear.rocker_ratio == 1.6


def test_d05_the_step_is_named_by_its_label(session: Session) -> None:
    session.set_field(HEIGHT, "1.9 in")
    assert session.undo_stack.undoText() == "set installed height"


def test_d06_one_gesture_is_one_step(session: Session) -> None:
    gesture = session.gesture()
    for text in ("1.9", "1.91", "1.92"):
        session.set_field(HEIGHT, text, gesture)
    assert session.undo_stack.count() == 1
    session.undo_stack.undo()
    assert session.job.spring.installed_height is None


def test_d06_two_gestures_are_two_steps(session: Session) -> None:
    session.set_field(HEIGHT, "1.9", session.gesture())
    session.set_field(HEIGHT, "1.8", session.gesture())
    session.set_field(HEIGHT, "1.7")
    assert session.undo_stack.count() == 3


def test_d06_a_change_back_to_the_start_leaves_no_step(session: Session) -> None:
    gesture = session.gesture()
    session.set_field(HEIGHT, "1.9", gesture)
    session.set_field(HEIGHT, "", gesture)
    assert session.undo_stack.count() == 0
    assert session.undo_stack.isClean()


def test_no_change_is_no_step_and_says_nothing(session: Session) -> None:
    session.set_field(HEIGHT, "1.9 in")
    states = heard(session)
    session.set_field(HEIGHT, "1.9 in")
    assert session.undo_stack.count() == 1
    assert states == []


@pytest.mark.parametrize(
    ("typed", "style", "kept"),
    [
        ("1.900", Style.INCH_POUND, "1.900 in"),
        ("48,26", Style.METRIC, "48,26 mm"),
        (" 1 7/8 in ", Style.METRIC, "1 7/8 in"),
        ("160 furlongs", Style.METRIC, "160 furlongs"),
        ("1,250", Style.INCH_POUND, "1,250"),
        ("  ", Style.INCH_POUND, None),
    ],
)
def test_what_was_typed_is_kept_and_a_bare_number_gets_its_unit(
    session: Session, typed: str, style: Style, kept: str | None
) -> None:
    session.set_style(style)
    session.set_field(HEIGHT, typed)
    assert session.job.spring.installed_height == kept


def test_a_wrong_entry_is_kept_and_told_by_its_path(session: Session) -> None:
    session.set_field(HEIGHT, "tall")
    assert session.job.spring.installed_height == "tall"
    assert HEIGHT in session.state.analysis.stated.problems


def test_a_number_that_is_none_is_refused_and_changes_nothing(session: Session) -> None:
    with pytest.raises(InputError):
        session.set_field("valve_gear.rocker_ratio", "much")
    assert session.undo_stack.count() == 0


def test_an_edit_that_fails_leaves_the_job_alone(session: Session) -> None:
    with pytest.raises(InputError):
        session.set_field("spring.no_such_field", "1")
    assert session.undo_stack.count() == 0


def test_a_preview_follows_the_keystroke_and_leaves_no_step(session: Session, qtbot: QtBot) -> None:
    with qtbot.waitSignal(session.changed, timeout=1000):
        session.preview(HEIGHT, "1.8")
    assert session.state.job.spring.installed_height == "1.8 in"
    assert session.job.spring.installed_height is None
    assert session.undo_stack.count() == 0
    session.drop_preview()
    assert session.state.job is session.job


def test_many_keystrokes_are_one_preview(session: Session, qtbot: QtBot) -> None:
    states = heard(session)
    for text in ("1", "1.", "1.8", "1.85"):
        session.preview(HEIGHT, text)
    qtbot.wait(5 * PREVIEW_MS)
    assert [state.job.spring.installed_height for state in states] == ["1.85 in"]


def test_a_commit_takes_over_what_was_previewed(session: Session, qtbot: QtBot) -> None:
    with qtbot.waitSignal(session.changed, timeout=1000):
        session.preview(HEIGHT, "1.8")
    shown = session.state
    session.set_field(HEIGHT, "1.8")
    assert session.state is shown
    assert session.undo_stack.count() == 1


def test_a_commit_of_what_stood_there_drops_the_preview(session: Session, qtbot: QtBot) -> None:
    with qtbot.waitSignal(session.changed, timeout=1000):
        session.preview(HEIGHT, "1.8")
    session.set_field(HEIGHT, "")
    assert session.state.job.spring.installed_height is None


def test_undo_ends_a_preview_that_waits(session: Session, qtbot: QtBot) -> None:
    session.set_field(HEIGHT, "1.9")
    session.preview(HEIGHT, "1.8")
    session.undo_stack.undo()
    qtbot.wait(3 * PREVIEW_MS)
    assert session.state.job.spring.installed_height is None


def test_a_preview_of_what_cannot_be_held_is_passed_over(session: Session, qtbot: QtBot) -> None:
    states = heard(session)
    session.preview_fields({"valve_gear.rocker_ratio": "x", "spring.nothing": "1"})
    qtbot.wait(3 * PREVIEW_MS)
    assert states == []


def test_d37_the_units_switch_never_changes_the_job(session: Session) -> None:
    session.set_field(HEIGHT, "1.9")
    before = session.job
    session.set_style(Style.METRIC)
    session.set_style(Style.INCH_POUND)
    assert session.job is before
    assert session.undo_stack.count() == 1


def test_an_edit_goes_to_the_line_on_show(session: Session) -> None:
    assert session.own_field(HEIGHT) == HEIGHT
    session.set_field("lines.exhaust.spring.bind_height", "1.1 in")
    assert session.line == "intake"
    assert session.own_field(HEIGHT) == HEIGHT
    session.choose_line("exhaust")
    assert session.own_field(HEIGHT) == f"lines.exhaust.{HEIGHT}"
    assert session.own_field("duty.use") == "duty.use"
    session.choose_line("nonsense")
    assert session.line == "exhaust"


def test_the_line_on_show_goes_when_the_lines_go(session: Session, qtbot: QtBot) -> None:
    with qtbot.waitSignal(session.line_chosen):
        session.set_field("lines.exhaust.spring.bind_height", "1.1 in")
    with qtbot.waitSignal(session.line_chosen):
        session.undo_stack.undo()
    assert session.line == "common"


def test_pointing_is_said_once(session: Session) -> None:
    said: list[Pointing] = []
    session.pointed.connect(said.append)
    session.point_at(Pointing(fields=(HEIGHT,)))
    session.point_at(Pointing(fields=(HEIGHT,)))
    session.point_at(Pointing())
    assert said == [Pointing(fields=(HEIGHT,)), Pointing()]


def test_the_shops_rules_judge_at_once(session: Session) -> None:
    states = heard(session)
    session.install_shop({})
    assert len(states) == 1
    assert session.undo_stack.count() == 0


def test_another_job_begins_a_new_history(session: Session) -> None:
    order: list[str] = []
    session.loaded.connect(lambda: order.append("loaded"))
    session.changed.connect(lambda _: order.append("changed"))
    session.set_field(HEIGHT, "1.9")
    order.clear()
    session.reload(Job(title="Other"), None)
    assert order == ["loaded", "changed"]
    assert session.undo_stack.count() == 0
    session.reload(Job(title="Rescued"), None, unsaved=True)
    assert not session.undo_stack.isClean()


def test_an_empty_title_is_kept_and_previewed(session: Session, qtbot: QtBot) -> None:
    with qtbot.waitSignal(session.changed, timeout=1000):
        session.preview("title", "")
    assert session.state.job.title == ""
    session.set_field("title", "  ")
    assert session.job.title == ""
    assert session.undo_stack.count() == 1


def test_a_comma_of_thousands_in_a_number_is_asked(session: Session) -> None:
    with pytest.raises(AmbiguousEntry) as asked:
        session.set_field("valve_gear.rocker_ratio", "1,200")
    assert asked.value.choices == ("1200", "1.200")
    assert asked.value.place.field == "valve_gear.rocker_ratio"
    session.set_field("valve_gear.rocker_ratio", "1,6")
    assert session.job.valve_gear.rocker_ratio == 1.6


def test_a_session_with_steps_is_let_go_whole(qtbot: QtBot) -> None:
    own = Session(Job(title="invented"))
    for number in range(3):
        own.set_fields("edit", {"record.engine": f"engine {number}"})
    own.undo_stack.undo()
    seen = weakref.ref(own)
    del own
    gc.collect()
    assert seen() is None


IN_RINGS = """
import gc
from PySide6.QtWidgets import QApplication
from loadbench.job.model import Job
from ui.session import Session
application = QApplication([])
gc.disable()
for undone in (0, 1, 2, 3) * 5:
    ring = {"session": Session(Job(title="invented"))}
    ring["itself"] = ring  # as an error and the frame that keeps it
    gc.collect(0)  # the session is older than its steps now, as it is in a long run
    for number in range(3):
        ring["session"].set_fields("edit", {"record.engine": f"engine {number}"})
    for _ in range(undone):
        ring["session"].undo_stack.undo()
    del ring
    gc.collect()
print("let go")
"""


def test_a_session_with_steps_in_a_ring_is_let_go_without_a_crash() -> None:
    """In a program of its own: Qt's undo stack ended it with a fault of memory."""
    done = subprocess.run([sys.executable, "-c", IN_RINGS], capture_output=True, text=True, timeout=100, check=False)
    assert (done.returncode, done.stdout) == (0, "let go\n"), done.stderr
