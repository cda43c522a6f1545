"""Half-widths, combined and expanded uncertainties, chances."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from loadbench.readings.accuracy import Accuracy, chance_below, expanded, standard


def test_expanded_is_twice_the_root_of_the_squares() -> None:
    assert expanded(3.0, 4.0) == pytest.approx(10.0)
    assert expanded() == 0.0


def test_one_unknown_makes_the_whole_unknown() -> None:
    assert expanded(3.0, None) is None


def test_nothing_stated_is_no_uncertainty() -> None:
    assert standard(None) == 0.0
    assert not Accuracy().stated
    assert not Accuracy(gain=0.01, zero=4.0).drawn_anew
    assert Accuracy(height=5e-5).drawn_anew
    assert Accuracy(gain=0.0).stated  # stated as none is stated


def test_one_reading_by_hand() -> None:
    # +-2 N and +-0.05 mm at 73.5 N/mm: (2^2 + 3.675^2)/3.
    u = float(Accuracy(repeatability=2.0, height=5e-5).of_reading(73500.0))
    assert u**2 == pytest.approx((2**2 + 3.675**2) / 3, rel=1e-12)


def test_chance_on_the_limit_is_half() -> None:
    assert chance_below(1.0, 1.0, 0.1) == pytest.approx(0.5)
    assert chance_below(1.0, 2.0, None) is None
    assert (chance_below(1.0, 0.999, 0.0), chance_below(1.0, 1.0, 0.0)) == (1.0, 0.0)


def test_one_deviation_above_the_limit() -> None:
    # U = 0.2 is two deviations, so 0.1 above is one: 15.87 % below.
    assert chance_below(1.0, 1.1, 0.2) == pytest.approx(0.1586553, abs=1e-6)


@given(st.floats(-1, 1), st.floats(-1, 1), st.floats(1e-6, 10))
def test_chance_falls_as_the_value_rises(one: float, other: float, u: float) -> None:
    low, high = sorted((one, other))
    at_low, at_high = chance_below(0.0, low, u), chance_below(0.0, high, u)
    assert at_low is not None
    assert at_high is not None
    assert 0 <= at_high <= at_low <= 1


@given(st.floats(-1, 1), st.floats(1e-3, 10))
def test_both_sides_add_to_one(value: float, u: float) -> None:
    below, above = chance_below(0.0, value, u), chance_below(0.0, -value, u)
    assert below is not None
    assert above is not None
    assert below + above == pytest.approx(1.0) or math.isclose(value, 0)
