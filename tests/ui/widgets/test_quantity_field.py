"""The one quantity field: typed, judged, kept, nudged, restored."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest
from PySide6.QtCore import QPoint, QPointF, Qt
from PySide6.QtGui import QAccessible, QWheelEvent
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QPushButton, QVBoxLayout, QWidget

from loadbench.job.edits import replaced_all
from loadbench.job.model import Job
from loadbench.units import Style
from ui.entries import number_of
from ui.session import Session
from ui.widgets.number_field import NumberField
from ui.widgets.quantity_field import QuantityField, ShimsField
from ui.widgets.text_field import TextField

if TYPE_CHECKING:
    from collections.abc import Iterator

    from pytestqt.qtbot import QtBot

    from ui.widgets.field import Field

HEIGHT = "spring.installed_height"
KEPT: list[QWidget] = []


@pytest.fixture(autouse=True)
def _let_go() -> Iterator[None]:
    yield
    KEPT.clear()


def two_fields(qtbot: QtBot, session: Session, field: str = HEIGHT) -> Field:
    """A field with another beside it to leave for, on show and focused."""
    desk = QWidget()
    rows = QVBoxLayout(desk)
    maker = NumberField if field.endswith(("ratio", "percent")) else QuantityField
    wanted = maker(session, field)
    rows.addWidget(wanted)
    rows.addWidget(TextField(session, "customer"))
    qtbot.addWidget(desk)
    desk.resize(300, 120)
    desk.show()
    desk.activateWindow()
    wanted.editor.setFocus(Qt.FocusReason.TabFocusReason)
    qtbot.waitUntil(wanted.editor.hasFocus)
    KEPT.append(desk)
    return wanted


def leave(field: Field) -> None:
    field.parentWidget().findChildren(TextField)[0].editor.setFocus()


def height(session: Session) -> str | None:
    return session.job.spring.installed_height


@pytest.mark.parametrize(
    ("typed", "kept"),
    [
        ("1.900", "1.900 in"),
        ("1.9in", "1.9in"),
        ("48,26 mm", "48,26 mm"),
        ("1 7/8 in", "1 7/8 in"),
        ('1.900"', '1.900"'),
        ("15 thou", "15 thou"),
        ("  1.900 in ", "1.900 in"),
        ("nonsense", "nonsense"),
        ("", None),
    ],
)
def test_d33_what_is_typed_is_kept_and_enter_commits(
    qtbot: QtBot, session: Session, typed: str, kept: str | None
) -> None:
    field = two_fields(qtbot, session)
    qtbot.keyClicks(field.editor, typed)
    qtbot.keyClick(field.editor, Qt.Key.Key_Return)
    assert height(session) == kept


def test_d33_leaving_commits_and_escape_restores(qtbot: QtBot, session: Session) -> None:
    session.set_field(HEIGHT, "1.800 in")
    field = two_fields(qtbot, session)
    field.editor.selectAll()
    qtbot.keyClicks(field.editor, "1.7")
    qtbot.keyClick(field.editor, Qt.Key.Key_Escape)
    assert (field.editor.text(), height(session)) == ("1.800 in", "1.800 in")
    qtbot.keyClicks(field.editor, "1.7")
    leave(field)
    assert (field.editor.text(), height(session)) == ("1.7 in", "1.7 in")


@pytest.mark.parametrize("typed", ["1.9 i", "-", "1 7/", "1."])
def test_d33_an_entry_on_its_way_is_not_called_wrong(qtbot: QtBot, session: Session, typed: str) -> None:
    field = two_fields(qtbot, session)
    qtbot.keyClicks(field.editor, typed)
    assert field.message is None or not field.message.isVisibleTo(field)
    assert field.editor.property("state") != "wrong"


def test_an_entry_left_unfinished_is_wrong(qtbot: QtBot, session: Session) -> None:
    field = two_fields(qtbot, session)
    qtbot.keyClicks(field.editor, "1.9 i")
    leave(field)
    assert height(session) == "1.9 i"
    assert field.message is not None
    assert "Wrong" in field.message.text.text()


def test_d31_an_error_stands_beside_its_field_in_words(qtbot: QtBot, session: Session) -> None:
    field = two_fields(qtbot, session)
    qtbot.keyClicks(field.editor, "420 lb/in")
    assert field.message is not None
    assert field.message.isVisibleTo(field)
    told = field.message.text.text()
    assert told.startswith("Wrong: ")
    assert "a rate" in told
    assert "1.900 in" in told
    assert "a rate" in field.editor.accessibleDescription()


def test_d31_a_fault_between_fields_is_told_at_its_field(qtbot: QtBot, session: Session) -> None:
    session.set_field(HEIGHT, "1.800 in")
    field = QuantityField(session, "spring.bind_height")
    qtbot.addWidget(field)
    session.set_field("spring.bind_height", "1.850 in")
    assert field.message is not None
    assert "bind" in field.message.text.text()
    assert field.editor.text() == "1.850 in"


def test_an_ambiguous_comma_is_asked_and_not_guessed(qtbot: QtBot, session: Session) -> None:
    field = two_fields(qtbot, session)
    qtbot.keyClicks(field.editor, "1,900")
    assert field.message is not None
    buttons = [b for b in field.message.findChildren(QPushButton) if b.isVisibleTo(field)]
    assert [b.text() for b in buttons] == ["1900", "1.900"]
    qtbot.mouseClick(buttons[1], Qt.MouseButton.LeftButton)
    assert height(session) == "1.900 in"


def test_figures_follow_the_keystroke_without_a_step(qtbot: QtBot, session: Session) -> None:
    field = two_fields(qtbot, session)
    with qtbot.waitSignal(session.changed, timeout=1000):
        qtbot.keyClicks(field.editor, "1.75")
    qtbot.waitUntil(lambda: session.state.analysis.value("installed_height") == pytest.approx(1.75 * 0.0254))
    assert session.undo_stack.count() == 0
    qtbot.keyClick(field.editor, Qt.Key.Key_Escape)
    assert session.state.analysis.value("installed_height") is None


def test_d06_typing_in_one_field_is_one_step(qtbot: QtBot, session: Session) -> None:
    field = two_fields(qtbot, session)
    for text in ("1.9", "1.91", "1.92"):
        field.editor.selectAll()
        qtbot.keyClicks(field.editor, text)
        qtbot.keyClick(field.editor, Qt.Key.Key_Return)
    assert session.undo_stack.count() == 1
    assert session.undo_stack.undoText() == "set installed height"
    field.editor.selectAll()
    qtbot.keyClick(field.editor, Qt.Key.Key_Delete)
    qtbot.keyClick(field.editor, Qt.Key.Key_Return)
    assert session.undo_stack.count() == 0


def test_d05_undo_in_a_committed_field_is_the_jobs(qtbot: QtBot, session: Session) -> None:
    field = two_fields(qtbot, session)
    qtbot.keyClicks(field.editor, "1.9")
    qtbot.keyClick(field.editor, Qt.Key.Key_Return)
    QTest.keyClick(field.editor, Qt.Key.Key_Z, Qt.KeyboardModifier.ControlModifier)
    assert (height(session), field.editor.text()) == (None, "")


def test_d34_tab_selects_all(qtbot: QtBot, session: Session) -> None:
    session.set_field(HEIGHT, "1.900 in")
    field = two_fields(qtbot, session)
    leave(field)
    qtbot.keyClick(QApplication.focusWidget(), Qt.Key.Key_Backtab)
    assert field.editor.hasFocus()
    assert field.editor.selectedText() == "1.900 in"


@pytest.mark.parametrize(
    ("start", "key", "shift", "end"),
    [
        ("1.900 in", Qt.Key.Key_Up, False, "1.901 in"),
        ("1.900 in", Qt.Key.Key_Down, True, "1.890 in"),
        ("48.26 mm", Qt.Key.Key_Up, False, "48.27 mm"),
        ("nonsense", Qt.Key.Key_Up, False, "nonsense"),
    ],
)
def test_d36_arrows_step_in_the_typed_unit(
    qtbot: QtBot, session: Session, start: str, key: Qt.Key, shift: bool, end: str
) -> None:
    session.set_field(HEIGHT, start)
    field = two_fields(qtbot, session)
    modifier = Qt.KeyboardModifier.ShiftModifier if shift else Qt.KeyboardModifier.NoModifier
    qtbot.keyClick(field.editor, key, modifier)
    assert field.editor.text() == end
    assert height(session) == start
    qtbot.keyClick(field.editor, Qt.Key.Key_Return)
    assert height(session) == end


def turn_wheel(widget: QWidget) -> bool:
    """Turn the wheel one notch up; tells whether the widget took it."""
    spot = QPointF(5, 5)
    buttons, none = Qt.MouseButton.NoButton, Qt.KeyboardModifier.NoModifier
    event = QWheelEvent(spot, spot, QPoint(), QPoint(0, 120), buttons, none, Qt.ScrollPhase.NoScrollPhase, False)
    QApplication.sendEvent(widget, event)
    return event.isAccepted()


def test_d35_the_wheel_changes_only_a_focused_field(qtbot: QtBot, session: Session) -> None:
    session.set_field(HEIGHT, "1.900 in")
    field = two_fields(qtbot, session)
    leave(field)
    turn_wheel(field.editor)
    assert field.editor.text() == "1.900 in"
    field.editor.setFocus()
    assert turn_wheel(field.editor)
    assert field.editor.text() == "1.901 in"


def test_d37_the_units_switch_leaves_the_job_and_the_text(qtbot: QtBot, session: Session) -> None:
    session.set_field(HEIGHT, "1.900 in")
    field = QuantityField(session, HEIGHT)
    qtbot.addWidget(field)
    before = session.job
    assert field.unit is not None
    assert field.unit.text() == "in"
    session.set_style(Style.METRIC)
    assert field.unit.text() == "mm"
    assert field.message is not None
    assert field.message.text.text() == "= 48.26\u00a0mm"
    assert field.editor.text() == "1.900 in"
    session.set_style(Style.INCH_POUND)
    assert field.message.text.text() == ""
    assert session.job == before


def test_a_note_is_told_beside_the_field(qtbot: QtBot, session: Session) -> None:
    field = QuantityField(session, "targets.seat_load")
    qtbot.addWidget(field)
    session.set_field("targets.seat_load", "70 kg")
    assert field.message is not None
    assert "kg read as kilogram-force" in field.message.text.text()


def test_a_hint_is_not_an_entry(qtbot: QtBot, session: Session) -> None:
    field = QuantityField(session, HEIGHT)
    qtbot.addWidget(field)
    assert (field.editor.text(), field.editor.placeholderText()) == ("", "e.g. 1.900")
    assert session.state.analysis.value("installed_height") is None


def test_d26_name_role_and_description_are_there(qtbot: QtBot, session: Session) -> None:
    field = QuantityField(session, HEIGHT)
    qtbot.addWidget(field)
    found = QAccessible.queryAccessibleInterface(field.editor)
    assert found.text(QAccessible.Text.Name) == "Installed height"
    assert field.editor.objectName() == "spring__installed_height"
    assert field.editor.property("field") == HEIGHT


def test_markup_in_a_text_stays_text(qtbot: QtBot, session: Session) -> None:
    field = QuantityField(session, HEIGHT)
    qtbot.addWidget(field)
    session.set_field(HEIGHT, "<b>1</b>")
    assert field.message is not None
    assert field.message.text.textFormat() is Qt.TextFormat.PlainText


def test_shims_are_a_stack_joined_by_a_plus(qtbot: QtBot, session: Session) -> None:
    field = ShimsField(session, "spring.shims")
    qtbot.addWidget(field)
    field.editor.setText("0.015 + 0.030 in; 1 mm")
    field.editor.commit()
    assert session.job.spring.shims == ("0.015 in", "0.030 in", "1 mm")
    field.editor.setText("0.015 + thick")
    field.editor.commit()
    assert session.job.spring.shims == ("0.015 in", "thick")
    assert "spring.shims.1" in session.state.analysis.stated.problems
    assert field.message is not None
    assert "Wrong" in field.message.text.text()


def test_what_was_being_typed_does_not_land_in_another_job(qtbot: QtBot, session: Session) -> None:
    field = two_fields(qtbot, session)
    qtbot.keyClicks(field.editor, "1.7")
    session.reload(Job(title="Another job", units="inch-pound"), None)
    leave(field)
    assert field.editor.text() == ""
    assert height(session) is None


def test_an_undo_elsewhere_is_followed(qtbot: QtBot, session: Session) -> None:
    field = QuantityField(session, HEIGHT)
    qtbot.addWidget(field)
    session.set_field(HEIGHT, "wrong")
    session.set_field(HEIGHT, "1.900 in")
    session.undo_stack.undo()
    assert field.editor.text() == "wrong"
    assert field.editor.property("state") == "wrong"
    session.undo_stack.redo()
    assert (field.editor.text(), field.editor.property("state")) == ("1.900 in", "")


# Numbers without a dimension


@pytest.mark.parametrize(
    ("typed", "kept"), [("1.6", 1.6), ("1,65", 1.65), ("", None), ("one", None), ("nan", None), ("inf", None)]
)
def test_a_ratio_is_a_number_or_stands_marked(qtbot: QtBot, session: Session, typed: str, kept: float | None) -> None:
    field = two_fields(qtbot, session, "valve_gear.rocker_ratio")
    session.set_field("valve_gear.rocker_ratio", 1.5)
    field.editor.selectAll()
    qtbot.keyClicks(field.editor, typed or " ")
    leave(field)
    assert session.job.valve_gear.rocker_ratio == kept
    assert field.editor.text().strip() in (typed, f"{kept:g}" if kept else typed)
    wrong = kept is None and typed != ""
    assert (field.message is not None and "Wrong" in field.message.text.text()) is wrong


def test_a_number_out_of_sense_is_kept_and_marked(qtbot: QtBot, session: Session) -> None:
    field = two_fields(qtbot, session, "valve_gear.rocker_ratio")
    qtbot.keyClicks(field.editor, "-2")
    leave(field)
    assert session.job.valve_gear.rocker_ratio == -2
    assert field.message is not None
    assert "above zero" in field.message.text.text()


def test_a_comma_of_thousands_is_asked_in_numbers_too() -> None:
    from loadbench.errors import AmbiguousEntry

    with pytest.raises(AmbiguousEntry) as caught:
        number_of("1,200")
    assert caught.value.choices == ("1200", "1.200")


# Lines


def lined() -> Session:
    job = replaced_all(
        Job(title="A job", units="inch-pound"), {"valve_gear.lobe_lift": "0.350 in", "lines.exhaust": {}}
    )
    session = Session(job)
    session.choose_line("exhaust")
    return session


def test_an_inherited_value_is_a_hint_and_typing_overrides_it(qtbot: QtBot) -> None:
    session = lined()
    field = two_fields(qtbot, session, "valve_gear.lobe_lift")
    assert (field.editor.text(), field.editor.placeholderText()) == ("", "0.350 in")
    qtbot.keyClicks(field.editor, "0.355")
    leave(field)
    exhaust = session.job.lines.exhaust
    assert exhaust is not None
    assert exhaust.valve_gear.lobe_lift == "0.355 in"
    assert session.job.valve_gear.lobe_lift == "0.350 in"
    assert field._back is not None
    assert field._back.isVisibleTo(field)
    field._back.click()
    assert field.editor.text() == ""
    assert not field._back.isVisibleTo(field)
    session.choose_line("intake")
    assert field.editor.text() == "0.350 in"


def test_an_override_within_a_list_keeps_the_rest_of_the_list(qtbot: QtBot) -> None:
    session = lined()
    coils = ({"name": "outer", "bind_height": "1.080 in"}, {"name": "inner", "bind_height": "1.000 in"})
    session.set_fields("set coils", {"spring.coils": coils})
    field = QuantityField(session, "spring.coils.1.bind_height")
    qtbot.addWidget(field)
    field.editor.setText("0.990")
    field.editor.commit()
    exhaust = session.job.lines.exhaust
    assert exhaust is not None
    assert [(coil.name, coil.bind_height) for coil in exhaust.spring.coils] == [
        ("outer", "1.080 in"),
        ("inner", "0.990 in"),
    ]
    assert session.job.spring.coils[1].bind_height == "1.000 in"
