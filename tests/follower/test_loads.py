"""Loads at rest: the follower's through the rocker, the seat's under pressure."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from loadbench.follower.loads import effective_seat_load, static_follower_load


def test_follower_load_by_hand() -> None:
    assert float(static_follower_load(400.0, 1.6)) == pytest.approx(640.0)


def test_pressure_takes_its_area_off_the_seat() -> None:
    # 20 psi behind a 2.02 in head: pi/4 x 2.02^2 = 3.20474 in2, so 64.095 lbf of 150 are gone.
    left = float(effective_seat_load(150.0, 20.0, 2.02))
    assert left == pytest.approx(150.0 - 20 * 3.2047387, abs=1e-6)


def test_enough_pressure_opens_the_valve() -> None:
    assert float(effective_seat_load(150.0, 60.0, 2.02)) < 0


@given(st.floats(0, 2e3), st.floats(0, 5e5), st.floats(0.01, 0.06), st.floats(0.5, 2))
def test_twice_the_head_is_four_times_the_loss(seat: float, pressure: float, head: float, scale: float) -> None:
    loss = seat - float(effective_seat_load(seat, pressure, head))
    scaled = seat - float(effective_seat_load(seat, pressure, scale * head))
    assert scaled == pytest.approx(loss * scale**2, rel=1e-9, abs=1e-9)
    assert loss == pytest.approx(pressure * math.pi * head**2 / 4, rel=1e-9, abs=1e-9)
