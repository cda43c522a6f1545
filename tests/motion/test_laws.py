"""Laws of motion: peak factors and points against published and exact values, derivatives against differences."""

from __future__ import annotations

import math
from typing import Any

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from loadbench.arrays import Floats
from loadbench.errors import InputError
from loadbench.motion.laws import LAWS, peak_factors, rise


def row(name: str, source: str, *values: Any) -> Any:
    return pytest.param(*values, marks=pytest.mark.reference(source), id=name)


@pytest.mark.parametrize(
    ("law", "speed", "acceleration", "jerk", "end_step"),
    [
        row("M01", "norton-cam", "constant-acceleration", 2.0, 4.0, math.inf, 4.0),
        row("M02", "norton-cam", "harmonic", 1.57079633, 4.93480220, 15.5031383, math.pi**2 / 2),
        row("M03", "norton-cam", "cycloidal", 2.0, 6.28318531, 39.4784176, 0.0),
        row("M04", "norton-cam", "3-4-5", 1.875, 5.77350269, 60.0, 0.0),
        row("M05", "norton-cam", "4-5-6-7", 2.1875, 7.51318840, 52.5, 0.0),
        row("M06", "norton-cam", "modified-trapezoid", 2.0, 4.88812376, 61.4259748, 0.0),
    ],
)
def test_peak_factors(law: str, speed: float, acceleration: float, jerk: float, end_step: float) -> None:
    found = peak_factors(law)
    assert found == pytest.approx((speed, acceleration, jerk, end_step), rel=1e-6, abs=1e-9)


@pytest.mark.parametrize(
    ("law", "x", "expected", "within"),
    [
        row("M07", "norton-cam", "harmonic", 0.25, (0.146446609, 1.11072073, 3.48943210), 1e-8),
        row("M08", "norton-cam", "cycloidal", 0.25, (0.0908450569, 1.0, 6.28318531), 1e-8),
        row("M09", "norton-cam", "3-4-5", 0.25, (0.103515625, 1.0546875, 5.625), 1e-10),
        row("M10", "norton-cam", "4-5-6-7", 0.25, (0.070556640625, 0.9228515625, 7.3828125), 1e-10),
        row("M11", "norton-cam", "modified-trapezoid", 0.25, (0.104480194, 1.0), 1e-8),
        row("M12 at 0.10", "rothbart", "modified-sine", 0.10, (0.0106972128,), 1e-8),
        row("M13", "norton-cam", "double-harmonic", 0.25, (0.0214466094, 0.325322571, 3.48943210), 1e-8),
        row("M14", "norton-cam", "3-4-5", 0.10, (0.00856, 0.243, 4.32, 27.6), 1e-10),
    ],
)
def test_values_at_a_point(law: str, x: float, expected: tuple[float, ...], within: float) -> None:
    found = [float(rise(law, x, order)) for order in range(len(expected))]
    assert found == pytest.approx(expected, rel=within)


@pytest.mark.reference("rothbart")
def test_m12_modified_sine_at_a_quarter() -> None:
    assert float(rise("modified-sine", 0.25)) == pytest.approx(0.117178485, rel=1e-8)
    assert float(rise("modified-sine", 0.25, 2)) == pytest.approx(4.78735125, rel=1e-8)


def in_time(law: str, lift: float, degrees: float, rpm: float) -> tuple[float, float]:
    factors = peak_factors(law)
    time = math.radians(degrees) / (rpm * math.pi / 30)
    return factors.speed * lift / time, factors.acceleration * lift / time**2


@pytest.mark.reference("cam-problems")
def test_m46_valve_raised_and_lowered_by_harmonic_motion() -> None:
    # Printed 0.39 and 0.78 m/s, 6.17 and 24.67 m/s2.
    assert in_time("harmonic", 0.050, 120, 100) == pytest.approx((0.392699, 6.16850), rel=1e-5)
    assert in_time("harmonic", 0.050, 60, 100) == pytest.approx((0.785398, 24.6740), rel=1e-5)


@pytest.mark.reference("cam-problems")
def test_m47_uniform_acceleration_up_harmonic_down() -> None:
    assert in_time("constant-acceleration", 0.030, 120, 800) == pytest.approx((2.4, 192.0), rel=1e-5)
    assert in_time("harmonic", 0.030, 90, 800) == pytest.approx((2.513274, 421.10312), rel=1e-5)


@pytest.mark.reference("norton-cam")
def test_m92_second_difference_of_exact_data() -> None:
    def error(step: float) -> float:
        y: Floats = rise("4-5-6-7", np.array([0.25 - step, 0.25, 0.25 + step]))
        return float((y[0] - 2 * y[1] + y[2]) / step**2 - rise("4-5-6-7", 0.25, 2))

    assert error(1 / 65) == pytest.approx(-0.00724460, abs=1e-6)
    assert error(1 / 130) == pytest.approx(-0.00181189, abs=1e-6)


@pytest.mark.parametrize("law", LAWS)
def test_each_derivative_is_the_slope_of_the_one_before(law: str) -> None:
    # Away from the joints, which lie at eighths and at the middle.
    x = np.linspace(0.0, 1.0, 4801)[1:-1]
    x = x[np.abs(x * 8 - np.round(x * 8)) > 1e-3]
    step = 1e-5
    for order in range(4):
        slope = (rise(law, x + step, order) - rise(law, x - step, order)) / (2 * step)
        assert slope == pytest.approx(rise(law, x, order + 1), rel=1e-6, abs=2e-5)


@pytest.mark.parametrize("law", LAWS)
def test_a_rise_goes_from_rest_to_rest(law: str) -> None:
    ends = np.array([-0.5, 0.0, 1.0, 1.5])
    assert rise(law, ends) == pytest.approx([0, 0, 1, 1], abs=1e-12)
    assert rise(law, ends, 1) == pytest.approx(np.zeros(4), abs=1e-12)
    assert rise(law, ends, 2)[[0, 3]].tolist() == [0, 0]


@given(st.sampled_from([law for law in LAWS if law != "double-harmonic"]), st.floats(0.0, 1.0))
def test_all_but_one_law_are_alike_at_both_ends(law: str, x: float) -> None:
    assert float(rise(law, x)) == pytest.approx(1 - float(rise(law, 1 - x)), abs=1e-12)


@given(st.sampled_from(LAWS), st.floats(0.0, 1.0), st.floats(0.0, 1.0))
def test_a_rise_never_falls(law: str, one: float, other: float) -> None:
    low, high = sorted((one, other))
    assert float(rise(law, low)) <= float(rise(law, high)) + 1e-12


def test_another_name_is_refused() -> None:
    with pytest.raises(InputError, match="3-4-5"):
        rise("5-4-3", 0.5)
