"""Invented sets of springs off an invented tester, clean or with one planted fault, from a seed."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace

import numpy as np

from loadbench.arrays import Floats
from loadbench.readings.accuracy import Accuracy
from loadbench.readings.trust import flag

INCH, LBF = 0.0254, 4.4482216152605
RATE = 420 * LBF / INCH
FREE = 1.9 * INCH + 150 * LBF / RATE
STATED = Accuracy(gain=0.01, zero=1 * LBF, repeatability=0.5 * LBF, height=0.002 * INCH)
UNSTATED = Accuracy(gain=0.003, zero=0.3 * LBF, repeatability=0.5 * LBF, height=0.002 * INCH)
"""What a tester does whose accuracy nobody stated."""
TALL, SHORT = 1.900, 1.200


@dataclass(frozen=True, kw_only=True)
class Way:
    """How a set is made: counts, real spread (high to low, as a share, of a set of 16), what the tester does to it."""

    springs: int = 16
    heights: int = 2
    repeats: int = 1
    spread: float = 0.03
    progressive: float = 0.0
    rounded: float = 0.1
    normal: bool = True
    accuracy: Accuracy = STATED
    zero: float = 0.0
    scale: float = 0.0
    parts: tuple[str, ...] = ("",)
    rows: bool = True


def clean_line(height: Floats, progressive: float = 0.0) -> Floats:
    """The load of the spring as it was designed, N, at heights, m."""
    travel = FREE - height
    reach = FREE - SHORT * INCH
    return RATE * travel * (1 + progressive * (travel / reach - 0.5) / 2)


def heights_of(way: Way) -> Floats:
    """Even heights between seat and open, whole hundredths of an inch, m."""
    return np.round(np.linspace(TALL, SHORT, way.heights) if way.heights > 1 else np.array([TALL]), 2) * INCH


def spec_of(way: Way) -> list[tuple[float, float]]:
    """The sheet: seat and open load."""
    at = np.array([TALL, SHORT] if way.heights > 1 else [TALL]) * INCH
    return list(zip(at.tolist(), clean_line(at, way.progressive).tolist(), strict=True))


def made(way: Way, rng: np.random.Generator) -> list[flag.TestedSpring]:
    """A set. Half of the spread is the rate's, half the free height's; gain and zero are drawn once for the tester."""
    deviation = way.spread / 3.53 / np.sqrt(2)  # the mean range of 16 normal values is 3.53 deviations
    k = 1 + deviation * rng.standard_normal(way.springs)
    extra = deviation * 150 * LBF * rng.standard_normal(way.springs)

    def half(width: float | None, *shape: int) -> Floats:
        size = 0.0 if width is None else width
        return size / np.sqrt(3) * rng.standard_normal(shape) if way.normal else size * rng.uniform(-1, 1, shape)

    accuracy = way.accuracy if way.accuracy.stated else UNSTATED
    gain = rng.uniform(-1, 1) * (accuracy.gain or 0.0) + way.scale
    zero = rng.uniform(-1, 1) * (accuracy.zero or 0.0) + way.zero
    at = heights_of(way)
    shape = (way.springs, len(at), way.repeats)
    springs: list[list[flag.TestedReading]] = [[] for _ in range(way.springs)]
    for place, part in enumerate(way.parts):
        true = at[None, :, None] + half(accuracy.height, *shape)
        loads = k[:, None, None] * clean_line(true, way.progressive) + extra[:, None, None]
        loads = (1 + gain) * loads + zero + half(accuracy.repeatability, *shape)
        loads = np.round(loads / LBF / way.rounded) * way.rounded * LBF
        for i, j, repeat in np.ndindex(*shape):
            line = 2 + (i * len(at) + j) * way.repeats + repeat if way.rows else 2 + i
            springs[i].append(
                flag.TestedReading(
                    part=part,
                    height=float(at[j]),
                    load=float(loads[i, j, repeat]),
                    repeat=repeat + 1,
                    row=line + place * 1000,
                    column=3 if way.rows else 2 + j * way.repeats + repeat,
                )
            )
    return [flag.TestedSpring(id=str(i + 1), readings=tuple(own), path=f"springs.{i}") for i, own in enumerate(springs)]


def changed(
    springs: list[flag.TestedSpring], spring: int, change: Callable[[int, flag.TestedReading], flag.TestedReading]
) -> list[flag.TestedSpring]:
    """The set with the readings of one spring changed."""
    own = springs[spring]
    own = replace(own, readings=tuple(change(place, reading) for place, reading in enumerate(own.readings)))
    return [*springs[:spring], own, *springs[spring + 1 :]]


def by_share(share: float) -> Callable[[int, flag.TestedReading], flag.TestedReading]:
    """A change of every load by a share."""
    return lambda _, reading: replace(reading, load=reading.load * (1 + share))


def one_load(place: int, share: float) -> Callable[[int, flag.TestedReading], flag.TestedReading]:
    """A change of one load by a share, with all its repeats where there are several."""
    return lambda at, reading: replace(reading, load=reading.load * (1 + share)) if at == place else reading


def listed(tested: float, told: float) -> Callable[[int, flag.TestedReading], flag.TestedReading]:
    """A reading that is listed at another height than it was tested at, both in inches."""
    return lambda _, each: replace(each, height=told * INCH) if abs(each.height - tested * INCH) < 1e-6 else each


def taken(tested: float, told: float) -> Callable[[int, flag.TestedReading], flag.TestedReading]:
    """A reading that is listed at a height of the set, but was taken at another, both in inches."""
    more = float(clean_line(np.array(tested * INCH)) - clean_line(np.array(told * INCH)))
    return lambda _, each: replace(each, load=each.load + more) if abs(each.height - told * INCH) < 1e-6 else each


def bent(growth: float) -> Callable[[int, flag.TestedReading], flag.TestedReading]:
    """A spring whose rate grows as it is pressed."""

    def change(_: int, each: flag.TestedReading) -> flag.TestedReading:
        at = np.array(each.height)
        return replace(each, load=each.load + float(clean_line(at, growth) - clean_line(at)))

    return change
