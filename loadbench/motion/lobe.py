"""Lobes by law: two flanks, each with its ramp.

Each class here but the ramp is a Lift. Angles are of the cam from the nose, rad, -pi to pi, below zero before it.
"""

from __future__ import annotations

import functools
import math
from collections.abc import Callable
from dataclasses import dataclass

import numpy as np

from loadbench.arrays import Floats, Real
from loadbench.errors import InputError, Place
from loadbench.motion.laws import PI, Law, Piece, joined, law_of, rising
from loadbench.motion.power_lift import coefficients, power_rise


def over_zero(where: str, **values: float) -> None:
    """Refuse what is not above zero.

    Args:
        where: whose values they are, as the message tells it.
        values: each by its name.

    Raises:
        InputError: one of them is not above zero.
    """
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
        over_zero("a ramp", height=self.height, angle=self.angle, blend=self.blend)
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
        over_zero("a lobe", lift=self.lift, duration=self.duration)
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

    With unequal halves of the same exponents the acceleration steps at the nose, since each half has its own there;
    `closing_powers` are given where the closing half has exponents of its own.
    """

    powers: tuple[float, ...]
    lift: float
    half_opening: float
    half_closing: float
    opening_ramp: Ramp | None = None
    closing_ramp: Ramp | None = None
    closing_powers: tuple[float, ...] | None = None

    def __post_init__(self) -> None:
        for powers in (self.powers, self.closing_powers):
            if powers is not None:
                coefficients(powers)
        _ = self._sides

    @functools.cached_property
    def _sides(self) -> Sides:
        def rise(powers: tuple[float, ...], x: Floats, derivative: int) -> Floats:
            return (-1.0) ** derivative * power_rise(powers, 1 - x, derivative)

        up, down = (functools.partial(rise, powers) for powers in (self.powers, self.closing_powers or self.powers))
        opening = _Side(self.lift, self.half_opening, self.opening_ramp, up)
        return opening, _Side(self.lift, self.half_closing, self.closing_ramp, down)

    @property
    def span(self) -> tuple[float, float]:
        """First and last angle of the lift, ramps included, rad."""
        return -self._sides[0].length, self._sides[1].length

    def __call__(self, angle: Real, derivative: int = 0) -> Floats:
        """As in Lift, and higher derivatives too."""
        return _two_sided(self._sides, angle, derivative)
