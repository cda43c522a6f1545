"""The best plan within one window of loads: least deviation from the targets, then fewest shims."""

from __future__ import annotations

import numpy as np

from loadbench.arrays import Floats, Indices
from loadbench.fitup.levels import Levels


def cheapest(levels: Levels, first: int, end: int, cost: Floats, kind: int = 0) -> Indices | None:
    """The plan of least cost within the levels from `first` up to `end`.

    Args:
        levels: the choices.
        first: level to start at.
        end: level to end before.
        cost: of each choice of the levels, (C,).
        kind: of springs, each of which may stand on one valve only; any other kind may stand twice.

    Returns:
        The choice of each valve, (V,); None where no plan holds.
    """
    from scipy.optimize import linear_sum_assignment

    choices = np.arange(levels.start[first], levels.start[end])
    # Written dearest first: of several stacks for one spring on one valve the last, the cheapest, stays.
    choices = choices[np.argsort(-cost[choices], kind="stable")]
    pairs = levels.valve[choices], levels.takes[kind][choices]
    least = np.full((levels.valves, levels.kinds[kind]), np.inf)
    best = np.full(least.shape, -1)
    least[pairs], best[pairs] = cost[choices], choices
    try:
        valves, springs = linear_sum_assignment(least)
    except ValueError:  # its word for: no plan without a forbidden pair
        return None
    if len(valves) < levels.valves:
        return None
    plan: Indices = best[valves, springs]
    return plan
