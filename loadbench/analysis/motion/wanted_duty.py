"""The force balance of a line turned round: which load, rate or mass a wanted speed with a wanted margin needs."""

from __future__ import annotations

import math
from dataclasses import dataclass

from loadbench.analysis.motion.result import Dynamic
from loadbench.motion.force_inverse import Wanted, greatest_mass, needed_open_load, needed_seat_load


@dataclass(frozen=True, slots=True, kw_only=True)
class WantedDuty:
    """What a duty needs in a rigid gear, and what is there now. Loads N, rates N/m, masses kg, angles rad.

    `seat_load` is needed at the rate of now, with `seat_open` at full lift; `open_load` and `rate` at the seat load of
    now, infinite where that already falls short at the start of the lift; `mass` at the loads of now, infinite where
    nothing pulls the parts asunder. `least_force` is what is left at the valve now, where the least is left at `angle`.
    """

    speed: float
    margin: float
    least_force: float
    angle: float
    seat_load: float
    seat_open: float
    open_load: float
    rate: float
    mass: float
    seat_now: float
    open_now: float
    rate_now: float
    mass_now: float

    @property
    def held(self) -> bool:
        """Whether what is there does."""
        return self.least_force >= self.margin


def wanted_duty(dynamic: Dynamic, mass: float, speed: float, margin: float = 0.0) -> WantedDuty:
    """What a wanted speed with a wanted margin needs of a line's gear.

    Args:
        dynamic: gear and lift.
        mass: referred to the valve, kg, as the force balance has it.
        speed: engine speed, rad/s.
        margin: force that must be left at the valve, N.

    Returns:
        The needs, each with everything else as it is.

    Raises:
        InputError: a speed or a mass not above zero, or a margin below it.

    Source:
        own derivation: the balance of forces, solved for one of its quantities.
    """
    dynamic = dynamic.as_rigid()
    gear, wanted = dynamic.gear, Wanted(speed=speed, margin=margin)
    spring = gear.preload, gear.spring_rate
    seat = needed_seat_load(
        dynamic.lift, mass, spring, wanted, lash=dynamic.lash, closing=dynamic.closing, window=dynamic.window
    )
    more = seat.seat_load - gear.preload
    full = needed_open_load(
        dynamic.lift, mass, spring, wanted, lash=dynamic.lash, closing=dynamic.closing, window=dynamic.window
    )
    open_now = seat.open_load - more
    lift = (open_now - gear.preload) / gear.spring_rate
    return WantedDuty(
        speed=speed,
        margin=margin,
        least_force=margin - more,
        angle=seat.angle,
        seat_load=seat.seat_load,
        seat_open=seat.open_load,
        open_load=full.open_load,
        rate=(full.open_load - gear.preload) / lift if math.isfinite(full.open_load) else math.inf,
        mass=greatest_mass(
            dynamic.lift, spring, wanted, lash=dynamic.lash, closing=dynamic.closing, window=dynamic.window
        ),
        seat_now=gear.preload,
        open_now=open_now,
        rate_now=gear.spring_rate,
        mass_now=mass,
    )
