"""Elastic constants of the materials that meet between lobe and follower, and how two of them act together."""

from __future__ import annotations

from typing import NamedTuple

import numpy as np

from loadbench.arrays import Floats, Real
from loadbench.errors import InputError
from loadbench.spring.sizes import positive


class Elastic(NamedTuple):
    """Young's modulus, Pa, and Poisson's ratio."""

    modulus: float
    poisson: float


STEEL = Elastic(207e9, 0.292)
"""Carbon and alloy steel, tool steel. Source: shigley-contact, table of moduli (from memory)."""
CAST_IRON = Elastic(103e9, 0.211)
"""Grey iron; chilled iron is stiffer, which raises the pressure. Source: shigley-contact, table of moduli (memory)."""
CHILLED_IRON = Elastic(170e9, 0.26)
"""White, chilled or hardenable iron as flat tappets and their lobes have it. Source: common practice, from memory."""
NODULAR_IRON = Elastic(169e9, 0.275)
"""Source: common practice, from memory."""
CERAMIC = Elastic(310e9, 0.27)
"""Silicon nitride. Source: common practice, from memory."""
BRONZE = Elastic(111e9, 0.349)
"""Phosphor bronze. Source: shigley-contact, table of moduli (from memory)."""
ALUMINIUM = Elastic(71.7e9, 0.333)
"""All alloys. Source: shigley-contact, Prob. 3-138 (from memory)."""


def reduced_modulus(first: Elastic, second: Elastic) -> float:
    """The modulus E* of two bodies together: 1/E* is the sum of (1 - nu^2)/E.

    Args:
        first: of one body.
        second: of the other.

    Returns:
        E*, Pa. The E' of oil film theory is twice this.

    Raises:
        InputError: a modulus at zero or below, a Poisson's ratio outside 0 to 0.5.

    Source:
        johnson-contact, ch. 4.
    """
    total = 0.0
    for each in (first, second):
        (modulus,) = positive("a modulus", each.modulus)
        if not 0 <= each.poisson <= 0.5:
            raise InputError(f"a Poisson's ratio of {each.poisson:g}", expected="0 to 0.5")
        total += (1 - each.poisson**2) / float(modulus)
    return 1 / total


def combined_radius(first: Real, second: Real) -> Floats:
    """The radius R of one cylinder on a plane that touches as two curved surfaces do.

    Args:
        first: radius of one surface, m, negative where it is hollow, infinite where it is flat.
        second: of the other, likewise.

    Returns:
        R, m, of the broadcast shape; infinite where the two fit each other or are both flat.

    Raises:
        InputError: a hollow whose radius is that of the bulge in it or less: the two would touch at the rims.

    Source:
        johnson-contact, ch. 4: 1/R = 1/R1 + 1/R2.
    """
    one, other = np.asarray(first, dtype=np.float64), np.asarray(second, dtype=np.float64)
    if np.any(one == 0) or np.any(other == 0):
        raise InputError("a radius of nothing", expected="a radius other than zero")
    curvature = 1 / one + 1 / other
    if np.any(curvature < 0) or np.any((curvature == 0) & np.isfinite(one)):
        raise InputError("a hollow no wider than what runs in it", expected="a hollow of larger radius")
    with np.errstate(divide="ignore"):
        return np.asarray(1 / curvature)
