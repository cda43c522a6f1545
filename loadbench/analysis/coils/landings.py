"""The load curve that a coil's geometry alone gives, exact from landing to landing."""

from __future__ import annotations

import numpy as np

from loadbench.analysis.coils.result import LoadCurve
from loadbench.readings.coil_geometry import CoilGeometry
from loadbench.spring.landing import closing_loads, deflection
from loadbench.spring.winding import Elements


def curve_of_wire(geometry: CoilGeometry, elements: Elements) -> LoadCurve | None:
    """The curve from free to bind, and the loads at which whole coils have landed.

    Args:
        geometry: of the coil, its free height known.
        elements: it, cut up.

    Returns:
        Two points for a cylinder; None without a free height.
    """
    free = geometry.free_height
    if free is None:
        return None
    loads = closing_loads(elements.compliances, elements.gaps)
    order = np.argsort(loads)
    down = np.cumsum(elements.turns[order])
    whole = np.arange(1, int(down[-1] + 1e-6) + 1)
    marks = loads[order][np.minimum(np.searchsorted(down, whole - 1e-9), loads.size - 1)]
    points = np.concatenate(([0.0], np.unique(loads)))
    if not geometry.tapers:
        points, marks = points[[0, -1]], loads[:1]  # rounding may part the elements of a cylinder
    return LoadCurve(
        heights=free - deflection(points, elements.compliances, elements.gaps),
        loads=points,
        landing_loads=tuple(dict.fromkeys(float(mark) for mark in marks)),
    )
