"""The full sweep on the Motion page: asked for, worked out beside the window, kept, and told where it cannot be had."""

from __future__ import annotations

import csv
import io
import math
import threading
from collections.abc import Callable, Iterator
from typing import TYPE_CHECKING, Any

import numpy as np
import pytest
from PySide6.QtCore import QEvent, Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QWidget

from loadbench.analysis.motion import dynamics
from loadbench.analysis.motion.dynamics import run_dynamics
from loadbench.analysis.motion.result import Dynamics
from loadbench.analysis.own_follower import MASS, full_motion
from loadbench.errors import Cancelled
from loadbench.units import Kind, Style, to_display
from tests.ui.motion.made import RPM
from tests.ui.spring.spring_jobs import pair
from ui.motion import full_sweep, speeds_charts, speeds_rows
from ui.motion.band_marks import slack_sentence
from ui.motion.full_bar import FullBar
from ui.motion.full_sweep import FullSweep
from ui.motion.seen import Seen
from ui.motion.speeds_view import SpeedsView
from ui.session import Session
from ui.spring.chart_export import csv_of

if TYPE_CHECKING:
    from pytestqt.qtbot import QtBot

LONG = 30_000
METRIC = Style.METRIC
SPEEDS = np.arange(5000.0, 8001.0, 500.0) * RPM


class Slow:
    """A run that waits until it is let go, or is cancelled."""

    def __init__(self, monkeypatch: pytest.MonkeyPatch) -> None:
        self.begun, self.go, self.cancelled = threading.Event(), threading.Event(), threading.Event()
        self.threads: list[str] = []
        monkeypatch.setattr(full_sweep, "run_dynamics", self)

    def __call__(self, motion: Any, *, progress: Callable[[float], None], **given: Any) -> Any:
        self.threads.append(threading.current_thread().name)
        self.begun.set()
        while not self.go.wait(0.005):
            try:
                progress(0.4)
            except Cancelled:
                self.cancelled.set()
                raise
        return run_dynamics(motion, progress=progress, **given)


class Stand:
    """A window with the choice in it."""

    def __init__(self, session: Session) -> None:
        self.session, self.window = session, QWidget()
        self.full = FullSweep(session, self.window)
        self.bar = FullBar(self.full, self.window)
        self.bar.stop_from(self.window)


@pytest.fixture
def stand(qtbot: QtBot, monkeypatch: pytest.MonkeyPatch) -> Iterator[Callable[..., Stand]]:
    monkeypatch.setattr(dynamics, "STEP", 1000 * RPM)
    monkeypatch.setattr("ui.motion.full_bar.SHOW_AFTER_MS", 10)
    made: list[Stand] = []

    def make(**changes: Any) -> Stand:
        own = Stand(Session(pair(**changes)))
        made.append(own)
        own.window.resize(620, 60)
        own.window.show()
        qtbot.waitExposed(own.window)
        return own

    yield make
    for each in made:
        each.full.shutdown()
        each.window.close()
        each.window.deleteLater()
    QApplication.sendPostedEvents(None, QEvent.Type.DeferredDelete)


# The choice


def test_it_is_worked_out_when_it_is_chosen_and_only_then(stand: Callable[..., Stand], qtbot: QtBot) -> None:
    own = stand()
    assert own.bar.choice.isEnabled()
    assert not own.full.busy
    own.bar.choice.setFocus()
    QTest.keyClick(own.bar.choice, Qt.Key.Key_Space)
    qtbot.waitUntil(lambda: own.full.shown is not None, timeout=LONG)
    found = own.full.shown
    assert found is not None
    assert found.found.tip is not None
    assert not own.full.stale
    assert own.bar.word.text() == ""
    QTest.keyClick(own.bar.choice, Qt.Key.Key_Space)
    assert not own.full.wanted
    QTest.keyClick(own.bar.choice, Qt.Key.Key_Space)
    assert own.full.shown is found  # it was kept


def test_it_is_kept_until_the_entries_change_and_then_told_as_of_earlier_ones(
    stand: Callable[..., Stand], qtbot: QtBot
) -> None:
    own = stand()
    own.full.want(True)
    qtbot.waitUntil(lambda: own.full.shown is not None, timeout=LONG)
    before = own.full.shown
    own.session.set_field("customer", "somebody")
    assert not own.full.stale
    own.session.set_field("spring.installed_height", "1.820 in")
    own.bar.follow()
    assert own.full.shown is before
    assert own.full.stale
    assert not own.full.busy
    assert own.bar.word.text() == "Of earlier entries."
    assert own.bar.button.text() == "Work out anew"
    own.session.undo_stack.undo()  # the entries that it is of
    assert not own.full.stale
    own.session.set_field("spring.installed_height", "1.820 in")
    QTest.mouseClick(own.bar.button, Qt.MouseButton.LeftButton)
    qtbot.waitUntil(lambda: not own.full.stale, timeout=LONG)
    assert own.full.shown is not before


def test_progress_is_told_off_the_windows_thread_and_esc_stops_it(
    stand: Callable[..., Stand], qtbot: QtBot, monkeypatch: pytest.MonkeyPatch
) -> None:
    slow, own = Slow(monkeypatch), stand()
    own.full.want(True)
    qtbot.waitUntil(own.bar.progress.isVisible)
    qtbot.waitUntil(lambda: own.bar.progress.value() == 40)
    assert slow.threads[0].startswith("loadbench-desk")
    assert own.bar.button.text() == "Cancel"
    own.window.activateWindow()
    own.bar.choice.setFocus()
    qtbot.waitUntil(own.bar.choice.hasFocus)
    QTest.keyClick(own.bar.choice, Qt.Key.Key_Escape)
    assert slow.cancelled.wait(2.0)
    assert own.full.shown is None
    assert own.bar.word.text() == "Stopped."
    assert own.bar.button.text() == "Go on"
    slow.go.set()
    own.bar.button.click()
    qtbot.waitUntil(lambda: own.full.shown is not None, timeout=LONG)


def test_an_edit_under_way_wins(
    stand: Callable[..., Stand], qtbot: QtBot, monkeypatch: pytest.MonkeyPatch
) -> None:  # fmt: skip
    slow, own = Slow(monkeypatch), stand()
    own.full.want(True)
    qtbot.waitUntil(slow.begun.is_set)
    own.session.set_field("spring.installed_height", "1.820 in")
    assert slow.cancelled.wait(2.0)
    slow.go.set()
    qtbot.waitUntil(lambda: own.full.shown is not None, timeout=LONG)
    assert not own.full.stale


def test_what_fails_is_told_and_can_be_tried_again(
    stand: Callable[..., Stand], qtbot: QtBot, monkeypatch: pytest.MonkeyPatch
) -> None:
    def broken(*_: Any, **__: Any) -> Any:
        raise ZeroDivisionError

    own = stand()
    monkeypatch.setattr(full_sweep, "run_dynamics", broken)
    own.full.want(True)
    qtbot.waitUntil(lambda: bool(own.full.failure))
    assert own.bar.word.text() == "The full sweep could not be worked out."
    monkeypatch.setattr(full_sweep, "run_dynamics", run_dynamics)
    own.bar.button.click()
    qtbot.waitUntil(lambda: own.full.shown is not None, timeout=LONG)


def test_without_the_followers_mass_it_is_greyed_with_the_reason_and_a_way_there(
    stand: Callable[..., Stand], qtbot: QtBot
) -> None:
    own = stand(**{MASS.replace(".", "__"): None})
    assert not own.bar.choice.isEnabled()
    assert "follower" in own.bar.word.text()
    assert own.bar.word.text() == own.bar.choice.toolTip()
    with qtbot.waitSignal(own.bar.field_wanted) as wanted:
        own.bar.button.click()
    assert wanted.args == [MASS]


def test_a_bucket_says_why_there_is_none(stand: Callable[..., Stand]) -> None:
    own = stand(follower__family="bucket", valve_gear__rocker_ratio=1.0)
    assert not own.bar.choice.isEnabled()
    assert own.bar.word.text().startswith("A bucket rides on the valve")
    assert not own.bar.button.isVisible()


def test_another_job_forgets_it(stand: Callable[..., Stand], qtbot: QtBot) -> None:
    own = stand()
    own.full.want(True)
    qtbot.waitUntil(lambda: own.full.shown is not None, timeout=LONG)
    own.session.reload(pair(spring__installed_height="1.840 in"), None)
    assert own.full.shown is None
    assert not own.bar.choice.isChecked()


# The picture and its tables


@pytest.fixture(scope="module")
def both() -> Seen:
    """One line swept both ways, with oil in its follower."""
    line = Session(pair()).state.analysis.line("common")
    full = full_motion(line)
    assert full.motion is not None, full.missing
    one, own = (run_dynamics(each, SPEEDS) for each in (line.motion, full.motion))
    assert isinstance(one, Dynamics)
    assert isinstance(own, Dynamics)
    return Seen(motion=line.motion, dynamics=one, full=own, speed=6000 * RPM, refined=True)


def test_full_curves_stand_before_the_pale_ones_of_one_mass(both: Seen) -> None:
    told = speeds_charts.speeds_picture(both, METRIC)
    assert both.full is not None
    assert both.dynamics is not None
    strokes = [each for each in told.charts[0].strokes if each.xs.size == SPEEDS.size]
    pale, bold = strokes[0], strokes[2]
    assert pale.look.faint
    assert pale.ys == pytest.approx(both.dynamics.found.peak_force)
    assert bold.ys == pytest.approx(both.full.found.peak_force)
    assert any("Pale: one mass" in note for note in told.notes)


def test_bands_of_lobe_linkage_and_seat_each_have_their_row(both: Seen) -> None:
    full = both.full
    assert full is not None
    assert full.found.tip is not None
    chart = speeds_charts.speeds_picture(both, METRIC).charts[1]
    rows = [round(float(np.mean(each.ys)), 6) for each in chart.shades]
    assert rows.count(2.0) == len(full.bands)
    assert rows.count(1.0) == len(full.slack_bands) > 0
    open_there = bool((full.found.tip.held_open > 0).any() or (full.found.bounce >= speeds_charts.BOUNCES).any())
    assert (0.0 in rows) is open_there
    says = speeds_charts.speeds_picture(both, METRIC).says
    assert says["slack 0"]() == slack_sentence(full.slack_bands[0], METRIC)


def test_the_plunger_is_drawn_as_far_as_it_pumps_up(both: Seen) -> None:
    assert both.full is not None
    tip = both.full.found.tip
    assert tip is not None
    assert tip.plunger_high.max() > 0
    chart = speeds_charts.speeds_picture(both, METRIC).charts[2]
    pumped = next(each for each in chart.strokes if each.xs.size == SPEEDS.size)
    assert pumped.ys.max() == pytest.approx(to_display(float(tip.plunger_high.max()), Kind.LENGTH, METRIC))


def test_the_table_speed_by_speed_tells_where_contact_is_lost(both: Seen) -> None:
    assert both.full is not None
    found = both.full.found
    assert found.tip is not None
    rows = speeds_rows.speed_table(both, METRIC)
    assert rows.figures.coils[0] == "Greatest, N"
    assert {"Linkage, N", "Open, mm", "Pumped, mm"} <= set(rows.figures.coils)
    for place, row in enumerate(rows.figures.rows):
        assert ("lobe" in row.note) is bool(found.lost[place])
        assert ("linkage" in row.note) is bool(found.tip.lost[place])
        assert row.cells[0].text == f"{found.peak_force[place]:.0f}"
    assert "linkage slack" in rows.says[f"speed {int(np.flatnonzero(found.tip.lost)[0])}"]


def test_without_the_full_sweep_the_table_has_one_mass_alone(both: Seen) -> None:
    own = Seen(motion=both.motion, dynamics=both.dynamics, speed=both.speed, refined=True)
    rows = speeds_rows.speed_table(own, METRIC)
    assert "Linkage, N" not in rows.figures.coils
    assert len(rows.figures.rows) == SPEEDS.size


def test_earlier_entries_are_told_beneath_the_picture(both: Seen) -> None:
    stale = Seen(motion=both.motion, dynamics=both.dynamics, full=both.full, full_stale=True, speed=both.speed)
    assert "of earlier entries" in speeds_charts.speeds_picture(stale, METRIC).notes[0]


def test_charts_that_come_back_have_their_height_before_they_are_painted(both: Seen, qtbot: QtBot) -> None:
    """Lines in a chart without height end in infinity, and Qt with them."""
    view = SpeedsView(Session(pair()))
    qtbot.addWidget(view)
    view.resize(620, 380)
    view.show()
    qtbot.waitExposed(view)
    view.show_seen(Seen(motion=both.motion, dynamics=both.dynamics, speed=both.speed, refined=True))
    view.grab()
    assert view.scale.hidden == speeds_charts.FULL_ONLY
    view.show_seen(both)
    assert all(plot.getViewBox().height() > 10 for plot in view.scale.plots)
    view.resize(620, 150)  # too low for all five
    view.grab()
    shown = [plot for plot in view.scale.plots if plot.isVisible()]
    assert len(shown) < 5
    assert all(plot.getViewBox().height() > 10 for plot in shown)


def test_the_view_shows_five_charts_and_hands_the_full_data_out(both: Seen, qtbot: QtBot) -> None:
    view = SpeedsView(Session(pair()))
    qtbot.addWidget(view)
    view.resize(620, 380)
    view.show()
    qtbot.waitExposed(view)
    view.show_seen(both)
    view.grab()
    assert view.scale.hidden == frozenset()
    rows = list(csv.reader(io.StringIO(csv_of(view).decode("utf-8-sig"))))
    assert {"linkage_slack"} <= set(rows[0])
    assert any(head.startswith("plunger_pumped") for head in rows[0])
    assert both.full is not None
    assert float(rows[1][1]) == pytest.approx(
        float(to_display(float(both.full.found.peak_force[0]), Kind.FORCE, view.session.style))
    )
    with qtbot.waitSignal(view.said) as said:
        QTest.keyClick(view.scale, Qt.Key.Key_Right)
    assert math.isfinite(both.speed)
    assert "linkage" in said.args[0]
