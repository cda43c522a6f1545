"""The lobe that makes a wanted valve lift at one speed: what the linkage and the spring give is ground into it.

Symbols: y valve lift, s the lobe's lift as felt at the valve, m mass at the valve, kr stiffness of the linkage there,
ks rate of the spring, F0 its load with the valve shut, w speed of the cam. s = y (1 + ks/kr) + F0/kr + (m/kr) w^2 y''.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Protocol

import numpy as np

from loadbench.arrays import Floats, Real
from loadbench.errors import InputError, Place
from loadbench.motion.laws import PI, law_of, rising
from loadbench.motion.lift import Lift
from loadbench.motion.lobe import PowerLobe, over_zero
from loadbench.motion.power_lift import coefficients, even_at_nose

SEARCHED = 4001
STEP = 1e-3
"""Places, and how far beyond both ends, rad, a lift is searched for steps."""

SMOOTH_STEP = 3.0
"""Least distance between exponents: with less the valve's fifth derivative, and so the lobe's jerk, has no bound at the
nose."""

FALLS = 1e-9
"""How far a lobe may fall from place to place on its way up, m: rounding."""


class WholeLift(Lift, Protocol):
    """A Lift that also gives its fourth and fifth derivative, and where it starts and ends."""

    @property
    def span(self) -> tuple[float, float]:
        """First and last angle of the lift, rad."""
        ...


@dataclass(frozen=True, slots=True, kw_only=True)
class MadeFor:
    """What a polydyne lobe is made for, all at the valve: kg, N/m, N/m, N, rad/s of the cam, and the lash, m."""

    mass: float
    spring_rate: float
    stiffness: float
    preload: float
    cam_speed: float
    lash: float = 0.0

    def __post_init__(self) -> None:
        over_zero("a polydyne lobe", mass=self.mass, stiffness=self.stiffness, cam_speed=self.cam_speed)
        if not min(self.spring_rate, self.preload, self.lash) >= 0:
            raise InputError("a polydyne lobe", expected="spring rate, preload and lash of zero or more")

    @property
    def give(self) -> float:
        """1 + ks/kr: lobe lift for each valve lift, standing still."""
        return 1 + self.spring_rate / self.stiffness

    @property
    def inertia(self) -> float:
        """(m/kr) w^2: lobe lift for each acceleration of the valve by rad^2."""
        return self.mass / self.stiffness * self.cam_speed**2

    @property
    def ramp_height(self) -> float:
        """F0/kr and the lash: how far the lobe rises before the valve leaves its seat, m at the valve."""
        return self.preload / self.stiffness + self.lash


@dataclass(frozen=True, kw_only=True)
class Polydyne:
    """The lobe's lift, as felt at the valve, that gives a wanted valve lift at one speed of the cam.

    `opening_ramp` and `closing_ramp`, rad, are the angles over which the lobe rises to F0/kr and the lash before the
    valve leaves its seat and comes down after; without them these stay on all round, as in the equation. Divided by the
    ratio (scaled()) it is the lobe's own lift. Where the valve's jerk steps (all double-dwell laws but 4-5-6-7) the
    lobe's speed does.
    """

    valve: WholeLift
    made_for: MadeFor
    opening_ramp: float = 0.0
    closing_ramp: float = 0.0

    def __post_init__(self) -> None:
        if not min(self.opening_ramp, self.closing_ramp) >= 0:
            raise InputError("a polydyne lobe", expected="ramps of zero or more")
        if (self.opening_ramp > 0) != (self.closing_ramp > 0):
            raise InputError("a polydyne lobe with a ramp on one side", expected="a ramp on both sides or on none")
        if max(-self.span[0], self.span[1]) > PI:
            raise InputError(
                "a polydyne lobe longer than a turn", expected="each side with its ramp within half a turn",
                place=Place(field="ramps"),
            )  # fmt: skip
        at = np.linspace(self.valve.span[0] - STEP, self.valve.span[1] + STEP, SEARCHED)
        rises = np.abs(np.diff(self.valve(at, 2))).max()
        if rises > 2 * (at[1] - at[0]) * np.abs(self.valve(at, 3)).max():
            raise InputError(
                "a polydyne lobe for a valve lift whose acceleration steps: so would the lobe's own lift",
                expected="an acceleration that is zero at both ends and alike on both sides of the nose",
            )

    @property
    def span(self) -> tuple[float, float]:
        """First and last angle of the lift, ramps included, rad."""
        opens, closes = self.valve.span
        return opens - self.opening_ramp, closes + self.closing_ramp

    def __call__(self, angle: Real, derivative: int = 0) -> Floats:
        """As in Lift; takes the valve's derivatives up to two higher."""
        place, made = np.asarray(angle, dtype=np.float64), self.made_for
        lift = self.valve(place, derivative) * made.give + made.inertia * self.valve(place, derivative + 2)
        return lift + self._ramp(place, derivative)

    def _ramp(self, place: Floats, derivative: int) -> Floats:
        height = self.made_for.ramp_height
        if not self.opening_ramp:
            return np.full_like(place, 0.0 if derivative else height)
        (opens, closes), cycloid = self.valve.span, law_of("cycloidal")
        up = (place - opens) / self.opening_ramp + 1
        down = (closes - place) / self.closing_ramp + 1
        steep = self.opening_ramp**-derivative, (-1.0 / self.closing_ramp) ** derivative
        sides = rising(cycloid, up, derivative) * steep[0], rising(cycloid, down, derivative) * steep[1]
        return np.asarray(height * np.where(place < 0, *sides))


def polydyne_of(
    greatest: float, halves: tuple[float, float], ramps: tuple[float, float], made_for: MadeFor
) -> Polydyne:
    """The polydyne lobe with a known greatest lift of its own, for a valve lift by a power polynomial.

    Args:
        greatest: of the lobe as felt at the valve, standing still and with nothing that gives, ramps included, m.
        halves: from the valve's opening to the nose and from there to its closing, rad of the cam.
        ramps: ahead of the one and after the other, rad, above zero.
        made_for: what it is made for.

    Returns:
        The lobe; its valve's own greatest lift, at the speed that it is made for, is less by what gives.

    Raises:
        InputError: halves too unequal or too long, ramps as high as the lobe, or a speed so high that the lobe would
            have to fall on its way up.

    Source:
        stoddart, solved for the valve's greatest lift, in which it is linear.
    """
    over_zero("a polydyne lobe", greatest=greatest, opening_ramp=ramps[0], closing_ramp=ramps[1])
    powers = even_at_nose(*halves, least=SMOOTH_STEP)
    nose = 2 * float(coefficients(powers[0])[0]) / halves[0] ** 2
    left, share = greatest - made_for.ramp_height, made_for.give + made_for.inertia * nose
    if left <= 0:
        raise InputError(
            "lash and what the linkage gives are as much as the lobe's lift",
            expected="a higher lobe, a stiffer linkage", place=Place(field="stiffness"),
        )  # fmt: skip
    if share <= 0:
        raise InputError(_TOO_FAST, expected=_SLOWER, place=Place(field="speed"))
    valve = PowerLobe(
        powers=powers[0], closing_powers=powers[1], lift=left / share, half_opening=halves[0], half_closing=halves[1]
    )
    lobe = Polydyne(valve=valve, made_for=made_for, opening_ramp=ramps[0], closing_ramp=ramps[1])
    _check_sides(lobe)
    return lobe


def _check_sides(lobe: Polydyne) -> None:
    """Refuse a lobe that falls on its way up, or rises on its way down: nobody grinds it."""
    for end in lobe.span:  # from either end up to the nose
        steps = np.diff(lobe(np.linspace(end, 0.0, SEARCHED)))
        if float(steps.min()) < -FALLS:
            raise InputError(_TOO_FAST, expected=_SLOWER, place=Place(field="speed"))


_TOO_FAST = "at this design speed the lobe would have to fall on its way up"
_SLOWER = "a lower design speed, a stiffer linkage, less mass or longer halves"
