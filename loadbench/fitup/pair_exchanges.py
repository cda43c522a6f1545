"""A good plan of outers, inners and stacks by exchanges, each of them an exact fit of single springs.

With the pairs fixed, and with one spring of each pair fixed, the rest is a fit of single springs; these are taken in
turn until none betters the plan. It need not be the best plan there is.

Source: own derivation.
"""

from __future__ import annotations

import contextlib
from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np

from loadbench.arrays import Floats, Indices
from loadbench.fitup.best_fit import best_plan
from loadbench.fitup.choice_table import Bools
from loadbench.fitup.counted import NotKnownError, stock_of
from loadbench.fitup.integer_plan import Clock, OutOfTimeError
from loadbench.fitup.levels import levels_of
from loadbench.fitup.pair_table import PairTable

MOST_ROUNDS = 20

ONE_FIT = 0.5
"""Seconds for one fit of single springs where shims are counted."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class PairPlan:
    """Outer, inner and stack of each valve, (V,) each, with spread, deviation and shims."""

    outers: Indices
    inners: Indices
    stacks: Indices
    worth: tuple[float, float, int]


def pair_plan(table: PairTable, outers: Indices, inners: Indices, stacks: Indices) -> PairPlan:
    """A plan with what it is judged by."""
    rows, own = np.arange(len(table.valves)), (outers[:, None], inners[:, None])
    seat, deviation = table.seat(*own)[rows, 0, stacks], table.deviation(*own)[rows, 0, stacks]
    worth = float(np.ptp(seat)), float(deviation.sum()), sum(len(table.stacks[stack]) for stack in stacks)
    return PairPlan(outers=outers, inners=inners, stacks=stacks, worth=worth)


def exchanged(table: PairTable, clock: Clock) -> PairPlan | None:
    """A plan that neither another placing of its pairs nor another choice of outers or of inners betters.

    Args:
        table: the choices.
        clock: how long it may take.

    Returns:
        The best plan found; None where none was.

    Raises:
        Cancelled: by the clock's listener.
    """
    exchanges = _Exchanges(table, clock)
    with contextlib.suppress(OutOfTimeError):
        exchanges.run()
    return exchanges.best


class _Exchanges:
    """The best plan so far and the fits that may better it."""

    def __init__(self, table: PairTable, clock: Clock) -> None:
        self.best: PairPlan | None = None
        self._table = table
        self._clock = clock
        self._stock = stock_of(table.stacks, table.counts)
        self._shims = np.array([len(stack) for stack in table.stacks], dtype=np.intp)

    def run(self) -> None:
        """Begin with some pairs, then exchange until nothing betters the plan."""
        for outers, inners in _first_pairs(self._table):
            self._keep(self._placed(outers, inners))
        for _ in range(MOST_ROUNDS):
            before = self.best
            if before is None:
                return
            self._keep(self._placed(*_spare_pairs(self._table, before)))
            self._keep(self._inners_anew(before.outers))
            self._keep(self._outers_anew(before.inners))
            if self.best is before:
                return

    def _keep(self, plan: PairPlan | None) -> None:
        if plan is not None and (self.best is None or plan.worth < self.best.worth):
            self.best = plan

    def _placed(self, outers: Indices, inners: Indices) -> PairPlan | None:
        """The best placing of given pairs."""
        table = self._table
        found = self._fit(table.seat(outers, inners), table.allowed(outers, inners), table.deviation(outers, inners))
        return None if found is None else pair_plan(table, outers[found[0]], inners[found[0]], found[1])

    def _inners_anew(self, outers: Indices) -> PairPlan | None:
        """The best choice of inners and stacks where the outers stay."""
        every = np.arange(len(self._table.inners))
        pair = np.repeat(outers[:, None], len(every), axis=1), np.tile(every, (len(outers), 1))
        found = self._fit(self._table.seat(*pair), self._table.allowed(*pair), self._table.deviation(*pair))
        return None if found is None else pair_plan(self._table, outers, *found)

    def _outers_anew(self, inners: Indices) -> PairPlan | None:
        """The best choice of outers and stacks where the inners stay."""
        every = np.arange(len(self._table.outers))
        pair = np.tile(every, (len(inners), 1)), np.repeat(inners[:, None], len(every), axis=1)
        found = self._fit(self._table.seat(*pair), self._table.allowed(*pair), self._table.deviation(*pair))
        return None if found is None else pair_plan(self._table, found[0], inners, found[1])

    def _fit(self, seat: Floats, allowed: Bools, deviation: Floats) -> tuple[Indices, Indices] | None:
        """Spring and stack of each valve by the fit of single springs; None where none was found."""
        levels = levels_of(seat, allowed, deviation, self._shims)
        try:
            found = best_plan(levels, self._stock, ONE_FIT, self._look)
        except NotKnownError:
            return None
        return None if found is None else (levels.takes[0][found[0]], levels.stack[found[0]])

    def _look(self, _: float) -> None:
        self._clock.left()


def _first_pairs(table: PairTable) -> Iterator[tuple[Indices, Indices]]:
    """Pairs to begin with: the strong outers with the weak inners, of all and of those nearest to the middle."""
    outers, inners = _ranked(table.seat_outer, table.locked[:, 0]), _ranked(table.seat_inner, table.locked[:, 1])
    count = min(len(outers), len(inners))
    for outer_start in {0, (len(outers) - count) // 2, len(outers) - count}:
        for inner_start in {0, (len(inners) - count) // 2, len(inners) - count}:
            outer, inner = outers[outer_start : outer_start + count], inners[inner_start : inner_start + count]
            yield _with_locked(table, outer, inner[::-1])


def _with_locked(table: PairTable, outers: Indices, inners: Indices) -> tuple[Indices, Indices]:
    """The locked springs first, each in a pair of its valve; where one of the two is free, the next one free."""
    free = {0: list(outers), 1: list(inners)}
    pairs = []
    for outer, inner in table.locked[(table.locked[:, :2] >= 0).any(axis=1), :2].tolist():
        pair = [outer, inner]
        for kind in (0, 1):
            if pair[kind] < 0 and free[kind]:
                pair[kind] = free[kind].pop(len(free[kind]) // 2)
        if min(pair) >= 0:
            pairs.append(pair)
    pairs += [list(pair) for pair in zip(free[0], free[1], strict=False)]
    both = np.array(pairs, dtype=np.intp).reshape(-1, 2)
    return both[:, 0], both[:, 1]


def _ranked(seat: Floats, locked: Indices) -> Indices:
    """The springs that are not locked, rising in load as far as it is known."""
    known = np.isfinite(seat)
    mean = np.where(known, seat, 0.0).sum(axis=(0, 2)) / np.maximum(known.sum(axis=(0, 2)), 1)
    order = np.argsort(mean, kind="stable")
    ranked: Indices = order[~np.isin(order, locked[locked >= 0])]
    return ranked


def _spare_pairs(table: PairTable, plan: PairPlan) -> tuple[Indices, Indices]:
    """The pairs of a plan, and pairs of what it leaves."""
    outers, inners = _ranked(table.seat_outer, plan.outers), _ranked(table.seat_inner, plan.inners)[::-1]
    count = min(len(outers), len(inners))
    return np.append(plan.outers, outers[:count]), np.append(plan.inners, inners[:count])
