"""Rate, load and mass of one spring: scaling laws, arrays, refusals."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from loadbench.errors import InputError
from loadbench.spring import coil
from loadbench.spring.section import ovate_section, rectangular_section, round_section

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


# Wire of any section


@given(wires, diameters, turns)
def test_a_round_section_gives_the_rate_of_round_wire(d: float, D: float, n: float) -> None:
    J = round_section(d).torsion_constant
    assert float(coil.rate_of_section(G, J, D, n)) == pytest.approx(float(coil.rate(G, d, D, n)), rel=1e-12)
    assert float(coil.active_coils_of_section(G, J, D, coil.rate(G, d, D, n))) == pytest.approx(n, rel=1e-12)


@given(wires, wires, diameters, turns, scales)
def test_any_section_scales_with_size(a: float, b: float, D: float, n: float, scale: float) -> None:
    for make in (ovate_section, rectangular_section):
        small = coil.rate_of_section(G, make(a, b).torsion_constant, D, n)
        large = coil.rate_of_section(G, make(scale * a, scale * b).torsion_constant, scale * D, n)
        assert float(large) == pytest.approx(scale * float(small), rel=1e-9)


@given(wires, diameters, turns, scales)
def test_rate_of_a_section_goes_with_its_powers(d: float, D: float, n: float, scale: float) -> None:
    J = float(round_section(d).torsion_constant)
    rate = float(coil.rate_of_section(G, J, D, n))
    assert float(coil.rate_of_section(G, scale * J, D, n)) == pytest.approx(rate * scale, rel=1e-12)
    assert float(coil.rate_of_section(G, J, scale * D, n)) == pytest.approx(rate / scale**3, rel=1e-12)
    assert float(coil.rate_of_section(scale * G, J, D, scale * n)) == pytest.approx(rate, rel=1e-12)


@given(wires, st.floats(3.0, 20.0), turns)
def test_direct_shear_softens_by_the_index_alone(d: float, C: float, n: float) -> None:
    short, long = coil.rate(G, d, C * d, n), coil.rate_with_direct_shear(G, d, C * d, n)
    assert float(short / long) == pytest.approx(1 + 0.5 / C**2, rel=1e-12)
    assert float(coil.active_coils_with_direct_shear(G, d, C * d, long)) == pytest.approx(n, rel=1e-9)


@given(wires, diameters, turns, scales)
def test_mass_goes_with_the_volume(d: float, D: float, n: float, scale: float) -> None:
    area, larger = round_section(d).area, round_section(scale * d).area
    mass = float(coil.wire_mass(area, D, n, 7850.0))
    assert float(coil.wire_mass(larger, scale * D, n, 7850.0)) == pytest.approx(scale**3 * mass, rel=1e-12)
    assert float(coil.wire_mass(area, D, scale * n, 7850.0)) == pytest.approx(scale * mass, rel=1e-12)
    # A ring of n turns: length pi D n of a rod pi d^2/4.
    assert mass == pytest.approx(7850.0 * np.pi * d**2 / 4 * np.pi * D * n, rel=1e-12)


@given(wires, diameters, scales)
def test_an_index_has_no_size(d: float, D: float, scale: float) -> None:
    assert float(coil.spring_index(scale * D, scale * d)) == pytest.approx(D / d, rel=1e-12)


@given(wires, diameters, turns, scales)
def test_least_gaps_scale_with_size(d: float, D: float, n: float, scale: float) -> None:
    gaps = float(coil.least_coil_gaps(d, D, n))
    assert float(coil.least_coil_gaps(scale * d, scale * D, n)) == pytest.approx(scale * gaps, rel=1e-12)
    assert gaps > 0.15 * n * d


def test_sections_and_coils_go_through_together() -> None:
    wire = round_section(np.array([0.003, 0.004, 0.005]))
    rates = coil.rate_of_section(G, wire.torsion_constant, np.array([[0.030], [0.040]]), 5.0)
    assert rates.shape == (2, 3)
    assert rates[1, 2] == pytest.approx(float(coil.rate(G, 0.005, 0.040, 5.0)))
    assert coil.wire_mass(wire.area, np.array([[0.030], [0.040]]), 7.0, 7850.0).shape == (2, 3)


@pytest.mark.parametrize("bad", [0.0, -1.0, float("nan")])
@pytest.mark.parametrize(
    ("name", "places"),
    [
        ("spring_index", 2),
        ("rate_of_section", 4),
        ("active_coils_of_section", 4),
        ("rate_with_direct_shear", 4),
        ("active_coils_with_direct_shear", 4),
        ("least_coil_gaps", 3),
        ("wire_mass", 4),
    ],
)
def test_nothing_is_refused_by_any(name: str, places: int, bad: float) -> None:
    for place in range(places):
        values = [0.5] * places
        values[place] = bad
        with pytest.raises(InputError):
            getattr(coil, name)(*values)
