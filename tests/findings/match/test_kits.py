"""A job with another follower: what is left out, what is taken and told, and that nothing is lost by sharing."""

from __future__ import annotations

import math
from typing import Any

import pytest

from loadbench.analysis.line import analyse_line
from loadbench.findings.match.kits import FAMILY, fits_the_head, overhead, stated_as, stated_kit, stated_kits
from loadbench.findings.match.match import seated
from loadbench.findings.match.result import Criterion, Kit
from loadbench.findings.match.taken import filled
from loadbench.units import Style
from tests.findings.match.tried import BUCKETS, DRAG, SHORT, STREET, WHEEL, base, cell, matched, sample

NAMES = (STREET, SHORT, DRAG, WHEEL, "nest-of-three-with-damper", "beehive-ovate-wire", "printout-and-fit")


@pytest.mark.parametrize(
    ("family", "travel", "axle", "expected"),
    [
        ("flat-tappet-solid", None, None, Kit.FLAT_SOLID),
        ("flat-tappet-hydraulic", "standard", None, Kit.FLAT_HYDRAULIC),
        ("roller-hydraulic", None, "needle", Kit.ROLLER_HYDRAULIC_STANDARD),
        ("roller-hydraulic", "standard", "bushed", Kit.ROLLER_HYDRAULIC_STANDARD),
        ("roller-hydraulic", "short", None, Kit.ROLLER_HYDRAULIC_SHORT),
        ("roller-solid", None, None, Kit.ROLLER_SOLID_NEEDLE),
        ("roller-solid", None, "bushed", Kit.ROLLER_SOLID_BUSHED),
        ("bucket", None, None, Kit.BUCKET),
        (None, "short", "needle", None),
    ],
)
def test_the_kit_that_is_stated(family: str | None, travel: str | None, axle: str | None, expected: Kit) -> None:
    changes = {"follower.family": family, "follower.travel": travel, "follower.axle": axle}
    assert stated_kit(base(changes | {"valve_gear.rocker_ratio": None}).stated) is expected


@pytest.mark.parametrize(
    ("changes", "expected"),
    [
        ({"follower.travel": "short"}, {Kit.ROLLER_HYDRAULIC_SHORT}),
        ({"follower.travel": None}, {Kit.ROLLER_HYDRAULIC_STANDARD, Kit.ROLLER_HYDRAULIC_SHORT}),
        ({"follower.family": "roller-solid"}, {Kit.ROLLER_SOLID_NEEDLE}),
        (
            {"follower.family": "roller-solid", "follower.axle": None},
            {Kit.ROLLER_SOLID_NEEDLE, Kit.ROLLER_SOLID_BUSHED},
        ),
        ({"follower.family": "flat-tappet-solid", "follower.axle": None}, {Kit.FLAT_SOLID}),
        ({"follower.family": None}, set()),
    ],
)
def test_what_is_not_stated_leaves_both_kits_open(changes: dict[str, Any], expected: set[Kit]) -> None:
    analysis = base(changes)
    assert set(stated_kits(analysis.stated)) == expected
    assert matched(analysis).stated is (next(iter(expected)) if len(expected) == 1 else None)


def test_the_makers_limit_and_the_depth_hold_for_either_travel_where_none_is_stated() -> None:
    own = {
        "follower.travel": None,
        "follower.maker_limits.open_load_max": "380 lbf",
        "follower.preload.depth": "0.012 in",
    }
    for kit in (Kit.ROLLER_HYDRAULIC_STANDARD, Kit.ROLLER_HYDRAULIC_SHORT):
        found = cell(base(own), kit, Criterion.OPEN_LOAD)
        assert found.level == "stop"
        assert found.limit == pytest.approx(380 * 4.4482216152605)
        assert taken(kit, own) == {}
        assert taken(kit, {"follower.travel": None}) == {}  # its own depth is asked for, whichever it is


@pytest.mark.parametrize("kit", Kit)
def test_a_kit_as_stated_is_the_kit_itself(kit: Kit) -> None:
    stated = sample(SHORT).stated
    assert stated_kit(stated_as(kit, stated)) is kit
    assert stated_as(kit, stated).values["follower.family"] == FAMILY[kit]


def test_a_stated_kit_keeps_the_jobs_own_entries_and_lines() -> None:
    analysis = sample(SHORT)
    assert stated_as(Kit.ROLLER_HYDRAULIC_SHORT, analysis.stated) is analysis.stated
    assert seated(Kit.ROLLER_HYDRAULIC_SHORT, analysis).views[0].line is analysis.lines[0]
    assert seated(Kit.ROLLER_HYDRAULIC_SHORT, analysis).taken == ()


def test_an_axle_that_is_not_stated_is_judged_as_the_column_names_it() -> None:
    analysis = base({"follower.family": "roller-solid", "follower.axle": None, "valve_gear.lash": "0.016 in"})
    assert seated(Kit.ROLLER_SOLID_NEEDLE, analysis).heaviest.value("follower.axle") == "needle"


@pytest.mark.parametrize(
    ("kit", "gone", "stays"),
    [
        (Kit.ROLLER_HYDRAULIC_STANDARD, ("follower.preload.depth", "follower.plunger.travel"), "follower.material"),
        (Kit.FLAT_HYDRAULIC, ("follower.preload.depth", "follower.material"), "follower.plunger.diameter"),
        (Kit.FLAT_SOLID, ("follower.material",), "cam.base_radius"),
        (Kit.ROLLER_SOLID_NEEDLE, (), "follower.needles.count"),
    ],
)
def test_what_belongs_to_another_follower_is_left_out(kit: Kit, gone: tuple[str, ...], stays: str) -> None:
    stated = sample(SHORT, {"follower.maker_limits.open_load_max": "900 lbf"}).stated
    other = stated_as(kit, stated)
    for path in (*gone, "follower.maker_limits.open_load_max"):
        assert path in stated.values
        assert path not in other.values
    assert other.values[stays] == stated.values[stays]


def test_a_fault_of_what_is_left_out_is_no_more() -> None:
    stated = base({"follower.preload.depth": "deep", "follower.plunger.travel": "0.060 in"}).stated
    assert "follower.preload.depth" in stated.problems
    assert "follower.preload.depth" in stated_as(Kit.ROLLER_SOLID_NEEDLE, stated).problems
    assert "follower.preload.depth" not in stated_as(Kit.ROLLER_HYDRAULIC_STANDARD, stated).problems


@pytest.mark.parametrize(
    ("name", "changes", "expected"),
    [
        (SHORT, {}, False),
        (BUCKETS, {}, True),
        (SHORT, {"follower.family": None, "cam.kind": None, "valve_gear.rocker_ratio": 1.6}, False),
        (SHORT, {"follower.family": None, "cam.kind": None, "valve_gear.rocker_ratio": None}, None),
    ],
)
def test_where_the_cam_stands(name: str, changes: dict[str, Any], expected: bool | None) -> None:
    stated = sample(name, changes).stated
    assert overhead(stated) is expected
    assert fits_the_head(Kit.BUCKET, stated) is (expected is not False)
    assert fits_the_head(Kit.FLAT_SOLID, stated) is (expected is not True)


# What is taken


def taken(kit: Kit, changes: dict[str, Any] | None = None) -> dict[str, Any]:
    """What is taken for a kit of the base job, by field."""
    own = base(changes).stated
    other, told = filled(kit, own, stated_as(kit, own))
    return {each.field: other.values[each.field] for each in told}


def test_a_solid_follower_in_a_hydraulic_job_is_taken_without_lash_and_says_so() -> None:
    assert taken(Kit.ROLLER_SOLID_NEEDLE) == {"valve_gear.lash": 0.0}
    assert taken(Kit.ROLLER_SOLID_NEEDLE, {"valve_gear.lash": "0.010 in"}) == {}
    assert taken(Kit.ROLLER_SOLID_NEEDLE, {"valve_gear.lash": "tight"}) == {}
    found = cell(base(), Kit.ROLLER_SOLID_NEEDLE, Criterion.OPEN_LOAD)
    assert "Lash is taken as none" in found.sentence.template
    assert "Lash is taken" not in cell(base(), Kit.ROLLER_HYDRAULIC_STANDARD, Criterion.OPEN_LOAD).sentence.template


def test_a_lash_of_one_line_is_a_stated_lash() -> None:
    assert taken(Kit.FLAT_SOLID, {"lines.intake.valve_gear.lash": "0.010 in"}) == {}


def test_another_plunger_is_taken_as_is_usual_and_says_so() -> None:
    sizes = {"follower.plunger.diameter": "0.5 in", "follower.plunger.travel": "0.060 in",
             "follower.preload.depth": "0.012 in"}  # fmt: skip
    found = taken(Kit.ROLLER_HYDRAULIC_STANDARD, sizes)
    assert found["follower.plunger.travel"] == pytest.approx(0.140 * 0.0254)
    assert found["follower.preload.depth"] == pytest.approx(0.040 * 0.0254)
    assert taken(Kit.ROLLER_HYDRAULIC_SHORT, sizes) == {}
    from_standard = sizes | {"follower.travel": "standard", "follower.plunger.travel": "0.140 in"}
    assert taken(Kit.ROLLER_HYDRAULIC_SHORT, from_standard)["follower.preload.depth"] == pytest.approx(0.0125 * 0.0254)
    told = cell(sample(SHORT), Kit.ROLLER_HYDRAULIC_STANDARD, Criterion.TRAVEL).sentence.told(Style.INCH_POUND)
    assert "0.140" in told
    assert "0.040" in told


def test_turns_that_are_stated_are_a_stated_setting() -> None:
    turns = {"follower.family": "flat-tappet-hydraulic", "follower.travel": None, "follower.preload.turns": 0.5}
    assert taken(Kit.ROLLER_HYDRAULIC_STANDARD, turns | {"follower.axle": "needle"}) == {}
    assert "follower.preload.depth" in taken(Kit.ROLLER_HYDRAULIC_SHORT, turns | {"follower.axle": "needle"})


def test_hydraulic_rollers_in_place_of_flat_tappets_are_taken_on_needles_and_say_so() -> None:
    flat = {"follower.family": "flat-tappet-hydraulic", "follower.travel": None, "follower.axle": None,
            "follower.oil_feed": "pressure", "duty.idle_share": 0.1}  # fmt: skip
    assert taken(Kit.ROLLER_HYDRAULIC_STANDARD, flat)["follower.axle"] == "needle"
    found = cell(base(flat), Kit.ROLLER_HYDRAULIC_STANDARD, Criterion.OIL_TO_AXLE)
    assert found.level == "clear"
    assert "taken as running on needles" in found.sentence.template
    own_unsaid = {"follower.axle": None}
    assert "follower.axle" not in taken(Kit.ROLLER_HYDRAULIC_STANDARD, own_unsaid)


def test_a_bush_is_tried_on_the_circle_of_the_needles() -> None:
    found = cell(sample(SHORT), Kit.ROLLER_SOLID_BUSHED, Criterion.AXLE_LIFE)
    assert "follower.bush.bore" not in found.missing
    assert "Its metal is taken as tin bronze" in found.sentence.template
    seat = seated(Kit.ROLLER_SOLID_BUSHED, sample(SHORT))
    assert seat.heaviest.value("follower.bush.bore") == pytest.approx(0.009 + 0.002)
    assert seat.heaviest.value("follower.bush.length") == pytest.approx(0.0078)
    assert seat.heaviest.line.value("bush_pressure") is not None


def test_a_bush_that_is_stated_stays() -> None:
    stated = {"follower.bush.bore": "12 mm", "follower.bush.length": "10 mm"}
    assert seated(Kit.ROLLER_SOLID_BUSHED, sample(SHORT, stated)).heaviest.value("follower.bush.bore") == 0.012


def test_the_mass_of_a_roller_is_not_that_of_a_flat_tappet_and_it_is_said() -> None:
    said = "The follower's mass is that of the stated one."
    for kit, wanted in ((Kit.FLAT_HYDRAULIC, True), (Kit.ROLLER_SOLID_NEEDLE, False)):
        found = cell(sample(SHORT), kit, Criterion.SPEED)
        assert found.level == "clear"
        assert (said in found.sentence.template) is wanted
    unweighed = sample(SHORT, {"valve_gear.masses.follower": None})
    assert said not in cell(unweighed, Kit.FLAT_HYDRAULIC, Criterion.SPEED).sentence.template


# Lines that share what the follower leaves alone


@pytest.mark.parametrize("name", NAMES)
@pytest.mark.parametrize("changes", [{}, {"valve_gear.lash": "0.012 in"}], ids=["as it is", "with lash"])
def test_a_kits_lines_are_as_if_analysed_alone(name: str, changes: dict[str, Any]) -> None:
    analysis = sample(name, changes)
    made = [analysis.lines]
    for kit in Kit:
        if not fits_the_head(kit, analysis.stated):
            continue
        for view in seated(kit, analysis, None, made).views:
            alone = analyse_line(view.line.stated)
            assert view.line.figures.keys() == alone.figures.keys(), kit
            for figure in alone.figures.values():
                same = view.line.figures[figure.name]
                assert same.missing == figure.missing, (kit, figure.name)
                if figure.value is None:
                    assert same.value is None, (kit, figure.name)
                else:
                    assert same.value is not None
                    assert math.isclose(same.value, figure.value, rel_tol=1e-12), (kit, figure.name)
                    assert same.expanded == figure.expanded, (kit, figure.name)
            assert view.line.members == alone.members
