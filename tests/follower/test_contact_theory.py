"""Hertz contact held to the half space it comes from: its dip, its stresses, its limits and how it scales."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from loadbench.errors import InputError
from loadbench.follower.crown import crowned_contact
from loadbench.follower.elastic import Elastic, combined_radius, reduced_modulus
from loadbench.follower.ellipse_shear import DEPTHS, FLATNESS, SHARES, greatest_shear
from loadbench.follower.elliptic_contact import (
    approximate_contact,
    approximate_ellipticity,
    complete_integrals,
    elliptic_contact,
    ellipticity,
    principal_curvatures,
    radius_ratio,
    skewed_contact,
)
from loadbench.follower.hertz import line_contact, load_at_pressure
from tests.follower.half_space import axis_stresses, dip
from tests.follower.half_space import greatest_shear as added_up

MODULUS = reduced_modulus(Elastic(210e9, 0.3), Elastic(210e9, 0.3))
forces = st.floats(1.0, 2e4)
radii = st.floats(1e-3, 2.0)
scales = st.floats(0.1, 10.0)


# Against the half space


@pytest.mark.reference("johnson-contact")
@pytest.mark.parametrize("large", [0.020, 0.030, 0.100, 1.270])
def test_the_dip_of_the_ellipse_is_the_gap_of_the_two_bodies(large: float) -> None:
    small = 0.020
    found = elliptic_contact(2000.0, small, large, MODULUS)
    k, b = float(found.ratio), float(found.across)
    unit = float(found.pressure) * b / MODULUS
    for x, y in ((0.0, 0.0), (0.6, 0.0), (0.0, 0.7 * k), (0.5, 0.4 * k), (0.0, k)):
        gap = (x * b) ** 2 / (2 * small) + (y * b) ** 2 / (2 * large)
        assert unit * dip(k, x, y, 400) == pytest.approx(float(found.approach) - gap, rel=1e-8)


@pytest.mark.reference("johnson-contact")
def test_the_dip_of_the_line_is_the_gap_of_the_two_bodies() -> None:
    from scipy.integrate import quad

    force, length, radius = 3000.0, 0.014, 0.0064407
    found = line_contact(force, length, radius, MODULUS)
    b, p0 = float(found.half_width), float(found.pressure)

    def dip_less_middle(x: float) -> float:
        def part(t: float) -> float:  # s = b sin t, so that the pressure ends smoothly
            s = b * np.sin(t)
            return float(p0 * np.cos(t) ** 2 * b * np.log(abs((x - s) / s)))

        half = np.pi / 2
        whole = sum(quad(part, *ends)[0] for ends in ((-half, 0), (0, np.arcsin(x / b)), (np.arcsin(x / b), half)))
        return -2 / (np.pi * MODULUS) * float(whole)

    for share in (0.2, 0.5, 0.9):
        assert dip_less_middle(share * b) == pytest.approx(-((share * b) ** 2) / (2 * radius), rel=1e-6)


@pytest.mark.reference("johnson-contact")
@pytest.mark.parametrize("place", range(1, len(FLATNESS)))
def test_shear_under_an_ellipse_is_that_of_point_loads_added_up(place: int) -> None:
    flat = float(FLATNESS[place])
    share, depth = added_up(1 / flat, 0.30, 400 if flat < 0.12 else 100)
    assert float(SHARES[place]) == pytest.approx(share, abs=1e-5)
    assert float(DEPTHS[place]) == pytest.approx(depth, abs=1e-5)


@pytest.mark.reference("johnson-contact")
@pytest.mark.parametrize(
    ("flat", "share", "depth"),
    # Table 4.1 of that book, Poisson 0.30, from memory; its depths are rounded, for the greatest shear is a flat top:
    # point loads added up give up to 0.006 more.
    [(0.0, 0.300, 0.785), (0.2, 0.322, 0.745), (0.4, 0.325, 0.665), (0.6, 0.323, 0.59), (0.8, 0.317, 0.53),
     (1.0, 0.310, 0.48)],
)  # fmt: skip
def test_shear_under_an_ellipse_as_published(flat: float, share: float, depth: float) -> None:
    found = greatest_shear(np.inf if flat == 0 else 1 / flat, 1.0, 1.0)
    assert float(found.stress) == pytest.approx(share, abs=0.002)
    assert float(found.depth) == pytest.approx(depth, abs=0.007)


@pytest.mark.parametrize("k", [1.05, 1.33, 3.1, 7.0, 13.9, 30.0, 80.0])
def test_shear_between_the_places_of_the_table(k: float) -> None:
    share, depth = added_up(k, 0.30, 600 if k > 20 else 200)
    found = greatest_shear(k, 2e-4, 1.5e9)
    assert float(found.stress) == pytest.approx(share * 1.5e9, rel=1.5e-3)
    assert float(found.depth) == pytest.approx(depth * 2e-4, rel=1.5e-3)


@pytest.mark.reference("johnson-contact")
def test_stresses_on_the_axis_of_a_circle() -> None:
    for z in (0.25, 0.5, 1.0):
        across, beside, down = axis_stresses(1.0, z, 0.3)
        assert down == pytest.approx(-1 / (1 + z**2), rel=1e-6)
        assert across == pytest.approx(-1.3 * (1 - z * np.arctan(1 / z)) + 1 / (2 * (1 + z**2)), rel=1e-5)
        assert beside == pytest.approx(across, rel=1e-6)


# The ellipse


def test_complete_integrals_are_scipys() -> None:
    from scipy.special import ellipe, ellipkm1

    k = np.concatenate([[1.0], 1 + np.logspace(-9, 5, 60)])
    first, second = complete_integrals(k)
    np.testing.assert_allclose(first, ellipkm1(1 / k**2), rtol=1e-12)
    np.testing.assert_allclose(second, ellipe(1 - 1 / k**2), rtol=1e-12)


def test_ellipticity_undoes_the_ratio_of_radii() -> None:
    ratios = np.concatenate([[1.0], 1 + np.logspace(-12, 0, 300), np.logspace(0.31, 6, 300)])
    k = ellipticity(ratios)
    np.testing.assert_allclose(radius_ratio(k), ratios, rtol=1e-11)
    assert np.all(np.diff(k) >= 0)


@given(force=forces, small=radii, large=radii)
def test_the_load_is_the_volume_under_the_ellipse(force: float, small: float, large: float) -> None:
    small, large = sorted((small, large))
    found = elliptic_contact(force, small, large, MODULUS)
    assert float(2 / 3 * np.pi * found.across * found.along * found.pressure) == pytest.approx(force, rel=1e-12)


@given(force=forces, small=radii, large=radii, scale=scales)
def test_how_an_ellipse_scales(force: float, small: float, large: float, scale: float) -> None:
    small, large = sorted((small, large))
    one, more = (elliptic_contact(F, small, large, MODULUS) for F in (force, force * scale))
    assert float(more.pressure) == pytest.approx(float(one.pressure) * scale ** (1 / 3), rel=1e-9)
    assert float(more.along) == pytest.approx(float(one.along) * scale ** (1 / 3), rel=1e-9)
    assert float(more.approach) == pytest.approx(float(one.approach) * scale ** (2 / 3), rel=1e-9)
    grown = elliptic_contact(force * scale**2, small * scale, large * scale, MODULUS)
    assert float(grown.pressure) == pytest.approx(float(one.pressure), rel=1e-9)


@given(force=forces, radius=radii)
def test_equal_radii_make_a_circle(force: float, radius: float) -> None:
    found = elliptic_contact(force, radius, radius, MODULUS)
    a = (3 * force * radius / (4 * MODULUS)) ** (1 / 3)
    assert float(found.ratio) == 1.0
    assert float(found.across) == pytest.approx(a, rel=1e-12)
    assert float(found.approach) == pytest.approx(a**2 / radius, rel=1e-12)


def test_a_long_ellipse_is_a_line_at_its_middle() -> None:
    small = 0.010
    found = elliptic_contact(500.0, small, small * 1e5, MODULUS)
    assert float(found.pressure) == pytest.approx(MODULUS * float(found.across) / (2 * small), rel=1e-4)


@given(ratio=st.floats(1.0, 100.0))
def test_the_short_form_stays_within_what_is_said_of_it(ratio: float) -> None:
    exact, short = (each(1000.0, 0.010, 0.010 * ratio, MODULUS) for each in (elliptic_contact, approximate_contact))
    assert float(short.pressure) == pytest.approx(float(exact.pressure), rel=0.017)
    assert float(short.approach) == pytest.approx(float(exact.approach), rel=0.042)
    assert float(approximate_ellipticity(ratio)) == pytest.approx(float(exact.ratio), rel=0.04)


@pytest.mark.reference("hamrock-machine")
def test_f10_half_axes() -> None:
    found = elliptic_contact(1500.0, 0.012, 0.760, MODULUS)
    assert float(found.across) == pytest.approx(0.22e-3, rel=0.001)
    assert float(found.along) == pytest.approx(3.057e-3, rel=0.001)


@pytest.mark.reference("boresi")
def test_f14_by_one_call() -> None:
    modulus = reduced_modulus(Elastic(200e9, 0.29), Elastic(200e9, 0.29))
    found = skewed_contact(4500.0, (0.060, 0.130), (0.080, 0.200), np.radians(60), modulus)
    assert float(found.pressure) == pytest.approx(1641.89e6, rel=0.001)
    curvatures = principal_curvatures((0.060, 0.130), (0.080, 0.200), np.radians(60))
    assert float(curvatures[1] / curvatures[0]) == pytest.approx(1.4973, rel=0.001)


def test_a_roller_askew_on_a_shaft_touches_in_a_spot_and_square_on_it_in_a_line() -> None:
    crossed = skewed_contact(100.0, (0.01, np.inf), (0.01, np.inf), np.pi / 2, MODULUS)
    sphere = elliptic_contact(100.0, 0.01, 0.01, MODULUS)
    assert float(crossed.pressure) == pytest.approx(float(sphere.pressure), rel=1e-9)
    with pytest.raises(InputError, match="line"):
        skewed_contact(100.0, (0.01, np.inf), (0.01, np.inf), 0.0, MODULUS)
    with pytest.raises(InputError, match="radius of nothing"):
        skewed_contact(100.0, (0.0, np.inf), (0.01, np.inf), 0.0, MODULUS)


def test_what_makes_no_ellipse_is_refused() -> None:
    for ratio in (0.5, np.nan, np.inf):
        with pytest.raises(InputError):
            ellipticity(ratio)
    for wrong in (0.5, np.nan):
        with pytest.raises(InputError):
            radius_ratio(wrong)
        with pytest.raises(InputError):
            greatest_shear(wrong, 1.0, 1.0)
    with pytest.raises(InputError):
        elliptic_contact(-1.0, 0.01, 0.02, MODULUS)


# The line


@given(force=forces, radius=radii, length=st.floats(1e-3, 0.05), scale=scales)
def test_how_a_line_scales(force: float, radius: float, length: float, scale: float) -> None:
    one = line_contact(force, length, radius, MODULUS)
    more = line_contact(force * scale, length, radius, MODULUS)
    assert float(more.pressure) == pytest.approx(float(one.pressure) * scale**0.5, rel=1e-9)
    assert float(more.half_width) == pytest.approx(float(one.half_width) * scale**0.5, rel=1e-9)
    assert float(np.pi / 2 * one.half_width * one.pressure * length) == pytest.approx(force, rel=1e-9)
    assert float(load_at_pressure(float(one.pressure), length, radius, MODULUS)) == pytest.approx(force, rel=1e-9)


def test_no_load_makes_no_pressure_and_no_width_even_on_a_flat() -> None:
    found = line_contact(np.array([0.0, 0.0, 100.0]), 0.01, np.array([0.02, np.inf, np.inf]), MODULUS)
    assert found.pressure.tolist() == [0.0, 0.0, 0.0]
    assert found.half_width.tolist()[:2] == [0.0, 0.0]
    assert np.isinf(found.half_width[2])


@pytest.mark.reference("norton-contact")
def test_f04_mean_pressure() -> None:
    modulus = reduced_modulus(Elastic(30e6, 0.28), Elastic(30e6, 0.28))  # psi, lbf and inches throughout
    found = line_contact(5000.0, 0.875, 6.0, modulus)
    assert 5000.0 / float(2 * found.half_width * 0.875) == pytest.approx(55169, rel=0.001)


@pytest.mark.reference("johnson-contact")
def test_f07_half_width_of_a_hollow_flank() -> None:
    hollow, bulge = (line_contact(3000.0, 0.014, combined_radius(R, 0.0095), MODULUS) for R in (-0.060, 0.020))
    assert float(hollow.half_width) == pytest.approx(0.1634e-3, rel=0.001)
    assert float(hollow.pressure) < float(bulge.pressure)


def test_radii_together() -> None:
    found = combined_radius(np.array([np.inf, 0.02, -0.03]), np.array([0.01, 0.02, 0.01]))
    assert found == pytest.approx([0.01, 0.01, 0.015], rel=1e-12)
    for first, second in ((-0.0095, 0.0095), (0.0, 0.01), (0.01, 0.0), (-0.01, 0.02)):
        with pytest.raises(InputError):
            combined_radius(first, second)
    with pytest.raises(InputError, match="Poisson"):
        reduced_modulus(Elastic(2e11, 0.6), Elastic(2e11, 0.3))


# The crown


def test_a_crown_that_fits_is_an_ellipse_and_one_that_does_not_is_a_line() -> None:
    crown = np.array([0.3, 1.0, 200.0, np.inf])
    found = crowned_contact(800.0, 0.0065, crown, 0.012, MODULUS)
    line = line_contact(800.0, 0.012, 0.0065, MODULUS)
    assert found.straight.tolist() == [False, False, True, True]
    for place in (0, 1):
        oval = elliptic_contact(800.0, 0.0065, crown[place], MODULUS)
        assert float(found.pressure[place]) == pytest.approx(float(oval.pressure), rel=1e-12)
        assert float(found.half_length[place]) == pytest.approx(float(oval.along), rel=1e-12)
        assert float(found.ratio[place]) == pytest.approx(float(oval.ratio), rel=1e-12)
    assert found.half_width[2:] == pytest.approx([float(line.half_width)] * 2, rel=1e-12)
    assert found.half_length[2:].tolist() == [0.006, 0.006]
    assert found.pressure[3] == pytest.approx(float(line.pressure), rel=1e-12)
    assert found.shear[3] == pytest.approx(float(line.shear), rel=1e-12)
    assert found.depth[3] == pytest.approx(float(line.depth), rel=1e-12)


@given(force=forces, crown=st.floats(0.05, 1e4))
def test_a_crown_never_presses_less_than_a_straight_line(force: float, crown: float) -> None:
    found = crowned_contact(force, 0.0065, crown, 0.012, MODULUS)
    assert float(found.pressure) >= float(line_contact(force, 0.012, 0.0065, MODULUS).pressure) * (1 - 1e-12)
    assert 2 * float(found.half_length) <= 0.012
    assert 0.29 < float(found.shear / found.pressure) < 0.326


def test_the_pressure_of_a_crown_grows_without_a_step_when_its_ellipse_meets_the_ends() -> None:
    force = np.linspace(300.0, 4000.0, 4000)
    found = crowned_contact(force, 0.0065, 2.0, 0.012, MODULUS)
    assert 0 < int(found.straight.sum()) < force.size
    assert np.max(np.abs(np.diff(found.pressure))) < 3e6  # one newton is 0.02 to 0.1 % of the load


def test_a_lobe_flatter_than_the_crown_turns_the_ellipse() -> None:
    found = crowned_contact(100.0, 2.0, 0.5, 0.05, MODULUS)
    oval = elliptic_contact(100.0, 0.5, 2.0, MODULUS)
    assert float(found.ratio) == pytest.approx(1 / float(oval.ratio), rel=1e-12)
    assert float(found.half_width) == pytest.approx(float(oval.along), rel=1e-12)
    assert float(found.half_length) == pytest.approx(float(oval.across), rel=1e-12)


def test_a_crown_without_load_has_no_size() -> None:
    found = crowned_contact(np.zeros(2), 0.0065, np.array([0.5, np.inf]), 0.012, MODULUS)
    assert found.pressure.tolist() == found.shear.tolist() == found.half_width.tolist() == [0.0, 0.0]
    with pytest.raises(InputError):
        crowned_contact(1.0, 0.0065, 0.0, 0.012, MODULUS)
