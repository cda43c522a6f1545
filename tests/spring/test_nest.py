"""Springs beside and on top of each other."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from loadbench.spring.coil import load_at_height
from loadbench.spring.nest import deflection_of_nest, member_height, rate_in_line

rates = st.lists(st.floats(1e3, 1e6), min_size=1, max_size=3)


def test_both_steps_shorten_the_room() -> None:
    assert float(member_height(2.150, 0.060, 0.040)) == pytest.approx(2.050, abs=1e-12)
    assert float(member_height(2.150)) == 2.150


@given(rates, st.floats(0.0, 0.02), st.floats(0.5, 50.0))
def test_members_loads_add_to_the_whole(each: list[float], gap: float, more: float) -> None:
    stiff, lengths = np.array(each), 0.06 - gap * np.arange(len(each))
    # Enough that the shortest member is touched: the load where it lies just bare, and some more.
    load = float(np.sum(stiff * (lengths - lengths[-1]))) + more
    height = lengths[0] - float(deflection_of_nest(load, stiff, lengths))
    members = [float(load_at_height(k, height, length, 0.0)) for k, length in zip(stiff, lengths, strict=True)]
    assert sum(members) == pytest.approx(load, rel=1e-9)
    assert min(members) >= -1e-6


@given(rates)
def test_in_line_is_softer_than_the_softest(each: list[float]) -> None:
    assert float(rate_in_line(np.array(each))) <= min(each) * (1 + 1e-12)


def test_two_alike_in_line_are_half_as_stiff() -> None:
    assert float(rate_in_line(np.array([400.0, 400.0]))) == pytest.approx(200.0)
