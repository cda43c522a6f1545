"""D22: a printout is read, corrected, remembered and taken over without a mouse."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

from PySide6.QtCore import Qt
from PySide6.QtGui import QGuiApplication
from PySide6.QtWidgets import QFileDialog
from shiboken6 import isValid

from loadbench.readings.printout.meaning import Meaning
from loadbench.readings.printout.recipe_shelf import load_shelf
from tests.ui.printout.slips import FAULTY, PLAIN, written
from tests.ui.test_keyboard_only import Hands, begin
from ui.printout.dialog import PrintoutDialog
from ui.window import MainWindow

if TYPE_CHECKING:
    import pytest
    from pytestqt.qtbot import QtBot

Key, Control, Alt = Qt.Key, Qt.KeyboardModifier.ControlModifier, Qt.KeyboardModifier.AltModifier
Shift = Qt.KeyboardModifier.ShiftModifier


def opened(window: MainWindow) -> tuple[Hands, PrintoutDialog]:
    hands = begin(window)
    hands.press(Key.Key_R, Control | Shift)
    dialog = window.findChild(PrintoutDialog)
    assert dialog is not None
    return hands, dialog


def test_d22_a_file_is_read_corrected_remembered_and_taken_over(
    window: MainWindow, qtbot: QtBot, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    file = written(tmp_path, FAULTY)
    monkeypatch.setattr(QFileDialog, "getOpenFileName", lambda *_: (str(file), ""))
    hands, dialog = opened(window)
    with qtbot.waitSignal(dialog.reader.read, timeout=10_000):
        hands.press(Key.Key_Return)
    hands.tab_to("column_3_meaning", back=True)
    hands.choose("column_3_meaning", "Not read")
    assert dialog.reader.current is not None
    assert dialog.reader.current.columns[3].meaning is Meaning.NOTHING
    hands.tab_to("printout_doubts")
    while not dialog.side.list.currentItem() or "Look at this" not in dialog.side.list.currentItem().text():
        hands.press(Key.Key_Down)
    hands.tab_to("columns_are_right", back=True)
    hands.press(Key.Key_Space)
    assert dialog.reader.current.unsure == ()
    hands.tab_to("printout_doubts")
    hands.press(Key.Key_Home)
    hands.press(Key.Key_Return)
    assert hands.at.objectName() == "printout_rows"
    hands.tab_to("printout_recipe_name")
    hands.type("Bench one")
    hands.fill("printout_date", "2025-03-04")
    assert dialog.isVisible()  # Enter in a field takes nothing over
    hands.tab_to("printout_import")
    hands.press(Key.Key_Space)
    job = window.session.job
    assert [spring.id for spring in job.springs] == ["S01", "S02", "S03", "S04"]
    assert job.record.date == "2025-03-04"
    assert [recipe.name for recipe in load_shelf()] == ["Bench one"]
    hands.press(Key.Key_Z, Control)
    assert window.session.job.springs == ()


def test_d22_a_slip_is_pasted_and_left(window: MainWindow, qtbot: QtBot) -> None:
    hands, dialog = opened(window)
    QGuiApplication.clipboard().setText(PLAIN)
    with qtbot.waitSignal(dialog.reader.read, timeout=10_000):
        hands.press(Key.Key_V, Control)
    assert dialog.side.counts.text().startswith("3 springs")
    hands.press(Key.Key_Escape)
    qtbot.waitUntil(lambda: not isValid(dialog))
    assert window.session.job.springs == ()
    assert window.session.undo_stack.count() == 0


def test_d23_the_focus_goes_as_one_reads(window: MainWindow, qtbot: QtBot) -> None:
    hands, dialog = opened(window)
    QGuiApplication.clipboard().setText(FAULTY)
    with qtbot.waitSignal(dialog.reader.read, timeout=10_000):
        hands.press(Key.Key_V, Control)
    wanted = ("printout_recipe", "printout_layout", "printout_decimal", "printout_header", "column_0_meaning",
              "column_1_meaning", "column_1_unit", "column_1_height", "column_1_part", "column_2_meaning",
              "column_4_meaning", "printout_rows", "printout_doubts",
              "printout_remember", "printout_recipe_name", "printout_measured_by", "printout_date", "printout_tester",
              "printout_hours", "printout_passes", "printout_import", "printout_cancel")  # fmt: skip
    dialog.choices.recipe.box.setFocus()
    passed = []
    for _ in range(60):
        passed.append(hands.at.objectName())
        hands.press(Key.Key_Tab)
        if hands.at.objectName() == "printout_recipe":
            break
    assert [name for name in passed if name in wanted] == list(wanted)
