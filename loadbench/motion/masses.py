"""What moves with the valve: each part's mass as it is felt at the valve, and typical masses where none is stated.

R = valve travel / follower travel. The rocker turns about its own axle and reaches the valve with the arm l.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np

from loadbench.arrays import Floats, Real
from loadbench.errors import InputError, Place
from loadbench.sources import COMMON_PRACTICE
from loadbench.spring.sizes import not_negative, positive

SPRING_SHARE = 1 / 3
"""Of a spring with one end held, a third moves with the other end while it moves slowly."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class ReferredMass:
    """Each part's mass as felt at the valve, kg; `spring` is the share that counts, `ratio` is R."""

    valve: Floats
    retainer: Floats
    locks: Floats
    spring: Floats
    rocker: Floats
    pushrod: Floats
    follower: Floats
    ratio: Floats

    @property
    def valve_side(self) -> Floats:
        """What the force at the valve's own tip moves: valve, retainer, locks and a third of the spring, kg."""
        return np.asarray(self.valve + self.retainer + self.locks + self.spring)

    @property
    def total(self) -> Floats:
        """All of it, kg."""
        return np.asarray(self.valve_side + self.rocker + self.pushrod + self.follower)

    @property
    def own_pushrod(self) -> Floats:
        """The pushrod's mass as weighed, kg."""
        return np.asarray(self.pushrod * self.ratio**2)

    @property
    def own_follower(self) -> Floats:
        """The follower's mass as weighed, kg."""
        return np.asarray(self.follower * self.ratio**2)


def referred_mass(  # noqa: PLR0913 - each part by its name
    *,
    valve: Real,
    retainer: Real,
    locks: Real,
    spring: Real,
    follower: Real,
    pushrod: Real = 0.0,
    rocker_inertia: Real = 0.0,
    valve_arm: Real | None = None,
    ratio: Real = 1.0,
) -> ReferredMass:
    """Masses of a valve gear as felt at the valve.

    Args:
        valve: mass, kg.
        retainer: mass, kg.
        locks: mass of both, kg.
        spring: mass of the whole spring, or of all springs of a nest, kg.
        follower: mass of the follower, with its roller, or of the bucket, kg.
        pushrod: mass, kg; zero where there is none.
        rocker_inertia: I about the rocker's axle, kg m2; zero where there is none.
        valve_arm: l, from the rocker's axle to the valve's tip, m; needed with an inertia.
        ratio: R, above zero; 1 for a bucket.

    Returns:
        The parts; each keeps the shape of its own arguments, and sums broadcast.

    Raises:
        InputError: a mass below zero, an arm or ratio at zero or below, an inertia without an arm.

    Source:
        norton-cam, chapter on modelling; own derivation: equal kinetic energy, I/l^2 and m/R^2.
    """
    weighed = not_negative("a mass", valve, retainer, locks, spring, pushrod, follower)
    (inertia,) = not_negative("an inertia of the rocker", rocker_inertia)
    (R,) = positive("a ratio", ratio)
    if valve_arm is None:
        if np.any(inertia > 0):
            place = Place(field="valve_arm")
            raise InputError("a rocker's inertia without its arm", expected="the arm on the valve's side", place=place)
        rocker = inertia
    else:
        (arm,) = positive("an arm of the rocker", valve_arm)
        rocker = np.asarray(inertia / arm**2)
    return ReferredMass(
        valve=weighed[0],
        retainer=weighed[1],
        locks=weighed[2],
        spring=np.asarray(weighed[3] * SPRING_SHARE),
        rocker=rocker,
        pushrod=np.asarray(weighed[4] / R**2),
        follower=np.asarray(weighed[5] / R**2),
        ratio=R,
    )


def valve_side_mass(valve: Real, retainer: Real, locks: Real, spring: Real) -> Floats:
    """What the force at the valve's own tip moves.

    Args:
        valve: mass, kg.
        retainer: mass, kg.
        locks: mass of both, kg.
        spring: mass of the whole spring, kg.

    Returns:
        kg, of the broadcast shape.

    Raises:
        InputError: a mass below zero.

    Source:
        own derivation: a third of the spring moves with its moving end.
    """
    masses = not_negative("a mass", valve, retainer, locks, spring)
    return np.asarray(masses[0] + masses[1] + masses[2] + masses[3] * SPRING_SHARE)


# Where nothing is stated


@dataclass(frozen=True, slots=True, kw_only=True)
class Typical:
    """A usual value and the range it is met in, SI."""

    value: float
    low: float
    high: float
    source: str = COMMON_PRACTICE


TYPICAL = {
    "valve": Typical(value=0.110, low=0.070, high=0.180),
    "retainer": Typical(value=0.020, low=0.008, high=0.035),
    "locks": Typical(value=0.006, low=0.003, high=0.010),
    "spring": Typical(value=0.110, low=0.060, high=0.200),
    "rocker_inertia": Typical(value=9e-5, low=3e-5, high=2e-4),
    "valve_arm": Typical(value=0.036, low=0.030, high=0.045),
    "pushrod": Typical(value=0.060, low=0.035, high=0.120),
    "follower": Typical(value=0.100, low=0.060, high=0.170),
}
"""A gear with pushrods and rockers, two valves a cylinder: kg, kg m2, m."""

TYPICAL_BUCKET = {
    "valve": Typical(value=0.045, low=0.020, high=0.090),
    "retainer": Typical(value=0.009, low=0.003, high=0.018),
    "locks": Typical(value=0.002, low=0.001, high=0.006),
    "spring": Typical(value=0.045, low=0.020, high=0.100),
    "follower": Typical(value=0.035, low=0.015, high=0.070),
}
"""A gear with buckets, four valves a cylinder: kg."""


@dataclass(frozen=True, slots=True, kw_only=True)
class FilledIn:
    """Values by name, and which of them are typical and not stated."""

    values: Mapping[str, float]
    typical: frozenset[str]


def with_typical(stated: Mapping[str, float | None], typical: Mapping[str, Typical] = TYPICAL) -> FilledIn:
    """What is stated, and the typical value with its mark where nothing is.

    Args:
        stated: by the names of `typical`, SI; None or left out where it is not known.
        typical: the kind of gear.

    Returns:
        A value for each name of `typical`, and for whatever else is stated.

    Source:
        common practice.
    """
    known = {name: value for name, value in stated.items() if value is not None}
    missing = frozenset(typical.keys() - known.keys())
    return FilledIn(values={**known, **{name: typical[name].value for name in missing}}, typical=missing)
