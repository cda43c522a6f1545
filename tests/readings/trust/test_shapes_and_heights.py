"""Loads that fall, curves, and the heights that a slip of the fingers makes of a height."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from loadbench.readings.accuracy import Accuracy
from loadbench.readings.trust.check_readings import flags_of
from loadbench.readings.trust.flag import FlagKind, TestedReading, TestedSpring
from loadbench.readings.trust.shape import curvatures
from loadbench.readings.trust.typed_heights import digits_of, guessed, slips
from loadbench.units import Style
from tests.readings.trust.made_sets import INCH, LBF, STATED, Way, bent, changed, listed, made, taken


def one(*points: tuple[float, float], direction: str = "") -> list[TestedSpring]:
    readings = [TestedReading(part="", height=h, load=f, direction=direction) for h, f in points]
    return [TestedSpring(id="S{1}", readings=tuple(readings))]


def test_a_load_that_falls_is_told_even_of_a_single_spring() -> None:
    (flag,) = flags_of(one((0.048, 700.0), (0.040, 1300.0), (0.032, 1250.0)), accuracy=Accuracy())
    assert flag.kind is FlagKind.NOT_RISING
    assert flag.told(Style.METRIC).replace("\u2009", " ") == (
        "Spring S{1}: 1250 N at 32.00 mm after 1300 N at 40.00 mm: the load must rise as the spring is pressed."
    )


def test_a_fall_within_the_repeatability_is_none() -> None:
    pair = one((0.0400, 1300.0), (0.03997, 1299.0))
    assert flags_of(pair, accuracy=Accuracy(repeatability=2.0)) == ()
    assert len(flags_of(one((0.0400, 1300.0), (0.0399, 1200.0)), accuracy=Accuracy(repeatability=2.0))) == 1


def test_unloading_is_another_line() -> None:
    up, down = one((0.048, 700.0), (0.032, 1900.0))[0], one((0.048, 690.0), (0.032, 1900.0), direction="unloading")[0]
    assert flags_of([replace(up, readings=up.readings + down.readings)], accuracy=STATED) == ()


def test_curvature_of_a_parabola() -> None:
    heights = np.linspace(0.048, 0.032, 5)
    travel = 0.048 - heights
    loads = 500 + 50e3 * 0.9 * travel + 50e3 * 0.2 / (2 * 0.016) * travel**2
    shares, per_load = curvatures(heights, np.vstack([loads, loads * np.nan]))
    assert shares[0] == pytest.approx(0.2)
    assert np.isnan(shares[1])
    # by repetition: noise of 1 N in each reading
    noisy = loads + np.random.default_rng(1).standard_normal((4000, 5))
    assert np.std(curvatures(heights, noisy)[0]) == pytest.approx(per_load[0], rel=0.05)


def test_three_springs_tell_a_curve_by_their_noise_alone() -> None:
    springs = made(Way(springs=4, heights=5), np.random.default_rng(3))
    springs = changed(springs, 2, bent(0.4))
    (flag,) = flags_of(springs, accuracy=STATED)
    assert (flag.kind, flag.spring) == (FlagKind.CURVED, "3")
    assert flags_of(springs, accuracy=Accuracy()) == ()


def test_digits_as_they_were_typed() -> None:
    inches = np.array([1.9, 1.25]) * INCH
    assert digits_of(1.52 * INCH, inches) == ("1.520", INCH)
    assert digits_of(0.038, np.array([0.048, 0.0317])) == ("38.00", 0.001)


def test_slips_of_the_fingers() -> None:
    assert set(slips("1.250", swaps=True)) == {"2.150", "1.520", "1.205"}
    changed_digits = set(slips("1.250", swaps=False))
    assert {"1.300", "1.350", "1.200", "2.250", "1.260"} - changed_digits == {"1.300"}
    assert "1.251" not in changed_digits  # a thousandth says nothing
    assert not {each for each in slips("31.75", swaps=False) if each[-2:] != "75"}


def test_a_height_that_others_have_is_the_better_guess() -> None:
    common = np.array([1.2, 1.25, 1.9]) * INCH
    best = guessed(1.52 * INCH, 1.247 * INCH, 0.01 * INCH, common, common)
    assert best is not None
    assert best.height == pytest.approx(1.25 * INCH)
    assert best.known
    assert best.swapped
    assert best.strong
    best = guessed(1.2 * INCH, 1.302 * INCH, 0.01 * INCH, common, common)
    assert best is not None
    assert (round(best.height / INCH, 6), best.strong) == (1.3, False)
    assert guessed(1.2 * INCH, 1.374 * INCH, 0.01 * INCH, common, common) is None


def test_the_sentence_names_the_height_that_fits() -> None:
    springs = changed(made(Way(heights=3, spread=0.01), np.random.default_rng(3)), 6, taken(1.25, 1.2))
    (flag,) = flags_of(springs, accuracy=STATED)
    assert (
        flag.told(Style.INCH_POUND)
        .replace("\u2009", " ")
        .endswith(" lbf at 1.200 in fits a height of 1.250 in: was the height typed wrong?")
    )


def test_a_height_of_its_own_that_fits_is_no_slip() -> None:
    # One spring was tested at a further height, and its load there is right.
    springs = made(Way(heights=2), np.random.default_rng(3))
    extra = TestedReading(part="", height=1.4 * INCH, load=springs[2].readings[1].load - 0.2 * 420 * LBF)
    springs[2] = replace(springs[2], readings=(*springs[2].readings, extra))
    assert flags_of(springs, accuracy=STATED) == ()


def test_a_spring_with_that_one_reading_alone_says_nothing() -> None:
    springs = changed(made(Way(heights=2), np.random.default_rng(3)), 2, listed(1.2, 1.02))
    springs[2] = replace(springs[2], readings=springs[2].readings[1:])
    assert flags_of(springs, accuracy=STATED) == ()
