"""Surge modes of a tapering spring under any load, without a chain of elements for each: its turns land one by one.

What is free swings nearly like a string: mode k stands at k/(2 T), T the time that a wave takes through the free turns,
the sum of sqrt(c m). What a chain of elements gives over that, the ratio, hardly changes while turns land (by 2 % in a
cone from 32 to 20 mm) and ends at one, where the few turns that are left are as good as alike. So it is had from chains
at a few landings, and taken as straight between them.

Symbols: c compliance and m mass of an element, T time of a wave through it, k number of a mode.
"""

from __future__ import annotations

from bisect import bisect_right
from dataclasses import dataclass, field

import numpy as np

from loadbench.arrays import Floats
from loadbench.spring.landing import closing_loads
from loadbench.spring.surge_chain import chain_frequencies

SHARES = (1.0, 0.75, 0.5, 0.25, 0.1)
"""Shares of T left at the landings where a chain is solved, once the first turn is down; below the last, to one."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class LandingSpring:
    """A spring cut into elements that land from the seat on, and what is known of its modes as they do.

    `landing` are the loads at which elements land, N, rising; `left` is T with so many landed, s, of one more place;
    `free` its modes with all free, Hz. `ratios` holds those of the landings that have been asked for.
    """

    compliances: Floats
    masses: Floats
    landing: Floats
    left: Floats
    free: Floats
    nodes: tuple[int, ...]
    ratios: dict[int, Floats] = field(default_factory=dict)

    def modes(self, load: float) -> Floats:
        """Modes with a load on the spring.

        Args:
            load: N.

        Returns:
            Frequencies, Hz, of the shape of `free`; NaN where every turn has landed.

        Source:
            own derivation: surge_chain.modes_at_load(), within 0.1 % of a chain of ten times as many elements.
        """
        down = int(np.searchsorted(self.landing, load, side="right"))
        if down == 0:
            return self.free
        if down >= self.landing.size:
            return np.full(self.free.shape, np.nan)
        return np.asarray(self._between(down) * np.arange(1, self.free.size + 1) / (2 * self.left[down]))

    def _between(self, down: int) -> Floats:
        """The ratio with so many landed: straight in T from node to node, and from the last one to nothing."""
        place = bisect_right(self.nodes, down) - 1
        if place < 0:
            return np.ones(self.free.shape)
        above, start = self._ratio(place), self.left[self.nodes[place]]
        if down == self.nodes[place]:
            return above
        end = self.left[self.nodes[place + 1]] if place + 1 < len(self.nodes) else 0.0
        return np.asarray(above + (start - self.left[down]) / (start - end) * (self._ratio(place + 1) - above))

    def _ratio(self, place: int) -> Floats:
        """Modes of a chain of what is free at a node over those of a string; one once hardly anything is."""
        if place >= len(self.nodes):
            return np.ones(self.free.shape)
        if place not in self.ratios:
            down, number = self.nodes[place], np.arange(1, self.free.size + 1)
            free = np.arange(down, self.landing.size)
            found = chain_frequencies(self.compliances, self.masses, self.free.size, free)
            # A chain of like elements falls short of the string by this; so does one of elements that are nearly alike.
            short = np.sinc(number / (2 * free.size))
            self.ratios[place] = found * 2 * self.left[down] / (number * short)
        return self.ratios[place]


def landing_spring(compliances: Floats, gaps: Floats, masses: Floats, free: Floats) -> LandingSpring | None:
    """A spring whose turns land from the seat on, as cones and beehives of an even pitch do.

    Args:
        compliances: m/N, shape (elements,), seat to retainer.
        gaps: free gap of each, m.
        masses: kg, likewise.
        free: its modes with every element free, Hz, shape (modes,).

    Returns:
        The spring; no chain is solved before a load is asked for. None where turns land in another order.

    Source:
        rodriguez for the landings; own derivation for the time of a wave.
    """
    landing = closing_loads(compliances, gaps)
    rising = np.maximum.accumulate(landing)
    if np.any(rising - landing > 1e-9 * rising):
        return None
    left = np.concatenate((np.cumsum(np.sqrt(compliances * masses)[::-1])[::-1], [0.0]))
    # Elements that land under one load leave together: the modes in between are never seen.
    levels = np.flatnonzero(np.diff(rising) > 1e-9 * rising[1:]) + 1
    wanted = [levels[np.argmin(np.abs(left[levels] - share * left[levels[0]]))] for share in SHARES if levels.size]
    nodes = tuple(int(each) for each in np.unique(wanted) if landing.size - each > free.size)
    return LandingSpring(
        compliances=compliances, masses=masses, landing=rising, left=left, free=free, nodes=nodes
    )  # fmt: skip
