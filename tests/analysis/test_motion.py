"""One line's motion: where the lift comes from, masses, balance, dynamics, and what each waits for."""

from __future__ import annotations

import json
import math
from typing import Any

import numpy as np
import pytest

from loadbench.analysis import Analysis, analyse
from loadbench.analysis.dynamic_runs import fully_analysed
from loadbench.analysis.motion.dynamics import FIGURES, run_dynamics, swept_speeds
from loadbench.analysis.motion.result import MotionAnalysis
from loadbench.job.edits import replaced_all
from loadbench.job.model import Job
from loadbench.job.reading_in import job_from_text
from loadbench.motion.force_balance import separation_speed
from loadbench.motion.lobe import PowerLobe
from loadbench.motion.power_lift import fitted

RPM = math.pi / 30
INCH = 0.0254


def job(**changes: Any) -> Job:
    """An invented solid roller with a lobe known by two durations."""
    plain: dict[str, Any] = {
        "format": "loadbench-job",
        "version": 3,
        "title": "invented",
        "units": "inch-pound",
        "spring": {
            "installed_height": "1.900 in",
            "rate": "420 lbf/in",
            "readings": [{"height": "1.900 in", "load": "170 lbf"}],
        },
        "valve_gear": {
            "rocker_ratio": 1.6,
            "lobe_lift": "0.370 in",
            "lash": "0.016 in",
            "masses": {
                "valve": "112 g", "retainer": "18 g", "locks": "6 g", "pushrod": "68 g", "follower": "118 g",
                "rocker_inertia": "9.0e-5 kg m^2", "rocker_valve_arm": "36 mm",
            },
            "pushrod": {"diameter": "0.3125 in", "wall": "0.080 in", "length": "7.200 in"},
        },
        "cam": {
            "kind": "roller",
            "base_radius": "0.600 in",
            "durations": [{"lift": "0.050 in", "crank": "242 deg"}, {"lift": "0.200 in", "crank": "160 deg"}],
        },
        "follower": {"family": "roller-solid", "roller_diameter": "0.750 in"},
        "duty": {"speed_limit": "7000 rpm", "idle_speed": "900 rpm"},
    }  # fmt: skip
    return replaced_all(job_from_text(json.dumps(plain)), changes)


def table(lobe: PowerLobe, step: float = 2.0) -> tuple[tuple[str, str], ...]:
    angles = np.arange(-100.0, 100.0 + step, step)
    return tuple((f"{a:g} deg", f"{float(lobe(math.radians(a))) / INCH:.5f} in") for a in angles)


def lobe() -> PowerLobe:
    found = fitted((0.05 * INCH, 0.2 * INCH), (math.radians(121), math.radians(80)), 0.37 * INCH)
    return PowerLobe(
        powers=found.powers, lift=0.37 * INCH, half_opening=found.half_duration, half_closing=found.half_duration
    )


def value(analysis: Analysis, name: str) -> float:
    found = analysis.value(name)
    assert found is not None, (name, analysis.figures[name].missing)
    return found


def test_two_durations_give_the_lobe_that_has_them() -> None:
    shown = analyse(job()).lines[0].motion.shown
    assert shown is not None
    assert shown.lobe[0].max() == pytest.approx(0.37 * INCH, rel=1e-6)
    at = np.degrees(shown.angles[shown.lobe[0] >= 0.05 * INCH])
    assert 2 * np.ptp(at) == pytest.approx(242, abs=2)
    assert shown.valve[0] == pytest.approx(1.6 * shown.lobe[0])


def test_separation_is_that_of_the_force_balance() -> None:
    found = analyse(job())
    gear = found.lines[0].motion.dynamic.gear  # type: ignore[union-attr]
    lift = found.lines[0].motion.valve
    window = found.lines[0].motion.dynamic.window  # type: ignore[union-attr]
    assert lift is not None
    apart = separation_speed(
        lift, value(found, "referred_mass"), (gear.preload, gear.spring_rate), lash=0.016 * INCH, window=window
    )
    assert value(found, "separation_speed") == pytest.approx(float(apart.speed), rel=1e-5)
    assert value(found, "float_margin") == pytest.approx(float(apart.speed) / (7000 * RPM) - 1, rel=1e-4)


def test_referred_mass_by_hand() -> None:
    found = analyse(job(**{"spring.mass": "110 g"}))
    by_hand = 0.112 + 0.018 + 0.006 + 0.110 / 3 + 9e-5 / 0.036**2 + (0.068 + 0.118) / 1.6**2
    assert value(found, "referred_mass") == pytest.approx(by_hand, rel=1e-9)
    assert value(found, "valve_side_mass") == pytest.approx(0.136 + 0.110 / 3, rel=1e-9)


def test_what_is_not_stated_is_typical_and_marked() -> None:
    found = analyse(job(**{"valve_gear.masses.locks": None})).lines[0]
    assert "the locks" in found.figures["referred_mass"].note
    assert found.figures["referred_mass"].evidence == "partly typical"
    assert any(path.endswith("masses.locks") for path in found.motion.typical)


@pytest.mark.parametrize("side", ["lobe", "valve"])
def test_a_table_gives_the_same_as_the_lobe_it_was_made_of(side: str) -> None:
    rows = table(lobe())
    changes: dict[str, Any] = {"cam.profile": rows, "cam.profile_angle": "cam", "cam.profile_side": side}
    if side == "valve":
        changes["valve_gear.rocker_ratio"] = 1.0
    by_table = analyse(job(**changes))
    plain = analyse(job(**({"valve_gear.rocker_ratio": 1.0} if side == "valve" else {})))
    assert value(by_table, "separation_speed") == pytest.approx(value(plain, "separation_speed"), rel=0.01)
    shown = by_table.lines[0].motion.shown
    assert shown is not None
    assert shown.residuals is not None
    assert np.abs(shown.residuals).max() < 2e-5 * 2


def test_crank_degrees_either_end_first() -> None:
    rows = tuple((f"{2 * float(a.split()[0]) + 300:g} deg", b) for a, b in reversed(table(lobe())))
    changes = {"cam.profile": rows, "cam.profile_angle": "crank", "cam.profile_side": "lobe"}
    assert value(analyse(job(**changes)), "separation_speed") == pytest.approx(
        value(analyse(job()), "separation_speed"), rel=0.01
    )


def test_a_faulty_row_is_told_at_the_row_and_no_lift_rests_on_it() -> None:
    rows = list(table(lobe()))
    rows[50] = (rows[50][0], "0.500 in")
    changes = {"cam.profile": tuple(rows), "cam.profile_angle": "cam", "cam.profile_side": "lobe"}
    found = analyse(job(**changes))
    problem = found.stated.problems["cam.profile.50.1"]
    assert "row 51" in problem.what
    assert found.value("separation_speed") is None
    assert found.value("seat_load") is not None


def test_a_law() -> None:
    changes = {
        "cam.durations": (), "cam.law.name": "4-5-6-7", "cam.law.opening": "140 deg", "cam.law.closing": "150 deg"
    }  # fmt: skip
    shown = analyse(job(**changes)).lines[0].motion.shown
    assert shown is not None
    open_ = np.degrees(shown.angles[shown.lobe[0] > 1e-9])
    assert (open_[0], open_[-1]) == (pytest.approx(-70, abs=1.6), pytest.approx(75, abs=1.6))


def test_without_a_lobe_it_waits_for_one() -> None:
    found = analyse(job(**{"cam.durations": ()})).lines[0]
    assert found.motion.missing == ("cam.profile",)
    assert found.motion.dynamic is None
    assert run_dynamics(found.motion) is None
    assert found.figures["separation_speed"].missing == ("cam.profile",)
    assert found.figures["referred_mass"].known


def test_dynamic_figures_join_the_line_and_the_job() -> None:
    found = fully_analysed(analyse(job()))
    for name in FIGURES:
        assert name in found.figures, name
    run = found.lines[0].dynamics
    assert run is not None
    place = int(np.argmin(np.abs(run.found.speeds - 7000 * RPM)))
    assert value(found, "greatest_contact_force") == run.found.peak_force[place]
    assert value(found, "seating_speed") > 0
    assert found.figures["onset_speed"].value == (run.bands[0].low if run.bands else None)


def test_more_load_moves_separation_up() -> None:
    low, high = (analyse(job(**{"spring.readings.0.load": load})) for load in ("170 lbf", "230 lbf"))
    assert value(high, "separation_speed") > value(low, "separation_speed")


def test_two_turns_from_a_sweep_nearby_are_nearly_the_whole_of_it() -> None:
    """What a picture shows while a hand drags: four steps of 0.002 in, each from the one before."""
    speeds = np.arange(3000.0, 6001.0, 500.0) * RPM

    def motion(step: int) -> MotionAnalysis:
        return analyse(job(**{"spring.installed_height": f"{1.900 - 0.002 * step:.3f} in"})).lines[0].motion

    before = run_dynamics(motion(0), speeds, refine=False)
    assert before is not None
    for step in range(1, 5):
        near = run_dynamics(motion(step), speeds, start=before.found, refine=False, turns=2)
        assert near is not None
        before = near
    whole = run_dynamics(motion(4), speeds, refine=False)
    assert whole is not None
    assert before.found.turns.max() == 2
    settled = whole.found.periodic & before.found.periodic
    assert settled.sum() > 3
    scale = whole.found.peak_force[settled]
    for name in ("peak_force", "least_force"):
        near_force, force = (getattr(each.found, name)[settled] for each in (before, whole))
        assert np.abs(near_force - force) / scale == pytest.approx(0.0, abs=5e-3)
    other = run_dynamics(motion(0), speeds[:-1], start=before.found, refine=False, turns=2)
    assert other is not None  # no start at these speeds: followed to the end
    assert other.found.periodic.sum() >= settled.sum() - 1


def test_swept_speeds_hold_the_limit() -> None:
    speeds = swept_speeds(6830 * RPM)
    assert np.any(np.isclose(speeds, 6830 * RPM, rtol=1e-12))
    assert np.all(np.diff(speeds) > 0)
    assert speeds[-1] > 1.1 * 6830 * RPM


def test_pushrod_by_hand() -> None:
    found = analyse(job())
    d, wall, length = 0.3125 * INCH, 0.080 * INCH, 7.2 * INCH
    inner = d - 2 * wall
    euler = math.pi**2 * 205e9 * math.pi / 64 * (d**4 - inner**4) / length**2
    assert value(found, "pushrod_buckling_load") == pytest.approx(euler, rel=1e-9)
    force = value(found, "pushrod_load")
    assert value(found, "pushrod_factor") == pytest.approx(euler / force, rel=1e-9)
    assert value(found, "pushrod_stress") == pytest.approx(force / (math.pi / 4 * (d**2 - inner**2)), rel=1e-9)


def test_lobe_geometry_under_a_roller() -> None:
    found = analyse(job())
    lobe = found.lines[0].motion.lobe
    assert lobe is not None
    # extremes lie between the half degrees of the pictures
    at = np.linspace(-np.pi, np.pi, 200_001)
    s, s1, s2 = (lobe(at, order) for order in range(3))
    base, roller = 0.6 * INCH, 0.375 * INCH
    R = base + roller + s
    assert value(found, "greatest_pressure_angle") == pytest.approx(float(np.abs(np.arctan2(s1, R)).max()), rel=1e-6)
    curvature = (R**2 + 2 * s1**2 - R * s2) / (R**2 + s1**2) ** 1.5
    assert value(found, "least_cam_radius") == pytest.approx(1 / curvature.max() - roller, rel=2e-5)
    assert value(found, "hollow_radius") == pytest.approx(roller - 1 / curvature.min(), rel=2e-4)


def test_the_pushrods_seat_is_not_where_the_roller_stands() -> None:
    there, centred = analyse(job(**{"follower.offset": "0.180 in"})), analyse(job())
    for name in ("greatest_pressure_angle", "least_cam_radius", "hollow_radius", "lobe_force_limit", "contact_stress"):
        if name in centred.lines[0].figures:
            assert there.value(name) == centred.value(name), name


def test_the_axle_carries_the_contact_less_the_rollers_inertia() -> None:
    without = analyse(job()).lines[0].motion.limit
    sized = analyse(job(**{"follower.roller_width": "0.450 in"})).lines[0].motion
    assert without is not None
    assert sized.limit is not None
    assert sized.shown is not None
    assert without.axle == pytest.approx(without.contact)
    weight = 7850 * math.pi / 4 * (0.75 * INCH) ** 2 * (1 - 0.6**2) * 0.45 * INCH
    opened = sized.limit.lobe > 0
    along = sized.limit.lobe - weight * (7000 * RPM / 2) ** 2 * sized.shown.lobe[2]
    across = sized.limit.lobe * np.tan(sized.shown.pressure_angle)
    by_hand = np.hypot(along, across)
    assert sized.limit.axle[opened] == pytest.approx(by_hand[opened], rel=1e-9)
    assert np.abs(sized.limit.axle - sized.limit.contact).max() > 20


def test_a_flat_face() -> None:
    found = analyse(job(**{"follower.family": "flat-tappet-solid"}))
    lobe = found.lines[0].motion.lobe
    assert lobe is not None
    at = np.linspace(-np.pi, np.pi, 200_001)
    assert value(found, "face_needed") == pytest.approx(2 * float(np.abs(lobe(at, 1)).max()), rel=1e-6)
    radius = 0.6 * INCH + lobe(at) + lobe(at, 2)
    assert value(found, "least_cam_radius") == pytest.approx(float(radius.min()), abs=2e-6)


def test_what_an_edit_leaves_as_it_was_is_kept() -> None:
    before = job()
    one = analyse(before).lines[0].motion
    other = analyse(replaced_all(before, {"spring.installed_height": "1.905 in"})).lines[0].motion
    assert one.valve is other.valve
    assert one.dynamic is not None
    assert other.dynamic is not None
    assert one.dynamic.key != other.dynamic.key
    again = analyse(before).lines[0].motion
    assert again.dynamic is not None
    assert again.dynamic.key == one.dynamic.key
