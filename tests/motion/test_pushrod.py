"""Pushrods as columns."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from loadbench.errors import InputError
from loadbench.motion import pushrod
from loadbench.motion.pushrod import END_CONSTANTS, Ends

diameters = st.floats(0.006, 0.016)
walls = st.floats(0.05, 0.5)
lengths = st.floats(0.1, 0.35)
scales = st.floats(0.5, 2.0)


def test_by_hand() -> None:
    # 8 mm solid rod of 200 mm: A = 50.2655 mm2, I = 201.062 mm4, k = 2 mm, L/k = 100.
    area, moment = pushrod.section(0.008, 0.004)
    assert float(area) == pytest.approx(50.2655e-6, rel=1e-6)
    assert float(moment) == pytest.approx(201.0619e-12, rel=1e-6)
    assert float(pushrod.slenderness(0.008, 0.004, 0.200)) == pytest.approx(100.0, rel=1e-12)
    # pi^2 x 205e9 x 201.062e-12/0.04 = 10170 N.
    assert float(pushrod.euler_load(0.008, 0.004, 0.200)) == pytest.approx(10170.0, rel=1e-4)
    assert float(pushrod.mean_stress(5026.55, 0.008, 0.004)) == pytest.approx(100e6, rel=1e-5)
    assert float(pushrod.column_factor(10170.0, 3390.0)) == pytest.approx(3.0, rel=1e-12)
    assert np.isinf(pushrod.column_factor(10170.0, -20.0))


def test_ends_that_are_held_carry_more() -> None:
    loads = [float(pushrod.euler_load(0.0095, 0.002, 0.2, end_constant=END_CONSTANTS[ends])) for ends in Ends]
    assert loads == pytest.approx([loads[0], 2 * loads[0], 4 * loads[0]], rel=1e-12)


@given(diameters, walls, lengths, scales)
def test_euler_goes_with_the_powers_of_the_sizes(D: float, share: float, L: float, scale: float) -> None:
    t = share * D
    load = float(pushrod.euler_load(D, t, L))
    assert float(pushrod.euler_load(scale * D, scale * t, scale * L)) == pytest.approx(scale**2 * load, rel=1e-9)
    assert float(pushrod.euler_load(D, t, scale * L)) == pytest.approx(load / scale**2, rel=1e-9)


@given(diameters, walls, lengths, st.floats(3e8, 1.5e9))
def test_a_stout_column_carries_neither_eulers_load_nor_its_strength(
    D: float, share: float, L: float, Sy: float
) -> None:
    t = share * D
    found, slender = float(pushrod.column_load(D, t, L, Sy)), float(pushrod.euler_load(D, t, L))
    assert found <= slender * (1 + 1e-12)
    assert found < Sy * float(pushrod.section(D, t)[0])


def test_the_two_curves_of_the_column_join() -> None:
    # Where Euler's stress is half the yield strength; there the slopes agree as well.
    lengths = 0.2 * np.array([1 - 1e-6, 1.0, 1 + 1e-6])
    yield_strength = 2 * pushrod.euler_load(0.008, 0.004, 0.2) / pushrod.section(0.008, 0.004)[0]
    short, at, long = pushrod.column_load(0.008, 0.004, lengths, yield_strength)
    assert (short - at) / (at - long) == pytest.approx(1.0, rel=1e-3)


@pytest.mark.parametrize(
    ("diameter", "wall", "length"), [(0.0, 0.001, 0.2), (0.008, 0.0, 0.2), (0.008, 0.0045, 0.2), (0.008, 0.001, 0.0)]
)
def test_pushrods_that_cannot_be(diameter: float, wall: float, length: float) -> None:
    with pytest.raises(InputError):
        pushrod.euler_load(diameter, wall, length)
    with pytest.raises(InputError):
        pushrod.slenderness(diameter, wall, length)


def test_no_strength_no_column() -> None:
    with pytest.raises(InputError):
        pushrod.column_load(0.008, 0.001, 0.2, 0.0)
