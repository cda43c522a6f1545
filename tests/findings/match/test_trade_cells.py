"""Cells that rest on the trade's rules: both sides of every limit, for the stated follower and for the others."""

from __future__ import annotations

from typing import Any

import pytest

from loadbench.findings.match.result import Criterion, Kit
from loadbench.units import Style
from tests.findings.jobs import loaded
from tests.findings.match.tried import DRAG, SHORT, STREET, base, cell, level, matched, sample

TOOL_STEEL = {"follower.family": "flat-tappet-solid", "follower.material": "tool steel", "cam.material": "tool steel",
              "valve_gear.lash": "0 in"}  # fmt: skip
FED = {"follower.oil_feed": "pressure"}


@pytest.mark.parametrize(
    ("kit", "load", "changes", "expected"),
    [
        (Kit.FLAT_HYDRAULIC, 320, {}, "clear"),
        (Kit.FLAT_HYDRAULIC, 320.01, {}, "watch"),
        (Kit.FLAT_HYDRAULIC, 360.01, {}, "stop"),
        (Kit.FLAT_SOLID, 360, {}, "clear"),
        (Kit.FLAT_SOLID, 360.01, {}, "watch"),
        (Kit.FLAT_SOLID, 420.01, {}, "stop"),
        (Kit.FLAT_SOLID, 450, TOOL_STEEL, "clear"),
        (Kit.FLAT_SOLID, 450.01, TOOL_STEEL, "watch"),
        (Kit.FLAT_SOLID, 600.01, TOOL_STEEL, "stop"),
        (Kit.ROLLER_HYDRAULIC_STANDARD, 400, {}, "clear"),
        (Kit.ROLLER_HYDRAULIC_STANDARD, 400.01, {}, "watch"),
        (Kit.ROLLER_HYDRAULIC_STANDARD, 475.01, {}, "stop"),
        (Kit.ROLLER_HYDRAULIC_SHORT, 500, {}, "clear"),
        (Kit.ROLLER_HYDRAULIC_SHORT, 500.01, {}, "watch"),
        (Kit.ROLLER_HYDRAULIC_SHORT, 575.01, {}, "stop"),
        (Kit.ROLLER_SOLID_NEEDLE, 849.99, FED, "clear"),
        (Kit.ROLLER_SOLID_NEEDLE, 850, FED, "watch"),
        (Kit.ROLLER_SOLID_NEEDLE, 1000, FED, "stop"),
        (Kit.ROLLER_SOLID_BUSHED, 849.99, FED, "clear"),
        (Kit.ROLLER_SOLID_BUSHED, 1000, FED, "clear"),
        (Kit.BUCKET, 390, {}, None),
    ],
)
def test_open_load(kit: Kit, load: float, changes: dict[str, Any], expected: str | None) -> None:
    assert level(base(loaded(load) | changes), kit, Criterion.OPEN_LOAD) == expected


def test_flat_tappets_are_compared_at_the_ratio_that_their_limits_are_quoted_for() -> None:
    heavier = {"valve_gear.rocker_ratio": 1.7}
    assert level(base(loaded(320 * 1.6 / 1.7) | heavier), Kit.FLAT_HYDRAULIC, Criterion.OPEN_LOAD) == "clear"
    assert level(base(loaded(320.1 * 1.6 / 1.7) | heavier), Kit.FLAT_HYDRAULIC, Criterion.OPEN_LOAD) == "watch"


def test_an_open_load_that_cannot_be_had_is_unknown_and_nothing_is_recommended() -> None:
    match = matched(base({"spring.readings": ()}))
    found = match.cell(Kit.ROLLER_HYDRAULIC_SHORT, Criterion.OPEN_LOAD)
    assert found.level == "unknown"
    assert found.missing
    assert match.family.choice is None
    assert "load at full lift" in match.family.reason.template


@pytest.mark.parametrize(
    ("kit", "expected"), [(Kit.ROLLER_HYDRAULIC_SHORT, "stop"), (Kit.ROLLER_HYDRAULIC_STANDARD, "clear")]
)
def test_a_makers_limit_speaks_of_the_makers_own_follower_only(kit: Kit, expected: str) -> None:
    limits = {"follower.maker_limits.open_load_max": "380 lbf", "follower.maker_limits.speed_max": "5000 rpm"}
    analysis = base(limits | {"duty.speed_limit": "6000 rpm"})
    assert level(analysis, kit, Criterion.OPEN_LOAD) == expected
    speed = cell(analysis, kit, Criterion.SPEED)
    assert (speed.source == "the follower maker's sheet") is (kit is Kit.ROLLER_HYDRAULIC_SHORT)


@pytest.mark.parametrize(
    ("kit", "speed", "expected"),
    [
        (Kit.ROLLER_HYDRAULIC_STANDARD, "6500 rpm", "clear"),
        (Kit.ROLLER_HYDRAULIC_STANDARD, "6501 rpm", "watch"),
        (Kit.ROLLER_HYDRAULIC_SHORT, "6501 rpm", "clear"),
        (Kit.ROLLER_HYDRAULIC_SHORT, "8000 rpm", "clear"),
        (Kit.ROLLER_HYDRAULIC_SHORT, "8001 rpm", "watch"),
    ],
)
def test_the_speed_that_the_trade_gives_a_travel(kit: Kit, speed: str, expected: str) -> None:
    found = cell(base({"duty.speed_limit": speed}), kit, Criterion.SPEED)
    assert found.practice is not None
    assert ("past" in found.practice.template) is (expected == "watch")
    assert found.level == ("watch" if expected == "watch" else "unknown")  # without a lobe nothing more is known


def test_a_speed_limit_that_is_not_stated_is_asked_for() -> None:
    found = cell(base(), Kit.ROLLER_HYDRAULIC_SHORT, Criterion.SPEED)
    assert found.level == "unknown"
    assert "duty.speed_limit" in found.missing


@pytest.mark.parametrize(
    ("material", "cam", "expected"),
    [
        ("steel", "steel", "clear"),
        ("steel", "iron", "watch"),
        (None, "steel", "unknown"),
        ("brass", "steel", "unknown"),
    ],
)
def test_contact_begins_with_the_materials(material: str | None, cam: str, expected: str) -> None:
    changes = {"follower.material": material, "cam.material": cam}
    assert level(base(changes), Kit.ROLLER_HYDRAULIC_SHORT, Criterion.CONTACT) == expected


def test_the_material_of_a_roller_says_nothing_of_a_flat_face() -> None:
    found = cell(base({"follower.material": "steel", "cam.material": "steel"}), Kit.FLAT_SOLID, Criterion.CONTACT)
    assert found.level == "unknown"
    assert "follower.material" in found.missing


@pytest.mark.parametrize(
    ("load", "feed", "needle", "bushed"),
    [
        (849.99, "pressure", "clear", "clear"),
        (850, "pressure", "watch", "clear"),
        (999.99, "splash", "watch", "clear"),
        (1000, "pressure", "stop", "clear"),
    ],
)
def test_axle_by_the_trades_load(load: float, feed: str, needle: str, bushed: str) -> None:
    analysis = base(loaded(load) | {"follower.oil_feed": feed})
    assert level(analysis, Kit.ROLLER_SOLID_NEEDLE, Criterion.AXLE_LIFE) == needle
    assert level(analysis, Kit.ROLLER_SOLID_BUSHED, Criterion.AXLE_LIFE) == bushed


def test_an_axle_whose_sizes_are_not_stated_is_left_to_the_trade_and_asks_for_them() -> None:
    found = cell(base({"follower.travel": "short"}), Kit.ROLLER_SOLID_NEEDLE, Criterion.AXLE_LIFE)
    assert found.level == "clear"
    assert found.rule == "bushed-axle"
    assert "follower.needles.count" in found.missing
    assert not found.disagree


@pytest.mark.parametrize(
    ("kit", "load", "feed", "idle", "expected"),
    [
        (Kit.ROLLER_SOLID_NEEDLE, 390, "splash", 0.2, "clear"),
        (Kit.ROLLER_SOLID_NEEDLE, 390, "splash", 0.21, "watch"),
        (Kit.ROLLER_SOLID_NEEDLE, 390, "pressure", 0.9, "clear"),
        (Kit.ROLLER_SOLID_NEEDLE, 390, None, 0.1, "unknown"),
        (Kit.ROLLER_SOLID_BUSHED, 849.99, "splash", 0.1, "watch"),
        (Kit.ROLLER_SOLID_BUSHED, 850, "splash", 0.1, "stop"),
        (Kit.ROLLER_SOLID_BUSHED, 850, "pressure", 0.1, "clear"),
        (Kit.ROLLER_SOLID_BUSHED, 390, None, 0.1, "unknown"),
        (Kit.ROLLER_HYDRAULIC_STANDARD, 390, "splash", 0.21, "watch"),
        (Kit.FLAT_SOLID, 390, "splash", 0.9, None),
        (Kit.BUCKET, 390, "splash", 0.9, None),
    ],
)
def test_oil_to_the_axle(kit: Kit, load: float, feed: str | None, idle: float, expected: str | None) -> None:
    changes = loaded(load) | {"follower.oil_feed": feed, "duty.idle_share": idle}
    assert level(base(changes), kit, Criterion.OIL_TO_AXLE) == expected


def test_oil_to_an_axle_that_is_not_stated_is_unknown() -> None:
    found = cell(base({"follower.axle": None}), Kit.ROLLER_HYDRAULIC_SHORT, Criterion.OIL_TO_AXLE)
    assert (found.level, found.missing) == ("unknown", ("follower.axle",))


@pytest.mark.parametrize(
    ("ppm", "load", "expected"),
    [(1200, 250, "clear"), (1199, 250, "watch"), (900, 300, "watch"), (899, 300, "stop"), (None, 250, "unknown")],
)
def test_oil_additive_of_a_flat_tappet(ppm: float | None, load: float, expected: str) -> None:
    changes = loaded(load) | {"follower.family": "flat-tappet-hydraulic", "duty.oil.phosphorus_ppm": ppm}
    analysis = base(changes | {"follower.travel": "standard", "follower.axle": None, "duty.first_running": False})
    assert level(analysis, Kit.FLAT_HYDRAULIC, Criterion.OIL_ADDITIVE) == expected
    assert level(analysis, Kit.ROLLER_SOLID_NEEDLE, Criterion.OIL_ADDITIVE) is None


def test_flat_tappets_in_place_of_others_are_new_and_run_in() -> None:
    analysis = base(loaded(200) | {"duty.oil.phosphorus_ppm": 899, "duty.first_running": False})
    assert level(analysis, Kit.FLAT_SOLID, Criterion.OIL_ADDITIVE) == "stop"
    own = base(loaded(200) | {"follower.family": "flat-tappet-solid", "valve_gear.lash": "0 in", "follower.axle": None,
                              "duty.oil.phosphorus_ppm": 899, "duty.first_running": False})  # fmt: skip
    assert level(own, Kit.FLAT_SOLID, Criterion.OIL_ADDITIVE) == "watch"


@pytest.mark.parametrize(
    ("depth", "expected"), [("0.010 in", "clear"), ("0.0151 in", "watch"), ("0.0099 in", "watch"), ("0 in", "stop")]
)
def test_travel_judges_a_stated_preload(depth: str, expected: str) -> None:
    analysis = base({"follower.preload.depth": depth, "follower.preload.way": "minimal"})
    assert level(analysis, Kit.ROLLER_HYDRAULIC_SHORT, Criterion.TRAVEL) == expected


def test_a_depth_that_is_taken_is_told_and_not_judged_as_a_setting() -> None:
    found = cell(base(), Kit.ROLLER_HYDRAULIC_STANDARD, Criterion.TRAVEL)
    assert found.level == "clear"
    assert "0.040" in found.sentence.told(Style.INCH_POUND)
    assert found.rule == "bind-pumped-up"
    own = cell(base(), Kit.ROLLER_HYDRAULIC_SHORT, Criterion.TRAVEL)
    assert own.level == "unknown"
    assert "follower.preload.depth" in own.missing


@pytest.mark.parametrize(
    ("kit", "use", "expected"),
    [
        (Kit.FLAT_SOLID, "street", "watch"),
        (Kit.FLAT_SOLID, "drag", "clear"),
        (Kit.ROLLER_SOLID_NEEDLE, "tow", "watch"),
        (Kit.ROLLER_SOLID_NEEDLE, "endurance", "clear"),
        (Kit.ROLLER_SOLID_NEEDLE, None, "unknown"),
        (Kit.FLAT_HYDRAULIC, "street", "clear"),
        (Kit.ROLLER_HYDRAULIC_SHORT, None, "clear"),
    ],
)
def test_upkeep_of_lash(kit: Kit, use: str | None, expected: str) -> None:
    assert level(base({"duty.use": use}), kit, Criterion.LASH_UPKEEP) == expected


@pytest.mark.parametrize(
    ("kit", "head", "expected"),
    [
        (Kit.FLAT_SOLID, "iron", "clear"),
        (Kit.FLAT_SOLID, "aluminium", "watch"),
        (Kit.FLAT_SOLID, None, "unknown"),
        (Kit.ROLLER_HYDRAULIC_STANDARD, "aluminium", "clear"),
    ],
)
def test_head_material(kit: Kit, head: str | None, expected: str) -> None:
    changes = {"valve_gear.head": head, "valve_gear.block": "iron"}
    assert level(base(changes), kit, Criterion.HEAD_MATERIAL) == expected


def test_lash_that_is_stated_cold_or_hot_answers_for_the_head() -> None:
    assert level(sample(DRAG), Kit.ROLLER_SOLID_BUSHED, Criterion.HEAD_MATERIAL) == "clear"
    unsaid = sample(DRAG, {"valve_gear.lash_at": None})
    assert level(unsaid, Kit.ROLLER_SOLID_BUSHED, Criterion.HEAD_MATERIAL) == "watch"
    tight = sample(DRAG, {"valve_gear.lash": "0.006 in"})
    assert level(tight, Kit.ROLLER_SOLID_BUSHED, Criterion.HEAD_MATERIAL) == "stop"


@pytest.mark.parametrize(("depth", "expected"), [("0.013 in", "clear"), ("0.0080 in", "watch"), ("0.0034 in", "stop")])
def test_preload_that_warmth_takes_away(depth: str, expected: str) -> None:
    analysis = sample(SHORT, {"follower.preload.depth": depth})
    found = cell(analysis, Kit.ROLLER_HYDRAULIC_SHORT, Criterion.HEAD_MATERIAL)
    assert found.level == expected
    assert found.rule == "preload-hot"


@pytest.mark.parametrize(
    ("kit", "changes", "expected"),
    [
        (Kit.ROLLER_HYDRAULIC_SHORT, {}, "clear"),
        (Kit.ROLLER_HYDRAULIC_SHORT, {"cam.kind": "flat"}, "stop"),
        (Kit.FLAT_HYDRAULIC, {}, "stop"),
        (Kit.ROLLER_HYDRAULIC_SHORT, {"cam.lash_kind": "solid"}, "stop"),
        (Kit.ROLLER_SOLID_NEEDLE, {"duty.use": "drag"}, "watch"),
        (Kit.ROLLER_SOLID_NEEDLE, {"duty.use": "drag", "cam.lash_kind": "solid"}, "clear"),
        (Kit.ROLLER_SOLID_NEEDLE, {"duty.use": "street", "cam.lash_kind": "solid"}, "watch"),
        (Kit.ROLLER_SOLID_NEEDLE, {"cam.lash_kind": "solid", "duty.idle_share": 0.2}, "clear"),
        (Kit.ROLLER_SOLID_NEEDLE, {"cam.lash_kind": "solid", "duty.idle_share": 0.21}, "watch"),
        (Kit.ROLLER_HYDRAULIC_SHORT, {"duty.use": None}, "unknown"),
        (Kit.ROLLER_HYDRAULIC_SHORT, {"cam.kind": None}, "unknown"),
        (Kit.BUCKET, {}, "stop"),
    ],
)
def test_duty(kit: Kit, changes: dict[str, Any], expected: str) -> None:
    assert level(sample(SHORT, changes), kit, Criterion.DUTY) == expected


@pytest.mark.parametrize(("use", "expected"), [("street", "clear"), ("drag", "watch"), (None, "unknown")])
def test_a_race_is_seldom_run_on_flat_tappets(use: str | None, expected: str) -> None:
    changes = {"cam.kind": "flat", "cam.lash_kind": "hydraulic", "duty.use": use}
    assert level(base(loaded(200) | changes), Kit.FLAT_HYDRAULIC, Criterion.DUTY) == expected


def test_break_in_is_of_the_duty_of_flat_tappets() -> None:
    for load, expected in ((280, "clear"), (280.01, "watch")):
        changes = {"cam.kind": "flat", "cam.lash_kind": "hydraulic", "duty.use": "street"}
        assert level(base(loaded(load) | changes), Kit.FLAT_HYDRAULIC, Criterion.DUTY) == expected


def test_a_street_job_names_what_does_not_concern_it() -> None:
    match = matched(sample(STREET))
    for criterion in (Criterion.AXLE_LIFE, Criterion.OIL_TO_AXLE):
        assert match.cell(Kit.FLAT_HYDRAULIC, criterion).level is None
        assert match.cell(Kit.FLAT_HYDRAULIC, criterion).sentence.template == "It has no axle."
