"""The choices of a fit sorted by seat load: a window of loads is a stretch of them, a plan one choice for each valve.

Loads that differ by float rounding alone are one level, so that equal loads tie.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass

import numpy as np

from loadbench.arrays import Floats, Indices
from loadbench.errors import InputError
from loadbench.fitup.choice_table import Bools

Progress = Callable[[float], None]

SAME_LOAD = 1e-9
"""Share of the greatest load by which loads, and spreads, may differ and still be equal: float rounding."""

FINEST = 1e-6
"""Deviations are counted in steps of this, N: far below what any tester reads."""

EXACT = 2.0**52
"""Whole numbers up to here, and their sums and differences, are exact in floats."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Levels:
    """C choices, rising in load, and L levels of equal load.

    Attributes:
        load: seat load of each choice, N, (C,).
        valve: its valve, (C,).
        takes: what else it takes that there is only once, (C,) each: the spring, or the outer and the inner.
        stack: its stack, (C,).
        deviation: from the target, N, (C,).
        shims: how many it takes, (C,).
        valves: how many valves there are.
        kinds: how many there are of each of `takes`.
        level: load of each level, N, rising, (L,).
        start: the first choice of each level, and C at the end, (L + 1,).
        slack: what loads and spreads may differ by and still be equal, N.
        cost: a whole number for each choice, so that the lesser sum has the lesser deviation, and of equal
            deviations the fewer shims, (C,).
        unit: cost of a hundred of the steps in which deviations are counted.
    """

    load: Floats
    valve: Indices
    takes: tuple[Indices, ...]
    stack: Indices
    deviation: Floats
    shims: Indices
    valves: int
    kinds: tuple[int, ...]
    level: Floats
    start: Indices
    slack: float
    cost: Floats
    unit: float

    def end_within(self, first: int, width: float) -> int:
        """The end of the window that starts at a level and is so wide, N."""
        return int(np.searchsorted(self.level, self.level[first] + width, side="right"))

    def pairs(self, first: int, end: int, kind: int = 0) -> Bools:
        """Which valve may have which spring within the levels from `first` up to `end`."""
        choices = slice(self.start[first], self.start[end])
        allowed = np.zeros((self.valves, self.kinds[kind]), dtype=np.bool_)
        allowed[self.valve[choices], self.takes[kind][choices]] = True
        return allowed

    def spread(self, plan: Indices) -> float:
        """Greatest less least load of a plan, N."""
        return float(self.load[plan].max() - self.load[plan].min())


def levels_of(
    load: Floats, allowed: Bools, deviation: Floats, shims: Indices, progress: Progress | None = None
) -> Levels:
    """Sort the choices that hold.

    Args:
        load: seat load, N, (V, springs of one or two kinds, K).
        allowed: where every hard limit holds, of the same shape.
        deviation: N, of the same shape.
        shims: how many each stack has, (K,).
        progress: called once; may raise Cancelled.

    Returns:
        The levels.

    Raises:
        InputError: a choice that holds, of which the deviation is not known.
    """
    if progress is not None:
        progress(0.0)
    places = np.nonzero(allowed)
    order = np.argsort(load[places], kind="stable")
    valve, *takes, stack = (place[order] for place in places)
    sorted_load = load[places][order]
    own_deviation, own_shims = deviation[places][order], shims[stack]
    if not np.isfinite(own_deviation).all():
        raise InputError("A choice without its deviation from the target.", expected="zero where no target is stated")
    slack = SAME_LOAD * float(np.abs(sorted_load).max(initial=0.0))
    steps, weight = _steps(own_deviation, own_shims, load.shape[0])
    opens = np.flatnonzero(np.diff(sorted_load, prepend=-np.inf) > slack)
    return Levels(
        load=sorted_load,
        valve=valve,
        takes=tuple(takes),
        stack=stack,
        deviation=own_deviation,
        shims=own_shims,
        valves=load.shape[0],
        kinds=load.shape[1:-1],
        level=sorted_load[opens],
        start=np.append(opens, len(sorted_load)),
        slack=slack,
        cost=steps * weight + own_shims,
        unit=100.0 * weight,
    )


def _steps(deviation: Floats, shims: Indices, valves: int) -> tuple[Floats, int]:
    """Whole steps of deviation, and the weight of one for a cost of deviation first, then shims, in one whole number.

    A step of deviation weighs one more than all shims of a plan together. The step is 1e-6 N, or as much coarser as
    the sum over all valves needs to stay a whole number that floats hold exactly; so nothing is lost to rounding.
    """
    weight = valves * int(shims.max(initial=0)) + 1
    step = max(FINEST, float(deviation.max(initial=0.0)) * valves * weight / (EXACT / 2))
    return np.rint(deviation / step), weight


def told(progress: Progress | None, share: float) -> None:
    """Tell a share of the work, 0 to 1, to whoever listens; it may raise Cancelled."""
    if progress is not None:
        progress(min(max(share, 0.0), 1.0))


def narrowed(progress: Progress | None, low: float, high: float) -> Progress | None:
    """The same listener for a part of the work."""
    return None if progress is None else (lambda share: told(progress, low + share * (high - low)))


def first_true(found: Callable[[int, int], Bools], start: int, end: int) -> int:
    """The first place in [start, end) where `found(from, to)` says yes; `end` where none does."""
    chunk = 64
    while start < end:
        to = min(end, start + chunk)
        yes: Bools = found(start, to)
        place = int(yes.argmax())
        if yes[place]:
            return start + place
        start, chunk = to, 4 * chunk
    return end


def each_once(levels: Levels, plan: Sequence[int] | Indices) -> bool:
    """Whether a plan gives every valve one choice and no spring twice."""
    chosen = np.asarray(plan)
    if not np.array_equal(levels.valve[chosen], np.arange(levels.valves)):
        return False
    return all(len(set(take[chosen].tolist())) == levels.valves for take in levels.takes)
