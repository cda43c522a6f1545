"""The plunger of a hydraulic follower: its oil as a spring, how fast it leaks down, how far it pumps up, its recovery.

Symbols: d plunger diameter, A its area, c radial clearance, L length of the gap, F load on it, eta viscosity; the
depth is how far the plunger stands below its stop, so that the oil beneath is dead height + travel - depth tall.
"""

from __future__ import annotations

from typing import NamedTuple

import numpy as np

from loadbench.arrays import Floats, Real
from loadbench.errors import InputError, Place
from loadbench.follower.bulk import ADIABATIC, AIR, OIL, bulk_modulus
from loadbench.spring.sizes import not_negative, positive

DEAD_HEIGHT = 1.5e-3
"""Oil left under a plunger on its bottom (check valve and cage), m. Source: common practice, from memory."""

AIR_SHARE = 0.02
"""Air in engine oil, of its volume, away from the sump's foam. Source: common practice, from memory."""

TURBULENT = 2000.0
"""Reynolds number up to which flow through a gap is laminar. Source: merritt."""


def plunger_area(diameter: Real) -> Floats:
    """Area that the oil pushes on.

    Args:
        diameter: d, m, above zero.

    Returns:
        A, m2.

    Raises:
        InputError: a diameter at zero or below.

    Source:
        own derivation: area of a circle.
    """
    (d,) = positive("a plunger diameter", diameter)
    return np.asarray(np.pi / 4 * d**2)


def chamber_height(travel: Real, depth: Real, dead_height: Real = DEAD_HEIGHT) -> Floats:
    """Height of the oil under the plunger.

    Args:
        travel: from stop to bottom, m, above zero.
        depth: of the plunger below its stop, m, 0 to the travel.
        dead_height: left at the bottom, m.

    Returns:
        m, of the broadcast shape.

    Raises:
        InputError: a depth outside the travel.

    Source:
        own derivation: the deeper it is set, the less oil is under it.
    """
    (T,) = positive("a plunger travel", travel)
    x = np.asarray(depth, dtype=np.float64)
    if np.any(x < 0) or np.any(x > T * (1 + 1e-9)):
        what = "a plunger depth outside its travel"
        raise InputError(what, expected="0 up to the travel", place=Place(field="depth"))
    return np.asarray(np.asarray(dead_height) + T - x)


def oil_stiffness(bulk: Real, diameter: Real, height: Real) -> Floats:
    """Stiffness of the oil under the plunger.

    Args:
        bulk: effective bulk modulus, Pa.
        diameter: d, m.
        height: of the oil, m.

    Returns:
        N/m, of the broadcast shape.

    Raises:
        InputError: a size at zero or below.

    Source:
        own derivation: B A^2/V of a straight chamber, B A/h.
    """
    B, h = positive("a bulk modulus or oil height", bulk, height)
    return np.asarray(B * plunger_area(diameter) / h)


def squeeze(load: Real, diameter: Real, height: Real, air_share: Real) -> Floats:
    """How far the oil gives under a load, its air shrinking as it goes.

    Args:
        load: F, N, zero or above.
        diameter: d, m.
        height: of the oil without load, m.
        air_share: of the volume at the pressure of the air.

    Returns:
        m, of the broadcast shape.

    Raises:
        InputError: a load below zero, a size at zero or below.

    Source:
        own derivation: volume of oil and of gas (adiabatic) at both pressures, as in merritt's model.
    """
    (F,) = not_negative("a load on a plunger", load)
    (h,) = positive("an oil height", height)
    x = np.asarray(air_share, dtype=np.float64)
    p = AIR + F / plunger_area(diameter)
    liquid = (1 - x) * (p - AIR) / OIL
    gas = x * (1 - (AIR / p) ** (1 / ADIABATIC))
    return np.asarray(h * (liquid + gas))


def leak_flow(
    diameter: Real, clearance: Real, length: Real, pressure: Real, viscosity: Real, eccentric: Real = 0.0
) -> Floats:
    """Flow through the gap between plunger and body.

    Args:
        diameter: d, m.
        clearance: c, radial, m.
        length: L, m.
        pressure: over the gap, Pa.
        viscosity: Pa s, at the oil's temperature.
        eccentric: how far off the middle the plunger stands, 0 to 1 of c.

    Returns:
        m3/s, of the broadcast shape.

    Raises:
        InputError: a size or viscosity at zero or below, an eccentricity outside 0 to 1.

    Source:
        rabie, eq. 2.19; merritt for the eccentric gap: pi d c^3 dp/(12 eta L) (1 + 1.5 e^2).
    """
    d, L, eta = positive("a size or viscosity of a gap", diameter, length, viscosity)
    (c,) = not_negative("a clearance", clearance)
    e = np.asarray(eccentric, dtype=np.float64)
    if np.any((e < 0) | (e > 1)):
        raise InputError("an eccentricity outside 0 to 1", expected="0 to 1")
    return np.asarray(np.pi * d * c**3 * np.asarray(pressure) / (12 * eta * L) * (1 + 1.5 * e**2))


def gap_reynolds(flow: Real, diameter: Real, clearance: Real, viscosity: Real, density: Real) -> Floats:
    """Reynolds number of the flow through the gap: far below 2000 the formula of the leak holds.

    Args:
        flow: m3/s.
        diameter: d, m.
        clearance: c, radial, m.
        viscosity: Pa s.
        density: kg/m3.

    Returns:
        Re.

    Source:
        merritt: rho v 2c/eta with v the mean speed.
    """
    d, c, eta = positive("a size or viscosity of a gap", diameter, clearance, viscosity)
    speed = np.asarray(flow) / (np.pi * d * c)
    return np.asarray(np.asarray(density) * speed * 2 * c / eta)


def sink_speed(
    load: Real, diameter: Real, clearance: Real, length: Real, viscosity: Real, eccentric: Real = 0.0
) -> Floats:
    """How fast the plunger sinks under a steady load.

    Args:
        load: F, N.
        diameter: d, m.
        clearance: c, radial, m.
        length: L, m.
        viscosity: Pa s.
        eccentric: 0 to 1.

    Returns:
        m/s, of the broadcast shape.

    Raises:
        InputError: as `leak_flow`.

    Source:
        rabie, eq. 2.19: Q/A with dp = F/A.
    """
    area = plunger_area(diameter)
    return np.asarray(leak_flow(diameter, clearance, length, np.asarray(load) / area, viscosity, eccentric) / area)


def leak_down_time(
    sink: Real, load: Real, diameter: Real, clearance: Real, length: Real, viscosity: Real, eccentric: Real = 0.0
) -> Floats:
    """Time in which the plunger sinks so far under a steady load.

    Args:
        sink: m.
        load: F, N.
        diameter: d, m.
        clearance: c, radial, m.
        length: L, m.
        viscosity: Pa s.
        eccentric: 0 to 1.

    Returns:
        s, of the broadcast shape; infinite without load or clearance.

    Raises:
        InputError: as `leak_flow`.

    Source:
        rabie, eq. 2.19.
    """
    speed = sink_speed(load, diameter, clearance, length, viscosity, eccentric)
    with np.errstate(divide="ignore"):
        return np.asarray(np.asarray(sink) / speed)


class Sizes(NamedTuple):
    """A plunger: diameter, travel, radial clearance, length of the gap, dead height, m; share of air in its oil."""

    diameter: float
    travel: float
    clearance: float
    length: float
    dead_height: float = DEAD_HEIGHT
    air_share: float = AIR_SHARE


class Behaviour(NamedTuple):
    """How a plunger behaves at a depth: N/m, m, s, m, m, s. `recovery_time` is for all of its pump-up."""

    stiffness: float
    squeeze: float
    leak_down_time: float
    lift_loss: float
    pump_up: float
    recovery_time: float


def behaviour(
    sizes: Sizes,
    depth: float,
    seat: float,
    full: float,
    event: tuple[Floats, Floats],
    oil: float,
    eccentric: float = 0.0,
) -> Behaviour:
    """How a plunger behaves under a follower's loads.

    Args:
        sizes: of the plunger.
        depth: set below its stop, m.
        seat: load on it while the valve is closed, N, above zero.
        full: load at full lift, N.
        event: load on the plunger, N, and time, s, from the valve's opening to its closing, shapes (times,).
        oil: viscosity, Pa s.
        eccentric: how far off the middle of its bore the plunger stands, 0 to 1 of the clearance.

    Returns:
        Stiffness at full load; give between seat and full load; time to leak down by the depth's whole reserve (to the
        bottom) under the full load; lift lost to leakage over one event; how far it can pump up (its depth); time in
        which the seat load presses that out again.

    Raises:
        InputError: sizes at zero or below, a depth outside the travel.

    Source:
        own derivation from the oil column and the leak (merritt, rabie). Deep in its bore there is less oil under the
        plunger, so it is stiffer; and it can only pump up by its depth.
    """
    height = float(chamber_height(sizes.travel, depth, sizes.dead_height))
    area = float(plunger_area(sizes.diameter))
    bulk = float(bulk_modulus(AIR + full / area, sizes.air_share))
    gap = (sizes.diameter, sizes.clearance, sizes.length)
    loads, times = event
    sunk = sink_speed(np.maximum(loads, 0.0), *gap, oil, eccentric)
    lost = float(np.sum((sunk[1:] + sunk[:-1]) / 2 * np.diff(times))) if times.size > 1 else 0.0
    give = squeeze(np.array([seat, full]), sizes.diameter, height, sizes.air_share)
    return Behaviour(
        stiffness=float(oil_stiffness(bulk, sizes.diameter, height)),
        squeeze=float(give[1] - give[0]),
        leak_down_time=float(leak_down_time(sizes.travel - depth, full, *gap, oil, eccentric)),
        lift_loss=lost,
        pump_up=depth,
        recovery_time=float(leak_down_time(depth, seat, *gap, oil, eccentric)),
    )
