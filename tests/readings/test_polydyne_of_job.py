"""A polydyne lobe as a job states it: what it waits for, what it cannot be, and that it does not follow the spring."""

from __future__ import annotations

import math
from typing import Any

import numpy as np
import pytest

from loadbench.analysis import LineAnalysis, analyse
from loadbench.analysis.dynamic_runs import fully_analysed
from loadbench.analysis.motion.balance_at import rigid_force
from loadbench.errors import Problem
from loadbench.findings import judge
from loadbench.motion.polydyne import MadeFor, Polydyne, polydyne_of
from loadbench.motion.ratio import Scaled
from tests.analysis.test_motion import job

INCH, LBF, RPM = 0.0254, 4.4482216152605, math.pi / 30
TURN = np.linspace(-math.pi, math.pi, 721)
DESIGN: dict[str, Any] = {
    "cam.law.design.speed": "6500 rpm", "cam.law.design.mass": "285 g", "cam.law.design.spring_rate": "420 lbf/in",
    "cam.law.design.stiffness": "6000 N/mm", "cam.law.design.seat_load": "170 lbf", "cam.law.design.lash": "0.016 in",
    "cam.law.design.ratio": 1.6,
}  # fmt: skip
POLYDYNE: dict[str, Any] = {
    "cam.durations": (), "cam.law.name": "polydyne", "cam.law.opening": "128 deg", "cam.law.closing": "136 deg",
    "cam.ramps.opening": "50 deg", "cam.ramps.closing": "60 deg", **DESIGN,
}  # fmt: skip
MADE_FOR = MadeFor(
    mass=0.285, spring_rate=420 * LBF / INCH, stiffness=6e6, preload=170 * LBF, cam_speed=3250 * RPM, lash=0.016 * INCH
)  # fmt: skip


def line(**changes: Any) -> LineAnalysis:
    return analyse(job(**POLYDYNE | changes)).lines[0]


def polydyne(found: LineAnalysis) -> Polydyne:
    lobe = found.motion.lobe
    assert isinstance(lobe, Scaled)
    assert isinstance(lobe.lift, Polydyne)
    return lobe.lift


def problems(**changes: Any) -> dict[str, Problem]:
    return analyse(job(**POLYDYNE | changes)).stated.problems


def test_a_job_reaches_its_polydyne_lobe() -> None:
    halves, ramps = (math.radians(64), math.radians(68)), (math.radians(25), math.radians(30))
    wanted = polydyne_of(1.6 * 0.370 * INCH, halves, ramps, MADE_FOR)
    motion = line().motion
    assert motion.lobe is not None
    assert motion.valve is not None
    assert motion.lobe(TURN) == pytest.approx(wanted(TURN) / 1.6, abs=1e-12)
    assert motion.valve(TURN) == pytest.approx(wanted(TURN), abs=1e-12)
    assert motion.dynamic is not None
    assert not problems()


def test_the_name_is_read_as_it_is_written() -> None:
    assert line(**{"cam.law.name": " Polydyne "}).motion.lobe == line().motion.lobe


def test_the_figure_tells_the_valves_lift_at_that_speed() -> None:
    found = line()
    figure, lobe = found.figures["design_valve_lift"], polydyne(found)
    given = {each.symbol: each.value for each in figure.inputs}
    by_hand = (
        given["s"] - given["l"] - given["F_0"] / given["k_r"]
        - given["m"] / given["k_r"] * (given["n"] / 2) ** 2 * given["y\u2033"]
    ) / (1 + given["k_s"] / given["k_r"])  # fmt: skip
    assert figure.value == pytest.approx(by_hand, rel=1e-12) == float(lobe.valve(0.0))
    assert 0.5 * INCH < float(figure.value or 0.0) < 0.592 * INCH
    ramp = found.figures["design_ramp_height"].value
    assert ramp == pytest.approx(MADE_FOR.ramp_height / 1.6, rel=1e-9)
    assert "design_valve_lift" not in analyse(job()).lines[0].figures


@pytest.mark.parametrize(
    "changes",
    [
        {"spring.installed_height": "1.880 in"}, {"spring.rate": "500 lbf/in"}, {"valve_gear.masses.valve": "140 g"},
        {"valve_gear.stiffness": "9000 N/mm"}, {"valve_gear.lash": "0.010 in"}, {"valve_gear.rocker_ratio": 1.7},
        {"valve_gear.ratio_curve": (("0 in", 1.55), ("0.3 in", 1.62), ("0.6 in", 1.58))},
        {"valve_gear.valve_lift": "0.600 in"},
    ],
    ids=["height", "rate", "mass", "stiffness", "lash", "ratio", "ratio curve", "valve lift"],
)  # fmt: skip
def test_a_lobe_that_is_ground_does_not_follow_the_spring(changes: dict[str, Any]) -> None:
    assert line(**changes).motion.lobe == line().motion.lobe


def test_behind_another_rocker_the_valves_own_lift_goes_by_that() -> None:
    found = line(**{"valve_gear.rocker_ratio": 1.7})
    dynamic = found.motion.dynamic
    assert dynamic is not None
    wanted = polydyne(found).valve(TURN) * 1.7 / 1.6
    assert dynamic.as_rigid().lift(TURN) == pytest.approx(wanted, rel=1e-12)
    assert dynamic.as_rigid().lash == 0.0


def test_behind_a_ratio_curve_the_valves_own_lift_goes_by_the_curve() -> None:
    found = line(**{"valve_gear.ratio_curve": (("0 in", 1.5), ("0.3 in", 1.55), ("0.6 in", 1.6))})
    dynamic = found.motion.dynamic
    assert dynamic is not None
    at, lobe = np.array([-0.5, 0.0, 0.6]), polydyne(found).valve
    moved = dynamic.as_rigid().lift(at)
    ratio = 1.5 + moved / (0.6 * INCH) * 0.1  # by its three rows a straight line
    assert moved == pytest.approx(ratio * lobe(at) / 1.6, rel=1e-9)


def test_a_valve_lift_that_is_stated_is_the_lobes_at_the_valve() -> None:
    found = line(**{"valve_gear.lobe_lift": None, "valve_gear.valve_lift": "0.592 in"})
    assert found.motion.lobe is not None
    assert float(found.motion.lobe(0.0)) == pytest.approx(0.592 / 1.6 * INCH, rel=1e-12)


def test_behind_a_ratio_curve_the_lobe_has_its_stated_lift() -> None:
    curve = (("0 in", 1.55), ("0.3 in", 1.62), ("0.6 in", 1.58))
    motion = line(**{"valve_gear.ratio_curve": curve}).motion
    assert motion.lobe is not None
    assert motion.valve is not None
    assert float(motion.lobe(0.0)) == pytest.approx(0.370 * INCH, rel=1e-9)
    assert float(motion.lobe(TURN).max()) == pytest.approx(0.370 * INCH, rel=1e-9)
    assert float(motion.valve(np.zeros(1))[0]) == pytest.approx(0.370 * INCH * 1.58, rel=5e-3)


# What it waits for


@pytest.mark.parametrize("field", [*DESIGN, "cam.law.opening", "cam.ramps.opening"])
def test_without_one_of_what_it_was_made_for_it_waits_for_that(field: str) -> None:
    found = line(**{field: None})
    assert found.motion.lobe is None
    assert found.motion.missing == (field,)
    assert "polydyne" in found.figures["separation_speed"].note


def test_a_faulty_lash_is_waited_for_whatever_the_follower() -> None:
    faulty = {"follower.family": "roller-hydraulic", "cam.law.design.lash": "some"}
    assert line(**faulty).motion.missing == ("cam.law.design.lash",)


@pytest.mark.parametrize("field", ["cam.law.closing", "cam.ramps.closing"])
def test_a_closing_side_that_is_not_stated_is_as_the_opening_one(field: str) -> None:
    opening = {"cam.law.closing": "128 deg", "cam.ramps.closing": "50 deg"}[field]
    assert line(**{field: None}).motion.lobe == line(**{field: opening}).motion.lobe
    assert line(**{field: "soon"}).motion.missing == (field,)


def test_without_a_ratio_that_is_waited_for() -> None:
    assert line(**{"valve_gear.rocker_ratio": None}).motion.missing == ("valve_gear.rocker_ratio",)
    assert line(**{"valve_gear.lobe_lift": None}).motion.missing == ("valve_gear.lobe_lift",)


def test_a_hydraulic_follower_needs_no_lash_stated() -> None:
    hydraulic = {"follower.family": "roller-hydraulic", "cam.law.design.lash": None, "valve_gear.lash": None}
    lobe = line(**hydraulic).motion.lobe
    assert isinstance(lobe, Scaled)
    assert polydyne(line(**hydraulic)).made_for.lash == 0.0


# What it cannot be


def test_a_ramp_height_is_told_since_the_lobe_has_its_own() -> None:
    found = problems(**{"cam.ramps.height": "0.012 in"})
    assert list(found) == ["cam.ramps.height"]
    assert found["cam.ramps.height"].expected == "the ramps' angles alone"


@pytest.mark.parametrize(
    ("changes", "told", "missing"),
    [
        ({"cam.law.closing": "240 deg"}, "times the other", "cam.law.closing"),
        ({"cam.law.design.speed": "40000 rpm"}, "design speed", "cam.law.design.speed"),
        ({"cam.law.design.stiffness": "1 N/mm"}, "as much as the lobe's lift", "cam.law.design.stiffness"),
        ({"cam.law.opening": "300 deg", "cam.law.closing": "300 deg", "cam.ramps.closing": "90 deg"},
         "longer than a turn", "cam.ramps.opening"),
        ({"cam.law.opening": "20 deg"}, "20 deg of the crank", "cam.law.opening"),
        ({"cam.law.closing": "400 deg"}, "30 to 360 deg", "cam.law.closing"),
        ({"cam.ramps.opening": "1 deg"}, "10 to 180 deg", "cam.ramps.opening"),
        ({"cam.ramps.closing": "0.001 deg"}, "10 to 180 deg", "cam.ramps.closing"),
        ({"cam.law.design.speed": "20000 rpm"}, "fall on its way up", "cam.law.design.speed"),
    ],
    ids=["uneven", "fast", "soft", "long", "short flank", "long flank", "short ramp", "no ramp", "falls"],
)  # fmt: skip
def test_a_lobe_that_cannot_be_ground_says_why(changes: dict[str, Any], told: str, missing: str) -> None:
    found = line(**changes)
    assert found.motion.lobe is None
    assert told in found.figures["separation_speed"].note
    assert told in found.motion.note
    assert found.motion.missing == (missing,)


def test_halves_too_unequal_are_told_at_their_field() -> None:
    assert list(problems(**{"cam.law.closing": "240 deg"})) == ["cam.law.closing"]
    assert not problems(**{"cam.law.closing": "170 deg"})
    assert not problems(**{"cam.law.closing": "240 deg", "cam.law.name": "power", "cam.ramps.opening": None})


def test_a_law_that_is_not_known_waits_for_its_name_whatever_the_ramps() -> None:
    assert line(**{"cam.law.name": "wobble"}).motion.missing == ("cam.law.name",)


# What goes by the valve's own lift


def test_the_force_balance_goes_by_the_lift_that_the_lobe_was_made_for() -> None:
    found = line(**{"duty.speed_limit": "6500 rpm"})
    dynamic, at = found.motion.dynamic, TURN[np.abs(TURN) < 1.0]
    assert dynamic is not None
    lobe = polydyne(found)
    made = dynamic.gear.preload + dynamic.gear.spring_rate * lobe.valve(at)
    made = made + dynamic.gear.referred_mass * (3250 * RPM) ** 2 * lobe.valve(at, 2)
    assert rigid_force(dynamic, at, 6500 * RPM) == pytest.approx(made, rel=1e-9)
    limit = found.motion.limit
    assert limit is not None
    assert limit.tip.max() < limit.pushrod.max() * 1.6 < limit.lobe.max() * 1.6
    assert found.figures["greatest_force_limit"].value == limit.lobe.max()
    assert (found.figures["pushrod_load"].value or 0.0) < limit.lobe.max()


def test_its_seating_speed_is_judged_since_it_has_ramps() -> None:
    verdicts = judge(fully_analysed(analyse(job(**POLYDYNE))))
    level = next(each.level.value for each in verdicts.findings if each.id == "seating-velocity")
    assert level in {"clear", "watch"}


def test_in_its_own_gear_it_keeps_the_greatest_force_below_that_of_a_plain_power_lobe() -> None:
    # invented: at 6500 rpm, the speed that it was made for, the linkage rings less
    def peak(**changes: Any) -> float:
        found = fully_analysed(analyse(job(**{"duty.speed_limit": "6500 rpm"} | changes))).lines[0]
        return float(found.dynamics.figures["greatest_contact_force"].value or 0.0)  # type: ignore[union-attr]

    plain = {"cam.durations": ({"lift": "0.050 in", "crank": "236 deg"}, {"lift": "0.200 in", "crank": "160 deg"})}
    made = peak(**POLYDYNE, **{"valve_gear.stiffness": "6000 N/mm"})
    assert made < peak(**plain, **{"valve_gear.stiffness": "6000 N/mm"})
