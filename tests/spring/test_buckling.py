"""Buckling: the two formulas meet at the stable height, scaling, refusals."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from loadbench.errors import InputError
from loadbench.spring.buckling import END_CONSTANTS, Support, critical_deflection, stable_free_height

E, G = 206e9, 79.5e9
diameters = st.floats(0.010, 0.080)
alphas = st.sampled_from([*END_CONSTANTS.values()])
past = st.floats(1.001, 5.0)


@given(diameters, alphas, past)
def test_a_spring_taller_than_stable_buckles_and_a_shorter_one_does_not(D: float, alpha: float, more: float) -> None:
    stable = float(stable_free_height(D, E, G, alpha))
    tall = float(critical_deflection(more * stable, D, E, G, alpha))
    assert 0 < tall < more * stable
    assert critical_deflection(stable / more, D, E, G, alpha) == np.inf


@given(diameters, alphas)
def test_at_the_stable_height_all_that_can_be_pressed_is_needed(D: float, alpha: float) -> None:
    # The root is nothing there: y/L0 = E/(2 (E - G)), 81.4 % for this steel.
    stable = float(stable_free_height(D, E, G, alpha)) * (1 + 1e-12)
    assert float(critical_deflection(stable, D, E, G, alpha)) / stable == pytest.approx(206 / 253, rel=1e-5)


@given(diameters, past, past)
def test_slenderer_buckles_at_a_smaller_share(D: float, one: float, other: float) -> None:
    stable = float(stable_free_height(D, E, G))
    low, high = sorted((one, other))
    shares = [float(critical_deflection(more * stable, D, E, G)) / (more * stable) for more in (low, high)]
    assert shares[1] <= shares[0] * (1 + 1e-12)


@given(diameters, past, alphas, st.floats(0.5, 2.0))
def test_deflection_scales_with_size(D: float, more: float, alpha: float, scale: float) -> None:
    height = more * float(stable_free_height(D, E, G, alpha))
    at = float(critical_deflection(height, D, E, G, alpha))
    assert float(critical_deflection(scale * height, scale * D, E, G, alpha)) == pytest.approx(scale * at, rel=1e-6)


def test_a_valve_spring_on_flat_faces_is_stable_to_5_times_its_diameter() -> None:
    # pi/0.5 sqrt(2 x 126.5/365) = 5.231 diameters
    assert float(stable_free_height(0.030, E, G)) == pytest.approx(5.231 * 0.030, rel=1e-3)
    assert float(stable_free_height(0.030, E, G, END_CONSTANTS[Support.HINGED])) == pytest.approx(
        2.6156 * 0.030, rel=1e-3
    )


def test_arrays_go_through_together() -> None:
    found = critical_deflection(np.array([0.040, 0.160, 0.300]), np.array([[0.025], [0.030]]), E, G)
    assert found.shape == (2, 3)
    assert found[0, 1] == pytest.approx(float(critical_deflection(0.160, 0.025, E, G)))
    assert np.all(np.isinf(found[:, 0]))


@pytest.mark.parametrize("bad", [0.0, -1.0, float("nan")])
@pytest.mark.parametrize("place", range(5))
def test_nothing_is_refused(place: int, bad: float) -> None:
    values = [0.160, 0.025, E, G, 0.5]
    values[place] = bad
    with pytest.raises(InputError):
        critical_deflection(*values)


def test_moduli_the_wrong_way_round_are_refused() -> None:
    with pytest.raises(InputError, match="elastic modulus"):
        stable_free_height(0.025, G, E)
    with pytest.raises(InputError, match="elastic modulus"):
        critical_deflection(0.160, 0.025, G, G)
