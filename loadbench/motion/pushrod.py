"""A pushrod as a column: the load under which it gives way sideways, its mean stress, and how far both are off.

A straight tube of one section: D outer diameter, t wall, L length between the centres of its ends, E modulus; k is the
section's radius of gyration. A taper, a bend or a side load make it weaker than is told here.
"""

from __future__ import annotations

from enum import StrEnum

import numpy as np

from loadbench.arrays import Floats, Real
from loadbench.errors import InputError, Place
from loadbench.spring.sizes import positive

STEEL = 205e9
"""Modulus of steel, Pa. Source: common practice."""


class Ends(StrEnum):
    """How the ends of a pushrod are held."""

    BALL = "ball and cup"
    """Both ends turn freely: every pushrod that stands between a cup and a ball."""
    FIXED_BALL = "one end fixed"
    FIXED = "both ends fixed"


END_CONSTANTS = {Ends.BALL: 1.0, Ends.FIXED_BALL: 2.0, Ends.FIXED: 4.0}
"""End condition constant C as in theory. Source: shigley, chapter on columns."""


def section(diameter: Real, wall: Real) -> tuple[Floats, Floats]:
    """Area and second moment of a tube's section.

    Args:
        diameter: D, m, above zero.
        wall: t, m, above zero and up to half the diameter, which is a solid rod.

    Returns:
        Area, m2, and second moment I, m4, of the broadcast shape.

    Raises:
        InputError: a size at zero or below, a wall of more than half the diameter.

    Source:
        own derivation: a circle less a circle.
    """
    D, t = positive("a diameter or wall of a pushrod", diameter, wall)
    inner = D - 2 * t
    if np.any(inner < -1e-12 * D):
        place = Place(field="wall")
        raise InputError("a wall of more than half the diameter", expected="half the diameter at most", place=place)
    inner = np.maximum(inner, 0.0)
    return np.asarray(np.pi / 4 * (D**2 - inner**2)), np.asarray(np.pi / 64 * (D**4 - inner**4))


def slenderness(diameter: Real, wall: Real, length: Real) -> Floats:
    """Length over the section's radius of gyration.

    Args:
        diameter: D, m.
        wall: t, m.
        length: L, m, above zero.

    Returns:
        L/k, of the broadcast shape.

    Raises:
        InputError: sizes that no pushrod has.

    Source:
        shigley, chapter on columns: k^2 = I/A.
    """
    (L,) = positive("a length of a pushrod", length)
    area, moment = section(diameter, wall)
    return np.asarray(L / np.sqrt(moment / area))


def euler_load(
    diameter: Real,
    wall: Real,
    length: Real,
    elastic_modulus: Real = STEEL,
    end_constant: Real = END_CONSTANTS[Ends.BALL],
) -> Floats:
    """Load under which a slender pushrod gives way sideways.

    Args:
        diameter: D, m.
        wall: t, m.
        length: L, m, above zero.
        elastic_modulus: E, Pa, above zero.
        end_constant: C, above zero; 1 with balls at both ends.

    Returns:
        N, of the broadcast shape.

    Raises:
        InputError: sizes that no pushrod has.

    Source:
        shigley, chapter on columns (Euler): C pi^2 E I/L^2.
    """
    L, E, C = positive("a length, modulus or end constant", length, elastic_modulus, end_constant)
    moment = section(diameter, wall)[1]
    return np.asarray(C * np.pi**2 * E * moment / L**2)


def column_load(
    diameter: Real,
    wall: Real,
    length: Real,
    yield_strength: Real,
    elastic_modulus: Real = STEEL,
    end_constant: Real = END_CONSTANTS[Ends.BALL],
) -> Floats:
    """Load under which a pushrod gives way, slender or stout.

    Args:
        diameter: D, m.
        wall: t, m.
        length: L, m, above zero.
        yield_strength: Sy, Pa, above zero.
        elastic_modulus: E, Pa, above zero.
        end_constant: C, above zero; 1 with balls at both ends.

    Returns:
        N, of the broadcast shape: Euler's load where it stresses the section to half the yield strength or less, the
        parabola that joins it below that slenderness.

    Raises:
        InputError: sizes that no pushrod has.

    Source:
        shigley, chapter on columns (Euler, J. B. Johnson).
    """
    (Sy,) = positive("a yield strength", yield_strength)
    slender = euler_load(diameter, wall, length, elastic_modulus, end_constant)
    full = Sy * section(diameter, wall)[0]
    return np.asarray(np.where(slender <= full / 2, slender, full * (1 - full / (4 * slender))))


def mean_stress(force: Real, diameter: Real, wall: Real) -> Floats:
    """Force over the section of a pushrod.

    Args:
        force: N, pressing.
        diameter: D, m.
        wall: t, m.

    Returns:
        Pa, of the broadcast shape.

    Raises:
        InputError: sizes that no pushrod has.

    Source:
        own derivation: the force spread evenly.
    """
    return np.asarray(np.asarray(force) / section(diameter, wall)[0])


def column_factor(column: Real, force: Real) -> Floats:
    """How many times the greatest force a pushrod could carry as a column.

    Args:
        column: load under which it gives way, N.
        force: greatest force at the pushrod station, N.

    Returns:
        Factor, of the broadcast shape; infinite where nothing presses.

    Source:
        own derivation: the quotient.
    """
    P, F = np.asarray(column, dtype=np.float64), np.asarray(force, dtype=np.float64)
    return np.asarray(np.where(F > 0, P / np.where(F > 0, F, 1.0), np.inf))
