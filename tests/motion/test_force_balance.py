"""The rigid balance of forces against worked cases, and turned round."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from loadbench.arrays import Floats, Real
from loadbench.errors import InputError
from loadbench.motion.force_balance import Balance, SpringLoad, balance, open_valve, separation_speed
from loadbench.motion.force_inverse import Wanted, greatest_mass, needed_open_load, needed_seat_load
from loadbench.motion.lift import Lift
from tests.motion.lifts import FOUR_FIVE_SIX_SEVEN, Polynomial, power_lift

RPM = np.pi / 30
CAM_RPM = 2 * RPM
G = 9.80665


class Harmonic:
    """Rises and falls by h in beta each: h (1 + cos(pi angle/beta))/2; an eccentric where beta is half a turn."""

    def __init__(self, lift: float, degrees: float) -> None:
        self.lift, self.beta = lift, np.radians(degrees)

    def __call__(self, angle: Real, derivative: int = 0) -> Floats:
        t = np.pi * np.asarray(angle) / self.beta
        values = ((1 + np.cos(t)), -np.sin(t), -np.cos(t), np.sin(t))[derivative]
        return np.where(np.abs(t) < np.pi, self.lift / 2 * values * (np.pi / self.beta) ** derivative, 0.0)


THREE_FOUR_FIVE = Polynomial(0.010, 60.0, {3: 10.0, 4: -15.0, 5: 6.0}, from_nose=False)
LOBE, SPRING, MASS = power_lift(0.0132, 66.0), (620.0, 64e3), 0.28943637

# Jump of followers. The closed forms are a textbook's (shigley-uicker, cam chapter); the figures are computed.


def test_eccentric_m37() -> None:
    found = separation_speed(Harmonic(0.016, 180.0), 1.2, (30.0, 3000.0))
    assert float(found.speed) / 2 == pytest.approx(90.138782, rel=1e-6)
    assert float(found.speed) / CAM_RPM == pytest.approx(860.7620, rel=1e-6)
    assert found.angle == pytest.approx(0.0, abs=1e-4)


def test_eccentric_upright_m38() -> None:
    weight = 1.2 * G
    found = separation_speed(
        Harmonic(0.016, 180.0), 1.2, (30.0, 3000.0), closing=lambda angles: np.full(angles.shape, weight)
    )
    assert float(found.speed) / CAM_RPM == pytest.approx(923.4141, rel=1e-6)


JUMPS = [
    # id, lift, mass, spring, rad/s of the cam, cam rpm, lift mm, degrees
    ("M39", Harmonic(0.010, 60.0), 0.180, (250.0, 40e3), 283.278862, 2705.1139, 10.0, 0.0, 1e-6),
    ("M40", THREE_FOUR_FIVE, 0.180, (250.0, 40e3), 255.857116, 2443.2555, 9.17810, 13.7125, 1e-5),
    ("M41", Polynomial(0.0137, 65.0, {4: 35.0, 5: -84.0, 6: 70.0, 7: -20.0}, from_nose=False), 0.170, (700.0, 70e3),
     338.440548, 3231.8692, 12.11843, None, 1e-5),
    ("M42", power_lift(0.012, 64.0), 0.140, (420.0, 52e3), 452.742796, 4323.3752, None, 28.5442, 1e-5),
]  # fmt: skip


@pytest.mark.parametrize("case", JUMPS, ids=[case[0] for case in JUMPS])
def test_jump(
    case: tuple[str, Lift, float, SpringLoad, float, float, float | None, float | None, float],
) -> None:
    _id, lift, mass, spring, radians, rpm, top, degrees, rel = case
    found = separation_speed(lift, mass, spring)
    assert float(found.speed) / 2 == pytest.approx(radians, rel=rel)
    assert float(found.speed) / CAM_RPM == pytest.approx(rpm, rel=rel)
    if top is not None:
        assert found.lift * 1e3 == pytest.approx(top, rel=1e-4)
    if degrees is not None:
        assert abs(np.degrees(found.angle)) == pytest.approx(degrees, abs=0.01)


def test_follower_force_and_jump_m48() -> None:
    # A published statement (after R. L. Norton, chapter on cam dynamics); the answers are computed from it.
    lift, spring = Harmonic(0.040, 180.0), (0.2, 10.0)
    found = balance(lift, 1.0, spring, 200 * CAM_RPM)
    assert float(found.least_force[0]) == pytest.approx(-8.17298, rel=1e-5)
    assert float(found.least_share[0]) < 0
    assert float(separation_speed(lift, 1.0, spring).speed) / CAM_RPM == pytest.approx(52.3037, rel=1e-5)


# Valve gears


def test_force_at_30_degrees_m45() -> None:
    found = balance(LOBE, MASS, SPRING, 6200 * RPM, angles=np.radians([30.0]))
    assert float(found.valve.lift[0]) * 1e3 == pytest.approx(8.79192, rel=1e-6)
    assert float(found.acceleration[0, 0]) == pytest.approx(-3172.3732, rel=1e-6)
    assert float(found.force[0, 0]) == pytest.approx(264.4827, rel=1e-6)


@pytest.mark.reference("two-contact")
def test_balance_of_the_rigid_limit_m81() -> None:
    found = balance(power_lift(0.0102, 62.0), 0.118, (310.0, 42e3), 5000 * RPM, window=np.radians(45.0))
    assert float(found.least_force[0]) == pytest.approx(366.6874, rel=1e-6)
    assert abs(np.degrees(found.least_angle[0])) == pytest.approx(32.65, abs=0.05)
    assert float(found.greatest_force[0]) == pytest.approx(1027.1387, rel=1e-6)
    assert abs(np.degrees(found.greatest_angle[0])) == pytest.approx(52.50, abs=0.05)


@pytest.mark.reference("two-contact")
def test_balance_of_the_rigid_limit_t13() -> None:
    found = balance(FOUR_FIVE_SIX_SEVEN, 0.17, (700.0, 70e3), 5000 * RPM, window=np.radians(50.0))
    assert float(found.least_force[0]) == pytest.approx(618.93, rel=1e-5)
    assert abs(np.degrees(found.least_angle[0])) == pytest.approx(19.75, abs=0.05)
    assert float(found.greatest_force[0]) == pytest.approx(1740.07, rel=1e-5)
    assert abs(np.degrees(found.greatest_angle[0])) == pytest.approx(45.25, abs=0.05)


@pytest.mark.reference("two-contact")
def test_rigid_speed_told_in_m72() -> None:
    # What the row tells of the force balance beside its dynamic answer leaves the case's lash of 0.15 mm out: with it,
    # 6.3 N less of load make 8307.84.
    lift, window = power_lift(0.0102, 62.0), np.radians(45.0)
    found, lashed = (
        float(separation_speed(lift, 0.118, (310.0, 42e3), lash=lash, window=window).speed) / RPM
        for lash in (0.0, 0.15e-3)
    )
    assert found == pytest.approx(8351.65, rel=1e-6)
    assert lashed == pytest.approx(8307.84, rel=1e-6)


def test_without_zooms_the_speed_is_right_all_the_same() -> None:
    fine, coarse = (
        separation_speed(FOUR_FIVE_SIX_SEVEN, 0.17, (700.0, 70e3), lash=0.2e-3, window=np.radians(50.0), zooms=zooms)
        for zooms in (3, 0)
    )
    assert float(coarse.speed) == pytest.approx(float(fine.speed), rel=1e-5)
    assert float(coarse.speed) >= float(fine.speed)


def balanced(mass: float, load: float, speed: float) -> Balance:
    return balance(LOBE, mass, (load * SPRING[0], load * SPRING[1]), speed * RPM, angles=np.radians([-60, -30, 0, 20]))


@given(st.floats(0.5, 2.0), st.floats(1000.0, 9000.0))
def test_the_parts_of_the_force_scale(scale: float, speed: float) -> None:
    one, still = balanced(MASS, 1.0, speed), balanced(MASS, 1.0, 0.0)
    inertia = one.force - still.force
    faster, heavier = balanced(MASS, 1.0, scale * speed), balanced(scale * MASS, 1.0, speed)
    assert faster.force - still.force == pytest.approx(scale**2 * inertia, rel=1e-9, abs=1e-9)
    assert heavier.force - still.force == pytest.approx(scale * inertia, rel=1e-9, abs=1e-9)
    assert balanced(scale * MASS, scale, speed).force == pytest.approx(scale * one.force, rel=1e-9, abs=1e-9)


def test_twice_the_lift_is_twice_the_rise_and_the_inertia() -> None:
    angles = np.radians([-60.0, -30.0, 0.0, 20.0])
    one = balance(power_lift(0.006, 66.0), MASS, (0.0, 64e3), 5000 * RPM, angles=angles)
    other = balance(power_lift(0.012, 66.0), MASS, (0.0, 64e3), 5000 * RPM, angles=angles)
    assert other.force == pytest.approx(2 * one.force, rel=1e-12)


def test_contact_is_lost_just_above_the_speed_of_separation() -> None:
    speed = float(separation_speed(LOBE, MASS, SPRING).speed)
    found = balance(LOBE, MASS, SPRING, speed * np.array([0.999, 1.001]))
    assert found.least_force[0] > 0 > found.least_force[1]
    assert found.least_share[0] > 0 > found.least_share[1]


def test_greatest_force_leaves_the_nose_for_a_flank() -> None:
    found = balance(LOBE, MASS, SPRING, np.array([800.0, 7000.0]) * RPM)
    assert abs(np.degrees(found.greatest_angle[0])) < 1.0
    assert abs(np.degrees(found.greatest_angle[1])) > 45.0
    bend = 2 * 3315 / 2048 * 0.0132 / np.radians(66.0) ** 2  # at the nose, m/rad^2
    idle = 620 + 64e3 * 0.0132 - MASS * (400 * RPM) ** 2 * bend
    assert found.greatest_force[0] == pytest.approx(idle, rel=1e-6)


def test_a_seated_valve_gives_the_lobe_nothing() -> None:
    found = balance(LOBE, MASS, SPRING, np.array([3000.0, 6000.0]) * RPM, lash=0.4e-3)
    shut = np.abs(found.valve.angles) > np.radians(66.0)
    assert found.force.shape == (2, found.valve.angles.size)
    assert np.all(found.force[:, shut] == 0)
    assert np.all(found.acceleration[:, shut] == 0)
    assert found.valve.lift.max() == pytest.approx(0.0132 - 0.4e-3, rel=1e-12)


def test_lash_leaves_less_load() -> None:
    speeds = [float(separation_speed(LOBE, MASS, SPRING, lash=lash).speed) for lash in (0.0, 2e-4, 5e-4)]
    assert speeds[0] > speeds[1] > speeds[2]


def test_a_progressive_spring_and_a_pressure_are_taken() -> None:
    def progressive(lift: Floats) -> Floats:
        return np.asarray(620.0 + 64e3 * lift + 2e6 * lift**2)

    plain, more = (float(separation_speed(LOBE, MASS, load).speed) for load in (SPRING, progressive))
    assert more > plain
    boosted = separation_speed(LOBE, MASS, SPRING, closing=lambda angles: np.full(angles.shape, -120.0))
    assert float(boosted.speed) == pytest.approx(float(separation_speed(LOBE, MASS, (500.0, 64e3)).speed), rel=1e-9)


def test_the_speed_goes_with_the_root_of_the_mass() -> None:
    found = separation_speed(LOBE, np.array([0.1, 0.4]), SPRING)
    assert found.speed[0] == pytest.approx(2 * found.speed[1], rel=1e-12)


def test_a_spring_without_load_holds_at_no_speed() -> None:
    assert float(separation_speed(LOBE, MASS, (-5000.0, 64e3)).speed) == 0.0


def test_nothing_pulls_where_the_lift_only_speeds_up() -> None:
    def bowl(angle: Real, derivative: int = 0) -> Floats:
        a = np.asarray(angle)
        return np.asarray((1e-3 * (1 + a**2), 2e-3 * a, 2e-3 + 0 * a, 0 * a)[derivative])

    risen = separation_speed(bowl, MASS, SPRING)
    assert np.isinf(risen.speed)
    assert np.isnan(risen.angle)
    assert np.isinf(greatest_mass(bowl, SPRING, Wanted(speed=600.0)))


@pytest.mark.parametrize("lash", [0.0132, 0.02, -1e-4])
def test_a_valve_that_never_opens_is_told(lash: float) -> None:
    with pytest.raises(InputError, match="lash"):
        open_valve(LOBE, SPRING, lash=lash)


@pytest.mark.parametrize(("mass", "speed"), [(0.0, 100.0), (-1.0, 100.0), (0.1, -5.0)])
def test_no_mass_or_speed(mass: float, speed: float) -> None:
    with pytest.raises(InputError):
        balance(LOBE, mass, SPRING, speed)


# Turned round


@given(st.floats(4000.0, 9000.0), st.floats(0.0, 200.0))
def test_the_load_that_is_needed_just_does(rpm: float, margin: float) -> None:
    wanted = Wanted(speed=rpm * RPM, margin=margin)
    need = needed_seat_load(LOBE, MASS, SPRING, wanted, lash=2e-4)
    assert need.open_load - need.seat_load == pytest.approx(64e3 * 0.013, rel=1e-9)
    found = balance(LOBE, MASS, (need.seat_load, 64e3), wanted.speed, lash=2e-4)
    assert float(found.least_force[0]) == pytest.approx(margin, abs=1e-6)
    assert float(found.least_angle[0]) == pytest.approx(need.angle, abs=1e-9) or np.isclose(
        found.least_angle[0], -need.angle, atol=1e-9
    )


@given(st.floats(6500.0, 9000.0), st.floats(0.0, 200.0))
def test_the_open_load_that_is_needed_just_does(rpm: float, margin: float) -> None:
    wanted = Wanted(speed=rpm * RPM, margin=margin)
    need = needed_open_load(LOBE, MASS, SPRING, wanted)
    assert need.seat_load == 620.0
    rate = (need.open_load - need.seat_load) / 0.0132
    found = balance(LOBE, MASS, (need.seat_load, rate), wanted.speed)
    assert float(found.least_force[0]) == pytest.approx(margin, abs=1e-6)


@given(st.floats(4000.0, 9000.0), st.floats(0.0, 200.0))
def test_the_mass_that_is_held_is_just_held(rpm: float, margin: float) -> None:
    wanted = Wanted(speed=rpm * RPM, margin=margin)
    mass = greatest_mass(LOBE, SPRING, wanted)
    found = balance(LOBE, mass, SPRING, wanted.speed)
    assert float(found.least_force[0]) == pytest.approx(margin, abs=1e-6)


def test_needs_and_separation_are_of_one_mind() -> None:
    speed = float(separation_speed(LOBE, MASS, SPRING).speed)
    wanted = Wanted(speed=speed)
    assert needed_seat_load(LOBE, MASS, SPRING, wanted).seat_load == pytest.approx(620.0, rel=1e-5)
    assert needed_open_load(LOBE, MASS, SPRING, wanted).open_load == pytest.approx(620 + 64e3 * 0.0132, rel=1e-5)
    assert greatest_mass(LOBE, SPRING, wanted) == pytest.approx(MASS, rel=1e-5)


def test_needs_that_cannot_be_met() -> None:
    # More than the seat load is asked for at the very start of the lift: no open load gives that.
    flat = needed_open_load(Harmonic(0.010, 60.0), 0.01, (100.0, 40e3), Wanted(speed=10.0, margin=500.0))
    assert np.isinf(flat.open_load)
    assert flat.seat_load == 100.0
    assert flat.lift < 1e-4
    assert greatest_mass(LOBE, SPRING, Wanted(speed=600.0, margin=5000.0)) == 0.0
    with pytest.raises(InputError, match="does not rise"):
        needed_open_load(LOBE, MASS, (620.0, 0.0), Wanted(speed=600.0))
    for wrong in ((0.0, 0.0), (100.0, -1.0)):
        with pytest.raises(InputError):
            Wanted(speed=wrong[0], margin=wrong[1])


def test_nothing_is_needed_at_a_crawl() -> None:
    need = needed_open_load(LOBE, MASS, SPRING, Wanted(speed=1.0))
    assert (need.seat_load, need.open_load) == (620.0, 620.0)
    assert needed_seat_load(LOBE, MASS, SPRING, Wanted(speed=1.0)).seat_load < 0.1
