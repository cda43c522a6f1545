"""Turns of the adjuster to plunger depth; cold to hot."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from loadbench.errors import InputError
from loadbench.follower.setting import (
    choose_pushrods,
    cold_lash,
    depth_per_turn,
    depth_with_pushrod,
    hot_depth,
    pushrod_length,
)
from loadbench.units import parse_thread

INCH = 0.0254


def test_a_turn_at_the_pivot() -> None:
    # 7/16-20: 0.050 in a turn; with R 1.7 the pushrod end sinks 0.050 x 2.7/1.7 = 0.0794 in (rule of thumb: 0.079).
    assert float(depth_per_turn(parse_thread("7/16-20"), "pivot", 1.7)) / INCH == pytest.approx(0.079412, abs=1e-6)


def test_a_turn_at_the_pushrod() -> None:
    # 3/8-24: 1/24 in a turn, straight on the pushrod (rule of thumb: 0.042).
    assert float(depth_per_turn(parse_thread("3/8-24"), "pushrod", 1.5)) / INCH == pytest.approx(0.041667, abs=1e-6)


def test_a_turn_at_the_valve_tip_is_less_by_the_ratio() -> None:
    assert float(depth_per_turn(parse_thread("7/16-20"), "valve-tip", 1.6)) / INCH == pytest.approx(0.03125, abs=1e-6)


@given(st.floats(0.5e-3, 2e-3), st.floats(1.01, 2.2))
def test_the_pivot_moves_the_plunger_most(pitch: float, ratio: float) -> None:
    at = {place: float(depth_per_turn(pitch, place, ratio)) for place in ("pivot", "pushrod", "valve-tip")}
    assert at["pivot"] > at["pushrod"] > at["valve-tip"]
    # A pivot that sinks takes both ends with it: what the pushrod end and the valve end do apart, it does together.
    assert at["pivot"] == pytest.approx(at["pushrod"] + at["valve-tip"], rel=1e-12)


def test_an_aluminium_head_on_iron_takes_depth_when_warm() -> None:
    # c = -0.006 in at the valve: 0.012 in cold, R 1.6: 0.012 - 0.006/1.6 = 0.00825 in.
    assert float(hot_depth(0.012, -0.006, 1.6)) == pytest.approx(0.00825, abs=1e-12)


def test_hot_lash_is_set_smaller_cold() -> None:
    assert float(cold_lash(0.016, -0.006)) == pytest.approx(0.010, abs=1e-12)
    assert float(cold_lash(0.016, +0.002)) == pytest.approx(0.018, abs=1e-12)


# The pushrod's length where nothing can be turned

STOCK = np.array([7.200, 7.250, 7.300, 7.350]) * INCH


def test_an_upright_pushrod_is_longer_by_the_depth() -> None:
    assert float(pushrod_length(7.2 * INCH, 0.020 * INCH, 0.050 * INCH)) == pytest.approx(7.230 * INCH, rel=1e-12)


@given(st.floats(0.1, 0.3), st.floats(-1e-3, 3e-3), st.floats(0.0, 4e-3), st.floats(-0.2, 0.2))
def test_a_leaning_pushrod_against_two_points_and_a_distance(
    old: float, found: float, wanted: float, lean: float
) -> None:
    new = float(pushrod_length(old, found, wanted, lean))
    cup, foot = complex(0.0, old * math.cos(lean)), complex(old * math.sin(lean), 0.0)
    assert new == pytest.approx(abs(cup - (foot - complex(0.0, wanted - found))), rel=1e-12)
    # To first order what it grows by is the way along the bore times the lean's cosine, not over it.
    assert new - old == pytest.approx((wanted - found) * math.cos(lean), abs=3e-6)
    assert float(depth_with_pushrod(new, old, found, lean)) == pytest.approx(wanted, abs=1e-12)


def test_the_nearest_length_from_stock_in_depth() -> None:
    old, wanted = np.full(3, 7.2 * INCH), np.full(3, 0.040 * INCH)
    got = choose_pushrods(old, np.array([0.0, -0.070, 0.500]) * INCH, wanted, STOCK, tolerance=0.012 * INCH)
    assert got.ideal / INCH == pytest.approx(np.array([7.240, 7.310, 6.740]), rel=1e-9)
    assert got.place.tolist() == [1, 2, -1]
    assert got.length / INCH == pytest.approx(np.array([7.250, 7.300, 6.740]), rel=1e-9)
    assert got.depth / INCH == pytest.approx(np.array([0.050, 0.030, 0.040]), rel=1e-9)


def test_without_stock_the_ideal_is_bought() -> None:
    got = choose_pushrods(np.array([0.2]), np.array([0.0]), np.array([0.001]), np.array([]), tolerance=1e-4)
    assert (got.place.tolist(), got.length.tolist()) == ([-1], [pytest.approx(0.201)])


@given(st.lists(st.floats(0.195, 0.205), min_size=1, max_size=6), st.floats(0.0, 0.15))
def test_no_length_in_stock_comes_nearer(stock: list[float], lean: float) -> None:
    shelf, one = np.array(stock), np.array([0.2])
    got = choose_pushrods(one, np.array([0.001]), np.array([0.002]), shelf, tolerance=1.0, lean=lean)
    off = np.abs(depth_with_pushrod(shelf, 0.2, 0.001, lean) - 0.002)
    assert abs(float(got.depth[0]) - 0.002) == pytest.approx(float(off.min()), abs=1e-15)


def test_pushrods_that_cannot_be() -> None:
    for call in (
        lambda: pushrod_length(0.0, 0.0, 0.001),
        lambda: pushrod_length(0.2, 0.3, 0.001),
        lambda: pushrod_length(0.2, 0.0, 0.001, math.pi / 2),
        lambda: depth_with_pushrod(0.0, 0.2, 0.0),
        lambda: depth_with_pushrod(0.01, 0.2, 0.0, 0.2),
        lambda: choose_pushrods(np.array([0.2]), np.array([0.0]), np.array([0.0]), STOCK, tolerance=-1.0),
    ):
        with pytest.raises(InputError):
            call()
