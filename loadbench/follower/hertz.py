"""Hertz contact along a line: a straight roller, a flat face or a bucket on a lobe.

Symbols: F load, L length of the line, R combined radius, E* reduced modulus, b half width, p0 greatest pressure.
"""

from __future__ import annotations

from typing import NamedTuple

import numpy as np

from loadbench.arrays import Floats, Real
from loadbench.spring.sizes import not_negative, positive

SHEAR_SHARE, SHEAR_DEPTH = 0.30028, 0.78615
"""Greatest shear stress over p0 and its depth over b under a line, the axial stress not governing.

Source: johnson-contact, sec. 4.2; worked out from the stresses on the axis, whatever Poisson's ratio.
"""


class LineContact(NamedTuple):
    """Half width, m, greatest pressure, greatest shear stress, Pa, and its depth, m, of the broadcast shape."""

    half_width: Floats
    pressure: Floats
    shear: Floats
    depth: Floats


def line_contact(force: Real, length: Real, radius: Real, modulus: Real) -> LineContact:
    """Contact of two parallel cylinders.

    Args:
        force: F, N, zero or above.
        length: L of the line, m.
        radius: R of both together, m (see `combined_radius`); infinite gives no pressure and no end of width.
        modulus: E* of both together, Pa.

    Returns:
        Sizes and stresses; all zero where there is no load.

    Raises:
        InputError: a load below zero; a length, radius or modulus at zero or below.

    Source:
        johnson-contact, sec. 4.2: b^2 = 4 F R/(pi L E*), p0 = 2 F/(pi b L).
    """
    (F,) = not_negative("a contact load", force)
    L, R, E = positive("a length, radius or modulus of a contact", length, radius, modulus)
    half = np.sqrt(4 * F * np.where(F > 0, R, 1.0) / (np.pi * L * E))  # no load, no width, on a flat as well
    pressure = np.sqrt(F * E / (np.pi * L * R))
    return LineContact(half, pressure, np.asarray(SHEAR_SHARE * pressure), np.asarray(SHEAR_DEPTH * half))


def load_at_pressure(pressure: Real, length: Real, radius: Real, modulus: Real) -> Floats:
    """The load under which a line contact reaches a pressure.

    Args:
        pressure: p0, Pa, zero or above.
        length: L, m.
        radius: R, m.
        modulus: E*, Pa.

    Returns:
        F, N, of the broadcast shape.

    Raises:
        InputError: sizes at zero or below.

    Source:
        johnson-contact, sec. 4.2, solved for F.
    """
    (p,) = not_negative("a contact pressure", pressure)
    L, R, E = positive("a length, radius or modulus of a contact", length, radius, modulus)
    return np.asarray(np.pi * L * R * p**2 / E)
