"""What the surge picture reaches over: each mode as a band from closed to full lift, and where orders meet it."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from loadbench.spring.surge import LEAST_RATIO, critical_speed, order_frequency
from loadbench.units import Kind, Style, to_display
from ui.spring.stress_sight import chosen_of

if TYPE_CHECKING:
    from loadbench.analysis.coils.result import CoilAnalysis, SurgeRange
    from loadbench.arrays import Floats

SPEED, FREQUENCY = Kind.SPEED, Kind.FREQUENCY
ORDERS = int(LEAST_RATIO[1])
"""Rays drawn: the rule holds that orders beyond it hold too little lift to matter."""
ABOVE = 1.1  # times the limit: how far the picture goes on
WIDEST = 1.5  # times its lower end: what the picture makes room for of a first mode's band

Band = tuple[float, float]
"""A mode, Hz: with the valve closed and at full lift; both alike where no coil lands in between."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Crossing:
    """Where an order of the cam meets a mode of a coil, by its place in the nest.

    `speeds` are the engine's, rad/s, at both ends of the `band`. `start` and `end` are those of the stretch that lies
    in the working range and in the picture.
    """

    place: int
    mode: int
    order: int
    band: Band
    speeds: Band
    start: float
    end: float

    @property
    def key(self) -> str:
        """What the read-out knows it by."""
        return f"{self.place} {self.mode} {self.order}"

    @property
    def speed(self) -> float:
        """The engine speed, rad/s, from which on it is met."""
        return self.start


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Reach:
    """What is drawn: coils with modes by place, the chosen one's place, speeds in rad/s, the top of the picture in Hz.

    `idle` to `limit` is the working range; the picture goes on to `fast` and up to `high`.
    """

    coils: dict[int, CoilAnalysis]
    chosen: int
    idle: float
    limit: float
    fast: float
    high: float
    harmonics: Floats | None
    style: Style

    def across(self, speed: float) -> float:
        """An engine speed in the unit on show."""
        return to_display(speed, SPEED, self.style)

    def up(self, frequency: float) -> float:
        """A frequency in the unit on show."""
        return to_display(frequency, FREQUENCY, self.style)


def modes_of(coil: CoilAnalysis) -> Floats:
    """The modes with every coil free that are known, Hz; a taper of which hardly a coil is free has none."""
    held = np.empty(0) if coil.modes is None else np.asarray(coil.modes)
    return held[np.isfinite(held)]


def bands_of(coil: CoilAnalysis) -> list[Band]:
    """Each mode from closed to full lift; an end that is not known stands at the other one, else at every coil free."""
    free = modes_of(coil)
    closed, full = (
        np.full(free.shape, np.nan) if each is None else np.asarray(each)[: free.size]
        for each in (coil.modes_closed, coil.modes_open)
    )
    low = np.where(np.isfinite(closed), closed, np.where(np.isfinite(full), full, free))
    high = np.where(np.isfinite(full), full, low)
    return [(min(a, b), max(a, b)) for a, b in zip(low.tolist(), high.tolist(), strict=True)]


def widens(band: Band) -> bool:
    """Whether a mode is a band, not a line."""
    return band[1] > band[0] * (1 + 1e-9)


def reach_of(
    coils: tuple[CoilAnalysis, ...], surge: SurgeRange, member: str | None, style: Style
) -> Reach | None:  # fmt: skip
    """What is drawn and how far; None where no coil has modes or the speed limit is unknown."""
    known = {place: coil for place, coil in enumerate(coils) if modes_of(coil).size}
    place, limit = chosen_of(coils, member), surge.speed_limit
    if not known or place is None or limit is None:
        return None
    bands = [bands_of(coil) for coil in known.values()]
    firsts = [min(each[0][1], WIDEST * each[0][0]) for each in bands]
    tops = [min(each[:3][-1][1], WIDEST * each[:3][-1][0]) for each in bands]
    wanted = float(order_frequency(float(ORDERS), limit))
    high = min(max(wanted, 1.2 * max(firsts)), 1.1 * max(tops))
    return Reach(
        coils=known, chosen=place, idle=surge.idle_speed or 0.0, limit=limit, fast=ABOVE * limit, high=high,
        harmonics=surge.harmonics, style=style,
    )  # fmt: skip


def crossings_of(reach: Reach) -> list[Crossing]:
    """Every crossing in the working range and the picture: the chosen coil and low modes first, then the fastest."""
    found = [
        crossing
        for place, coil in reach.coils.items()
        for mode, band in enumerate(bands_of(coil), start=1)
        if band[0] <= reach.high
        for crossing in _of_mode(reach, place, mode, band)
    ]
    return sorted(found, key=lambda each: (each.place != reach.chosen, each.mode, -each.start))


def _of_mode(reach: Reach, place: int, mode: int, band: Band) -> list[Crossing]:
    """Where the orders meet one mode; of a band each has a stretch of speeds."""
    found = []
    for order in range(1, ORDERS + 1):
        slow, fast, top = (float(critical_speed(each, order)) for each in (*band, reach.high))
        start, end = max(slow, reach.idle), min(fast, reach.limit, top)
        if start <= end or math.isclose(start, end):
            found.append(
                Crossing(place=place, mode=mode, order=order, band=band, speeds=(slow, fast), start=start, end=end)
            )
    return found
