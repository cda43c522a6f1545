"""The inverse answers for the job on show: told, copied, taken over as one step."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Any

import pytest
from PySide6.QtGui import QGuiApplication
from PySide6.QtWidgets import QLabel, QPushButton

import loadbench
from loadbench.job.edits import replaced_all
from loadbench.job.files import open_job
from loadbench.job.model import Job
from loadbench.units import Style
from ui.inverse import Answers, InversePanel
from ui.session import Session

if TYPE_CHECKING:
    from pytestqt.qtbot import QtBot

IN, LBF = 0.0254, 4.4482216152605
BASE: dict[str, Any] = {
    "spring.bare_height": "1.915 in",
    "spring.shims": ("0.015 in",),
    "spring.bind_height": "1.080 in",
    "spring.readings": ({"height": "1.900 in", "load": "150 lbf"}, {"height": "1.250 in", "load": "423 lbf"}),
    "valve_gear.lobe_lift": "0.350 in",
    "valve_gear.rocker_ratio": 1.6,
    "valve_gear.retainer_to_seal": "0.640 in",
    "follower.family": "roller-hydraulic",
    "targets.seat_load": "156.3 lbf",
    "targets.open_load": "380 lbf",
}


def session_of(**more: Any) -> Session:
    fields = BASE | {name.replace("__", "."): value for name, value in more.items()}
    return Session(replaced_all(Job(title="t", units="inch-pound"), fields))


def texts(session: Session) -> list[str]:
    return [answer.text.replace("\u2009", " ") for answer in Answers(session).all()]


def test_the_four_answers(qapp: object) -> None:
    assert texts(session_of()) == [
        "1.885 in gives the wanted 156.3 lbf.",
        "0.030 in gives 1.885 in for 156.3 lbf.",
        "0.580 in at the valve; the seal is what stops it.",
        "399 lbf/in gives 156.3 lbf closed and 380 lbf at full lift.",
    ]


def test_a_miss_is_told_on_its_side(qapp: object) -> None:
    assert "0.005 in taller than wanted" in texts(session_of(targets__seat_load="158.4 lbf"))[1]
    assert "0.005 in shorter than wanted" in texts(session_of(targets__seat_load="154.2 lbf"))[1]


def test_more_than_bare_must_be_gained(qapp: object) -> None:
    told = texts(session_of(targets__seat_load="138.7 lbf"))[1]
    assert told == "None: 138.7 lbf needs 0.012 in more: cut the seat, other locks or retainer, or a longer valve."


def test_a_stack_too_tall_is_told(qapp: object) -> None:
    told = texts(session_of(targets__seat_load="200 lbf"))[1]
    assert told.startswith("0.060 in + 0.030 in gives 1.825 in; ")


def test_the_jobs_own_stock_is_used(qapp: object) -> None:
    told = texts(session_of(shims_in_stock=("0.010 in",)))[1]
    assert told == "0.010 in + 0.010 in + 0.010 in gives 1.885 in for 156.3 lbf."


def test_without_the_seal_clearance_the_coils_stop_the_lift(qapp: object) -> None:
    told = texts(session_of(valve_gear__retainer_to_seal=None))[2]
    assert told.startswith("0.760 in at the valve by the coils; the seal is left out")


@pytest.mark.parametrize(
    ("lacking", "place", "name"),
    [
        ("targets__seat_load", 0, "eat load"),
        ("spring__bare_height", 1, "are height"),
        ("spring__bind_height", 2, "ind height"),
        ("targets__open_load", 3, "pen load"),
        ("valve_gear__lobe_lift", 3, "obe lift"),
    ],
)
def test_what_is_missing_is_named(qapp: object, lacking: str, place: int, name: str) -> None:
    more: dict[str, Any] = {lacking: None}
    if lacking == "spring__bare_height":
        more["spring__installed_height"] = "1.900 in"
    told = texts(session_of(**more))[place]
    assert told.startswith("Waits for")
    assert name in told


def test_a_load_out_of_reach_is_said(qapp: object) -> None:
    assert "does not give that load" in texts(session_of(targets__seat_load="900 lbf", targets__open_load="950 lbf"))[0]


def test_an_answer_is_taken_over_as_one_step(qtbot: QtBot) -> None:
    session = session_of()
    panel = InversePanel(session)
    qtbot.addWidget(panel)
    take = panel.findChild(QPushButton, "take_1")
    assert take is not None
    take.click()
    assert session.job.spring.shims == ("0.030 in",)
    assert session.state.analysis.value("seat_load") == pytest.approx(156.3 * LBF)
    assert session.undo_stack.count() == 1
    panel.take_over(2)
    assert session.state.analysis.value("net_valve_lift") == pytest.approx(0.580 * IN, abs=0.0009 * IN)
    rate = panel.findChild(QPushButton, "take_3")
    assert rate is not None
    assert not rate.isEnabled()


def test_an_answer_is_copied_with_its_question_in_the_units_on_show(qtbot: QtBot) -> None:
    session = session_of()
    panel = InversePanel(session)
    qtbot.addWidget(panel)
    session.set_style(Style.METRIC)
    panel.copy_answer(0)
    text = QGuiApplication.clipboard().text().replace("\u2009", " ")
    assert text == "Installed height for the wanted seat load: 47.88 mm gives the wanted 695 N."


def beside(panel: InversePanel, place: int) -> str:
    label, take = panel.findChild(QLabel, f"beside_{place}"), panel.findChild(QPushButton, f"take_{place}")
    assert label is not None
    assert take is not None
    assert take.accessibleDescription().replace("\u2009", " ") == label.text().replace("\u202f", " ")
    assert take.isEnabled() or not label.isHidden()
    return label.text().replace("\u202f", " ")


def test_d31_beside_a_grey_take_over_stands_why(qtbot: QtBot) -> None:
    session = session_of(spring__bind_height=None)
    panel = InversePanel(session)
    qtbot.addWidget(panel)
    assert beside(panel, 0) == ""
    assert beside(panel, 2) == "Nothing to take over: there is no answer yet."
    assert beside(panel, 3).startswith("Not to be taken over: a rate comes with another spring")
    panel.take_over(1)
    steps = session.undo_stack.count()
    for place in (0, 1):
        assert beside(panel, place) == "Nothing to take over: the job has this already."
        panel.take_over(place)
    assert session.undo_stack.count() == steps


def test_d31_a_take_over_that_ends_early_says_where(qtbot: QtBot) -> None:
    session = session_of(targets__seat_load="138.7 lbf")
    panel = InversePanel(session)
    qtbot.addWidget(panel)
    assert beside(panel, 0) == "Take over goes to 1.915 in only: shims only shorten."
    panel.take_over(0)
    assert beside(panel, 0) == "Nothing to take over: shims only shorten, and 1.915 in is there already."


@pytest.mark.parametrize("name", sorted((Path(loadbench.__file__).parent.parent / "samples").glob("*.loadbench.json")))
def test_every_sample_has_answers_or_reasons(qapp: object, name: Path) -> None:
    opened = open_job(name)
    session = Session(opened if isinstance(opened, Job) else opened.job)
    assert all(texts(session))
