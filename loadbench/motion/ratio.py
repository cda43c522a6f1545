"""Valve lift from lobe lift through a rocker: a ratio that is constant, or a table of it over the lift.

Symbols: s lobe lift, y valve lift, R = y/s, all measured from the closed valve. What a gauge on the valve and one on
the lobe give, lift by lift, is this R.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from loadbench.arrays import Floats, Real
from loadbench.errors import InputError, Place
from loadbench.motion.lift import Lift

if TYPE_CHECKING:
    from scipy.interpolate import PPoly

NEWTON_STEPS = 5
SEARCHED = 2001


@dataclass(frozen=True, slots=True)
class Scaled:
    """A Lift times a number."""

    lift: Lift
    ratio: float

    def __call__(self, angle: Real, derivative: int = 0) -> Floats:
        """As in Lift."""
        return self.ratio * self.lift(angle, derivative)


def scaled(lift: Lift, ratio: float) -> Scaled:
    """Valve lift from lobe lift at a constant ratio, or lobe lift from valve lift at its inverse.

    Args:
        lift: of the lobe.
        ratio: R, above zero.

    Returns:
        The lift at the valve.

    Raises:
        InputError: a ratio not above zero.
    """
    if not (np.isfinite(ratio) and ratio > 0):
        raise InputError(f"a ratio of {ratio:g}", expected="more than zero", place=Place(field="ratio"))
    return Scaled(lift, ratio)


@dataclass(frozen=True, slots=True)
class ByRatioCurve:
    """Valve lift from lobe lift by a ratio that changes with the valve's lift."""

    lobe: Lift
    curve: PPoly

    def lobe_lift(self, valve_lift: Real, derivative: int = 0) -> Floats:
        """Lobe lift that goes with a valve lift: s = y/R(y).

        Args:
            valve_lift: y, m, zero or more.
            derivative: 0 to 3, by y.

        Returns:
            s, m, or its derivative, of y's shape.

        Source:
            own derivation: the definition of R, and Leibniz' rule on y = s R.
        """
        y = np.asarray(valve_lift, dtype=np.float64)
        found: list[Floats] = []
        R = [np.asarray(self.curve(y, order)) for order in range(derivative + 1)]
        own = (y, 1.0, 0.0, 0.0)
        for order in range(derivative + 1):
            rest = sum(_BINOMIAL[order][k] * found[k] * R[order - k] for k in range(order))
            found.append(np.asarray((own[order] - rest) / R[0]))
        return found[derivative]

    def local_ratio(self, valve_lift: Real) -> Floats:
        """Speed of the valve over that of the follower: what forces go by.

        Args:
            valve_lift: y, m.

        Returns:
            dy/ds, of y's shape.

        Source:
            own derivation: the inverse of lobe_lift()'s slope.
        """
        return 1 / self.lobe_lift(valve_lift, 1)

    def valve_lift(self, lobe_lift: Real) -> Floats:
        """Valve lift that goes with a lobe lift.

        Args:
            lobe_lift: s, m.

        Returns:
            y, m, of s's shape.

        Source:
            own derivation: Newton's method on lobe_lift().
        """
        s = np.asarray(lobe_lift, dtype=np.float64)
        y = s * float(self.curve(0.0))
        for _ in range(NEWTON_STEPS):
            y = y - (self.lobe_lift(y) - s) / self.lobe_lift(y, 1)
        return np.asarray(y)

    def __call__(self, angle: Real, derivative: int = 0) -> Floats:
        """As in Lift."""
        y = self.valve_lift(self.lobe(angle))
        if derivative == 0:
            return y
        slope = self.lobe_lift(y, 1)
        first = self.lobe(angle, 1) / slope
        if derivative == 1:
            return np.asarray(first)
        bend = self.lobe_lift(y, 2)
        second = (self.lobe(angle, 2) - bend * first**2) / slope
        if derivative == 2:
            return np.asarray(second)
        turn = 3 * bend * first * second + self.lobe_lift(y, 3) * first**3
        return np.asarray((self.lobe(angle, 3) - turn) / slope)


_BINOMIAL = ((1,), (1, 1), (1, 2, 1), (1, 3, 3, 1))


def with_ratio_curve(lift: Lift, valve_lifts: Sequence[float] | Floats, ratios: Sequence[float] | Floats) -> Lift:
    """Valve lift from lobe lift by a table of the ratio over the valve's lift.

    Between the rows the ratio is a natural cubic spline, so that the acceleration has no steps; below the first and
    above the last row it runs straight on.

    Args:
        lift: of the lobe.
        valve_lifts: m, zero or more, rising, shape (rows,); one row is a constant ratio.
        ratios: valve lift over lobe lift at these, above zero.

    Returns:
        The lift at the valve: a ByRatioCurve, or Scaled for one row.

    Raises:
        InputError: rows that do not rise, a ratio not above zero, or a curve by which the valve would run backwards.

    Source:
        own derivation: y = R(y) s, differentiated.
    """
    from scipy.interpolate import CubicSpline

    y, R = np.asarray(valve_lifts, dtype=np.float64), np.asarray(ratios, dtype=np.float64)
    if y.ndim != 1 or y.shape != R.shape or y.size == 0:
        raise InputError("a ratio table", expected="a ratio for each lift")
    for row, (at, ratio) in enumerate(zip(y, R, strict=True)):
        if not (np.isfinite(ratio) and ratio > 0):
            raise InputError(f"a ratio of {ratio:g}", expected="more than zero", place=Place(row=row + 1))
        if not (at >= 0 and (row == 0 or at > y[row - 1])):
            raise InputError(
                "lifts of a ratio table", expected="zero or more, each over the last", place=Place(row=row + 1)
            )
    if y.size == 1:
        return scaled(lift, float(R[0]))
    spline = CubicSpline(y, R, bc_type="natural")
    curve = ByRatioCurve(lift, _straight_on(spline))
    greatest = float(np.max(lift(np.linspace(-np.pi, np.pi, SEARCHED))))
    tried = np.linspace(0.0, max(float(y[-1]), 1.05 * greatest * float(R.max())), SEARCHED)
    if np.any(curve.curve(tried) <= 0) or np.any(curve.lobe_lift(tried, 1) <= 0):
        raise InputError("a ratio table by which more lobe is less valve", expected="ratios that change slowly")
    return curve


def _straight_on(spline: PPoly) -> PPoly:
    """The spline with a straight line before and after it."""
    from scipy.interpolate import PPoly

    first, last = float(spline.x[0]), float(spline.x[-1])
    reach = last - first
    lines = [[0.0, 0.0, float(spline(end, 1)), 0.0] for end in (first, last)]
    lines[0][3] = float(spline(first)) - lines[0][2] * reach
    lines[1][3] = float(spline(last))
    before, after = (np.array(line)[:, None] for line in lines)
    return PPoly(np.hstack((before, spline.c, after)), np.concatenate(([first - reach], spline.x, [last + reach])))
