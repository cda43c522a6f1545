"""The polydyne lobe: its equation, unequal halves, a greatest lift of its own, and a run at its own speed."""

from __future__ import annotations

import dataclasses
import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from loadbench.errors import InputError
from loadbench.motion.gear import Gear
from loadbench.motion.lobe import PowerLobe
from loadbench.motion.polydyne import SMOOTH_STEP, MadeFor, Polydyne, polydyne_of
from loadbench.motion.power_lift import coefficients, even_at_nose, family
from loadbench.motion.sweep import sweep
from tests.motion.test_lobe import MM, POWERS, TURN, assert_derivatives, rad

VALVE = PowerLobe(powers=POWERS, lift=10.5 * MM, half_opening=rad(62), half_closing=rad(62))
MADE_FOR = MadeFor(
    mass=0.160, spring_rate=60e3, stiffness=4.0e6, preload=500.0, cam_speed=6000 * math.pi / 60
)  # fmt: skip


def polydyne(ramp: float = 0.0, made_for: MadeFor = MADE_FOR) -> Polydyne:
    return Polydyne(valve=VALVE, made_for=made_for, opening_ramp=ramp, closing_ramp=ramp)


# The equation


@pytest.mark.reference("thoren")
@pytest.mark.parametrize(
    ("degrees", "lobe_mm", "valve_mm", "acceleration"),
    [
        pytest.param(0, 10.667897, 10.500000, -29.02918, id="M22"),
        pytest.param(20, 8.873462, 8.731607, -28.90669, id="M23"),
        pytest.param(45, 2.358995, 2.064131, 35.18428, id="M24"),
        pytest.param(55, 0.572350, 0.132380, 79.27986, id="M25"),
    ],
)
@pytest.mark.parametrize("side", [-1, 1])
@pytest.mark.parametrize("ramp", [0.0, 0.5])
def test_equivalent_lobe(
    degrees: float, lobe_mm: float, valve_mm: float, acceleration: float, side: int, ramp: float
) -> None:
    at = side * rad(degrees)
    assert float(VALVE(at)) / MM == pytest.approx(valve_mm, abs=1e-6)
    assert float(VALVE(at, 2)) / MM == pytest.approx(acceleration, abs=1e-5)
    assert float(polydyne(ramp)(at)) / MM == pytest.approx(lobe_mm, abs=1e-6)


@pytest.mark.reference("thoren")
def test_m26_ramp_height() -> None:
    assert MADE_FOR.ramp_height == 0.125 * MM
    assert float(polydyne(0.5)(rad(62))) == pytest.approx(0.125 * MM, rel=1e-12)
    assert float(polydyne()(math.pi)) == 0.125 * MM
    assert float(polydyne(0.5)(math.pi)) == 0.0


def test_a_polydyne_lobe_drives_the_valve_as_wanted() -> None:
    # m y'' = k (s - y) - ks y - F0: put the lobe made into the balance of the valve.
    made, at = polydyne(0.5), np.linspace(-1.0, 1.0, 41)
    y, force = VALVE(at), 4.0e6 * (made(at) - VALVE(at))
    inertia = 0.160 * MADE_FOR.cam_speed**2 * VALVE(at, 2)
    assert inertia == pytest.approx(force - 60e3 * y - 500.0, abs=1e-8)
    assert made.span == pytest.approx((-rad(62) - 0.5, rad(62) + 0.5))
    assert_derivatives(made, (0.0, *(sign * (rad(62) + more) for sign in (-1, 1) for more in (0.0, 0.5))))


def test_lash_is_in_the_ramps_and_nowhere_else() -> None:
    lashed = polydyne(0.5, dataclasses.replace(MADE_FOR, lash=0.3 * MM))
    at = np.linspace(-rad(62), rad(62), 61)
    assert lashed(at) - polydyne(0.5)(at) == pytest.approx(0.3 * MM, rel=1e-9)
    assert float(lashed(math.pi)) == 0.0


def test_what_is_no_polydyne_is_refused() -> None:
    with pytest.raises(InputError, match="cam speed"):
        dataclasses.replace(MADE_FOR, cam_speed=0.0)
    with pytest.raises(InputError, match="one side"):
        dataclasses.replace(polydyne(0.5), closing_ramp=0.0)
    with pytest.raises(InputError, match="zero or more"):
        dataclasses.replace(MADE_FOR, preload=-1.0)
    with pytest.raises(InputError, match="zero or more"):
        dataclasses.replace(MADE_FOR, lash=-1e-4)
    with pytest.raises(InputError, match="half a turn"):
        polydyne(2.5)


# Unequal halves


@given(st.floats(0.9, 1.3), st.floats(1.0, 1.39), st.booleans())
def test_unequal_halves_have_one_acceleration_at_the_nose(short: float, times: float, opening_is_long: bool) -> None:
    halves = (short * times, short) if opening_is_long else (short, short * times)
    up, down = even_at_nose(*halves, least=SMOOTH_STEP)
    made = PowerLobe(powers=up, closing_powers=down, lift=MM, half_opening=halves[0], half_closing=halves[1])
    for order in range(5):
        before, after = (float(made(np.float64(side * 1e-7), order)) for side in (-1, 1))
        assert before == pytest.approx(after, abs=2e-4 * MM)
    assert np.isfinite(made(TURN, 5)).all()
    assert (np.diff(made(np.linspace(-halves[0], 0, 500))) >= -1e-15).all()


def test_a_half_that_is_far_longer_is_refused_with_the_limit() -> None:
    limit = math.sqrt(coefficients(family(SMOOTH_STEP))[0] / coefficients(POWERS)[0])
    assert even_at_nose(1.0, limit * 0.999, least=SMOOTH_STEP)[0] == POWERS
    with pytest.raises(InputError, match=r"1\.45 times") as told:
        even_at_nose(1.45, 1.0, least=SMOOTH_STEP)
    assert told.value.expected == f"up to {limit:.2f}"


# A greatest lift of its own


@given(st.floats(5, 16), st.floats(0.95, 1.25), st.floats(1.0, 1.35), st.floats(100, 400), st.floats(0, 0.4))
def test_the_lobe_has_its_greatest_lift_at_the_nose(
    lift: float, half: float, times: float, speed: float, lash: float
) -> None:
    made_for = dataclasses.replace(MADE_FOR, cam_speed=speed, lash=lash * MM)
    lobe = polydyne_of(lift * MM, (half, half * times), (0.5, 0.6), made_for)
    assert float(lobe(0.0)) == pytest.approx(lift * MM, rel=1e-12)
    assert float(lobe(TURN).max()) <= lift * MM * (1 + 1e-9)
    assert float(lobe(TURN).min()) >= 0.0
    assert float(lobe.valve(0.0)) < lift * MM


def test_m22_turned_round() -> None:
    lobe = polydyne_of(10.667897 * MM, (rad(62), rad(62)), (0.5, 0.5), MADE_FOR)
    assert float(lobe.valve(0.0)) == pytest.approx(10.5 * MM, abs=1e-6 * MM)


@pytest.mark.parametrize(
    ("greatest", "halves", "speed", "match"),
    [
        (0.1 * MM, (1.1, 1.1), 314.0, "as much as"), (10 * MM, (1.1, 1.1), 3000.0, "design speed"),
        (10 * MM, (1.1, 1.1), 900.0, "design speed"), (10 * MM, (2.9, 2.9), 314.0, "longer than a turn"),
        (10 * MM, (0.0, 1.0), 314.0, "halves of 0"),
    ],
)  # fmt: skip
def test_a_lobe_that_cannot_be_ground_is_refused(
    greatest: float, halves: tuple[float, float], speed: float, match: str
) -> None:
    with pytest.raises(InputError, match=match):
        polydyne_of(greatest, halves, (0.5, 0.5), dataclasses.replace(MADE_FOR, cam_speed=speed))


# The dynamic run: what is found there rests on other equations than the lobe does


@pytest.mark.parametrize("lash", [0.0, 0.25])
def test_at_its_own_speed_the_run_finds_the_force_it_was_made_for(lash: float) -> None:
    gear = Gear(
        mass=0.160, stiffness=4.0e6, damping=150.0, preload=500.0, spring_rate=60e3, seat_stiffness=5e7,
        seat_damping=2000.0,
    )  # fmt: skip
    off, least = {}, {}
    for made_at in (3000, 6000, 8000):
        made_for = dataclasses.replace(MADE_FOR, lash=lash * MM, cam_speed=made_at * math.pi / 60)
        lobe = polydyne_of(10.7 * MM, (rad(62), rad(70)), (rad(25), rad(25)), made_for)
        found = sweep(gear, lobe, np.array([6000 * math.pi / 30]), lash=lash * MM, window=rad(50))
        at = found.angles
        wanted = 0.160 * MADE_FOR.cam_speed**2 * lobe.valve(at, 2) + 60e3 * lobe.valve(at) + 500.0
        inside = np.abs(at) < rad(58)
        off[made_at] = float(np.abs(found.force[0] - wanted)[inside].max() / wanted[inside].max())
        least[made_at] = float(found.least_force[0])
    assert off[6000] < 0.13
    assert min(off[3000], off[8000]) > 0.45
    assert least[6000] > 280.0
    assert (least[3000], least[8000]) == (0.0, 0.0)
