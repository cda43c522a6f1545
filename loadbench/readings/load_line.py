"""The load of the whole set at an installed height: one strand, or the members of a nest each at its own height."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from loadbench.arrays import Floats, Real
from loadbench.readings.accuracy import Accuracy, standard
from loadbench.readings.strand import Evidence, Strand


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class LoadLine:
    """Load against the height H of the member without steps.

    Each strand stands `offset` (its steps, m) below H. Gain and zero of the tester are shared by all readings and so
    by all members; what differs from reading to reading is independent.
    """

    strands: tuple[tuple[float, Strand], ...]
    accuracy: Accuracy

    @property
    def evidence(self) -> Evidence:
        """The weakest evidence among the strands."""
        order = list(Evidence)
        return max((strand.evidence for _, strand in self.strands), key=order.index)

    @property
    def rate(self) -> float:
        """Rate, N/m: the fitted, stated or geometric rates added."""
        return sum(strand.rate for _, strand in self.strands)

    @property
    def curvature(self) -> float | None:
        """The largest growth of a member's rate over its readings, as a share; None with fewer than three heights."""
        known = [strand.curvature for _, strand in self.strands if strand.curvature is not None]
        return max(known, key=abs) if known else None

    @property
    def progressive(self) -> bool:
        """Whether a member is taken along its readings instead of along a straight line."""
        return any(strand.knots is not None for _, strand in self.strands)

    def load(self, height: Real) -> Floats:
        """Load, N, at installed heights H, m."""
        h = np.asarray(height, dtype=np.float64)
        return np.asarray(sum(strand.load(h - offset) for offset, strand in self.strands), dtype=np.float64)

    def load_at(self, height: float) -> float:
        """Load, N, at one installed height H, m: the same as `load`, quick for a single straight line."""
        total = 0.0
        for offset, strand in self.strands:
            if strand.knots is None:
                total += max(strand.anchor_load + strand.rate * (strand.anchor_height - (height - offset)), 0.0)
            else:
                total += float(strand.load(height - offset))
        return total

    def rate_at(self, height: Real) -> Floats:
        """Rate, N/m, at installed heights H, m."""
        h = np.asarray(height, dtype=np.float64)
        return np.asarray(sum(strand.rate_at(h - offset) for offset, strand in self.strands), dtype=np.float64)

    def extrapolated(self, height: float) -> bool:
        """Whether a height, m, lies outside the readings of a member."""
        return any(strand.extrapolated(height - offset) for offset, strand in self.strands)

    @property
    def _known_uncertainty(self) -> bool:
        """Whether every strand was measured with an accuracy that is known."""
        measured = (strand.coverage is not None and strand.evidence is Evidence.MEASURED for _, strand in self.strands)
        return not self.accuracy.faulty and all(measured)

    def uncertainty(self, height: Real, height_deviation: float = 0.0) -> Floats | None:
        """Expanded uncertainty of the load.

        Args:
            height: H, m, any shape.
            height_deviation: standard uncertainty of H itself, m.

        Returns:
            U, N (k = 2), of the height's shape; None where the evidence has none.

        Source:
            gum, 5.1.2 and 5.2.2: independent parts squared and added, the shared ones added first.
        """
        if not self._known_uncertainty:
            return None
        h = np.asarray(height, dtype=np.float64)
        anew = sum((strand.coverage or 0.0) ** 2 * strand.variance(h - offset) for offset, strand in self.strands)
        gain = standard(self.accuracy.gain) * self.load(h)
        zero = standard(self.accuracy.zero) * len(self.strands)
        at = self.rate_at(h) * height_deviation
        return np.sqrt(np.asarray(anew + 4 * (gain**2 + zero**2 + at**2), dtype=np.float64))

    def rate_uncertainty(self) -> float | None:
        """Expanded uncertainty of the rate, N/m: the zero cancels, a gain error is the same share of the rate."""
        if not self._known_uncertainty:
            return None
        anew = sum((strand.coverage or 0.0) ** 2 * strand.rate_variance for _, strand in self.strands)
        return math.sqrt(anew + 4 * (standard(self.accuracy.gain) * self.rate) ** 2)
