"""Surge of a coil cut into a chain of elements: springs with masses between, one end held and the other.

So tapers are looked at, whose coils differ, and coils of which some have landed and no longer move.
"""

from __future__ import annotations

import numpy as np

from loadbench.arrays import Floats, Indices, Real
from loadbench.spring.landing import closing_loads
from loadbench.spring.taper import turn_compliance


def element_masses(diameters: Floats, turns: Floats, area: Real, density: Real) -> Floats:
    """Mass of each element.

    Args:
        diameters: mean diameter of each, m, shape (..., elements).
        turns: turns of each.
        area: section of the wire, m2.
        density: kg/m3.

    Returns:
        Masses, kg, shape (..., elements).

    Source:
        own derivation: length pi D a turn; the pitch adds less than 1 %.
    """
    return np.asarray(np.pi * diameters * turns * area * density)


def chain_modes(compliances: Floats, masses: Floats, count: int, free: Indices | None = None) -> tuple[Floats, Floats]:
    """Modes of a chain of elements held at both ends; each element's mass is halved between its two ends.

    Args:
        compliances: m/N, shape (elements,), seat to retainer.
        masses: kg, likewise.
        count: how many modes.
        free: places of the free elements, all by default; landed ones are rigid, and rest on an end where nothing free
            lies between.

    Returns:
        Frequencies, Hz, shape (count,), NaN where too few elements are free; and shapes, (count, elements + 1): axial
        displacement at the bounds of the elements over the greatest, which is positive.

    Source:
        own derivation: balance of forces at each node. The chain falls short of the continuous spring by about
        (k pi/(2 elements))^2/6 of its frequency in mode k.
    """
    from scipy.linalg import eigh_tridiagonal

    open_ = np.arange(compliances.size) if free is None else free
    frequencies, shapes = np.full(count, np.nan), np.full((count, compliances.size + 1), np.nan)
    if open_.size < 2:
        return frequencies, shapes
    diagonal, beside, root = _chain_matrix(compliances, masses, open_)
    found = min(count, root.size)
    squares, vectors = eigh_tridiagonal(diagonal, beside, select="i", select_range=(0, found - 1))
    frequencies[:found] = np.sqrt(squares) / (2 * np.pi)
    moved = np.zeros((found, open_.size + 1))
    moved[:, 1:-1] = (vectors / root[:, None]).T
    greatest = np.take_along_axis(moved, np.abs(moved).argmax(axis=1)[:, None], axis=1)
    # Each bound moves with the node that is as many free elements away from the seat.
    passed = np.zeros(compliances.size + 1, dtype=np.intp)
    passed[open_ + 1] = 1
    shapes[:found] = (moved / greatest)[:, np.cumsum(passed)]
    return frequencies, shapes


def chain_frequencies(compliances: Floats, masses: Floats, count: int, free: Indices | None = None) -> Floats:
    """Frequencies of the modes of chain_modes() without their shapes, in two thirds of the time.

    Args:
        compliances: m/N, shape (elements,), seat to retainer.
        masses: kg, likewise.
        count: how many modes.
        free: places of the free elements, all by default.

    Returns:
        Frequencies, Hz, shape (count,), NaN where too few elements are free.

    Source:
        own derivation: chain_modes().
    """
    from scipy.linalg import eigh_tridiagonal

    open_ = np.arange(compliances.size) if free is None else free
    frequencies = np.full(count, np.nan)
    if open_.size < 2:
        return frequencies
    diagonal, beside, root = _chain_matrix(compliances, masses, open_)
    found = min(count, root.size)
    squares = eigh_tridiagonal(diagonal, beside, eigvals_only=True, select="i", select_range=(0, found - 1))
    frequencies[:found] = np.sqrt(squares) / (2 * np.pi)
    return frequencies


def _chain_matrix(compliances: Floats, masses: Floats, free: Indices) -> tuple[Floats, Floats, Floats]:
    """Stiffness over mass of the free nodes: the diagonal, beside it, and the roots of the nodes' masses."""
    stiffness = 1 / compliances[free]
    # A node stands between two free elements and bears half of each, with whatever has landed in between.
    along = np.concatenate(([0.0], np.cumsum(masses)))
    root = np.sqrt(np.diff((along[free] + along[free + 1]) / 2))
    return (stiffness[:-1] + stiffness[1:]) / root**2, -stiffness[1:-1] / (root[:-1] * root[1:]), root


def tapered_modes(
    diameters: Floats,
    turns: Floats,
    torsion_constant: float,
    area: float,
    shear_modulus: float,
    density: float,
    count: int,
) -> Floats:
    """Modes of a conical or beehive spring, all its active turns free and both ends held.

    Args:
        diameters: mean diameter of each element, m, shape (elements,), seat to retainer.
        turns: turns of each.
        torsion_constant: J, m4.
        area: section of the wire, m2.
        shear_modulus: G, Pa.
        density: kg/m3.
        count: how many modes.

    Returns:
        Frequencies, Hz, shape (count,).

    Source:
        own derivation: chain_modes().
    """
    soft = turn_compliance(shear_modulus, torsion_constant, diameters) * turns
    return chain_frequencies(soft, element_masses(diameters, turns, area, density), count)


def modes_at_load(load: float, compliances: Floats, gaps: Floats, masses: Floats, count: int) -> Floats:
    """Modes while a load is on: the turns that have landed swing no more.

    Args:
        load: N.
        compliances: m/N, shape (elements,), seat to retainer.
        gaps: free gap of each, m.
        masses: kg, likewise.
        count: how many modes.

    Returns:
        Frequencies, Hz, shape (count,); NaN where too few turns are free.

    Source:
        own derivation: chain_modes() over the elements that rodriguez leaves free.
    """
    return chain_frequencies(compliances, masses, count, np.flatnonzero(load < closing_loads(compliances, gaps)))
