"""The window that reads a printout: what it shows, what is corrected, what goes into the job, what is refused."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path
from typing import TYPE_CHECKING

import pytest
from PySide6.QtCore import QMimeData, QPointF, Qt, QUrl
from PySide6.QtGui import QAction, QDragEnterEvent, QDropEvent, QGuiApplication
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QComboBox, QLabel, QLineEdit, QTableView, QWidget
from shiboken6 import isValid

from loadbench.job.model import Job
from loadbench.readings.printout.meaning import Layout, Meaning
from loadbench.units import Style
from tests.ui.lengthened import everything_longer
from tests.ui.printout.slips import FAULTY, PLAIN, READINGS, SLIP, long_slip, written
from ui.printout.dialog import PrintoutDialog
from ui.printout.printouts import more_than_a_grid_takes
from ui.session import Session
from ui.settings import Settings
from ui.theme import Choice, theme
from ui.window import MainWindow

if TYPE_CHECKING:
    from pytestqt.qtbot import QtBot

WAIT = 10_000


@pytest.fixture
def dialog(qtbot: QtBot, session: Session) -> Iterator[PrintoutDialog]:
    made = PrintoutDialog(session, Settings())
    made.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose, on=False)
    made.show()
    qtbot.waitExposed(made)
    yield made
    made.close()
    made.deleteLater()


def bring(dialog: PrintoutDialog, qtbot: QtBot, text: str) -> None:
    with qtbot.waitSignal(dialog.reader.read, timeout=WAIT):
        dialog.read_pasted(text)


def choose(box: QComboBox, value: object) -> None:
    """As a person does with the arrow keys."""
    place = box.findData(value)
    assert place >= 0, [box.itemText(each) for each in range(box.count())]
    box.setFocus()
    box.setCurrentIndex(place)
    box.activated.emit(place)


def head(dialog: PrintoutDialog, place: int, what: str) -> QComboBox:
    found = dialog.findChild(QComboBox, f"column_{place}_{what}")
    assert found is not None
    return found


def told(dialog: PrintoutDialog) -> list[str]:
    return [dialog.side.list.item(place).text() for place in range(dialog.side.list.count())]


def test_what_was_understood_is_told_at_a_glance(dialog: PrintoutDialog, qtbot: QtBot) -> None:
    bring(dialog, qtbot, PLAIN)
    assert dialog.side.counts.text() == "3 springs, 2 heights, 6 readings."
    assert dialog.side.state.text() == "Clear: every column was understood."
    assert "S01: 143\u00a0lbf at 1.900\u00a0in" in dialog.side.first.text()
    assert [head.sign.word.text() for head in dialog.preview.heads.heads] == ["Sure", "Sure", "Sure"]
    assert dialog.preview.model.row_head(0) == "header  1"
    assert dialog.import_button.text() == "&Import 3 springs"


def test_doubts_and_faults_are_told_and_lead_to_their_cells(dialog: PrintoutDialog, qtbot: QtBot) -> None:
    bring(dialog, qtbot, FAULTY)
    lines = told(dialog)
    assert any(line.startswith('Wrong, row 4, column 3: The load "4o5" cannot be read') for line in lines)
    assert any(line.startswith("Look at this: Columns 2, 3. The unit of its height is not stated") for line in lines)
    dialog.side.list.setCurrentRow(next(i for i, line in enumerate(lines) if "4o5" in line))
    index = dialog.preview.table.currentIndex()
    assert (dialog.preview.model.rows[index.row()].number, index.column()) == (4, 2)
    assert dialog.preview.told.text().startswith('Wrong, row 4, column 3: The load "4o5"')
    assert dialog.preview.model.data(index, Qt.ItemDataRole.DecorationRole) is not None
    assert dialog.preview.model.data(index, Qt.ItemDataRole.AccessibleTextRole) == "Wrong: 4o5"


def test_a_correction_reads_again_and_keeps_the_others(dialog: PrintoutDialog, qtbot: QtBot) -> None:
    bring(dialog, qtbot, FAULTY)
    choose(head(dialog, 1, "unit"), "N")
    choose(head(dialog, 3, "meaning"), Meaning.NOTHING)
    found = dialog.reader.current
    assert found is not None
    assert [column.unit for column in found.columns[1:3]] == ["N", "lbf"]
    assert found.columns[3].meaning is Meaning.NOTHING
    assert found.springs[0].readings[0].load == pytest.approx(143.0)
    assert head(dialog, 3, "unit").isHidden()
    assert dialog.preview.heads.heads[3].sign.word.text() == "Left out"


def test_a_height_that_was_missing_is_typed(dialog: PrintoutDialog, qtbot: QtBot) -> None:
    bring(dialog, qtbot, FAULTY)
    edit = dialog.findChild(QLineEdit, "column_3_height")
    assert edit is not None
    assert edit.placeholderText() == "height?"
    edit.setFocus()
    QTest.keyClicks(edit, "1.2 furlongs")
    QTest.keyClick(edit, Qt.Key.Key_Return)
    assert dialog.preview.told.text().startswith("Wrong: ")
    edit.selectAll()
    QTest.keyClicks(edit, "1.200")
    QTest.keyClick(edit, Qt.Key.Key_Return)
    found = dialog.reader.current
    assert found is not None
    assert found.columns[3].height == pytest.approx(1.2 * 0.0254)
    assert found.count == 10
    assert edit.text() == "1.200\u00a0in"


def test_it_is_right_takes_a_column_or_all_that_are_alike_at_their_word(dialog: PrintoutDialog, qtbot: QtBot) -> None:
    bring(dialog, qtbot, FAULTY)
    dialog.preview.choose_column(1)
    assert dialog.preview.accept_all_button.text() == "All 2 are right"
    dialog.preview.accept_button.click()
    signs = [one.sign.word.text() for one in dialog.preview.heads.heads[1:3]]
    assert signs == ["Sure", "Look at this"]
    dialog.preview.choose_column(2)
    assert not dialog.preview.accept_all_button.isVisible()
    dialog.preview.accept_button.click()
    assert [one.sign.word.text() for one in dialog.preview.heads.heads[1:3]] == ["Sure", "Sure"]


def test_layout_decimals_and_header_are_chosen_by_hand(dialog: PrintoutDialog, qtbot: QtBot) -> None:
    bring(dialog, qtbot, READINGS)
    found = dialog.reader.current
    assert found is not None
    assert found.layout is Layout.ROW_A_READING
    assert dialog.choices.layout_.box.currentText() == "a reading"
    choose(dialog.choices.decimal.box, "point")
    assert dialog.reader.current is not None
    assert str(dialog.reader.current.decimal) == "point"
    choose(dialog.choices.decimal.box, "comma")
    choose(dialog.choices.header.box, -1)
    assert dialog.reader.current.header_row is None
    choose(dialog.choices.header.box, 1)
    assert dialog.reader.current.header_row == 1
    assert dialog.side.counts.text() == "2 springs, 2 heights, 4 readings."


def test_import_is_one_step_that_undo_takes_back(dialog: PrintoutDialog, qtbot: QtBot, tmp_path: Path) -> None:
    before = dialog.session.job
    with qtbot.waitSignal(dialog.reader.read, timeout=WAIT):
        dialog.read_path(written(tmp_path, PLAIN))
    with qtbot.waitSignal(dialog.taken):
        dialog.import_button.click()
    stack = dialog.session.undo_stack
    assert (stack.count(), stack.undoText()) == (1, "read printout slip.csv")
    assert [spring.id for spring in dialog.session.job.springs] == ["S01", "S02", "S03"]
    assert dialog.session.job.printouts[0].text == PLAIN
    stack.undo()
    assert dialog.session.job == before
    assert not dialog.isVisible()


def test_the_same_springs_again_ask_what_becomes_of_the_present_ones(dialog: PrintoutDialog, qtbot: QtBot) -> None:
    bring(dialog, qtbot, PLAIN)
    assert not dialog.ways.isVisible()
    dialog.record.edits["date"].setText("2025-01-02")
    dialog.import_button.click()
    again = PrintoutDialog(dialog.session, Settings())
    again.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose, on=False)
    qtbot.addWidget(again)
    again.show()
    bring(again, qtbot, PLAIN.replace("143", "139"))
    assert again.ways.told.text() == "All 3 springs are in the job already."
    assert again.record.edits["date"].text() == ""  # a later check has a date of its own
    again.record.edits["hours"].setText("12,5")
    again.import_button.click()
    job = again.session.job
    assert job.history[0].record.date == "2025-01-02"
    assert job.record.hours == pytest.approx(12.5)
    assert job.springs[0].readings[0].load == "139 lbf"


def test_hours_that_are_no_number_are_told_and_nothing_changes(dialog: PrintoutDialog, qtbot: QtBot) -> None:
    bring(dialog, qtbot, PLAIN)
    dialog.record.edits["hours"].setText("many")
    dialog.import_button.click()
    assert "Hours since new" in dialog.message.text.text()
    assert dialog.isVisible()
    assert dialog.session.undo_stack.count() == 0


def test_a_remembered_recipe_reads_the_next_slip(dialog: PrintoutDialog, qtbot: QtBot, session: Session) -> None:
    bring(dialog, qtbot, FAULTY)
    choose(head(dialog, 1, "unit"), "N")
    dialog.remember.name.setText("")
    dialog.remember.check.setChecked(True)
    dialog.import_button.click()
    assert "no name" in dialog.message.text.text()
    QTest.keyClicks(dialog.remember.name, "Bench one")
    dialog.import_button.click()
    assert not dialog.isVisible()
    other = PrintoutDialog(Session(Job(title="Another", units="inch-pound")), Settings())
    other.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose, on=False)
    qtbot.addWidget(other)
    other.show()
    bring(other, qtbot, FAULTY)
    assert other.choices.recipe.box.currentText() == "Bench one"
    assert other.choices.forget.isVisible()
    assert other.record.edits["tester"].text() == "Bench one"
    assert other.reader.current is not None
    assert other.reader.current.columns[1].unit == "N"
    choose(other.choices.recipe.box, "")
    assert other.reader.current.columns[1].unit == "lbf"
    choose(other.choices.recipe.box, "Bench one")
    other.choices.forget.click()
    assert other.choices.recipe.box.count() == 1
    other.close()


@pytest.mark.parametrize(
    ("name", "content", "said"),
    [
        ("empty.csv", b"", "The file is empty."),
        ("binary.csv", b"\x00\x01\x02\xff" * 900, ""),
        ("picture.csv", b"\x89PNG\r\n\x1a\n" + bytes(range(256)), "This is a picture"),
        ("book.xlsx", b"PK\x03\x04nothing", ""),
    ],
)
def test_a_refused_file_is_told_in_words(
    dialog: PrintoutDialog, qtbot: QtBot, tmp_path: Path, name: str, content: bytes, said: str
) -> None:
    (tmp_path / name).write_bytes(content)
    before = dialog.session.job
    with qtbot.waitSignal(dialog.reader.failed, timeout=WAIT):
        dialog.read_path(tmp_path / name)
    assert dialog.waiting.isVisible()
    assert dialog.waiting.head.text() == f"Stop: {name} was not read; nothing was changed."
    assert said in dialog.waiting.told.text()
    assert "Wanted: " in dialog.waiting.told.text()
    assert not dialog.import_button.isVisible()
    assert dialog.session.job is before


def book(file: Path) -> Path:
    import openpyxl

    made = openpyxl.Workbook()
    made.active.title = "Intake"
    for line in PLAIN.splitlines():
        made.active.append(line.split(","))
    other = made.create_sheet("Exhaust")
    for line in PLAIN.replace("S0", "E0").splitlines()[:3]:
        other.append(line.split(","))
    made.create_sheet("Nothing")
    made.save(file)
    return file


def test_a_workbook_offers_its_sheets(dialog: PrintoutDialog, qtbot: QtBot, tmp_path: Path) -> None:
    with qtbot.waitSignal(dialog.reader.read, timeout=WAIT):
        dialog.read_path(book(tmp_path / "book.xlsx"))
    assert dialog.choices.sheet.isVisible()
    assert dialog.side.counts.text().startswith("3 springs")
    with qtbot.waitSignal(dialog.reader.read, timeout=WAIT):
        choose(dialog.choices.sheet.box, "Exhaust")
    assert dialog.side.counts.text().startswith("2 springs")
    with qtbot.waitSignal(dialog.reader.failed, timeout=WAIT):
        choose(dialog.choices.sheet.box, "Nothing")
    assert dialog.choices.sheet.box.currentText() == "Exhaust"  # the sheet before stays
    assert dialog.message.text.text().startswith("Wrong: ")
    assert dialog.import_button.isVisible()


def test_a_long_printout_is_corrected_off_the_windows_thread(dialog: PrintoutDialog, qtbot: QtBot) -> None:
    bring(dialog, qtbot, long_slip(6000, wrong=4000))
    assert "The first 200 of" in dialog.preview.note.text()
    dialog.preview.go_to_problem(dialog.reader.current.problems[0])  # type: ignore[union-attr]
    assert dialog.preview.table.currentIndex().row() == 200
    with qtbot.waitSignal(dialog.reader.read, timeout=WAIT):
        choose(head(dialog, 2, "unit"), "N")
        assert dialog.reader.desk.busy
    assert dialog.reader.current is not None
    assert dialog.reader.current.columns[2].unit == "N"


def test_cancel_while_reading_leaves_what_was_there(dialog: PrintoutDialog, qtbot: QtBot) -> None:
    bring(dialog, qtbot, PLAIN)
    dialog.reader.desk.start(lambda progress: [progress(0.5) for _ in iter(int, 1)])
    QTest.keyClick(dialog, Qt.Key.Key_Escape)
    assert not dialog.reader.desk.busy
    assert dialog.isVisible()
    assert dialog.import_button.isEnabled()


def test_esc_and_close_end_the_threads(dialog: PrintoutDialog, qtbot: QtBot) -> None:
    bring(dialog, qtbot, PLAIN)
    pool = dialog.reader.desk._pool
    assert pool is not None
    threads = tuple(pool._threads)
    assert threads
    QTest.keyClick(dialog, Qt.Key.Key_Escape)
    assert not dialog.isVisible()
    assert not any(thread.is_alive() for thread in threads)


def test_units_on_show_change_the_words_and_not_the_printout(dialog: PrintoutDialog, qtbot: QtBot) -> None:
    bring(dialog, qtbot, PLAIN)
    found = dialog.reader.current
    dialog.session.set_style(Style.METRIC)
    assert dialog.side.heights.text() == "Heights: 48.26\u00a0mm, 33.02\u00a0mm."
    assert dialog.reader.current is found


def test_a_slip_for_the_grid_stays_with_the_grid() -> None:
    tabs = PLAIN.replace(",", "\t")
    assert not more_than_a_grid_takes(tabs)
    assert not more_than_a_grid_takes("143\n145\n141\n")
    assert not more_than_a_grid_takes("just\nsome\nwords\n")
    assert more_than_a_grid_takes(SLIP)
    assert more_than_a_grid_takes(PLAIN)
    assert more_than_a_grid_takes(READINGS)


# In the main window


def open_dialog(window: MainWindow) -> PrintoutDialog:
    found = window.findChild(PrintoutDialog)
    assert found is not None
    return found


def test_the_command_opens_it_and_import_shows_the_readings(window: MainWindow, qtbot: QtBot) -> None:
    action = window.findChild(QAction, "read_printout")
    assert action is not None
    action.trigger()
    dialog = open_dialog(window)
    assert dialog.waiting.isVisible()
    bring(dialog, qtbot, PLAIN)
    dialog.import_button.click()
    assert window.shell.kind.name == "readings"
    assert "3 springs read from Pasted text" in window.statusBar().currentMessage()


def test_d10_a_printout_dropped_on_the_window_is_read(window: MainWindow, qtbot: QtBot, tmp_path: Path) -> None:
    data = QMimeData()
    data.setUrls([QUrl.fromLocalFile(str(written(tmp_path, PLAIN)))])
    buttons, keys = Qt.MouseButton.LeftButton, Qt.KeyboardModifier.NoModifier
    before = window.session.job
    entering = QDragEnterEvent(window.rect().center(), Qt.DropAction.CopyAction, data, buttons, keys)
    QApplication.sendEvent(window, entering)
    QApplication.sendEvent(window, QDropEvent(QPointF(50, 50), Qt.DropAction.CopyAction, data, buttons, keys))
    dialog = open_dialog(window)
    qtbot.waitUntil(lambda: dialog.reader.current is not None, timeout=WAIT)
    assert dialog.choices.name.text() == "slip.csv"
    assert window.session.job is before


def test_a_slip_pasted_into_the_grid_that_is_more_than_it_takes_is_read(window: MainWindow, qtbot: QtBot) -> None:
    window.show_page("readings")
    grid = window.findChild(QTableView, "springs")
    assert grid is not None
    grid.setFocus()
    before = window.session.job
    QGuiApplication.clipboard().setText(SLIP)
    QTest.keyClick(grid, Qt.Key.Key_V, Qt.KeyboardModifier.ControlModifier)
    dialog = open_dialog(window)
    qtbot.waitUntil(lambda: dialog.reader.current is not None, timeout=WAIT)
    assert window.session.job is before


def test_it_goes_with_its_window(window: MainWindow, qtbot: QtBot) -> None:
    window.documents.printouts.read()
    dialog = open_dialog(window)
    bring(dialog, qtbot, PLAIN)
    window.session.undo_stack.setClean()
    window.close()
    qtbot.waitUntil(lambda: not isValid(dialog))


# How it looks


def cut(within: QWidget) -> list[str]:
    found = []
    for label in within.findChildren(QLabel):
        if label.isVisible() and label.text():
            low = label.wordWrap() and label.height() + 1 < label.heightForWidth(label.width())
            if low or (not label.wordWrap() and label.width() + 1 < label.sizeHint().width()):
                found.append(label.text())
    return found


@pytest.mark.parametrize("text", [PLAIN, FAULTY, READINGS, SLIP])
@pytest.mark.parametrize("style", list(Style))
@pytest.mark.parametrize("size", [(1180, 760), (1000, 580)])
def test_nothing_is_cut(dialog: PrintoutDialog, qtbot: QtBot, text: str, style: Style, size: tuple[int, int]) -> None:
    dialog.session.set_style(style)
    dialog.resize(*size)
    bring(dialog, qtbot, text)
    for _ in range(3):
        QApplication.processEvents()
    assert (dialog.width(), dialog.height()) == size
    assert cut(dialog) == []


def test_every_input_has_a_name(dialog: PrintoutDialog, qtbot: QtBot) -> None:
    bring(dialog, qtbot, FAULTY)
    nameless = [
        widget.objectName() or type(widget).__name__
        for kind in (QComboBox, QLineEdit)
        for widget in dialog.findChildren(kind)
        if widget.isVisible() and not widget.accessibleName()
    ]
    assert nameless == []
    assert head(dialog, 1, "unit").accessibleName() == "Column 2, Load @ 1.900 (lbf): unit"
    assert "not stated" in head(dialog, 1, "unit").accessibleDescription()


def test_the_theme_changes_while_it_is_open(dialog: PrintoutDialog, qtbot: QtBot) -> None:
    bring(dialog, qtbot, FAULTY)
    light = dialog.grab().toImage()
    theme().choose(Choice.DARK)
    QApplication.processEvents()
    dark = dialog.grab().toImage()
    theme().choose(Choice.LIGHT)
    assert light.pixelColor(3, 3).lightness() > 200
    assert dark.pixelColor(3, 3).lightness() < 80


def test_d50_texts_two_fifths_longer_are_not_cut(qtbot: QtBot, session: Session) -> None:
    with everything_longer():
        dialog = PrintoutDialog(session, Settings())
        dialog.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose, on=False)
        qtbot.addWidget(dialog)
        dialog.show()
        bring(dialog, qtbot, FAULTY)
        dialog.resize(1180, 760)
        for _ in range(3):
            QApplication.processEvents()
        assert dialog.preview.accept_button.text().endswith("x")
        assert cut(dialog) == []
        dialog.close()


def test_a_column_that_lacks_its_height_says_so_and_nothing_is_imported_without_readings(
    dialog: PrintoutDialog, qtbot: QtBot
) -> None:
    bring(dialog, qtbot, "Spring,Load (N)\nA1,500\nA2,502\nA3,-\n")
    assert dialog.preview.heads.heads[1].sign.word.text() == "No height"
    assert not dialog.import_button.isEnabled()
    assert dialog.side.state.text().startswith("No reading was found")
    edit = dialog.findChild(QLineEdit, "column_1_height")
    assert edit is not None
    edit.setFocus()
    QTest.keyClicks(edit, "48,26")  # its loads are in newtons: millimetres
    QTest.keyClick(edit, Qt.Key.Key_Return)
    found = dialog.reader.current
    assert found is not None
    assert found.columns[1].height == pytest.approx(0.04826)
    assert dialog.side.counts.text() == "3 springs, 1 height, 2 readings. 1 load is blank."
    assert dialog.import_button.isEnabled()


@pytest.mark.parametrize("width", [620, 900, 1180])
def test_a_doubt_has_room_for_all_of_its_words(dialog: PrintoutDialog, qtbot: QtBot, width: int) -> None:
    from PySide6.QtCore import QRect
    from PySide6.QtWidgets import QStyle, QStyleOptionViewItem

    from loadbench.findings.finding import Level

    bring(dialog, qtbot, FAULTY)
    dialog.resize(width, 700)
    words = ("Look at this: column 4. Its heading says nothing of what it holds; its numbers look like loads of",) * 2
    for place in range(40):
        dialog.side._add(Level.WATCH, " ".join(words) + " word" * place, None)
    dialog.side.list.measure()
    QApplication.processEvents()
    shown = dialog.side.list
    for place in range(shown.count()):
        option = QStyleOptionViewItem()
        shown.itemDelegate().initStyleOption(option, shown.indexFromItem(shown.item(place)))
        shown.initViewItemOption(option)
        option.features |= QStyleOptionViewItem.ViewItemFeature.HasDecoration
        option.rect = shown.visualItemRect(shown.item(place))
        room = shown.style().subElementRect(QStyle.SubElement.SE_ItemViewItemText, option, shown)
        inner = QRect(0, 0, room.width() - 6, 10_000)
        needed = shown.fontMetrics().boundingRect(inner, int(Qt.TextFlag.TextWordWrap), shown.item(place).text())
        assert needed.height() <= shown.visualItemRect(shown.item(place)).height() - 2
