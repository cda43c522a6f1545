"""The least spread of seat load: the narrowest windows of loads in which every valve can have a spring of its own.

A window slides over the levels of load. What forbids it, valves with too few springs between them, forbids every
window up to the first that brings one of these valves a new spring; all between are passed over.

Source: own derivation, from Hall's condition.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from loadbench.arrays import Floats, Indices
from loadbench.fitup.choice_table import Bools
from loadbench.fitup.levels import Levels, Progress, first_true, told
from loadbench.fitup.matching import Matching, Shortage, bits_to_bools, rows_of_bits

SEEDS = 8
"""Windows tried before the sweep, for a width to start with."""

Window = tuple[int, int]
"""The first level and the end, the level after the last."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Narrowest:
    """The least spread, N, and every window in which it can be had."""

    width: float
    windows: tuple[Window, ...]


def least_spread(levels: Levels, progress: Progress | None = None) -> Narrowest | None:
    """The narrowest windows in which every valve can have a spring of its own.

    Args:
        levels: the choices; springs of one kind.
        progress: called with the share done; may raise Cancelled.

    Returns:
        The windows, equal in width but for float rounding; None where no plan holds.
    """
    sweep = _Sweep(levels)
    count = len(levels.level)
    if not count or sweep.shortage(0, count) is not None:
        return None
    width = sweep.seeded()
    found: list[Window] = []
    first = sweep.next_low(0, width)
    while first < count:
        told(progress, first / count)
        end = levels.end_within(first, width + levels.slack)
        shortage = sweep.shortage(first, end)
        if shortage is None:
            window = (first, sweep.least_end(first, end))
            found.append(window)
            width = min(width, sweep.width(window))
            after = first + 1
        else:
            after = max(first + 1, sweep.past(shortage, end, width + levels.slack))
        first = sweep.next_low(after, width)
    tied = [window[0] for window in found if sweep.width(window) <= width + levels.slack]
    windows = tuple((low, levels.end_within(low, width + levels.slack)) for low in tied)
    return Narrowest(width=width, windows=windows)


class _Sweep:
    """The windows over one set of levels, with the matching kept from window to window."""

    def __init__(self, levels: Levels) -> None:
        self._levels = levels
        self._matching = Matching(levels.valves, levels.kinds[0])
        self._last = _last_levels(levels)
        self._widths = self._least_widths()

    def _least_widths(self) -> Floats:
        """For each low the least width that gives every valve some choice; a bound for the width of a plan."""
        level = self._levels.level
        within = self._last < len(level)
        return np.where(within, level[np.minimum(self._last, len(level) - 1)] - level, np.inf)

    def shortage(self, first: int, end: int) -> Shortage | None:
        """What forbids a plan within a window; None where there is one."""
        return self._matching.fill(rows_of_bits(self._levels.pairs(first, end)))

    def width(self, window: Window) -> float:
        """From the first level to the last, N."""
        return float(self._levels.level[window[1] - 1] - self._levels.level[window[0]])

    def least_end(self, first: int, end: int) -> int:
        """The least end of a window from `first`, known to hold a plan up to `end`."""
        low = int(self._last[first]) + 1
        while low < end:
            middle = (low + end) // 2
            if self.shortage(first, middle) is None:
                end = middle
            else:
                low = middle + 1
        return end

    def seeded(self) -> float:
        """A width that is known to hold a plan, from lows that promise much.

        First those that promise most; then by halving to where promises begin to be kept, which is far down the list
        where two groups of valves want different loads. Else the sweep would come to the width in small steps.
        """
        within = int(np.isfinite(self._widths).sum())
        promising = np.argsort(self._widths, kind="stable")[:within].tolist()
        width = self.width((0, len(self._levels.level)))
        for first in promising[:SEEDS]:
            width = self._bettered(first, width)
        broken, kept = 0, len(promising)
        while kept - broken > 1:
            middle = (broken + kept) // 2
            nearer = self._bettered(promising[middle], width)
            if nearer < width or self._widths[promising[middle]] >= width:
                kept, width = middle, nearer
            else:
                broken = middle
        return width

    def _bettered(self, first: int, width: float) -> float:
        """The width less what a window from one low betters it by."""
        if self._widths[first] >= width:
            return width
        end = self._levels.end_within(first, width)
        if self.shortage(first, end) is not None:
            return width
        return min(width, self.width((first, self.least_end(first, end))))

    def next_low(self, first: int, width: float) -> int:
        """The next low, from `first` on, whose bound is within a width."""
        most = width + self._levels.slack

        def promising(start: int, end: int) -> Bools:
            yes: Bools = self._widths[start:end] <= most
            return yes

        return first_true(promising, first, len(self._levels.level))

    def past(self, shortage: Shortage, end: int, width: float) -> int:
        """The first low whose window, so wide, brings a new spring to the valves of a shortage."""
        levels = self._levels
        short = np.zeros(levels.valves, dtype=np.bool_)
        short[list(shortage.valves)] = True
        known = bits_to_bools(shortage.springs, levels.kinds[0])

        def eases(start: int, to: int) -> Bools:
            yes: Bools = short[levels.valve[start:to]] & ~known[levels.takes[0][start:to]]
            return yes

        choice = first_true(eases, int(levels.start[end]), len(levels.load))
        if choice == len(levels.load):
            return len(levels.level)
        reached = int(np.searchsorted(levels.start, choice, side="right")) - 1
        return int(np.searchsorted(levels.level, levels.level[reached] - width, side="left"))


def _last_levels(levels: Levels) -> Indices:
    """For each low the level up to which a window must reach to give every valve a choice; L where none does.

    Where every spring is needed, it must give every spring a valve too.
    """
    last = _reached(levels, levels.valve, levels.valves)
    if levels.kinds[0] == levels.valves:
        last = np.maximum(last, _reached(levels, levels.takes[0], levels.kinds[0]))
    return last


def _reached(levels: Levels, owner: Indices, owners: int) -> Indices:
    """For each low the level up to which every owner has appeared again.

    The next choice of a choice's owner is what a window needs that starts just above that choice: so the furthest
    such next one of all choices below a low, and the owners' first ones.
    """
    count, ends = len(owner), len(levels.level)
    level_of = np.repeat(np.arange(ends), np.diff(levels.start))
    order = np.argsort(owner, kind="stable")
    same = owner[order][1:] == owner[order][:-1]
    following = np.full(count, ends)
    following[order[:-1][same]] = level_of[order[1:][same]]
    first = np.full(owners, ends)
    known, places = np.unique(owner, return_index=True)
    first[known] = level_of[places]
    furthest = np.maximum.accumulate(following)
    last = np.full(ends, first.max(initial=0))
    last[1:] = np.maximum(last[1:], furthest[levels.start[1:-1] - 1])
    return last
