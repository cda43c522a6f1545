"""The worksheet: ways, turns, shims and pushrods of every valve, orders, and what it waits for."""

from __future__ import annotations

import json
from typing import Any

import pytest

from loadbench.analysis import analyse
from loadbench.assembly.setting_result import SettingSheet, Way
from loadbench.assembly.setting_sheet import setting_sheet, turn_words, way_of
from loadbench.findings.finding import Level
from loadbench.job.reading_in import job_from_text
from loadbench.units import Style

GEAR = {"rocker_ratio": 1.5, "lash": "0.40 mm", "adjuster": {"at": "pivot", "thread": "M8x1"}}


def job(**parts: Any) -> Any:
    tree = {"format": "loadbench-job", "version": 4, "title": "t", "units": "metric", "valve_gear": GEAR} | parts
    return analyse(job_from_text(json.dumps(tree)))


def sheet(order: Any = "cylinder", **parts: Any) -> SettingSheet:
    return setting_sheet(job(**parts), order)


@pytest.mark.parametrize(
    ("follower", "adjuster", "way"),
    [
        ({"family": "roller-solid"}, "pivot", Way.LASH),
        ({"family": "bucket"}, "bucket-shim", Way.BUCKET_SHIM),
        ({"family": "roller-hydraulic"}, "none", Way.PUSHROD_LENGTH),
        ({"family": "roller-hydraulic"}, "pivot", Way.PRELOAD_CUSTOM),
        ({"family": "roller-hydraulic", "preload": {"way": "minimal"}}, "pivot", Way.PRELOAD_MINIMAL),
        ({"family": "roller-hydraulic", "preload": {"way": "bottomed"}}, "pivot", Way.PRELOAD_BOTTOMED),
        ({}, "pivot", None),
    ],
)
def test_the_way_goes_by_family_and_adjuster(follower: dict[str, Any], adjuster: str, way: Way | None) -> None:
    gear = {"adjuster": {"at": adjuster, "thread": "M8x1"}}
    assert way_of(job(follower=follower, valve_gear=gear)) is way


def test_lash_is_closed_by_turning_in() -> None:
    # A pivot with R 1.5: one turn of 1 mm lowers the cup by 1.6667 mm, 2.5 mm at the valve; 0.10 mm are 0.04 turn.
    valves = [
        {"id": "1", "lash_found": "0.50 mm"},
        {"id": "2", "lash_found": "0.30 mm"},
        {"id": "3", "lash_found": "0.41 mm"},
    ]
    rows = sheet(follower={"family": "roller-solid"}, valves=valves).rows
    assert [row.turns for row in rows] == pytest.approx([0.04, -0.04, 0.0])
    assert [str(row.level) for row in rows] == ["watch", "watch", "clear"]
    assert rows[0].do.told(Style.METRIC).replace("\u2009", " ").startswith("Turn in by 14")
    assert rows[1].do.told(Style.METRIC).startswith("Turn out by")
    assert rows[2].do.told(Style.METRIC) == "Leave it."


def test_a_valve_without_lash_stops_and_an_unmeasured_one_waits() -> None:
    valves = [{"id": "1", "lash_found": "0 mm"}, {"id": "2"}]
    rows = sheet(follower={"family": "roller-solid"}, valves=valves).rows
    assert (str(rows[0].level), str(rows[1].level)) == ("stop", "unknown")
    assert rows[1].missing == ("valves.1.lash_found",)


def test_a_valves_own_lash_wins() -> None:
    valves = [{"id": "1", "lash": "0.50 mm", "lash_found": "0.50 mm"}]
    assert str(sheet(follower={"family": "roller-solid"}, valves=valves).rows[0].level) == "clear"


def preload(way: str, **more: Any) -> dict[str, Any]:
    return {
        "family": "roller-hydraulic", "travel": "short", "plunger": {"travel": "1.5 mm"},
        "preload": {"way": way, "depth": "0.33 mm"},
    } | more  # fmt: skip


def test_preload_counts_from_zero_lash_or_from_what_was_found() -> None:
    valves = [{"id": "1"}, {"id": "2", "depth_found": "0.20 mm"}, {"id": "3", "depth_found": "0.33 mm"}]
    rows = sheet(follower=preload("minimal"), valves=valves).rows
    assert [row.turns for row in rows] == pytest.approx([0.33 / 1.66667, 0.13 / 1.66667, 0.0], rel=1e-4)
    assert rows[0].do.told(Style.METRIC).startswith("From zero lash: turn in")
    assert [row.level for row in rows] == [Level.UNKNOWN, Level.WATCH, Level.CLEAR]
    assert rows[0].missing == ("valves.0.depth_found",)
    assert rows[1].missing == ()


def test_degrees_and_turns_of_an_instruction_agree() -> None:
    said = turn_words(0.312).told(Style.METRIC).replace("\u2009", " ")
    assert said == "Turn in by 112.3 deg (0.312 turn)."


def test_a_bottomed_plunger_is_backed_off_from_its_own_travel() -> None:
    valves = [{"id": "1", "plunger_travel": "1.40 mm"}, {"id": "2"}]
    rows = sheet(follower=preload("bottomed"), valves=valves).rows
    assert rows[0].wanted == pytest.approx(1.40e-3 - 1.17e-3)
    assert rows[0].turns == pytest.approx(-1.17 / 1.66667, rel=1e-4)
    assert rows[1].missing == ("valves.1.plunger_travel",)


def test_a_pushrod_from_stock_where_nothing_turns() -> None:
    gear = {"rocker_ratio": 1.5, "adjuster": {"at": "none"}, "pushrod": {"length": "180 mm"}}
    valves = [{"id": "1", "depth_found": "0.80 mm"}]
    parts = {"follower": preload("custom"), "valve_gear": gear, "valves": valves}
    bare = sheet(**parts).rows[0]
    assert bare.pushrod == pytest.approx(180e-3 - 0.47e-3)
    assert bare.buy
    stocked = sheet(**parts, pushrods_in_stock=["179.0 mm", "179.6 mm", "181 mm"]).rows[0]
    assert (stocked.pushrod, stocked.after) == pytest.approx((179.6e-3, 0.40e-3))


def test_firing_order_puts_the_cylinders_as_they_fire() -> None:
    valves = [{"id": f"{cylinder}{side}"} for cylinder in (1, 2, 3, 4) for side in "IE"]
    parts = {
        "follower": {"family": "roller-solid"},
        "valves": valves,
        "engine": {"cylinders": 4, "firing_order": [1, 3, 4, 2]},
    }
    assert [row.valve for row in sheet("firing", **parts).rows] == ["1I", "1E", "3I", "3E", "4I", "4E", "2I", "2E"]
    assert [row.cylinder for row in sheet("cylinder", **parts).rows] == [1, 1, 2, 2, 3, 3, 4, 4]


def test_buckets_take_shims_from_each_other_and_tell_what_to_buy() -> None:
    gear = {"lash": "0.20 mm", "adjuster": {"at": "bucket-shim"}}
    valves = [
        {"id": "1", "lash_found": "0.30 mm", "bucket_shim": "2.50 mm"},
        {"id": "2", "lash_found": "0.10 mm", "bucket_shim": "2.60 mm"},
        {"id": "3", "lash_found": "0.40 mm", "bucket_shim": "2.50 mm"},
        {"id": "4", "lash_found": "0.20 mm"},
    ]
    found = sheet(follower={"family": "bucket"}, valve_gear=gear, valves=valves)
    rows = {row.valve: row for row in found.rows}
    assert (rows["1"].shim_from, rows["2"].shim_from) in (("2", "1"), ("2", "3"))
    assert rows["3"].buy
    assert found.to_buy == pytest.approx((2.70e-3,))
    assert rows["4"].missing == ("valves.3.bucket_shim",)


def test_a_count_below_zero_is_told_at_its_field() -> None:
    gear = {"lash": "0.20 mm", "adjuster": {"at": "bucket-shim"}}
    valves = [{"id": "1", "lash_found": "0.30 mm", "bucket_shim": "2.50 mm"}]
    parts = {"bucket_shims_in_stock": ["2.6 mm"], "bucket_shim_counts": [-1]}
    found = sheet(follower={"family": "bucket"}, valve_gear=gear, valves=valves, **parts)
    assert [problem.place.field for problem in found.problems] == ["bucket_shim_counts.0"]


@pytest.mark.parametrize(("lash", "level"), [("2.65 mm", Level.WATCH), ("3.50 mm", Level.STOP)])
def test_a_lash_that_no_shim_reaches_is_told(lash: str, level: Level) -> None:
    """Old 2.5 and found 0.3 mm give at most 2.75 mm, with the thinnest shim of 0.05."""
    gear = {"lash": lash, "adjuster": {"at": "bucket-shim"}}
    valves = [{"id": "1", "lash_found": "0.30 mm", "bucket_shim": "2.50 mm"}]
    (row,) = sheet(follower={"family": "bucket"}, valve_gear=gear, valves=valves).rows
    assert row.level is level
    assert ("No shim comes near" in row.do.template) == (level is Level.STOP)


def test_the_lever_tells_the_shortcuts_error() -> None:
    lever = sheet(follower={"family": "roller-solid"}, valves=[{"id": "1"}]).lever
    assert lever is not None
    assert (lever.exact, lever.pitch_times_ratio) == pytest.approx((1.66667e-3, 1.5e-3), rel=1e-4)
