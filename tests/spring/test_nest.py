"""Springs beside and on top of each other."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from loadbench.errors import InputError
from loadbench.spring.coil import load_at_height
from loadbench.spring.nest import (
    deflection_of_nest,
    diametral_gap,
    energy_per_cycle,
    load_split_by_wire,
    loading_load,
    member_height,
    rate_in_line,
    unloading_load,
)

rates = st.lists(st.floats(1e3, 1e6), min_size=1, max_size=3)


def test_both_steps_shorten_the_room() -> None:
    assert float(member_height(2.150, 0.060, 0.040)) == pytest.approx(2.050, abs=1e-12)
    assert float(member_height(2.150)) == 2.150


@given(rates, st.floats(0.0, 0.02), st.floats(0.5, 50.0))
def test_members_loads_add_to_the_whole(each: list[float], gap: float, more: float) -> None:
    stiff, lengths = np.array(each), 0.06 - gap * np.arange(len(each))
    # Enough that the shortest member is touched: the load where it lies just bare, and some more.
    load = float(np.sum(stiff * (lengths - lengths[-1]))) + more
    height = lengths[0] - float(deflection_of_nest(load, stiff, lengths))
    members = [float(load_at_height(k, height, length, 0.0)) for k, length in zip(stiff, lengths, strict=True)]
    assert sum(members) == pytest.approx(load, rel=1e-9)
    assert min(members) >= -1e-6


@given(rates)
def test_in_line_is_softer_than_the_softest(each: list[float]) -> None:
    assert float(rate_in_line(np.array(each))) <= min(each) * (1 + 1e-12)


def test_two_alike_in_line_are_half_as_stiff() -> None:
    assert float(rate_in_line(np.array([400.0, 400.0]))) == pytest.approx(200.0)


def test_a_gap_is_bore_less_outside() -> None:
    # 60 - 10 is a bore of 50 mm, 42 + 7 an outside of 49 mm.
    assert float(diametral_gap(0.060, 0.010, 0.042, 0.007)) == pytest.approx(0.001, abs=1e-12)
    assert float(diametral_gap(0.060, 0.010, 0.044, 0.007)) == pytest.approx(-0.001, abs=1e-12)
    assert diametral_gap(np.array([0.060, 0.062]), 0.010, np.array([[0.042]]), 0.007).shape == (1, 2)


@given(st.floats(0.0, 1e4), st.floats(0.002, 0.01), st.floats(0.002, 0.01), st.floats(0.5, 2.0))
def test_shared_load_is_whole_and_goes_with_the_wires_section(load: float, d1: float, d2: float, scale: float) -> None:
    outer, inner = load_split_by_wire(load, d1, d2)
    assert float(outer + inner) == pytest.approx(load, rel=1e-12)
    assert float(outer) * d2**2 == pytest.approx(float(inner) * d1**2, rel=1e-9, abs=1e-12)
    assert float(load_split_by_wire(load, scale * d1, scale * d2)[0]) == pytest.approx(float(outer), rel=1e-12)


elastic = st.lists(st.floats(0.0, 2e3), min_size=1, max_size=8)


@given(elastic, st.floats(0.0, 100.0))
def test_a_friction_band_lies_around_the_springs_and_never_pulls(loads: list[float], friction: float) -> None:
    springs = np.array(loads)
    up, down = unloading_load(springs, friction), loading_load(springs, friction)
    assert np.all((up >= 0) & (up <= springs) & (springs <= down))
    assert down - springs == pytest.approx(np.full(springs.shape, friction), abs=1e-9)
    free = springs >= friction
    assert (springs - up)[free] == pytest.approx(np.full(np.count_nonzero(free), friction), abs=1e-9)
    assert np.all(up[~free] == 0)


@given(st.floats(0.0, 50.0), st.floats(0.001, 0.020))
def test_lost_energy_is_the_area_of_the_band(friction: float, travel: float) -> None:
    heights = np.linspace(0.040 - travel, 0.040, 101)
    springs = load_at_height(40e3, heights, 0.040, 100.0)
    area = np.trapezoid(loading_load(springs, friction) - unloading_load(springs, friction), heights)
    assert float(energy_per_cycle(friction, travel)) == pytest.approx(float(area), rel=1e-9, abs=1e-12)


@pytest.mark.parametrize("bad", [-1.0, float("nan")])
def test_friction_below_nothing_is_refused(bad: float) -> None:
    for call in (loading_load, unloading_load, lambda _, friction: energy_per_cycle(friction, 0.01)):
        with pytest.raises(InputError, match="friction"):
            call(100.0, bad)
    with pytest.raises(InputError, match="travel"):
        energy_per_cycle(10.0, bad)


@pytest.mark.parametrize("bad", [0.0, -1.0, float("nan")])
def test_members_without_wire_are_refused(bad: float) -> None:
    for place in range(4):
        sizes = [0.060, 0.010, 0.042, 0.007]
        sizes[place] = bad
        with pytest.raises(InputError):
            diametral_gap(*sizes)
    for pair in ((bad, 0.004), (0.004, bad)):
        with pytest.raises(InputError):
            load_split_by_wire(100.0, *pair)
