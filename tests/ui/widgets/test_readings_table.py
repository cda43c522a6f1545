"""Small tables in the cards: rows added by typing, emptied rows gone, half rows kept, one step each."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest
from PySide6.QtCore import Qt
from PySide6.QtGui import QGuiApplication
from PySide6.QtWidgets import QLineEdit

from loadbench.job.edits import replaced_all
from loadbench.job.model import Job
from loadbench.units import Style
from ui.session import Session
from ui.widgets.readings_table import ReadingsTable, RowTable

if TYPE_CHECKING:
    from pytestqt.qtbot import QtBot

    from ui.widgets.rows_model import RowsModel

READING = {"height": "1.900 in", "load": "150 lbf"}


def session(**more: object) -> Session:
    changes = {"spring.readings": (READING, {"height": "1.250 in", "load": "423 lbf"}), **more}
    return Session(replaced_all(Job(title="A job", units="inch-pound"), changes))


def put(model: RowsModel, row: int, column: int, text: str) -> None:
    model.setData(model.index(row, column), text)


def readings(of: Session) -> list[tuple[str | None, str | None]]:
    return [(reading.height, reading.load) for reading in of.job.spring.readings]


def test_typing_in_the_blank_row_adds_one(qtbot: QtBot) -> None:
    desk = session()
    table = ReadingsTable(desk)
    qtbot.addWidget(table)
    put(table.model, 2, 1, "1.600")
    put(table.model, 2, 2, "276")
    assert readings(desk)[2] == ("1.600 in", "276 lbf")
    assert table.model.rowCount() == 4
    assert desk.undo_stack.count() == 2
    desk.undo_stack.undo()
    desk.undo_stack.undo()
    assert table.model.rowCount() == 3


def test_d45_the_table_is_worked_by_keys(qtbot: QtBot) -> None:
    desk = session()
    table = ReadingsTable(desk)
    qtbot.addWidget(table)
    table.show()
    table.activateWindow()
    table.grid.setFocus()
    table.grid.setCurrentIndex(table.model.index(0, 2))
    qtbot.keyClicks(table.grid, "1")
    open_editor = table.grid.findChild(QLineEdit, "cell_editor")
    qtbot.keyClicks(open_editor, "51")
    qtbot.keyClick(open_editor, Qt.Key.Key_Return)
    qtbot.waitUntil(lambda: table.grid.currentIndex().row() == 1)
    assert readings(desk)[0] == ("1.900 in", "151 lbf")
    table.grid.selectRow(1)
    qtbot.keyClick(table.grid, Qt.Key.Key_Delete)
    assert readings(desk) == [("1.900 in", "151 lbf")]
    qtbot.keyClick(table.grid, Qt.Key.Key_Z, Qt.KeyboardModifier.ControlModifier)
    assert len(readings(desk)) == 2
    table.hide()


def test_d43_a_paste_is_one_step_and_keeps_bad_cells(qtbot: QtBot) -> None:
    desk = session()
    table = ReadingsTable(desk)
    qtbot.addWidget(table)
    table.grid.setCurrentIndex(table.model.index(1, 1))
    QGuiApplication.clipboard().setText("48,26 mm\tbad\n1.1\t480\tloading\n")
    table.grid.paste()
    assert readings(desk)[1:] == [("48,26 mm", "bad"), ("1.1 in", "480 lbf")]
    assert desk.job.spring.readings[2].direction == "loading"
    assert desk.undo_stack.count() == 1
    assert "Wrong" in table.message.text.text()
    assert not table.model.index(1, 2).data(Qt.ItemDataRole.DecorationRole).isNull()


def test_numbers_follow_the_units_on_show(qtbot: QtBot) -> None:
    desk = session()
    table = ReadingsTable(desk)
    qtbot.addWidget(table)
    index = table.model.index(0, 1)
    assert (index.data(), table.model.headerData(1, Qt.Orientation.Horizontal)) == ("1.900", "Height\nin")
    desk.set_style(Style.METRIC)
    assert (index.data(), table.model.headerData(1, Qt.Orientation.Horizontal)) == ("48.26", "Height\nmm")
    assert index.data(Qt.ItemDataRole.EditRole) == "1.900 in"


def test_half_a_row_of_the_ratio_curve_waits_for_the_rest(qtbot: QtBot) -> None:
    desk = session()
    table = RowTable(desk, "valve_gear.ratio_curve", ("lift", "ratio"))
    qtbot.addWidget(table)
    put(table.model, 0, 0, "0.1")
    assert desk.job.valve_gear.ratio_curve == ()
    assert "Wrong" in table.message.text.text()
    put(table.model, 0, 1, "1.62")
    assert desk.job.valve_gear.ratio_curve == (("0.1 in", 1.62),)
    assert table.message.text.text() == ""
    put(table.model, 0, 1, "x")
    assert table.model.entered(0, 1) == "x"
    put(table.model, 0, 1, "1.6")
    assert desk.job.valve_gear.ratio_curve == (("0.1 in", 1.6),)


def test_a_lift_table_takes_angles_and_lifts(qtbot: QtBot) -> None:
    desk = session()
    table = RowTable(desk, "cam.profile", ("angle", "lift"))
    qtbot.addWidget(table)
    table.grid.setCurrentIndex(table.model.index(0, 0))
    QGuiApplication.clipboard().setText("-60\t0\n0\t0.35\n60\t0\n")
    table.grid.paste()
    assert desk.job.cam.profile == (("-60 deg", "0 in"), ("0 deg", "0.35 in"), ("60 deg", "0 in"))
    assert desk.undo_stack.count() == 1


def test_an_edit_of_an_inherited_list_makes_it_the_lines_own(qtbot: QtBot) -> None:
    desk = session(**{"lines.exhaust": {}})
    desk.choose_line("exhaust")
    table = ReadingsTable(desk)
    qtbot.addWidget(table)
    assert table.model.entered(0, 2) == "150 lbf"
    put(table.model, 0, 2, "160")
    exhaust = desk.job.lines.exhaust
    assert exhaust is not None
    assert [reading.load for reading in exhaust.spring.readings] == ["160 lbf", "423 lbf"]
    assert readings(desk)[0] == ("1.900 in", "150 lbf")
    assert table.back.isVisibleTo(table)
    table.back.click()
    assert table.label.text() == "Readings (common)"
    assert table.model.entered(0, 2) == "150 lbf"
    assert not table.back.isVisibleTo(table)


@pytest.mark.parametrize("column", range(4))
def test_d26_each_cell_says_where_it_stands(qtbot: QtBot, column: int) -> None:
    table = ReadingsTable(session())
    qtbot.addWidget(table)
    told = str(table.model.index(0, column).data(Qt.ItemDataRole.AccessibleTextRole))
    assert told.startswith(("Part 1", "Height 1", "Load 1", "Direction 1"))
