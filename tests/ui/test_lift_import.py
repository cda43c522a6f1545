"""The window that imports a lift table: what it shows and asks, what goes into the job, what is refused."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path
from typing import TYPE_CHECKING

import pytest
from PySide6.QtCore import QMimeData, QPointF, Qt, QUrl
from PySide6.QtGui import QDropEvent, QGuiApplication
from PySide6.QtWidgets import QComboBox, QFileDialog

import loadbench
from loadbench.job.files import open_job
from tests.ui.test_keyboard_only import begin
from ui.clipboard_table import cells_of
from ui.command_search import CommandSearch
from ui.lift_import.dialog import LiftDialog
from ui.lift_import.imports import is_lift_table
from ui.session import Session
from ui.settings import Settings
from ui.window import MainWindow

if TYPE_CHECKING:
    from pytestqt.qtbot import QtBot

SAMPLES = Path(loadbench.__file__).parent.parent / "samples"
LOBES = SAMPLES / "lobes"
CLEAN, METRIC, BAD = (LOBES / f"invented-degree-wheel{end}.csv" for end in ("", "-crank-metric", "-bad"))
WAIT = 10_000


@pytest.fixture
def dialog(qtbot: QtBot, session: Session) -> Iterator[LiftDialog]:
    made = LiftDialog(session, Settings())
    made.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose, on=False)
    made.show()
    qtbot.waitExposed(made)
    yield made
    made.close()
    made.deleteLater()


def bring(dialog: LiftDialog, qtbot: QtBot, source: Path | str) -> None:
    with qtbot.waitSignal(dialog.read, timeout=WAIT):
        if isinstance(source, Path):
            dialog.read_path(source)
        else:
            dialog.read_pasted(source)


def choose(box: QComboBox, value: object) -> None:
    """As a person does with the arrow keys."""
    place = box.findData(value)
    assert place >= 0
    box.setCurrentIndex(place)
    box.activated.emit(place)


def told(dialog: LiftDialog) -> list[str]:
    return [dialog.told.item(place).text() for place in range(dialog.told.count())]


def unsaid() -> str:
    """A table that says neither whose degrees nor which side nor which unit."""
    rows = CLEAN.read_text(encoding="utf-8").splitlines()[3:]
    return "\n".join(["Angle,Lift", *rows])


def test_a_table_is_shown_before_it_is_taken(dialog: LiftDialog, qtbot: QtBot, session: Session) -> None:
    bring(dialog, qtbot, CLEAN)
    shown = dialog.rows.text().replace("\u202f", " ").replace("\u00a0", " ")
    assert shown.startswith("117 rows of lift, 3 above them are headers.")
    assert "row 4: " in shown
    assert "row 120: " in shown
    assert (dialog.angle.box.currentData(), dialog.side.box.currentData()) == ("cam", "lobe")
    assert dialog.name.text() == "invented-degree-wheel"
    assert dialog.import_button.isEnabled()
    assert told(dialog) == []
    assert session.job.cam.profile == ()
    assert "at most 0.4050 in" in dialog.picture.accessibleName()
    assert not dialog.picture.grab().isNull()


def test_it_goes_into_the_job_as_one_step(dialog: LiftDialog, qtbot: QtBot, session: Session) -> None:
    bring(dialog, qtbot, METRIC)
    with qtbot.waitSignal(dialog.taken):
        dialog.import_button.click()
    cam = session.job.cam
    assert (cam.profile_angle, cam.profile_side) == ("crank", "valve")
    assert cam.profile_name == "invented-degree-wheel-crank-metric"
    assert (len(cam.profile), cam.profile[0]) == (97, ("692.5 deg", "0.00 mm"))
    assert session.undo_stack.count() == 1
    assert session.undo_stack.text(0) == "import lift table"
    session.undo_stack.undo()
    assert session.job.cam.profile == ()
    assert session.job.cam.profile_angle is None


def test_it_goes_to_the_line_on_show(dialog: LiftDialog, qtbot: QtBot, session: Session) -> None:
    session.set_field("lines.exhaust.spring.name", "other")
    session.choose_line("exhaust")
    bring(dialog, qtbot, CLEAN)
    dialog.import_button.click()
    assert session.job.cam.profile == ()
    assert session.state.analysis.stated.line("exhaust").rows("cam.profile") == ("lines.exhaust.cam.profile", 117)


def test_what_the_table_does_not_say_is_asked(dialog: LiftDialog, qtbot: QtBot, session: Session) -> None:
    bring(dialog, qtbot, unsaid())
    assert not dialog.import_button.isEnabled()
    assert "whose degrees" in dialog.message.text.text()
    choose(dialog.angle.box, "cam")
    assert "where the lift was measured" in dialog.message.text.text()
    choose(dialog.side.box, "lobe")
    assert dialog.import_button.isEnabled()
    assert any("read as in, the job's unit" in line for line in told(dialog))
    assert dialog.unit.isVisible()
    with qtbot.waitSignal(dialog.read, timeout=WAIT):
        choose(dialog.unit.box, "mm")
    assert dialog.current is not None
    assert dialog.current.rows[0][1] == "0.0000 mm"
    assert any("0.405 mm" in line and "is the unit right?" in line for line in told(dialog))
    assert dialog.angle.box.currentData() == "cam"  # what was chosen stays
    assert session.job.cam.profile == ()


def test_faults_are_told_and_crossed_and_stay_as_they_are(dialog: LiftDialog, qtbot: QtBot, session: Session) -> None:
    bring(dialog, qtbot, BAD)
    (line,) = told(dialog)
    assert line.startswith("Watch, row 44, column 2: A lift of")
    assert not dialog.told.item(0).icon().isNull()
    assert dialog.picture.crossed == [44]
    assert "told there at their rows" in dialog.message.text.text()
    dialog.import_button.click()
    assert len(session.job.cam.profile) == 117
    assert list(session.state.analysis.stated.problems) == ["cam.profile.41.1"]


def test_rows_that_cannot_be_read_stop_the_import(dialog: LiftDialog, qtbot: QtBot) -> None:
    text = CLEAN.read_text(encoding="utf-8").replace("106,0.4050", "106,o.4050")
    bring(dialog, qtbot, text)
    assert told(dialog)[0].startswith('Stop, row 60, column 2: The lift "o.4050" is no number.')
    assert not dialog.import_button.isEnabled()
    assert "Stop" in dialog.message.text.text()
    dialog.take_over()
    assert dialog.session.job.cam.profile == ()


@pytest.mark.parametrize("data", [b"", b"\x00\x01\x02\x03" * 50, b"Dear reader,\nno table.\n"])
def test_what_is_no_table_is_refused(dialog: LiftDialog, qtbot: QtBot, tmp_path: Path, data: bytes) -> None:
    file = tmp_path / "wrong.csv"
    file.write_bytes(data)
    with qtbot.waitSignal(dialog.refused, timeout=WAIT):
        dialog.read_path(file)
    assert dialog.head.text().startswith("Stop: wrong.csv was not read; nothing was changed.")
    assert not dialog.import_button.isVisible()


def test_what_the_job_makes_of_a_table_is_told_beforehand(dialog: LiftDialog, qtbot: QtBot, session: Session) -> None:
    bring(dialog, qtbot, CLEAN)
    shown = dialog.rows.text().replace("\u202f", " ").replace("\u00a0", " ").replace("\u2009", " ")
    assert "Smoothing leaves 0.00016 in (rms) of the readings, at most 0.001 in in row 101." in shown
    bring(dialog, qtbot, BAD)
    assert "Smoothing leaves" not in dialog.rows.text()
    high = [f"{line.partition(',')[0]},{float(line.partition(',')[2]) + 0.002:.4f}" for line in rows_of(CLEAN)]
    bring(dialog, qtbot, "\n".join(["Cam degrees,Lobe lift (in)", *high]))
    assert any(line.startswith("Told: The base circle reads 0.05") for line in told(dialog))
    assert session.job.cam.profile == ()


def rows_of(file: Path) -> list[str]:
    return file.read_text(encoding="utf-8").splitlines()[3:]


def test_a_wheel_that_starts_again_is_drawn_in_one_piece(dialog: LiftDialog, qtbot: QtBot) -> None:
    turned = [f"{(float(line.partition(',')[0]) - 106) % 360:g},{line.partition(',')[2]}" for line in rows_of(CLEAN)]
    bring(dialog, qtbot, "\n".join(["Cam degrees,Lobe lift (in)", *turned]))
    assert any("start again at 0 deg in row" in line for line in told(dialog))
    across = [point.x() for point in dialog.picture._points]
    assert across == sorted(across)
    crank = [f"{2 * float(line.partition(',')[0]):g},{line.partition(',')[2]}" for line in turned]
    bring(dialog, qtbot, "\n".join(["Crank degrees,Lobe lift (in)", *crank]))
    across = [point.x() for point in dialog.picture._points]
    assert across == sorted(across)


def test_a_sheet_of_a_workbook_can_be_chosen(
    dialog: LiftDialog, qtbot: QtBot, tmp_path: Path, session: Session
) -> None:
    import openpyxl

    book = openpyxl.Workbook()
    book.remove(book.worksheets[0])
    for sheet, share in ((book.create_sheet("Intake"), 1.0), (book.create_sheet("Exhaust"), 0.9)):
        sheet.append(["Cam degrees", "Lobe lift (in)"])
        for line in rows_of(CLEAN):
            angle, _, lift = line.partition(",")
            sheet.append([float(angle), round(share * float(lift), 4)])
    book.save(tmp_path / "both.xlsx")
    bring(dialog, qtbot, tmp_path / "both.xlsx")
    assert dialog.sheet.isVisible()
    assert dialog.sheet.box.currentData() == "Intake"
    assert 'Told: The sheet "Intake" is read, not "Exhaust".' in told(dialog)
    with qtbot.waitSignal(dialog.read, timeout=WAIT):
        choose(dialog.sheet.box, "Exhaust")
    assert dialog.current is not None
    assert dialog.current.lifts.max() == pytest.approx(0.9 * 0.405 * 0.0254, rel=1e-3)
    assert dialog.sheet.box.currentData() == "Exhaust"
    dialog.import_button.click()
    assert len(session.job.cam.profile) == 117


def test_a_text_has_no_sheet_to_choose(dialog: LiftDialog, qtbot: QtBot) -> None:
    bring(dialog, qtbot, CLEAN)
    assert not dialog.sheet.isVisible()


# The ways in


def test_the_command_is_found_and_works_by_keyboard(
    window: MainWindow, qtbot: QtBot, monkeypatch: pytest.MonkeyPatch
) -> None:
    hands = begin(window)
    hands.press(Qt.Key.Key_L, Qt.KeyboardModifier.ControlModifier | Qt.KeyboardModifier.ShiftModifier)
    dialog = window.findChild(LiftDialog)
    assert dialog is not None
    monkeypatch.setattr(QFileDialog, "getOpenFileName", lambda *_: (str(CLEAN), ""))
    with qtbot.waitSignal(dialog.read, timeout=WAIT):
        hands.tab_to("lift_choose")
        hands.press(Qt.Key.Key_Space)
    assert hands.at.objectName() == "lift_angle"
    hands.tab_to("lift_import_table")
    hands.press(Qt.Key.Key_Space)
    assert len(window.session.job.cam.profile) == 117


def test_the_command_search_knows_it(window: MainWindow) -> None:
    search = CommandSearch(window)
    assert search.found("import lift table")[0].name.startswith("Import lift table")
    search.close()


def test_a_dropped_table_comes_here_and_a_printout_does_not(window: MainWindow, qtbot: QtBot) -> None:
    data = QMimeData()
    data.setUrls([QUrl.fromLocalFile(str(CLEAN))])
    copy, left = Qt.DropAction.CopyAction, Qt.MouseButton.LeftButton
    window.dropEvent(QDropEvent(QPointF(5, 5), copy, data, left, Qt.KeyboardModifier.NoModifier))
    dialog = window.findChild(LiftDialog)
    assert dialog is not None
    qtbot.waitUntil(lambda: dialog.current is not None, timeout=WAIT)
    texts = [file for file in (SAMPLES / "printouts").iterdir() if file.suffix != ".xlsx"]
    assert len(texts) > 5
    assert [file.name for file in texts if is_lift_table(file)] == []
    assert all(is_lift_table(file) for file in (CLEAN, METRIC, BAD))


def test_the_clipboard_is_read(dialog: LiftDialog, qtbot: QtBot) -> None:
    QGuiApplication.clipboard().setText(CLEAN.read_text(encoding="utf-8"))
    with qtbot.waitSignal(dialog.read, timeout=WAIT):
        dialog.paste_button.click()
    assert dialog.current is not None
    assert dialog.current.usable


def test_the_sample_job_has_the_clean_lobe() -> None:
    job = open_job(SAMPLES / "lobe-from-a-degree-wheel.loadbench.json")
    assert len(job.cam.profile) == 117
    assert len(cells_of("\n".join(f"{angle}\t{lift}" for angle, lift in job.cam.profile))) == 117
