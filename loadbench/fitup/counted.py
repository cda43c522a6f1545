"""The best plan where shims are counted, or where each valve takes an outer and an inner spring: by halving and proof.

Windows are tried many at once: where the window over a whole stretch of lows holds no plan, none of these lows does;
else the stretch is halved. Each window is first asked what is cheap to refuse: a spring for every valve, then the
fewest counted shims (an assignment); only what neither settles goes to the integer programme.

Source: own derivation; branch and bound, with Lagrangian bounds for the counts.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import numpy as np

from loadbench.arrays import Floats, Indices
from loadbench.errors import LoadBenchError
from loadbench.fitup.assignment import cheapest
from loadbench.fitup.backtracking import tried
from loadbench.fitup.integer_plan import AtMost, Clock, OutOfTimeError, integer_plan
from loadbench.fitup.levels import Levels, Progress
from loadbench.fitup.matching import Matching, rows_of_bits
from loadbench.fitup.stacks import same_size

MOST_TURNS = 500
"""Choices tried one after the other before the integer programme is asked."""

TURNS = 6
"""Turns of raising the price of what runs short before the integer programme is asked."""


class NotKnownError(LoadBenchError):
    """The search ended before it had a plan or a proof that none holds."""

    def __init__(self) -> None:
        super().__init__("The search ran out of time before it found a plan or a proof that none holds.")


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Stock:
    """The counted sizes: how many of each a stack takes, (K, N), and how many there are, (N,)."""

    use: Indices
    there: Indices

    def taken(self, levels: Levels) -> Floats:
        """How many of each size a choice takes, (C, N)."""
        return self.use[levels.stack].astype(np.float64)

    def reaches(self, levels: Levels, plan: Indices) -> bool:
        """Whether there are enough shims for a plan."""
        return bool(np.all(self.use[levels.stack[plan]].sum(axis=0) <= self.there))


def stock_of(stacks: Sequence[tuple[float, ...]], counts: Mapping[float, int]) -> Stock:
    """The counted sizes of some stacks.

    Args:
        stacks: each stack's shims, m.
        counts: how many there are of a size, m; one that is not named is there without end.

    Returns:
        The stock; without sizes where nothing is counted.
    """
    use = [[sum(same_size(shim, size) for shim in stack) for size in counts] for stack in stacks]
    shape = (len(stacks), len(counts))
    return Stock(use=np.array(use, dtype=np.intp).reshape(shape), there=np.array(list(counts.values()), dtype=np.intp))


def counted_plan(
    levels: Levels,
    stock: Stock,
    least_width: float,
    time_limit: float,
    progress: Progress | None = None,
    start: Indices | None = None,
) -> tuple[Indices, bool] | None:
    """The best plan that the counted shims reach for.

    Args:
        levels: the choices.
        stock: the counted sizes.
        least_width: a spread, N, below which no plan is, such as the least without counts.
        time_limit: s.
        progress: called with the share of the time that is used; may raise Cancelled.
        start: a plan that holds, to be bettered.

    Returns:
        The choice of each valve, (V,), and whether it is proved the best; None where no plan holds.

    Raises:
        NotKnownError: the time ended before there was a plan or a proof that there is none.
    """
    search = _Search(levels, stock, Clock(time_limit, progress), start)
    try:
        if search.begun():
            search.approach(least_width)
            search.narrow()
            search.settle()
    except OutOfTimeError:
        if search.best is None:
            raise NotKnownError from None
        return search.best, False
    return None if search.best is None else (search.best, True)


def any_plan(levels: Levels, stock: Stock, time_limit: float, progress: Progress | None = None) -> bool:
    """Whether any plan holds that the counted shims reach for.

    Args:
        levels: the choices.
        stock: the counted sizes.
        time_limit: s.
        progress: called with the share of the time that is used; may raise Cancelled.

    Returns:
        True where one holds, False where none is proved to.

    Raises:
        NotKnownError: the time ended before either was known.
    """
    try:
        return _Search(levels, stock, Clock(time_limit, progress), None).begun()
    except OutOfTimeError:
        raise NotKnownError from None


class _Search:
    """One search: the best plan so far, and the questions asked of windows."""

    def __init__(self, levels: Levels, stock: Stock, clock: Clock, start: Indices | None) -> None:
        self.best = start
        self._levels = levels
        self._stock = stock
        self._clock = clock
        self._taken = stock.taken(levels)
        self._rows = [
            AtMost(weight=self._taken[:, place], limit=float(there)) for place, there in enumerate(stock.there)
        ]
        self._matchings = [Matching(levels.valves, kind) for kind in levels.kinds]

    @property
    def _spread(self) -> float:
        return np.inf if self.best is None else self._levels.spread(self.best)

    def begun(self) -> bool:
        """Find any plan; False where none holds."""
        if self.best is None and len(self._levels.level):
            self.best = self._plan_in(0, len(self._levels.level))
        return self.best is not None

    def approach(self, least_width: float) -> None:
        """Find a plan in narrow windows, each time twice as wide, before the wide ones are asked."""
        level = self._levels.level
        width = least_width + self._levels.slack
        while width < self._spread - self._levels.slack:
            if self._halved(width, stop_at_first=True):
                return
            width = max(2 * width, float(level[-1] - level[0]) / 256)

    def narrow(self) -> None:
        """Prove the least spread: try all windows narrower than the best plan's, which narrows meanwhile."""
        self._halved(None, stop_at_first=False)

    def _halved(self, width: float | None, *, stop_at_first: bool) -> bool:
        """Try all windows of a width, or of less than the best spread so far; tells whether one held a plan."""
        levels = self._levels
        spans = [(0, len(levels.level) - 1)]
        while spans:
            low, high = spans.pop()
            self._clock.left()
            within = self._spread - levels.slack if width is None else width
            plan = self._plan_in(low, levels.end_within(high, within)) if within >= 0 else None
            if plan is None:
                continue
            self._keep(plan)
            if stop_at_first and levels.spread(plan) <= within:
                return True
            if low < high:
                middle = (low + high) // 2
                spans += [(middle + 1, high), (low, middle)]
            elif width is None:
                self._tighten(low, plan)
        return False

    def _keep(self, plan: Indices) -> None:
        if self._levels.spread(plan) < self._spread:
            self.best = plan

    def _tighten(self, first: int, plan: Indices) -> None:
        """The least end of the windows from one low, by halving."""
        low, end = first + 1, self._end_of(plan)
        while low < end:
            middle = (low + end) // 2
            nearer = self._plan_in(first, middle)
            if nearer is None:
                low = middle + 1
            else:
                self._keep(nearer)
                end = self._end_of(nearer)

    def _end_of(self, plan: Indices) -> int:
        """The end of the windows that hold a plan, which ends with its last choice."""
        return int(np.searchsorted(self._levels.start, plan.max(), side="right"))

    def settle(self) -> None:
        """Of all windows of the best spread the least cost: deviation, then shims."""
        if self.best is None:
            return
        levels, width = self._levels, self._spread + self._levels.slack
        spans = [(0, len(levels.level) - 1)]
        while spans:
            low, high = spans.pop()
            self._clock.left()
            window = low, levels.end_within(high, width)
            if self._dearer(window) or self._plan_in(*window) is None:
                continue
            if low < high:
                middle = (low + high) // 2
                spans += [(middle + 1, high), (low, middle)]
            else:
                self._settle_in(window)

    def _dearer(self, window: tuple[int, int]) -> bool:
        """Whether, counts aside, a window can't hold a cheaper plan than the best."""
        levels = self._levels
        for kind in range(len(levels.kinds)):
            plan = cheapest(levels, *window, levels.cost, kind)
            if plan is None or not self._cheaper(plan):
                return True
        return False

    def _cheaper(self, plan: Indices) -> bool:
        cost = self._levels.cost
        return self.best is None or bool(cost[plan].sum() < cost[self.best].sum())

    def _settle_in(self, window: tuple[int, int]) -> None:
        """The least cost in a window of the best spread."""
        levels = self._levels
        if len(levels.kinds) == 1:
            plan = cheapest(levels, *window, levels.cost)
            if plan is not None and self._stock.reaches(levels, plan):
                self.best = plan if self._cheaper(plan) else self.best
                return
        plan = integer_plan(levels, window, levels.cost / levels.unit, self._rows, self._clock)
        if plan is not None and self._cheaper(plan):
            self.best = plan

    def _plan_in(self, first: int, end: int) -> Indices | None:
        """Any plan within a window; None where none holds."""
        levels = self._levels
        for kind, matching in enumerate(self._matchings):
            if matching.fill(rows_of_bits(levels.pairs(first, end, kind))) is not None:
                return None
        if len(levels.kinds) == 1:
            plan, refused = self._priced(first, end)
            if refused or plan is not None:
                return plan
        found = tried(levels, (first, end), self._stock.use, self._stock.there, MOST_TURNS)
        if found.settled:
            return None if found.plan is None else np.array(found.plan, dtype=np.intp)
        nothing = np.zeros(len(levels.load))
        return integer_plan(levels, (first, end), nothing, self._rows, self._clock)

    def _priced(self, first: int, end: int) -> tuple[Indices | None, bool]:
        """A plan by putting a price on counted shims, or whether the prices prove that there is none.

        What the cheapest plan costs at any prices is the least that any plan costs; where all the shims that are
        there cost less, no plan keeps to the counts.
        """
        there = self._stock.there.astype(np.float64)
        prices = np.ones(len(there))
        for _ in range(TURNS):
            plan = cheapest(self._levels, first, end, self._taken @ prices)
            if plan is None:
                return None, True
            over = self._taken[plan].sum(axis=0) - there
            if np.all(over <= 0):
                return plan, False
            if float(prices @ over) > 1e-6:
                return None, True
            prices = np.maximum(prices + over / max(float(np.abs(over).max()), 1.0), 0.0)
        return None, False
