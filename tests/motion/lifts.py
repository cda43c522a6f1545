"""Lifts for the tests of the dynamics, written apart from the project's own laws."""

from __future__ import annotations

import numpy as np

from loadbench.arrays import Floats, Real


class Polynomial:
    """Lift h p(u), u = 1 at the nose and 0 at half duration b, by the coefficients of p."""

    def __init__(self, lift: float, half_degrees: float, coefficients: dict[int, float], *, from_nose: bool) -> None:
        self.lift, self.half, self.from_nose = lift, np.radians(half_degrees), from_nose
        powers = np.zeros(max(coefficients) + 1)
        for power, coefficient in coefficients.items():
            powers[power] = coefficient
        self.polynomial = np.polynomial.Polynomial(powers)

    def __call__(self, angle: Real, derivative: int = 0) -> Floats:
        t = np.abs(angle) / self.half
        side = np.where(np.asarray(angle) < 0, -1.0, 1.0)  # the nose itself belongs to the closing flank
        u, sign = (t, side) if self.from_nose else (1 - t, -side)
        value = self.polynomial.deriv(derivative)(u) if derivative else self.polynomial(u)
        return np.where(t < 1, self.lift * value * (sign / self.half) ** derivative, 0.0)


FOUR_FIVE_SIX_SEVEN = Polynomial(0.0137, 65.0, {4: 35.0, 5: -84.0, 6: 70.0, 7: -20.0}, from_nose=False)
"""The lift of the two-contact cases."""

POWERS = {0: 1.0, 2: -3315 / 2048, 10: 663 / 512, 18: -1105 / 1024, 26: 255 / 512, 34: -195 / 2048}


def power_lift(lift: float, half_degrees: float) -> Polynomial:
    """The lift 2-10-18-26-34."""
    return Polynomial(lift, half_degrees, POWERS, from_nose=True)
