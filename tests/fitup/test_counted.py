"""Shims that are counted: the best plan they reach for, against every plan tried and an integer programme."""

from __future__ import annotations

import threading
import time
from typing import Any

import numpy as np
import pytest
from hypothesis import given
from typing_extensions import override

from loadbench.errors import Cancelled
from loadbench.fitup import counted
from loadbench.fitup.best_fit import NotKnownError, best_fit
from loadbench.fitup.choice_table import ChoiceTable
from loadbench.fitup.integer_plan import Clock, integer_plan
from loadbench.fitup.levels import each_once, levels_of
from tests.fitup.judges import IN, best_of_all, by_integer_programme, head, holds, small_tables, table, verdict
from tests.fitup.test_best_fit import agree

SMALL, LARGE = 0.4e-3, 0.8e-3
THOU = IN / 1000


@given(choices=small_tables(counted=True))
def test_no_plan_that_keeps_the_counts_is_better(choices: ChoiceTable) -> None:
    chosen = best_fit(choices)
    assert agree(verdict(chosen), best_of_all(choices))
    if chosen is not None:
        assert chosen.proved
        assert holds(choices, chosen)


@pytest.mark.parametrize(
    "counts",
    [{15: 3}, {15: 2, 30: 2}, {15: 4, 30: 1, 60: 3}, {30: 0}],
    ids=["one size", "two sizes", "three sizes", "none left"],
)
@pytest.mark.parametrize(("valves", "springs"), [(8, 10), (8, 8)])
def test_an_integer_programme_finds_nothing_better(valves: int, springs: int, counts: dict[int, int]) -> None:
    there = {size * THOU: count for size, count in counts.items()}
    choices = head(valves, springs, seed=6, tolerance=0.05, counts=there)
    chosen = best_fit(choices)
    assert agree(verdict(chosen), by_integer_programme(choices))
    assert chosen is None or holds(choices, chosen)


@given(choices=small_tables(counted=True))
def test_the_integer_programme_alone_finds_the_same(choices: ChoiceTable) -> None:
    with pytest.MonkeyPatch.context() as monkeypatch:
        to_the_programme(monkeypatch)
        chosen = best_fit(choices)
    assert agree(verdict(chosen), best_of_all(choices))


def test_counts_that_are_enough_change_nothing() -> None:
    free, many = head(8, 10, seed=1), head(8, 10, seed=1, counts={15 * THOU: 99})
    assert verdict(best_fit(free)) == verdict(best_fit(many))


def test_a_plan_as_good_within_the_counts_is_found_among_equals() -> None:
    # Without counts both valves would take the first stack; two of the three ways to lay one large shim are enough.
    seat = np.full((2, 2, 2), 600.0)
    chosen = best_fit(table(seat, [(LARGE,), (SMALL,)], counts={LARGE: 1, SMALL: 1}))
    assert chosen is not None
    assert sorted(chosen.stacks) == [0, 1]


def test_counts_that_do_not_reach_leave_no_plan() -> None:
    assert best_fit(table(np.full((2, 2, 1), 600.0), [(SMALL,)], counts={SMALL: 1})) is None
    prices = [[SMALL], [LARGE]]
    assert best_fit(table(np.full((3, 3, 2), 600.0), prices, counts={SMALL: 1, LARGE: 1})) is None


def to_the_programme(monkeypatch: pytest.MonkeyPatch) -> None:
    """Leave all to the integer programme."""
    monkeypatch.setattr(counted, "TURNS", 0)
    monkeypatch.setattr(counted, "MOST_TURNS", 0)


class Looks(Clock):
    """A clock on which each look takes a second."""

    @override
    def left(self) -> float:
        self._start -= 1.0
        return super().left()


def test_out_of_time_the_best_plan_so_far_is_not_called_proved(monkeypatch: pytest.MonkeyPatch) -> None:
    choices = head(8, 10, seed=6, tolerance=0.05, counts={15 * THOU: 1, 30 * THOU: 1})
    best = best_fit(choices)
    monkeypatch.setattr(counted, "Clock", Looks)
    chosen = best_fit(choices, time_limit=3.5)
    assert best is not None
    assert chosen is not None
    assert (best.proved, chosen.proved) == (True, False)
    assert chosen.spread >= best.spread
    assert holds(choices, chosen)
    assert "proof" in str(NotKnownError())
    to_the_programme(monkeypatch)
    with pytest.raises(NotKnownError):
        best_fit(choices, time_limit=0.5)


def test_cancel_is_heard_while_the_integer_programme_runs(monkeypatch: pytest.MonkeyPatch) -> None:
    import scipy.optimize

    running, done = threading.Event(), threading.Event()

    def slow(*_: Any, **__: Any) -> None:
        running.set()
        done.wait(5.0)

    monkeypatch.setattr(scipy.optimize, "milp", slow)
    to_the_programme(monkeypatch)

    def stop(_: float) -> None:
        if running.is_set():
            raise Cancelled

    before = time.monotonic()
    try:
        with pytest.raises(Cancelled):
            best_fit(head(8, 10, seed=6, tolerance=0.05, counts={15 * THOU: 1, 30 * THOU: 1}), stop)
    finally:
        done.set()
    assert time.monotonic() - before < 3.0


def test_the_integer_programme_gives_each_valve_one_choice() -> None:
    choices = head(6, 8, seed=3)
    shims = np.array([len(stack) for stack in choices.stacks])
    levels = levels_of(choices.seat, choices.allowed, choices.deviation, shims)
    plan = integer_plan(levels, (0, len(levels.level)), levels.deviation, (), Clock(20.0, None))
    assert plan is not None
    assert each_once(levels, plan)
    assert integer_plan(levels, (0, 1), levels.deviation, (), Clock(20.0, None)) is None
