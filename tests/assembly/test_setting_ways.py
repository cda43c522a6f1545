"""The three ways of setting preload, and the gauge with its bands: what this job's adjuster and travel make of them."""

from __future__ import annotations

from typing import Any

import pytest

from loadbench.analysis import LineAnalysis, analyse
from loadbench.assembly.setting_gauge import Gauge, setting_gauge
from loadbench.assembly.setting_ways import WayShown, hot_change, setting_ways
from loadbench.findings.finding import Level
from loadbench.findings.rows import rows_in_force
from loadbench.findings.rulebook import RuleBook, rule_book
from tests.findings.jobs import job_with

INCH = 0.0254
PUSHROD = {"valve_gear.adjuster.at": "pushrod", "valve_gear.adjuster.thread": "3/8-24"}
SHORT = {"follower.travel": "short", "follower.plunger.travel": "0.060 in"}
STANDARD = {"follower.travel": "standard", "follower.plunger.travel": "0.160 in"}
ALLOY = {"valve_gear.block": "iron", "valve_gear.head": "aluminium"}


def analysed(changes: dict[str, Any], line: str | None = None) -> tuple[LineAnalysis, RuleBook]:
    analysis = analyse(job_with(changes))
    found = analysis.line(line)
    return found, rule_book(None, analysis.job.rules, analysis.stated.style, rows_in_force(found.stated))


def ways(changes: dict[str, Any]) -> tuple[WayShown, WayShown, WayShown]:
    custom, minimal, bottomed = setting_ways(*analysed(changes))
    return custom, minimal, bottomed


def gauge(changes: dict[str, Any]) -> Gauge:
    found = setting_gauge(*analysed(changes))
    assert found is not None
    return found


def inches(pair: tuple[float, float] | None) -> tuple[float, float]:
    assert pair is not None
    return pair[0] / INCH, pair[1] / INCH


# The ways


def test_custom_is_half_to_one_turn_of_this_thread() -> None:
    """3/8-24 at the pushrod moves the plunger by 1/24 in a turn."""
    custom, _, _ = ways(STANDARD | PUSHROD)
    assert custom.turns == (0.5, 1.0)
    assert inches(custom.depth) == pytest.approx((1 / 48, 1 / 24))
    assert inches(custom.left) == pytest.approx((0.160 - 1 / 24, 0.160 - 1 / 48))
    assert (custom.level, custom.suits) == ("clear", True)


def test_minimal_asks_for_the_rules_depth_and_says_the_turns_of_it() -> None:
    _, minimal, _ = ways(SHORT | PUSHROD)
    assert inches(minimal.depth) == pytest.approx((0.010, 0.015))
    assert minimal.turns == pytest.approx((0.24, 0.36))
    assert inches(minimal.left) == pytest.approx((0.045, 0.050))
    assert minimal.suits is True


def test_bottomed_is_backed_off_from_the_plungers_own_bottom() -> None:
    _, _, bottomed = ways(SHORT | PUSHROD)
    assert inches(bottomed.depth) == pytest.approx((0.040, 0.050))
    assert inches(bottomed.left) == pytest.approx((0.010, 0.020))
    assert bottomed.turns == pytest.approx((0.24, 0.48))


def test_a_warm_engine_with_an_alloy_head_takes_depth_off() -> None:
    """Cold less hot lash is -0.006 in at the valve by custom: at a ratio of 1.6 the plunger loses 0.00375 in."""
    custom, minimal, _ = ways(SHORT | PUSHROD | ALLOY)
    assert inches(minimal.hot) == pytest.approx((0.010 - 0.00375, 0.015 - 0.00375))
    assert minimal.level == "clear"
    assert custom.hot is not None
    _, minimal, _ = ways(SHORT | PUSHROD | {"valve_gear.block": "aluminium", "valve_gear.head": "aluminium"})
    assert inches(minimal.hot)[0] == pytest.approx(0.010 - 0.012 / 1.6)
    assert minimal.level == "watch"


def test_custom_turns_use_a_short_travel_up() -> None:
    custom, _, _ = ways({"follower.travel": "short", "follower.plunger.travel": "0.060 in"} | PUSHROD)
    assert (custom.level, custom.suits) == ("stop", False)  # less than 0.020 in left


@pytest.mark.parametrize(
    ("changes", "place", "missing"),
    [
        (SHORT | ALLOY, 0, {"valve_gear.adjuster.at", "valve_gear.adjuster.thread"}),
        (PUSHROD | ALLOY, 2, {"follower.plunger.travel"}),
        (SHORT | PUSHROD, 1, {"valve_gear.head", "valve_gear.block"}),
        (SHORT | PUSHROD | ALLOY, 1, set()),
    ],
)
def test_what_a_way_waits_for_is_named(changes: dict[str, Any], place: int, missing: set[str]) -> None:
    assert set(ways(changes)[place].missing) == missing


def test_the_chosen_way_is_marked() -> None:
    assert [each.chosen for each in ways({"follower.preload.way": "minimal"})] == [False, True, False]


def test_a_solid_follower_has_none_of_the_ways() -> None:
    assert setting_ways(*analysed({"follower.family": "roller-solid"})) == ()


def test_the_change_as_it_warms_is_told_computed_and_by_custom() -> None:
    lengths = {
        "valve_gear.warming.cold": "20 degC",
        "valve_gear.warming.warm": "90 degC",
        "valve_gear.warming.head_height": "3.5 in",
        "valve_gear.warming.block_height": "5.5 in",
        "valve_gear.pushrod.length": "7.75 in",
    }
    line, _ = analysed(ALLOY | lengths)
    computed, custom = hot_change(line)
    assert custom == pytest.approx(-0.006 * INCH)
    assert computed == pytest.approx(-(line.value("hot_lash_change") or 0.0))


# The gauge


@pytest.mark.parametrize(
    ("changes", "depth", "level"),
    [
        (STANDARD, 0.0, "stop"), (STANDARD, 0.0199, "watch"), (STANDARD, 0.020, "clear"), (STANDARD, 0.080, "clear"),
        (STANDARD, 0.0801, "watch"), (STANDARD, 0.140, "watch"), (STANDARD, 0.141, "stop"),
        (SHORT, 0.060, "watch"), (SHORT, 0.061, "stop"),
        (SHORT | {"follower.preload.way": "bottomed"}, 0.050, "clear"),
        (SHORT | {"follower.preload.way": "bottomed"}, 0.060, "stop"),
        ({"follower.travel": None}, 0.040, None),
    ],
)  # fmt: skip
def test_a_depth_stands_as_its_rule_says(changes: dict[str, Any], depth: float, level: str | None) -> None:
    """The same edges as in the tests of the rules."""
    assert gauge(changes).level_at(depth * INCH) == level


def bands(found: Gauge) -> list[tuple[float | None, float | None, Level]]:
    def told(value: float | None) -> float | None:
        return None if value is None else round(value / INCH, 6)

    return [(told(band.low), told(band.high), band.level) for band in found.bands]


def test_standard_travel_has_five_bands() -> None:
    found = gauge(STANDARD | {"follower.preload.depth": "0.040 in"})
    assert bands(found) == [
        (None, 0.0, Level.STOP),
        (0.0, 0.020, Level.WATCH),
        (0.020, 0.080, Level.CLEAR),
        (0.080, 0.140, Level.WATCH),
        (0.140, None, Level.STOP),
    ]


def test_a_short_room_cuts_the_clear_band() -> None:
    found = gauge({"follower.travel": "standard", "follower.plunger.travel": "0.090 in"})
    assert bands(found)[2:] == [(0.020, 0.070, Level.CLEAR), (0.070, None, Level.STOP)]


def test_without_the_travel_there_is_no_end_below() -> None:
    assert bands(gauge({"follower.travel": "standard"}))[-1] == (0.080, None, Level.WATCH)


@pytest.mark.parametrize(("way", "clear"), [("minimal", (0.010, 0.015)), ("bottomed", (0.040, 0.050))])
def test_short_travel_is_clear_near_its_top_or_near_its_bottom(way: str, clear: tuple[float, float]) -> None:
    found = gauge(SHORT | {"follower.preload.way": way})
    assert [band[:2] for band in bands(found) if band[2] is Level.CLEAR] == [clear]
    assert bands(found)[-1] == (0.060, None, Level.STOP)


def test_the_makers_stricter_range_governs() -> None:
    found = gauge(STANDARD | {"follower.maker_limits.preload_min": "0.030 in"})
    assert bands(found)[:2] == [(None, 0.030, Level.STOP), (0.030, 0.080, Level.CLEAR)]


def test_travel_that_is_not_stated_has_no_bands() -> None:
    assert gauge({"follower.travel": None}).bands == ()


def test_depth_is_shown_cold_and_warm_with_a_turn_on_its_scale() -> None:
    found = gauge(SHORT | PUSHROD | ALLOY | {"follower.preload.depth": "0.013 in"})
    assert found.depth
    assert (found.cold, found.warm_from) == (pytest.approx(0.013 * INCH), "custom")
    assert found.warm == pytest.approx((0.013 - 0.00375) * INCH)
    assert found.turn == pytest.approx(INCH / 24)
    assert found.warm_least == pytest.approx(0.005 * INCH)


def test_what_the_gauge_waits_for_is_named() -> None:
    found = gauge(SHORT)
    assert found.missing == ("follower.preload.depth",)
    assert set(found.warm_missing) == {"valve_gear.head", "valve_gear.block"}


SOLID = {"follower.family": "roller-solid", "valve_gear.lash": "0.016 in"} | PUSHROD | ALLOY


@pytest.mark.parametrize(("at", "cold", "warm"), [("cold", 0.016, 0.022), ("hot", 0.010, 0.016), (None, 0.016, None)])
def test_lash_is_shown_in_both_states(at: str | None, cold: float, warm: float | None) -> None:
    """An alloy head on an iron block opens the lash by 0.006 in as it warms, by custom."""
    found = gauge(SOLID | {"valve_gear.lash_at": at})
    assert not found.depth
    assert found.cold == pytest.approx(cold * INCH)
    assert found.warm == (None if warm is None else pytest.approx(warm * INCH))


def test_a_turn_at_the_pushrod_opens_the_valves_lash_by_pitch_times_ratio() -> None:
    assert gauge(SOLID).turn == pytest.approx(1.6 * INCH / 24)


def test_lash_has_its_bands_by_the_lobe() -> None:
    assert bands(gauge(SOLID))[2:] == [(0.008, 0.030, Level.CLEAR), (0.030, None, Level.WATCH)]
    assert bands(gauge(SOLID | {"cam.lash_kind": "hydraulic"}))[2][:2] == (0.004, 0.008)


def test_a_bucket_has_no_turns_and_warms_by_its_stem() -> None:
    changes = {"follower.family": "bucket", "valve_gear.rocker_ratio": None, "valve_gear.lash": "0.20 mm"}
    found = gauge(changes | {"valve_gear.lash_at": "cold"} | ALLOY)
    assert found.turn is None
    assert found.warm is None
    assert "valve_gear.warming.stem_length" in found.warm_missing


def test_lash_and_family_that_are_not_stated() -> None:
    assert gauge(SOLID | {"valve_gear.lash": None}).missing == ("valve_gear.lash",)
    assert setting_gauge(*analysed({"follower.family": None})) is None
