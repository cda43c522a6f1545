"""Surge: the frequencies at which the coils of a spring swing between its two ends, and the speeds that excite them.

Symbols: R rate, m mass of the active coils, f frequency, d, D, n, G as in coil.py, rho density. Both ends stand on
plates that do not move at the spring's own frequency (fixed-fixed), as in a valve gear. An order is a whole number of
swings in one turn of the cam, which turns at half the engine's speed.
"""

from __future__ import annotations

import numpy as np

from loadbench.arrays import Floats, Real

LEAST_RATIO = (15.0, 20.0)
"""Surge-rule: the first mode should be at least this many times the cam's own frequency; sources say 15 to 20."""

EN_CONSTANT = 3560.0
"""What EN 13906-1 prints for mm, MPa and kg/dm3; exactly 1e6/(2 pi sqrt(2000)) = 3558.81."""


def first_mode(rate: Real, moving_mass: Real) -> Floats:
    """First surge mode with both ends held.

    Args:
        rate: R, N/m.
        moving_mass: of the active coils, kg.

    Returns:
        Frequency, Hz, of the broadcast shape.

    Source:
        shigley eq. 10-25: f = sqrt(R/m)/2.
    """
    return np.asarray(0.5 * np.sqrt(np.asarray(rate) / moving_mass))


def first_mode_free_end(rate: Real, moving_mass: Real) -> Floats:
    """First surge mode with one end held and the other free.

    Args:
        rate: R, N/m.
        moving_mass: of the active coils, kg.

    Returns:
        Frequency, Hz, of the broadcast shape: half of that with both ends held.

    Source:
        shigley eq. 10-26: f = sqrt(R/m)/4.
    """
    return np.asarray(first_mode(rate, moving_mass) / 2)


def first_mode_of_wire(
    wire_diameter: Real, mean_diameter: Real, active_coils: Real, shear_modulus: Real, density: Real
) -> Floats:
    """First surge mode of a cylinder of round wire, both ends held, from its geometry alone.

    Args:
        wire_diameter: d, m.
        mean_diameter: D, m.
        active_coils: n.
        shear_modulus: G, Pa.
        density: rho, kg/m3.

    Returns:
        Frequency, Hz, of the broadcast shape.

    Source:
        shigley eq. 10-25 with the rate and the mass put in: f = d/(2 pi D^2 n) sqrt(G/(2 rho)).
    """
    speed = np.sqrt(np.asarray(shear_modulus) / (2 * np.asarray(density)))
    return np.asarray(wire_diameter * speed / (2 * np.pi * np.asarray(mean_diameter) ** 2 * active_coils))


def first_mode_en(
    wire_diameter: Real, mean_diameter: Real, active_coils: Real, shear_modulus: Real, density: Real
) -> Floats:
    """The same with the rounded constant of the standard.

    Args:
        wire_diameter: d, m.
        mean_diameter: D, m.
        active_coils: n.
        shear_modulus: G, Pa.
        density: rho, kg/m3.

    Returns:
        Frequency, Hz, of the broadcast shape.

    Source:
        en-13906-1: f = 3560 d/(n D^2) sqrt(G/rho), mm, MPa and kg/dm3.
    """
    d, D = np.asarray(wire_diameter) * 1e3, np.asarray(mean_diameter) * 1e3
    speed = np.sqrt(np.asarray(shear_modulus) / 1e6 / (np.asarray(density) / 1e3))
    return np.asarray(EN_CONSTANT * d / (active_coils * D**2) * speed)


def modes(first: Real, count: int) -> Floats:
    """The modes of a spring that is alike along its wire.

    Args:
        first: first mode, Hz, shape (...).
        count: how many.

    Returns:
        Frequencies, Hz, shape (..., count): whole multiples of the first.

    Source:
        wahl, surging of springs: a fixed-fixed coil swings like a string.
    """
    return np.asarray(np.asarray(first)[..., None] * np.arange(1, count + 1))


def mode_shape(along: Real, number: Real) -> Floats:
    """How the coils move in one mode of a spring that is alike along its wire.

    Args:
        along: place along the wire, 0 at the seat to 1 at the retainer.
        number: of the mode, from 1.

    Returns:
        Axial displacement over the greatest, -1 to 1, of the broadcast shape.

    Source:
        wahl, surging of springs: sin(k pi x).
    """
    return np.asarray(np.sin(np.pi * np.asarray(number) * along))


def mode_with_coils_landed(first: Real, active_coils: Real, free_coils: Real) -> Floats:
    """First mode of a cylinder some of whose coils have landed at an end.

    Args:
        first: first mode with all its active coils free, Hz.
        active_coils: n.
        free_coils: how many of them are still free, above zero.

    Returns:
        Frequency, Hz, of the broadcast shape.

    Source:
        own derivation: rate goes with 1/n, mass with n, so f = first x n/free.
    """
    return np.asarray(np.asarray(first) * active_coils / free_coils)


# Against the engine


def order_frequency(order: Real, engine_speed: Real) -> Floats:
    """Frequency of an order of the cam.

    Args:
        order: swings in one turn of the cam.
        engine_speed: of the crank, rad/s.

    Returns:
        Frequency, Hz, of the broadcast shape.

    Source:
        own derivation: the cam turns at half the crank's speed.
    """
    return np.asarray(np.asarray(order) * np.asarray(engine_speed) / (4 * np.pi))


def critical_speed(frequency: Real, order: Real) -> Floats:
    """Engine speed at which an order of the cam meets a mode.

    Args:
        frequency: of the mode, Hz.
        order: of the cam, above zero.

    Returns:
        Engine speed, rad/s, of the broadcast shape.

    Source:
        own derivation: order_frequency(), solved for the speed.
    """
    return np.asarray(4 * np.pi * np.asarray(frequency) / order)


def critical_speeds(frequencies: Floats, orders: Floats, slow: float, fast: float) -> Floats:
    """The critical speeds in the working range.

    Args:
        frequencies: of the modes, Hz, shape (modes,).
        orders: of the cam, shape (orders,).
        slow: least engine speed, rad/s.
        fast: greatest engine speed, rad/s.

    Returns:
        Engine speeds, rad/s, shape (modes, orders); NaN outside the range, whose ends belong to it.

    Source:
        own derivation: critical_speed().
    """
    speeds = critical_speed(np.asarray(frequencies)[:, None], np.asarray(orders))
    return np.where((speeds >= slow) & (speeds <= fast), speeds, np.nan)


def surge_ratio(first: Real, engine_speed: Real) -> Floats:
    """First mode over the cam's own frequency: what the rule of 15 to 20 looks at.

    Args:
        first: first mode, Hz.
        engine_speed: rad/s, above zero.

    Returns:
        Ratio, of the broadcast shape: the order that meets the first mode at that speed.

    Source:
        surge-rule.
    """
    return np.asarray(np.asarray(first) / order_frequency(1.0, engine_speed))


def highest_forcing_frequency(first: Real, ratio: Real = LEAST_RATIO[1]) -> Floats:
    """Fastest cam that the rule lets a spring follow.

    Args:
        first: first mode, Hz.
        ratio: what the first mode must be at least, times the cam's frequency.

    Returns:
        Turns of the cam a second, Hz, of the broadcast shape.

    Source:
        shigley sec. 10-8, surge-rule.
    """
    return np.asarray(np.asarray(first) / ratio)
