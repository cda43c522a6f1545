"""The uncertainty of a progressive spring's interpolant against a simulation of its readings."""

from __future__ import annotations

import numpy as np
import pytest

from loadbench.readings.accuracy import Accuracy
from loadbench.readings.strand_fit import fitted_strand

HEIGHTS = np.array([48.26, 42.0, 38.0, 35.0, 31.75]) * 1e-3
STEPS = np.array([60e3, 70e3, 85e3, 105e3])
LOADS = np.cumsum(np.concatenate([[600.0], STEPS * -np.diff(HEIGHTS)]))
TESTER = Accuracy(repeatability=2.2, height=5e-5)
WANTED = np.array([30.0, 31.0, 31.75, 33.8, 35.0, 36.5, 40.0, 45.0, 48.26, 49.0, 50.0]) * 1e-3


def simulated(draws: int) -> np.ndarray:
    """Twice the standard deviation of the load at the wanted heights over tests of one and the same spring.

    Each reading is taken at a height a little off (which the tester does not show) and read a little wrong: both
    evenly within their half-widths. The interpolant is scipy's own, laid through what the tester shows.
    """
    from scipy.interpolate import PchipInterpolator

    true = fitted_strand(HEIGHTS, LOADS, TESTER)
    random = np.random.default_rng(7)
    order = np.argsort(HEIGHTS)
    loads = np.empty((draws, len(WANTED)))
    for draw in range(draws):
        off = random.uniform(-5e-5, 5e-5, len(HEIGHTS))
        shown = true.load(HEIGHTS + off) + random.uniform(-2.2, 2.2, len(HEIGHTS))
        found = PchipInterpolator(HEIGHTS[order], shown[order])
        inside = np.clip(WANTED, HEIGHTS.min(), HEIGHTS.max())
        loads[draw] = found(inside) + found.derivative()(inside) * (WANTED - inside)
    return 2 * np.std(loads, axis=0)


def check(draws: int, share: float) -> None:
    strand = fitted_strand(HEIGHTS, LOADS, TESTER)
    assert strand.knots is not None
    assert 2 * np.sqrt(strand.variance(WANTED)) == pytest.approx(simulated(draws), rel=share)


def test_uncertainty_of_the_interpolant_agrees_with_a_simulation() -> None:
    check(2000, 0.06)


@pytest.mark.strength
def test_uncertainty_of_the_interpolant_agrees_with_a_long_simulation() -> None:
    check(40_000, 0.02)


def test_a_spring_pushes_and_never_pulls() -> None:
    line = fitted_strand(np.array([48.26e-3, 33e-3]), np.array([667.0, 1788.0]), TESTER)
    assert float(line.load(66e-3)) == 0.0
    assert float(line.rate_at(66e-3)) == 0.0
    assert float(fitted_strand(HEIGHTS, LOADS, TESTER).load(80e-3)) == 0.0
