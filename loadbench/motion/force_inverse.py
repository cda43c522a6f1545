"""The balance of forces turned round: the load or the mass that a wanted speed needs, in a rigid gear.

A margin in speed is asked for by asking for a higher speed; a margin in force by `margin`, felt at the valve.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from loadbench.arrays import Floats
from loadbench.errors import InputError
from loadbench.motion.force_balance import Closing, OpenValve, SpringLoad, load_at, open_valve
from loadbench.motion.lift import Lift
from loadbench.spring.sizes import not_negative, positive

START = 0.01
"""Of the rise of load with lift: below it the seat load must do alone, for no rate adds to it there."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Wanted:
    """A duty to be met: engine speed, rad/s, and the force that must be left at the valve, N."""

    speed: float
    margin: float = 0.0

    def __post_init__(self) -> None:
        positive("a wanted speed", self.speed)
        not_negative("a wanted margin", self.margin)

    @property
    def squared(self) -> float:
        """The cam's speed, squared, rad2/s2."""
        return (self.speed / 2) ** 2


@dataclass(frozen=True, slots=True, kw_only=True)
class LoadNeed:
    """Seat and open load, N, that just do; at the angle, rad, and lift of the valve, m, where nothing is to spare.

    A load is infinite where no such load can do.
    """

    seat_load: float
    open_load: float
    angle: float
    lift: float


def needed_seat_load(
    lift: Lift,
    mass: float,
    spring_load: SpringLoad,
    wanted: Wanted,
    *,
    lash: float = 0.0,
    closing: Closing | None = None,
    window: float = np.pi,
) -> LoadNeed:
    """Seat load that a wanted speed needs, the spring's rise of load with lift kept: the same spring set shorter.

    Args:
        lift: of the lobe at the valve, m, before lash.
        mass: referred to the valve, kg.
        spring_load: seat load and rate, or load against lift.
        wanted: speed and margin.
        lash: at the valve, m.
        closing: what else closes the valve.
        window: the force counts this far from the nose, rad.

    Returns:
        Both loads; they may be less than those of the spring, and below zero where none is needed.

    Raises:
        InputError: a mass at zero or below, a lift that never passes the lash.

    Source:
        own derivation: greatest of margin - m w^2 y'' - the rest of the load over the turn.
    """
    valve = open_valve(lift, spring_load, lash=lash, closing=closing, window=window)
    short = wanted.margin - _left(valve, mass, wanted)
    place = int(np.where(valve.counts, short, -np.inf).argmax())
    seat, full = _ends(spring_load, valve)
    more = float(short[place])
    return LoadNeed(seat_load=seat + more, open_load=full + more, **_at(valve, place))


def needed_open_load(
    lift: Lift,
    mass: float,
    spring_load: SpringLoad,
    wanted: Wanted,
    *,
    lash: float = 0.0,
    closing: Closing | None = None,
    window: float = np.pi,
) -> LoadNeed:
    """Open load that a wanted speed needs, the seat load kept: a spring of another rate.

    Args:
        lift: of the lobe at the valve, m, before lash.
        mass: referred to the valve, kg.
        spring_load: seat load and rate, or load against lift.
        wanted: speed and margin.
        lash: at the valve, m.
        closing: what else closes the valve.
        window: the force counts this far from the nose, rad.

    Returns:
        Both loads; the seat load is the spring's own, and the open load not less; infinite where the seat load already
        falls short at the start of the lift.

    Raises:
        InputError: a mass at zero or below, a lift that never passes the lash, a load that does not rise with lift.

    Source:
        own derivation: the rise of load with lift, made greater by one factor, makes up what is wanting.
    """
    valve = open_valve(lift, spring_load, lash=lash, closing=closing, window=window)
    seat, full = _ends(spring_load, valve)
    if not full > seat:
        raise InputError("a spring whose load does not rise with lift", expected="a rate above zero")
    rise = load_at(spring_load, np.maximum(valve.lift, 0.0)) - seat
    wanting = wanted.margin - (_left(valve, mass, wanted) - rise)
    helped = rise > START * (full - seat)
    factor = np.where(helped, wanting / np.where(helped, rise, 1.0), np.inf)
    factor = np.where(valve.counts & (wanting > 0), factor, 0.0)
    place = int(factor.argmax())
    return LoadNeed(seat_load=seat, open_load=seat + float(factor[place]) * (full - seat), **_at(valve, place))


def greatest_mass(
    lift: Lift,
    spring_load: SpringLoad,
    wanted: Wanted,
    *,
    lash: float = 0.0,
    closing: Closing | None = None,
    window: float = np.pi,
) -> float:
    """Referred mass that a spring can just hold at a wanted speed.

    Args:
        lift: of the lobe at the valve, m, before lash.
        spring_load: seat load and rate, or load against lift.
        wanted: speed and margin.
        lash: at the valve, m.
        closing: what else closes the valve.
        window: the force counts this far from the nose, rad.

    Returns:
        kg; infinite where nothing pulls the parts asunder, zero where the load itself falls short of the margin.

    Raises:
        InputError: a lift that never passes the lash.

    Source:
        own derivation: least of (load - margin)/(-w^2 y'') over the turn.
    """
    valve = open_valve(lift, spring_load, lash=lash, closing=closing, window=window)
    pulled = valve.counts & (valve.curvature < 0)
    if not pulled.any():
        return np.inf
    spare = np.maximum(valve.load[pulled] - wanted.margin, 0.0)
    return float((spare / (-wanted.squared * valve.curvature[pulled])).min())


def _left(valve: OpenValve, mass: float, wanted: Wanted) -> Floats:
    """The contact force at the wanted speed, N, shape (angles,)."""
    (m,) = positive("a mass", mass)
    return np.asarray(valve.load + m * wanted.squared * valve.curvature)


def _ends(spring_load: SpringLoad, valve: OpenValve) -> tuple[float, float]:
    """The spring's own load at the seat and at full lift, N."""
    return float(load_at(spring_load, 0.0)), float(load_at(spring_load, float(valve.lift.max())))


def _at(valve: OpenValve, place: int) -> dict[str, float]:
    return {"angle": float(valve.angles[place]), "lift": float(valve.lift[place])}
