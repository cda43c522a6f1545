"""The two-contact dynamics against the computed check cases, and against themselves."""

from __future__ import annotations

import dataclasses
import math

import numpy as np
import pytest

from loadbench.arrays import Floats
from loadbench.errors import InputError
from loadbench.motion import stepping
from loadbench.motion.gear import Gear
from loadbench.motion.sweep import MOST_TURNS, MOST_TURNS_OF_ALL, Sweep, most_turns, steps_for, sweep
from tests.motion.lifts import FOUR_FIVE_SIX_SEVEN, power_lift

RPM = math.pi / 30
SOURCE = "two-contact"

STATIC = Gear(
    mass=0.170, stiffness=6e6, damping=250.0, preload=700.0, spring_rate=70e3, seat_stiffness=5e7, seat_damping=2000.0
)
WAVES = dataclasses.replace(STATIC, mass=0.133333, surging_mass=0.110)

M_STATIC = Gear(
    mass=0.118, stiffness=1.6e7, damping=500.0, preload=310.0, spring_rate=42e3, seat_stiffness=4.5e7,
    seat_damping=1800.0,
)  # fmt: skip
M_WAVES = dataclasses.replace(M_STATIC, mass=0.118 - 0.062 / 3, surging_mass=0.062)
M_LIFT = power_lift(0.0102, 62.0)


def swept(gear: Gear, rpm: object, **given: object) -> Sweep:
    return sweep(gear, FOUR_FIVE_SIX_SEVEN, np.asarray(rpm, dtype=float) * RPM, lash=0.2e-3, **given)  # type: ignore[arg-type]


CASES = [
    # id, gear, rpm, peak, at, least, at, lift mm, seating, surge
    ("T01", STATIC, 2000, 1630.2, 0.03, 620.0, -48.73, 13.2298, -0.577, None),
    ("T02", STATIC, 4000, 2072.2, -49.73, 808.0, -18.58, 13.2496, -1.260, None),
    ("T03", STATIC, 5000, 2660.5, -48.50, 353.6, -23.97, 13.2741, -1.695, None),
    ("T04", STATIC, 6000, 3372.5, -47.18, 0.0, None, 13.3281, -2.263, None),
    ("T05", STATIC, 7000, 5080.2, 50.73, 0.0, None, 13.9354, -12.164, None),
    ("T07", WAVES, 2000, 1649.9, -3.66, 740.3, -49.23, 13.2285, -0.578, 77.4),
    ("T08", WAVES, 4000, 1852.2, -50.12, 633.0, -21.76, 13.2349, -1.254, 295.3),
    ("T09", WAVES, 5000, 2541.7, -48.68, 226.8, 22.81, 13.2290, -1.713, 526.7),
    ("T10", WAVES, 6000, 4254.4, 9.22, 0.0, None, 14.2669, -2.209, 1585.7),
    ("T11", WAVES, 7000, 3146.8, -46.41, 0.0, None, 14.4395, -2.622, 1227.8),
]


@pytest.mark.reference(SOURCE)
@pytest.mark.parametrize("case", CASES, ids=[case[0] for case in CASES])
def test_two_contact_case(case: tuple[str, Gear, int, float, float, float, float | None, float, float, float]) -> None:
    _id, gear, rpm, peak, at, least, least_at, lift, seating, surge = case
    found = swept(gear, [rpm])
    assert bool(found.periodic[0])
    assert found.peak_force[0] == pytest.approx(peak, rel=0.005)
    assert math.degrees(found.peak_angle[0]) == pytest.approx(at, abs=0.5)
    assert found.least_force[0] == pytest.approx(least, abs=0.005 * peak)
    if least_at is not None:
        assert math.degrees(found.least_angle[0]) == pytest.approx(least_at, abs=0.5)
    assert bool(found.lost[0]) == (least == 0)
    assert found.greatest_lift[0] * 1e3 == pytest.approx(lift, rel=0.002)
    assert found.seating_speed[0] == pytest.approx(seating, rel=0.02)
    assert found.surge_load[0] == (0.0 if surge is None else pytest.approx(surge, rel=0.01))


M_CASES = [
    # id, gear, rpm, peak, at, least, at, lift mm, seating, deepest um, surge
    ("M68", M_STATIC, 3000, 1213.85, -53.49, 415.28, -41.09, 10.00947, -0.76515, 23.601, None),
    ("M69", M_STATIC, 5000, 2167.51, -52.58, 247.42, -39.99, 10.01856, -1.40325, 39.745, None),
    ("M70", M_STATIC, 6000, 2744.53, -52.07, 93.65, -36.96, 10.02471, -1.80577, 49.373, None),
    ("M71", M_STATIC, 7000, 3391.36, -51.54, 0.0, None, 10.03228, -2.28592, 60.755, None),
    ("M73", M_WAVES, 3000, 1104.51, -53.60, 397.19, -33.13, 10.00790, -0.76392, 21.412, 78.800),
    ("M74", M_WAVES, 5000, 1882.90, -52.83, 197.04, -19.69, 10.01112, -1.37559, 35.616, 273.299),
    ("M75", M_WAVES, 6000, 2452.99, -52.32, 69.84, 28.48, 10.01269, -1.81444, 45.585, 283.323),
    ("M76", M_WAVES, 7000, 3138.20, 51.22, 0.0, None, 10.56081, -2.05917, 70.233, 568.954),
]


@pytest.mark.reference(SOURCE)
@pytest.mark.parametrize("case", M_CASES, ids=[case[0] for case in M_CASES])
def test_another_law(
    case: tuple[str, Gear, int, float, float, float, float | None, float, float, float, float | None],
) -> None:
    _id, gear, rpm, peak, at, least, least_at, lift, seating, deepest, surge = case
    found = sweep(gear, M_LIFT, rpm * RPM, lash=0.15e-3, window=math.radians(45))
    assert found.peak_force[0] == pytest.approx(peak, rel=0.005)
    assert math.degrees(found.peak_angle[0]) == pytest.approx(at, abs=0.5)
    assert found.least_force[0] == pytest.approx(least, abs=0.005 * peak)
    if least_at is not None:
        assert math.degrees(found.least_angle[0]) == pytest.approx(least_at, abs=0.5)
    assert found.greatest_lift[0] * 1e3 == pytest.approx(lift, rel=0.002)
    assert found.seating_speed[0] == pytest.approx(seating, rel=0.02)
    assert found.seat_depth[0] * 1e6 == pytest.approx(deepest, rel=0.02)
    assert found.surge_load[0] == (0.0 if surge is None else pytest.approx(surge, rel=0.01))


MODES = [
    # M78: modes, peak, least, surge
    (1, 1959.6, 190.1, 224.3),
    (2, 1916.9, 187.5, 255.6),
    (4, 1890.6, 166.2, 275.6),
    (6, 1882.9, 197.0, 273.3),
    (12, 1879.1, 194.7, 270.9),
    (20, 1879.3, 194.7, 271.5),
]


@pytest.mark.reference(SOURCE)
@pytest.mark.parametrize(("modes", "peak", "least", "surge"), MODES, ids=[f"M78-{modes[0]}" for modes in MODES])
def test_number_of_modes(modes: int, peak: float, least: float, surge: float) -> None:
    gear = dataclasses.replace(M_WAVES, modes=modes)
    found = sweep(gear, M_LIFT, 5000 * RPM, lash=0.15e-3, window=math.radians(45))
    assert found.peak_force[0] == pytest.approx(peak, rel=0.005)
    assert found.least_force[0] == pytest.approx(least, abs=0.005 * peak)
    assert found.surge_load[0] == pytest.approx(surge, rel=0.01)


@pytest.mark.reference(SOURCE)
def test_rigid_limit_t13() -> None:
    stiff = dataclasses.replace(
        STATIC, stiffness=6e8, damping=1.4 * math.sqrt(6e8 * 0.17), seat_stiffness=6e9,
        seat_damping=1.4 * math.sqrt(6e9 * 0.17),
    )  # fmt: skip
    found = sweep(stiff, FOUR_FIVE_SIX_SEVEN, 5000 * RPM)
    assert found.least_force[0] == pytest.approx(618.93, rel=0.002)
    assert found.peak_force[0] == pytest.approx(1740.07, rel=0.002)


@pytest.mark.reference(SOURCE)
def test_rigid_limit_m81() -> None:
    stiff = dataclasses.replace(
        M_STATIC, stiffness=1.6e9, damping=1.4 * math.sqrt(1.6e9 * 0.118), seat_stiffness=4.5e9,
        seat_damping=1.4 * math.sqrt(4.5e9 * 0.118),
    )  # fmt: skip
    found = sweep(stiff, M_LIFT, 5000 * RPM, window=math.radians(45))
    assert found.least_force[0] == pytest.approx(366.642, rel=0.002)
    assert found.peak_force[0] == pytest.approx(1027.544, rel=0.002)


@pytest.mark.reference(SOURCE)
def test_modes_against_24_t15() -> None:
    more = swept(dataclasses.replace(WAVES, modes=24), [5000])
    assert more.peak_force[0] == pytest.approx(2542.6, rel=0.002)
    assert more.surge_load[0] == pytest.approx(542.9, rel=0.01)


@pytest.mark.parametrize("gear", [STATIC, WAVES], ids=["rate", "waves"])
def test_start_from_the_periodic_answer_agrees_with_15_turns_from_rest(gear: Gear) -> None:
    rpm = np.arange(2000, 7001, 250)
    quick, long = swept(gear, rpm), swept(gear, rpm, turns=15, from_rest=True)
    held = quick.periodic & long.periodic
    assert held.mean() > 0.9
    for name in ("peak_force", "least_force", "surge_load"):
        one, other = getattr(quick, name)[held], getattr(long, name)[held]
        assert np.abs(one - other).max() / quick.peak_force.max() < 0.003, name
    assert np.median(quick.turns) < 8


def test_a_start_from_nearly_the_same_gear_agrees_and_is_short() -> None:
    rpm = np.arange(2000, 7001, 250)
    before = swept(WAVES, rpm)
    other = dataclasses.replace(WAVES, preload=706.0)
    near, anew = swept(other, rpm, start=before), swept(other, rpm)
    for name in ("peak_force", "least_force", "surge_load"):
        assert np.abs(getattr(near, name) - getattr(anew, name)).max() / anew.peak_force.max() < 0.003, name
    assert near.turns.sum() < 0.75 * anew.turns.sum()
    fewer_modes = dataclasses.replace(WAVES, modes=4)
    assert swept(fewer_modes, rpm, start=before).peak_force == pytest.approx(swept(fewer_modes, rpm).peak_force)


def test_finer_steps_change_little() -> None:
    rpm = [2000, 3500, 5000, 6000, 7000]
    usual, finer = swept(WAVES, rpm, steps=7200), swept(WAVES, rpm, steps=28800)
    assert np.abs(usual.peak_force / finer.peak_force - 1).max() < 0.002
    assert np.abs(usual.least_force - finer.least_force).max() / finer.peak_force.max() < 0.002


def test_speeds_do_not_change_each_other() -> None:
    rpm = np.linspace(2500, 6500, 61)
    together, alone = swept(WAVES, rpm), swept(WAVES, rpm[[7, 30, 55]])
    assert together.peak_force[[7, 30, 55]] == pytest.approx(alone.peak_force, rel=1e-9)


def test_bounce_is_told_as_not_periodic() -> None:
    loose = dataclasses.replace(WAVES, damping=40.0, seat_damping=100.0, modal_damping=0.004)
    found = swept(loose, np.arange(8000, 11001, 250))
    assert not found.periodic.all()
    most = most_turns(loose, 11000 * RPM)
    assert MOST_TURNS < most < MOST_TURNS_OF_ALL
    assert np.all(found.turns[~found.periodic] == most)
    # told by extremes: at least as far out as any single turn
    last = swept(loose, np.arange(8000, 11001, 250), turns=most, from_rest=True)
    assert np.all(found.peak_force[~found.periodic] > 0.5 * last.peak_force[~found.periodic])


def test_least_force_of_the_map_is_the_least_force() -> None:
    found = swept(WAVES, [5000])
    inside = np.abs(found.angles) <= math.radians(50)
    assert found.force[0, inside].min() == pytest.approx(found.least_force[0], abs=2.0)
    assert found.force.shape == (1, found.angles.size)


def test_closing_force_adds_to_the_preload() -> None:
    more = dataclasses.replace(STATIC, preload=760.0)
    pressed = swept(STATIC, [5000], closing=lambda angles: np.full(angles.shape, 60.0))
    assert pressed.peak_force[0] == pytest.approx(swept(more, [5000]).peak_force[0], rel=1e-9)


@pytest.mark.parametrize("speeds", [[], [0.0], [-1.0], [math.nan]])
def test_no_speed(speeds: list[float]) -> None:
    with pytest.raises(InputError):
        sweep(STATIC, FOUR_FIVE_SIX_SEVEN, np.array(speeds))


@pytest.mark.parametrize("name", ["mass", "stiffness", "spring_rate", "seat_stiffness"])
def test_gear_without_a_part_is_refused(name: str) -> None:
    with pytest.raises(InputError, match=name.replace("_", " ")):
        dataclasses.replace(STATIC, **{name: 0.0})


def test_stiff_gear_takes_more_steps() -> None:
    assert steps_for(STATIC, 2000 * RPM) == 7200
    assert steps_for(dataclasses.replace(STATIC, seat_stiffness=6e9), 2000 * RPM) > 7200


# The loop itself, in plain Python: what is compiled is this same function.


def free_valve(modes: int, steps: int = 400) -> tuple[Gear, Floats, Floats, Floats]:
    gear = dataclasses.replace(
        WAVES, modes=modes, damping=0.0, seat_damping=0.0, modal_damping=0.0, preload=0.0, spring_rate=70e3
    )
    valve, waves = np.zeros((4, 1)), np.zeros((3, modes, 1))
    valve[stepping.X] = 0.005
    return gear, valve, waves, np.zeros(steps)


def energy(gear: Gear, valve: Floats, waves: Floats, step: float) -> float:
    """Of valve, spring and waves, J: kinetic m/2 x'^2 and the spring's line integral, modes by orthogonality."""
    x, v, a = valve[:3, 0]
    q, half, back = waves[:, :, 0]
    speed = half + 0.5 * step * (-2 * gear.shares * a - back)
    moving = 0.5 * gear.referred_mass * v**2 + gear.surging_mass * v * float(gear.shares @ speed)
    waving = 0.25 * gear.surging_mass * float(speed @ speed + (gear.mode_speeds * q) @ (gear.mode_speeds * q))
    return moving + waving + 0.5 * gear.spring_rate * x**2


@pytest.mark.reference(SOURCE)
def test_energy_is_kept_t14() -> None:
    steps, step = 600, np.array([2e-7])
    gear, valve, waves, zeros = free_valve(6, steps)
    constants = np.array([gear.stiffness, 0.0, gear.spring_rate, gear.seat_stiffness, 0.0, 1 / gear.moved_mass])
    own = gear.mode_speeds
    modes = np.stack(
        [gear.shares, own**2, 0 * own, gear.surging_mass * gear.shares, gear.end_loads], axis=1
    )  # fmt: skip
    valve[stepping.A] = valve[stepping.FELT] = -gear.spring_rate * 0.005 / gear.moved_mass
    waves[stepping.P] = -0.5 * step * (-2 * gear.shares[:, None] * valve[stepping.A])
    held = [energy(gear, valve, waves, float(step[0]))]
    noted, force = np.zeros((stepping.NOTED, 1)), np.zeros((1, 1))
    from loadbench.motion.compiled import compiled

    # the lobe far below, the valve swinging both ways: no seat either
    constants[stepping.SEAT_K] = 0.0
    for _ in range(1200):
        compiled(stepping.turn)(
            zeros - 1.0, zeros, zeros, step, constants, modes, valve, waves, noted, (0, 0), force, 10**6
        )
        held.append(energy(gear, valve, waves, float(step[0])))
    period = 2 * math.pi * math.sqrt(gear.referred_mass / gear.spring_rate)
    assert 1200 * steps * float(step[0]) > 10 * period
    assert np.ptp(held) / held[0] < 1e-5


def test_landing_on_the_seat_m79() -> None:
    m, S0, k, seat = 0.170, 700.0, 70e3, 5e7
    step = np.array([1e-7])
    steps = 20000
    constants = np.array([1e6, 0.0, k, seat, 0.0, 1 / m])
    valve, waves = np.zeros((4, 1)), np.zeros((3, 0, 1))
    valve[:, 0] = 0.005, 0.0, -(S0 + k * 0.005) / m, 0.0
    noted, force = np.zeros((stepping.NOTED, 1)), np.zeros((1, 1))
    from loadbench.motion.compiled import compiled

    flat = np.zeros(steps)
    compiled(stepping.turn)(
        flat - 1.0, flat, flat + S0, step, constants, np.zeros((0, 5)), valve, waves, noted, (0, 0), force, 10**6
    )
    assert noted[stepping.SEATING, 0] == pytest.approx(-7.1743005, rel=1e-5)
    assert -noted[stepping.DEEPEST, 0] * 1e6 == pytest.approx(432.2516, rel=1e-4)


# What rings on


def test_a_spring_with_hardly_any_damping_is_followed_until_it_has_settled() -> None:
    bare = dataclasses.replace(WAVES, modal_damping=0.001)
    rpm = np.array([2000, 3000, 4000])
    quick, long = swept(bare, rpm), swept(bare, rpm, turns=200, from_rest=True)
    assert quick.periodic.all()
    assert quick.surge_load == pytest.approx(long.surge_load, rel=0.004)
    assert most_turns(dataclasses.replace(WAVES, modal_damping=0.0), 4000 * RPM) == MOST_TURNS
    assert most_turns(STATIC, 4000 * RPM) == MOST_TURNS


@pytest.mark.parametrize("changes", [{"seat_damping": 30.0}, {"damping": 5.0}, {"modal_damping": 0.001}])
def test_what_rings_on_takes_more_steps_and_comes_out_alike(changes: dict[str, float]) -> None:
    light = dataclasses.replace(WAVES, **changes)
    speed = 2000 * RPM
    assert steps_for(light, speed) > steps_for(WAVES, speed) == 7200
    rpm = [2000.0, 3000.0]
    usual, finer = swept(light, rpm), swept(light, rpm, steps=57600)
    assert usual.peak_force == pytest.approx(finer.peak_force, rel=0.005)
    assert usual.seating_speed == pytest.approx(finer.seating_speed, rel=0.02)
    assert usual.surge_load == pytest.approx(finer.surge_load, rel=0.01)
