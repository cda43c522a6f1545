"""The gauge: what is drawn where, the handle as one undo step, the read-out, paper."""

from __future__ import annotations

import itertools
from collections.abc import Callable
from pathlib import Path
from typing import TYPE_CHECKING

import pytest
from PySide6.QtCore import QPoint, Qt
from PySide6.QtGui import QGuiApplication, QImage

from loadbench.findings.finding import Level
from loadbench.job.model import Job
from loadbench.units import Style
from tests.ui.setting.setting_jobs import BUCKET, SOLID, setting_job
from ui.session import Session
from ui.setting.gauge_drawn import Drawn
from ui.setting.gauge_view import GaugeView

if TYPE_CHECKING:
    from pytestqt.qtbot import QtBot

INCH = 0.0254
Opened = Callable[[Job], GaugeView]


@pytest.fixture
def opened(qtbot: QtBot) -> Opened:
    def show(job: Job) -> GaugeView:
        session = Session(job)
        view = GaugeView(session)
        qtbot.addWidget(view)
        session.changed.connect(lambda state: view.show_state(state, session.line))
        view.resize(620, 520)
        view.show_state(session.state, session.line)
        view.show()
        view.activateWindow()
        qtbot.waitExposed(view)
        qtbot.waitUntil(view.isActiveWindow)
        return view

    return show


def drawn(view: GaugeView) -> Drawn:
    found = view.scale.item.drawn
    assert found is not None
    return found


def test_depth_stands_below_zero_cold_left_and_warm_right(opened: Opened) -> None:
    picture = drawn(opened(setting_job()))
    cold, warm = picture.columns[0].halves
    assert picture.depth
    assert cold.at == pytest.approx(-0.013)
    assert warm.at == pytest.approx(-0.013 + 0.006 / 1.6)
    assert picture.floor == pytest.approx(-0.060)
    assert picture.turn == pytest.approx(1 / 24)
    assert picture.screw == cold.at
    assert picture.warm_least == pytest.approx(-0.005)


def test_bands_fill_the_scale_without_a_gap_and_are_named(opened: Opened) -> None:
    picture = drawn(opened(setting_job()))
    bands = sorted(picture.columns[0].bands, key=lambda band: band.low)
    assert [band.level for band in bands] == ["stop", "watch", "clear", "watch", "stop"]
    assert bands[0].low == picture.low
    assert bands[-1].high == picture.high
    assert all(one.high == other.low for one, other in itertools.pairwise(bands))
    assert bands[2].text == "Clear: 0.010 to 0.015"


def test_lash_stands_above_zero(opened: Opened) -> None:
    picture = drawn(opened(setting_job(SOLID)))
    cold, warm = picture.columns[0].halves
    assert not picture.depth
    assert cold.at == pytest.approx(0.016)
    assert warm.at == pytest.approx(0.022)
    assert picture.turn == pytest.approx(1.6 / 24)


def test_a_bucket_has_no_screw(opened: Opened) -> None:
    view = opened(setting_job(BUCKET))
    assert drawn(view).screw is None
    assert not view.scale.plot.getAxis("right").isVisible()
    assert "adjuster" not in view.notes.text()


def test_the_axes_count_down_from_zero_in_the_units_on_show(opened: Opened) -> None:
    view = opened(setting_job())
    assert view.scale.depth_axis.words == "Plunger depth, in"
    assert view.scale.depth_axis.tickStrings([-0.02, 0.0, 0.01], 1.0, 0.01) == ["0.02", "0", "\u22120.01"]
    assert view.scale.turns_axis.tickStrings([-1 / 24, 0.0], 1.0, 1 / 24) == ["1", "0"]
    view.session.set_style(Style.METRIC)
    view.show_state(view.session.state, "common")
    assert view.scale.depth_axis.words == "Plunger depth, mm"
    assert drawn(view).columns[0].halves[0].at == pytest.approx(-0.3302)


def test_turns_are_marked_where_there_is_room(opened: Opened) -> None:
    axis = opened(setting_job()).scale.turns_axis
    ((spacing, places),) = axis.tickValues(-0.06, 0.0, 400)
    assert spacing == 0.25
    assert places[-1] == 0.0
    assert axis.tickValues(-0.06, 0.0, 30)[0][0] > 0.25


def test_the_view_stays_where_the_user_zoomed(opened: Opened) -> None:
    view = opened(setting_job())
    box = view.scale.plot.getViewBox()
    view.scale.zoomed = True
    box.setYRange(-0.02, 0.0, padding=0)
    view.session.set_fields("depth", {"follower.preload.depth": "0.040 in"})
    assert box.viewRange()[1] == [-0.02, 0.0]
    view.reset_view()
    assert box.viewRange()[1] == pytest.approx([drawn(view).low, drawn(view).high])


# The handle


def test_keys_on_the_handle_change_the_depth_as_one_step(opened: Opened, qtbot: QtBot) -> None:
    view = opened(setting_job())
    view.grip.setFocus()
    for _ in range(3):
        qtbot.keyClick(view.grip, Qt.Key.Key_Down)
    qtbot.keyClick(view.grip, Qt.Key.Key_Up)
    session = view.session
    assert session.job.follower.preload.depth == "0.015 in"
    assert session.undo_stack.count() == 1
    assert session.undo_stack.undoText() == "set plunger depth"
    session.undo_stack.undo()
    assert session.job.follower.preload.depth == "0.013 in"


def test_a_drag_is_one_step_and_esc_takes_it_back(opened: Opened, qtbot: QtBot) -> None:
    view = opened(setting_job())
    middle = view.grip.rect().center()
    place, down = view.grip.pos(), round(0.010 / view.scale.height_per_pixel())
    qtbot.mousePress(view.grip, Qt.MouseButton.LeftButton, pos=middle)
    qtbot.mouseMove(view.grip, middle + QPoint(0, down))
    view.session._show_preview()
    qtbot.waitUntil(lambda: view.session.state.job.follower.preload.depth != "0.013 in")
    qtbot.mouseRelease(view.grip, Qt.MouseButton.LeftButton, pos=middle)
    depth = view.session.job.follower.preload.depth
    assert depth is not None
    assert 0.022 <= float(depth.split()[0]) <= 0.024
    assert view.session.undo_stack.count() == 1
    assert view.grip.pos().y() > place.y()
    qtbot.mousePress(view.grip, Qt.MouseButton.LeftButton, pos=middle)
    view.grip.pulled.emit(-30)
    view.grip.let_go.emit(False)
    assert view.session.job.follower.preload.depth == depth
    assert view.session.undo_stack.count() == 1


def test_the_handle_stops_on_the_bottom_and_at_zero_lash_and_says_so(opened: Opened) -> None:
    view, said = opened(setting_job()), list[str]()
    view.said.connect(said.append)
    view.handle.nudge(200)
    assert view.session.job.follower.preload.depth == "0.060 in"
    assert said[-1] == "The plunger stands on its bottom."
    view.handle.nudge(-200)
    assert view.session.job.follower.preload.depth == "0.000 in"
    assert said[-1] == "Zero lash: there is no preload."


def test_where_turns_are_stated_the_turns_change(opened: Opened) -> None:
    view = opened(setting_job({"follower.preload.depth": None, "follower.preload.turns": 0.5}))
    view.handle.nudge(5)
    preload = view.session.job.follower.preload
    assert preload.depth is None
    assert preload.turns == pytest.approx((0.5 / 24 + 0.005) * 24, abs=0.02)


def test_the_handle_moves_the_lash_up_as_it_is_stated(opened: Opened, qtbot: QtBot) -> None:
    view = opened(setting_job(SOLID | {"valve_gear.lash_at": "hot"}))
    view.grip.setFocus()
    qtbot.keyClick(view.grip, Qt.Key.Key_Up)
    assert view.session.job.valve_gear.lash == "0.017 in"
    assert drawn(view).columns[0].halves[1].at == pytest.approx(0.017)
    assert view.session.undo_stack.undoText() == "set lash"


def test_a_lines_own_lash_is_what_its_handle_moves(opened: Opened) -> None:
    job = setting_job(SOLID | {"lines.exhaust.valve_gear.lash": "0.018 in"})
    view = opened(job)
    view.session.choose_line("exhaust")
    view.show_state(view.session.state, "exhaust")
    view.handle.nudge(1)
    gear = view.session.job.lines.exhaust
    assert gear is not None
    assert (gear.valve_gear.lash, view.session.job.valve_gear.lash) == ("0.019 in", "0.016 in")


def test_without_a_depth_there_is_no_handle_and_what_lacks_is_told(opened: Opened) -> None:
    view = opened(setting_job({"follower.preload.depth": None, "valve_gear.head": None}))
    assert not view.grip.isVisible()
    assert "Waits for: plunger depth" in view.notes.text()
    assert "Warm waits for: head" in view.notes.text()


def test_the_handle_has_a_name_a_value_and_a_tip(opened: Opened) -> None:
    grip = opened(setting_job()).grip
    assert grip.accessibleName() == "Plunger depth, cold"
    assert grip.accessibleDescription().replace("\u2009", " ") == "0.013 in"
    assert "Up and Down" in grip.toolTip()
    assert grip.width() >= 24


# Read-out and paper


def test_arrow_keys_read_the_scale_out(opened: Opened, qtbot: QtBot) -> None:
    view, said = opened(setting_job()), list[str]()
    view.said.connect(said.append)
    qtbot.keyClick(view.scale, Qt.Key.Key_Down)
    told = said[-1].replace("\u2009", " ")
    assert told == "Depth 0.014 in, 0.34 turns, 0.046 in left, Clear"
    qtbot.keyClick(view.scale, Qt.Key.Key_C, Qt.KeyboardModifier.ControlModifier)
    assert QGuiApplication.clipboard().text() == said[-1]
    view._hovered(0.0)
    assert said[-1].endswith("Stop")


def test_the_picture_says_what_it_shows(opened: Opened) -> None:
    scale = opened(setting_job()).scale
    assert scale.accessibleName() == "Travel gauge"
    told = scale.accessibleDescription().replace("\u2009", " ")
    assert told == "Plunger depth: cold 0.013 in, warm 0.009 in of 0.060 in travel. Clear."


@pytest.mark.parametrize("ending", [".png", ".svg", ".pdf", ".csv"])
def test_the_picture_and_the_data_behind_are_saved(opened: Opened, tmp_path: Path, ending: str) -> None:
    view = opened(setting_job())
    size = view.scale.size()
    view.save_picture_as(tmp_path / f"gauge{ending}")
    data = (tmp_path / f"gauge{ending}").read_bytes()
    if ending == ".csv":
        text = data.decode("utf-8-sig")
        assert text.splitlines()[0] == "what,value_in,to_in"
        assert "cold,0.013," in text
        assert "clear,0.01,0.015" in text
    else:
        assert len(data) > 2000
    assert view.scale.size() == size


def test_the_picture_is_copied(opened: Opened) -> None:
    view = opened(setting_job())
    view.copy_picture()
    image: QImage = QGuiApplication.clipboard().image()
    assert image.width() > 1000


def test_levels_of_the_gauge_are_those_of_the_rules(opened: Opened) -> None:
    gauge = opened(setting_job()).gauge
    assert gauge is not None
    assert gauge.level_at(0.013 * INCH) is Level.CLEAR
