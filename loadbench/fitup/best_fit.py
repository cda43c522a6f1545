"""Which spring and which stack of shims for every valve: the best plan, proved.

Within every hard limit the least spread of seat load; of those plans the least sum of deviations from the targets;
of those the fewest shims.
"""

from __future__ import annotations

import numpy as np

from loadbench.arrays import Indices
from loadbench.fitup.assignment import cheapest
from loadbench.fitup.bottleneck import Narrowest, least_spread
from loadbench.fitup.choice_table import ChoiceTable, Chosen
from loadbench.fitup.counted import NotKnownError, Stock, counted_plan, stock_of
from loadbench.fitup.levels import Levels, Progress, levels_of, narrowed, told
from loadbench.fitup.matching import deficient_valves, largest_matching

__all__ = ["NotKnownError", "best_fit", "deficient_valves", "largest_matching"]

TIME_LIMIT = 20.0
"""Seconds after which a search with counted shims ends with the best plan it has."""


def best_fit(table: ChoiceTable, progress: Progress | None = None, time_limit: float = TIME_LIMIT) -> Chosen | None:
    """The best plan of a table of choices.

    Args:
        table: what could stand where, and what forbids it.
        progress: called with the share done, 0 to 1; may raise Cancelled.
        time_limit: s, of the search that follows where the best plan needs more shims than are there.

    Returns:
        The plan; None where no assignment keeps every hard limit. `proved` is False only where the search with
        counted shims ran out of time.

    Raises:
        NotKnownError: that search ran out of time before it had a plan or a proof that there is none.
    """
    shims = np.array([len(stack) for stack in table.stacks], dtype=np.intp)
    levels = levels_of(table.seat, table.allowed, table.deviation, shims, progress)
    found = best_plan(levels, stock_of(table.stacks, table.counts), time_limit, progress)
    told(progress, 1.0)
    return None if found is None else _chosen(levels, found[0], proved=found[1])


def best_plan(
    levels: Levels, stock: Stock, time_limit: float = TIME_LIMIT, progress: Progress | None = None
) -> tuple[Indices, bool] | None:
    """The best plan of one kind of springs, as choices of the levels.

    Args:
        levels: the choices.
        stock: the counted sizes.
        time_limit: s, of the search where the best plan needs more shims than are there.
        progress: called with the share done, 0 to 1; may raise Cancelled.

    Returns:
        The choice of each valve, (V,), and whether it is proved the best; None where no plan holds.

    Raises:
        NotKnownError: that search ran out of time before it had a plan or a proof that there is none.
    """
    narrowest = least_spread(levels, narrowed(progress, 0.0, 0.4))
    if narrowest is None:
        return None
    plan = _closest(levels, narrowest, narrowed(progress, 0.4, 0.5))
    if stock.reaches(levels, plan):
        return plan, True
    return counted_plan(levels, stock, narrowest.width, time_limit, narrowed(progress, 0.5, 1.0))


def _closest(levels: Levels, narrowest: Narrowest, progress: Progress | None) -> Indices:
    """Of all windows of the least spread, the plan of least deviation, then of fewest shims."""
    best: Indices | None = None
    least = np.inf
    for place, (first, end) in enumerate(narrowest.windows):
        told(progress, place / len(narrowest.windows))
        plan = cheapest(levels, first, end, levels.cost)
        if plan is not None and (cost := float(levels.cost[plan].sum())) < least:
            best, least = plan, cost
    if best is None:
        raise AssertionError("a window with a matching has an assignment")
    return best


def _chosen(levels: Levels, plan: Indices, *, proved: bool) -> Chosen:
    return Chosen(
        springs=tuple(levels.takes[0][plan].tolist()),
        stacks=tuple(levels.stack[plan].tolist()),
        spread=levels.spread(plan),
        deviation=float(levels.deviation[plan].sum()),
        shims=int(levels.shims[plan].sum()),
        proved=proved,
    )
