"""Stacks of shims from stock, against every multiset written out by hand."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from loadbench.errors import InputError
from loadbench.fitup.inverse import STOCK_SHIMS, THOU
from loadbench.fitup.stacks import stacks_of


def in_thou(stacks: tuple[tuple[float, ...], ...]) -> list[tuple[int, ...]]:
    return [tuple(round(shim / THOU) for shim in stack) for stack in stacks]


def test_the_stacks_of_a_shop() -> None:
    assert in_thou(stacks_of(STOCK_SHIMS)) == [(), (15,), (30,), (30, 15), (60,), (60, 15), (60, 30)]


def test_without_stock_there_is_the_empty_stack() -> None:
    assert stacks_of(()) == ((),)


def test_a_counted_size_keeps_the_stacks_that_need_less_of_it() -> None:
    found = in_thou(stacks_of([15 * THOU, 30 * THOU, 60 * THOU], {30 * THOU: 1}))
    assert found == [(), (15,), (30,), (15, 15), (30, 15), (15, 15, 15), (60,), (60, 15), (60, 30), (60, 15, 15)]


def test_no_stack_needs_more_than_there_are() -> None:
    assert in_thou(stacks_of([15 * THOU, 30 * THOU], {30 * THOU: 0})) == [(), (15,), (15, 15), (15, 15, 15)]
    assert in_thou(stacks_of([30 * THOU], {30 * THOU: 2})) == [(), (30,), (30, 30)]


def test_a_size_stated_twice_is_one() -> None:
    assert stacks_of([0.4e-3, 0.4e-3]) == stacks_of([0.4e-3])


def test_no_stack_is_taller_or_has_more_shims_than_may_be() -> None:
    assert in_thou(stacks_of([50 * THOU])) == [(), (50,)]
    assert in_thou(stacks_of([30 * THOU])) == [(), (30,), (30, 30), (30, 30, 30)]
    assert in_thou(stacks_of([5 * THOU], most_shims=2)) == [(), (5,), (5, 5)]


@pytest.mark.parametrize("size", [0.0, -1e-3, float("nan")])
def test_a_shim_without_thickness_is_refused(size: float) -> None:
    with pytest.raises(InputError, match="zero"):
        stacks_of([size])


@given(sizes=st.lists(st.integers(1, 95), max_size=5), count=st.integers(0, 3))
def test_every_thickness_that_can_be_laid_is_there(sizes: list[int], count: int) -> None:
    counts = {sizes[0] * THOU: count} if sizes else {}
    found = stacks_of([size * THOU for size in sizes], counts)
    laid = {0: 0}
    for a in [0, *sizes]:
        for b in [0, *sizes]:
            for c in [0, *sizes]:
                stack = [shim for shim in (a, b, c) if shim]
                if sum(stack) <= 90 and (not sizes or stack.count(sizes[0]) <= count):
                    laid[sum(stack)] = min(len(stack), laid.get(sum(stack), 3))
    fewest: dict[int, int] = {}
    for own in in_thou(found):
        assert own == tuple(sorted(own, reverse=True))
        fewest[sum(own)] = min(len(own), fewest.get(sum(own), 3))
    assert fewest == laid
    assert len(set(found)) == len(found)
