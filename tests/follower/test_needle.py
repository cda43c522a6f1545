"""Needles: what fits, how ratings and lives scale, what a duty wears, what oil does."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from loadbench.errors import InputError
from loadbench.follower import needle, needle_oil

MM = 1e-3


@given(count=st.integers(5, 60), diameter=st.floats(1e-3, 5e-3))
def test_a_ring_that_is_just_full_holds_its_needles_and_not_one_more(count: int, diameter: float) -> None:
    pitch = diameter / math.sin(math.pi / count)
    assert needle.most_needles(diameter, pitch) == count
    assert needle.most_needles(diameter, pitch * 0.999) == count - 1
    assert needle.checked_count(count, diameter, pitch) == count


@pytest.mark.parametrize("count", [19, 0, -3, 17.5, float("nan"), float("inf")])
def test_a_count_that_cannot_be_is_told_at_its_field(count: float) -> None:
    with pytest.raises(InputError) as told:
        needle.checked_count(count, 2.5 * MM, 15 * MM)
    assert told.value.place.field == "count"
    assert told.value.expected == ("at most 18 of this size" if count == 19 else "a whole number")


def test_needles_as_large_as_their_circle_are_told_at_their_diameter() -> None:
    with pytest.raises(InputError, match="as large as") as told:
        needle.most_needles(15 * MM, 15 * MM)
    assert told.value.place.field == "diameter"


@given(scale=st.floats(0.5, 2.0))
def test_ratings_scale_with_size_as_their_powers_say(scale: float) -> None:
    sizes = (2.5 * MM, 9.8 * MM, 15 * MM)
    larger = tuple(scale * each for each in sizes)
    dynamic = needle.dynamic_rating(18, *larger) / needle.dynamic_rating(18, *sizes)
    assert dynamic == pytest.approx(scale ** (7 / 9 + 29 / 27), rel=1e-9)
    assert needle.static_rating(18, *larger) / needle.static_rating(18, *sizes) == pytest.approx(scale**2, rel=1e-9)


def test_outside_the_table_there_is_no_rating() -> None:
    assert np.isnan(needle.dynamic_rating(6, 4 * MM, 8 * MM, 12 * MM))
    assert np.isfinite(needle.static_rating(6, 4 * MM, 8 * MM, 12 * MM))


@pytest.mark.reference("iso-281")
@pytest.mark.parametrize("share", [0.1, 0.35, 1.0])
def test_a_half_sine_wears_as_the_gamma_function_says(share: float) -> None:
    """F41 by another way: the mean of sin^p over half a turn is gamma((p+1)/2) / (sqrt(pi) gamma(p/2 + 1))."""
    steps = 20000
    angle = (np.arange(steps) + 0.5) / steps
    load = np.where(angle < share, 3000 * np.sin(np.pi * angle / share), 0.0)
    p = 10 / 3
    mean = math.gamma((p + 1) / 2) / (math.sqrt(math.pi) * math.gamma(p / 2 + 1))
    found = needle.equivalent_load(load, np.ones(steps), np.full(steps, 1 / steps))
    assert found == pytest.approx(3000 * (share * mean) ** (1 / p), rel=1e-5)
    if share == 0.35:
        assert found / 3000 == pytest.approx(0.5568, rel=0.001)


def test_a_duty_of_idling_and_running_adds_its_damage() -> None:
    """A turn's load curve at each of two speeds: Miner's sum, lives worked out one by one, gives the same time."""
    curves = (np.linspace(0, 2000, 360), np.linspace(0, 3000, 360) ** 1.02)
    spins, shares, rating = (70.0, 600.0), (0.3, 0.7), 9000.0
    every = np.repeat(spins, 360), np.repeat(shares, 360) / 360
    load = needle.equivalent_load(np.concatenate(curves), *every)
    together = needle.life_seconds(needle.rating_life(rating, load), float(np.sum(every[0] * every[1])))
    apart = [
        needle.life_seconds(needle.rating_life(rating, needle.equivalent_load(c, np.ones(360), np.ones(360))), w)
        for c, w in zip(curves, spins, strict=True)
    ]
    assert together == pytest.approx(1 / sum(q / life for q, life in zip(shares, apart, strict=True)), rel=1e-9)


@pytest.mark.reference("iso-281")
def test_f40_mean_speed() -> None:
    assert float(np.sum(np.array([1500, 3000, 4500]) * np.array([0.2, 0.5, 0.3]))) == pytest.approx(3150)


def test_a_duty_that_never_turns_or_a_load_below_zero_is_refused() -> None:
    one = np.ones(3)
    with pytest.raises(InputError, match="nothing turns"):
        needle.equivalent_load(one, 0 * one, one)
    with pytest.raises(InputError):
        needle.equivalent_load(-one, one, one)


def test_without_load_needles_last_for_ever() -> None:
    assert np.isinf(needle.rating_life(8000.0, 0.0))
    assert np.isinf(needle.static_safety(8000.0, 0.0))


@given(load=st.floats(100, 5000), turns=st.floats(1e6, 1e10))
def test_the_rating_needed_gives_the_life_wanted(load: float, turns: float) -> None:
    assert needle.rating_life(needle.rating_needed(load, turns), load) == pytest.approx(turns, rel=1e-9)


def test_the_life_factor_joins_its_branches_and_grows_with_the_film_and_the_cleanliness() -> None:
    kappa = np.linspace(0.1, 4.0, 800)
    factor = needle_oil.life_factor(kappa, 0.3, 2000.0, 1500.0)
    assert np.all(np.diff(factor) >= 0)
    for joint in (0.4, 1.0):
        low, high = (float(needle_oil.life_factor(joint + d, 0.3, 2000.0, 1500.0)) for d in (-1e-7, 1e-7))
        assert low == pytest.approx(high, rel=1e-3)
    clean = needle_oil.life_factor(1.5, np.linspace(0, 1, 50), 2000.0, 1500.0)
    assert np.all(np.diff(clean) >= 0)
    assert clean[0] == pytest.approx(0.1)
    assert needle_oil.life_factor(4.0, 1.0, 1e6, 1.0) == 50


def test_an_additive_lifts_the_factor_to_three_at_most_and_never_lowers_it() -> None:
    for kappa, load in ((0.15, 4000.0), (0.5, 2000.0), (0.9, 500.0)):
        plain, lifted = (f(kappa, 0.5, 2000.0, load) for f in (needle_oil.life_factor, needle_oil.additive_factor))
        assert lifted >= plain
        assert lifted <= max(float(plain), 3.0)
    assert needle_oil.life_factor(0.95, 0.5, 2000.0, 400.0) > 3
    assert np.isfinite(needle_oil.additive_factor(0.05, 0.5, 2000.0, 2000.0))
    with pytest.raises(InputError, match="dirty"):
        needle_oil.additive_factor(0.5, 0.1, 2000.0, 2000.0)


def test_the_fatigue_limit_is_a_share_of_the_static_rating() -> None:
    assert needle_oil.fatigue_limit_load(8200.0) == pytest.approx(1000)
