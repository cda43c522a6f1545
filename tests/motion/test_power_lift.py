"""Power polynomials of a lift: exact coefficients, points, and fits to durations."""

from __future__ import annotations

import math
from fractions import Fraction

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from loadbench.errors import InputError
from loadbench.motion.durations import duration
from loadbench.motion.lobe import PowerLobe
from loadbench.motion.power_lift import STEPS, coefficients, family, fitted, place_of, power_rise

POWERS = (2.0, 10.0, 18.0, 26.0, 34.0)


@pytest.mark.reference("stoddart")
def test_m15_coefficients() -> None:
    exact = [-3315 / 2048, 663 / 512, -1105 / 1024, 255 / 512, -195 / 2048]
    assert coefficients(POWERS) == pytest.approx(exact, rel=1e-15)
    printed = [-1.61865234, 1.29492188, -1.07910156, 0.498046875, -0.0952148438]
    assert coefficients(POWERS) == pytest.approx(printed, rel=1e-8)


@pytest.mark.reference("stoddart")
def test_m16_m17_lift_speed_and_acceleration() -> None:
    lifts = power_rise(POWERS, np.array([0.25, 0.5, 0.75]))
    assert lifts == pytest.approx([0.898835463, 0.596597377, 0.156621718], rel=1e-8)
    assert float(power_rise(POWERS, 0.5, 1)) == pytest.approx(-1.59350871, rel=1e-8)
    assert float(power_rise(POWERS, 0.5, 2)) == pytest.approx(-2.78707797, rel=1e-8)


@pytest.mark.reference("stoddart")
def test_m18_extremes() -> None:
    x = np.linspace(0, 1, 100_001)
    speed, acceleration = -power_rise(POWERS, x, 1), power_rise(POWERS, x, 2)
    assert acceleration[0] == pytest.approx(-3.23730469, rel=1e-6)
    assert speed.max() == pytest.approx(1.84890028, rel=1e-6)
    assert x[speed.argmax()] == pytest.approx(0.6459, abs=1e-3)
    assert acceleration.max() == pytest.approx(9.96243426, rel=1e-6)
    assert x[acceleration.argmax()] == pytest.approx(0.8501, abs=1e-3)


@pytest.mark.reference("stoddart")
def test_m19_area_under_half_the_lift() -> None:
    x, weights = np.polynomial.legendre.leggauss(24)
    assert float(weights @ power_rise(POWERS, (x + 1) / 2)) / 2 == pytest.approx(0.537100327, rel=1e-8)


@pytest.mark.reference("stoddart")
def test_m20_m21_other_exponents() -> None:
    assert coefficients((2, 6, 8, 10, 12)).tolist() == [-3, 10, -15, 9, -2]
    assert coefficients((2, 8, 14, 20)) == pytest.approx([-140 / 81, 35 / 27, -20 / 27, 14 / 81], rel=1e-15)
    assert float(power_rise((2, 8, 14, 20), 0.5)) == pytest.approx(0.572919846, rel=1e-8)
    assert float(power_rise((2, 8, 14, 20), 0.0, 2)) == pytest.approx(-3.45679012, rel=1e-8)


exponents = st.lists(st.integers(3, 60), min_size=2, max_size=5, unique=True).map(lambda more: (2, *more))


@given(exponents)
def test_lift_and_derivatives_are_zero_at_closing(powers: tuple[int, ...]) -> None:
    # In exact fractions the conditions hold to the last digit of the rounded coefficients.
    exact = [Fraction(float(c)) for c in coefficients(powers)]
    for order in range(len(powers)):
        terms = [c * math.prod(p - k for k in range(order)) for c, p in zip(exact, powers, strict=True)]
        left = sum(terms, start=Fraction(1 if order == 0 else 0))
        assert abs(left) < 1e-15 * float(sum(abs(term) for term in terms) + 1)


@given(exponents, st.floats(0.0, 1.0), st.floats(0.0, 1.0))
def test_a_lift_falls_from_the_nose_to_closing(powers: tuple[int, ...], one: float, other: float) -> None:
    low, high = sorted((one, other))
    rounding = 1e-14 * float(np.abs(coefficients(powers)).sum())
    assert float(power_rise(powers, high)) <= float(power_rise(powers, low)) + rounding


def test_whole_and_broken_exponents_run_into_each_other() -> None:
    x = np.linspace(0.01, 1.0, 50)
    near = tuple(power + (1e-9 if power > 2 else 0) for power in POWERS)
    for order in range(4):
        whole, broken = power_rise(POWERS, x, order), power_rise(near, x, order)
        assert broken == pytest.approx(whole, rel=1e-6, abs=1e-6)


@pytest.mark.parametrize("powers", [(2, 4), (4, 6, 8, 10), (2, 4, 4, 8), (1, 2, 6, 8), (2, 6, math.nan, 10)])
def test_odd_exponents_are_refused(powers: tuple[float, ...]) -> None:
    with pytest.raises(InputError, match="exponents"):
        coefficients(powers)


@given(
    st.floats(STEPS[0] + 0.1, 30.0),
    st.floats(0.8, 1.4),
    st.floats(0.02, 0.3),
    st.floats(0.4, 0.9),
    st.floats(0.004, 0.02),
)
def test_a_fit_finds_the_polynomial_its_durations_came_from(
    step: float, half: float, low: float, high: float, lift: float
) -> None:
    lifts = low * lift, high * lift
    durations = (
        2 * half * place_of(family(step), lifts[0] / lift),
        2 * half * place_of(family(step), lifts[1] / lift),
    )
    found = fitted(lifts, durations, lift)
    assert found.powers[1] == pytest.approx(2 + step, rel=1e-4)
    assert found.half_duration == pytest.approx(half, rel=1e-6)


def test_a_fitted_lift_has_its_durations() -> None:
    # 0.050 in and 0.200 in of lift, 230 and 160 deg of the crank, 0.430 in in all.
    inch = 0.0254
    lifts, durations = (0.050 * inch, 0.200 * inch), (math.radians(115), math.radians(80))
    half, powers = fitted(lifts, durations, 0.430 * inch)
    lobe = PowerLobe(powers=powers, lift=0.430 * inch, half_opening=half, half_closing=half)
    assert duration(lobe, np.array(lifts)) == pytest.approx(durations, rel=1e-9)
    assert float(lobe(0.0)) == pytest.approx(0.430 * inch, rel=1e-12)


@pytest.mark.parametrize(
    ("lifts", "durations", "lift", "told"),
    [
        ((0.005, 0.001), (2.0, 1.4), 0.01, "rising"),
        ((0.001, 0.02), (2.0, 1.4), 0.01, "below the greatest lift"),
        ((0.001, 0.005), (1.4, 2.0), 0.01, "shorter"),
        ((0.001, 0.005), (2.0, 1.9), 0.01, "1.053 times"),
        ((0.001, 0.005), (2.0, 0.4), 0.01, "5.000 times"),
    ],
)
def test_what_cannot_be_fitted_is_refused(
    lifts: tuple[float, float], durations: tuple[float, float], lift: float, told: str
) -> None:
    with pytest.raises(InputError, match=told):
        fitted(lifts, durations, lift)
