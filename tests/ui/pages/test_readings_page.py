"""The Readings page: typed by keys alone, pasted, sorted, copied, judged."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest
from PySide6.QtCore import QPoint, Qt
from PySide6.QtGui import QGuiApplication
from PySide6.QtWidgets import QAbstractButton, QApplication, QLineEdit, QPushButton, QWidget

from loadbench.job.edits import replaced_all
from loadbench.job.model import Job
from loadbench.units import Style
from ui.pages.readings_page import ReadingsPage
from ui.session import Session
from ui.slip.columns import Column
from ui.slip.slip_edits import next_id
from ui.slip.slip_model import HEADS

if TYPE_CHECKING:
    from collections.abc import Iterator

    from pytestqt.qtbot import QtBot

SPEC = {"height": "1.900 in", "load": "150 lbf", "minus": "8 lbf", "plus": "8 lbf"}
FIRST = len(HEADS)


def slip(*loads: tuple[str, ...], heights: tuple[str, ...] = ("1.900 in", "1.250 in")) -> Session:
    """A session with numbered springs at given heights."""
    springs = tuple(
        {
            "id": f"S{number:02d}",
            "readings": tuple({"height": h, "load": load} for h, load in zip(heights, row, strict=True) if load),
        }
        for number, row in enumerate(loads, 1)
    )
    changes = {
        "spring.installed_height": "1.900 in",
        "valve_gear.measured_net_lift": "0.600 in",
        "spring.spec": (SPEC,),
        "springs": springs,
    }
    return Session(replaced_all(Job(title="A job", units="inch-pound"), changes))


@pytest.fixture
def pages(qtbot: QtBot) -> Iterator[list[ReadingsPage]]:
    made: list[ReadingsPage] = []
    yield made
    for page in made:
        page.hide()


def shown(qtbot: QtBot, pages: list[ReadingsPage], session: Session) -> ReadingsPage:
    page = ReadingsPage(session)
    pages.append(page)
    qtbot.addWidget(page)
    page.resize(940, 600)
    page.show()
    page.activateWindow()
    page.grid.view.setFocus()
    qtbot.waitExposed(page)
    return page


def texts(page: ReadingsPage, column: int) -> list[str]:
    model = page.grid.sorting
    return [str(model.index(row, column).data() or "") for row in range(model.rowCount())]


def loads(session: Session) -> list[list[str | None]]:
    return [[reading.load for reading in spring.readings] for spring in session.job.springs]


def editor(page: ReadingsPage) -> QLineEdit:
    """The open editor of a cell."""
    return next(each for each in page.grid.view.findChildren(QLineEdit, "cell_editor") if each.isVisible())


def paste(page: ReadingsPage, text: str, row: int = 0, column: int = 0) -> None:
    QGuiApplication.clipboard().setText(text)
    page.grid.go_to(row, column)
    page.grid.view.paste()


# Typing


def test_d22_d45_a_slip_is_typed_by_keys_alone(qtbot: QtBot, pages: list[ReadingsPage]) -> None:
    session = slip(("150 lbf", "423 lbf"))
    page = shown(qtbot, pages, session)
    page.grid.go_to(1, FIRST)
    for row, load in enumerate(("149", "151,5", "60 kg"), 1):
        qtbot.keyClicks(page.grid.view, load[0])
        qtbot.keyClicks(editor(page), load[1:])
        qtbot.keyClick(editor(page), Qt.Key.Key_Return)
        qtbot.waitUntil(lambda row=row: page.grid.view.currentIndex().row() == row + 1)  # type: ignore[misc]
    assert loads(session) == [["150 lbf", "423 lbf"], ["149 lbf"], ["151,5 lbf"], ["60 kg"]]
    assert [spring.id for spring in session.job.springs] == ["S01", "S02", "S03", "S04"]
    assert page.grid.view.currentIndex().row() == 4
    assert session.undo_stack.count() == 3


def test_d45_enter_edits_delete_clears_and_undo_works(qtbot: QtBot, pages: list[ReadingsPage]) -> None:
    session = slip(("150 lbf", "423 lbf"), ("149 lbf", "420 lbf"))
    page = shown(qtbot, pages, session)
    before = session.job
    page.grid.go_to(0, FIRST)
    qtbot.keyClick(page.grid.view, Qt.Key.Key_Return)
    assert editor(page).text() == "150 lbf"
    assert editor(page).selectedText() == "150 lbf"
    qtbot.keyClick(editor(page), Qt.Key.Key_Escape)
    assert session.job == before
    page.grid.go_to(0, FIRST)
    qtbot.keyClick(page.grid.view, Qt.Key.Key_Delete)
    assert loads(session) == [["423 lbf"], ["149 lbf", "420 lbf"]]
    assert len(page.grid.model.columns) == 2
    qtbot.keyClick(page.grid.view, Qt.Key.Key_Z, Qt.KeyboardModifier.ControlModifier)
    assert session.job == before


def test_enter_moves_right_where_asked(qtbot: QtBot, pages: list[ReadingsPage]) -> None:
    page = shown(qtbot, pages, slip(("150 lbf", "423 lbf")))
    page.slip.buttons["slip_enter_right"].click()
    page.grid.go_to(0, FIRST)
    qtbot.keyClicks(page.grid.view, "1")
    qtbot.keyClick(editor(page), Qt.Key.Key_Return)
    qtbot.waitUntil(lambda: page.grid.view.currentIndex().column() == FIRST + 1)
    assert page.grid.view.currentIndex().row() == 0


def test_tab_leaves_the_grid(qtbot: QtBot, pages: list[ReadingsPage]) -> None:
    page = shown(qtbot, pages, slip(("150 lbf", "423 lbf")))
    qtbot.waitUntil(page.grid.view.hasFocus)
    qtbot.keyClick(page.grid.view, Qt.Key.Key_Tab)
    assert QApplication.focusWidget() is not page.grid.view


def test_last_column_of_a_cleared_height_stays_until_removed(qtbot: QtBot, pages: list[ReadingsPage]) -> None:
    session = slip(("150 lbf", ""))
    page = shown(qtbot, pages, session)
    page.grid.go_to(0, FIRST)
    page.grid.view.clear_cells()
    assert [column.entered for column in page.grid.model.columns] == ["1.900 in"]
    page.grid.go_to(0, FIRST)
    page.slip.remove_height()
    assert page.grid.model.columns == ()


def test_heights_are_added_and_removed_as_one_step(qtbot: QtBot, pages: list[ReadingsPage]) -> None:
    session = slip(("150 lbf", "423 lbf"), ("149 lbf", "420 lbf"))
    page = shown(qtbot, pages, session)
    page.slip.new_height.setText("outer 1.600")
    qtbot.keyClick(page.slip.new_height, Qt.Key.Key_Return)
    column = page.grid.current_column()
    assert column is not None
    assert (column.part, column.entered) == ("outer", "1.600 in")
    page.grid.model.setData(page.grid.model.index(0, page.grid.view.currentIndex().column()), "270")
    assert session.job.springs[0].readings[-1].part == "outer"
    page.grid.go_to(0, FIRST)
    steps = session.undo_stack.count()
    page.slip.remove_height()
    assert session.undo_stack.count() == steps + 1
    assert [column.entered for column in page.grid.model.columns] == ["1.250 in", "1.600 in"]


def test_a_wrong_height_is_told_beside_the_entry(qtbot: QtBot, pages: list[ReadingsPage]) -> None:
    page = shown(qtbot, pages, slip(("150 lbf", "423 lbf")))
    page.slip.new_height.setText("tall")
    page.slip.add_height()
    assert "1.900 in" in page.slip.message.text.text()
    assert page.slip.message.isVisible()


def test_springs_are_removed_and_undone(qtbot: QtBot, pages: list[ReadingsPage]) -> None:
    session = slip(("150 lbf", "423 lbf"), ("149 lbf", "420 lbf"))
    page = shown(qtbot, pages, session)
    page.grid.go_to(0, FIRST)
    page.slip.remove_springs()
    assert [spring.id for spring in session.job.springs] == ["S02"]
    session.undo_stack.undo()
    assert texts(page, 0) == ["S01", "S02", ""]


@pytest.mark.parametrize(
    ("names", "told"), [([], "1"), (["S08"], "S09"), (["S99"], "S100"), (["7", None], "8"), (["left"], "2")]
)
def test_new_springs_are_numbered_on(names: list[str | None], told: str) -> None:
    assert next_id(names) == told


# Paste and copy


def test_d43_a_pasted_slip_is_one_step_with_its_heights(qtbot: QtBot, pages: list[ReadingsPage]) -> None:
    session = Session(Job(title="A job", units="inch-pound"))
    page = shown(qtbot, pages, session)
    QGuiApplication.clipboard().setText('Spring\t1.900 in\t1.250 in\nS01\t150\t423\nS02\t149,5\t"420"\n')
    page.slip.paste_slip()
    assert [(spring.id, len(spring.readings)) for spring in session.job.springs] == [("S01", 2), ("S02", 2)]
    assert loads(session) == [["150 lbf", "423 lbf"], ["149,5 lbf", "420 lbf"]]
    assert session.job.springs[0].readings[0].height == "1.900 in"
    assert session.undo_stack.count() == 1
    session.undo_stack.undo()
    assert session.job.springs == ()


def test_d43_bad_cells_are_marked_and_not_dropped(qtbot: QtBot, pages: list[ReadingsPage]) -> None:
    session = slip(("150 lbf", "423 lbf"), ("149 lbf", "420 lbf"))
    page = shown(qtbot, pages, session)
    paste(page, "152\tbroken\n=1+1\t421\n", 0, FIRST)
    assert loads(session) == [["152 lbf", "broken"], ["=1+1", "421 lbf"]]
    model = page.grid.model
    assert model.problem(0, FIRST + 1) is not None
    assert not model.index(0, FIRST + 1).data(Qt.ItemDataRole.DecorationRole).isNull()
    assert "broken" in model.index(0, FIRST + 1).data(Qt.ItemDataRole.AccessibleTextRole)
    page.grid.go_to(0, FIRST + 1)
    assert "Wrong" in page.slip.message.text.text()


def test_d43_a_paste_past_the_end_adds_springs(qtbot: QtBot, pages: list[ReadingsPage]) -> None:
    session = slip(("150 lbf", "423 lbf"))
    page = shown(qtbot, pages, session)
    paste(page, "1\n2\n3", 0, FIRST)
    assert [row[0] for row in loads(session)] == ["1 lbf", "2 lbf", "3 lbf"]
    assert session.undo_stack.count() == 1


def test_d43_a_paste_follows_the_order_on_show(qtbot: QtBot, pages: list[ReadingsPage]) -> None:
    session = slip(("150 lbf", "423 lbf"), ("149 lbf", "420 lbf"))
    page = shown(qtbot, pages, session)
    page.grid.sort(FIRST, Qt.SortOrder.AscendingOrder)
    index = page.grid.sorting.index(0, FIRST + 1)
    page.grid.view.setCurrentIndex(index)
    QGuiApplication.clipboard().setText("1\n2")
    page.grid.view.paste()
    assert [row[1] for row in loads(session)] == ["2 lbf", "1 lbf"]


def test_what_finds_no_column_is_said(qtbot: QtBot, pages: list[ReadingsPage]) -> None:
    page = shown(qtbot, pages, slip(("150 lbf", "423 lbf")))
    said: list[str] = []
    page.session.announced.connect(said.append)
    paste(page, "1\t2\t3", 0, FIRST)
    assert any("left out" in sentence for sentence in said)


def test_d43_a_copy_has_heads_and_comes_back_alike(qtbot: QtBot, pages: list[ReadingsPage]) -> None:
    session = slip(("150 lbf", "423 lbf"), ("149 lbf", "420 lbf"))
    page = shown(qtbot, pages, session)
    page.slip.copy_all()
    text = QGuiApplication.clipboard().text()
    assert text.splitlines()[0].startswith("Spring\tMark\t1.900 in lbf\t1.250 in lbf\tRate lbf/in")
    other = Session(Job(title="Another job", units="inch-pound"))
    second = shown(qtbot, pages, other)
    second.slip.paste_slip()
    assert loads(other) == loads(session)
    assert [spring.id for spring in other.job.springs] == ["S01", "S02"]


# Sorting


def test_d44_numbers_sort_as_numbers_and_blanks_stay_last(qtbot: QtBot, pages: list[ReadingsPage]) -> None:
    session = slip(("150 lbf", "1 lbf"), ("99 lbf", "2 lbf"), ("", "3 lbf"), ("1000 N", "4 lbf"))
    page = shown(qtbot, pages, session)
    page.grid.sort(FIRST, Qt.SortOrder.AscendingOrder)
    assert texts(page, 0) == ["S02", "S01", "S04", "S03", ""] or texts(page, 0)[:3] == ["S02", "S01", "S04"]
    page.grid.sort(FIRST, Qt.SortOrder.DescendingOrder)
    assert texts(page, 0)[:3] == ["S04", "S01", "S02"]
    assert set(texts(page, 0)[3:]) == {"S03", ""}
    page.grid.sort(-1, Qt.SortOrder.AscendingOrder)
    assert texts(page, 0) == ["S01", "S02", "S03", "S04", ""]


def test_d44_names_sort_by_their_figures(qtbot: QtBot, pages: list[ReadingsPage]) -> None:
    session = slip(("1 lbf", ""), ("2 lbf", ""), ("3 lbf", ""))
    for place, name in enumerate(("S10", "S9", "S100")):
        session.set_field(f"springs.{place}.id", name)
    page = shown(qtbot, pages, session)
    page.grid.sort(0, Qt.SortOrder.AscendingOrder)
    assert texts(page, 0) == ["S9", "S10", "S100", ""]


def test_d44_sorting_by_key_keeps_the_current_cell(qtbot: QtBot, pages: list[ReadingsPage]) -> None:
    page = shown(qtbot, pages, slip(("150 lbf", "1 lbf"), ("99 lbf", "2 lbf")))
    page.grid.go_to(0, FIRST)
    assert texts(page, 0)[0] == "S01"
    next(action for action in page.commands if action.objectName() == "slip_sort").trigger()
    assert texts(page, 0)[0] == "S02"
    source = page.grid.source_of(page.grid.view.currentIndex())
    assert (source.row(), source.column()) == (0, FIRST)


def test_an_edit_does_not_make_rows_jump(qtbot: QtBot, pages: list[ReadingsPage]) -> None:
    page = shown(qtbot, pages, slip(("150 lbf", "1 lbf"), ("99 lbf", "2 lbf")))
    page.grid.sort(FIRST, Qt.SortOrder.AscendingOrder)
    page.grid.sorting.setData(page.grid.sorting.index(0, FIRST), "500")
    assert texts(page, 0)[:2] == ["S02", "S01"]


# What is shown


def test_each_spring_passes_or_fails_with_icon_and_word(qtbot: QtBot, pages: list[ReadingsPage]) -> None:
    page = shown(qtbot, pages, slip(("150 lbf", "423 lbf"), ("130 lbf", "403 lbf"), ("", "")))
    model = page.grid.model
    last = model.columnCount() - 1
    assert [model.text(row, last) for row in range(3)] == ["Pass", "Fail: 12\u2009lbf low at 1.900\u2009in", "Unknown"]
    assert not model.index(1, last).data(Qt.ItemDataRole.DecorationRole).isNull()
    counts = [button.text() for button in page.meaning.counts.buttons.values()]
    assert counts == ["1 pass", "1 fail", "1 unknown"]
    assert page.meaning.head.text() == "1 of 3 springs pass"


def test_figures_follow_and_the_summary_adds_up(qtbot: QtBot, pages: list[ReadingsPage]) -> None:
    page = shown(qtbot, pages, slip(("150 lbf", "423 lbf"), ("140 lbf", "413 lbf")))
    model = page.grid.model
    rate = FIRST + 2
    assert [model.text(0, column) for column in (rate, rate + 1, rate + 2)] == ["420", "150", "402"]
    summary = page.grid.summary.model()
    told = [summary.index(row, FIRST).data() for row in range(4)]
    assert told == ["145", "10 (6.9 %)", "140", "150"]


def test_d37_units_switch_shows_metric_and_leaves_the_job(qtbot: QtBot, pages: list[ReadingsPage]) -> None:
    session = slip(("150 lbf", "423 lbf"))
    page = shown(qtbot, pages, session)
    before = session.job
    session.set_style(Style.METRIC)
    model = page.grid.model
    assert model.head(FIRST) == "48.26 mm\nN"
    assert model.text(0, FIRST) == "665"
    assert model.entered(0, FIRST) == "150 lbf"
    session.set_style(Style.INCH_POUND)
    assert model.text(0, FIRST) == "150"
    assert session.job == before


def test_repeats_and_parts_have_columns_of_their_own(qtbot: QtBot, pages: list[ReadingsPage]) -> None:
    session = slip()
    readings = (
        {"part": "outer", "height": "1.900 in", "load": "100 lbf"},
        {"part": "outer", "height": "1.900 in", "load": "101 lbf"},
        {"part": "inner", "height": "1.900 in", "load": "50 lbf"},
        {"part": "outer", "height": "48.26 mm", "load": "99 lbf", "direction": "unloading"},
    )
    session.set_fields("set springs", {"springs": ({"id": "S01", "readings": readings},)})
    page = shown(qtbot, pages, session)
    heads = [column.head(Style.INCH_POUND).replace("\n", " ") for column in page.grid.model.columns]
    assert heads == ["outer 1.900 in", "outer 1.900 in (2)", "outer 1.900 in unloading", "inner 1.900 in"]
    assert [page.grid.model.text(0, FIRST + place) for place in range(4)] == ["100", "101", "99", "50"]


def test_d29_an_empty_page_says_what_it_needs_and_offers_it(qtbot: QtBot, pages: list[ReadingsPage]) -> None:
    page = shown(qtbot, pages, Session(Job(title="A job", units="inch-pound")))
    start = page.findChild(QPushButton, "slip_start")
    assert start.isVisible()
    start.click()
    assert page.grid.view.isVisible()
    page.slip.new_height.setText("1.900")
    qtbot.keyClick(page.slip.new_height, Qt.Key.Key_Return)
    assert [type(page.grid.model.name_of(FIRST))] == [Column]
    page.grid.model.setData(page.grid.model.index(0, FIRST), "150")
    assert loads(page.session) == [["150 lbf"]]


def test_d20_nothing_scrolls_sideways_with_three_heights(qtbot: QtBot, pages: list[ReadingsPage]) -> None:
    session = slip(("150 lbf", "270 lbf", "423 lbf"), heights=("1.900 in", "1.600 in", "1.250 in"))
    page = shown(qtbot, pages, session)
    page.resize(1264, 690)  # what a window of 1280 by 800 gives it
    qtbot.wait(1)
    assert page.grid.view.horizontalScrollBar().maximum() == 0
    page.resize(1008, 530)
    assert page.minimumSizeHint().width() <= 1008
    assert page.minimumSizeHint().height() <= 530


def test_d25_d26_targets_and_names(qtbot: QtBot, pages: list[ReadingsPage]) -> None:
    page = shown(qtbot, pages, slip(("150 lbf", "423 lbf")))
    for widget in page.findChildren(QWidget):
        if widget.isVisible() and widget.focusPolicy() & Qt.FocusPolicy.TabFocus:
            text = widget.text() if isinstance(widget, QAbstractButton) else ""
            assert widget.accessibleName() or text, widget
            assert min(widget.width(), widget.height()) >= 24, widget
    for action in page.commands:
        assert action.text()
        assert action.statusTip()
        assert action.objectName()


def test_the_summary_stands_under_its_columns(qtbot: QtBot, pages: list[ReadingsPage]) -> None:
    page = shown(qtbot, pages, slip(("150 lbf", "423 lbf")))
    qtbot.wait(1)
    for column in range(page.grid.model.columnCount()):
        above, below = page.grid.view, page.grid.summary
        left = above.viewport().mapTo(page, QPoint(above.columnViewportPosition(column), 0)).x()
        assert below.viewport().mapTo(page, QPoint(below.columnViewportPosition(column), 0)).x() == left


def test_a_hidden_page_leaves_the_work(qtbot: QtBot, pages: list[ReadingsPage]) -> None:
    session = slip(("150 lbf", "423 lbf"))
    page = shown(qtbot, pages, session)
    page.hide()
    session.set_field("springs.0.id", "S77")
    page.show()
    assert texts(page, 0)[0] == "S77"


def test_a_slip_without_any_height_asks_for_the_first_and_guesses_none(qtbot: QtBot, pages: list[ReadingsPage]) -> None:
    page = shown(qtbot, pages, Session(Job(title="")))
    page.slip.start()
    assert page.grid.model.columns == ()
    page.slip.new_height.setText("1.850 in")
    page.slip.add_height()
    assert [column.entered for column in page.grid.model.columns] == ["1.850 in"]


def test_a_slip_pasted_into_an_empty_job_takes_its_own_heights(qtbot: QtBot, pages: list[ReadingsPage]) -> None:
    session = Session(Job(title=""))
    page = shown(qtbot, pages, session)
    QGuiApplication.clipboard().setText("Spring\t1.850 in\t1.250 in\nS01\t150 lbf\t423 lbf\n")
    page.slip.paste_slip()
    assert [reading.height for reading in session.job.springs[0].readings] == ["1.850 in", "1.250 in"]
