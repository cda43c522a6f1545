"""A plan as an integer programme: one choice a valve, no spring twice, no more shims than there are (scipy's HiGHS)."""

from __future__ import annotations

import threading
import time
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

import numpy as np

from loadbench.arrays import Floats, Indices
from loadbench.fitup.levels import Levels, Progress, each_once, told

POLL = 0.05
"""Seconds between two looks at whether the user stopped a running solver."""


class OutOfTimeError(Exception):
    """The time of a search is used up; caught where the search was started."""


class Clock:
    """The time a search may take; each look at it tells how much is used, and may raise Cancelled."""

    def __init__(self, limit: float, progress: Progress | None) -> None:
        self._limit = limit
        self._progress = progress
        self._start = time.monotonic()

    def left(self) -> float:
        """Seconds left.

        Raises:
            OutOfTimeError: none are.
        """
        used = time.monotonic() - self._start
        told(self._progress, used / self._limit if self._limit > 0 else 1.0)
        if used >= self._limit:
            raise OutOfTimeError
        return self._limit - used


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class AtMost:
    """A row of the programme: the sum of `weight`, (C,) of the levels, over a plan is at most `limit`."""

    weight: Floats
    limit: float


def integer_plan(
    levels: Levels, window: tuple[int, int], cost: Floats, rows: Sequence[AtMost], clock: Clock
) -> Indices | None:
    """The plan of least cost within a window, whatever else it may not exceed.

    Args:
        levels: the choices.
        window: the first level and the level after the last.
        cost: of each choice of the levels, (C,).
        rows: what the plan may not exceed.
        clock: how long it may take.

    Returns:
        The choice of each valve, (V,); None where no plan holds.

    Raises:
        OutOfTimeError: the solver did not end in time.
        Cancelled: by the clock's listener.
    """
    choices = np.arange(levels.start[window[0]], levels.start[window[1]])
    if len(np.unique(levels.valve[choices])) < levels.valves:
        return None
    problem = _problem(levels, choices, cost, rows)
    solved = _solved_aside(problem, clock)
    if solved.status == 2:
        return None
    if solved.status != 0:
        raise OutOfTimeError
    plan = choices[solved.x > 0.5]
    ordered: Indices = plan[np.argsort(levels.valve[plan])]
    if not each_once(levels, ordered):
        raise RuntimeError("the integer programme gave a spring twice or a valve none")
    return ordered


def _problem(levels: Levels, choices: Indices, cost: Floats, rows: Sequence[AtMost]) -> dict[str, Any]:
    """What scipy.optimize.milp takes: each valve exactly one choice, each spring at most one."""
    from scipy.optimize import Bounds, LinearConstraint
    from scipy.sparse import csr_array

    columns = np.arange(len(choices))
    ones = np.ones(len(choices))
    blocks = [(levels.valve[choices], levels.valves, 1.0)]
    blocks += [(take[choices], kind, 0.0) for take, kind in zip(levels.takes, levels.kinds, strict=True)]
    constraints = [
        LinearConstraint(csr_array((ones, (owner, columns)), shape=(count, len(choices))), least, 1.0)
        for owner, count, least in blocks
    ]
    if rows:
        weights = np.array([row.weight[choices] for row in rows])
        constraints.append(LinearConstraint(weights, -np.inf, [row.limit for row in rows]))
    return {"c": cost[choices], "constraints": constraints, "integrality": ones, "bounds": Bounds(0, 1)}


def _solved_aside(problem: dict[str, Any], clock: Clock) -> Any:
    """The solver in a thread of its own: it listens to nobody while it works, so the clock is watched here.

    Stopped by the user, the thread is left to end by its own time limit; its answer goes nowhere.
    """
    from scipy.optimize import milp

    answers: list[Any] = []
    left = clock.left()

    def solve() -> None:
        # Without presolve: with it, HiGHS 1.12 fails on some programmes of few choices, and prints to stdout.
        options: Any = {"time_limit": left, "mip_rel_gap": 0.0, "presolve": False}
        answers.append(milp(**problem, options=options))

    thread = threading.Thread(target=solve, daemon=True)
    thread.start()
    thread.join(POLL / 10)
    while thread.is_alive():
        clock.left()
        thread.join(POLL)
    if not answers:
        raise RuntimeError("the integer programme was not understood")
    return answers[0]
