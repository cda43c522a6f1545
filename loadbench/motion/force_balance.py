"""Balance of forces in a rigid valve gear over the turn of the cam: load against inertia, and where they are equal.

F = S(y) + P + m w^2 y'', y the lift of the valve less lash, P whatever else closes it, m the referred mass, w the speed
of the cam, which is half the engine's. F is felt at the valve; the lobe carries R F along the follower's travel.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from loadbench.arrays import Floats, Real
from loadbench.errors import InputError
from loadbench.motion.lift import Lift
from loadbench.spring.sizes import not_negative, positive

if TYPE_CHECKING:
    from numpy.typing import NDArray

SpringLoad = tuple[float, float] | Callable[[Floats], Floats]
"""Seat load, N, and rate, N/m; or the load, N, against the lift of the valve, m."""

Closing = Callable[[Floats], Floats]
"""Load that closes the valve besides the spring, N, against the cam's angle; below zero where it opens it."""

STEPS = 7200
"""Angles a turn."""

ZOOMS = 3
ZOOM_STEPS = 65


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class OpenValve:
    """What does not change with the speed, at each angle: shapes (angles,), m, N, rad; `curvature` is y'', m/rad2.

    `open_` tells where the valve is off its seat, `counts` where the least force counts.
    """

    angles: Floats
    lift: Floats
    curvature: Floats
    load: Floats
    open_: NDArray[np.bool_]
    counts: NDArray[np.bool_]


def turn_of_angles() -> Floats:
    """The cam's angles from opposite the nose round to it again, rad; the nose is one of them."""
    return np.asarray(np.pi * np.arange(1 - STEPS // 2, STEPS // 2 + 1) / (STEPS // 2))


def open_valve(
    lift: Lift,
    spring_load: SpringLoad,
    *,
    lash: float = 0.0,
    closing: Closing | None = None,
    window: float = np.pi,
    angles: Floats | None = None,
) -> OpenValve:
    """Lift, its curvature and the load over the turn of the cam.

    Args:
        lift: of the lobe at the valve, m, before lash.
        spring_load: seat load and rate, or load against lift.
        lash: at the valve, m.
        closing: what else closes the valve.
        window: the least force counts this far from the nose, rad.
        angles: rad, shape (angles,); the whole turn unless given.

    Returns:
        At each angle.

    Raises:
        InputError: lash below zero, or a lift that never passes it at these angles within the window.

    Source:
        own derivation: the lash is taken up before the valve moves.
    """
    (gap,) = not_negative("lash", lash)
    at = turn_of_angles() if angles is None else np.atleast_1d(np.asarray(angles, dtype=np.float64))
    y = np.asarray(lift(at)) - gap
    open_ = y > 0
    counts = open_ & (np.abs(at) <= window * (1 + 1e-12))
    if not counts.any():
        raise InputError("a lift that never passes the lash", expected="a valve that opens within the angles looked at")
    load = load_at(spring_load, np.maximum(y, 0.0))
    if closing is not None:
        load = load + closing(at)
    return OpenValve(angles=at, lift=y, curvature=np.asarray(lift(at, 2)), load=load, open_=open_, counts=counts)


def load_at(spring_load: SpringLoad, lift: Real) -> Floats:
    """Load of the spring at a lift of the valve.

    Args:
        spring_load: seat load and rate, or load against lift.
        lift: of the valve, m.

    Returns:
        N, of the lift's shape.

    Source:
        own derivation: a straight line from the seat load where a rate is given.
    """
    y = np.asarray(lift, dtype=np.float64)
    if callable(spring_load):
        return np.asarray(spring_load(y), dtype=np.float64)
    seat, rate = spring_load
    return np.asarray(seat + rate * y)


# Forces at given speeds


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Balance:
    """Forces at each speed of the engine, rad/s, and angle: `force` at the valve, N, zero while the valve is seated.

    `acceleration` is the valve's, m/s2, zero likewise; both have the shape (speeds, angles). The extremes have the
    shape (speeds,). The greatest force stands at the nose while the engine idles, on a flank at speed.
    """

    speeds: Floats
    valve: OpenValve
    acceleration: Floats
    force: Floats
    least_force: Floats
    least_angle: Floats
    greatest_force: Floats
    greatest_angle: Floats

    @property
    def least_share(self) -> Floats:
        """What is left of the load where the force is least, 1 where inertia takes nothing, below zero when lost."""
        place = np.searchsorted(self.valve.angles, self.least_angle)
        return np.asarray(self.least_force / self.valve.load[place])


def balance(  # noqa: PLR0913 - each quantity by its name
    lift: Lift,
    mass: float,
    spring_load: SpringLoad,
    speeds: Real,
    *,
    lash: float = 0.0,
    closing: Closing | None = None,
    window: float = np.pi,
    angles: Floats | None = None,
) -> Balance:
    """Forces of a rigid gear over the turn of the cam.

    Args:
        lift: of the lobe at the valve, m, before lash.
        mass: referred to the valve, kg.
        spring_load: seat load and rate, or load against lift.
        speeds: of the engine, rad/s, shape (speeds,).
        lash: at the valve, m.
        closing: what else closes the valve.
        window: the least force counts this far from the nose, rad.
        angles: rad, rising, shape (angles,); the whole turn unless given.

    Returns:
        Forces and their extremes.

    Raises:
        InputError: a mass at zero or below, a speed below zero, a lift that never passes the lash.

    Source:
        norton-cam, chapter on cam-follower dynamics; own derivation: balance of forces.
    """
    (m,) = positive("a mass", mass)
    (at,) = not_negative("a speed", np.atleast_1d(speeds))
    valve = open_valve(lift, spring_load, lash=lash, closing=closing, window=window, angles=angles)
    acceleration = (at[:, None] / 2) ** 2 * np.where(valve.open_, valve.curvature, 0.0)
    force = np.where(valve.open_, valve.load + m * acceleration, 0.0)
    least = np.where(valve.counts, force, np.inf).argmin(axis=1)
    greatest = np.where(valve.open_, force, -np.inf).argmax(axis=1)
    rows = np.arange(at.size)
    return Balance(
        speeds=at,
        valve=valve,
        acceleration=acceleration,
        force=force,
        least_force=force[rows, least],
        least_angle=valve.angles[least],
        greatest_force=force[rows, greatest],
        greatest_angle=valve.angles[greatest],
    )


# The speed of first separation


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Separation:
    """Engine speed, rad/s, at which the force first comes to nothing; where: angle, rad, and lift of the valve, m.

    The speed is infinite, and the place NaN, where nothing pulls the parts asunder.
    """

    speed: Floats
    angle: float
    lift: float


def separation_speed(
    lift: Lift,
    mass: Real,
    spring_load: SpringLoad,
    *,
    lash: float = 0.0,
    closing: Closing | None = None,
    window: float = np.pi,
    zooms: int = ZOOMS,
) -> Separation:
    """Engine speed at which a rigid gear first loses contact.

    Args:
        lift: of the lobe at the valve, m, before lash.
        mass: referred to the valve, kg, any shape.
        spring_load: seat load and rate, or load against lift.
        lash: at the valve, m.
        closing: what else closes the valve.
        window: looked for this far from the nose, rad.
        zooms: times that the angles about the least are made finer; without any the speed is right to 1e-5, and a lift
            whose values over the turn are kept is not asked again.

    Returns:
        The speed, of the mass's shape, and its place, which no mass changes. Zero where the load itself is not above
        zero over a part of the lift that falls behind.

    Raises:
        InputError: a mass at zero or below, a lift that never passes the lash.

    Source:
        shigley-uicker, cam chapter (jump); own derivation: least of sqrt(S/(-m y'')) over the turn.
    """
    (m,) = positive("a mass", mass)

    def squared(angles: Floats | None) -> tuple[OpenValve, Floats]:
        valve = open_valve(lift, spring_load, lash=lash, closing=closing, window=window, angles=angles)
        pulled = valve.counts & (valve.curvature < 0)
        pull = np.where(pulled, -valve.curvature, 1.0)
        return valve, np.where(pulled, np.maximum(valve.load, 0.0) / pull, np.inf)

    valve, found = squared(None)
    best = int(found.argmin())
    if not np.isfinite(found[best]):
        return Separation(speed=np.full(m.shape, np.inf), angle=np.nan, lift=np.nan)
    for _ in range(zooms):
        step = valve.angles[1] - valve.angles[0]
        # An odd count keeps the best angle so far among the finer ones, so the value can only fall.
        near = valve.angles[best] + step * np.linspace(-1.0, 1.0, ZOOM_STEPS)
        valve, found = squared(near)
        best = int(found.argmin())
    speed = 2 * np.sqrt(found[best] / m)
    return Separation(speed=np.asarray(speed), angle=float(valve.angles[best]), lift=float(valve.lift[best]))
