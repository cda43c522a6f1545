"""Hertz contact over an ellipse: a crowned roller or tappet on a lobe, and general curved bodies.

Symbols: Rx, Ry combined radii of curvature, Ry the larger; k = by/bx ellipticity, bx the smaller half axis;
m = 1 - 1/k^2 the parameter of the complete elliptic integrals K and E.
"""

from __future__ import annotations

from typing import NamedTuple

import numpy as np

from loadbench.arrays import Floats, Real
from loadbench.errors import InputError
from loadbench.spring.sizes import not_negative, positive

STEPS = 3
"""Newton steps for ln k: the curvature ratio goes nearly with a power of k, so that few are enough."""

NEAR_CIRCLE = 1e-4
"""Of k over 1: nearer, K - E and k^2 E - K are lost in rounding, and k^(3/2) is the ratio of radii to 1e-11."""

MEAN_STEPS = 6
"""Steps of the arithmetic-geometric mean, which doubles its digits at each: more than floats hold up to k = 1e6."""


def complete_integrals(ratio: Real) -> tuple[Floats, Floats]:
    """Complete elliptic integrals K and E for an ellipticity.

    Args:
        ratio: k, 1 or above.

    Returns:
        K(m) and E(m) with m = 1 - 1/k^2.

    Source:
        abramowitz-stegun, 17.6: arithmetic-geometric mean.
    """
    k = np.asarray(ratio, dtype=np.float64)
    a, b = np.ones_like(k), 1 / k
    c2 = 1 - b**2  # the parameter m
    total, power = c2 / 2, 0.5
    for _ in range(MEAN_STEPS + 2):
        c = (a - b) / 2
        a, b = (a + b) / 2, np.sqrt(a * b)
        power *= 2
        total = total + power * c**2
    K = np.pi / (2 * a)
    return np.asarray(K), np.asarray(K * (1 - total))


def radius_ratio(ratio: Real) -> Floats:
    """Ry/Rx at which the contact has an ellipticity.

    Args:
        ratio: k, 1 or above.

    Returns:
        Ry/Rx, of its shape; 1 for a circle.

    Raises:
        InputError: k below 1.

    Source:
        johnson-contact, sec. 4.1: (k^2 E - K)/(K - E).
    """
    k = np.asarray(ratio, dtype=np.float64)
    if not np.all(k >= 1):
        raise InputError("an ellipticity below 1", expected="1 or above: the longer half axis over the shorter")
    return _ratio_and_slope(k)[0]


def _ratio_and_slope(k: Floats) -> tuple[Floats, Floats]:
    """Ry/Rx and how its logarithm goes with that of k."""
    near = k - 1 < NEAR_CIRCLE
    safe = np.where(near, 2.0, k)
    K, E = complete_integrals(safe)
    square, m = safe**2, 1 - 1 / safe**2
    of_k, of_e = (E - K / square) / m, (E - K) / (square * m)  # derivatives of K and E to ln k
    upper, lower = square * E - K, K - E
    slope = (2 * square * E + square * of_e - of_k) / upper - (of_k - of_e) / lower
    # Near the circle Ry/Rx = k^(3/2), but for terms of third order.
    return np.where(near, k**1.5, upper / lower), np.where(near, 1.5, slope)


def ellipticity(radii: Real) -> Floats:
    """Ellipticity k of a contact, exactly.

    Args:
        radii: Ry/Rx, 1 or above.

    Returns:
        k, of its shape.

    Raises:
        InputError: a ratio below 1 or infinite, which is a line.

    Source:
        johnson-contact, sec. 4.1, solved by Newton's method for ln k.
    """
    wanted = np.asarray(radii, dtype=np.float64)
    if not np.all((wanted >= 1) & np.isfinite(wanted)):
        raise InputError(
            "a ratio of radii below 1 or without end", expected="the larger radius over the smaller, both finite"
        )
    log_k = np.log(approximate_ellipticity(wanted))
    for _ in range(STEPS):
        found, slope = _ratio_and_slope(np.exp(log_k))
        log_k = np.maximum(log_k - np.log(found / wanted) / slope, 0.0)
    return np.asarray(np.exp(log_k))


def approximate_ellipticity(radii: Real) -> Floats:
    """Ellipticity k by the usual short form: 4 % low at moderate ratios, 3 % high at 100 and more beyond.

    Args:
        radii: Ry/Rx, 1 or above.

    Returns:
        k.

    Source:
        hamrock-film: (Ry/Rx)^(2/pi).
    """
    return np.asarray(np.asarray(radii, dtype=np.float64) ** (2 / np.pi))


class EllipticContact(NamedTuple):
    """Ellipticity, half axes across (along Rx) and along, m, greatest pressure, Pa, and approach of the bodies, m."""

    ratio: Floats
    across: Floats
    along: Floats
    pressure: Floats
    approach: Floats


def elliptic_contact(force: Real, small_radius: Real, large_radius: Real, modulus: Real) -> EllipticContact:
    """Contact over an ellipse, exactly.

    Args:
        force: F, N, zero or above.
        small_radius: Rx, m.
        large_radius: Ry, m, not below Rx.
        modulus: E*, Pa.

    Returns:
        Sizes and pressure, of the broadcast shape.

    Raises:
        InputError: a load below zero, a size at zero or below, Ry below Rx.

    Source:
        johnson-contact, sec. 4.1; hamrock-machine, chapter on Hertzian contact.
    """
    (F,) = not_negative("a contact load", force)
    Rx, Ry, E = positive("a radius or modulus of a contact", small_radius, large_radius, modulus)
    k = ellipticity(Ry / Rx)
    first, second = complete_integrals(k)
    return _sizes(F, Rx, Ry, E, k, second, first)


def approximate_contact(force: Real, small_radius: Real, large_radius: Real, modulus: Real) -> EllipticContact:
    """Contact over an ellipse by the usual short forms: to Ry/Rx = 100 within 1.7 % in pressure, 4.2 % in approach.

    Args:
        force: F, N.
        small_radius: Rx, m.
        large_radius: Ry, m, not below Rx.
        modulus: E*, Pa.

    Returns:
        Sizes and pressure.

    Raises:
        InputError: a load below zero, a size at zero or below.

    Source:
        hamrock-machine, chapter on Hertzian contact (Hamrock and Brewe).
    """
    (F,) = not_negative("a contact load", force)
    Rx, Ry, E = positive("a radius or modulus of a contact", small_radius, large_radius, modulus)
    second = 1 + (np.pi / 2 - 1) * Rx / Ry
    first = np.pi / 2 + (np.pi / 2 - 1) * np.log(Ry / Rx)
    return _sizes(F, Rx, Ry, E, approximate_ellipticity(Ry / Rx), second, first)


def _sizes(F: Floats, Rx: Floats, Ry: Floats, E: Floats, k: Floats, second: Floats, first: Floats) -> EllipticContact:
    """From ellipticity and the two integrals: by = (6 k^2 E F R/(pi E'))^(1/3) with E' = 2 E*, R = Rx Ry/(Rx + Ry)."""
    R = Rx * Ry / (Rx + Ry)
    along = np.cbrt(3 * k**2 * second * F * R / (np.pi * E))
    across = along / k
    area = np.pi * along * across
    pressure = np.divide(1.5 * F, area, out=np.zeros(np.broadcast_shapes(F.shape, area.shape)), where=area > 0)
    approach = first * np.cbrt(4.5 / (second * R) * (F / (np.pi * k * 2 * E)) ** 2)
    return EllipticContact(k, np.asarray(across), np.asarray(along), np.asarray(pressure), np.asarray(approach))


def principal_curvatures(first: tuple[Real, Real], second: tuple[Real, Real], angle: Real) -> tuple[Floats, Floats]:
    """Combined curvatures A and B of two bodies whose planes of curvature stand askew.

    Args:
        first: the two radii of one body, m.
        second: those of the other.
        angle: between their planes of first radius, rad.

    Returns:
        A and B, 1/m, A the smaller: the gap is A x^2 + B y^2, so that Ry = 1/(2A) and Rx = 1/(2B).

    Raises:
        InputError: a radius of nothing.

    Source:
        boresi, ch. 17.
    """
    radii = [np.asarray(each, dtype=np.float64) for each in (*first, *second)]
    if any(np.any(each == 0) for each in radii):
        raise InputError("a radius of nothing", expected="a radius other than zero, infinite where it is flat")
    turns = 1 / radii[0] - 1 / radii[1], 1 / radii[2] - 1 / radii[3]
    total = sum(1 / each for each in radii)
    root = np.sqrt((turns[0] + turns[1]) ** 2 - 4 * turns[0] * turns[1] * np.sin(angle) ** 2)
    return np.asarray((total - root) / 4), np.asarray((total + root) / 4)


def skewed_contact(
    force: Real, first: tuple[Real, Real], second: tuple[Real, Real], angle: Real, modulus: Real
) -> EllipticContact:
    """Contact of two bodies whose planes of curvature stand askew.

    Args:
        force: F, N, zero or above.
        first: the two radii of one body, m, negative where it is hollow, infinite where it is straight.
        second: those of the other.
        angle: between their planes of first radius, rad.
        modulus: E*, Pa.

    Returns:
        Sizes and pressure, of the broadcast shape.

    Raises:
        InputError: a load below zero, a radius of nothing, or bodies that do not touch at one place only.

    Source:
        boresi, ch. 17; johnson-contact, sec. 4.1.
    """
    A, B = principal_curvatures(first, second, angle)
    if not np.all(A > 0):
        raise InputError(
            "two bodies that touch along a line or at their rims", expected="bodies that part in every direction"
        )
    return elliptic_contact(force, 1 / (2 * B), 1 / (2 * A), modulus)


CIRCLE_SHEAR_SHARE, CIRCLE_SHEAR_DEPTH = 0.31002, 0.48086
"""Greatest shear over p0 and its depth over the radius under a circle, Poisson 0.30. Source: johnson-contact."""
