"""Tensile strength of spring wire against its diameter: laws in closed form, and a standard's steps.

Symbols: d wire diameter, Sut or Rm tensile strength, A the strength at 1 mm, m the exponent. Drawn or rolled thinner, a
wire is stronger; so every law here falls with the diameter.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from loadbench.arrays import Floats, Indices, Real

# A diameter typed in inches lands a rounding away from a step's edge; it still counts as on the edge.
EDGE = 1e-9
MILLIMETRE = 1e-3


def power_law(diameter: Real, at_one_mm: Real, exponent: Real) -> Floats:
    """Tensile strength by a power of the diameter.

    Args:
        diameter: d, m, above zero. Any shape; all arguments broadcast together.
        at_one_mm: A, Pa: the strength of a wire of 1 mm.
        exponent: m, dimensionless, as in A / d^m.

    Returns:
        Sut, Pa, of the broadcast shape.

    Source:
        shigley eq. 10-14 with Table 10-4. The form norton fits too, as Sut = A d^b with b = -m.
    """
    return np.asarray(at_one_mm * (np.asarray(diameter) / MILLIMETRE) ** (-np.asarray(exponent)))


def logarithmic_law(diameter: Real, at_one_mm: Real, per_decade: Real) -> Floats:
    """Least tensile strength of patented wire by the logarithm of its diameter.

    Args:
        diameter: d, m, above zero.
        at_one_mm: the strength of a wire of 1 mm, Pa.
        per_decade: how much it falls when the diameter grows tenfold, Pa.

    Returns:
        Least Rm, Pa, of the broadcast shape. The standard's table rounds it to 10 MPa.

    Source:
        en-10270-1, as in a verification sheet (en-13906-1-sheet): grade DM has 1980 MPa and 740 MPa.
    """
    return np.asarray(at_one_mm - np.asarray(per_decade) * np.log10(np.asarray(diameter) / MILLIMETRE))


@dataclass(frozen=True, slots=True, kw_only=True)
class PowerLaw:
    """Strength by a power law between two diameters."""

    at_one_mm_Pa: float
    exponent: float
    least_diameter_m: float
    most_diameter_m: float

    def band(self, diameter: Real) -> tuple[Floats, Floats]:
        """Lower and upper end of the strength, which one line does not tell apart.

        Args:
            diameter: d, m, of any shape.

        Returns:
            The strength twice, Pa; NaN outside the law's range.

        Source:
            shigley Table 10-4, which gives least strengths and no upper end.
        """
        d = np.asarray(diameter, dtype=np.float64)
        inside = (d >= self.least_diameter_m * (1 - EDGE)) & (d <= self.most_diameter_m * (1 + EDGE))
        strength = power_law(np.where(inside, d, np.nan), self.at_one_mm_Pa, self.exponent)
        return strength, strength

    def seen(self, diameter: float) -> str:
        """How the constants were consulted: they were read, for every diameter."""
        return "read"


@dataclass(frozen=True, slots=True, kw_only=True)
class Step:
    """One step of a standard's table: diameters over `over_m` up to and with `to_m`.

    `seen` is "read"; "memory" where it was not re-read; "bounded" where the table was not seen but its neighbours were:
    strength falls with the diameter, so the lower end is that of the thicker neighbour and the upper of the thinner.
    """

    over_m: float
    to_m: float
    low_Pa: float
    high_Pa: float
    seen: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Steps:
    """Strength by the steps of a standard, which join without a gap."""

    steps: tuple[Step, ...]

    @property
    def least_diameter_m(self) -> float:
        """Where the first step begins; the table says "over", so this diameter itself is outside."""
        return self.steps[0].over_m

    @property
    def most_diameter_m(self) -> float:
        """Where the last step ends."""
        return self.steps[-1].to_m

    def band(self, diameter: Real) -> tuple[Floats, Floats]:
        """Lower and upper end of the strength at a diameter.

        Args:
            diameter: d, m, of any shape.

        Returns:
            Lower and upper end, Pa; NaN outside the steps.

        Source:
            en-10270-2, table of tensile strengths by diameter.
        """
        place = self._place(diameter)
        low, high = (
            np.array([np.nan, *(getattr(step, end) for step in self.steps), np.nan]) for end in ("low_Pa", "high_Pa")
        )
        return np.asarray(low[place]), np.asarray(high[place])

    def seen(self, diameter: float) -> str:
        """How the step of a diameter was consulted; "" outside the steps."""
        return ["", *(step.seen for step in self.steps), ""][int(self._place(diameter))]

    def _place(self, diameter: Real) -> Indices:
        """Which edge-to-edge room a diameter lies in; 0 below the first step, the last number above or for NaN."""
        edges = np.array([self.steps[0].over_m, *(step.to_m for step in self.steps)])
        return np.asarray(np.searchsorted(edges, np.asarray(diameter, dtype=np.float64) * (1 - EDGE), side="left"))


Strength = PowerLaw | Steps
