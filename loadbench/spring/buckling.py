"""Buckling of a compression spring: how tall it may be, and how far it may be pressed.

Symbols: L0 free height, D mean diameter, E and G moduli, alpha end constant; alpha L0/D is the slenderness.
"""

from __future__ import annotations

from enum import StrEnum

import numpy as np

from loadbench.arrays import Floats, Real
from loadbench.errors import InputError
from loadbench.spring.sizes import positive


class Support(StrEnum):
    """How the ends of a spring are held."""

    FIXED = "fixed"
    """Both ends stand on flat parallel faces: a valve spring between seat and retainer."""
    FIXED_HINGED = "fixed and hinged"
    HINGED = "hinged"
    FIXED_FREE = "fixed and free"


END_CONSTANTS = {Support.FIXED: 0.5, Support.FIXED_HINGED: 0.707, Support.HINGED: 1.0, Support.FIXED_FREE: 2.0}
"""End constant alpha by the way the ends are held. Source: shigley, Table 10-2; the 2.0 of one end fixed and the other
free is from memory, not read there, and no valve spring stands so."""


def _moduli(elastic_modulus: Real, shear_modulus: Real) -> tuple[Floats, Floats]:
    E, G = positive("a modulus", elastic_modulus, shear_modulus)
    if np.any(E <= G):
        raise InputError("an elastic modulus at or below the shear modulus", expected="E above G")
    return E, G


def stable_free_height(
    mean_diameter: Real, elastic_modulus: Real, shear_modulus: Real, end_constant: Real = END_CONSTANTS[Support.FIXED]
) -> Floats:
    """Free height up to which a spring cannot buckle however far it is pressed.

    Args:
        mean_diameter: D, m, above zero.
        elastic_modulus: E, Pa, above G.
        shear_modulus: G, Pa, above zero.
        end_constant: alpha, above zero; flat parallel faces unless told otherwise.

    Returns:
        (pi D/alpha) sqrt(2 (E - G)/(2 G + E)), m, of the broadcast shape; for steel 2.63 D/alpha.

    Raises:
        InputError: an argument is zero or below, or E is not above G.

    Source:
        shigley eq. 10-12.
    """
    D, alpha = positive("a diameter or end constant", mean_diameter, end_constant)
    E, G = _moduli(elastic_modulus, shear_modulus)
    return np.asarray(np.pi * D / alpha * np.sqrt(2 * (E - G) / (2 * G + E)))


def critical_deflection(
    free_height: Real,
    mean_diameter: Real,
    elastic_modulus: Real,
    shear_modulus: Real,
    end_constant: Real = END_CONSTANTS[Support.FIXED],
) -> Floats:
    """Deflection at which a spring buckles.

    Args:
        free_height: L0, m, above zero.
        mean_diameter: D, m, above zero.
        elastic_modulus: E, Pa, above G.
        shear_modulus: G, Pa, above zero.
        end_constant: alpha, above zero; flat parallel faces unless told otherwise.

    Returns:
        y, m, of the broadcast shape; infinite where the spring cannot buckle.

    Raises:
        InputError: an argument is zero or below, or E is not above G.

    Source:
        shigley eq. 10-10; the same as en-13906-1, buckling deflection s_K.
    """
    (L0,) = positive("a free height", free_height)
    E, G = _moduli(elastic_modulus, shear_modulus)
    stable = stable_free_height(mean_diameter, E, G, end_constant)
    # The root is of 1 - C2/(alpha L0/D)^2, and C2 is the square of the slenderness that just stands.
    root = np.sqrt(np.maximum(1 - (stable / L0) ** 2, 0.0))
    return np.asarray(np.where(stable > L0, np.inf, L0 * E / (2 * (E - G)) * (1 - root)))
