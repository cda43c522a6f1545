"""Many springs at once are what each is alone, however many and of whatever shape."""

from __future__ import annotations

import numpy as np
import pytest

from loadbench.arrays import Floats
from loadbench.errors import InputError
from loadbench.spring.coil import rate, wire_mass
from loadbench.spring.fatigue import alternating_and_mean, factor_goodman, goodman_endurance, ultimate_shear, zimmerli
from loadbench.spring.many import PIECE, ManySprings, judge_many
from loadbench.spring.materials import materials
from loadbench.spring.section import round_section
from loadbench.spring.stress import bergstraesser_factor, shear_stress, wahl_factor
from loadbench.spring.surge import first_mode, first_mode_of_wire

MATERIAL = materials()["chrome-vanadium"]
FIGURES = ("rate", "shear_stress_seat", "shear_stress_open", "fatigue_factor_goodman", "surge_frequency")


def alone(d: float, D: float, n: float, seat: float, full: float, peened: bool) -> tuple[float, ...]:
    """One spring by the plain functions, one scalar at a time."""
    section, C = round_section(d), D / d
    R = rate(MATERIAL.shear_modulus_Pa, d, D, n)
    low, high = (shear_stress(load, D, section.torsion_modulus, bergstraesser_factor(C)) for load in (seat, full))
    Ssu = ultimate_shear(MATERIAL.tensile_strength(d))
    factor = factor_goodman(*alternating_and_mean(low, high), goodman_endurance(*zimmerli(peened), Ssu), Ssu)
    closed, opened = (shear_stress(load, D, section.torsion_modulus, wahl_factor(C)) for load in (seat, full))
    surge = first_mode(R, wire_mass(section.area, D, n, MATERIAL.density_kg_per_m3))
    return tuple(float(each) for each in (R, closed, opened, factor, surge))


Springs = tuple[Floats, Floats, Floats, Floats, Floats]


def drawn(count: int) -> Springs:
    draw = np.random.default_rng(11)
    d = draw.uniform(1e-3, 9.9e-3, count)
    seat = draw.uniform(50, 900, count)
    return d, d * draw.uniform(3, 15, count), draw.uniform(2, 12, count), seat, seat + draw.uniform(1, 2000, count)


@pytest.mark.parametrize("peened", [False, True])
def test_each_of_many_is_what_it_is_alone(peened: bool) -> None:
    # Past one piece, so that the seam between two is looked at too.
    springs = drawn(PIECE + 300)
    many = judge_many(*springs, MATERIAL, peened)
    for place in (*range(0, PIECE, 97), *range(PIECE - 3, PIECE + 3), PIECE + 299):
        d, D, n, seat, full = (float(each[place]) for each in springs)
        one = alone(d, D, n, seat, full, peened)
        assert tuple(float(getattr(many, name)[place]) for name in FIGURES) == pytest.approx(one, rel=1e-12)


def test_surge_is_that_of_the_wire() -> None:
    d, D, n, _seat, _full = springs = drawn(500)
    expected = first_mode_of_wire(d, D, n, MATERIAL.shear_modulus_Pa, MATERIAL.density_kg_per_m3)
    assert judge_many(*springs, MATERIAL).surge_frequency == pytest.approx(expected, rel=1e-12)


@pytest.mark.parametrize("shape", [(), (1,), (3, 4), (2, PIECE)])
def test_the_answer_has_the_shape_asked_for(shape: tuple[int, ...]) -> None:
    d = np.full(shape, 0.004)
    many = judge_many(d, 0.03, 5.0, 300.0, np.float64(900.0) * np.ones(shape[-1:]), MATERIAL)
    assert {getattr(many, name).shape for name in FIGURES} == {shape}
    one = alone(0.004, 0.03, 5.0, 300.0, 900.0, False)
    assert tuple(float(getattr(many, name).flat[-1]) for name in FIGURES) == pytest.approx(one, rel=1e-12)


def test_none_at_all_is_none() -> None:
    assert judge_many(np.empty(0), 0.03, 5.0, 300.0, 900.0, MATERIAL).rate.shape == (0,)


def test_no_published_data_no_fatigue_factor() -> None:
    def factor(diameter: float) -> float:
        many: ManySprings = judge_many(diameter, 8 * diameter, 5.0, 300.0, 900.0, MATERIAL)
        assert np.isfinite(many.rate)
        return float(many.fatigue_factor_goodman)

    assert np.isfinite(factor(0.0099))
    assert np.isnan(factor(0.0105))  # over the Zimmerli data
    assert np.isnan(factor(0.05))  # over the table of strength


@pytest.mark.parametrize(("place", "value"), [(0, 0.0), (1, -0.03), (2, 0.0), (1, 0.004)])
def test_what_is_no_spring_is_refused(place: int, value: float) -> None:
    springs = [0.004, 0.03, 5.0, 300.0, 900.0]
    springs[place] = value
    with pytest.raises(InputError):
        judge_many(springs[0], springs[1], springs[2], springs[3], springs[4], MATERIAL)
