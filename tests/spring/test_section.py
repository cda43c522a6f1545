"""Sections of wire: scaling, limits to known shapes, refusals."""

from __future__ import annotations

from collections.abc import Callable

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from loadbench.arrays import Real
from loadbench.errors import InputError
from loadbench.spring.section import (
    Section,
    Shape,
    ovate_section,
    rectangle_coefficient_roark,
    rectangle_coefficients,
    rectangular_section,
    round_section,
)

sizes = st.floats(0.001, 0.010)
scales = st.floats(0.5, 2.0)
Maker = Callable[[Real, Real], Section]
MAKERS: list[Maker] = [ovate_section, rectangular_section]
ARRAYS = ("radial", "axial", "area", "torsion_constant", "torsion_modulus")


def numbers(section: Section) -> list[float]:
    return [float(getattr(section, name)) for name in ARRAYS]


@pytest.mark.parametrize("make", MAKERS)
@given(radial=sizes, axial=sizes, scale=scales)
def test_powers_of_size(make: Maker, radial: float, axial: float, scale: float) -> None:
    small, large = make(radial, axial), make(scale * radial, scale * axial)
    powers = [scale, scale, scale**2, scale**4, scale**3]
    assert numbers(large) == pytest.approx(np.array(numbers(small)) * powers, rel=1e-9)


@pytest.mark.parametrize("make", MAKERS)
@given(radial=sizes, axial=sizes)
def test_turning_the_wire_changes_only_what_lies_where(make: Maker, radial: float, axial: float) -> None:
    one, other = make(radial, axial), make(axial, radial)
    assert (float(one.radial), float(one.axial)) == (float(other.axial), float(other.radial))
    assert numbers(one)[2:] == pytest.approx(numbers(other)[2:], rel=1e-12)


@given(sizes)
def test_an_ellipse_of_equal_axes_is_a_circle(size: float) -> None:
    assert numbers(ovate_section(size, size)) == pytest.approx(numbers(round_section(size)), rel=1e-12)


def test_a_round_wire_by_hand() -> None:
    wire = round_section(0.004)
    assert wire.shape is Shape.ROUND
    # pi/4 x 16 mm2, pi/32 x 256 mm4, pi/16 x 64 mm3
    assert numbers(wire) == pytest.approx([4e-3, 4e-3, 12.566371e-6, 25.132741e-12, 12.566371e-9], rel=1e-7)


@given(sizes, sizes)
def test_an_ellipse_lies_within_its_rectangle_and_its_circles(radial: float, axial: float) -> None:
    ellipse, box = ovate_section(radial, axial), rectangular_section(radial, axial)
    inner, outer = (round_section(size) for size in sorted((radial, axial)))
    slack = 1 + 1e-12
    for name in ("area", "torsion_constant", "torsion_modulus"):
        assert getattr(ellipse, name) < getattr(box, name)
        assert getattr(inner, name) <= getattr(ellipse, name) * slack
        assert getattr(ellipse, name) <= getattr(outer, name) * slack


@given(sizes, st.floats(1.0, 20.0))
def test_torsion_constant_of_a_bar_is_below_the_polar_moment(short: float, ratio: float) -> None:
    # Saint-Venant: only the circle keeps the whole polar moment; the square keeps 84.3 %.
    long = short * ratio
    polar = long * short * (long**2 + short**2) / 12
    assert float(rectangular_section(short, long).torsion_constant) < 0.8435 * polar


def slow_series(ratio: float, terms: int = 400) -> tuple[float, float]:
    """The series as the book writes it, many terms."""
    n = 2.0 * np.arange(terms) + 1
    x = np.minimum(n * np.pi * ratio / 2, 600)
    k1 = (1 - 192 / np.pi**5 / ratio * np.sum(np.tanh(x) / n**5)) / 3
    return k1, k1 / (1 - 8 / np.pi**2 * np.sum(1 / (n**2 * np.cosh(x))))


@given(st.floats(1.0, 1e4))
def test_the_short_sum_is_the_long_series(ratio: float) -> None:
    k1, k2 = rectangle_coefficients(ratio)
    assert (float(k1), float(k2)) == pytest.approx(slow_series(ratio), rel=1e-11)


@given(st.floats(1.0, 50.0))
def test_the_handbook_polynomial_is_near_the_series(ratio: float) -> None:
    assert float(rectangle_coefficient_roark(ratio)) == pytest.approx(float(rectangle_coefficients(ratio)[0]), rel=5e-3)


def test_a_flat_strip_is_a_third() -> None:
    assert [float(k) for k in rectangle_coefficients(1e9)] == pytest.approx([1 / 3, 1 / 3], rel=1e-8)


def test_arrays_go_through_together() -> None:
    radial, axial = np.array([0.003, 0.004]), np.array([[0.004], [0.005], [0.003]])
    for make in MAKERS:
        wire = make(radial, axial)
        assert {getattr(wire, name).shape for name in ARRAYS} == {(3, 2)}
        for row, column in ((0, 1), (2, 0)):
            alone = make(float(radial[column]), float(axial[row, 0]))
            assert [float(getattr(wire, name)[row, column]) for name in ARRAYS] == pytest.approx(numbers(alone))
    assert round_section(radial).area.shape == (2,)


@pytest.mark.parametrize("bad", [0.0, -0.001, float("nan")])
def test_no_wire_is_refused(bad: float) -> None:
    for make in MAKERS:
        for pair in ((bad, 0.004), (0.004, bad)):
            with pytest.raises(InputError, match="wire size"):
                make(*pair)
    with pytest.raises(InputError, match="wire diameter"):
        round_section(bad)


@pytest.mark.parametrize("bad", [0.999, 0.0, -2.0, float("nan")])
def test_a_ratio_is_long_over_short(bad: float) -> None:
    with pytest.raises(InputError):
        rectangle_coefficients(bad)
    with pytest.raises(InputError):
        rectangle_coefficient_roark(bad)
