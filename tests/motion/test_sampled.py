"""A lift through exact points: against the law that they are of, and what is refused."""

from __future__ import annotations

import math

import numpy as np
import pytest

from loadbench import Gear, sampled_lift, sweep
from loadbench.arrays import Floats
from loadbench.errors import InputError
from tests.motion.lifts import FOUR_FIVE_SIX_SEVEN
from tests.motion.test_sweep import WAVES

RPM = math.pi / 30
HALF = np.radians(65)


def points(first: float = -HALF, last: float = HALF, count: int = 261) -> tuple[Floats, Floats]:
    angles = np.linspace(first, last, count)
    return angles, FOUR_FIVE_SIX_SEVEN(angles)


@pytest.mark.parametrize("span", [HALF, math.pi])
def test_it_is_the_law_that_its_points_are_of(span: float) -> None:
    lift = sampled_lift(*points(-span, span, 721))
    at = np.linspace(-math.pi, math.pi, 3001)
    for derivative, close in ((0, 1e-8), (1, 1e-6), (2, 1e-3)):
        exact = FOUR_FIVE_SIX_SEVEN(at, derivative)
        assert np.abs(lift(at, derivative) - exact).max() < close * np.abs(exact).max() * 10, derivative


def test_a_sweep_takes_it_as_it_takes_a_law() -> None:
    speeds = np.array([3000.0, 5000.0, 6000.0]) * RPM
    one = sweep(WAVES, sampled_lift(*points()), speeds, lash=0.2e-3)
    other = sweep(WAVES, FOUR_FIVE_SIX_SEVEN, speeds, lash=0.2e-3)
    assert isinstance(WAVES, Gear)
    for name in ("peak_force", "least_force", "greatest_lift", "seating_speed", "surge_load"):
        assert getattr(one, name) == pytest.approx(getattr(other, name), rel=2e-3, abs=2.0), name


X, Y = points()


@pytest.mark.parametrize(
    ("angles", "lifts", "word"),
    [
        (X[:-1], Y, "alike"), (X[::20], Y[::20], "20 or more"), (X, np.where(Y > 0.013, np.nan, Y), "finite"),
        (X[::-1], Y, "rise"), (3 * X, Y, "turn"), (X[:200], Y[:200], "zero"),
        (np.linspace(-math.pi, math.pi, 100), np.linspace(0, 1e-3, 100), "come back"),
    ],
    ids=["shape", "few", "nan", "falling", "far", "cut off", "not periodic"],
)  # fmt: skip
def test_what_is_no_lift_is_refused(angles: Floats, lifts: Floats, word: str) -> None:
    with pytest.raises(InputError, match=word):
        sampled_lift(angles, lifts)
