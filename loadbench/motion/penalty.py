"""The smoothing spline in its banded form, and the penalty that generalised cross-validation chooses for it.

Symbols: h steps between the angles, y readings, g second derivatives of the natural spline at the inner ones,
(R + penalty Q'Q) g = Q'y, residuals = penalty Q g. In steps of the table and shares of the lift, so that one range of
penalties serves every table.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from loadbench.arrays import Floats

EFFORT = (1.4, 1.2)
"""What each degree of freedom counts: with 1, cross-validation now and then takes a spline far too lively. The second
is for tables of few readings, in steps of 5 deg: with 1.4 the residuals there were twice the noise."""
FEW = 80
RANGE = (1e-6, 1e9)
SEARCHED = 61


@dataclass(frozen=True, slots=True)
class Banded:
    """The bands of R, of Q'Q and of Q for one table's steps."""

    roots: tuple[Floats, Floats]
    bends: tuple[Floats, Floats, Floats]
    second: tuple[Floats, Floats, Floats]

    def matrix(self, penalty: float) -> Floats:
        """R + penalty Q'Q, lower bands, shape (3, readings - 2)."""
        bands = np.zeros((3, self.roots[0].size))
        bands[0] = self.roots[0] + penalty * self.bends[0]
        bands[1, :-1] = self.roots[1] + penalty * self.bends[1]
        bands[2, :-2] = penalty * self.bends[2]
        return bands

    def residuals(self, y: Floats, penalty: float) -> Floats:
        """Reading less spline."""
        from scipy.linalg import solveh_banded

        one, two, three = self.second
        g = solveh_banded(self.matrix(penalty), one * y[:-2] + two * y[1:-1] + three * y[2:], lower=True)
        left = np.zeros_like(y)
        left[:-2] += one * g
        left[1:-1] += two * g
        left[2:] += three * g
        return penalty * left

    def freedom(self, penalty: float, nudge: float = 1e-3) -> float:
        """Degrees of freedom that the spline takes.

        The trace of the hat matrix is readings - d log det(R + penalty Q'Q)/d log penalty, and the determinant comes
        with the Cholesky factor, without an inverse.
        """
        from scipy.linalg import cholesky_banded

        ends = (penalty * math.exp(-nudge), penalty * math.exp(nudge))
        low, high = (2 * np.log(cholesky_banded(self.matrix(end), lower=True)[0]).sum() for end in ends)
        return float(self.roots[0].size + 2 - (high - low) / (2 * nudge))


def _banded(x: Floats) -> Banded:
    h = np.diff(x)
    one, two, three = 1 / h[:-1], -1 / h[:-1] - 1 / h[1:], 1 / h[1:]
    bends = one**2 + two**2 + three**2, two[:-1] * one[1:] + three[:-1] * two[1:], three[:-2] * one[2:]
    return Banded(((h[:-1] + h[1:]) / 3, h[1:-1] / 6), bends, (one, two, three))


def spline_values(x: Floats, y: Floats, penalty: float) -> Floats:
    """The natural cubic smoothing spline at its own readings.

    Args:
        x: angles, rad, rising, shape (readings,).
        y: readings there.
        penalty: of the integral of its squared second derivative, against the sum of squared residuals.

    Returns:
        The spline, of y's shape and unit.

    Source:
        reinsch.
    """
    step = float(np.median(np.diff(x)))
    return y - _banded(x / step).residuals(y, penalty / step**3)


def cross_validated(x: Floats, y: Floats) -> float:
    """The penalty under which the readings foretell each other best.

    Args:
        x: angles, rad, rising, shape (readings,).
        y: readings there.

    Returns:
        The penalty of spline_values().

    Source:
        kim-gu: generalised cross-validation, each degree of freedom counted 1.2 to 1.4 times.
    """
    from scipy.optimize import minimize_scalar

    step, size = float(np.median(np.diff(x))), float(np.abs(y).max()) or 1.0
    effort = EFFORT[0] if y.size >= FEW else EFFORT[1]
    banded, shares = _banded(x / step), y / size

    def score(exponent: float) -> float:
        penalty = math.exp(exponent)
        spare = 1 - effort * banded.freedom(penalty) / y.size
        return math.inf if spare <= 0 else float(np.mean(banded.residuals(shares, penalty) ** 2)) / spare**2

    grid = np.linspace(math.log(RANGE[0]), math.log(RANGE[1]), SEARCHED)
    best = int(np.argmin([score(float(exponent)) for exponent in grid]))
    around = float(grid[max(best - 1, 0)]), float(grid[min(best + 1, SEARCHED - 1)])
    found = minimize_scalar(score, bounds=around, method="bounded", options={"xatol": 1e-3})
    return math.exp(float(found.x)) * step**3
