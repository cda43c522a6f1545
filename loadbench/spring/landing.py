"""Load against deflection of a spring whose turns land one after another: exact between landings, both ways.

A spring comes as elements (compliance c_i, gap g_i). Element i yields c_i F until it lands at F_i = g_i/c_i and no more
after; so the deflection is sum min(c_i F, g_i): straight lines between the landings, ever steeper in load.

Arrays: one spring's elements, shape (elements,), go with loads of any shape. Elements of shape (..., elements) go with
loads of shape (...): many springs at once, each with its own load.
"""

from __future__ import annotations

from collections.abc import Callable

import numpy as np

from loadbench.arrays import Floats, Real

SLACK = 1e-9
"""A deflection may pass bind by this share of the whole travel: rounding, not a fault."""


def closing_loads(compliances: Floats, gaps: Floats) -> Floats:
    """Load at which each element lands.

    Args:
        compliances: m/N, shape (..., elements).
        gaps: free gap of each, m.

    Returns:
        Loads, N, shape (..., elements).

    Source:
        rodriguez.
    """
    return np.asarray(gaps / compliances)


def deflection(load: Real, compliances: Floats, gaps: Floats) -> Floats:
    """How far the spring is pressed by a load.

    Args:
        load: N, shape (...); past the last landing nothing more yields.
        compliances: m/N, shape (..., elements).
        gaps: m, likewise.

    Returns:
        Deflection, m, of the load's shape.

    Source:
        rodriguez: every element yields until it lands.
    """
    return np.asarray(np.minimum(np.asarray(load)[..., None] * compliances, gaps).sum(axis=-1))


def load_at_deflection(deflection: Real, compliances: Floats, gaps: Floats) -> Floats:
    """Load that presses the spring so far: the inverse of deflection(), exact.

    Args:
        deflection: m, shape (...); below zero the line goes straight on.
        compliances: m/N, shape (..., elements).
        gaps: m, likewise.

    Returns:
        Load, N, of the deflection's shape; at bind the load of the last landing, past it NaN.

    Source:
        rodriguez, solved for the load between two landings.
    """
    loads = closing_loads(compliances, gaps)
    order = np.argsort(loads, axis=-1)
    loads, yielding, landed = (np.take_along_axis(array, order, axis=-1) for array in (loads, compliances, gaps))
    # softness[j] is what still yields below landing j; summed from the far end, so the last ones keep their digits.
    softness = np.cumsum(yielding[..., ::-1], axis=-1)[..., ::-1]
    before = np.cumsum(landed, axis=-1) - landed
    travel = before + loads * softness
    wanted = np.asarray(deflection, dtype=np.float64)
    if travel.ndim == 1:
        place = np.minimum(np.searchsorted(travel, wanted), travel.size - 1)
        found = (wanted - before[place]) / softness[place]
    else:
        place = np.minimum((travel < wanted[..., None]).sum(axis=-1), travel.shape[-1] - 1)[..., None]
        base, soft = (
            np.take_along_axis(np.broadcast_to(array, (*place.shape[:-1], travel.shape[-1])), place, axis=-1)[..., 0]
            for array in (before, softness)
        )
        found = (wanted - base) / soft
    last, bind = loads[..., -1], travel[..., -1]
    return np.where(wanted <= bind * (1 + SLACK), np.minimum(found, last), np.nan)


def rate_at_load(load: Real, compliances: Floats, gaps: Floats) -> Floats:
    """Slope of the load curve at a load, just above it where a turn lands there.

    Args:
        load: N, shape (...).
        compliances: m/N, shape (..., elements).
        gaps: m, likewise.

    Returns:
        Rate, N/m, of the load's shape; infinite when every turn has landed.

    Source:
        rodriguez: only the free turns yield.
    """
    free = np.asarray(load)[..., None] < closing_loads(compliances, gaps)
    yielding = np.asarray(np.where(free, compliances, 0.0).sum(axis=-1))
    return np.asarray(np.divide(1.0, yielding, out=np.full(yielding.shape, np.inf), where=yielding > 0))


def free_turns(load: Real, turns: Floats, compliances: Floats, gaps: Floats) -> Floats:
    """Active turns that have not landed.

    Args:
        load: N, shape (...).
        turns: turns of each element, shape (..., elements).
        compliances: m/N, likewise.
        gaps: m, likewise.

    Returns:
        Turns, of the load's shape.

    Source:
        rodriguez.
    """
    return np.asarray(np.where(np.asarray(load)[..., None] < closing_loads(compliances, gaps), turns, 0.0).sum(axis=-1))


def peak_stress(
    load: Real,
    diameters: Floats,
    compliances: Floats,
    gaps: Floats,
    torsion_modulus: Real,
    radial: Real,
    factor_function: Callable[[Floats], Floats],
) -> Floats:
    """Greatest shear stress along the spring. A turn that has landed keeps the stress of its landing load.

    Args:
        load: N, shape (...).
        diameters: mean diameter of each element, m, shape (elements,).
        compliances: m/N, likewise.
        gaps: m, likewise.
        torsion_modulus: W of the wire, m3.
        radial: wire across, m; the index of an element is its diameter over it.
        factor_function: correction factor from the index, such as wahl_factor.

    Returns:
        Stress, Pa, of the load's shape: factor x F x (D/2)/W where it is greatest.

    Source:
        rodriguez for the load of each turn; shigley eq. 10-7 for its stress.
    """
    per_load = factor_function(np.asarray(diameters / radial)) * diameters / 2 / torsion_modulus
    own = np.minimum(np.asarray(load)[..., None], closing_loads(compliances, gaps))
    return np.asarray((own * per_load).max(axis=-1))


def energy(load: Real, compliances: Floats, gaps: Floats) -> Floats:
    """Elastic energy in the spring, element by element.

    Args:
        load: N, shape (...).
        compliances: m/N, shape (..., elements).
        gaps: m, likewise.

    Returns:
        Energy, J, of the load's shape: each element holds c F^2/2 of the load it carries itself.

    Source:
        own derivation: a landed turn takes no more energy.
    """
    own = np.minimum(np.asarray(load)[..., None], closing_loads(compliances, gaps))
    return np.asarray((own**2 * compliances).sum(axis=-1) / 2)
