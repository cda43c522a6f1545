"""A follower of its own mass: against the two-contact cases, a general solver, and closed forms."""

from __future__ import annotations

import dataclasses
import math

import numpy as np
import pytest

from loadbench.arrays import Floats
from loadbench.errors import InputError
from loadbench.motion import stepping, three_contacts
from loadbench.motion.compiled import compiled
from loadbench.motion.gear import Gear
from loadbench.motion.sweep import Sweep, steps_for, sweep
from tests.motion.general_follower import general_follower
from tests.motion.lifts import FOUR_FIVE_SIX_SEVEN
from tests.motion.test_sweep import CASES, STATIC

RPM = math.pi / 30
SOURCE = "two-contact"
LASH = 0.2e-3

OWN = dataclasses.replace(
    STATIC, mass=0.115, stiffness=7e6, follower_mass=0.055, lobe_stiffness=4e7, lobe_damping=600.0, hold=2.0
)
OILED = dataclasses.replace(OWN, oil_stiffness=3e7, leak=5e-6, refill=0.1, travel=2e-3, depth=1e-3)
WAVES = dataclasses.replace(OWN, mass=0.115 - 0.110 / 3, surging_mass=0.110)
SOFT = dataclasses.replace(
    WAVES, preload=400.0, spring_rate=60e3, damping=600.0, hold=8.0, oil_stiffness=3e7, leak=3e-7, refill=0.1,
    travel=2e-3, depth=1e-3,
)  # fmt: skip
"""A weak spring over a hydraulic follower."""


def swept(gear: Gear, rpm: object, lash: float = LASH, **given: object) -> Sweep:
    return sweep(gear, FOUR_FIVE_SIX_SEVEN, np.asarray(rpm, dtype=float) * RPM, lash=lash, **given)  # type: ignore[arg-type]


def light(gear: Gear) -> Gear:
    """The same with next to none of its mass in the follower, on a lobe that hardly gives."""
    mass, stiffness = 4e-4, 3e9
    return dataclasses.replace(
        gear, mass=gear.mass - mass, stiffness=1 / (1 / gear.stiffness - 1 / stiffness), follower_mass=mass,
        lobe_stiffness=stiffness, lobe_damping=math.sqrt(stiffness * mass), hold=1.0,
    )  # fmt: skip


@pytest.mark.reference(SOURCE)
@pytest.mark.parametrize("case", CASES, ids=[case[0] for case in CASES])
def test_light_follower_is_the_two_contact_case(
    case: tuple[str, Gear, int, float, float, float, object, float, float, float | None],
) -> None:
    _id, gear, rpm, peak, _at, least, _least_at, lift, seating, surge = case
    found = swept(light(gear), [rpm])
    assert found.tip is not None
    assert found.tip.peak_force[0] == pytest.approx(peak, rel=0.005)
    assert found.tip.least_force[0] == pytest.approx(least, abs=0.005 * peak)
    assert bool(found.lost[0]) == bool(found.tip.lost[0]) == (least == 0)
    assert found.greatest_lift[0] * 1e3 == pytest.approx(lift, rel=0.002)
    assert found.seating_speed[0] == pytest.approx(seating, rel=0.02)
    assert found.surge_load[0] == (0.0 if surge is None else pytest.approx(surge, rel=0.01))
    if least > 0:
        assert found.peak_force[0] == pytest.approx(peak, rel=0.005)
        assert found.least_force[0] == pytest.approx(least, abs=0.005 * peak)


@pytest.mark.reference(SOURCE)
def test_stiff_gear_is_the_force_balance_with_each_side_s_own_mass() -> None:
    valve, follower = 0.115, 0.055
    stiff = dataclasses.replace(
        OWN, stiffness=6e8, damping=1.4 * math.sqrt(6e8 * valve), seat_stiffness=6e9,
        seat_damping=1.4 * math.sqrt(6e9 * valve), lobe_stiffness=2e9, lobe_damping=1.4 * math.sqrt(2e9 * follower),
        hold=0.0,
    )  # fmt: skip
    found = swept(stiff, [5000], lash=0.0)
    assert found.tip is not None
    # T13 has all of the mass under its force
    assert found.least_force[0] == pytest.approx(618.93, rel=0.003)
    assert found.peak_force[0] == pytest.approx(1740.07, rel=0.003)
    angles = np.radians(np.linspace(-50, 50, 4001))
    w = 5000 * RPM / 2
    lift, curve = FOUR_FIVE_SIX_SEVEN(angles), FOUR_FIVE_SIX_SEVEN(angles, 2)
    balance = OWN.preload + OWN.spring_rate * lift + valve * w**2 * curve
    assert found.tip.least_force[0] == pytest.approx(balance.min(), rel=0.003)
    assert found.tip.peak_force[0] == pytest.approx(balance.max(), rel=0.003)


SOLVED = [
    ("own", OWN, LASH),
    ("rubbing", dataclasses.replace(OWN, friction=60.0), LASH),
    ("oil", OILED, 0.0),
    ("all", dataclasses.replace(OILED, friction=60.0), 0.0),
]


@pytest.mark.reference("own-form")
@pytest.mark.parametrize("rpm", [3000, 6200])
@pytest.mark.parametrize(("gear", "lash"), [case[1:] for case in SOLVED], ids=[case[0] for case in SOLVED])
def test_agrees_with_a_general_solver(gear: Gear, lash: float, rpm: int) -> None:
    found = swept(gear, [rpm], lash, turns=2, from_rest=True)
    wanted = general_follower(gear, FOUR_FIVE_SIX_SEVEN, rpm * RPM, lash, 2, math.radians(50))
    assert found.tip is not None
    for ours, theirs in (
        (found.peak_force, wanted.lobe_peak),
        (found.tip.peak_force, wanted.tip_peak),
        (found.least_force, wanted.lobe_least),
        (found.tip.least_force, wanted.tip_least),
    ):
        assert ours[0] == pytest.approx(theirs, abs=0.005 * wanted.lobe_peak)
    assert found.greatest_lift[0] == pytest.approx(wanted.lift, rel=0.002)
    assert found.tip.plunger_low[0] == pytest.approx(wanted.plunger, abs=2e-6)


def test_lobe_is_lost_before_the_linkage() -> None:
    """The follower's own mass is the lobe's to hold down: the linkage helps it, but feels less."""
    found = swept(OWN, np.arange(5000, 7501, 50))
    assert found.tip is not None
    lobe, tip = (found.speeds[each][0] / RPM for each in (found.lost, found.tip.lost))
    assert lobe < tip - 300


def test_stiff_oil_is_solid() -> None:
    hard = dataclasses.replace(OWN, oil_stiffness=1e15)
    rpm = [3000, 5000]
    assert swept(hard, rpm).peak_force == pytest.approx(swept(OWN, rpm).peak_force, rel=1e-6)
    soft = dataclasses.replace(OWN, oil_stiffness=1e7)
    assert np.all(swept(soft, rpm).lift_loss > swept(OWN, rpm).lift_loss + 5e-5)


def test_finer_steps_change_little() -> None:
    rpm = [2000, 3500, 5000, 6000]
    for gear in (WAVES, dataclasses.replace(WAVES, friction=50.0)):
        usual, finer = swept(gear, rpm, steps=7200), swept(gear, rpm, steps=28800)
        assert np.abs(usual.peak_force / finer.peak_force - 1).max() < 0.005
        assert np.abs(usual.least_force - finer.least_force).max() / finer.peak_force.max() < 0.005


def test_steps_follow_the_follower() -> None:
    assert steps_for(OWN, 2000 * RPM) == 7200
    assert steps_for(dataclasses.replace(OWN, follower_mass=0.002), 2000 * RPM) > 7200


def test_settled_start_agrees_with_turns_from_rest_and_from_a_near_gear() -> None:
    rpm = np.arange(2000, 5001, 500)
    quick, long = swept(WAVES, rpm), swept(WAVES, rpm, turns=20, from_rest=True)
    near = swept(WAVES, rpm, start=swept(dataclasses.replace(WAVES, preload=705.0), rpm))
    for name in ("peak_force", "least_force", "surge_load"):
        assert getattr(quick, name) == pytest.approx(getattr(long, name), abs=0.004 * quick.peak_force.max()), name
        assert getattr(quick, name) == pytest.approx(getattr(near, name), abs=0.004 * quick.peak_force.max()), name


def test_a_start_of_the_other_kind_is_no_start() -> None:
    rpm = [3000.0, 4000.0]
    assert swept(OWN, rpm, start=swept(STATIC, rpm)).peak_force == pytest.approx(swept(OWN, rpm).peak_force)
    assert swept(STATIC, rpm, start=swept(OWN, rpm)).peak_force == pytest.approx(swept(STATIC, rpm).peak_force)


# The plunger


def test_plunger_sinks_by_its_leak_and_is_filled_again() -> None:
    found = swept(OILED, [3000], lash=0.0)
    assert found.tip is not None
    assert bool(found.periodic[0])
    time = (found.angles[1] - found.angles[0]) / (3000 * RPM / 2)
    sunk = OILED.leak * float(found.tip.force[0].sum()) * time
    assert found.tip.plunger_high[0] - found.tip.plunger_low[0] == pytest.approx(sunk, rel=0.02)
    assert found.tip.held_open[0] == 0


def test_weak_spring_over_a_hydraulic_follower_pumps_up_at_speed() -> None:
    rpm = np.array([3500, 4000, 4500, 5000, 5500, 6000])
    found = swept(SOFT, rpm, lash=0.0)
    assert found.tip is not None
    held = found.tip.held_open
    assert np.all(held[:3] == 0)
    assert np.all(held[3:] > 0.2e-3)
    assert np.all(found.tip.plunger_high[:3] < 0)
    assert np.all(found.tip.plunger_high <= SOFT.depth)
    # a plunger set near its stop has no way to go, and one that is not filled does not go
    for other in (dataclasses.replace(SOFT, depth=0.0), dataclasses.replace(SOFT, refill=0.0)):
        shut = swept(other, rpm, lash=0.0)
        assert shut.tip is not None
        assert np.all(shut.tip.held_open == 0)
    stiff = dataclasses.replace(SOFT, preload=900.0)
    firm = swept(stiff, rpm[:4], lash=0.0)
    assert firm.tip is not None
    assert np.all(firm.tip.held_open == 0)


def test_pumped_up_state_is_no_start_for_a_gear_that_does_not_float() -> None:
    rpm, firm = [5000], dataclasses.replace(SOFT, preload=900.0)
    near, anew = (swept(firm, rpm, lash=0.0, start=start) for start in (swept(SOFT, rpm, lash=0.0), None))
    assert near.tip is not None
    assert np.all(near.tip.held_open == 0)
    assert near.peak_force == pytest.approx(anew.peak_force, rel=0.005)


# The loop itself


def constants(**given: float) -> Floats:
    """Of a valve without spring, seat or lobe, 0.1 kg, and what is given."""
    places = {
        "linkage": stepping.LINKAGE_K, "rate": stepping.RATE, "seat": stepping.SEAT_K, "lash": three_contacts.LASH,
        "lobe": three_contacts.LOBE_K, "hold": three_contacts.HOLD, "friction": three_contacts.FRICTION,
    }  # fmt: skip
    found = np.zeros(16)
    found[stepping.INVERSE_MASS], found[three_contacts.FOLLOWER_INVERSE] = 1 / 0.1, 1 / 0.05
    for name, value in given.items():
        found[places[name]] = value
    return found


def stepped(start: Floats, given: Floats, step: float, steps: int, turns: int, load: float = 0.0) -> list[Floats]:
    """The state after each turn, on a lobe that stands still."""
    state, flat = start.copy(), np.zeros(steps)
    found, noted, force = [], np.zeros((three_contacts.NOTED, 1)), np.zeros((1, 1))
    for _ in range(turns):
        compiled(three_contacts.turn)(
            flat, flat, flat + load, np.array([step]), given, np.zeros((0, 5)), state, np.zeros((3, 0, 1)), noted,
            (0, -1), force, force.copy(), 10**9,
        )  # fmt: skip
        found.append(state[:, 0].copy())
    return found


@pytest.mark.parametrize("finer", [1, 2])
def test_energy_is_kept_through_all_three_contacts(finer: int) -> None:
    linkage, lobe, seat, rate, load, hold, lash = 7e6, 4e7, 5e7, 70e3, 100.0, 3.0, 1.5e-3
    given = constants(linkage=linkage, lobe=lobe, seat=seat, rate=rate, hold=hold, lash=lash)
    start = np.zeros((three_contacts.STATES, 1))
    start[stepping.X], start[three_contacts.Z] = 3e-3, 4e-3
    start[stepping.A], start[three_contacts.B] = -(load + rate * 3e-3) / 0.1, -hold / 0.05

    def energy(state: Floats) -> float:
        x, v, z, u = state[[stepping.X, stepping.V, three_contacts.Z, three_contacts.U]]
        bend = max(z - lash - x, 0.0)
        springs = rate * x**2 + seat * min(x, 0.0) ** 2 + linkage * bend**2 + lobe * max(-z, 0.0) ** 2
        return float(0.05 * v**2 + 0.025 * u**2 + load * x + hold * z + springs / 2)

    held = np.array([energy(each) for each in stepped(start, given, 5e-7 / finer, 200, 1000 * finer, load)])
    assert np.ptp(held) / energy(start[:, 0]) < 1.5e-3 / finer**1.5


@pytest.mark.reference("own-form")
def test_friction_takes_four_times_its_force_over_the_rate_from_each_swing() -> None:
    """Free swings with dry friction lose 4 f/k of amplitude each, and stop where the spring cannot move it."""
    rate, friction, step = 50e3, 20.0, 1e-6
    period = 2 * math.pi * math.sqrt(0.1 / rate)
    start = np.zeros((three_contacts.STATES, 1))
    start[stepping.X], start[three_contacts.Z] = 5.2e-3, -1.0
    start[stepping.A] = (-rate * 5.2e-3 + friction) / 0.1
    steps = round(period / step)
    found = stepped(start, constants(rate=rate, friction=friction), period / steps, steps, 5)
    lost = 4 * friction / rate
    assert [float(each[stepping.X]) for each in found[:3]] == pytest.approx(
        [5.2e-3 - n * lost for n in (1, 2, 3)], abs=2e-7
    )
    last = found[-1]
    assert abs(rate * last[stepping.X]) <= friction
    assert last[stepping.V] == last[stepping.A] == 0
    assert found[-1][stepping.X] == found[-2][stepping.X]


def test_friction_takes_its_band_s_area_from_each_cycle() -> None:
    """4 F times the amplitude, which is half the stroke: what the lobe puts in over a turn and does not get back."""
    friction, rpm = 40.0, 1500
    taken = []
    for each in (0.0, friction):
        found = swept(dataclasses.replace(OWN, friction=each), [rpm])
        angles, force = found.angles, found.force[0]
        taken.append(float(np.sum(force * FOUR_FIVE_SIX_SEVEN(angles, 1))) * (angles[1] - angles[0]))
    amplitude = float(swept(OWN, [rpm]).greatest_lift[0]) / 2
    assert taken[1] - taken[0] == pytest.approx(4 * friction * amplitude, rel=0.02)


# What is refused


@pytest.mark.parametrize(
    "given",
    [
        {"follower_mass": 0.05, "lobe_stiffness": 0.0},
        {"follower_mass": 0.0},
        {"oil_stiffness": 0.0},
        {"oil_stiffness": 3e7, "travel": 1e-3, "depth": 2e-3},
        {"friction": -1.0},
        {"leak": math.nan},
    ],
)
def test_follower_without_sense_is_refused(given: dict[str, float]) -> None:
    with pytest.raises(InputError):
        dataclasses.replace(OWN, **given)


@pytest.mark.parametrize("name", ["friction", "oil_stiffness", "leak", "refill", "lobe_stiffness"])
def test_what_wants_a_follower_is_refused_without_one(name: str) -> None:
    with pytest.raises(InputError, match=name.replace("_", " ")):
        dataclasses.replace(STATIC, **{name: 1.0})


def test_the_loop_does_the_same_uncompiled() -> None:
    """A landing valve under a lobe that comes up, with oil, friction and two modes."""
    steps, speeds = 40, 3
    given = constants(linkage=7e6, lobe=4e7, seat=5e7, rate=70e3, hold=3.0, lash=0.0, friction=30.0)
    given[three_contacts.LEAK], given[three_contacts.REFILL] = 1e-6, 0.2
    given[three_contacts.LOWEST], given[three_contacts.HIGHEST] = -1e-3, 1e-3
    given[stepping.LINKAGE_C], given[stepping.SEAT_C], given[three_contacts.LOBE_C] = 250.0, 2000.0, 300.0
    lobe = np.linspace(-5e-6, 2e-4, steps)
    modes = np.array([[0.3, 6e6, 100.0, 0.03, -2e5], [-0.15, 2.4e7, 200.0, -0.015, 4e5]])
    found = []
    for loop in (three_contacts.turn, compiled(three_contacts.turn)):
        state, waves = np.zeros((three_contacts.STATES, speeds)), np.zeros((3, 2, speeds))
        state[stepping.X], state[stepping.V] = [1e-5, 5e-5, 1e-4], -1.0
        noted, force, tip = np.zeros((three_contacts.NOTED, speeds)), np.zeros((10, speeds)), np.zeros((10, speeds))
        loop(
            lobe, np.gradient(lobe), np.full(steps, 700.0), np.array([4e-6, 5e-6, 6e-6]), given, modes, state, waves,
            noted, (10, 30), force, tip, 4,
        )  # fmt: skip
        found.append((state, waves, noted, force, tip))
    for plain, fast in zip(*found, strict=True):
        assert plain == pytest.approx(fast, rel=1e-9, abs=1e-12)
    assert np.all(found[0][4][-1] > 0)
    assert np.any(found[0][2][stepping.SEATING] < 0)
