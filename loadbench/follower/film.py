"""The oil film between lobe and follower: elastohydrodynamic, along a line or over an ellipse.

Symbols: u mean speed of the two surfaces through the contact, m/s; eta viscosity at the inlet, Pa s; E' = 2 E*; R the
combined radius; xi pressure coefficient of viscosity; U = eta u/(E' R), G = xi E', W load parameter.
"""

from __future__ import annotations

from enum import StrEnum

import numpy as np

from loadbench.arrays import Floats, Real
from loadbench.errors import InputError
from loadbench.spring.sizes import not_negative, positive

Law = tuple[float, float, float, float]


def _line(
    law: Law, speed: Real, viscosity: Real, radius: Real, length: Real, load: Real, oil_and_steel: tuple[float, float]
) -> Floats:
    factor, *powers = law
    modulus, coefficient = oil_and_steel
    (u,) = not_negative("a speed through the contact", speed)
    F, eta, R, L = positive("a load, viscosity, radius or length of a film", load, viscosity, radius, length)
    effective = 2 * modulus
    U, G, W = eta * u / (effective * R), coefficient * effective, F / (effective * R * L)
    return np.asarray(factor * U ** powers[0] * G ** powers[1] * W ** -powers[2] * R)


def film_line(
    speed: Real, viscosity: Real, radius: Real, length: Real, load: Real, modulus: float, coefficient: float
) -> Floats:
    """Least film of a line contact by Dowson and Higginson.

    Args:
        speed: u, m/s, zero or above.
        viscosity: eta, Pa s.
        radius: R, m.
        length: of the line, m.
        load: N, above zero.
        modulus: E*, Pa.
        coefficient: xi, 1/Pa.

    Returns:
        m, of the broadcast shape; zero where nothing moves.

    Raises:
        InputError: a load or size at zero or below, a speed below zero.

    Source:
        dowson-higginson: 2.65 U^0.70 G^0.54 W^-0.13 R.
    """
    return _line((2.65, 0.70, 0.54, 0.13), speed, viscosity, radius, length, load, (modulus, coefficient))


def film_line_hamrock(
    speed: Real, viscosity: Real, radius: Real, length: Real, load: Real, modulus: float, coefficient: float
) -> Floats:
    """Least film of a line contact by Hamrock: 7 % under Dowson and Higginson. Arguments as `film_line`.

    Source:
        hamrock-film: 1.714 U^0.694 G^0.568 W^-0.128 R.
    """
    return _line((1.714, 0.694, 0.568, 0.128), speed, viscosity, radius, length, load, (modulus, coefficient))


def film_ellipse(
    speed: Real, viscosity: Real, radius: Real, ratio: Real, load: Real, modulus: float, coefficient: float
) -> tuple[Floats, Floats]:
    """Least and central film over an ellipse by Hamrock and Dowson.

    Args:
        speed: u along the short axis, m/s, zero or above.
        viscosity: eta, Pa s.
        radius: Rx, along the motion, m.
        ratio: k, ellipticity, 1 or above; infinite for a line of Rx' = Rx.
        load: N, above zero.
        modulus: E*, Pa.
        coefficient: xi, 1/Pa.

    Returns:
        Least and central film, m, of the broadcast shape.

    Raises:
        InputError: a load or size at zero or below, a speed below zero.

    Source:
        hamrock-film: 3.63 U^0.68 G^0.49 W^-0.073 (1 - exp(-0.68 k)) R, and 2.69 U^0.67 G^0.53 W^-0.067
        (1 - 0.61 exp(-0.73 k)) R.
    """
    (u,) = not_negative("a speed through the contact", speed)
    F, eta, R, k = positive("a load, viscosity, radius or ellipticity of a film", load, viscosity, radius, ratio)
    effective = 2 * modulus
    U, G, W = eta * u / (effective * R), coefficient * effective, F / (effective * R**2)
    least = 3.63 * U**0.68 * G**0.49 * W**-0.073 * (1 - np.exp(-0.68 * k)) * R
    central = 2.69 * U**0.67 * G**0.53 * W**-0.067 * (1 - 0.61 * np.exp(-0.73 * k)) * R
    return np.asarray(least), np.asarray(central)


def film_ratio(film: Real, first: Real, second: Real) -> Floats:
    """Film over the roughness of both surfaces.

    Args:
        film: least film, m.
        first: roughness Rq of one surface, m.
        second: of the other, m.

    Returns:
        Lambda, of the broadcast shape.

    Raises:
        InputError: roughness below zero, or none at all on both.

    Source:
        hamrock-machine.
    """
    one, other = not_negative("a roughness", first, second)
    both = np.hypot(one, other)
    if np.any(both == 0):
        raise InputError("two surfaces without any roughness", expected="a roughness above zero on one of them")
    return np.asarray(np.asarray(film) / both)


class Regime(StrEnum):
    """How two surfaces are kept apart."""

    BOUNDARY = "boundary"
    MIXED = "mixed"
    FULL = "full film"


MIXED_FROM, FULL_FROM = 1.0, 3.0
"""Film ratios at which the regimes change. Source: hamrock-machine, common simple form (memory)."""


HAMROCK_RANGES = (
    ("boundary", 0.0, 1.0), ("partial", 1.0, 5.0), ("elastohydrodynamic", 3.0, 10.0), ("hydrodynamic", 5.0, 100.0),
)  # fmt: skip
"""Regimes by film ratio as Hamrock has them; they overlap. Source: hamrock-machine (memory)."""


def hamrock_regimes(ratio: float) -> tuple[str, ...]:
    """The regimes that a film ratio may belong to by Hamrock's overlapping ranges.

    Args:
        ratio: Lambda.

    Returns:
        Their names, one or two; none above 100.

    Source:
        hamrock-machine.
    """
    return tuple(name for name, least, most in HAMROCK_RANGES if least <= ratio < most)


def regime(ratio: float) -> Regime:
    """The regime of a film ratio.

    Args:
        ratio: Lambda.

    Returns:
        Boundary below 1, mixed to 3, full film above.

    Source:
        hamrock-machine, common simple form.
    """
    if ratio < MIXED_FROM:
        return Regime.BOUNDARY
    return Regime.MIXED if ratio < FULL_FROM else Regime.FULL
