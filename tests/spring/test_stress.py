"""Torsional stress: scaling laws, the order of the factors, formulas that undo each other, refusals."""

from __future__ import annotations

import math
from collections.abc import Callable

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from loadbench.errors import InputError
from loadbench.spring import stress
from loadbench.spring.stress import bergstraesser_factor, direct_shear_factor, wahl_factor

wires = st.floats(0.001, 0.010)
diameters = st.floats(0.012, 0.080)
indices = st.floats(2.0, 30.0)
loads = st.floats(1.0, 5e3)
scales = st.floats(0.5, 2.0)


def section(wire: float) -> float:
    return math.pi * wire**3 / 16


@given(loads, diameters, wires, scales)
def test_stress_goes_with_load_and_falls_with_size(F: float, D: float, d: float, scale: float) -> None:
    found = float(stress.shear_stress(F, D, section(d), 1.2))
    assert stress.shear_stress(scale * F, D, section(d), 1.2) == pytest.approx(scale * found, rel=1e-12)
    assert stress.shear_stress(F, scale * D, section(scale * d), 1.2) == pytest.approx(found / scale**2, rel=1e-12)
    assert stress.shear_stress(F, D, section(d), scale * 1.2) == pytest.approx(scale * found, rel=1e-12)


@given(loads, diameters, wires)
def test_load_undoes_stress(F: float, D: float, d: float) -> None:
    found = stress.shear_stress(F, D, section(d), 1.2)
    assert stress.load_at_stress(found, D, section(d), 1.2) == pytest.approx(F, rel=1e-12)


def test_a_section_need_not_be_round() -> None:
    # A bar of torsion modulus W under the torque F D/2, and nothing else.
    assert stress.shear_stress(100.0, 0.04, 2e-8) == pytest.approx(100.0 * 0.02 / 2e-8, rel=1e-12)


@given(indices)
def test_factors_keep_their_order(C: float) -> None:
    direct, bergstraesser, wahl = (
        float(factor(C)) for factor in (direct_shear_factor, bergstraesser_factor, wahl_factor)
    )
    assert 1 < direct < bergstraesser < wahl


@pytest.mark.parametrize("factor", [wahl_factor, bergstraesser_factor, direct_shear_factor])
def test_factors_fall_to_one_as_the_coil_grows_wide(factor: Callable[[object], object]) -> None:
    found = np.asarray(factor(np.geomspace(1.5, 1e6, 60)))
    assert np.all(np.diff(found) < 0)
    assert found[-1] == pytest.approx(1.0, abs=2e-6)


@given(indices)
@pytest.mark.reference("en-13906-1")
def test_the_factor_of_the_standard_is_bergstraessers(w: float) -> None:
    assert bergstraesser_factor(w) == pytest.approx((w + 0.5) / (w - 0.75), rel=1e-12)


@given(loads, indices, st.floats(1e8, 1.5e9))
def test_the_least_wire_is_at_the_stress(F: float, C: float, tau: float) -> None:
    d = float(stress.least_wire_diameter(F, C, tau, wahl_factor(C)))
    assert stress.shear_stress(F, C * d, section(d), wahl_factor(C)) == pytest.approx(tau, rel=1e-12)


@given(loads, indices, wires)
def test_the_index_at_a_stress_undoes_the_stress(F: float, C: float, d: float) -> None:
    tau = stress.shear_stress(F, C * d, section(d), bergstraesser_factor(C))
    assert stress.index_at_stress(tau, F, d) == pytest.approx(C, rel=1e-9)


def test_a_wire_overstressed_at_any_index_has_none() -> None:
    found = stress.index_at_stress(np.array([1e9, 1e3]), 500.0, 0.004)
    assert np.isfinite(found[0])
    assert np.isnan(found[1])


def test_outside_diameter_grows_with_the_pitch() -> None:
    assert stress.growth_of_outside_diameter(0.03, 0.004, 0.004) == pytest.approx(0.0, abs=1e-15)
    found = stress.growth_of_outside_diameter(0.03, 0.004, np.array([0.006, 0.009]))
    # By hand, mm: 0.1 (81 - 0.8 x 9 x 4 - 0.2 x 16)/30 = 0.163333; at a pitch of 6, 0.1 x 13.6/30 = 0.045333.
    assert found == pytest.approx([0.045333e-3, 0.163333e-3], rel=1e-5)
    # With the ends held, wire and turns kept, geometry alone gives less; free ends unwind a little more.
    held = math.hypot(0.03, math.sqrt(0.009**2 - 0.004**2) / math.pi) - 0.03
    assert held < found[1] < 2 * held


def test_springs_by_the_thousand_and_unknown_ones_among_them() -> None:
    C = np.array([[5.0], [8.0], [np.nan]])
    found = stress.shear_stress(np.array([100.0, 200.0]), 0.03, section(0.004), wahl_factor(C))
    assert found.shape == (3, 2)
    assert found[1, 1] == stress.shear_stress(200.0, 0.03, section(0.004), wahl_factor(8.0))
    assert np.isnan(found[2]).all()


@pytest.mark.parametrize("factor", [wahl_factor, bergstraesser_factor, direct_shear_factor])
@pytest.mark.parametrize("index", [1.0, 0.0, -5.0])
def test_an_index_of_one_or_below_is_refused(factor: Callable[[object], object], index: float) -> None:
    with pytest.raises(InputError, match="index") as told:
        factor(np.array([6.0, index]))
    assert told.value.expected == "values above 1"


@pytest.mark.parametrize(
    ("function", "arguments"),
    [
        (stress.shear_stress, (1.0, 0.0, 1e-8)),
        (stress.shear_stress, (1.0, 0.03, -1e-8)),
        (stress.load_at_stress, (1e8, 0.03, 1e-8, 0.0)),
        (stress.least_wire_diameter, (1.0, 6.0, 0.0, 1.2)),
        (stress.least_wire_diameter, (1.0, 1.0, 1e8, 1.2)),
        (stress.index_at_stress, (1e8, 0.0, 0.004)),
        (stress.growth_of_outside_diameter, (0.03, 0.004, 0.0)),
    ],
)
def test_sizes_at_zero_are_refused(function: Callable[..., object], arguments: tuple[float, ...]) -> None:
    with pytest.raises(InputError, match="or below"):
        function(*arguments)
