"""Rate and load of one helical compression spring of round wire.

Symbols (EN 13906-1): G shear modulus, d wire diameter, D mean coil diameter, n active coils, R rate, F load,
L0 free height, H height.
"""

from __future__ import annotations

import numpy as np

from loadbench.arrays import Floats, Real
from loadbench.errors import InputError


def _positive(what: str, *values: Real) -> list[Floats]:
    arrays = [np.asarray(value, dtype=np.float64) for value in values]
    if any(np.any(~(array > 0)) for array in arrays):
        raise InputError(f"{what} at zero or below", expected="values above zero")
    return arrays


def rate(shear_modulus: Real, wire_diameter: Real, mean_diameter: Real, active_coils: Real) -> Floats:
    """Rate of a cylindrical coil of round wire from its geometry.

    Args:
        shear_modulus: G, Pa. Any shape; all arguments broadcast together.
        wire_diameter: d, m, above zero.
        mean_diameter: D, m, centre line to centre line, above zero.
        active_coils: n, dimensionless, above zero.

    Returns:
        Rate R, N/m, of the broadcast shape.

    Raises:
        InputError: an argument is zero or below.

    Source:
        en-13906-1, equation for the spring rate; the same as shigley eq. 10-9.
    """
    G, d, D, n = _positive("wire, coil or turns", shear_modulus, wire_diameter, mean_diameter, active_coils)
    return np.asarray(G * d**4 / (8 * D**3 * n))


def active_coils(shear_modulus: Real, wire_diameter: Real, mean_diameter: Real, spring_rate: Real) -> Floats:
    """Active coils of a cylindrical coil of round wire, from its measured rate.

    Args:
        shear_modulus: G, Pa.
        wire_diameter: d, m, above zero.
        mean_diameter: D, m, above zero.
        spring_rate: R, N/m, above zero.

    Returns:
        n, dimensionless, of the broadcast shape.

    Raises:
        InputError: an argument is zero or below.

    Source:
        en-13906-1, equation for the spring rate, solved for n.
    """
    return rate(shear_modulus, wire_diameter, mean_diameter, spring_rate)


def load_at_height(spring_rate: Real, height: Real, known_height: Real, known_load: Real) -> Floats:
    """Load of a linear spring at a height, from its rate and one known point.

    Args:
        spring_rate: R, N/m.
        height: where the load is wanted, m.
        known_height: height of the known point, m; the free height with a load of zero serves too.
        known_load: load there, N.

    Returns:
        Load, N, of the broadcast shape.

    Source:
        en-13906-1, linear characteristic F = R s.
    """
    return np.asarray(known_load + np.asarray(spring_rate) * (np.asarray(known_height) - height))


def height_at_load(spring_rate: Real, load: Real, known_height: Real, known_load: Real) -> Floats:
    """Height at which a linear spring carries a load, from its rate and one known point.

    Args:
        spring_rate: R, N/m, above zero.
        load: wanted load, N.
        known_height: height of the known point, m.
        known_load: load there, N.

    Returns:
        Height, m, of the broadcast shape.

    Raises:
        InputError: the rate is zero or below.

    Source:
        en-13906-1, linear characteristic F = R s, solved for the height.
    """
    (R,) = _positive("a rate", spring_rate)
    return np.asarray(known_height - (np.asarray(load) - known_load) / R)


def rate_between(upper_height: Real, upper_load: Real, lower_height: Real, lower_load: Real) -> Floats:
    """Rate between two readings.

    Args:
        upper_height: the taller height, m.
        upper_load: load there, N.
        lower_height: the shorter height, m.
        lower_load: load there, N.

    Returns:
        Mean rate between the two, N/m.

    Raises:
        InputError: the taller height is not above the shorter.

    Source:
        en-13906-1, rate as the change of load over the change of height.
    """
    (travel,) = _positive("travel between two readings", np.asarray(upper_height) - lower_height)
    return np.asarray((np.asarray(lower_load) - upper_load) / travel)
