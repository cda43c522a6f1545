"""Turns of the adjuster to plunger depth; cold to hot."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from loadbench.follower.setting import cold_lash, depth_per_turn, hot_depth
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
