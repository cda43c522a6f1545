"""Lobes by law: two flanks, each with its ramp, and the lobe that makes a wanted valve lift.

Each class here but the ramp is a Lift. Angles are of the cam from the nose, rad, -pi to pi, below zero before it.
"""

from __future__ import annotations

import functools
import math
from collections.abc import Callable
from dataclasses import dataclass
from typing import Protocol

import numpy as np

from loadbench.arrays import Floats, Real
from loadbench.errors import InputError, Place
from loadbench.motion.laws import PI, Law, Piece, joined, law_of, rising
from loadbench.motion.lift import Lift
from loadbench.motion.power_lift import coefficients, power_rise

SEARCHED = 4001
STEP = 1e-3
"""Places, and how far beyond both ends, rad, a lift is searched for steps."""


def _over_zero(where: str, **values: float) -> None:
    for name, value in values.items():
        if not (math.isfinite(value) and value > 0):
            what = f"{name.replace('_', ' ')} of {where} is {value:g}"
            raise InputError(what, expected="more than zero", place=Place(field=name))


@dataclass(frozen=True)
class Ramp:
    """A slow rise ahead of a flank: a smooth start, constant speed, and a smooth end that lies within the flank.

    `height` m is what it adds to the lift in all, `angle` rad how far ahead of the flank it starts, and `blend` rad the
    length of its start and of its end.
    """

    height: float
    angle: float
    blend: float

    def __post_init__(self) -> None:
        _over_zero("a ramp", height=self.height, angle=self.angle, blend=self.blend)
        if self.blend > self.angle:
            raise InputError("a ramp whose start is longer than the ramp", expected="blend up to the ramp's own angle")

    @property
    def speed(self) -> float:
        """Its constant speed, m per rad of the cam."""
        return self.height / self.angle

    @functools.cached_property
    def _pieces(self) -> Law:
        length = self.angle + self.blend
        blend, speed = self.blend / length, length / self.angle
        turn = PI / blend
        # The speed goes up as (1 - cos)/2, and down alike.
        wave = -speed / (2 * turn)
        up = Piece(blend, (0.0, speed / 2), ((wave, turn, 0.0),))
        down = Piece(1.0, (0.0, speed / 2), ((wave, turn, PI - turn * (1 - blend)),))
        return joined((up, Piece(1 - blend, (0.0, speed)), down))

    def __call__(self, past: Real, derivative: int = 0) -> Floats:
        """Lift of the ramp against the angle past the flank's start, rad."""
        length = self.angle + self.blend
        along = (np.asarray(past, dtype=np.float64) + self.angle) / length
        return np.asarray(self.height / length**derivative * rising(self._pieces, along, derivative))


def solid_ramp(height: float, angle: float) -> Ramp:
    """A ramp for a solid follower: constant speed through most of it, so that lash, hot or cold, is taken up gently.

    Args:
        height: more than the greatest lash over the ratio, m at the lobe.
        angle: rad of the cam ahead of the flank.

    Returns:
        The ramp, its start and its end a quarter of its angle each.

    Raises:
        InputError: a height or an angle not above zero.

    Source:
        common practice.
    """
    return Ramp(height, angle, angle / 4)


def hydraulic_ramp(height: float, angle: float) -> Ramp:
    """A ramp for a hydraulic follower: no lash to take up, only a soft start against the valve's spring.

    Args:
        height: what leak-down and the linkage's give take up, m at the lobe.
        angle: rad of the cam ahead of the flank.

    Returns:
        The ramp, all of it start and end.

    Raises:
        InputError: a height or an angle not above zero.

    Source:
        common practice.
    """
    return Ramp(height, angle, angle)


Rise = Callable[[Floats, int], Floats]


@dataclass(frozen=True, slots=True)
class _Side:
    """One side of a lobe: its flank's duration, its ramp, and the flank as a rise of 1 in the duration 1."""

    lift: float
    duration: float
    ramp: Ramp | None
    rise: Rise

    def __post_init__(self) -> None:
        _over_zero("a lobe", lift=self.lift, duration=self.duration)
        if self.length > PI:
            raise InputError("a side of a lobe longer than half a turn", expected="flank and ramp within half a turn")
        if self.ramp and self.ramp.blend > self.duration:
            raise InputError("a ramp that ends after the nose", expected="a blend within the flank")
        if self.height <= 0:
            raise InputError("a ramp as high as the lobe", expected="a ramp lower than the lift")

    @property
    def length(self) -> float:
        return self.duration + (self.ramp.angle if self.ramp else 0.0)

    @property
    def height(self) -> float:
        """What the ramp leaves to the flank."""
        return self.lift - (self.ramp.height if self.ramp else 0.0)

    def __call__(self, past: Floats, derivative: int) -> Floats:
        """Lift against the angle past the flank's start."""
        value = self.height / self.duration**derivative * self.rise(past / self.duration, derivative)
        return value + self.ramp(past, derivative) if self.ramp else value


Sides = tuple[_Side, _Side]


def _two_sided(sides: Sides, angle: Real, derivative: int) -> Floats:
    place = np.asarray(angle, dtype=np.float64)
    value = np.empty_like(place)
    before = place < 0
    opening, closing = sides
    value[before] = opening(opening.duration + place[before], derivative)
    value[~before] = (-1.0) ** derivative * closing(closing.duration - place[~before], derivative)
    return value


@dataclass(frozen=True, kw_only=True)
class LawLobe:
    """A lobe that rises and falls by a law of motion; `opening` and `closing` are the flanks' durations, rad.

    `lift` m is the greatest lift, ramps included. A `closing_law` is given where the closing side has a law of its own.
    """

    law: str
    lift: float
    opening: float
    closing: float
    opening_ramp: Ramp | None = None
    closing_ramp: Ramp | None = None
    closing_law: str | None = None

    def __post_init__(self) -> None:
        _ = self._sides

    @functools.cached_property
    def _sides(self) -> Sides:
        up, down = law_of(self.law), law_of(self.closing_law or self.law)
        opening = _Side(self.lift, self.opening, self.opening_ramp, functools.partial(rising, up))
        return opening, _Side(self.lift, self.closing, self.closing_ramp, functools.partial(rising, down))

    @property
    def span(self) -> tuple[float, float]:
        """First and last angle of the lift, ramps included, rad."""
        return -self._sides[0].length, self._sides[1].length

    def __call__(self, angle: Real, derivative: int = 0) -> Floats:
        """As in Lift, and higher derivatives too."""
        return _two_sided(self._sides, angle, derivative)


@dataclass(frozen=True, kw_only=True)
class PowerLobe:
    """A lobe, or a valve lift, by a power polynomial; half durations in rad, `lift` m the greatest lift.

    With unequal halves the acceleration steps at the nose, since each half has its own there.
    """

    powers: tuple[float, ...]
    lift: float
    half_opening: float
    half_closing: float
    opening_ramp: Ramp | None = None
    closing_ramp: Ramp | None = None

    def __post_init__(self) -> None:
        coefficients(self.powers)
        _ = self._sides

    @functools.cached_property
    def _sides(self) -> Sides:
        def rise(x: Floats, derivative: int) -> Floats:
            return (-1.0) ** derivative * power_rise(self.powers, 1 - x, derivative)

        opening = _Side(self.lift, self.half_opening, self.opening_ramp, rise)
        return opening, _Side(self.lift, self.half_closing, self.closing_ramp, rise)

    @property
    def span(self) -> tuple[float, float]:
        """First and last angle of the lift, ramps included, rad."""
        return -self._sides[0].length, self._sides[1].length

    def __call__(self, angle: Real, derivative: int = 0) -> Floats:
        """As in Lift, and higher derivatives too."""
        return _two_sided(self._sides, angle, derivative)


class WholeLift(Lift, Protocol):
    """A Lift that also gives its fourth and fifth derivative, and where it starts and ends."""

    @property
    def span(self) -> tuple[float, float]:
        """First and last angle of the lift, rad."""
        ...


@dataclass(frozen=True, kw_only=True)
class Polydyne:
    """The lobe's lift, as felt at the valve, that gives a wanted valve lift at one speed of the cam.

    s = y (1 + ks/kr) + F0/kr + (m/kr) w^2 y'', kr the linkage's stiffness at the valve. `opening_ramp` and
    `closing_ramp`, rad, are the angles over which the lobe rises to F0/kr before the valve leaves its seat and comes
    down after; without them F0/kr stays on all round, as in the equation. Divided by the ratio (scaled()) it is the
    lobe's own lift. Where the valve's jerk steps (all double-dwell laws but 4-5-6-7) the lobe's speed does.
    """

    valve: WholeLift
    mass: float
    spring_rate: float
    stiffness: float
    preload: float
    cam_speed: float
    opening_ramp: float = 0.0
    closing_ramp: float = 0.0

    def __post_init__(self) -> None:
        _over_zero("a polydyne lobe", mass=self.mass, stiffness=self.stiffness, cam_speed=self.cam_speed)
        least = min(self.spring_rate, self.preload, self.opening_ramp, self.closing_ramp)
        if not least >= 0:
            raise InputError("a polydyne lobe", expected="spring rate, preload and ramps of zero or more")
        if (self.opening_ramp > 0) != (self.closing_ramp > 0):
            raise InputError("a polydyne lobe with a ramp on one side", expected="a ramp on both sides or on none")
        if max(-self.span[0], self.span[1]) > PI:
            raise InputError(
                "a polydyne lobe longer than a turn", expected="each side with its ramp within half a turn"
            )
        at = np.linspace(self.valve.span[0] - STEP, self.valve.span[1] + STEP, SEARCHED)
        rises = np.abs(np.diff(self.valve(at, 2))).max()
        if rises > 2 * (at[1] - at[0]) * np.abs(self.valve(at, 3)).max():
            raise InputError(
                "a polydyne lobe for a valve lift whose acceleration steps: so would the lobe's own lift",
                expected="an acceleration that is zero at both ends and alike on both sides of the nose",
            )

    @property
    def ramp_height(self) -> float:
        """F0/kr: how far the linkage gives before the valve leaves its seat, m at the valve."""
        return self.preload / self.stiffness

    @property
    def span(self) -> tuple[float, float]:
        """First and last angle of the lift, ramps included, rad."""
        opens, closes = self.valve.span
        return opens - self.opening_ramp, closes + self.closing_ramp

    def __call__(self, angle: Real, derivative: int = 0) -> Floats:
        """As in Lift; takes the valve's derivatives up to two higher."""
        place = np.asarray(angle, dtype=np.float64)
        give = 1 + self.spring_rate / self.stiffness
        inertia = self.mass / self.stiffness * self.cam_speed**2
        lift = self.valve(place, derivative) * give + inertia * self.valve(place, derivative + 2)
        return lift + self._ramp(place, derivative)

    def _ramp(self, place: Floats, derivative: int) -> Floats:
        if not self.opening_ramp:
            return np.full_like(place, 0.0 if derivative else self.ramp_height)
        (opens, closes), cycloid = self.valve.span, law_of("cycloidal")
        up = (place - opens) / self.opening_ramp + 1
        down = (closes - place) / self.closing_ramp + 1
        steep = self.opening_ramp**-derivative, (-1.0 / self.closing_ramp) ** derivative
        sides = rising(cycloid, up, derivative) * steep[0], rising(cycloid, down, derivative) * steep[1]
        return np.asarray(self.ramp_height * np.where(place < 0, *sides))
