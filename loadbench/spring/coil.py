"""Rate, load and mass of one cylindrical compression spring: of round wire, and of any wire by its section.

Symbols (EN 13906-1): G shear modulus, d wire diameter, D mean coil diameter, n active coils, R rate, F load,
L0 free height, H height; J torsion constant and A area of the wire, C = D/d index, rho density.
"""

from __future__ import annotations

import numpy as np

from loadbench.arrays import Floats, Real
from loadbench.spring.sizes import positive


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
    G, d, D, n = positive("wire, coil or turns", shear_modulus, wire_diameter, mean_diameter, active_coils)
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
    (R,) = positive("a rate", spring_rate)
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
    (travel,) = positive("travel between two readings", np.asarray(upper_height) - lower_height)
    return np.asarray((np.asarray(lower_load) - upper_load) / travel)


# Wire of any section


def spring_index(mean_diameter: Real, radial: Real) -> Floats:
    """Index of a coil: how tightly the wire is wound.

    Args:
        mean_diameter: D, m, above zero.
        radial: size of the wire across the coil, m, above zero; d where it is round. Both broadcast.

    Returns:
        C = D/d, dimensionless, of the broadcast shape.

    Raises:
        InputError: an argument is zero or below.

    Source:
        shigley eq. 10-1; en-13906-1 calls it w.
    """
    D, d = positive("wire or coil", mean_diameter, radial)
    return np.asarray(D / d)


def rate_of_section(shear_modulus: Real, torsion_constant: Real, mean_diameter: Real, active_coils: Real) -> Floats:
    """Rate of a cylindrical coil of any wire: a straight bar of length pi D n in torsion.

    Args:
        shear_modulus: G, Pa, above zero. Any shape; all arguments broadcast together.
        torsion_constant: J, m4, above zero, of the wire's section.
        mean_diameter: D, m, above zero.
        active_coils: n, above zero.

    Returns:
        Rate R = 4 G J/(pi D^3 n), N/m, of the broadcast shape; `rate` where the wire is round.

    Raises:
        InputError: an argument is zero or below.

    Source:
        wahl, deflection from torsion alone; curvature and direct shear left out, as in en-13906-1.
    """
    G, J, D, n = positive("wire, coil or turns", shear_modulus, torsion_constant, mean_diameter, active_coils)
    return np.asarray(4 * G * J / (np.pi * D**3 * n))


def active_coils_of_section(
    shear_modulus: Real, torsion_constant: Real, mean_diameter: Real, spring_rate: Real
) -> Floats:
    """Active coils of a cylindrical coil of any wire, from its measured rate.

    Args:
        shear_modulus: G, Pa, above zero.
        torsion_constant: J, m4, above zero, of the wire's section.
        mean_diameter: D, m, above zero.
        spring_rate: R, N/m, above zero.

    Returns:
        n, dimensionless, of the broadcast shape.

    Raises:
        InputError: an argument is zero or below.

    Source:
        wahl, deflection from torsion alone, solved for n.
    """
    return rate_of_section(shear_modulus, torsion_constant, mean_diameter, spring_rate)


# Round wire, direct shear included: some makers count their coils so


def rate_with_direct_shear(shear_modulus: Real, wire_diameter: Real, mean_diameter: Real, active_coils: Real) -> Floats:
    """Rate of a cylindrical coil of round wire, the wire's direct shear included.

    Args:
        shear_modulus: G, Pa, above zero. Any shape; all arguments broadcast together.
        wire_diameter: d, m, above zero.
        mean_diameter: D, m, above zero.
        active_coils: n, above zero.

    Returns:
        Rate, N/m: lower than `rate` by 1 + 1/(2 C^2), 0.5 % at C = 10 and 3 % at C = 4.

    Raises:
        InputError: an argument is zero or below.

    Source:
        shigley eq. 10-8.
    """
    shear = 1 + 1 / (2 * spring_index(mean_diameter, wire_diameter) ** 2)
    return np.asarray(rate(shear_modulus, wire_diameter, mean_diameter, active_coils) / shear)


def active_coils_with_direct_shear(
    shear_modulus: Real, wire_diameter: Real, mean_diameter: Real, spring_rate: Real
) -> Floats:
    """Active coils of a cylindrical coil of round wire from its rate, the wire's direct shear included.

    Args:
        shear_modulus: G, Pa, above zero.
        wire_diameter: d, m, above zero.
        mean_diameter: D, m, above zero.
        spring_rate: R, N/m, above zero.

    Returns:
        n, dimensionless, of the broadcast shape.

    Raises:
        InputError: an argument is zero or below.

    Source:
        shigley eq. 10-8, solved for the active coils.
    """
    return rate_with_direct_shear(shear_modulus, wire_diameter, mean_diameter, spring_rate)


# Room and mass


def least_coil_gaps(wire_diameter: Real, mean_diameter: Real, active_coils: Real) -> Floats:
    """Sum of the gaps that should be left between the coils of a cold-coiled spring in dynamic duty.

    Args:
        wire_diameter: d, m, above zero.
        mean_diameter: D, m, above zero.
        active_coils: n, above zero; all broadcast.

    Returns:
        1.5 n (0.0015 D^2/d + 0.1 d), m: the standard's own margin to bind; at rest two thirds of it will do.

    Raises:
        InputError: an argument is zero or below.

    Source:
        en-13906-1, sum of the least gaps S_a, from memory; its sheet agrees.
    """
    d, D, n = positive("wire, coil or turns", wire_diameter, mean_diameter, active_coils)
    return np.asarray(1.5 * n * (0.0015 * D**2 / d + 0.1 * d))


def wire_mass(area: Real, mean_diameter: Real, coils: Real, density: Real) -> Floats:
    """Mass of the wire in some coils, its slope left out: a hundredth or less.

    Args:
        area: A of the wire's section, m2, above zero.
        mean_diameter: D, m, above zero.
        coils: how many of them, above zero: the total for the spring, the active ones for what moves.
        density: rho, kg/m3, above zero.

    Returns:
        A pi D n rho, kg, of the broadcast shape.

    Raises:
        InputError: an argument is zero or below.

    Source:
        shigley sec. 10-8, weight of the active coils; for round wire pi^2 d^2 D n rho/4.
    """
    A, D, n, rho = positive("wire, coil, turns or density", area, mean_diameter, coils, density)
    return np.asarray(A * np.pi * D * n * rho)
