"""The Search view: what it asks and waits for, its table, what it says where nothing fits, and taking over."""

from __future__ import annotations

from contextlib import nullcontext
from pathlib import Path
from typing import TYPE_CHECKING, Any

import pytest
from PySide6.QtCore import Qt
from PySide6.QtGui import QGuiApplication
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication

from loadbench.assembly.spring_wanted import Choices
from loadbench.job.edits import replaced_all
from loadbench.job.files import open_job
from loadbench.job.model import Job
from loadbench.units import Style
from tests.ui.lengthened import everything_longer
from tests.ui.test_fitting import cut
from ui.session import Session
from ui.spring.search_view import SearchView
from ui.spring.views import views

if TYPE_CHECKING:
    from collections.abc import Callable

    from pytestqt.qtbot import QtBot

SAMPLES = Path(__file__).parents[3] / "samples"
Key = Qt.Key


def sample(name: str, **changes: Any) -> Job:
    found = open_job(SAMPLES / f"{name}.loadbench.json")
    job = found if isinstance(found, Job) else found.job
    return replaced_all(job, {field.replace("__", "."): value for field, value in changes.items()})


def nest(**changes: Any) -> Job:
    return sample("nest-of-three-with-damper", **changes)


@pytest.fixture
def opened(qtbot: QtBot) -> Callable[..., SearchView]:
    def make(job: Job, style: Style = Style.INCH_POUND, *, wait: bool = True) -> SearchView:
        session = Session(job, style=style)
        view = SearchView(session)
        qtbot.addWidget(view, before_close_func=lambda made: made.searcher.shutdown())
        view.resize(620, 520)
        view.show()
        session.changed.connect(lambda state: view.show_state(state, session.line, None))
        view.show_state(session.state, session.line, None)
        if wait:
            answered(qtbot, view)
        return view

    return make


def answered(qtbot: QtBot, view: SearchView) -> None:
    qtbot.waitUntil(lambda: view.searcher.current and not view.searcher.busy, timeout=10_000)


def busy(view: SearchView) -> bool:
    return view.searcher.busy


def cells(view: SearchView) -> dict[str, list[str]]:
    """The table by heads."""
    model = view.table.springs
    rows = model.cells(list(range(model.rowCount())))
    return {head: [row[place] for row in rows[1:]] for place, head in enumerate(rows[0])}


def test_the_page_has_it() -> None:
    assert views()[-1].key == "search"
    assert views()[-1].place == "ui.spring.search_view:SearchView"


def test_it_tells_what_is_wanted_in_the_units_on_show(opened: Callable[..., SearchView]) -> None:
    view = opened(nest())
    for told in (
        "180\u202flbf",
        "1.900\u202fin",
        "445\u202flbf",
        "0.578\u202fin",
        "1.520\u202fin",
        "75 % (direct shear)",
    ):
        assert told in view.wants.text.text()
    view.session.set_style(Style.METRIC)
    view.show_state(view.session.state, view.session.line, None)
    for told in ("48.26\u202fmm", "14.68\u202fmm", "38.61\u202fmm", "N/mm"):
        assert told in view.wants.text.text()


def test_it_lists_springs_that_keep_the_wants(opened: Callable[..., SearchView]) -> None:
    view = opened(nest())
    shown = cells(view)
    assert 0 < view.table.springs.rowCount() <= 10
    assert all(float(text) <= 1.520 for text in shown["Outer diameter, in"])
    assert all(float(text) >= 0.490 for text in shown["Inner diameter, in"])
    assert all(float(text) <= 1.170 for text in shown["Bind height, in"])
    assert all(float(text) >= 0.060 for text in shown["To bind, in"])
    assert all(4 <= float(text) <= 12 for text in shown["Spring index"])
    factors = [float(text) for text in shown["Fatigue Goodman"]]
    assert factors == sorted(factors, reverse=True)


def test_the_heads_carry_the_units_of_either_style(opened: Callable[..., SearchView]) -> None:
    view = opened(nest())
    inch = cells(view)
    view.session.set_style(Style.METRIC)
    view.show_state(view.session.state, view.session.line, None)
    metric = cells(view)
    assert "Stress open, kpsi" in inch
    assert "Stress open, MPa" in metric
    for one, other in zip(inch["Mean diameter, in"], metric["Mean diameter, mm"], strict=True):
        assert float(one) * 25.4 == pytest.approx(float(other), abs=0.02)
    for one, other in zip(inch["Stress open, kpsi"], metric["Stress open, MPa"], strict=True):
        assert float(one) * 6.894757 == pytest.approx(float(other), abs=1)


def test_heads_sort_and_the_chosen_spring_stays_chosen(opened: Callable[..., SearchView]) -> None:
    view = opened(nest())
    view.table.selectRow(0)
    chosen = view.table.chosen
    place = [column.key for column in view.table.springs.columns].index("wire_mass")
    view.table.sortByColumn(place, Qt.SortOrder.AscendingOrder)
    masses = [float(text) for text in cells(view)["Mass, g"]]
    assert masses == sorted(masses)
    assert view.table.chosen is chosen
    assert view.table.springs.rank(view.table.currentIndex().row()) == 1
    view.table.sortByColumn(-1, Qt.SortOrder.AscendingOrder)
    assert cells(view)["Rank"] == [str(place + 1) for place in range(view.table.springs.rowCount())]


def test_a_choice_searches_anew(opened: Callable[..., SearchView], qtbot: QtBot) -> None:
    view = opened(nest())
    before = view.table.springs.springs
    view.choices.preset.click()
    answered(qtbot, view)
    assert view.table.springs.springs != before
    assert "(Wahl)" in view.wants.text.text()


def test_choices_start_from_the_jobs_coil_until_one_is_made(opened: Callable[..., SearchView], qtbot: QtBot) -> None:
    view = opened(nest())
    assert view.choices.choices == Choices(material="VDSiCrV", peened=True, preset=True)
    view.session.set_field("spring.coils.0.preset", False)
    assert view.choices.choices == Choices(material="VDSiCrV", peened=True)
    view.choices.peened.click()
    peened = view.choices.choices.peened
    view.session.set_field("spring.coils.0.shot_peened", not peened)
    view.session.set_field("spring.coils.0.shot_peened", None)
    assert view.choices.choices.peened == peened


def test_an_edit_that_changes_no_want_searches_nothing(opened: Callable[..., SearchView]) -> None:
    view = opened(nest())
    answer = view.searcher.answer
    view.session.set_field("title", "another")
    assert (busy(view), view.searcher.answer is answer) == (False, True)
    view.session.set_field("targets.seat_load", "175 lbf")
    assert busy(view)
    assert not view.take.isEnabled()


def test_it_waits_for_a_field_and_leads_there(opened: Callable[..., SearchView], qtbot: QtBot) -> None:
    view = opened(nest(targets__open_load=None), wait=False)
    assert view.wants.text.text() == "The search waits for: wanted open load."
    assert not view.table.isVisible()
    assert not view.take.isEnabled()
    (link,) = view.wants.links
    with qtbot.waitSignal(view.wants.field_wanted) as told:
        link.click()
    assert told.args == ["targets.open_load"]


def test_a_fault_is_told_by_the_name_of_its_field(opened: Callable[..., SearchView]) -> None:
    view = opened(nest(targets__open_load="150 lbf"), wait=False)
    assert view.wants.text.text().startswith("Wanted open load: ")
    assert [link.text() for link in view.wants.links] == ["Go to wanted open load"]


def test_a_fault_of_a_rule_leads_to_the_rule_book(opened: Callable[..., SearchView], qtbot: QtBot) -> None:
    view = opened(nest(rules={"spring-index": {"least": {"watch": 13}}}), wait=False)
    assert view.wants.text.text().startswith("Rule book: ")
    with qtbot.waitSignal(view.wants.rule_wanted) as told:
        view.wants.links[0].click()
    assert told.args == ["spring-index"]


def test_room_that_is_not_stated_is_said_to_be_free(opened: Callable[..., SearchView]) -> None:
    view = opened(nest(targets__outer_diameter_max=None))
    assert "largest outside diameter" in view.wants.beside.text()
    assert [link.text() for link in view.wants.links] == ["Go to largest outside diameter"]


def test_where_nothing_fits_it_says_what_would_do(opened: Callable[..., SearchView], qtbot: QtBot) -> None:
    view = opened(nest())
    view.choices.fatigue.click()
    view.choices.surge.click()
    answered(qtbot, view)
    assert view.summary.text().startswith("None of ")
    assert "The nearest: wire " in view.advice.text()
    assert "\u202fHz instead of 875\u202fHz" in view.advice.text()
    assert "Turned away by: " in view.away.text()
    assert not view.take.isEnabled()
    assert not view.table.isVisible()


def test_one_limit_that_would_be_enough_is_named(opened: Callable[..., SearchView], qtbot: QtBot) -> None:
    view = opened(sample("beehive-ovate-wire"), Style.METRIC)
    view.choices.surge.click()
    answered(qtbot, view)
    assert view.advice.text().startswith("One of these alone would be enough: first surge mode ")
    assert "instead of 775\u202fHz" in view.advice.text()


@pytest.mark.parametrize("way", ["button", "enter"])
def test_taking_over_is_one_step_and_names_what_remains(
    opened: Callable[..., SearchView], qtbot: QtBot, way: str
) -> None:
    view = opened(nest())
    before, said = view.session.job, list[str]()
    view.said.connect(said.append)
    view.table.selectRow(1)
    chosen = view.table.chosen
    if way == "button":
        view.take.click()
    else:
        QTest.keyClick(view.table, Key.Key_Return)
    assert view.session.undo_stack.count() == 1
    assert chosen is not None
    (coil,) = view.session.state.analysis.line(None).coils
    assert coil.geometry is not None
    assert coil.geometry.mean_diameter == pytest.approx(chosen.mean_diameter, abs=2e-6)
    assert "Spring 2 taken over." in said[-1]
    for told in ("in place of the whole nest", "spring mass", "damper", "member readings"):
        assert told in said[-1]
    view.session.undo_stack.undo()
    assert view.session.job == before
    assert "taken over" not in said[-1]


def test_copy_as_text_has_wants_heads_and_rows(opened: Callable[..., SearchView]) -> None:
    view = opened(nest())
    view.copy_button.click()
    lines = QGuiApplication.clipboard().text().splitlines()
    heads = next(place for place, line in enumerate(lines) if line.startswith("Rank\tWire, in\t"))
    assert "Wanted: " in lines[0]
    rows = lines[heads + 1 : heads + 1 + view.table.springs.rowCount()]
    assert [row.split("\t")[0] for row in rows] == cells(view)["Rank"]
    assert all(row.count("\t") == lines[heads].count("\t") for row in rows)


def test_copy_in_the_table_takes_the_chosen_spring(opened: Callable[..., SearchView]) -> None:
    view = opened(nest())
    view.table.selectRow(1)
    QTest.keyClick(view.table, Key.Key_C, Qt.KeyboardModifier.ControlModifier)
    lines = QGuiApplication.clipboard().text().splitlines()
    assert len(lines) == 2
    assert lines[1].startswith("2\t")


def test_a_search_can_be_stopped(opened: Callable[..., SearchView], qtbot: QtBot) -> None:
    view = opened(nest(), wait=False)
    assert busy(view)
    QTest.keyClick(view, Key.Key_Escape)
    assert not busy(view)
    assert view.summary.text().startswith("The search was stopped.")
    view.choices.peened.click()
    answered(qtbot, view)
    assert view.table.isVisible()


def test_a_hidden_view_does_not_search_on(opened: Callable[..., SearchView], qtbot: QtBot) -> None:
    view = opened(nest(), wait=False)
    view.hide()
    assert not view.searcher.busy
    view.show()
    view.show_state(view.session.state, view.session.line, None)
    answered(qtbot, view)


def test_the_read_out_tells_the_chosen_spring(opened: Callable[..., SearchView]) -> None:
    view = opened(nest())
    said = list[str]()
    view.said.connect(said.append)
    view.table.selectRow(1)
    assert said[-1].startswith("Spring 2: wire ")
    assert "left outside" in said[-1]
    assert "It stands on: largest bind height" in said[-1]


@pytest.mark.parametrize("longer", [False, True], ids=["as they are", "two fifths longer"])
@pytest.mark.parametrize("name", ["nest-of-three-with-damper", "solid-roller-1000-lbf", "deliberately-bad"])
def test_a_low_and_narrow_view_scrolls_and_cuts_nothing(qtbot: QtBot, name: str, longer: bool) -> None:
    """Some springs, none, and faults."""
    with everything_longer() if longer else nullcontext():
        session = Session(sample(name))
        view = SearchView(session)
        qtbot.addWidget(view, before_close_func=lambda made: made.searcher.shutdown())
        view.resize(360, 330)
        view.show()
        view.show_state(session.state, session.line, None)
        qtbot.waitUntil(lambda: not view.searcher.busy, timeout=10_000)
        for _ in range(3):
            QApplication.processEvents()
            view.grab()
        assert (view.width(), view.height()) == (360, 330)
        assert cut(view) == []
