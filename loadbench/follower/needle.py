"""Needles of a roller's axle: ratings, life and static safety of one row of rollers without a cage.

Symbols: Z number, Dwe diameter and Lwe length of the needles, Dpw pitch diameter, gamma = Dwe/Dpw, P equivalent load,
p = 10/3. ISO 281 and ISO 76 speak in mm and N; here everything is SI.
"""

from __future__ import annotations

import math

import numpy as np

from loadbench.arrays import Floats, Real
from loadbench.errors import InputError, Place
from loadbench.spring.sizes import not_negative, positive

P_ROLLER = 10 / 3
"""Exponent of life for rollers. Source: iso-281."""

GAMMAS = np.array([*np.arange(1, 11) / 100, *np.arange(12, 31, 2) / 100])
FC = np.array(
    [52.1, 60.8, 66.5, 70.7, 74.1, 76.9, 79.2, 81.2, 82.8, 84.2, 86.4, 87.7, 88.5, 88.8, 88.7, 88.2, 87.5, 86.4, 85.2,
     83.8]
)  # fmt: skip
"""Factor fc of radial roller bearings. Source: iso-281, table of fc (memory, and read in a public source file)."""

BM_DRAWN, BM_MACHINED = 1.0, 1.1
"""Rating factor for drawn cups and for machined rings. Source: iso-281, Table 6 (memory)."""

MM = 1e-3


def load_factor(gamma: Real) -> Floats:
    """The factor fc by straight interpolation between the table's rows.

    Args:
        gamma: Dwe/Dpw.

    Returns:
        fc, of its shape; NaN outside 0.01 to 0.30, where the table ends.

    Source:
        iso-281.
    """
    g = np.asarray(gamma, dtype=np.float64)
    return np.asarray(np.interp(g, GAMMAS, FC, left=np.nan, right=np.nan))


def load_factor_formula(gamma: Real) -> Floats:
    """The factor fc in closed form: within 0.1 % of the table.

    Args:
        gamma: Dwe/Dpw.

    Returns:
        fc.

    Source:
        iso-281 (form of Lundberg and Palmgren, memory; constant fitted to the table: own derivation).
    """
    g = np.asarray(gamma, dtype=np.float64)
    ratio = (1.04 * ((1 - g) / (1 + g)) ** (143 / 108)) ** 4.5
    return np.asarray(172.53 * g ** (2 / 9) * (1 - g) ** (29 / 27) / (1 + g) ** 0.25 * (1 + ratio) ** (-2 / 9))


def most_needles(diameter: float, pitch_diameter: float) -> int:
    """How many needles stand around an axle without a cage.

    Args:
        diameter: Dwe, m.
        pitch_diameter: Dpw, m.

    Returns:
        The whole number that fits.

    Raises:
        InputError: a size at zero or below, or a needle as large as the ring it stands in.

    Source:
        own derivation: neighbours touch where sin(pi/Z) = Dwe/Dpw.
    """
    positive("a diameter of needles", diameter, pitch_diameter)
    if diameter >= pitch_diameter:
        place = Place(field="diameter")
        raise InputError("needles as large as the circle they stand on", expected="smaller needles", place=place)
    return int(np.floor(np.pi / np.arcsin(diameter / pitch_diameter) * (1 + 1e-9)))


def checked_count(count: float, diameter: float, pitch_diameter: float) -> int:
    """A number of needles that fits.

    Args:
        count: Z.
        diameter: Dwe, m.
        pitch_diameter: Dpw, m.

    Returns:
        Z.

    Raises:
        InputError: more needles than fit around the axle, or no whole number of them.

    Source:
        own derivation.
    """
    most = most_needles(diameter, pitch_diameter)
    if not math.isfinite(count) or count != int(count) or count < 1:
        raise InputError(f"{count:g} needles", expected="a whole number", place=Place(field="count"))
    if count > most:
        what = f"{int(count)} needles do not fit round the axle"
        raise InputError(what, expected=f"at most {most} of this size", place=Place(field="count"))
    return int(count)


def dynamic_rating(count: Real, diameter: Real, length: Real, pitch_diameter: Real, bm: float = BM_DRAWN) -> Floats:
    """Basic dynamic rating of one row of needles.

    Args:
        count: Z.
        diameter: Dwe, m.
        length: Lwe, effective, m.
        pitch_diameter: Dpw, m.
        bm: rating factor.

    Returns:
        Cr, N, of the broadcast shape; NaN where gamma is outside the table.

    Raises:
        InputError: a size at zero or below.

    Source:
        iso-281: bm fc (Lwe)^(7/9) Z^(3/4) Dwe^(29/27), in mm.
    """
    Z, D, L, Dp = positive("a number or size of needles", count, diameter, length, pitch_diameter)
    return np.asarray(bm * load_factor(D / Dp) * (L / MM) ** (7 / 9) * Z**0.75 * (D / MM) ** (29 / 27))


def static_rating(count: Real, diameter: Real, length: Real, pitch_diameter: Real) -> Floats:
    """Basic static rating of one row of needles: 4000 MPa at the most loaded one.

    Args:
        count: Z.
        diameter: Dwe, m.
        length: Lwe, m.
        pitch_diameter: Dpw, m.

    Returns:
        C0r, N, of the broadcast shape.

    Raises:
        InputError: a size at zero or below.

    Source:
        iso-76: 44 (1 - gamma) Z Lwe Dwe, in mm.
    """
    Z, D, L, Dp = positive("a number or size of needles", count, diameter, length, pitch_diameter)
    return np.asarray(44 * (1 - D / Dp) * Z * (L / MM) * (D / MM))


def greatest_needle_load(load: Real, count: Real) -> Floats:
    """Load of the needle that carries most, half the ring loaded and no play.

    Args:
        load: radial, N.
        count: Z.

    Returns:
        N.

    Source:
        bearing-catalogue: 4.08 F/Z.
    """
    return np.asarray(4.08 * np.asarray(load) / np.asarray(count))


def equivalent_load(loads: Floats, speeds: Floats, shares: Floats, exponent: float = P_ROLLER) -> Floats:
    """The steady load that wears as a duty of several does.

    Args:
        loads: N, along the last axis.
        speeds: of turning at each load, any unit, likewise.
        shares: of time at each, likewise.
        exponent: p.

    Returns:
        P, N, of the shape without its last axis.

    Raises:
        InputError: a load, speed or share below zero, or no turning at all.

    Source:
        iso-281 practice: (sum P^p n q / sum n q)^(1/p).
    """
    P, n, q = not_negative("a load, speed or share of a duty", loads, speeds, shares)
    turns = n * q
    whole = np.sum(np.broadcast_to(turns, np.broadcast_shapes(turns.shape, P.shape)), axis=-1)
    if np.any(whole <= 0):
        raise InputError("a duty in which nothing turns", expected="a speed and a share above zero")
    return np.asarray((np.sum(P**exponent * turns, axis=-1) / whole) ** (1 / exponent))


def rating_life(rating: Real, load: Real, exponent: float = P_ROLLER) -> Floats:
    """Turns that nine of ten such bearings reach.

    Args:
        rating: C, N.
        load: P, N, zero or above.
        exponent: p.

    Returns:
        L10, turns; infinite without load.

    Raises:
        InputError: a rating at zero or below, a load below zero.

    Source:
        iso-281: (C/P)^p million.
    """
    (C,) = positive("a rating", rating)
    (P,) = not_negative("a load", load)
    with np.errstate(divide="ignore", over="ignore"):
        return np.asarray(1e6 * (C / P) ** exponent)


def life_seconds(turns: Real, speed: Real) -> Floats:
    """Turns as time.

    Args:
        turns: L10.
        speed: mean speed of turning, rad/s, above zero.

    Returns:
        s, of the broadcast shape.

    Raises:
        InputError: a speed at zero or below.

    Source:
        own derivation: turns over turns a second.
    """
    (n,) = positive("a speed of turning", speed)
    return np.asarray(np.asarray(turns) * 2 * np.pi / n)


def rating_needed(load: Real, turns: Real, exponent: float = P_ROLLER) -> Floats:
    """Rating that reaches a life under a load.

    Args:
        load: P, N.
        turns: wanted.
        exponent: p.

    Returns:
        C, N.

    Source:
        iso-281, solved for C.
    """
    return np.asarray(np.asarray(load) * (np.asarray(turns) / 1e6) ** (1 / exponent))


def static_safety(rating: Real, load: Real) -> Floats:
    """How often the greatest load goes into the static rating.

    Args:
        rating: C0, N.
        load: greatest, N, zero or above.

    Returns:
        S0, of the broadcast shape; infinite without load.

    Source:
        iso-76: C0/P0.
    """
    (P,) = not_negative("a load", load)
    with np.errstate(divide="ignore"):
        return np.asarray(np.asarray(rating, dtype=np.float64) / P)
