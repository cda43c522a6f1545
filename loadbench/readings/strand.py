"""The load of one spring against its own height, from the best evidence there is for it.

A strand is a straight line about an anchor, F = F0 + k (h0 - h), or a monotone interpolant through the readings of a
progressive spring. With the anchor at the weighted middle of the readings, F0 and k are uncorrelated.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

import numpy as np

from loadbench.arrays import Floats, Indices, Real


class Evidence(StrEnum):
    """Where a rate or a load comes from, the best first."""

    MEASURED = "measured"
    STATED = "stated"
    GEOMETRIC = "geometric"


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Knots:
    """A monotone interpolant: heights ascending, loads, and the slope dF/dh at each (below zero).

    `sensitivities[i, j]` is how the slope at knot i follows the load at knot j, 1/m; `deviations` is the standard
    uncertainty of each knot's load, N.
    """

    heights: Floats
    loads: Floats
    slopes: Floats
    sensitivities: Floats
    deviations: Floats

    def at(self, height: Real) -> Floats:
        """Load, N, at heights, m; straight on with the end slopes outside the knots."""
        h = np.asarray(height, dtype=np.float64)
        inside = np.clip(h, self.heights[0], self.heights[-1])
        i, t, width = self._interval(inside)
        a, b = self.loads[i], self.loads[i + 1]
        m, n = self.slopes[i] * width, self.slopes[i + 1] * width
        load = a + t * (m + t * (3 * (b - a) - 2 * m - n + t * (2 * (a - b) + m + n)))
        return np.asarray(load + np.where(h < inside, self.slopes[0], self.slopes[-1]) * (h - inside))

    def slope(self, height: Real) -> Floats:
        """dF/dh, N/m, at heights, m."""
        inside = np.clip(np.asarray(height, dtype=np.float64), self.heights[0], self.heights[-1])
        i, t, width = self._interval(inside)
        rise = self.loads[i + 1] - self.loads[i]
        m, n = self.slopes[i] * width, self.slopes[i + 1] * width
        return np.asarray((m + t * (2 * (3 * rise - 2 * m - n) + 3 * t * (m + n - 2 * rise))) / width)

    def variance(self, height: Real) -> Floats:
        """Variance of the load, N^2, at heights, m, of their shape: each knot's load on its own, first order.

        Args:
            height: m, any shape.

        Returns:
            The sum over the knots of (how the load follows the knot's, times the knot's deviation) squared.

        Source:
            gum, 5.1.2, on the Hermite form; the slopes' part from the derivatives of fritsch-butland's mean.
        """
        h = np.asarray(height, dtype=np.float64)
        inside = np.clip(h, self.heights[0], self.heights[-1])
        i, t, width = self._interval(inside)
        unit, follows = np.eye(len(self.heights)), self.sensitivities
        t, width = t[..., None], width[..., None]
        own = (1 - t * t * (3 - 2 * t)) * unit[i] + t * t * (3 - 2 * t) * unit[i + 1]
        own = own + width * t * ((1 - t) ** 2 * follows[i] - t * (1 - t) * follows[i + 1])
        end = np.where((h < inside)[..., None], follows[0], follows[-1])
        return np.asarray(np.sum(((own + (h - inside)[..., None] * end) * self.deviations) ** 2, axis=-1))

    def _interval(self, inside: Floats) -> tuple[Indices, Floats, Floats]:
        i = np.clip(np.searchsorted(self.heights, inside, side="right") - 1, 0, len(self.heights) - 2)
        width = self.heights[i + 1] - self.heights[i]
        return i, (inside - self.heights[i]) / width, width


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Strand:
    """One spring's load line, in SI.

    `coverage` turns the standard uncertainties below into expanded ones: 2 for stated accuracies, Student's t where
    they come from the residuals, None where nothing is known.
    """

    evidence: Evidence
    anchor_height: float
    anchor_load: float
    rate: float
    heights: Floats
    loads: Floats
    residuals: Floats | None = None
    knots: Knots | None = None
    curvature: float | None = None
    coverage: float | None = None
    anchor_variance: float = 0.0
    rate_variance: float = 0.0

    def load(self, height: Real) -> Floats:
        """Load, N, at heights, m; zero where the spring is taller than free: it pushes, it never pulls."""
        return np.maximum(self._along(height), 0.0)

    def _along(self, height: Real) -> Floats:
        """The line itself, straight on below zero."""
        if self.knots is not None:
            return self.knots.at(height)
        return np.asarray(self.anchor_load + self.rate * (self.anchor_height - np.asarray(height)))

    def rate_at(self, height: Real) -> Floats:
        """Rate, N/m, at heights, m; zero where the spring stands loose."""
        rate = np.full(np.shape(height), self.rate) if self.knots is None else -self.knots.slope(height)
        return np.where(self._along(height) > 0, rate, 0.0)

    def extrapolated(self, height: float) -> bool:
        """Whether a height, m, lies outside the readings; a line from a single point or geometry never says so."""
        if len(self.heights) < 2:
            return False
        slack = 1e-6
        return bool(height < self.heights.min() - slack or height > self.heights.max() + slack)

    def variance(self, height: Real) -> Floats:
        """Variance, N^2, of the load at heights, m, from what differs from reading to reading."""
        h = np.asarray(height, dtype=np.float64)
        if self.knots is None:
            return np.asarray(self.anchor_variance + (h - self.anchor_height) ** 2 * self.rate_variance)
        return self.knots.variance(h)
