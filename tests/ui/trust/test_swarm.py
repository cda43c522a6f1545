"""Marks of one column stand beside one another."""

from __future__ import annotations

import math
from itertools import combinations

from hypothesis import given
from hypothesis import strategies as st

from ui.trust.swarm import spread_out


@given(st.lists(st.floats(0, 400), max_size=64), st.floats(30, 400))
def test_no_mark_hides_another_and_all_stay_in_their_column(heights: list[float], reach: float) -> None:
    steps, apart = spread_out(heights, 9.5, reach)
    assert len(steps) == len(heights)
    assert all(abs(step) <= reach for step in steps)
    places = list(zip(steps, heights, strict=True))
    if apart >= 2:
        assert all(math.dist(one, other) >= 0.98 * apart for one, other in combinations(places, 2))


def test_a_lone_mark_stays_in_the_middle_and_the_first_of_two_too() -> None:
    assert spread_out([5.0], 9.5, 40.0) == ([0.0], 9.5)
    steps, _ = spread_out([5.0, 5.0], 9.5, 40.0)
    assert sorted(map(abs, steps)) == [0.0, 9.5]


def test_a_narrow_column_brings_them_closer() -> None:
    _, apart = spread_out([1.0] * 20, 9.5, 20.0)
    assert apart < 9.5
