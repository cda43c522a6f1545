"""Sizes of a spring: what passes and what is refused."""

from __future__ import annotations

import numpy as np
import pytest

from loadbench.errors import InputError
from loadbench.spring.sizes import not_negative, positive


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
