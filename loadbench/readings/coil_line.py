"""The load line of a coil from its geometry: straight for a cylinder, a curve where coils land one after another."""

from __future__ import annotations

import numpy as np

from loadbench.arrays import Floats
from loadbench.errors import InputError
from loadbench.readings.coil_geometry import FOR_RATE, CoilGeometry
from loadbench.readings.strand import Evidence, Knots, Strand
from loadbench.readings.strand_fit import NO_READINGS, line_from_rate
from loadbench.spring.ends import Ends
from loadbench.spring.landing import closing_loads, deflection, rate_at_load
from loadbench.spring.section import Shape
from loadbench.spring.winding import Elements, Winding, elements_of

GROUND = (Ends.CLOSED_GROUND, Ends.PLAIN_GROUND)
FOR_WINDING = (
    "section",
    "mean_diameter",
    "small_mean_diameter",
    "active_coils",
    "tapered_coils",
    "total_coils",
    "ends",
)
"""What the height at bind rests on; the free height comes beside it."""

KNOTS = 48
"""Knots of a curve: the load is within a tenth of a percent of the coil's own, but for the last 0.02 mm to bind."""


def winding_of(geometry: CoilGeometry) -> Winding | None:
    """How a coil is wound; None where something is wanting, or where it would be bound when free."""
    section, free = geometry.section, geometry.free_height
    if geometry.wanting(*FOR_WINDING) or section is None or free is None:
        return None
    large, active, total = geometry.mean_diameter or 0.0, geometry.active_coils or 0.0, geometry.total_coils or 0.0
    try:
        return Winding(
            axial=float(section.axial),
            radial=float(section.radial),
            large=large,
            small=geometry.small_mean_diameter or large,
            active=active,
            tapered=geometry.tapered_coils,
            free_height=free,
            dead=max(total - active, 0.0),
            ground=geometry.ends in GROUND,
            flat=section.shape is Shape.RECTANGULAR,
        )
    except InputError:
        return None


def strand_of_geometry(geometry: CoilGeometry) -> tuple[float | None, Strand | None, tuple[str, ...]]:
    """The rate and the load line of a coil from its geometry.

    Args:
        geometry: of the coil.

    Returns:
        Rate in N/m with every coil free, the line through the free height, and the fields that are missing for them.
    """
    rate = geometry.rate
    if rate is None:
        return None, None, geometry.wanting(*FOR_RATE)
    if not geometry.tapers:
        free = geometry.free_height
        if free is None:
            return rate, None, geometry.wanting("free_height")
        return rate, line_from_rate(rate, np.array([free]), np.array([0.0]), Evidence.GEOMETRIC), ()
    winding = winding_of(geometry)
    if winding is None:
        return rate, None, geometry.wanting(*FOR_WINDING, "free_height") or (f"{geometry.path}.free_height",)
    elements = elements_of_coil(geometry, winding)
    return rate, None if elements is None else _curve(rate, winding, elements), ()


def elements_of_coil(geometry: CoilGeometry, winding: Winding) -> Elements | None:
    """A wound coil cut into elements; None where its wire is not known or its turns would lie in each other."""
    if geometry.material is None or geometry.section is None:
        return None
    try:
        twist = float(geometry.section.torsion_constant)
        return elements_of(winding, geometry.material.shear_modulus_Pa, twist, 240 if geometry.tapers else 2)
    except InputError:
        return None


def _curve(rate: float, winding: Winding, elements: Elements) -> Strand | None:
    """A monotone interpolant along the loads at which coils land; straight until the first one does."""
    landings = np.unique(closing_loads(elements.compliances, elements.gaps))
    if landings[0] <= 0:
        return None  # coils that lie on each other already: the pitch cannot be even
    # Just past the first landing the whole straight part of a beehive is down at once: the slope changes there.
    past = landings[0] + 1e-3 * (landings[min(1, landings.size - 1)] - landings[0])
    chosen = np.unique(np.linspace(0, landings.size - 1, min(KNOTS, landings.size)).astype(int))[1:]
    loads = np.concatenate(([0.0, landings[0], past], landings[chosen]))
    heights = winding.free_height - deflection(loads, elements.compliances, elements.gaps)
    slopes = _slopes(heights, loads, rate, float(rate_at_load(past, elements.compliances, elements.gaps)))
    rising = slice(None, None, -1)
    return Strand(
        evidence=Evidence.GEOMETRIC,
        anchor_height=winding.free_height,
        anchor_load=0.0,
        rate=rate,
        heights=NO_READINGS,
        loads=NO_READINGS,
        knots=Knots(
            heights=heights[rising],
            loads=loads[rising],
            slopes=slopes[rising],
            sensitivities=np.zeros((loads.size, loads.size)),
            deviations=np.zeros(loads.size),
        ),
    )


def _slopes(heights: Floats, loads: Floats, rate: float, past: float) -> Floats:
    """Slopes at the knots, free to bind: exact until the first landing, then the harmonic mean of both neighbours."""
    secants = np.diff(loads) / np.diff(heights)
    inner = np.concatenate((2 * secants[:-1] * secants[1:] / (secants[:-1] + secants[1:]), secants[-1:]))
    return np.concatenate(([-rate, -rate, -past], inner[2:]))
