"""Stated accuracies as standard uncertainties, and the chance that a value stands on the wrong side of a limit."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from loadbench.arrays import Floats, Real


@dataclass(frozen=True, slots=True, kw_only=True)
class Accuracy:
    """A tester's stated accuracies, each a half-width: gain as a share of the load, the rest in N and m.

    `faulty`: one was entered that cannot be used, so that no uncertainty can be said.
    """

    gain: float | None = None
    zero: float | None = None
    repeatability: float | None = None
    height: float | None = None
    faulty: bool = False

    @property
    def stated(self) -> bool:
        """Whether anything at all is stated."""
        return any(value is not None for value in (self.gain, self.zero, self.repeatability, self.height))

    @property
    def drawn_anew(self) -> bool:
        """Whether an accuracy is stated that differs from reading to reading."""
        return self.repeatability is not None or self.height is not None

    def of_reading(self, rate: Real) -> Floats:
        """Standard uncertainty of one reading's load from what is drawn anew for each.

        Args:
            rate: of the spring at the reading, N/m: a height error of one reading is rate times it in load.

        Returns:
            u, N, of the rate's shape.

        Source:
            gum, 4.3.7 (rectangular half-widths) and 5.1.2 (first-order propagation).
        """
        return np.sqrt(standard(self.repeatability) ** 2 + (np.asarray(rate) * standard(self.height)) ** 2)


def standard(half_width: float | None) -> float:
    """Standard uncertainty of a stated half-width: a/sqrt 3; zero where none is stated.

    Args:
        half_width: a, any unit.

    Returns:
        u in the same unit.

    Source:
        gum, 4.3.7.
    """
    return 0.0 if half_width is None else half_width / math.sqrt(3.0)


def expanded(*contributions: float | None) -> float | None:
    """Expanded uncertainty, k = 2, of independent standard uncertainties; None where one of them is unknown.

    Args:
        contributions: u of each, in one unit.

    Returns:
        U = 2 sqrt(sum u^2) in the same unit.

    Source:
        gum, 5.1.2 and 6.2.1.
    """
    if any(u is None for u in contributions):
        return None
    return 2.0 * math.sqrt(sum(u**2 for u in contributions if u is not None))


def chance_below(limit: float, value: float, expanded_uncertainty: float | None) -> float | None:
    """Chance that the true value stands below a limit.

    Args:
        limit: in the value's unit.
        value: as found.
        expanded_uncertainty: U, k = 2; None: unknown.

    Returns:
        0 to 1 for a normal distribution of standard deviation U/2; None where U is unknown.

    Source:
        gum, annex G.1.3 (a normal distribution is taken).
    """
    if expanded_uncertainty is None:
        return None
    if expanded_uncertainty <= 0:
        return float(value < limit)
    return 0.5 * math.erfc((value - limit) / (expanded_uncertainty / 2) / math.sqrt(2.0))
