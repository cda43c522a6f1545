"""The Wanted view: what is typed, what is told at the field, and the answers as sentences."""

from __future__ import annotations

import math
from dataclasses import replace
from typing import TYPE_CHECKING

import pytest
from PySide6.QtCore import Qt
from PySide6.QtGui import QGuiApplication
from PySide6.QtTest import QTest

from loadbench.analysis.motion.wanted_duty import WantedDuty, wanted_duty
from loadbench.analysis.motion.wanted_run import HeldByRun, held_by_run
from loadbench.errors import InputError
from loadbench.units import Kind, Style, tell
from tests.ui.motion.made import RPM, seen
from ui.motion.wanted_view import BY_RUN, WantedView
from ui.motion.wanted_words import run_sentence, sentences

if TYPE_CHECKING:
    from pytestqt.qtbot import QtBot

    from ui.session import Session

Key = Qt.Key
MASS = 0.17


@pytest.fixture
def view(qtbot: QtBot, session: Session) -> WantedView:
    made = WantedView(session)
    qtbot.addWidget(made)
    made.resize(620, 400)
    made.show()
    qtbot.waitExposed(made)
    made.show_seen(replace(seen(), mass=MASS))
    return made


def duty(speed: float = 7000 * RPM, margin: float = 0.0) -> WantedDuty:
    dynamic = seen().motion.dynamic
    assert dynamic is not None
    return wanted_duty(dynamic, MASS, speed, margin)


def texts(view: WantedView) -> list[str]:
    return [each.answer for each in view.answers]


def test_empty_fields_ask_for_the_speed_limit_without_a_margin(view: WantedView) -> None:
    assert view.speed.edit.placeholderText() == "6500\u2009rpm"
    assert texts(view) == [each.answer for each in sentences(duty(6500 * RPM), Style.INCH_POUND)]
    assert view.speed.edit.text() == ""


def test_what_is_typed_is_answered_while_typing_in_any_unit(view: WantedView) -> None:
    QTest.keyClicks(view.speed.edit, "7000")
    assert texts(view) == [each.answer for each in sentences(duty(), Style.INCH_POUND)]
    QTest.keyClicks(view.margin.edit, "200 N")
    assert texts(view) == [each.answer for each in sentences(duty(margin=200.0), Style.INCH_POUND)]
    QTest.keyClick(view.margin.edit, Key.Key_Return)
    assert view.margin.edit.text() == "200 N"
    assert "45" in view.messages[1].text.text()  # lbf
    QTest.keyClick(view.speed.edit, Key.Key_Return)
    assert view.speed.edit.text() == "7000 rpm"
    QTest.keyClick(view.speed.edit, Key.Key_Escape)
    assert view.speed.edit.text() == ""
    assert view.speed.edit.value is None


@pytest.mark.parametrize("typed", ["70x", "0", "-500 rpm", "7000 lbf"])
def test_a_fault_is_told_at_its_field_and_the_answers_wait(view: WantedView, typed: str) -> None:
    view.speed.edit.take(typed)
    assert view.messages[0].text.text().startswith("Wrong: ")
    assert view.answers == ()
    assert view.needs.text() == "The answers wait for a speed."
    assert not view.copy_button.isEnabled()
    view.speed.edit.take("7000 rpm")
    assert not view.messages[0].isVisible()
    assert len(view.answers) == 5


def test_a_margin_may_be_zero_and_not_below(view: WantedView) -> None:
    view.margin.edit.take("-20 lbf")
    assert view.messages[1].text.text().startswith("Wrong: ")
    assert "force to be left" in view.needs.text()
    view.margin.edit.take("0")
    assert not view.messages[1].isVisible()
    assert view.answers


def test_arrow_keys_nudge_from_the_hint(view: WantedView) -> None:
    QTest.keyClick(view.speed.edit, Key.Key_Up)
    assert view.speed.edit.value is not None
    assert view.speed.edit.value > 6500 * RPM


def test_units_on_show_change_the_words_and_not_the_need(view: WantedView) -> None:
    view.speed.edit.take("7000 rpm")
    view.session.set_style(Style.METRIC)
    view.show_seen(replace(seen(), mass=MASS))
    assert texts(view) == [each.answer for each in sentences(duty(), Style.METRIC)]
    assert view.margin.unit.text() == "N"


def test_the_answers_are_copied_with_their_questions(view: WantedView) -> None:
    QTest.mouseClick(view.copy_button, Qt.MouseButton.LeftButton)
    lines = QGuiApplication.clipboard().text().splitlines()
    assert len(lines) == 5
    assert lines[0].startswith("As it is, by the force balance: ")


def test_without_a_limit_a_speed_is_asked_for(qtbot: QtBot, session: Session) -> None:
    made = WantedView(session)
    qtbot.addWidget(made)
    own = seen()
    made.show_seen(replace(own, motion=replace(own.motion, speed_limit=None), mass=MASS))
    assert made.answers == ()
    assert "wait for a speed" in made.needs.text()


# The sentences


def made(**changes: float) -> WantedDuty:
    plain = {
        "speed": 7000 * RPM, "margin": 0.0, "least_force": 100.0, "angle": -0.4, "seat_load": 500.0,
        "seat_open": 1300.0, "open_load": 1200.0, "rate": 60e3, "mass": 0.2, "seat_now": 700.0, "open_now": 1500.0,
        "rate_now": 70e3, "mass_now": 0.17,
    }  # fmt: skip
    return WantedDuty(**(plain | changes))


@pytest.mark.parametrize(
    ("changes", "place", "wanted"),
    [
        ({}, 0, "At 7000\u2009rpm at least 100\u2009N are left at the valve, at cam \u221223\u2009deg from the nose."),
        ({"margin": 50.0}, 0, "The margin of 50\u2009N is there."),
        ({"margin": 150.0}, 0, "The margin of 150\u2009N is not there."),
        ({"least_force": -80.0}, 0, "parts from its lobe: 80\u2009N are wanting at cam"),
        ({"least_force": -80.0, "margin": 50.0}, 0, "130\u2009N are wanting for the margin of 50\u2009N"),
        ({}, 1, "500\u2009N does, with 1300\u2009N at full lift (now 700\u2009N, 200\u2009N more than it needs)."),
        ({"seat_load": 800.0}, 1, "(now 700\u2009N, 100\u2009N too little)"),
        ({"seat_load": -5.0}, 1, "No seat load is needed"),
        ({}, 2, "1200\u2009N does (now 1500\u2009N, 300\u2009N more than it needs)."),
        ({"open_load": math.inf}, 2, "No spring of this seat load does"),
        ({"open_load": 700.0}, 2, "The seat load of 700\u2009N does alone"),
        ({"rate": 80e3}, 3, "(now 70.0\u2009N/mm, 10.0\u2009N/mm too little)"),
        ({"rate": math.inf}, 3, "No spring of this seat load does"),
        ({"rate": 0.0}, 3, "No rate is needed"),
        ({}, 4, "200.0\u2009g can be held (now 170.0\u2009g, 30.0\u2009g less than may be)."),
        ({"mass": 0.15}, 4, "(now 170.0\u2009g, 20.0\u2009g too much)"),
        ({"mass": math.inf}, 4, "Any mass does"),
        ({"mass": 0.0}, 4, "None does"),
    ],
)
def test_each_answer_is_a_sentence_with_numbers_and_units(changes: dict[str, float], place: int, wanted: str) -> None:
    said = sentences(made(**changes), Style.METRIC)[place].answer
    assert wanted in said
    assert said.endswith(".")


def test_the_sentences_speak_the_units_on_show() -> None:
    said = sentences(made(), Style.INCH_POUND)[1].answer
    assert said.startswith(str(tell(500.0, Kind.FORCE, Style.INCH_POUND)))


# The dynamic run's answer


def run_row(view: WantedView) -> str:
    return view._rows[BY_RUN][1].text().replace("\u202f", "\u2009")


def answer(view: WantedView, qtbot: QtBot) -> HeldByRun:
    qtbot.waitUntil(lambda: view.run.answer is not None, timeout=20_000)
    found = view.run.answer
    assert found is not None
    return found


def test_the_run_answers_beside_the_window(view: WantedView, qtbot: QtBot) -> None:
    assert run_row(view).startswith("Working it out")
    found = answer(view, qtbot)
    dynamic = seen().motion.dynamic
    assert dynamic is not None
    told = duty(6500 * RPM)
    lift = (told.open_now - told.seat_now) / told.rate_now
    assert found == held_by_run(dynamic, lift, 6500 * RPM)
    assert run_row(view) == run_sentence(found, Style.INCH_POUND, told.seat_load)
    assert "wrong cure" in run_row(view)
    assert found.seat_load is not None
    assert str(tell(found.seat_load, Kind.FORCE, Style.INCH_POUND)) in run_row(view)
    assert not view.run_button.isVisible()
    view.copy()
    assert run_row(view) in QGuiApplication.clipboard().text()


def test_another_question_drops_the_one_before(view: WantedView, qtbot: QtBot) -> None:
    first = answer(view, qtbot)
    view.speed.edit.take("5000 rpm")
    assert view.run.answer is None
    assert run_row(view).startswith("Working it out")
    second = answer(view, qtbot)
    assert second.speed == pytest.approx(5000 * RPM)
    assert second != first
    view.speed.edit.take("70x")
    assert run_row(view) == ""
    assert not view.run.busy


def test_it_is_stopped_and_goes_on(view: WantedView, qtbot: QtBot) -> None:
    assert view.run_button.isVisible()
    assert view.run_button.text() == "Cancel"
    QTest.mouseClick(view.run_button, Qt.MouseButton.LeftButton)
    assert run_row(view) == "Stopped."
    assert view.run_button.text() == "Go on"
    QTest.keyClick(view.run_button, Key.Key_Space)
    answer(view, qtbot)


def test_nobody_looks_and_nothing_is_worked_out(view: WantedView) -> None:
    view.hide()
    assert not view.run.busy
    view.show()
    assert view.run.busy


def test_a_failure_is_told(view: WantedView, qtbot: QtBot, monkeypatch: pytest.MonkeyPatch) -> None:
    def fails(*_given: object, **_more: object) -> None:
        raise InputError("out of sense")

    monkeypatch.setattr("ui.motion.wanted_run_work.held_by_run", fails)
    view.speed.edit.take("5100 rpm")
    qtbot.waitUntil(lambda: bool(view.run.failure), timeout=5000)
    assert "out of sense" in run_row(view)
    assert view.run_button.text() == "Go on"


@pytest.mark.parametrize(
    ("changes", "word"),
    [
        ({"seat_load": None, "open_load": None, "needed_at": None}, "No seat load holds it"),
        ({"seat_load": 0.0}, "the rate alone does"),
        ({"needed_at": 500.0}, "that needs it"),
        ({"least_force": 0.0}, "Contact is lost at"),
        ({}, "too little"),
    ],
)
def test_what_the_run_may_say(changes: dict[str, float | None], word: str) -> None:
    run = HeldByRun(
        speed=700.0, margin=0.0, least_force=40.0, weakest=690.0, seat_load=800.0, open_load=1900.0, needed_at=700.0,
        seat_now=700.0, open_now=1800.0,
    )  # fmt: skip
    for style in Style:
        text = run_sentence(replace(run, **changes), style)  # type: ignore[arg-type]
        assert word in text
        assert "None" not in text
