"""Laws of motion of a rise: lift over its height against angle over its duration, with every derivative.

Symbols: x angle over the duration of the rise, 0 to 1; y lift over the height of the rise, 0 to 1. A derivative times
height over duration^n is per radian of the cam; times the cam's speed^n it is per second.
"""

from __future__ import annotations

import functools
import itertools
import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import NamedTuple

import numpy as np

from loadbench.arrays import Floats, Real
from loadbench.errors import InputError

PI = math.pi
SEARCHED = 100_001
"""Places searched for the peak factors: an extreme between two of them is missed by less than 1e-8 of it."""


@dataclass(frozen=True, slots=True)
class Piece:
    """Part of a law up to x = end: a polynomial in x, and sines given by (amplitude, speed, phase)."""

    end: float
    polynomial: tuple[float, ...] = ()
    sines: tuple[tuple[float, float, float], ...] = ()

    def __call__(self, x: Real, derivative: int = 0) -> Floats:
        """Value or derivative at x, of any order."""
        place = np.asarray(x, dtype=np.float64)
        value = np.zeros_like(place)
        if len(self.polynomial) > derivative:
            falling = np.polynomial.polynomial.polyder(np.array(self.polynomial), derivative)
            value = np.asarray(np.polynomial.polynomial.polyval(place, falling))
        for amplitude, speed, phase in self.sines:
            value = value + amplitude * speed**derivative * np.sin(speed * place + (phase + derivative * PI / 2))
        return value


Law = tuple[Piece, ...]


def rising(pieces: Law, x: Real, derivative: int = 0) -> Floats:
    """A rise made of pieces; at rest at its level outside 0 to 1.

    Args:
        pieces: by rising end, the last of which is 1.
        x: angle over the duration of the rise.
        derivative: zero or more.

    Returns:
        y or its derivative, of x's shape. At a joint the later piece counts, at x = 1 the last one.

    Source:
        own derivation: one piece after another.
    """
    place = np.asarray(x, dtype=np.float64)
    inside = (place >= 0) & (place <= 1)
    start, value = 0.0, np.where(place > 1, 1.0 if derivative == 0 else 0.0, 0.0)
    for piece in pieces:
        last = piece is pieces[-1]
        here = inside & (place >= start) & ((place <= piece.end) if last else (place < piece.end))
        value[here] = piece(place[here], derivative)
        start = piece.end
    return value


def joined(pieces: Sequence[Piece]) -> Law:
    """Pieces whose acceleration is right, shifted so that lift and speed start at zero and run on without a step.

    Args:
        pieces: by rising end.

    Returns:
        The same with a straight line added to each.
    """
    done: list[Piece] = []
    start = lift = speed = 0.0
    for piece in pieces:
        slope = speed - float(piece(start, 1))
        level = lift - float(piece(start)) - slope * start
        line = np.zeros(max(2, len(piece.polynomial)))
        line[: len(piece.polynomial)] = piece.polynomial
        line[:2] += level, slope
        shifted = Piece(piece.end, tuple(line.tolist()), piece.sines)
        done.append(shifted)
        start, lift, speed = piece.end, float(shifted(piece.end)), float(shifted(piece.end, 1))
    return tuple(done)


def _modified_sine() -> Law:
    c = 1 / (4 + PI)
    steep = Piece(1 / 8, (0.0,), ((-c / 4, 4 * PI, 0.0),))
    gentle = Piece(7 / 8, (0.0,), ((-9 * c / 4, 4 * PI / 3, PI / 3),))
    return joined((steep, gentle, Piece(1.0, (0.0,), steep.sines)))


def _modified_trapezoid() -> Law:
    greatest = 8 * PI / (2 + PI)
    sine = greatest / (4 * PI) ** 2
    flat = greatest / 2
    return joined(
        (
            Piece(1 / 8, (), ((-sine, 4 * PI, 0.0),)),
            Piece(3 / 8, (0.0, 0.0, flat)),
            Piece(5 / 8, (), ((-sine, 4 * PI, -PI),)),
            Piece(7 / 8, (0.0, 0.0, -flat)),
            Piece(1.0, (), ((-sine, 4 * PI, -2 * PI),)),
        )
    )


_LAWS: dict[str, Law] = {
    "constant-acceleration": (Piece(0.5, (0.0, 0.0, 2.0)), Piece(1.0, (-1.0, 4.0, -2.0))),
    "harmonic": (Piece(1.0, (0.5,), ((0.5, PI, -PI / 2),)),),
    "double-harmonic": (Piece(1.0, (0.375,), ((0.5, PI, -PI / 2), (0.125, 2 * PI, PI / 2))),),
    "cycloidal": (Piece(1.0, (0.0, 1.0), ((-1 / (2 * PI), 2 * PI, 0.0),)),),
    "3-4-5": (Piece(1.0, (0.0, 0.0, 0.0, 10.0, -15.0, 6.0)),),
    "4-5-6-7": (Piece(1.0, (0.0, 0.0, 0.0, 0.0, 35.0, -84.0, 70.0, -20.0)),),
    "modified-sine": _modified_sine(),
    "modified-trapezoid": _modified_trapezoid(),
}
LAWS = tuple(_LAWS)
"""The names of the laws."""


def rise(law: str, x: Real, derivative: int = 0) -> Floats:
    """A rise of height 1 in the duration 1.

    Args:
        law: one of LAWS.
        x: angle over the duration; outside 0 to 1 the rise is at rest.
        derivative: 0 to 3 for lift, speed, acceleration, jerk; higher ones are given too.

    Returns:
        y or its derivative by x, of x's shape.

    Raises:
        InputError: a law of another name.

    Source:
        norton-cam, double-dwell motions; rothbart for the pieces of the modified sine.
    """
    return rising(law_of(law), x, derivative)


def law_of(name: str) -> Law:
    """The pieces of a law.

    Args:
        name: one of LAWS.

    Returns:
        Its pieces.

    Raises:
        InputError: another name.
    """
    if name not in _LAWS:
        raise InputError(f'no law of motion is called "{name}"', expected=", ".join(LAWS))
    return _LAWS[name]


class PeakFactors(NamedTuple):
    """Greatest absolute speed, acceleration and jerk of a rise of height 1 in the duration 1.

    The jerk is infinite where the acceleration steps within the rise; `end_step` is the greater acceleration with which
    the rise starts or ends, zero where it meets a dwell without a step.
    """

    speed: float
    acceleration: float
    jerk: float
    end_step: float


@functools.cache
def peak_factors(law: str) -> PeakFactors:
    """Peak factors of a law: times height over duration^n they are its peaks per radian.

    Args:
        law: one of LAWS.

    Returns:
        The factors, to 1e-8.

    Raises:
        InputError: a law of another name.

    Source:
        norton-cam, table of peak factors; own derivation: searched along the law.
    """
    pieces = law_of(law)
    x = np.linspace(0.0, 1.0, SEARCHED)
    speed, acceleration, jerk = (float(np.abs(rising(pieces, x, order)).max()) for order in (1, 2, 3))
    steps = (abs(one(one.end, 2) - other(one.end, 2)) for one, other in itertools.pairwise(pieces))
    if any(step > 1e-9 * acceleration for step in steps):
        jerk = math.inf
    ends = max(float(np.abs(rising(pieces, np.array([0.0, 1.0]), 2)).max()), 0.0)
    return PeakFactors(speed, acceleration, jerk, ends if ends > 1e-9 * acceleration else 0.0)
