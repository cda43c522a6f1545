"""Orders in a lift curve: curves whose series is known, and what shifting and scaling must not change."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from loadbench.errors import InputError
from loadbench.motion.harmonics import harmonics

TURN = 2 * np.pi
ORDERS = np.arange(1, 21)
bumps = st.lists(st.floats(0.0, 0.012), min_size=3, max_size=30)


def test_a_cosine_lift_has_one_order() -> None:
    angles = np.linspace(0.0, TURN, 3601)
    found = harmonics(angles, 0.004 * (1 - np.cos(angles)), np.arange(0, 6))
    assert found == pytest.approx([0.004, 0.004, 0.0, 0.0, 0.0, 0.0], abs=1e-8)


def test_a_triangle_by_hand() -> None:
    # Height h, half width w: the amplitude is h w/pi (sin(k w/2)/(k w/2))^2, exactly, with three points.
    h, w = 0.010, 1.1
    found = harmonics(np.array([-w, 0.0, w]), np.array([0.0, h, 0.0]), ORDERS)
    x = ORDERS * w / 2
    assert found == pytest.approx(h * w / np.pi * (np.sin(x) / x) ** 2, rel=1e-12)
    assert harmonics(np.array([-w, 0.0, w]), np.array([0.0, h, 0.0]), [0])[0] == pytest.approx(h * w / TURN, rel=1e-12)


def test_a_table_that_starts_with_a_step() -> None:
    # Constant h over a width of 2 w: 2 h/(k pi) |sin(k w)|.
    found = harmonics(np.array([0.3, 1.7]), np.array([0.005, 0.005]), ORDERS)
    assert found == pytest.approx(2 * 0.005 / (ORDERS * np.pi) * np.abs(np.sin(0.7 * ORDERS)), abs=1e-16, rel=1e-12)


@given(bumps)
def test_the_series_is_the_integral(lifts: list[float]) -> None:
    angles, y = np.linspace(0.4, 2.6, len(lifts)), np.array(lifts)
    fine = np.linspace(0.4, 2.6, (len(lifts) - 1) * 400 + 1)
    curve = np.interp(fine, angles, y)
    for k in (1, 4, 11):
        direct = abs(np.trapezoid(curve * np.exp(-1j * k * fine), fine)) / np.pi
        assert harmonics(angles, y, [k])[0] == pytest.approx(direct, abs=1e-6)


@given(bumps, st.floats(-3.0, 3.0), st.floats(0.1, 10.0))
def test_where_the_lift_stands_does_not_matter_and_its_size_goes_through(
    lifts: list[float], shift: float, scale: float
) -> None:
    angles, y = np.linspace(0.4, 2.6, len(lifts)), np.array(lifts)
    found = harmonics(angles, y, ORDERS)
    assert harmonics(angles + shift, y, ORDERS) == pytest.approx(found, abs=1e-12)
    assert harmonics(angles, scale * y, ORDERS) == pytest.approx(scale * found, abs=1e-12)


def test_orders_hold_the_energy_of_the_lift() -> None:
    # Parseval: mean of y^2 = mean^2 + sum of amplitudes^2/2.
    angles = np.linspace(0.5, 2.5, 201)
    y = 0.005 * (1 - np.cos(np.pi * (angles - 0.5)))
    found = harmonics(angles, y, np.arange(0, 400))
    assert found[0] ** 2 + (found[1:] ** 2).sum() / 2 == pytest.approx(np.trapezoid(y**2, angles) / TURN, rel=1e-4)


def test_whole_degrees_cost_one_per_cent_at_order_twenty() -> None:
    def lift(angles: np.ndarray) -> np.ndarray:
        return np.asarray(0.004 * (1 - np.cos(20 * angles)))

    degrees, fine = np.linspace(0.0, TURN, 361), np.linspace(0.0, TURN, 7201)
    coarse = harmonics(degrees, lift(degrees), [20])[0] / harmonics(fine, lift(fine), [20])[0]
    assert 1 - coarse == pytest.approx((20 * np.pi / 180) ** 2 / 12, rel=0.02)


def test_several_lifts_at_once() -> None:
    angles = np.linspace(0.0, 2.0, 41)
    lifts = np.array([np.sin(angles * np.pi / 2) ** 2, 2 * np.sin(angles * np.pi / 2) ** 2])
    found = harmonics(angles, lifts, [0, 1, 2])
    assert found.shape == (2, 3)
    assert found[1] == pytest.approx(2 * found[0], rel=1e-12)
    assert found[0] == pytest.approx(harmonics(angles, lifts[0], [0, 1, 2]), rel=1e-12)


@pytest.mark.parametrize(
    ("angles", "orders"),
    [
        ([0.0], [1]),
        ([0.0, 0.0, 1.0], [1]),
        ([0.0, 1.0, 0.5], [1]),
        ([0.0, 3.0, 6.3], [1]),
        ([0.0, 1.0, 2.0], [-1]),
        ([0.0, float("nan"), 2.0], [1]),
    ],
)
def test_odd_tables_are_refused(angles: list[float], orders: list[int]) -> None:
    with pytest.raises(InputError):
        harmonics(np.array(angles), np.zeros(len(angles)), orders)
