"""Largest matchings and the windows of the least spread, against scipy's matching and every window tried."""

from __future__ import annotations

import itertools

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from hypothesis.extra.numpy import arrays

from loadbench.errors import Cancelled, InputError
from loadbench.fitup.best_fit import deficient_valves, largest_matching
from loadbench.fitup.bottleneck import Narrowest, least_spread
from loadbench.fitup.choice_table import Bools, ChoiceTable
from loadbench.fitup.levels import Levels, levels_of
from loadbench.fitup.matching import Matching, bits_to_bools, rows_of_bits
from tests.fitup.judges import head, small_tables

tables_of_pairs = st.tuples(st.integers(1, 7), st.integers(1, 12)).flatmap(
    lambda shape: arrays(np.bool_, shape, elements=st.sampled_from([True, False, False]))
)


def matched(allowed: Bools) -> int:
    """How many valves scipy can give a spring."""
    from scipy.sparse import csr_array
    from scipy.sparse.csgraph import maximum_bipartite_matching

    return int((maximum_bipartite_matching(csr_array(allowed), perm_type="column") >= 0).sum())


@given(allowed=tables_of_pairs)
def test_the_largest_matching_is_as_large_as_the_one_of_scipy(allowed: Bools) -> None:
    size, without = largest_matching(allowed)
    assert size == matched(allowed)
    assert len(without) == len(allowed) - size
    assert matched(np.delete(allowed, without, axis=0)) == size


@given(allowed=tables_of_pairs)
def test_deficient_valves_have_too_few_springs_and_none_is_needless(allowed: Bools) -> None:
    group = deficient_valves(allowed)
    if matched(allowed) == len(allowed):
        assert group == ()
        return
    own = allowed[list(group)]
    assert own.any(axis=0).sum() < len(group)
    for place in range(len(group)):
        assert matched(np.delete(own, place, axis=0)) == len(group) - 1


def test_the_smallest_group_found_is_told() -> None:
    allowed = np.ones((6, 5), dtype=np.bool_)
    allowed[2:4] = np.arange(5) == 1
    assert deficient_valves(allowed) == (2, 3)
    allowed[5] = False
    assert deficient_valves(allowed) == (5,)


@given(tables=st.lists(tables_of_pairs, min_size=2, max_size=2))
def test_a_matching_that_is_kept_judges_each_table_anew(tables: list[Bools]) -> None:
    size = max(table.shape[0] for table in tables), max(table.shape[1] for table in tables)
    matching = Matching(*size)
    for table in tables:
        allowed = np.zeros(size, dtype=np.bool_)
        allowed[: table.shape[0], : table.shape[1]] = table
        shortage = matching.fill(rows_of_bits(allowed))
        assert (shortage is None) == (matched(allowed) == size[0])
        if shortage is not None:
            springs = bits_to_bools(shortage.springs, size[1])
            assert (allowed[list(shortage.valves)].any(axis=0) == springs).all()
            assert springs.sum() < len(shortage.valves)


def levels_for(choices: ChoiceTable) -> Levels:
    shims = np.array([len(stack) for stack in choices.stacks], dtype=np.intp)
    return levels_of(choices.seat, choices.allowed, choices.deviation, shims)


def every_window(levels: Levels) -> Narrowest | None:
    """The narrowest windows by asking every one of them."""
    windows = [
        (levels.level[end - 1] - levels.level[first], first)
        for first, end in itertools.combinations(range(len(levels.level) + 1), 2)
        if matched(levels.pairs(first, end)) == levels.valves
    ]
    if not windows:
        return None
    width = min(windows)[0]
    lows = sorted({first for own, first in windows if own <= width + levels.slack})
    return Narrowest(width=width, windows=tuple((low, levels.end_within(low, width + levels.slack)) for low in lows))


@given(choices=small_tables())
def test_no_narrower_window_and_no_other_as_narrow_is_left_out(choices: ChoiceTable) -> None:
    levels = levels_for(choices)
    found, judged = least_spread(levels), every_window(levels)
    assert (found is None) == (judged is None)
    if found is not None and judged is not None:
        assert found.width == pytest.approx(judged.width, abs=levels.slack)
        assert found.windows == judged.windows


@pytest.mark.parametrize(("valves", "springs", "tolerance"), [(5, 8, 0.03), (6, 6, 0.05), (3, 9, 0.0)])
def test_on_a_head_no_narrower_window_is_left_out(valves: int, springs: int, tolerance: float) -> None:
    levels = levels_for(head(valves, springs, seed=7, tolerance=tolerance))
    assert least_spread(levels) == every_window(levels)


def test_equal_loads_are_one_level() -> None:
    seat = np.array([[[600.0], [600 * (1 + 2e-13)], [601.0]]])
    levels = levels_of(seat, np.ones(seat.shape, dtype=np.bool_), np.zeros(seat.shape), np.array([0]))
    assert levels.level.tolist() == [600.0, 601.0]
    assert levels.start.tolist() == [0, 2, 3]


def test_costs_put_a_step_of_deviation_before_all_shims_and_stay_exact() -> None:
    seat = np.full((40, 2, 2), 600.0)
    deviation = np.zeros(seat.shape)
    deviation[..., 0], deviation[0, 0, 0] = 1e-6, 5e4
    levels = levels_of(seat, np.ones(seat.shape, dtype=np.bool_), deviation, np.array([0, 3]))
    assert (levels.cost == np.rint(levels.cost)).all()
    assert levels.cost.max() * 40 < 2**52
    assert levels.unit / 100 > 40 * 3


def test_a_choice_without_its_deviation_is_refused_unless_it_is_forbidden() -> None:
    seat = np.full((1, 2, 1), 600.0)
    deviation = np.array([[[0.0], [np.nan]]])
    with pytest.raises(InputError, match="deviation"):
        levels_of(seat, np.ones(seat.shape, dtype=np.bool_), deviation, np.array([0]))
    assert len(levels_of(seat, np.isfinite(deviation), deviation, np.array([0])).load) == 1


def test_the_sweep_may_be_cancelled() -> None:
    def stop(_: float) -> None:
        raise Cancelled

    with pytest.raises(Cancelled):
        least_spread(levels_for(head(4, 6, seed=1)), stop)
