"""Cross-sections of spring wire: what they take up in the coil, and how they twist.

Symbols: a radial and b axial size of the wire, A area, J torsion constant (twist per length = T / (G J)), W torsion
modulus (largest shear of a straight bar, T / W), k1 and k2 the coefficients of a rectangle: J = k1 l s^3 and
W = k2 l s^2, l the long and s the short side.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

import numpy as np

from loadbench.arrays import Floats, Real
from loadbench.errors import InputError
from loadbench.spring.sizes import positive

_ODD = range(1, 20, 2)
"""Ten odd numbers: past n = 19 the terms of a square, the slowest, are below 1e-15."""

SUM_OF_FIFTHS = 31 / 32 * 1.0369277551433699
"""Sum of n^-5 over all odd n: 31/32 of the zeta function at 5."""


class Shape(StrEnum):
    """Shape of the wire's cross-section."""

    ROUND = "round"
    OVATE = "ovate"
    RECTANGULAR = "rectangular"


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Section:
    """A cross-section of wire, SI; every array of the same shape.

    `radial` is across the coil, half of it stands outside the mean diameter; `axial` is along the spring's axis and
    stacks at bind. `torsion_modulus` is that of a straight bar: curvature comes on top, by a stress factor.
    """

    shape: Shape
    radial: Floats
    axial: Floats
    area: Floats
    torsion_constant: Floats
    torsion_modulus: Floats


def round_section(diameter: Real) -> Section:
    """Round wire.

    Args:
        diameter: d, m, above zero; any shape.

    Returns:
        The section, of the diameter's shape.

    Raises:
        InputError: the diameter is zero or below.

    Source:
        timoshenko, torsion of a circular bar: J = pi d^4/32, W = pi d^3/16.
    """
    (d,) = positive("a wire diameter", diameter)
    return Section(
        shape=Shape.ROUND,
        radial=d,
        axial=d,
        area=np.asarray(np.pi * d**2 / 4),
        torsion_constant=np.asarray(np.pi * d**4 / 32),
        torsion_modulus=np.asarray(np.pi * d**3 / 16),
    )


def ovate_section(radial: Real, axial: Real) -> Section:
    """Ovate (egg-shaped) wire, taken as the ellipse of its two axes.

    No formula for the egg section is published. The ellipse bounds it: an egg of the same axes is blunter, so it has a
    little more area and torsion constant. A true egg also carries its broad side at the inside of the coil, where
    curvature raises the stress; of that relief the ellipse knows nothing.

    Args:
        radial: size across the coil, m, above zero.
        axial: size along the spring's axis, m, above zero; broadcasts with `radial`.

    Returns:
        The section, of the broadcast shape.

    Raises:
        InputError: a size is zero or below.

    Source:
        timoshenko, torsion of an elliptical bar, exact: J = pi p^3 q^3/(p^2 + q^2), W = pi p q^2/2, q the smaller
        semi-axis.
    """
    a, b = np.broadcast_arrays(*positive("a wire size", radial, axial))
    p, q = np.maximum(a, b) / 2, np.minimum(a, b) / 2
    return Section(
        shape=Shape.OVATE,
        radial=a,
        axial=b,
        area=np.asarray(np.pi * p * q),
        torsion_constant=np.asarray(np.pi * p**3 * q**3 / (p**2 + q**2)),
        torsion_modulus=np.asarray(np.pi * p * q**2 / 2),
    )


def rectangular_section(radial: Real, axial: Real) -> Section:
    """Rectangular wire, corners taken as sharp.

    Args:
        radial: size across the coil, m, above zero.
        axial: size along the spring's axis, m, above zero; broadcasts with `radial`.

    Returns:
        The section, of the broadcast shape.

    Raises:
        InputError: a size is zero or below.

    Source:
        timoshenko, torsion of a rectangular bar: J = k1 l s^3, W = k2 l s^2.
    """
    a, b = np.broadcast_arrays(*positive("a wire size", radial, axial))
    long, short = np.maximum(a, b), np.minimum(a, b)
    k1, k2 = rectangle_coefficients(long / short)
    return Section(
        shape=Shape.RECTANGULAR,
        radial=a,
        axial=b,
        area=np.asarray(a * b),
        torsion_constant=np.asarray(k1 * long * short**3),
        torsion_modulus=np.asarray(k2 * long * short**2),
    )


def _sides(ratio: Real) -> Floats:
    (sides,) = positive("a ratio of sides", ratio)
    if np.any(sides < 1):
        raise InputError("a long side shorter than the short one", expected="a ratio of sides of 1 or more")
    return sides


def rectangle_coefficients(ratio: Real) -> tuple[Floats, Floats]:
    """Torsion coefficients of a rectangular bar.

    Args:
        ratio: long side over short side, 1 or more; any shape.

    Returns:
        k1 of the torsion constant, J = k1 l s^3, and k2 of the torsion modulus, W = k2 l s^2; of the ratio's shape.

    Raises:
        InputError: a ratio is below 1.

    Source:
        timoshenko, torsion of a rectangular bar, the series; the tanh series summed as its closed sum less a rest that
        dies out in a few terms.
    """
    sides = _sides(ratio)
    tanh_rest, cosh_sum = np.zeros_like(sides), np.zeros_like(sides)
    # 1 - tanh x = 2/(1 + e^2x) and 1/cosh x, both written with e^-x: e^x would overflow for a flat strip.
    falling = np.exp(-np.pi / 2 * sides)
    step = falling**2
    for n in _ODD:
        quick = falling / (1 + falling**2)
        tanh_rest = tanh_rest + falling * quick * (2 / n**5)
        cosh_sum = cosh_sum + quick * (2 / n**2)
        falling = falling * step
    k1 = (1 - 192 / np.pi**5 * (SUM_OF_FIFTHS - tanh_rest) / sides) / 3
    k2 = k1 / (1 - 8 / np.pi**2 * cosh_sum)
    return np.asarray(k1), np.asarray(k2)


def rectangle_coefficient_roark(ratio: Real) -> Floats:
    """Stiffness coefficient of a rectangular bar by the handbook's polynomial, within 0.5 % of the series.

    Args:
        ratio: long side over short side, 1 or more; any shape.

    Returns:
        k1 of the torsion constant, J = k1 l s^3.

    Raises:
        InputError: a ratio is below 1.

    Source:
        roark, Table 10.1 case 4.
    """
    flat = 1 / _sides(ratio)
    # The book writes J = A B^3 [16/3 - 3.36 ...] with half sides: l s^3 is 16 A B^3.
    return np.asarray((16 / 3 - 3.36 * flat * (1 - flat**4 / 12)) / 16)
