"""The roller's axle pin against beams and sections integrated step by step."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from loadbench.errors import InputError
from loadbench.follower.axle_pin import YIELDS, pin_stress, yield_of


def _sums(load: float, span: float, loaded: float) -> float:
    """Greatest bending moment of a beam on two edges, by adding up the load's small pieces."""
    x = (np.arange(20000) + 0.5) / 20000 * span
    inside = np.abs(x - span / 2) < loaded / 2
    force = np.where(inside, load / inside.sum(), 0.0)
    shear = load / 2 - np.cumsum(force)
    return float(np.max(np.cumsum(shear) * span / 20000))


@pytest.mark.parametrize("loaded", [0.1e-3, 5e-3, 12e-3])
def test_the_moment_is_that_of_the_pieces(loaded: float) -> None:
    assert pin_stress(4000.0, 8e-3, 12e-3, loaded).moment == pytest.approx(_sums(4000.0, 12e-3, loaded), rel=2e-3)


@pytest.mark.reference("shigley")
def test_the_two_ends_of_the_formula_are_the_textbook_beams() -> None:
    assert pin_stress(1000.0, 0.008, 0.02, 1e-12).moment == pytest.approx(1000 * 0.02 / 4)  # F l / 4
    assert pin_stress(1000.0, 0.008, 0.02, 0.02).moment == pytest.approx(1000 * 0.02 / 8)  # F l / 8
    found = pin_stress(1000.0, 0.008, 0.02, 0.02)
    assert found.bending == pytest.approx(32 * 2.5 / (math.pi * 0.008**3))
    assert found.shear == pytest.approx(4 / 3 * 500 / (math.pi / 4 * 0.008**2))
    thin = pin_stress(1000.0, 0.008, 0.02, 0.02, 0.008 * 0.9999)
    assert thin.shear == pytest.approx(2 * 500 / (math.pi / 4 * 0.008**2 * (1 - 0.9999**2)), rel=1e-4)


@pytest.mark.parametrize("share", [0.0, 0.3, 0.6, 0.9])
def test_a_hollow_pin_is_its_section_cut_into_strips(share: float) -> None:
    R, r, F = 4e-3, 4e-3 * share, 3000.0
    y = (np.arange(200000) + 0.5) / 200000 * R
    width = 2 * (np.sqrt(R**2 - y**2) - np.sqrt(np.maximum(r**2 - y**2, 0.0)))
    step = R / 200000
    second, first = 2 * np.sum(width * y**2) * step, np.sum(width * y) * step
    found = pin_stress(F, 2 * R, 12e-3, 8e-3, 2 * r)
    assert found.bending == pytest.approx(found.moment * R / second, rel=1e-4)
    assert found.shear == pytest.approx(F / 2 * first / (second * 2 * (R - r)), rel=1e-4)


def test_a_short_thick_pin_shears_before_it_bends() -> None:
    found = pin_stress(1000.0, 0.02, 0.004, 0.004)
    assert found.equivalent == pytest.approx(math.sqrt(3) * found.shear)
    slender = pin_stress(1000.0, 0.005, 0.02, 0.01)
    assert slender.equivalent == slender.bending


@given(load=st.floats(0, 2e4), part=st.floats(0.05, 1))
def test_stress_goes_with_load_and_a_spread_load_spares_the_pin(load: float, part: float) -> None:
    one, two = pin_stress(load, 8e-3, 12e-3, part * 12e-3), pin_stress(2 * load, 8e-3, 12e-3, part * 12e-3)
    assert two.equivalent == pytest.approx(2 * one.equivalent)
    assert one.moment <= pin_stress(load, 8e-3, 12e-3, part * 6e-3).moment


def test_loads_may_be_a_whole_cycle() -> None:
    assert pin_stress(np.linspace(0, 5000, 720), 8e-3, 12e-3, 8e-3).equivalent.shape == (720,)


@pytest.mark.parametrize(
    ("sizes", "field"), [((8e-3, 12e-3, 13e-3), "span"), ((8e-3, 12e-3, 8e-3, 8e-3), "bore")],
)  # fmt: skip
def test_what_cannot_be_is_told_at_its_field(sizes: tuple[float, ...], field: str) -> None:
    with pytest.raises(InputError) as told:
        pin_stress(1000.0, *sizes)
    assert told.value.place.field == field


@pytest.mark.parametrize("sizes", [(0.0, 12e-3, 8e-3), (8e-3, -1.0, 8e-3), (8e-3, 12e-3, 8e-3, -1e-3)])
def test_a_size_at_zero_or_below_is_refused(sizes: tuple[float, ...]) -> None:
    with pytest.raises(InputError):
        pin_stress(1000.0, *sizes)


@pytest.mark.parametrize(
    ("text", "name"),
    [
        ("bearing steel", "bearing steel"), ("52100", "bearing steel"), ("Bearing Steel 52100", "bearing steel"),
        ("tool steel M2", "tool steel"), ("Case hardened steel", "case-hardened steel"),
        ("case-hardened steel", "case-hardened steel"), ("8620 carburised", "case-hardened steel"),
        ("hardened steel", "hardened steel"), ("steel", "steel"), ("alloy steel", "steel"),
    ],
)  # fmt: skip
def test_a_steel_is_known_by_its_words(text: str, name: str) -> None:
    assert yield_of(text) == (name, YIELDS[name])


@pytest.mark.parametrize("text", [None, "", "cheese", "mild steel", "stainless steel", "unhardened steel", "steely"])
def test_what_is_softer_or_unknown_has_no_yield_strength(text: str | None) -> None:
    assert yield_of(text) is None
