"""The worksheet: typed down the column, in either order, one undo step each, faults told, stock beneath."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from typing import TYPE_CHECKING, Any

import pytest
from PySide6.QtCore import QItemSelectionModel, Qt
from PySide6.QtGui import QGuiApplication
from PySide6.QtWidgets import QApplication

from loadbench.assembly.setting_result import SettingSheet, Way
from loadbench.errors import Place, Problem
from loadbench.findings.finding import Level
from loadbench.job.model import Job
from loadbench.units import Style
from tests.ui.setting.setting_jobs import BUCKET, SOLID, setting_job
from ui.session import Session
from ui.setting.sheet_view import SheetView
from ui.setting.sheets import Sheets
from ui.setting.shim_stock import BucketStockEdit
from ui.widgets.entry_edit import Sign

if TYPE_CHECKING:
    from pytestqt.qtbot import QtBot

Opened = Callable[[Job], SheetView]
LASHES = ({"lash_found": "0.016 in"}, {"lash_found": "0.024 in"}, {"lash_found": "0.010 in"})


@pytest.fixture
def opened(qtbot: QtBot) -> Iterator[Opened]:
    def show(job: Job) -> SheetView:
        session = Session(job)
        view = SheetView(session, Sheets())
        qtbot.addWidget(view)
        session.changed.connect(lambda state: view.show_state(state, session.line))
        view.resize(640, 560)
        view.show_state(session.state, session.line)
        view.show()
        view.activateWindow()
        qtbot.waitExposed(view)
        qtbot.waitUntil(view.isActiveWindow)
        return view

    yield show
    QApplication.processEvents()


def column(view: SheetView, name: str) -> list[str]:
    return [view.grid.sheet_model.text(row, name) for row in range(len(view.grid.sheet_model.rows))]


def keys(qtbot: QtBot, text: str) -> None:
    """Type where the focus is, then Enter."""
    for key in (*text, Qt.Key.Key_Return):
        focused = QApplication.focusWidget()  # the first key opens an editor, which takes the next ones
        assert focused is not None
        qtbot.keyClick(focused, key)


def test_what_is_typed_goes_down_the_column_one_step_each(opened: Opened, qtbot: QtBot) -> None:
    view = opened(setting_job(SOLID))
    view.go_to_valve(0, "lash_found")
    for row, lash in enumerate(("0.016", "0.024", "0.010"), 1):
        keys(qtbot, lash)
        qtbot.waitUntil(lambda row=row: view.grid.currentIndex().row() == row)  # type: ignore[misc]
    session = view.session
    assert [valve.lash_found for valve in session.job.valves] == ["0.016 in", "0.024 in", "0.010 in", None]
    assert column(view, "level") == ["Clear", "Watch", "Watch", "Not measured"]
    assert [text[:3].strip() for text in column(view, "turns")] == ["0", "in", "out", "\u2013"]
    assert session.undo_stack.count() == 3
    qtbot.keyClick(view.grid, Qt.Key.Key_Z, Qt.KeyboardModifier.ControlModifier)
    assert session.job.valves[2].lash_found is None


def test_the_turn_closes_the_lash_by_the_thread(opened: Opened) -> None:
    """0.008 in at the valve is 0.005 in at the pushrod by R 1.6: 0.12 of a turn of 1/24 in."""
    view = opened(setting_job(SOLID, *LASHES))
    assert column(view, "turns")[1] == "in 0.12"


def test_rows_stand_in_either_order_and_the_current_valve_stays(opened: Opened) -> None:
    view = opened(setting_job())
    assert column(view, "id") == ["1I", "1E", "2I", "2E"]
    view.go_to_valve(1, "depth_found")
    view.orders.choose("firing")
    assert column(view, "id") == ["2I", "2E", "1I", "1E"]
    assert view.grid.currentIndex().row() == 3
    assert view.grid.sheet_model.columns[view.grid.currentIndex().column()] == "depth_found"


def test_without_a_firing_order_there_is_but_one(opened: Opened) -> None:
    job = setting_job().model_copy(update={"engine": Job(title="").engine})
    assert not opened(job).orders.buttons["firing"].isEnabled()


def test_the_steps_are_those_of_the_chosen_way(opened: Opened) -> None:
    view = opened(setting_job())
    assert view.card.title == "Preload, minimal"
    assert view.steps.text().startswith("1. ")
    view.session.set_fields("way", {"follower.preload.way": "bottomed"})
    assert view.card.title == "Preload, bottomed and backed off"
    assert "Bleed" in view.steps.text()
    assert "plunger_travel" in view.grid.sheet_model.columns


def test_the_current_valve_is_told_whole(opened: Opened) -> None:
    view, said = opened(setting_job(SOLID, *LASHES)), list[str]()
    view.said.connect(said.append)
    view.go_to_valve(1, "lash_found")
    told = said[-1].replace("\u2009", " ")
    assert told.startswith("Valve 1E, found 0.024 in, wanted 0.016 in. Turn in by ")


def test_a_bad_entry_is_kept_marked_and_told(opened: Opened) -> None:
    view = opened(setting_job(SOLID, {"lash_found": "much"}))
    assert column(view, "lash_found")[0] == "much"
    view.go_to_valve(0, "lash_found")
    assert view.message.isVisible()
    index = view.grid.currentIndex()
    assert not index.data(Qt.ItemDataRole.DecorationRole).isNull()
    assert "much" in index.data(Qt.ItemDataRole.AccessibleTextRole)
    view.go_to_valve(1, "lash_found")
    assert not view.message.isVisible()


def test_a_depth_beyond_the_travel_is_told_at_its_cell(opened: Opened) -> None:
    view = opened(setting_job({}, {"depth_found": "0.070 in"}))
    view.go_to_valve(0, "depth_found")
    assert view.message.isVisible()
    assert "travel" in view.message.text.text()


def test_a_block_is_pasted_as_one_step(opened: Opened, qtbot: QtBot) -> None:
    view = opened(setting_job(SOLID))
    QGuiApplication.clipboard().setText("0.016\n0.5 mm\n0.010\n0.018\n")
    view.go_to_valve(0, "lash_found")
    qtbot.keyClick(view.grid, Qt.Key.Key_V, Qt.KeyboardModifier.ControlModifier)
    job = view.session.job
    assert [valve.lash_found for valve in job.valves] == ["0.016 in", "0.5 mm", "0.010 in", "0.018 in"]
    assert view.session.undo_stack.count() == 1


def test_cells_are_cleared_together(opened: Opened, qtbot: QtBot) -> None:
    view = opened(setting_job(SOLID, *LASHES))
    flag = QItemSelectionModel.SelectionFlag
    view.go_to_valve(0, "lash_found")
    column_at = view.grid.currentIndex().column()
    for row in range(3):
        view.grid.selectionModel().select(view.grid.sheet_model.index(row, column_at), flag.Select)
    qtbot.keyClick(view.grid, Qt.Key.Key_Delete)
    assert [valve.lash_found for valve in view.session.job.valves] == [None] * 4
    assert view.session.undo_stack.count() == 1


def test_other_units_show_other_numbers_and_leave_the_job(opened: Opened) -> None:
    view = opened(setting_job(SOLID, *LASHES))
    before = view.session.job
    view.session.set_style(Style.METRIC)
    view.show_state(view.session.state, "common")
    assert column(view, "lash_found")[0] == "0.41"
    assert "mm" in view.grid.sheet_model.headerData(1, Qt.Orientation.Horizontal)
    assert view.session.job is before


def test_the_worksheet_is_copied_with_its_heads(opened: Opened) -> None:
    view = opened(setting_job(SOLID, *LASHES))
    view.copy_button.click()
    lines = QGuiApplication.clipboard().text().splitlines()
    assert lines[0].split("\t")[:3] == ["Valve", "Lash found, in", "Wanted in"]
    assert len(lines) == 5
    assert lines[2].startswith("1E\t0.024\t0.016\tin 0.12\tWatch")


def test_how_far_the_work_is_stands_beneath(opened: Opened) -> None:
    view = opened(setting_job(SOLID, {"lash_found": "0.016 in", "set_by": "AB"}, {"lash_found": "0.020 in"}))
    assert view.summary.text() == "2 of 4 measured, 1 as wanted, 1 initialled."


# Laying out


def test_valves_are_laid_out_from_the_cylinders(opened: Opened, qtbot: QtBot) -> None:
    job = setting_job(SOLID).model_copy(update={"valves": ()})
    view = opened(job)
    assert view.stack.currentIndex() == 1
    assert view.prompt.button.text() == "Lay out 4 valves"
    view.prompt.button.click()
    assert column(view, "id") == ["1I", "1E", "2I", "2E"]
    assert view.grid.hasFocus()
    assert view.grid.sheet_model.columns[view.grid.currentIndex().column()] == "lash_found"
    assert view.session.undo_stack.count() == 1
    view.lay_out_button.click()
    assert view.session.undo_stack.count() == 1


def test_without_cylinders_they_are_asked_for(opened: Opened) -> None:
    view = opened(Job(title="", units="inch-pound"))
    view.prompt.button.click()
    assert view.prompt.cylinders.hasFocus()
    assert view.prompt.cylinders.objectName() == "setting__engine__cylinders"


# What it waits for


def test_what_lacks_outside_the_grid_can_be_gone_to(opened: Opened, qtbot: QtBot) -> None:
    view = opened(setting_job(SOLID | {"valve_gear.adjuster.thread": None}, *LASHES))
    assert view.waits.isVisible()
    assert view.waits.text() == "Waits for: adjuster thread"
    with qtbot.waitSignal(view.field_wanted) as wanted:
        view.waits.click()
    assert wanted.args == ["valve_gear.adjuster.thread"]
    view.session.set_fields("thread", {"valve_gear.adjuster.thread": "3/8-24"})
    assert not view.waits.isVisible()


# The shelf


MEASURED = (
    {"lash_found": "0.30 mm", "bucket_shim": "2.50 mm"},
    {"lash_found": "0.20 mm", "bucket_shim": "2.60 mm"},
    {"lash_found": "0.10 mm", "bucket_shim": "2.70 mm"},
    {"lash_found": "0.25 mm", "bucket_shim": "2.75 mm"},
)


def test_bucket_shims_are_chosen_from_the_stock_beneath(opened: Opened, qtbot: QtBot) -> None:
    view = opened(setting_job(BUCKET, *MEASURED))
    view.session.set_style(Style.METRIC)
    assert view.shims.isVisible()
    assert not view.pushrods.isVisible()
    edit = view.shims.editor
    assert isinstance(edit, BucketStockEdit)
    edit.setFocus()
    qtbot.keyClicks(edit, "2.60 x 2 + 2.80")
    qtbot.keyClick(edit, Qt.Key.Key_Return)
    job = view.session.job
    assert (job.bucket_shims_in_stock, job.bucket_shim_counts) == (("2.60 mm", "2.80 mm"), (2, None))
    assert view.session.undo_stack.count() == 1
    assert edit.text() == "2.60 mm x 2 + 2.80 mm"
    view.session.undo_stack.undo()
    assert (view.session.job.bucket_shims_in_stock, view.session.job.bucket_shim_counts) == ((), ())


def test_a_wrong_count_of_shims_stays_in_the_field(opened: Opened, qtbot: QtBot) -> None:
    view = opened(setting_job(BUCKET, *MEASURED))
    edit = view.shims.editor
    assert isinstance(edit, BucketStockEdit)
    edit.setFocus()
    qtbot.keyClicks(edit, "2.60 mm x some")
    qtbot.keyClick(edit, Qt.Key.Key_Return)
    assert edit.judgement.sign is Sign.WRONG
    assert edit.text() == "2.60 mm x some"
    assert view.session.job.bucket_shims_in_stock == ()


def test_shims_to_buy_are_told(opened: Opened) -> None:
    view = opened(setting_job(BUCKET, *MEASURED))
    view.sheets = _Fixed(SettingSheet(way=Way.BUCKET_SHIM, rows=view.sheets.sheet(view.session.state.analysis).rows,
                                      to_buy=(0.0026, 0.00265)))  # fmt: skip
    view.session.set_style(Style.METRIC)
    view.show_state(view.session.state, "common")
    assert "Shims to buy: 2.60, 2.65 mm." in view.summary.text()


def test_pushrods_in_stock_are_asked_for_where_nothing_turns(opened: Opened) -> None:
    view = opened(setting_job({"valve_gear.adjuster.at": "none"}))
    assert view.pushrods.isVisible()
    assert view.pushrods.editor.objectName() == "setting__pushrods_in_stock"


class _Fixed(Sheets):
    """A sheet that is always the same."""

    def __init__(self, made: SettingSheet) -> None:
        super().__init__()
        self.made = made

    def sheet(self, analysis: Any, order: Any = "cylinder") -> SettingSheet:
        return self.made


def test_problems_of_a_sheet_follow_it(opened: Opened) -> None:
    view = opened(setting_job(SOLID, *LASHES))
    sheet = view.sheets.sheet(view.session.state.analysis)
    problem = Problem(what="Measure again.", expected="less", place=Place(field="valves.0.lash_found"))
    view.sheets = _Fixed(SettingSheet(way=Way.LASH, rows=sheet.rows, problems=(problem,)))
    view.show_state(view.session.state, "common")
    assert view.grid.sheet_model.problem(0, "lash_found") is problem
    assert view.grid.sheet_model.rows[0].level is Level.CLEAR
