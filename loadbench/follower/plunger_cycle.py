"""The plunger over a turn of the cam: lift lost with the valve open, oil taken back with it closed, and two travels.

Symbols as in `plunger`: d plunger diameter, A its area, c radial clearance, L length of the gap, F load on it.
"""

from __future__ import annotations

from typing import NamedTuple

import numpy as np

from loadbench.arrays import Floats, Real
from loadbench.errors import InputError, Place
from loadbench.follower.plunger import (
    TURBULENT,
    Sizes,
    behaviour,
    chamber_height,
    gap_reynolds,
    leak_flow,
    plunger_area,
)
from loadbench.spring.sizes import not_negative, positive

DISCHARGE = 0.6
"""Discharge coefficient of a sharp-edged opening. Source: merritt, from memory (0.60 to 0.65)."""

OIL_DENSITY = 850.0
"""Density of warm engine oil, kg/m3. Source: common practice."""


class Gap(NamedTuple):
    """The gap between plunger and body: diameter, radial clearance, length, m."""

    diameter: Real
    clearance: Real
    length: Real


def lift_loss(load: Real, angle: Floats, speed: Real, gap: Gap, viscosity: Real, eccentric: Real = 0.0) -> Floats:
    """How far the plunger sinks by leakage while the valve is open once.

    Args:
        load: on the plunger, N, last axis the angles; below zero counts as none.
        angle: of the cam from opening to closing, rad, rising, shape (angles,).
        speed: of the cam, rad/s, above zero, any shape that broadcasts with the load's without its last axis.
        gap: of the plunger.
        viscosity: Pa s, at the oil's temperature.
        eccentric: how far off the middle of its bore the plunger stands, 0 to 1 of the clearance.

    Returns:
        m at the plunger, of the load's shape without its last axis; times R at the valve.

    Raises:
        InputError: angles that do not rise, a speed or size at zero or below.

    Source:
        rabie, eq. 2.19: the integral of Q/A over the time that the valve is open, by trapezia.
    """
    theta = _rising(angle)
    (omega,) = positive("a speed of the cam", speed)
    F = np.maximum(np.asarray(load, dtype=np.float64), 0.0)
    impulse = np.trapezoid(F * np.ones_like(theta), theta, axis=-1) / omega
    area = plunger_area(gap.diameter)
    return np.asarray(leak_flow(*gap, impulse / area, viscosity, eccentric) / area)


def closed_time(angle: Floats, speed: Real) -> Floats:
    """How long the follower stands on the base circle in each turn of the cam.

    Args:
        angle: of the cam from opening to closing, rad, rising, shape (angles,).
        speed: of the cam, rad/s, above zero.

    Returns:
        s, of the speed's shape.

    Raises:
        InputError: angles that do not rise or make more than a turn, a speed at zero or below.

    Source:
        own derivation: the rest of the turn.
    """
    theta = _rising(angle)
    (omega,) = positive("a speed of the cam", speed)
    rest = 2 * np.pi - float(theta[-1] - theta[0])
    if rest < 0:
        what = "a valve open for more than a turn of the cam"
        raise InputError(what, expected="less than a turn", place=Place(field="angle"))
    return np.asarray(rest / omega)


def refill_flow(sunk: Real, diameter: Real, time: Real) -> Floats:
    """Flow through the check valve that brings the plunger back up within the time it has.

    Args:
        sunk: how far it sank, m.
        diameter: d, m.
        time: on the base circle, s, above zero.

    Returns:
        m3/s, of the broadcast shape; with less the plunger stands lower at every turn.

    Raises:
        InputError: a sink below zero, a size or time at zero or below.

    Source:
        own derivation: what leaked out has to come back, A x/t.
    """
    (x,) = not_negative("a sink of the plunger", sunk)
    (t,) = positive("a time on the base circle", time)
    return np.asarray(plunger_area(diameter) * x / t)


def check_valve_flow(
    pressure: Real, bore: Real, opening: Real, density: Real = OIL_DENSITY, discharge: Real = DISCHARGE
) -> Floats:
    """Greatest flow through a check valve: its bore or the gap round its ball or disc, whichever is less.

    Args:
        pressure: of the supply over that in the chamber, Pa; none flows at zero or below.
        bore: of its seat, m.
        opening: how far the ball or disc lifts, m.
        density: kg/m3.
        discharge: coefficient of the opening.

    Returns:
        m3/s, of the broadcast shape. Cold thick oil passes less: this is a bound.

    Raises:
        InputError: a size, density or coefficient at zero or below.

    Source:
        merritt: Cd A sqrt(2 dp/rho), A the less of pi b^2/4 and pi b h.
    """
    b, h, rho, Cd = positive("a size or density at the check valve", bore, opening, density, discharge)
    area = np.minimum(np.pi / 4 * b**2, np.pi * b * h)
    return np.asarray(Cd * area * np.sqrt(2 * np.maximum(np.asarray(pressure, dtype=np.float64), 0.0) / rho))


def refilled(sunk: Real, flow: Real, diameter: Real, time: Real) -> Floats:
    """How far the plunger comes back up on the base circle.

    Args:
        sunk: how far it sank, m.
        flow: through the check valve, m3/s.
        diameter: d, m.
        time: on the base circle, s.

    Returns:
        m, never more than it sank, of the broadcast shape.

    Raises:
        InputError: a sink, flow or time below zero, a diameter at zero or below.

    Source:
        own derivation: Q t/A, held by the stop.
    """
    x, Q, t = not_negative("a sink, flow or time", sunk, flow, time)
    return np.asarray(np.minimum(x, Q * t / plunger_area(diameter)))


class SetPlunger(NamedTuple):
    """A plunger and how deep it is set below its stop, m."""

    sizes: Sizes
    depth: float


class TravelBehaviour(NamedTuple):
    """How one travel behaves at a depth: SI, lengths with `lift` in their name at the valve, the others at the plunger.

    `left` is from the plunger to its bottom; `oil_height` what stands under it; `give` of that oil from seat to full
    load; `leak` the sink over one event; `lift_loss` both together; `pump_up_lift` how far it can hold the valve open,
    and `press_out_time` in which the seat load undoes that; `refill_volume` what a plunger that was bled to its bottom
    has to take in again; `refill_flow` what it needs at every turn for its leak; `reynolds` of the gap at full load.
    """

    left: float
    oil_height: float
    stiffness: float
    give: float
    leak_down_time: float
    leak: float
    lift_loss: float
    pump_up_lift: float
    press_out_time: float
    refill_volume: float
    refill_flow: float
    reynolds: float

    @property
    def laminar(self) -> bool:
        """Whether the leak's formula holds."""
        return self.reynolds < TURBULENT


class TravelsCompared(NamedTuple):
    """Standard and short travel at the same load and speed."""

    standard: TravelBehaviour
    short: TravelBehaviour

    @property
    def stiffer(self) -> float:
        """How many times as stiff the oil of the short travel is."""
        return self.short.stiffness / self.standard.stiffness

    @property
    def refills_quicker(self) -> float:
        """How many times as much a standard travel takes in after it was bled down to its bottom."""
        return self.standard.refill_volume / self.short.refill_volume if self.short.refill_volume else np.inf

    @property
    def presses_out_quicker(self) -> float:
        """How many times as long a standard travel holds the valve open after a full pump-up."""
        return self.standard.press_out_time / self.short.press_out_time if self.short.press_out_time else np.inf


class Duty(NamedTuple):
    """What a plunger has to bear, SI.

    `seat` is the load on it while the valve is held just open, above zero, `full` that at full lift; `load` on it and
    `angle` of the cam go from opening to closing, rising, shapes (angles,); `speed` of the cam; `ratio` of the rocker.
    """

    seat: float
    full: float
    load: Floats
    angle: Floats
    speed: float
    ratio: float


def compare_travels(
    standard: SetPlunger,
    short: SetPlunger,
    duty: Duty,
    viscosity: float,
    *,
    eccentric: float = 0.0,
    density: float = OIL_DENSITY,
) -> TravelsCompared:
    """A standard and a short travel under the same load at the same speed.

    Near the bottom there is less oil under a plunger: it is stiffer and gives less, and once bled down it has less to
    take in again. How far it pumps up, and how long the seat load needs to press that out, goes by the depth alone:
    that recovers faster only where the depth itself is less.

    Args:
        standard: plunger of standard travel and its depth.
        short: plunger of short travel and its depth.
        duty: load and speed.
        viscosity: of the oil at its temperature, Pa s.
        eccentric: how far off the middle of its bore the plunger stands, 0 to 1 of the clearance.
        density: of the oil, kg/m3.

    Returns:
        Both behaviours.

    Raises:
        InputError: sizes at zero or below, a depth outside its travel, angles that do not rise.

    Source:
        own derivation from the oil column and the leak (merritt, rabie).
    """
    time = float(closed_time(duty.angle, duty.speed))
    event = (duty.load, duty.angle / duty.speed)

    def of(plunger: SetPlunger) -> TravelBehaviour:
        sizes, depth = plunger
        found = behaviour(sizes, depth, duty.seat, duty.full, event, viscosity, eccentric)
        gap = Gap(sizes.diameter, sizes.clearance, sizes.length)
        leak = float(lift_loss(duty.load, duty.angle, duty.speed, gap, viscosity, eccentric))
        area = float(plunger_area(sizes.diameter))
        flow = leak_flow(*gap, duty.full / area, viscosity, eccentric)
        return TravelBehaviour(
            left=sizes.travel - depth,
            oil_height=float(chamber_height(sizes.travel, depth, sizes.dead_height)),
            stiffness=found.stiffness,
            give=found.squeeze,
            leak_down_time=found.leak_down_time,
            leak=leak,
            lift_loss=(leak + found.squeeze) * duty.ratio,
            pump_up_lift=found.pump_up * duty.ratio,
            press_out_time=found.recovery_time,
            refill_volume=area * (sizes.travel - depth),
            refill_flow=float(refill_flow(leak, sizes.diameter, time)) if time > 0 else np.inf,
            reynolds=float(gap_reynolds(flow, sizes.diameter, sizes.clearance, viscosity, density)),
        )

    return TravelsCompared(of(standard), of(short))


def _rising(angle: Floats) -> Floats:
    theta = np.asarray(angle, dtype=np.float64)
    if theta.ndim != 1 or theta.size < 2 or np.any(np.diff(theta) <= 0):
        what = "angles of a lift that do not rise"
        raise InputError(what, expected="two or more, each above the one before", place=Place(field="angle"))
    return theta
