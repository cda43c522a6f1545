"""A crowned roller or face on a straight lobe: an ellipse while it fits on the line, a line where it would be longer.

Symbols: R combined radius along the motion, C crown radius along the shaft, L length that can touch, k half axis along
the shaft over the one along the motion, which is below 1 where the lobe is flatter than the crown.
"""

from __future__ import annotations

from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from loadbench.arrays import Floats, Real
from loadbench.follower.ellipse_shear import greatest_shear
from loadbench.follower.elliptic_contact import elliptic_contact
from loadbench.follower.hertz import line_contact
from loadbench.spring.sizes import positive

Flags = NDArray[np.bool_]


class CrownedContact(NamedTuple):
    """Half axes along the motion and along the shaft, m, pressure, greatest shear, Pa, its depth, m, and k.

    `straight` is true where the ellipse is longer than the line, so that the ends carry load too.
    """

    half_width: Floats
    half_length: Floats
    pressure: Floats
    shear: Floats
    depth: Floats
    ratio: Floats
    straight: Flags


def crowned_contact(force: Real, radius: Real, crown: Real, length: Real, modulus: Real) -> CrownedContact:
    """Contact of a crowned roller or face with a lobe that is straight along its shaft.

    Args:
        force: F, N, zero or above.
        radius: R, m.
        crown: C, m; infinite where there is none.
        length: L, the narrower of lobe and follower, m.
        modulus: E*, Pa.

    Returns:
        Sizes and stresses, of the broadcast shape. Where the ellipse is longer than L: those of the line, with the
        ellipse's pressure if that is more; the true one is above both.

    Raises:
        InputError: a load below zero, a size at zero or below.

    Source:
        johnson-contact, sec. 4.1 and 4.2; own derivation for the longer ellipse: cut ends load its middle the more,
        and a crown does so to a line.
    """
    R, C, L = positive("a radius, crown or length of a contact", radius, crown, length)
    line = line_contact(force, L, R, modulus)
    crowned = np.isfinite(C)
    round_ = np.where(crowned, C, R)
    oval = elliptic_contact(force, np.minimum(R, round_), np.maximum(R, round_), modulus)
    lengthwise = round_ >= R  # the long axis lies along the shaft
    half_length = np.where(lengthwise, oval.along, oval.across)
    straight = ~crowned | (2 * half_length > L)
    under = greatest_shear(np.where(straight, np.inf, oval.ratio), oval.across, oval.pressure)
    pressure = np.where(
        straight, np.where(crowned, np.maximum(line.pressure, oval.pressure), line.pressure), oval.pressure
    )
    width = np.where(straight, line.half_width, np.where(lengthwise, oval.across, oval.along))
    return CrownedContact(
        half_width=width,
        half_length=np.where(straight, L / 2, half_length),
        pressure=pressure,
        shear=np.where(straight, line.shear / np.where(line.pressure > 0, line.pressure, 1.0) * pressure, under.stress),
        depth=np.where(straight, line.depth, under.depth),
        ratio=np.where(crowned, np.where(lengthwise, oval.ratio, 1 / oval.ratio), np.inf),
        straight=straight,
    )
