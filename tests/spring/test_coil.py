"""Rate and load of one spring: scaling laws, arrays, refusals."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from loadbench.errors import InputError
from loadbench.spring import coil

wires = st.floats(0.001, 0.010)
diameters = st.floats(0.012, 0.080)
turns = st.floats(1.0, 20.0)
rates = st.floats(1e3, 1e6)
heights = st.floats(0.010, 0.100)
loads = st.floats(0.0, 5e3)
scales = st.floats(0.5, 2.0)
G = 79.5e9


@given(wires, diameters, turns, scales)
def test_rate_scales_with_size(d: float, D: float, n: float, scale: float) -> None:
    assert coil.rate(G, scale * d, scale * D, n) == pytest.approx(scale * float(coil.rate(G, d, D, n)), rel=1e-12)


@given(wires, diameters, turns, scales)
def test_rate_goes_with_the_powers_of_its_sizes(d: float, D: float, n: float, scale: float) -> None:
    rate = float(coil.rate(G, d, D, n))
    assert coil.rate(G, scale * d, D, n) == pytest.approx(rate * scale**4, rel=1e-12)
    assert coil.rate(G, d, scale * D, n) == pytest.approx(rate / scale**3, rel=1e-12)
    assert coil.rate(G, d, D, scale * n) == pytest.approx(rate / scale, rel=1e-12)
    assert coil.rate(scale * G, d, D, n) == pytest.approx(rate * scale, rel=1e-12)


@given(wires, diameters, turns)
def test_coils_undo_the_rate(d: float, D: float, n: float) -> None:
    assert coil.active_coils(G, d, D, coil.rate(G, d, D, n)) == pytest.approx(n, rel=1e-12)


@given(rates, loads, heights, loads)
def test_height_undoes_the_load(rate: float, load: float, known_height: float, known_load: float) -> None:
    height = coil.height_at_load(rate, load, known_height, known_load)
    assert coil.load_at_height(rate, height, known_height, known_load) == pytest.approx(load, abs=1e-6)


@given(rates, heights, heights, loads)
def test_taller_is_never_more_load(rate: float, one: float, other: float, load: float) -> None:
    low, high = sorted((one, other))
    assert coil.load_at_height(rate, high, 0.05, load) <= coil.load_at_height(rate, low, 0.05, load)


def test_rate_between_by_hand() -> None:
    # (423 - 150) over (1.900 - 1.250) is 420.
    assert coil.rate_between(1.900, 150.0, 1.250, 423.0) == pytest.approx(420.0, rel=1e-12)


def test_arrays_go_through_together() -> None:
    wires_two = np.array([0.004, 0.005])
    both = coil.rate(G, wires_two, 0.030, 5.0)
    assert both.shape == (2,)
    assert both.tolist() == [float(coil.rate(G, d, 0.030, 5.0)) for d in wires_two]


@pytest.mark.parametrize("place", range(4))
@pytest.mark.parametrize("bad", [0.0, -1.0, float("nan")])
def test_nothing_is_refused(place: int, bad: float) -> None:
    sizes = [G, 0.005, 0.030, 5.0]
    sizes[place] = bad
    with pytest.raises(InputError):
        coil.rate(*sizes)


@pytest.mark.parametrize("lower", [0.040, 0.041])
def test_a_rate_needs_travel(lower: float) -> None:
    with pytest.raises(InputError):
        coil.rate_between(0.040, 100.0, lower, 200.0)


def test_a_height_needs_a_rate() -> None:
    with pytest.raises(InputError):
        coil.height_at_load(0.0, 100.0, 0.04, 0.0)
