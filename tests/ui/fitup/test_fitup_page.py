"""The Fit-up page: heights typed down the column, the plan beside them, taken over, kept, copied, locked."""

from __future__ import annotations

import threading
import time
from typing import TYPE_CHECKING, Any

import pytest
from PySide6.QtCore import QPointF, Qt
from PySide6.QtGui import QGuiApplication
from PySide6.QtWidgets import QApplication, QLineEdit, QWidget

from loadbench.assembly.fit import fit
from loadbench.findings.finding import Level
from loadbench.job.model import Job
from loadbench.units import Kind, Style
from tests.assembly.heads import analysed, head
from ui.fitup import wording
from ui.fitup.valve_columns import COLUMNS
from ui.pages.fitup_page import FitupPage
from ui.session import Session
from ui.theme import Choice, theme
from ui.widgets.link import Link

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator
    from pathlib import Path

    from pytestqt.qtbot import QtBot

    from ui.window import MainWindow

SPRINGS = [(f"S{number}", 140.0 + 3 * number, 400.0) for number in range(1, 7)]
HEIGHTS = [1.800, 1.834, 1.812, 1.840]
Open = "Callable[[Job], FitupPage]"


def a_job(
    heights: list[float] | None = None, springs: list[tuple[str, float, float]] | None = None, **more: Any
) -> Job:
    tree = head(SPRINGS if springs is None else springs, HEIGHTS if heights is None else heights, **more)
    for valve, name in zip(tree["valves"], ("1I", "1E", "2I", "2E"), strict=False):
        valve |= {"id": name, "line": {"I": "intake", "E": "exhaust"}[name[1]]}
    return analysed(tree).job


@pytest.fixture
def opened(qtbot: QtBot) -> Iterator[Callable[[Job], FitupPage]]:
    made: list[FitupPage] = []

    def show(job: Job) -> FitupPage:
        page = FitupPage(Session(job))
        made.append(page)
        qtbot.addWidget(page)
        page.resize(1240, 690)
        page.show()
        page.activateWindow()
        qtbot.waitExposed(page)
        settled(page, qtbot)
        return page

    yield show
    for page in made:
        page.hide()


def settled(page: FitupPage, qtbot: QtBot) -> None:
    qtbot.waitUntil(lambda: not page.planner.busy, timeout=10_000)


def column(page: FitupPage, name: str) -> list[str]:
    return [page.grid.valves.text(row, name) for row in range(len(page.rows))]


def keys(qtbot: QtBot, text: str) -> None:
    """Type where the focus is, then Enter."""
    for key in (*text, Qt.Key.Key_Return):
        focused = QApplication.focusWidget()  # the first key opens an editor, which takes the next ones
        assert focused is not None
        qtbot.keyClick(focused, key)


def cell_editor(page: FitupPage) -> QLineEdit:
    return next(each for each in page.grid.findChildren(QLineEdit, "cell_editor") if each.isVisible())


# Getting the heights in


def test_d22_from_nothing_to_the_plan_taken_over_by_keys_alone(
    opened: Callable[[Job], FitupPage], qtbot: QtBot
) -> None:
    page = opened(a_job([]))
    page.prompt.cylinders.setFocus()
    keys(qtbot, "2")  # Enter lays them out
    assert [row.id for row in page.rows] == ["1I", "1E", "2I", "2E"]
    assert page.grid.hasFocus()
    assert COLUMNS[page.grid.currentIndex().column()] == "bare_height"
    for row, height in enumerate(("1.800", "1.834", "1.812", "1.840"), 1):
        keys(qtbot, height)
        qtbot.waitUntil(lambda row=row: page.grid.currentIndex().row() == row)  # type: ignore[misc]
    assert [valve.bare_height for valve in page.session.job.valves] == ["1.800 in", "1.834 in", "1.812 in", "1.840 in"]
    settled(page, qtbot)
    assert page.answer.word.text() == "Best plan, proved"
    qtbot.keyClick(page.grid, Qt.Key.Key_Return, Qt.KeyboardModifier.ControlModifier)
    answer = page.planner.answer
    assert answer is not None
    assert [valve.spring for valve in page.session.job.valves] == [placed.spring for placed in answer.plan]
    assert page.session.job.plan.placed
    qtbot.keyClick(page.grid, Qt.Key.Key_Z, Qt.KeyboardModifier.ControlModifier)
    assert [valve.spring for valve in page.session.job.valves] == [None] * 4
    assert page.session.job.plan.placed == ()


def test_without_cylinders_the_button_asks_for_them(opened: Callable[[Job], FitupPage]) -> None:
    page = opened(a_job([]))
    assert page.middle.currentWidget() is page.prompt
    page.prompt.button.click()
    assert page.prompt.cylinders.hasFocus()
    assert page.session.job.valves == ()
    page.session.set_field("engine.cylinders", 4)
    assert page.prompt.button.text() == "Lay out 8 valves"
    page.prompt.each.setCurrentIndex(1)
    assert page.prompt.button.text() == "Lay out 16 valves"


def test_typing_edits_at_once_and_a_wrong_height_is_told_beneath(
    opened: Callable[[Job], FitupPage], qtbot: QtBot
) -> None:
    page = opened(a_job())
    page.grid.setFocus()
    page.grid.go_to(1, "bare_height")
    qtbot.keyClicks(page.grid, "1")
    editor = cell_editor(page)
    qtbot.keyClicks(editor, ".8 q")
    qtbot.keyClick(editor, Qt.Key.Key_Return)
    qtbot.waitUntil(lambda: page.session.job.valves[1].bare_height == "1.8 q")
    page.grid.go_to(1, "bare_height")
    assert "unit" in page.message.text.text()
    assert page.grid.valves.index(1, COLUMNS.index("bare_height")).data(Qt.ItemDataRole.DecorationRole) is not None
    settled(page, qtbot)
    link = next(each for each in page.answer.findChildren(Link) if each.text().startswith("Go to"))
    page.grid.go_to(3, "id")
    link.click()
    assert (page.grid.currentIndex().row(), COLUMNS[page.grid.currentIndex().column()]) == (1, "bare_height")


def test_a_plan_that_comes_while_typing_leaves_the_editor_alone(
    opened: Callable[[Job], FitupPage], qtbot: QtBot
) -> None:
    page = opened(a_job())
    page.grid.setFocus()
    page.grid.go_to(1, "bare_height")
    qtbot.keyClicks(page.grid, "1")
    qtbot.keyClicks(cell_editor(page), ".85")
    page.work.find_plan()
    settled(page, qtbot)
    assert cell_editor(page).text() == "1.85"
    qtbot.keyClick(cell_editor(page), Qt.Key.Key_Escape)
    assert page.session.job.valves[1].bare_height == "1.8340 in"


def test_a_block_is_pasted_as_one_step(opened: Callable[[Job], FitupPage], qtbot: QtBot) -> None:
    page = opened(a_job())
    QGuiApplication.clipboard().setText("1.801\n1.802\n1.803\n1.804\n1.805\n")
    page.grid.setFocus()
    page.grid.go_to(0, "bare_height")
    qtbot.keyClick(page.grid, Qt.Key.Key_V, Qt.KeyboardModifier.ControlModifier)
    heights = [valve.bare_height for valve in page.session.job.valves]
    assert heights == ["1.801 in", "1.802 in", "1.803 in", "1.804 in", "1.805 in"]
    assert page.session.job.valves[4].id == "3I"
    assert page.session.undo_stack.count() == 1
    page.session.undo_stack.undo()
    assert len(page.session.job.valves) == 4


def test_the_rows_stand_in_cylinder_order_and_edit_their_own_valve(opened: Callable[[Job], FitupPage]) -> None:
    job = a_job()
    mixed = job.model_copy(update={"valves": (job.valves[3], job.valves[0], job.valves[2], job.valves[1])})
    page = opened(mixed)
    assert column(page, "id") == ["1I", "1E", "2I", "2E"]
    model = page.grid.valves
    model.setData(model.index(1, COLUMNS.index("lash")), "0.016")
    assert [valve.lash for valve in page.session.job.valves] == [None, None, None, "0.016 in"]


# The plan


def test_the_page_shows_what_the_fit_answers(opened: Callable[[Job], FitupPage]) -> None:
    page = opened(a_job(targets={"seat_load": "150 lbf"}))
    answer = fit(page.session.state.analysis)
    assert page.planner.answer == answer
    assert column(page, "plan_spring") == [placed.spring for placed in answer.plan]
    assert [mark.after for mark in page.picture.marks.marks] == pytest.approx(
        [placed.seat_load / 4.4482216152605 for placed in answer.plan]
    )
    assert [sum(mark.shims) for mark in page.picture.marks.marks] == pytest.approx(
        [sum(placed.shims) / 0.0254 for placed in answer.plan]
    )
    page.session.set_style(Style.METRIC)
    assert page.picture.view.load_axis.words == "Seat load, N"
    assert [mark.after for mark in page.picture.marks.marks] == pytest.approx([p.seat_load for p in answer.plan])
    head_text = page.grid.valves.headerData(COLUMNS.index("plan_seat"), Qt.Orientation.Horizontal)
    assert "N" in head_text.split()[2]


def test_loads_now_and_planned_stand_in_one_cell(opened: Callable[[Job], FitupPage], qtbot: QtBot) -> None:
    page = opened(a_job())
    page.session.set_fields("now", {"valves.0.spring": "S1", "valves.0.shims": ("0.015 in",)})
    settled(page, qtbot)
    before, after = column(page, "plan_seat")[0].split(" \u2192 ")
    assert before == "149"  # 143 at 1.800, 6 more on 0.015
    assert page.planner.answer is not None
    assert after == wording.number(page.planner.answer.plan[0].seat_load, Kind.FORCE, Style.INCH_POUND)
    assert column(page, "shims")[0] == "0.015"


def test_a_stale_plan_is_grey_says_so_and_cannot_be_taken_over(
    opened: Callable[[Job], FitupPage], qtbot: QtBot
) -> None:
    page = opened(a_job())
    page.session.set_field("valves.0.bare_height", "1.850 in")
    page.planner.cancel()
    assert page.answer.word.text() == "Out of date"
    assert "Find the plan again" in page.answer.sentence.text()
    assert page.picture.marks.stale
    cell = page.grid.valves.index(0, COLUMNS.index("plan_spring"))
    assert cell.data(Qt.ItemDataRole.ForegroundRole) is not None
    assert not page.buttons["take_over_plan"].isEnabled()
    page.work.take_over_plan()
    assert page.session.job.valves[0].spring is None
    qtbot.keyClick(page.grid, Qt.Key.Key_F5)
    settled(page, qtbot)
    assert page.answer.word.text() == "Best plan, proved"
    assert cell.data(Qt.ItemDataRole.ForegroundRole) is None


def test_a_kept_plan_leaves_the_valves_and_is_told(opened: Callable[[Job], FitupPage]) -> None:
    page = opened(a_job())
    page.work.keep_plan()
    assert [valve.spring for valve in page.session.job.valves] == [None] * 4
    assert len(page.session.job.plan.placed) == 4
    assert page.session.undo_stack.undoText() == "keep the plan"
    assert not page.planner.busy  # the plan itself changes nothing that a plan depends on
    told = [label.text() for label in page.answer.findChildren(QWidget) if hasattr(label, "text")]
    assert any("the same as this one" in text for text in told)


def test_the_plan_is_copied_for_a_spreadsheet(opened: Callable[[Job], FitupPage]) -> None:
    page = opened(a_job())
    page.work.copy_plan()
    table = [line.split("\t") for line in QGuiApplication.clipboard().text().splitlines()]
    assert [line[0] for line in table[:5]] == ["Valve", "1I", "1E", "2I", "2E"]
    assert [line[2] for line in table[1:5]] == column(page, "plan_spring")


def test_where_no_plan_holds_a_limit_lights_its_valves(opened: Callable[[Job], FitupPage]) -> None:
    page = opened(a_job(targets={"seat_load": "120 lbf", "tolerance_percent": 1}))
    assert page.answer.word.text() == "No plan holds"
    answer = page.planner.answer
    assert answer is not None
    bar = answer.binding[0]
    link = next(each for each in page.answer.findChildren(Link) if each.text().startswith("Show"))
    link.click()
    assert page.picture.marks.lit == frozenset(bar.valves)
    first = page.rows[page.grid.currentIndex().row()]
    assert first.id == next(row.id for row in page.rows if row.id in bar.valves)
    mark = next(mark for mark in page.picture.marks.marks if mark.name == first.id)
    assert mark.barred
    assert "seat load" in mark.words
    assert "No plan holds here" in page.picture.read_out.text()
    spoken = page.grid.valves.index(page.grid.currentIndex().row(), 0).data(Qt.ItemDataRole.ToolTipRole)
    assert "seat load" in spoken


def test_without_springs_it_says_what_is_needed(opened: Callable[[Job], FitupPage]) -> None:
    page = opened(a_job(springs=[]))
    assert page.answer.word.text() == "Not to be had yet"
    assert any(each.text() == "Go to numbered springs" for each in page.answer.findChildren(Link))


def test_a_margin_short_of_what_the_shop_asks_is_marked(opened: Callable[[Job], FitupPage]) -> None:
    page = opened(a_job(spring={"bind_height": "1.255 in", "installed_height": "1.800 in"}))
    cell = page.grid.valves.index(0, COLUMNS.index("plan_bind"))
    margin = page.rows[0].placed
    assert margin is not None
    assert 0.03 < (margin.bind_margin or 0) / 0.0254 < 0.06
    assert cell.data(Qt.ItemDataRole.DecorationRole) is not None
    assert str(cell.data(Qt.ItemDataRole.ToolTipRole)).startswith("Watch: ")
    assert "Watch" in str(cell.data(Qt.ItemDataRole.AccessibleTextRole))
    assert page.grid.valves.index(0, COLUMNS.index("plan_seal")).data(Qt.ItemDataRole.DecorationRole) is None


# Locks


def test_space_locks_and_the_plan_goes_around_it(opened: Callable[[Job], FitupPage], qtbot: QtBot) -> None:
    page = opened(a_job())
    page.session.set_field("valves.2.spring", "S6")
    page.grid.setFocus()
    page.grid.go_to(2, "locked")
    qtbot.keyClick(page.grid, Qt.Key.Key_Space)
    assert page.session.job.valves[2].locked is True
    settled(page, qtbot)
    assert column(page, "plan_spring")[2] == "S6"
    mark = page.picture.marks.marks[2]
    assert (mark.locked, mark.words) == (True, "locked")
    qtbot.keyClick(page.grid, Qt.Key.Key_L, Qt.KeyboardModifier.ControlModifier)
    assert page.session.job.valves[2].locked is None


def test_all_are_locked_that_have_something_to_lock(opened: Callable[[Job], FitupPage], qtbot: QtBot) -> None:
    page = opened(a_job())
    said: list[str] = []
    page.session.announced.connect(said.append)
    page.work.lock_all()
    assert "Nothing to lock" in said[-1]
    page.work.take_over_plan()
    page.work.lock_all()
    assert [valve.locked for valve in page.session.job.valves] == [True] * 4
    settled(page, qtbot)
    assert page.buttons["unlock_all"].isEnabled()
    page.work.unlock_all()
    assert [valve.locked for valve in page.session.job.valves] == [None] * 4
    page.grid.go_to(3, "id")
    page.work.remove_valves()
    assert [valve.id for valve in page.session.job.valves] == ["1I", "1E", "2I"]


# The picture


def test_d40_arrow_keys_read_out_valve_by_valve(opened: Callable[[Job], FitupPage], qtbot: QtBot) -> None:
    page = opened(a_job())
    view = page.picture.view
    view.setFocus()
    qtbot.keyClick(view, Qt.Key.Key_Right)
    assert page.picture.read_out.text().startswith("Valve 1I")
    qtbot.keyClick(view, Qt.Key.Key_Right)
    assert page.picture.read_out.text().startswith("Valve 1E")
    assert "lbf" in page.picture.read_out.text()
    assert page.grid.currentIndex().row() == 1  # the grid goes along
    qtbot.keyClick(view, Qt.Key.Key_End)
    assert page.picture.current == 3
    qtbot.keyClick(view, Qt.Key.Key_C, Qt.KeyboardModifier.ControlModifier)
    assert QGuiApplication.clipboard().text() == page.picture.read_out.text()
    page.grid.go_to(0)
    assert page.picture.current == 0


def test_the_pointer_finds_the_valve_under_it(opened: Callable[[Job], FitupPage]) -> None:
    page = opened(a_job())
    box = page.picture.view.stacks.getViewBox()
    assert page.picture.view.valve_at(box.mapViewToScene(QPointF(2.2, 0.01))) == 2
    assert page.picture.view.valve_at(QPointF(-5, -5)) is None


def test_the_picture_is_drawn_in_both_themes(opened: Callable[[Job], FitupPage]) -> None:
    page = opened(a_job(targets={"seat_load": "150 lbf", "tolerance_percent": 10}))
    light = page.picture.grab().toImage()
    theme().choose(Choice.DARK)
    dark = page.picture.grab().toImage()
    theme().choose(Choice.LIGHT)
    middle = (light.width() - 12, light.height() // 2)
    assert light.pixelColor(*middle).lightness() > 200
    assert dark.pixelColor(*middle).lightness() < 100


def test_d42_the_picture_leaves_with_its_key(opened: Callable[[Job], FitupPage], tmp_path: Path) -> None:
    page = opened(a_job(targets={"seat_load": "150 lbf", "tolerance_percent": 10}))
    page.go_to(2)
    size = page.picture.view.size()
    page.copy_picture()
    image = QGuiApplication.clipboard().image()
    assert (image.width(), image.height()) == (2125, 1188)
    for ending, begin in ((".png", b"\x89PNG"), (".svg", b"<?xml"), (".pdf", b"%PDF"), (".csv", b"\xef\xbb\xbfValve")):
        page.save_picture_as(tmp_path / f"plan{ending}")
        assert (tmp_path / f"plan{ending}").read_bytes().startswith(begin)
    svg = (tmp_path / "plan.svg").read_text(encoding="utf-8")
    for word in ("wanted seat load", "planned", "1E", "Seat load, lbf"):
        assert word in svg
    assert (page.picture.view.size(), page.picture.current) == (size, 2)
    said: list[str] = []
    page.session.failed.connect(said.append)
    page.save_picture_as(tmp_path / "nowhere" / "plan.png")
    assert len(said) == 1


def test_from_another_page_a_plan_of_the_job_before_is_not_taken_over(window: MainWindow, qtbot: QtBot) -> None:
    window.session.reload(a_job(), None)
    window.show_page("fitup")
    page = window.shell.page
    assert isinstance(page, FitupPage)
    settled(page, qtbot)
    window.show_page("bench")
    window.session.set_field("valves.0.bare_height", "1.900 in")
    page.work.take_over_plan()
    assert window.session.job.valves[0].spring is None
    page.work.find_plan()
    assert window.shell.kind.name == "fitup"
    settled(page, qtbot)
    page.work.take_over_plan()
    assert window.session.job.valves[0].spring is not None


def test_d39_a_zoomed_view_stays_until_it_is_reset(opened: Callable[[Job], FitupPage], qtbot: QtBot) -> None:
    page = opened(a_job())
    box = page.picture.view.loads.getViewBox()
    page.picture.view.zoomed = True
    box.setYRange(100, 110, padding=0)
    page.session.set_field("valves.0.bare_height", "1.850 in")
    settled(page, qtbot)
    assert box.viewRange()[1] == pytest.approx([100, 110])
    page.reset_view()
    assert box.viewRange()[1][1] > 120


# Hidden, slow, closed


def test_a_hidden_page_does_nothing(opened: Callable[[Job], FitupPage], monkeypatch: pytest.MonkeyPatch) -> None:
    page = opened(a_job())
    page.hide()
    drawn: list[object] = []
    monkeypatch.setattr(page.grid.valves, "show_rows", lambda *a, **k: drawn.append(a))
    for number in range(20):
        page._follow(page.session.state)
        page.planner._follow(page.session.state)
        page._restyled(number)
    assert drawn == []
    assert not page.planner.busy


def test_d30_esc_stops_the_work_and_cancel_is_seen_when_it_takes_long(
    opened: Callable[[Job], FitupPage], qtbot: QtBot, monkeypatch: pytest.MonkeyPatch
) -> None:
    from loadbench.assembly import fit as fitting

    page = opened(a_job())

    def endless(_analysis: object, _shop: object, progress: Callable[[float], None]) -> None:
        while True:
            progress(0.3)
            time.sleep(0.01)

    monkeypatch.setattr(fitting, "fit", endless)
    page.work.find_plan()
    qtbot.waitUntil(page.answer.cancel.isVisible, timeout=2000)
    assert page.answer.progress.value() == 30
    page.grid.setFocus()
    qtbot.keyClick(page.grid, Qt.Key.Key_Escape)
    assert not page.planner.busy
    assert not page.answer.cancel.isVisible()


def test_no_thread_is_left_when_the_window_closes(window: MainWindow, qtbot: QtBot) -> None:
    before = {thread.name for thread in threading.enumerate()}
    window.session.reload(a_job(), None)
    window.show_page("fitup")
    page = window.shell.page
    assert isinstance(page, FitupPage)
    settled(page, qtbot)
    assert {thread.name for thread in threading.enumerate()} > before
    window.show_page("bench")  # hidden already when the window closes
    window.session.undo_stack.setClean()
    window.close()
    assert {thread.name for thread in threading.enumerate()} == before


def test_d26_every_part_that_takes_the_focus_has_a_name(opened: Callable[[Job], FitupPage]) -> None:
    page = opened(a_job(targets={"seat_load": "120 lbf", "tolerance_percent": 1}))
    nameless = [
        widget
        for widget in page.findChildren(QWidget)
        if widget.isVisible()
        and widget.focusPolicy() & Qt.FocusPolicy.TabFocus
        and not (widget.accessibleName() or getattr(widget, "text", str)())
    ]
    assert nameless == []


def test_fields_that_stand_on_the_bench_page_too_are_found_there(window: MainWindow) -> None:
    window.show_page("fitup")
    for field in ("targets.seat_load", "engine.cylinders", "shims_in_stock"):
        window.go_to_field(field)
        focused = QApplication.focusWidget()
        page = window.shell.stack.widget(2)
        assert page is not None
        assert focused is not None
        assert not page.isAncestorOf(focused)


def test_levels_and_words_of_every_standing(opened: Callable[[Job], FitupPage]) -> None:
    page = opened(a_job())
    assert wording.standing_of(page.planner) == (Level.CLEAR, "Best plan, proved")
    page.planner.answer = None
    assert wording.standing_of(page.planner) == (Level.UNKNOWN, "No plan yet")
    page.planner.failure = "It failed."
    assert wording.standing_of(page.planner) == (Level.UNKNOWN, "No answer")
