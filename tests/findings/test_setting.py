"""Setting: preload and lash, both sides of every limit, cold and hot, and the missing input."""

from __future__ import annotations

from typing import Any

import pytest

from tests.findings.jobs import level, told

INCH = 0.0254
SOLID = {"follower.family": "roller-solid"}


def standard(depth: str | None, travel: str | None = "0.160 in", **more: Any) -> dict[str, Any]:
    fields = {"follower.travel": "standard", "follower.preload.depth": depth, "follower.plunger.travel": travel}
    return fields | {name.replace("__", "."): value for name, value in more.items()}


@pytest.mark.parametrize(
    ("depth", "travel", "expected", "nature"),
    [
        ("0.020 in", "0.160 in", "clear", "limit"),
        ("0.0199 in", "0.160 in", "watch", "limit"),
        ("0.060 in", "0.160 in", "clear", "limit"),
        ("0.0601 in", "0.160 in", "clear", "remark"),
        ("0.080 in", "0.160 in", "clear", "remark"),
        ("0.0801 in", "0.160 in", "watch", "limit"),
        ("0.080 in", "0.100 in", "clear", "remark"),
        ("0.080 in", "0.099 in", "stop", "limit"),
        ("0 in", "0.160 in", "stop", "limit"),
        ("-0.005 in", None, "stop", "limit"),
        ("0.040 in", None, "unknown", "limit"),
        (None, "0.160 in", "unknown", "limit"),
    ],
)
def test_preload_of_standard_travel(depth: str | None, travel: str | None, expected: str, nature: str) -> None:
    (finding,) = told("preload-standard", standard(depth, travel))
    assert (finding.level.value, finding.nature.value) == (expected, nature)


@pytest.mark.parametrize(
    ("at", "thread", "ratio", "inches"),
    [("pivot", "7/16-20", 1.7, 0.0794), ("pushrod", "3/8-24", 1.7, 0.04167), ("valve-tip", "3/8-24", 1.6, 0.02604)],
)
def test_one_turn_in_plunger_depth(at: str, thread: str, ratio: float, inches: float) -> None:
    """0.079 in with 7/16-20 at the pivot and R 1.7, 0.042 in with 3/8-24 at the pushrod (common practice)."""
    changes = standard(None, follower__preload__turns=1.0, valve_gear__rocker_ratio=ratio)
    changes |= {"valve_gear.adjuster.at": at, "valve_gear.adjuster.thread": thread}
    (finding,) = told("preload-standard", changes)
    assert finding.value == pytest.approx(inches * INCH, abs=0.00006 * INCH)


@pytest.mark.parametrize("missing", ["valve_gear.adjuster.at", "valve_gear.adjuster.thread"])
def test_turns_without_the_adjuster_say_nothing_of_the_depth(missing: str) -> None:
    changes = standard(None, follower__preload__turns=1.0)
    changes |= {"valve_gear.adjuster.at": "pivot", "valve_gear.adjuster.thread": "7/16-20", missing: None}
    (finding,) = told("preload-standard", changes)
    assert finding.level == "unknown"
    assert missing in finding.missing


def test_a_flat_hydraulic_tappet_is_of_standard_travel() -> None:
    changes = standard("0.040 in") | {"follower.family": "flat-tappet-hydraulic", "follower.travel": None}
    assert level("preload-standard", changes) == "clear"


def test_a_roller_without_a_travel_waits_for_it() -> None:
    (finding,) = told("preload-standard", standard("0.040 in") | {"follower.travel": None})
    assert finding.missing == ("follower.travel",)


def short(depth: str | None, way: str | None = None, travel: str | None = "0.060 in") -> dict[str, Any]:
    return {"follower.preload.depth": depth, "follower.preload.way": way, "follower.plunger.travel": travel}


@pytest.mark.parametrize("way", [None, "minimal"])
@pytest.mark.parametrize(
    ("depth", "travel", "expected"),
    [
        ("0.010 in", "0.060 in", "clear"),
        ("0.0099 in", "0.060 in", "watch"),
        ("0.015 in", None, "clear"),
        ("0.0151 in", "0.060 in", "watch"),
        ("0.060 in", "0.060 in", "watch"),
        ("0.0601 in", "0.060 in", "stop"),
        ("0 in", "0.060 in", "stop"),
        (None, "0.060 in", "unknown"),
    ],
)
def test_short_travel_near_the_top(way: str | None, depth: str | None, travel: str | None, expected: str) -> None:
    assert level("preload-short-top", short(depth, way, travel)) == expected
    assert level("preload-short-bottom", short(depth, way, travel)) is None


@pytest.mark.parametrize(
    ("travel", "expected"),
    [
        ("0.055 in", "clear"),
        ("0.065 in", "clear"),
        ("0.0549 in", "watch"),
        ("0.0651 in", "watch"),
        ("0.045 in", "stop"),
        (None, "unknown"),
    ],
)
def test_short_travel_near_the_bottom(travel: str | None, expected: str) -> None:
    assert level("preload-short-bottom", short("0.045 in", "bottomed", travel)) == expected
    assert level("preload-short-top", short("0.045 in", "bottomed", travel)) is None


def test_near_the_bottom_every_valve_is_measured() -> None:
    valves = ({"id": "1", "plunger_travel": "0.060 in"}, {"id": "2"}, {"id": "3", "plunger_travel": "0.044 in"})
    findings = told("preload-short-bottom", short("0.045 in", "bottomed") | {"valves": valves})
    assert {each.valve: each.level.value for each in findings} == {"1": "clear", "2": "unknown", "3": "stop"}


@pytest.mark.parametrize(
    ("block", "head", "depth", "expected"),
    [
        ("iron", "iron", "0.010 in", "clear"),
        ("iron", "aluminium", "0.00875 in", "clear"),
        ("iron", "aluminium", "0.0087 in", "watch"),
        ("aluminium", "aluminium", "0.0075 in", "stop"),
        ("aluminium", "aluminium", "0.0076 in", "watch"),
        ("aluminium", "iron", "0.012 in", "unknown"),
        (None, "aluminium", "0.012 in", "unknown"),
        ("iron", "iron", None, "unknown"),
    ],
)
def test_preload_when_warm(block: str | None, head: str, depth: str | None, expected: str) -> None:
    changes = {"valve_gear.block": block, "valve_gear.head": head, "follower.preload.depth": depth}
    assert level("preload-hot", changes) == expected


def test_a_warm_depth_says_what_it_is_worked_out_from() -> None:
    gear = {"valve_gear.block": "iron", "valve_gear.head": "aluminium", "follower.preload.depth": "0.012 in"}
    (custom,) = told("preload-hot", gear)
    assert "warm, by custom for this block and head;" in custom.sentence.template


def lash(text: str | None, **more: Any) -> dict[str, Any]:
    return SOLID | {"valve_gear.lash": text} | {name.replace("__", "."): value for name, value in more.items()}


@pytest.mark.parametrize(
    ("text", "expected", "nature"),
    [
        ("0.008 in", "clear", "remark"),
        ("0.0079 in", "watch", "limit"),
        ("0.0099 in", "clear", "remark"),
        ("0.010 in", "clear", "limit"),
        ("0.012 in", "clear", "limit"),
        ("0.014 in", "clear", "remark"),
        ("0.018 in", "clear", "remark"),
        ("0.020 in", "clear", "limit"),
        ("0.028 in", "clear", "remark"),
        ("0.030 in", "clear", "remark"),
        ("0.0301 in", "watch", "limit"),
        ("0 in", "stop", "limit"),
        (None, "unknown", "limit"),
    ],
)
def test_lash_of_a_solid_lobe(text: str | None, expected: str, nature: str) -> None:
    (finding,) = told("solid-lash", lash(text))
    assert (finding.level.value, finding.nature.value) == (expected, nature)


@pytest.mark.parametrize(
    ("text", "expected"),
    [("0.004 in", "clear"), ("0.008 in", "clear"), ("0.0039 in", "watch"), ("0.0081 in", "watch"), ("0 in", "stop")],
)
def test_lash_on_a_hydraulic_lobe(text: str, expected: str) -> None:
    assert level("solid-lash", lash(text, cam__lash_kind="hydraulic")) == expected


@pytest.mark.parametrize(
    ("text", "expected"),
    [("0.004 in", "clear"), ("0.014 in", "clear"), ("0.0039 in", "watch"), ("0.0141 in", "watch"), ("0 in", "stop")],
)
def test_lash_of_a_bucket(text: str, expected: str) -> None:
    bucket = {"follower.family": "bucket", "valve_gear.rocker_ratio": None}
    assert level("solid-lash", lash(text) | bucket) == expected


@pytest.mark.parametrize(
    ("text", "at", "block", "head", "expected"),
    [
        ("0.016 in", None, "iron", "iron", "watch"),
        ("0.016 in", "hot", "iron", "aluminium", "clear"),
        ("0.006 in", "hot", "iron", "aluminium", "stop"),
        ("0.0061 in", "hot", "iron", "aluminium", "clear"),
        ("0.012 in", "hot", "aluminium", "aluminium", "stop"),
        ("0.010 in", "cold", "aluminium", "aluminium", "clear"),
        ("0.016 in", "hot", None, "aluminium", "unknown"),
        ("0.016 in", "hot", "aluminium", "iron", "unknown"),
        (None, "hot", "iron", "iron", None),
    ],
)
def test_lash_cold_and_hot(
    text: str | None, at: str | None, block: str | None, head: str, expected: str | None
) -> None:
    changes = {"valve_gear.lash_at": at, "valve_gear.block": block, "valve_gear.head": head}
    assert level("lash-state", lash(text) | changes) == expected


def test_cold_lash_is_hot_lash_with_the_correction() -> None:
    (finding,) = told(
        "lash-state",
        lash("0.016 in", valve_gear__lash_at="hot", valve_gear__block="iron", valve_gear__head="aluminium"),
    )
    assert finding.value == pytest.approx(0.010 * INCH, rel=1e-9)
