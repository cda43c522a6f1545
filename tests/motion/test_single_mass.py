"""A single mass driven by one rise: closed forms against computed rows and against quadrature."""

from __future__ import annotations

from collections.abc import Callable

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from loadbench.arrays import Floats
from loadbench.errors import InputError
from loadbench.motion.single_mass import (
    RESIDUALS,
    half_sine_peak,
    residual_345,
    residual_constant_acceleration,
    residual_cycloidal,
    residual_harmonic,
    response,
)


def cycloidal(x: Floats) -> Floats:
    return np.asarray(2 * np.pi * np.sin(2 * np.pi * x))


def three_four_five(x: Floats) -> Floats:
    return np.asarray(60 * x - 180 * x**2 + 120 * x**3)


ACCELERATIONS: dict[str, Callable[[Floats], Floats]] = {
    "constant-acceleration": lambda x: np.where(x < 0.5, 4.0, -4.0),
    "harmonic": lambda x: np.asarray(np.pi**2 / 2 * np.cos(np.pi * x)),
    "cycloidal": cycloidal,
    "3-4-5": three_four_five,
    "4-5-6-7": lambda x: np.asarray(420 * x**2 - 1680 * x**3 + 2100 * x**4 - 840 * x**5),
}

# Computed from the formulas, and by quadrature of the transform of y''.
RESIDUAL = [
    ("M50", "cycloidal", [0.5, 1, 1.25, 1.5, 2.5, 4.5],
     [0.848826363, 0.5, 0.320112468, 0.169765273, 0.024252182, 0.003674573]),
    ("M51", "harmonic", [0.5, 1, 1.25, 3.3, 1.5, 2.5], [0.785398163, 0.333333333, 0.134687006, 0.013810744, 0.0, 0.0]),
    ("M52", "3-4-5", [0.5, 1, 1.5, 2.5, 4.5], [0.835395514, 0.461969201, 0.123975628, 0.029455688, 0.005229205]),
    ("M53", "4-5-6-7", [1, 1.5, 2.5, 4.5], [0.560326184, 0.240582784, 0.0202266162, 0.00110169621]),
    ("M54", "constant-acceleration", [0.5, 1, 1.5], [0.810569469, 0.405284735, 0.090063274]),
]  # fmt: skip


@pytest.mark.parametrize(("law", "swings", "expected"), [row[1:] for row in RESIDUAL], ids=[row[0] for row in RESIDUAL])
def test_residual_swing(law: str, swings: list[float], expected: list[float]) -> None:
    assert RESIDUALS[law](np.array(swings)) == pytest.approx(expected, rel=1e-8, abs=1.5e-9)


@pytest.mark.parametrize("law", RESIDUALS)
def test_closed_forms_are_what_the_integral_gives(law: str) -> None:
    for swings in (0.003, 0.2, 0.5, 0.77, 1.0, 1.0000001, 2.3, 6.1, 15.0):
        found = response(ACCELERATIONS[law], swings).residual
        assert float(RESIDUALS[law](swings)) == pytest.approx(found, rel=1e-8, abs=1e-10)


@pytest.mark.parametrize("law", RESIDUALS)
def test_a_sudden_rise_leaves_all_of_it_and_a_slow_one_nothing(law: str) -> None:
    assert RESIDUALS[law](np.array([0.0, 1e-6])) == pytest.approx([1.0, 1.0], rel=1e-9)
    assert float(RESIDUALS[law](1e3)) < 1e-5


PEAKS_CYCLOIDAL = [(1.5, 0.201820461, 2.853170), (2.5, 0.041377226, 1.624880), (4.5, 0.010002221, 1.272628)]


@pytest.mark.parametrize(("swings", "deflection", "acceleration"), PEAKS_CYCLOIDAL)
def test_cycloidal_rise_undamped_m55(swings: float, deflection: float, acceleration: float) -> None:
    found = response(cycloidal, swings)
    assert found.greatest_deflection == pytest.approx(deflection, rel=1e-6)
    assert found.greatest_acceleration / (2 * np.pi) == pytest.approx(acceleration, rel=1e-6)
    x = found.times
    exact = np.sin(2 * np.pi * x) - np.sin(2 * np.pi * swings * x) / swings
    assert found.deflection == pytest.approx(-2 * np.pi * exact / ((2 * np.pi) ** 2 * (swings**2 - 1)), abs=1e-12)


@pytest.mark.parametrize(("swings", "deflection"), [(1.5, 0.166776321), (2.5, 0.0407310134), (4.5, 0.00994376197)])
def test_345_rise_undamped_m56(swings: float, deflection: float) -> None:
    assert response(three_four_five, swings).greatest_deflection == pytest.approx(deflection, rel=1e-7)


DAMPED = [
    ("M57", cycloidal, 2.5, 0.05, 0.01765621, 0.03893278, 9.623714),
    ("M58", three_four_five, 4.0, 0.10, 0.00344674, 0.01200156, 7.619312),
]


@pytest.mark.parametrize("row", DAMPED, ids=[row[0] for row in DAMPED])
def test_damped_rise(row: tuple[str, Callable[[Floats], Floats], float, float, float, float, float]) -> None:
    _id, law, swings, damping, residual, deflection, acceleration = row
    found = response(law, swings, damping)
    # Half of the last digit told is more than 1e-6 of the least of these.
    assert found.residual == pytest.approx(residual, rel=1e-6, abs=0.51e-8)
    assert found.greatest_deflection == pytest.approx(deflection, rel=1e-6)
    assert found.greatest_acceleration == pytest.approx(acceleration, rel=1e-6)


@given(st.floats(0.3, 8.0), st.floats(0.0, 0.5), st.floats(0.5, 2.0))
def test_the_answer_is_linear(swings: float, damping: float, scale: float) -> None:
    one = response(cycloidal, swings, damping)
    other = response(lambda x: scale * cycloidal(x), swings, damping)
    assert other.residual == pytest.approx(scale * one.residual, rel=1e-9)
    assert other.greatest_acceleration == pytest.approx(scale * one.greatest_acceleration, rel=1e-9)


def test_half_sine_m59() -> None:
    found = half_sine_peak(np.array([0.25, 0.4, 1.0, 1.5, 2.0]))
    assert found == pytest.approx([0.942809042, 1.37340886, 1.73205081, 1.5, 1.26807536], rel=1e-7)
    assert float(half_sine_peak(0.5)) == pytest.approx(np.pi / 2, rel=1e-9)


def test_half_sine_greatest_of_all_m60() -> None:
    swings = np.linspace(0.3, 2.0, 170001)
    found = half_sine_peak(swings)
    assert found.max() == pytest.approx(1.76845765, rel=1e-6)
    assert swings[found.argmax()] == pytest.approx(0.80994, abs=1e-3)


@pytest.mark.parametrize(("swings", "damping"), [(0.0, 0.0), (1.0, -0.1), (1.0, 1.0), (float("nan"), 0.0)])
def test_answers_that_cannot_be(swings: float, damping: float) -> None:
    with pytest.raises(InputError):
        response(cycloidal, swings, damping)


def test_a_pulse_takes_time() -> None:
    with pytest.raises(InputError):
        half_sine_peak(0.0)


def test_arrays_and_numbers_give_the_same() -> None:
    for law in (residual_345, residual_constant_acceleration, residual_cycloidal, residual_harmonic):
        assert float(law(1.3)) == law(np.array([0.2, 1.3]))[1]
