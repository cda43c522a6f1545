"""Outer, inner and stack of shims for every valve: a good plan by exchanges, bettered and proved by branch and bound.

To choose outers and inners at once is a matching in three kinds, which no quick method solves for certain; most heads
are proved within the time limit, and where one is not the plan says so.
"""

from __future__ import annotations

import numpy as np

from loadbench.arrays import Indices
from loadbench.fitup.choice_table import Bools
from loadbench.fitup.counted import NotKnownError, counted_plan, stock_of
from loadbench.fitup.integer_plan import Clock
from loadbench.fitup.levels import Levels, Progress, levels_of, narrowed, told
from loadbench.fitup.matching import largest_matching
from loadbench.fitup.pair_exchanges import PairPlan, exchanged, pair_plan
from loadbench.fitup.pair_table import PairChosen, PairTable

__all__ = ["NotKnownError", "PairChosen", "PairTable", "paired_fit"]

MOST_CHOICES = 1_000_000
"""Choices of valve, outer, inner and stack up to which they are all laid out, about 0.1 kB each."""

TIME_LIMIT = 20.0
FOR_EXCHANGES = 0.25
"""The most of the time that exchanges may take."""


def paired_fit(table: PairTable, progress: Progress | None = None, time_limit: float = TIME_LIMIT) -> PairChosen | None:
    """The best plan of loose outers and inners: least spread, then least deviation, then fewest shims.

    Args:
        table: what could stand where, and what forbids it.
        progress: called with the share of the time that is used, 0 to 1; may raise Cancelled.
        time_limit: s; the best plan so far is then the answer.

    Returns:
        The plan, `proved` only where it is; None where no plan holds.

    Raises:
        NotKnownError: neither a plan nor a proof that none holds was found in time.
    """
    told(progress, 0.0)
    if not _possible(table):
        told(progress, 1.0)
        return None
    share = FOR_EXCHANGES
    plan = exchanged(table, Clock(share * time_limit, narrowed(progress, 0.0, share)))
    levels = _all_levels(table)
    if levels is None:
        if plan is None:
            raise NotKnownError
        told(progress, 1.0)
        return _chosen(plan, proved=plan.worth == (0.0, 0.0, 0))  # nothing is below nothing
    start = None if plan is None else _choices_of(levels, plan)
    left, stock = (1 - share) * time_limit, stock_of(table.stacks, table.counts)
    found = counted_plan(levels, stock, 0.0, left, narrowed(progress, share, 1.0), start)
    told(progress, 1.0)
    if found is None:
        return None
    choices, proved = found
    best = pair_plan(table, levels.takes[0][choices], levels.takes[1][choices], levels.stack[choices])
    return _chosen(best, proved=proved)


def _possible(table: PairTable) -> bool:
    """Whether every valve can have an outer of its own and an inner of its own, each with some spring of the other."""
    outers, inners = np.arange(len(table.outers)), np.arange(len(table.inners))
    some_outer = np.zeros((len(table.valves), len(outers)), dtype=np.bool_)
    some_inner = np.zeros((len(table.valves), len(inners)), dtype=np.bool_)
    for outer in outers:
        allowed: Bools = np.any(table.allowed(np.full(len(inners), outer), inners), axis=2)
        some_outer[:, outer] = allowed.any(axis=1)
        some_inner |= allowed
    return all(largest_matching(each)[0] == len(table.valves) for each in (some_outer, some_inner))


def _all_levels(table: PairTable) -> Levels | None:
    """Every choice of outer, inner and stack as levels; None where there are too many."""
    shape = len(table.valves), len(table.outers), len(table.inners), len(table.stacks)
    if np.prod(shape) > MOST_CHOICES:
        return None
    outer, inner = (each.ravel() for each in np.indices(shape[1:3]))
    seat, deviation = table.seat(outer, inner).reshape(shape), table.deviation(outer, inner).reshape(shape)
    shims = np.array([len(stack) for stack in table.stacks], dtype=np.intp)
    return levels_of(seat, table.allowed(outer, inner).reshape(shape), deviation, shims)


def _choices_of(levels: Levels, plan: PairPlan) -> Indices:
    """The same plan as choices of the levels."""
    mine = levels.stack == plan.stacks[levels.valve]
    for take, springs in zip(levels.takes, (plan.outers, plan.inners), strict=True):
        mine &= take == springs[levels.valve]
    choices = np.flatnonzero(mine)
    ordered: Indices = choices[np.argsort(levels.valve[choices])]
    return ordered


def _chosen(plan: PairPlan, *, proved: bool) -> PairChosen:
    return PairChosen(
        outers=tuple(plan.outers.tolist()),
        inners=tuple(plan.inners.tolist()),
        stacks=tuple(plan.stacks.tolist()),
        spread=plan.worth[0],
        deviation=plan.worth[1],
        shims=plan.worth[2],
        proved=proved,
    )
