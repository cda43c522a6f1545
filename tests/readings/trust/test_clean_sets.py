"""No doubt where there is none: simulated sets of real spread off a tester that is as good as stated, from seeds."""

from __future__ import annotations

import itertools
from dataclasses import replace

import numpy as np
import pytest

from loadbench.readings.accuracy import Accuracy
from loadbench.readings.trust.check_readings import flags_of
from tests.readings.trust.made_sets import LBF, STATED, Way, made, spec_of

SETS = 50


def flagged(way: Way, seed: int, told: Accuracy) -> float:
    """Share of clean sets with a flag."""
    rng = np.random.default_rng(seed)
    return sum(bool(flags_of(made(way, rng), accuracy=told, spec=spec_of(way))) for _ in range(SETS)) / SETS


@pytest.mark.parametrize("springs", [8, 16, 32, 64])
def test_under_five_in_a_hundred_clean_sets_are_flagged(springs: int) -> None:
    ways = [
        (Way(springs=springs, heights=heights, normal=normal, spread=spread, progressive=bend, accuracy=told), told)
        for heights, normal, spread, bend, told in itertools.product(
            (2, 3, 10), (True, False), (0.02, 0.04), (0.0, 0.15), (STATED, Accuracy())
        )
    ]
    shares = [flagged(way, 100 * springs + place, told) for place, (way, told) in enumerate(ways[::5])]
    assert np.mean(shares) < 0.05


@pytest.mark.parametrize("told", [STATED, Accuracy()], ids=["stated", "unstated"])
def test_clean_repeats_are_not_flagged(told: Accuracy) -> None:
    ways = [
        Way(springs=16, heights=heights, repeats=repeats, accuracy=told) for heights in (1, 2) for repeats in (2, 3)
    ]
    assert np.mean([flagged(way, place, told) for place, way in enumerate(ways)]) < 0.05


def test_a_set_of_wide_spread_is_no_set_of_outliers() -> None:
    ways = [Way(springs=springs, heights=3, spread=0.12) for springs in (8, 16, 64)]
    assert np.mean([flagged(way, place, STATED) for place, way in enumerate(ways)]) < 0.05


def test_equal_to_within_what_the_tester_shows_is_equal() -> None:
    # Loads shown in steps of 5 lbf: most springs read alike, and the next step is no outlier.
    ways = [Way(springs=16, heights=heights, rounded=5.0, spread=0.01) for heights in (2, 3, 5)]
    assert np.mean([flagged(way, place, STATED) for place, way in enumerate(ways)]) < 0.05


def test_a_set_progressive_as_a_whole_is_not_curved() -> None:
    assert np.mean([flagged(Way(heights=heights, progressive=0.35), 7, STATED) for heights in (3, 5, 10)]) < 0.05


@pytest.mark.parametrize("springs", [0, 1, 2, 3, 4])
def test_few_springs_say_little(springs: int) -> None:
    way = Way(springs=springs, heights=2)
    springs_made = made(way, np.random.default_rng(1))
    assert flags_of(springs_made, accuracy=replace(STATED, zero=3 * LBF), spec=spec_of(way)) == ()
