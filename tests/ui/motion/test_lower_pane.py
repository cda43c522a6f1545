"""Beneath the lift: durations, another lobe beside this one, and a lift table that is only looked at."""

from __future__ import annotations

import csv
import io
import math
from typing import TYPE_CHECKING

import numpy as np
import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest

from loadbench.motion.laws import LAWS
from loadbench.units import Style
from tests.ui.spring.spring_jobs import pair
from ui.lift_import.compare import CompareDialog
from ui.motion.comparison import LAW, LINE, LOBE, NOTHING, TABLE, VALVE, Table
from ui.motion.lift_view import LiftView
from ui.motion.lower_pane import DURATIONS, FIGURES, LOBES, LowerPane
from ui.motion.overlay import overlay_picture, overlay_read_out
from ui.motion.seen import Seen
from ui.session import Session
from ui.settings import Settings
from ui.spring.chart_export import csv_of

if TYPE_CHECKING:
    from pytestqt.qtbot import QtBot

    from loadbench.analysis import LineAnalysis

Key = Qt.Key
EXHAUST = {"valve_gear": {"lobe_lift": "0.348 in"}}
ROWS = tuple(
    (f"{degrees} deg", f"{8.0 * math.cos(math.radians(degrees)) ** 4:.4f} mm") for degrees in range(-90, 91, 3)
)


@pytest.fixture
def pane(qtbot: QtBot) -> LowerPane:
    made = LowerPane(Session(pair(lines__exhaust=EXHAUST)))
    qtbot.addWidget(made)
    made.resize(620, 220)
    made.show()
    qtbot.waitExposed(made)
    made.show_lift(True)
    return made


def line(pane: LowerPane) -> LineAnalysis:
    return pane.session.state.analysis.line(pane.session.line)


def show(pane: LowerPane, key: str) -> None:
    pane.words.choose(key)
    pane.show_line(line(pane), pane.beside_of(line(pane)))


def labels(pane: LowerPane) -> list[str]:
    return [row.label for row in pane.lobes.figures.figures.rows if not row.heading]


# Which table


def test_the_tools_come_with_the_lift_and_each_word_has_its_own(pane: LowerPane) -> None:
    assert pane.key == FIGURES
    assert not pane.side.isVisible()
    show(pane, DURATIONS)
    assert pane.stack.currentWidget() is pane.lobes
    assert pane.side.isVisible()
    assert not pane.beside.isVisible()
    show(pane, LOBES)
    assert pane.beside.isVisible()
    assert pane.open_button.isVisible()
    pane.show_lift(False)
    assert pane.key == FIGURES
    assert pane.stack.currentWidget() is pane.figures
    assert pane.beside_of(line(pane)) is None


def test_a_typed_lift_is_one_row_more_and_a_fault_is_told_at_it(pane: LowerPane) -> None:
    show(pane, DURATIONS)
    before = labels(pane)
    pane.extra.edit.take("0.030")
    show(pane, DURATIONS)
    assert set(labels(pane)) - set(before) == {"At 0.030\u2009in"}
    pane.extra.edit.take("3 lbf")
    show(pane, DURATIONS)
    assert pane.message.text.text().startswith("Wrong: ")
    assert labels(pane) == before


def test_valve_and_lobe_have_their_own_durations(pane: LowerPane) -> None:
    show(pane, DURATIONS)
    at_valve = pane.lobes.figures.figures
    pane.comparison.look_at(LOBE)
    show(pane, DURATIONS)
    assert pane.lobes.figures.figures != at_valve
    assert "Off the base circle" in labels(pane)


def test_enter_tells_a_row_as_a_sentence(pane: LowerPane, qtbot: QtBot) -> None:
    show(pane, DURATIONS)
    with qtbot.waitSignal(pane.said) as said:
        QTest.keyClick(pane.lobes, Key.Key_Return)
    assert "deg of the crank" in said.args[0]


def test_rows_are_made_anew_only_where_the_lift_is_another(pane: LowerPane) -> None:
    show(pane, DURATIONS)
    before = pane._rows_made
    pane.session.set_field("spring.installed_height", "1.840 in")
    show(pane, DURATIONS)
    assert pane._rows_made is before
    pane.session.set_field("valve_gear.lobe_lift", "0.335 in")
    show(pane, DURATIONS)
    assert pane._rows_made is not before


# Another lobe


def test_lines_laws_and_a_table_can_stand_beside(pane: LowerPane) -> None:
    keys = [key for _, key in pane.comparison.choices()]
    assert keys == [NOTHING, f"{LINE}exhaust", *(f"{LAW}{law}" for law in LAWS)]
    show(pane, LOBES)
    assert "Choose what stands beside" in pane.needs.text()
    pane.comparison.choose(f"{LINE}exhaust")
    show(pane, LOBES)
    assert pane.lobes.figures.figures.coils == ("Intake", "Exhaust", "Difference")
    pane.session.choose_line("exhaust")
    show(pane, LOBES)  # the exhaust cannot stand beside itself
    assert pane.stack.currentWidget() is pane.needs
    pane.comparison.choose(f"{LAW}cycloidal")
    show(pane, LOBES)
    assert pane.lobes.figures.figures.coils[1] == "The law cycloidal"


def test_a_table_stands_beside_on_this_lines_gear_and_the_job_stays(pane: LowerPane) -> None:
    job = pane.session.job
    pane.comparison.take(Table(rows=ROWS, angle="cam", side="lobe", name="wheel 7"))
    show(pane, LOBES)
    assert pane.session.job is job
    assert pane.comparison.choice == TABLE
    assert ("wheel 7", TABLE) in pane.comparison.choices()
    other = pane.beside_of(line(pane))
    assert other is not None
    assert other.lift is not None
    ratio = line(pane).value("ratio")
    assert ratio is not None
    assert float(other.lift(0.0)) == pytest.approx(8e-3 * ratio, rel=2e-3)
    pane.session.set_field("valve_gear.rocker_ratio", "1.5")
    other = pane.beside_of(line(pane))
    assert other is not None
    assert other.lift is not None
    assert float(other.lift(0.0)) == pytest.approx(8e-3 * 1.5, rel=2e-3)


def test_a_table_that_gives_no_lift_says_so(pane: LowerPane) -> None:
    rows = (*ROWS[:20], ROWS[19], *ROWS[20:])
    pane.comparison.take(Table(rows=rows, angle="cam", side="lobe", name="wheel 7"))
    show(pane, LOBES)
    assert "faults" in pane.needs.text()


def test_another_job_has_nothing_beside_it(pane: LowerPane) -> None:
    pane.comparison.choose(f"{LAW}harmonic")
    pane.session.reload(pair(), None)
    assert pane.comparison.choice == NOTHING


# The pictures


def both(pane: LowerPane) -> Seen:
    own = line(pane)
    return Seen(motion=own.motion, beside=pane.comparison.beside(own))


@pytest.mark.parametrize("side", [VALVE, LOBE])
def test_two_lobes_lie_over_one_another(pane: LowerPane, side: str) -> None:
    pane.comparison.choose(f"{LINE}exhaust")
    pane.comparison.look_at(side)
    seen = both(pane)
    told = overlay_picture(seen, Style.METRIC)
    assert told is not None
    shown, other = seen.motion.shown, pane.session.state.analysis.line("exhaust").motion.shown
    assert shown is not None
    assert other is not None
    for chart, order in zip((told.charts[0], *told.charts[2:]), range(4), strict=True):
        scale = 1e3 * math.radians(1) ** order
        for stroke, rows in zip(chart.strokes[1:], (other, shown), strict=True):
            wanted = rows.valve if side == VALVE else rows.lobe
            assert stroke.ys == pytest.approx(wanted[order] * scale, abs=1e-9)
    names = [stroke.name.texts[0] for stroke in told.charts[0].strokes if stroke.name]
    assert sorted(names) == ["exhaust", "intake"]
    said = overlay_read_out(seen, 0.0, Style.METRIC)
    assert "intake" in said
    assert "exhaust" in said


def test_a_law_says_what_it_was_made_like(pane: LowerPane) -> None:
    pane.comparison.choose(f"{LAW}4-5-6-7")
    told = overlay_picture(both(pane), Style.INCH_POUND)
    assert told is not None
    assert "its duration at 0.050\u2009in of lobe lift" in " ".join(told.notes)


def test_without_another_lobe_the_picture_is_that_of_the_line(pane: LowerPane, qtbot: QtBot) -> None:
    assert overlay_picture(both(pane), Style.METRIC) is None
    view = LiftView(pane.session)
    qtbot.addWidget(view)
    view.resize(620, 380)
    view.show()
    view.show_seen(both(pane))
    assert "Dashed: follower" in " ".join(view.told.notes)
    pane.comparison.choose(f"{LINE}exhaust")
    view.show_seen(both(pane))
    assert "Dashed: exhaust" in " ".join(view.told.notes)
    rows = list(csv.reader(io.StringIO(csv_of(view).decode("utf-8-sig"))))
    assert rows[0][2].startswith("intake_lift_")
    assert len(rows[0]) == 10
    lifts = np.array([float(row[6]) for row in rows[1:]])
    assert lifts.max() == pytest.approx(0.348 * 1.7, rel=1e-3)


# The window that reads a table


@pytest.fixture
def dialog(qtbot: QtBot, session: Session) -> CompareDialog:
    made = CompareDialog(session, Settings())
    made.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose, False)
    qtbot.addWidget(made)
    made.show()
    return made


def text_of(rows: tuple[tuple[str, str], ...]) -> str:
    head = "cam angle deg\tlobe lift mm\n"
    return head + "".join(f"{angle.split()[0]}\t{lift.split()[0]}\n" for angle, lift in rows)


def test_a_table_is_handed_over_and_the_job_is_not_touched(dialog: CompareDialog, qtbot: QtBot) -> None:
    job = dialog.session.job
    with qtbot.waitSignal(dialog.read):
        dialog.read_pasted(text_of(ROWS))
    dialog.angle.box.setCurrentIndex(dialog.angle.box.findData("cam"))
    dialog.side.box.setCurrentIndex(dialog.side.box.findData("lobe"))
    dialog._judge()
    dialog.name.setText("wheel 7")
    assert dialog.import_button.text() == "&Compare"
    with qtbot.waitSignal(dialog.handed) as said:
        dialog.import_button.click()
    rows, angle, side, name = said.args
    assert len(rows) == len(ROWS)
    assert (angle, side, name) == ("cam", "lobe", "wheel 7")
    assert dialog.session.job is job
    assert dialog.session.undo_stack.count() == 0


def test_a_table_with_faults_is_not_handed_over(dialog: CompareDialog, qtbot: QtBot) -> None:
    spiked = list(ROWS)
    spiked[30] = (spiked[30][0], "14.0 mm")
    with qtbot.waitSignal(dialog.read):
        dialog.read_pasted(text_of(tuple(spiked)))
    dialog.angle.box.setCurrentIndex(dialog.angle.box.findData("cam"))
    dialog.side.box.setCurrentIndex(dialog.side.box.findData("lobe"))
    dialog._judge()
    assert not dialog.import_button.isEnabled()
    assert "faults" in dialog.message.text.text()


def test_the_pane_opens_it_once_and_takes_what_it_hands_over(pane: LowerPane, qtbot: QtBot) -> None:
    show(pane, LOBES)
    QTest.mouseClick(pane.open_button, Qt.MouseButton.LeftButton)
    opened = pane._dialog
    assert opened is not None
    pane.open_table()
    assert pane._dialog is opened
    opened.handed.emit(ROWS, "cam", "lobe", "wheel 7")
    assert pane.comparison.table is not None
    assert pane.comparison.table.name == "wheel 7"
    pane.shutdown()
    assert pane._dialog is None
