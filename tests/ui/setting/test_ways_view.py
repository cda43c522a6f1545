"""The three ways side by side, the lever with the shortcuts' errors, and the change from cold to warm."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import TYPE_CHECKING

import pytest
from PySide6.QtCore import Qt
from PySide6.QtGui import QGuiApplication

from loadbench.job.model import Job
from tests.ui.setting.setting_jobs import BUCKET, SOLID, setting_job
from ui.session import Session
from ui.setting.sheets import Sheets
from ui.setting.ways_view import WaysView
from ui.trust.list_table import ListTable

if TYPE_CHECKING:
    from pytestqt.qtbot import QtBot

Opened = Callable[[Job], WaysView]
LENGTHS = {
    "valve_gear.warming.cold": "20 degC",
    "valve_gear.warming.warm": "90 degC",
    "valve_gear.warming.head_height": "3.5 in",
    "valve_gear.warming.block_height": "5.5 in",
    "valve_gear.pushrod.length": "7.75 in",
}


@pytest.fixture
def opened(qtbot: QtBot) -> Opened:
    def show(job: Job) -> WaysView:
        session = Session(job)
        view = WaysView(session, Sheets())
        qtbot.addWidget(view)
        session.changed.connect(lambda state: view.show_state(state, session.line))
        view.resize(620, 560)
        view.show_state(session.state, session.line)
        view.show()
        qtbot.waitExposed(view)
        return view

    return show


def cells(table: ListTable) -> dict[str, tuple[str, ...]]:
    return {row.cells[0]: row.cells[1:] for row in table.model.listed.rows}


def test_each_way_has_its_depth_turns_and_what_is_left(opened: Opened) -> None:
    found = cells(opened(setting_job()).table)
    assert found["Depth cold, in"] == ("0.021 to 0.042", "0.010 to 0.015", "0.040 to 0.050")
    assert found["Turns"] == ("in 0.50 to 1.00", "in 0.24 to 0.36", "out 0.24 to 0.48")
    assert found["Travel left, in"][1:] == ("0.045 to 0.050", "0.010 to 0.020")
    assert found["Stands"] == ("Stop", "Clear", "Clear")
    assert found["Meant for"] == ("standard travel, not this one", "short travel", "short travel")


def test_a_level_has_its_sign_beside_the_word(opened: Opened) -> None:
    view = opened(setting_job())
    table = view.table.view
    row = next(at for at, each in enumerate(view.table.model.listed.rows) if each.cells[0] == "Stands")
    option = table.itemDelegate().__class__
    assert option.__name__ == "LevelDelegate"
    plain = table.grab(table.visualRect(view.table.model.index(row - 1, 2))).toImage()
    signed = table.grab(table.visualRect(view.table.model.index(row, 2))).toImage()
    assert plain != signed


def test_what_a_way_waits_for_stands_above(opened: Opened) -> None:
    view = opened(setting_job({"follower.plunger.travel": None, "valve_gear.adjuster.thread": None}))
    assert "plunger travel" in view.table.sentence.text()
    assert "adjuster thread" in view.table.sentence.text()


def test_the_way_in_use_is_chosen_as_one_step(opened: Opened, qtbot: QtBot) -> None:
    view = opened(setting_job())
    assert view.choice.key == "minimal"
    view.choice.buttons["bottomed"].click()
    assert view.session.job.follower.preload.way == "bottomed"
    assert view.session.undo_stack.count() == 1
    view.session.undo_stack.undo()
    assert view.choice.key == "minimal"
    assert view.session.undo_stack.count() == 1
    view.choice.buttons["minimal"].setFocus()
    qtbot.keyClick(view.choice.buttons["minimal"], Qt.Key.Key_Left)
    assert view.session.job.follower.preload.way == "custom"
    view.choice.choose("")
    assert view.session.job.follower.preload.way is None


def test_pitch_times_ratio_is_shown_with_its_error(opened: Opened) -> None:
    """At the pushrod one turn is the pitch: the shortcut at a ratio of 1.6 is 60 % off."""
    found = cells(opened(setting_job()).lever)
    assert found["Exact, by the lever\u2019s geometry"] == ("0.042", "\u2013")
    assert found["Shortcut: pitch \u00d7 ratio"] == ("0.067", "+60.0 %")


def test_at_the_pivot_the_exact_lever_differs_from_first_order(opened: Opened) -> None:
    arms = {"valve_gear.adjuster.at": "pivot", "valve_gear.adjuster.thread": "7/16-20",
            "valve_gear.masses.rocker_valve_arm": "40 mm", "valve_gear.adjuster.pushrod_arm": "25 mm",
            "valve_gear.adjuster.cup_angle": "15 deg"}  # fmt: skip
    found = cells(opened(setting_job(arms)).lever)
    assert found["Exact, by the lever\u2019s geometry"][1] == "\u2013"
    assert found["Arms in one line"][1].endswith("%")


def test_cold_to_warm_is_computed_beside_custom(opened: Opened) -> None:
    found = cells(opened(setting_job(LENGTHS)).change)
    assert found["By custom"] == ("+0.006", "\u22120.004")
    assert found["Computed from lengths and materials"][0].startswith("+")
    waiting = opened(setting_job())
    assert cells(waiting.change)["Computed from lengths and materials"] == ("\u2013", "\u2013")
    assert "temperature when warm" in waiting.change.sentence.text()


def test_a_solid_follower_has_lever_and_warming_but_no_ways(opened: Opened) -> None:
    view, told = opened(setting_job(SOLID)), list[str]()
    view.session.announced.connect(told.append)
    assert not view.picture.isVisible()
    assert not view.table.isVisible()
    assert view.lever.isVisible()
    view.copy_picture()
    assert told == ["There is no picture on show."]


def test_a_bucket_says_that_nothing_turns(opened: Opened) -> None:
    view = opened(setting_job(BUCKET))
    assert view.lever.sentence.text() == "A bucket has no adjuster: its shims set it."
    assert cells(view.change)["By custom"] == ("\u2013", "\u2013")


def test_the_picture_has_the_least_left_and_the_most_right(opened: Opened) -> None:
    drawn = opened(setting_job()).picture.scale.item.drawn
    assert drawn is not None
    assert [column.title for column in drawn.columns] == ["Half to one turn", "Minimal", "Bottomed"]
    assert [column.chosen for column in drawn.columns] == [False, True, False]
    halves = [[half.at for half in column.halves] for column in drawn.columns]
    assert halves[2] == pytest.approx([-0.040, -0.050])


def test_the_ways_are_saved_and_copied(opened: Opened, tmp_path: Path) -> None:
    view = opened(setting_job())
    view.save_picture_as(tmp_path / "ways.csv")
    text = (tmp_path / "ways.csv").read_text(encoding="utf-8-sig")
    assert text.splitlines()[0] == "Way,Half to one turn,Minimal,Bottomed"
    view.copy_table()
    assert QGuiApplication.clipboard().text().splitlines()[0] == "Way\tHalf to one turn\tMinimal\tBottomed"
    view.picture._hovered(-0.020)
    assert view.picture.last_said.replace("\u2009", " ") == "Depth 0.020 in"
