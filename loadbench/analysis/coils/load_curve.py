"""Load against a coil's own height, from free to bind, for the pictures."""

from __future__ import annotations

import numpy as np

from loadbench.analysis.coils.result import LoadCurve
from loadbench.analysis.coils.standing_coil import StandingCoil
from loadbench.readings.strand import Evidence

POINTS = 49
"""Points of a curve that is not a straight line."""


def load_curve(coil: StandingCoil) -> LoadCurve | None:
    """The curve of one coil: its own load line, or where that is the geometry's and the coil tapers, its landings.

    Args:
        coil: where it stands.

    Returns:
        Two points for a straight line; None without a load line or a bind height below the free one.
    """
    strand = coil.strand
    if strand is None:
        return None
    if strand.knots is not None and strand.evidence is Evidence.GEOMETRIC and coil.basis.from_wire is not None:
        return coil.basis.from_wire
    if coil.bind is None or strand.rate <= 0:
        return None
    free = strand.anchor_height + strand.anchor_load / strand.rate
    if strand.knots is not None:
        knots = strand.knots
        free = float(knots.heights[-1] - knots.loads[-1] / knots.slopes[-1]) if knots.slopes[-1] < 0 else free
    if free <= coil.bind:
        return None
    heights = np.linspace(free, coil.bind, 2 if strand.knots is None else POINTS)
    loads = strand.load(heights)
    return LoadCurve(heights=heights, loads=loads)
