"""A spring for every valve: largest matchings, and the valves that compete for too few springs where there is none.

Rows of choices are bits of Python integers, one bit a spring: one operation asks all springs of a valve at once.

Source: own derivation, by augmenting paths (Berge) and Hall's condition.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

Bools = NDArray[np.bool_]


def rows_of_bits(allowed: Bools) -> list[int]:
    """Each row of a table of yes and no as one integer, bit s for column s."""
    width = (allowed.shape[1] + 7) // 8
    packed = np.packbits(allowed, axis=1, bitorder="little").tobytes()
    return [int.from_bytes(packed[row * width : (row + 1) * width], "little") for row in range(allowed.shape[0])]


def bits_to_bools(bits: int, count: int) -> Bools:
    """The first `count` bits of an integer as yes and no."""
    packed = np.frombuffer(bits.to_bytes((count + 7) // 8, "little"), dtype=np.uint8)
    return np.unpackbits(packed, bitorder="little")[:count].astype(np.bool_)


@dataclass(frozen=True, slots=True, kw_only=True)
class Shortage:
    """Valves that together have one spring too few: `springs` are the bits of all they may have."""

    valves: tuple[int, ...]
    springs: int


class Matching:
    """Which valve has which spring, kept from one table of choices to the next: what still holds stays."""

    def __init__(self, valves: int, springs: int) -> None:
        self.spring_of = [-1] * valves
        self._all = (1 << springs) - 1
        self._owner: dict[int, int] = {}
        self._free = self._all

    def fill(self, rows: Sequence[int]) -> Shortage | None:
        """Give every valve a spring of its own.

        Args:
            rows: the springs each valve may have, as bits.

        Returns:
            None where it is done, else a shortage that forbids it; the matching then stays as far as it came.
        """
        if not all(rows):
            return Shortage(valves=(list(rows).index(0),), springs=0)
        for valve in self._kept(rows):
            shortage = self._augmented(valve, rows)
            if shortage is not None:
                return shortage
        return None

    def fill_most(self, rows: Sequence[int]) -> tuple[Shortage, ...]:
        """Give as many valves as can be a spring of their own; returns a shortage for each valve left without."""
        without = [valve for valve in self._kept(rows) if self._augmented(valve, rows) is not None]
        # The shortages as the finished matching shows them: later paths moved what earlier ones saw.
        return tuple(each for valve in without if (each := self._augmented(valve, rows)) is not None)

    def _kept(self, rows: Sequence[int]) -> list[int]:
        """Drop the pairs that no longer may be; returns the valves without a spring."""
        self._owner, self._free = {}, self._all
        without = []
        for valve, row in enumerate(rows):
            spring = self.spring_of[valve]
            if spring >= 0 and row >> spring & 1:
                self._owner[spring] = valve
                self._free &= ~(1 << spring)
            else:
                self.spring_of[valve] = -1
                without.append(valve)
        return without

    def _augmented(self, valve: int, rows: Sequence[int]) -> Shortage | None:
        """One augmenting path, breadth first, from a valve without a spring; a shortage where there is none."""
        seen = 0
        reached_by: dict[int, int] = {}
        queue = [valve]
        for place in queue:
            new = rows[place] & ~seen
            if free := new & self._free:
                self._shift(valve, place, free & -free, reached_by)
                return None
            seen |= new
            while new:
                bit = new & -new
                new ^= bit
                spring = bit.bit_length() - 1
                reached_by[spring] = place
                queue.append(self._owner[spring])
        return Shortage(valves=tuple(queue), springs=seen)

    def _shift(self, start: int, place: int, bit: int, reached_by: dict[int, int]) -> None:
        """Hand the free spring to the end of the path, and each one's own to the one before it."""
        self._free &= ~bit
        spring = bit.bit_length() - 1
        while True:
            before = self.spring_of[place]
            self.spring_of[place] = spring
            self._owner[spring] = place
            if place == start:
                return
            spring, place = before, reached_by[before]


def largest_matching(allowed: Bools) -> tuple[int, tuple[int, ...]]:
    """How many valves can have a spring of their own at most.

    Args:
        allowed: which spring may stand on which valve, (V, S).

    Returns:
        How many, and the valves that one such matching leaves without.
    """
    matching = Matching(*allowed.shape)
    matching.fill_most(rows_of_bits(allowed))
    without = tuple(valve for valve, spring in enumerate(matching.spring_of) if spring < 0)
    return allowed.shape[0] - len(without), without


def deficient_valves(allowed: Bools) -> tuple[int, ...]:
    """Valves that compete for too few springs, none of which can be left out without ending the competition.

    Args:
        allowed: which spring may stand on which valve, (V, S).

    Returns:
        The smallest such group found, rising; empty where every valve can have a spring of its own.
    """
    rows = rows_of_bits(allowed)
    shortages = Matching(*allowed.shape).fill_most(rows)
    groups = [_reduced(sorted(each.valves), rows, allowed.shape[1]) for each in shortages]
    groups.sort(key=lambda group: (len(group), group))
    return tuple(groups[0]) if groups else ()


def _reduced(valves: list[int], rows: Sequence[int], springs: int) -> list[int]:
    """The group without the valves it does not need to be short."""
    for valve in list(valves):
        fewer = [each for each in valves if each != valve]
        if Matching(len(fewer), springs).fill([rows[each] for each in fewer]) is not None:
            valves = fewer
    return valves
