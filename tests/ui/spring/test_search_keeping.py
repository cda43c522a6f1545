"""What the Search view does with a chosen spring beside taking it over, and the ways from it into the job."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest
from PySide6.QtCore import QPoint, QPointF, Qt
from PySide6.QtGui import QWheelEvent
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QScrollArea

from loadbench.analysis import analyse
from loadbench.analysis.variants import with_variant
from loadbench.job.edits import replaced_all
from loadbench.job.files import open_job
from loadbench.job.model import Job
from tests.ui.spring.spring_jobs import SAMPLES
from ui.session import Session
from ui.spring.search_view import SearchView

if TYPE_CHECKING:
    from collections.abc import Iterator

    from pytestqt.qtbot import QtBot

LBF = 4.4482216152605
Key, Alt = Qt.Key, Qt.KeyboardModifier.AltModifier


@pytest.fixture
def view(qtbot: QtBot) -> Iterator[SearchView]:
    """The view of the nest of three, with its answer: 180 lbf closed and 445 lbf open are wanted."""
    found = open_job(SAMPLES / "nest-of-three-with-damper.loadbench.json")
    session = Session(replaced_all(found if isinstance(found, Job) else found.job, {"variants": ()}))
    made = SearchView(session)
    qtbot.addWidget(made, before_close_func=lambda each: each.searcher.shutdown())
    made.resize(620, 520)
    made.show()
    session.changed.connect(lambda state: made.show_state(state, session.line, None))
    made.show_state(session.state, session.line, None)
    qtbot.waitUntil(lambda: made.searcher.current and not made.searcher.busy, timeout=10_000)
    yield made
    made.hide()


def test_a_spring_kept_as_a_variant_gives_the_wanted_loads_and_leaves_the_jobs_own(view: SearchView) -> None:
    session, before, said = view.session, view.session.job, list[str]()
    view.said.connect(said.append)
    view.table.selectRow(1)
    chosen = view.table.chosen
    assert chosen is not None
    view.keep.click()
    assert session.undo_stack.count() == 1
    assert session.undo_stack.undoText() == "keep spring 2 of the search as a variant"
    assert session.job.spring == before.spring
    (variant,) = session.job.variants
    assert variant.name is not None
    assert variant.name in said[-1]
    line = analyse(with_variant(session.job, 0)).line(None)
    assert line.value("seat_load") == pytest.approx(180 * LBF, rel=2e-3)
    assert line.value("open_load") == pytest.approx(445 * LBF, rel=2e-3)
    assert line.value("bind_margin") == pytest.approx(chosen.bind_margin, abs=5e-6)
    assert not line.stated.stated.problems
    session.undo_stack.undo()
    assert session.job == before


def test_a_fourth_variant_is_not_kept_and_the_tip_says_why(view: SearchView) -> None:
    for row in range(3):
        view.table.selectRow(row)
        view.keep.click()
    assert len(view.session.job.variants) == 3
    assert len({variant.name for variant in view.session.job.variants}) == 3
    assert not view.keep.isEnabled()
    assert "3 variants already" in view.keep.toolTip()
    view.keep_variant()
    assert len(view.session.job.variants) == 3
    view.session.undo_stack.undo()
    assert view.keep.isEnabled()


def test_the_tip_says_beforehand_what_is_replaced_and_what_stays(view: SearchView) -> None:
    tip = view.take.toolTip()
    for told in ("outer, inner, innermost", "damper", "member readings", "Undo brings the old one back."):
        assert told in tip
    view.take.click()
    assert "outer, inner, innermost" not in view.take.toolTip()


def test_each_want_leads_to_where_it_is_stated(view: SearchView, qtbot: QtBot) -> None:
    shown = {link.text(): link for link in view.wants.ways}
    assert {"Wanted seat load", "Wanted open load", "Installed height", "Largest outside diameter"} <= shown.keys()
    with qtbot.waitSignal(view.wants.field_wanted) as told:
        shown["Wanted seat load"].click()
    assert told.args == ["targets.seat_load"]
    with qtbot.waitSignal(view.wants.rule_wanted) as told:
        shown["Open the rule book"].click()
    assert told.args == ["bind-margin-min"]


def test_limits_that_are_not_held_are_told(view: SearchView, qtbot: QtBot) -> None:
    assert "Not held: surge limit, fatigue limit." in view.wants.beside.text()
    view.choices.surge.click()
    assert "Not held: fatigue limit." in view.wants.beside.text()
    qtbot.waitUntil(lambda: view.searcher.current, timeout=10_000)


def test_the_keyboard_sorts_by_the_current_column(view: SearchView) -> None:
    springs = view.table.springs
    place = [column.key for column in springs.columns].index("free_height") + 1  # bind height
    assert springs.columns[place].key == "bind_height"
    view.table.setCurrentIndex(springs.index(0, place))
    best = springs.springs
    QTest.keyClick(view.table, Key.Key_Down, Alt)
    rising = [each.bind_height for each in springs.springs]
    assert rising == sorted(rising)
    QTest.keyClick(view.table, Key.Key_Down, Alt)
    assert [each.bind_height for each in springs.springs] == sorted(rising, reverse=True)
    QTest.keyClick(view.table, Key.Key_Down, Alt)
    assert springs.springs == best


def test_the_tip_of_a_cell_tells_more(view: SearchView) -> None:
    springs = view.table.springs
    places = {column.key: place for place, column in enumerate(springs.columns)}
    factor = springs.springs[0].fatigue_factor_gerber
    assert factor is not None

    def tip(key: str) -> str:
        return str(springs.index(0, places[key]).data(Qt.ItemDataRole.ToolTipRole))

    assert f"Gerber {factor:.2f}" in tip("fatigue_factor_goodman")
    assert "mm" in tip("wire_diameter")
    strength = springs.springs[0].tensile_strength / 6.894757e6
    assert f"Tensile strength {strength:.0f}" in tip("stress_share_open")
    assert tip("spring_index") == "Mean diameter over wire diameter."


def test_a_usual_page_shows_all_of_it_without_scrolling(view: SearchView, qtbot: QtBot) -> None:
    view.resize(620, 590)  # what a window of 1280 x 800 leaves
    area = view.findChild(QScrollArea, "search_area")
    qtbot.waitUntil(lambda: not area.verticalScrollBar().isVisible(), timeout=2000)
    assert view.away.isVisible()


def test_the_wheel_over_a_choice_that_has_not_the_focus_changes_nothing(view: SearchView) -> None:
    stock = view.choices.stock
    view.table.setFocus()
    before = stock.currentIndex()
    for down in (-120, 120):
        at = QPointF(stock.rect().center())
        turn = QWheelEvent(
            at, stock.mapToGlobal(at), QPoint(), QPoint(0, down), Qt.MouseButton.NoButton,
            Qt.KeyboardModifier.NoModifier, Qt.ScrollPhase.NoScrollPhase, False,
        )  # fmt: skip
        QApplication.sendEvent(stock, turn)
        assert stock.currentIndex() == before


def test_what_is_only_being_typed_is_not_taken_over(view: SearchView, qtbot: QtBot) -> None:
    before = view.session.job
    view.session.preview("targets.seat_load", "150 lbf")
    qtbot.waitUntil(lambda: "150" in view.wants.text.text() and view.searcher.current, timeout=10_000)
    view.take_over()
    view.keep_variant()
    assert view.session.job is before
    view.session.drop_preview()


def test_the_ways_stand_in_the_focus_order_between_choices_and_table(view: SearchView) -> None:
    order = [view.choices.fatigue, *view.wants.links, *view.wants.ways, view.table]
    widget, met = order[0], [order[0]]
    while widget is not order[-1]:
        widget = widget.nextInFocusChain()
        if widget in order:
            met.append(widget)
    assert met == order
