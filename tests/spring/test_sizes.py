"""Sizes of a spring: what passes and what is refused."""

from __future__ import annotations

import numpy as np
import pytest

from loadbench.errors import InputError
from loadbench.spring.sizes import above, not_negative, positive


def test_good_sizes_come_back_as_arrays() -> None:
    one, two = positive("sizes", 1, np.array([2.0, 3.0]))
    assert (one.shape, one.dtype, two.tolist()) == ((), np.float64, [2.0, 3.0])
    assert not_negative("friction", 0.0)[0] == 0.0


@pytest.mark.parametrize("bad", [-1e-12, float("nan"), np.array([1.0, -1.0])])
def test_one_bad_value_refuses_all(bad: float) -> None:
    with pytest.raises(InputError, match="sizes at zero or below"):
        positive("sizes", 1.0, bad)
    with pytest.raises(InputError, match="sizes below zero"):
        not_negative("sizes", 1.0, bad)


def test_nothing_is_not_a_size() -> None:
    with pytest.raises(InputError):
        positive("sizes", 0.0)


@pytest.mark.parametrize(("least", "told"), [(0.0, "zero"), (1.0, "1")])
def test_a_least_value_is_refused_and_an_unknown_one_passes(least: float, told: str) -> None:
    one, two = above("an index", least, least + 1e-9, [np.nan, 7.0])
    assert (float(one), np.isnan(two).tolist()) == (least + 1e-9, [True, False])
    for bad in (least, least - 1, [9.0, np.nan, least]):
        with pytest.raises(InputError, match=f"an index at {told} or below") as refused:
            above("an index", least, 5.0, bad)
        assert refused.value.expected == f"values above {told}"
