"""Torsional stress in a coil: the factors for curvature and shear, stress and load, the sizes that keep to a stress.

Symbols: F load, D mean coil diameter, d wire diameter, C = D/d index (EN 13906-1: w), W torsion modulus of the section
(pi d^3/16 for round wire), K_W Wahl, K_B Bergstraesser, K_s direct shear. NaN stays NaN: unknown in, unknown out.
"""

from __future__ import annotations

import math

import numpy as np

from loadbench.arrays import Floats, Real
from loadbench.spring.sizes import above

EN_BIND_SHARE = 0.56
"""EN 13906-1, from memory: largest uncorrected stress at bind over tensile strength, cold-coiled wire."""


def wahl_factor(index: Real) -> Floats:
    """Wahl's factor: curvature and direct shear, at the inside of the coil.

    Args:
        index: C, dimensionless, above 1. Any shape.

    Returns:
        K_W, dimensionless, of the same shape.

    Raises:
        InputError: an index is 1 or below.

    Source:
        wahl; the same in shigley ch. 10 and bhandari ch. 10.
    """
    (C,) = above("a spring index", 1.0, index)
    return np.asarray((4 * C - 1) / (4 * C - 4) + 0.615 / C)


def bergstraesser_factor(index: Real) -> Floats:
    """Bergstraesser's factor: curvature and direct shear; the same number as the k of EN 13906-1.

    Args:
        index: C, dimensionless, above 1. Any shape.

    Returns:
        K_B = (4C + 2) / (4C - 3) = (w + 0.5) / (w - 0.75), dimensionless, of the same shape.

    Raises:
        InputError: an index is 1 or below.

    Source:
        shigley eq. 10-5; en-13906-1, stress correction factor.
    """
    (C,) = above("a spring index", 1.0, index)
    return np.asarray((4 * C + 2) / (4 * C - 3))


def direct_shear_factor(index: Real) -> Floats:
    """Factor for direct shear alone, for static loads and after presetting, when curvature has yielded away.

    Args:
        index: C, dimensionless, above 1. Any shape.

    Returns:
        K_s = 1 + 0.5 / C, dimensionless, of the same shape.

    Raises:
        InputError: an index is 1 or below.

    Source:
        shigley eq. 10-3; norton and bhandari ch. 10 use it on the mean stress.
    """
    (C,) = above("a spring index", 1.0, index)
    return np.asarray(1 + 0.5 / C)


def shear_stress(load: Real, mean_diameter: Real, torsion_modulus: Real, factor: Real = 1.0) -> Floats:
    """Largest torsional stress of a coil under a load.

    Args:
        load: F, N. Any shape; all arguments broadcast together.
        mean_diameter: D, m, above zero.
        torsion_modulus: W, m3, above zero.
        factor: the factor for curvature and shear; 1 gives the uncorrected stress.

    Returns:
        tau = K F (D/2) / W, Pa, of the broadcast shape; 8 K F D / (pi d^3) for round wire.

    Raises:
        InputError: the coil diameter or the section is zero or below.

    Source:
        shigley eq. 10-7; en-13906-1, torsional stress; for other sections timoshenko's W in the same relation.
    """
    D, W = above("the coil's diameter or section", 0.0, mean_diameter, torsion_modulus)
    return np.asarray(np.asarray(factor) * load * D / (2 * W))


def load_at_stress(stress: Real, mean_diameter: Real, torsion_modulus: Real, factor: Real = 1.0) -> Floats:
    """Load that brings a coil to a torsional stress.

    Args:
        stress: tau, Pa. Any shape; all arguments broadcast together.
        mean_diameter: D, m, above zero.
        torsion_modulus: W, m3, above zero.
        factor: the factor for curvature and shear, above zero.

    Returns:
        F, N, of the broadcast shape.

    Raises:
        InputError: the coil diameter, the section or the factor is zero or below.

    Source:
        shigley eq. 10-7, solved for the load.
    """
    D, W, K = above("the coil's diameter, section or factor", 0.0, mean_diameter, torsion_modulus, factor)
    return np.asarray(2 * W * np.asarray(stress) / (K * D))


def least_wire_diameter(load: Real, index: Real, stress: Real, factor: Real) -> Floats:
    """Thinnest round wire that keeps to a stress at a given index.

    Args:
        load: F, N, zero or above. Any shape; all arguments broadcast together.
        index: C, dimensionless, above 1.
        stress: tau, Pa, above zero.
        factor: the factor for curvature and shear at this index.

    Returns:
        d = sqrt(8 K F C / (pi tau)), m, of the broadcast shape.

    Raises:
        InputError: the index is 1 or below, or the stress zero or below.

    Source:
        bhandari ch. 10; shigley eq. 10-7 with D = C d, solved for d.
    """
    (C,) = above("a spring index", 1.0, index)
    (tau,) = above("a stress", 0.0, stress)
    return np.sqrt(8 * np.asarray(factor) * load * C / (math.pi * tau))


def index_at_stress(stress: Real, load: Real, wire_diameter: Real) -> Floats:
    """Index at which round wire reaches a stress under a load, corrected by Bergstraesser.

    Args:
        stress: tau, Pa, above zero. Any shape; all arguments broadcast together.
        load: F, N, above zero.
        wire_diameter: d, m, above zero.

    Returns:
        C, dimensionless, the larger of the two solutions; NaN where no index keeps to the stress.

    Raises:
        InputError: an argument is zero or below.

    Source:
        shigley eq. 10-23, with a = tau and b = 8 F / (pi d^2).
    """
    a, F, d = above("stress, load or wire", 0.0, stress, load, wire_diameter)
    b = 8 * F / (math.pi * d**2)
    middle = (2 * a - b) / (4 * b)
    under = middle**2 - 3 * a / (4 * b)
    # Below zero the wire is overstressed at any index; the root is taken of NaN, not of a negative number.
    return np.asarray(middle + np.sqrt(np.where((under >= 0) & (middle > 0), under, np.nan)))


def growth_of_outside_diameter(mean_diameter: Real, wire_diameter: Real, pitch: Real) -> Floats:
    """Growth of a cylindrical coil's outside diameter when it is pressed from free to bind.

    Args:
        mean_diameter: D, m, free, above zero. Any shape; all arguments broadcast together.
        wire_diameter: d, m, above zero.
        pitch: m, m, of the free spring's active coils, at least the wire's diameter.

    Returns:
        0.1 (m^2 - 0.8 m d - 0.2 d^2) / D, m, of the broadcast shape; zero when the coils touch already.

    Raises:
        InputError: a diameter or the pitch is zero or below.

    Source:
        en-13906-1, increase of the coil diameter, for ends free to turn; from memory.
    """
    D, d, m = above("coil, wire or pitch", 0.0, mean_diameter, wire_diameter, pitch)
    return np.asarray(0.1 * (m**2 - 0.8 * m * d - 0.2 * d**2) / D)
