"""Greatest shear stress under a pressed ellipse, and how deep it lies: where a hardened case has to reach.

Symbols: k longer half axis over the shorter, b the shorter, p0 greatest pressure.
"""

from __future__ import annotations

from typing import NamedTuple

import numpy as np

from loadbench.arrays import Floats, Real
from loadbench.errors import InputError
from loadbench.follower.elliptic_contact import CIRCLE_SHEAR_DEPTH, CIRCLE_SHEAR_SHARE
from loadbench.follower.hertz import SHEAR_DEPTH, SHEAR_SHARE

POISSON = 0.30
"""Of the table; steel has 0.29. At 0.29 the share is 0.7 % more under a circle, and the same under a line."""

FLATNESS = np.array([0.0, 0.02, *np.arange(0.05, 1.01, 0.05)])
"""1/k of the table: nothing for a line, 1 for a circle."""

SHARES = np.array([
    SHEAR_SHARE, 0.30394, 0.30851, 0.31436, 0.31855, 0.32148, 0.32342, 0.32458, 0.32511, 0.32516, 0.32481, 0.32414,
    0.32323, 0.32212, 0.32086, 0.31948, 0.31801, 0.31648, 0.31490, 0.31329, 0.31166, CIRCLE_SHEAR_SHARE,
])  # fmt: skip
"""Greatest shear stress over p0. Source: own derivation, point loads added up; johnson-contact, Table 4.1."""

DEPTHS = np.array([
    SHEAR_DEPTH, 0.78522, 0.78147, 0.77097, 0.75687, 0.74049, 0.72275, 0.70428, 0.68556, 0.66691, 0.64852, 0.63056,
    0.61309, 0.59617, 0.57983, 0.56406, 0.54886, 0.53423, 0.52013, 0.50655, 0.49347, CIRCLE_SHEAR_DEPTH,
])  # fmt: skip
"""Its depth over b. Source: likewise."""


class Shear(NamedTuple):
    """Greatest shear stress, Pa, and its depth under the middle, m."""

    stress: Floats
    depth: Floats


def greatest_shear(ratio: Real, half_width: Real, pressure: Real) -> Shear:
    """Greatest shear stress under an ellipse.

    Args:
        ratio: k, 1 or above; infinite for a line.
        half_width: b, the shorter half axis, m.
        pressure: p0, Pa.

    Returns:
        Stress and depth, of the broadcast shape, within 0.15 % between the places of the table.

    Raises:
        InputError: k below 1.

    Source:
        own derivation: stresses of point loads added up, Poisson 0.30; agrees with johnson-contact, Table 4.1.
    """
    k = np.asarray(ratio, dtype=np.float64)
    if not np.all(k >= 1):
        raise InputError("an ellipticity below 1", expected="1 or above: the longer half axis over the shorter")
    flat = 1 / k
    stress = np.interp(flat, FLATNESS, SHARES) * np.asarray(pressure)
    return Shear(np.asarray(stress), np.asarray(np.interp(flat, FLATNESS, DEPTHS) * np.asarray(half_width)))
