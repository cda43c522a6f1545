"""What a doubt must not be taken for: gaps in a set, a load off by less than a graduation, two repeats alone."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from loadbench.readings.accuracy import Accuracy
from loadbench.readings.trust.check_readings import flags_of
from loadbench.readings.trust.flag import FlagKind, TestedReading, TestedSpring
from loadbench.readings.trust.outliers import own_scale
from loadbench.readings.trust.typed_heights import guessed

INCH, LBF = 0.0254, 4.4482216152605
RATE = 350.0
HEIGHTS = (1.9, 1.7, 1.5, 1.3)


def made_set(seed: int, heights: tuple[float, ...] = HEIGHTS, count: int = 16) -> list[TestedSpring]:
    """A clean set, a row a reading: 0.6 % in rate, 0.4 lbf a reading, printed to 0.1 lbf."""
    rng = np.random.default_rng(seed)
    springs = []
    for number in range(count):
        rate, free = RATE * (1 + rng.normal(0, 0.006)), 2.3286 + rng.normal(0, 0.005)
        loads = [round(rate * (free - height) + rng.normal(0, 0.4), 1) for height in heights]
        held = tuple(
            TestedReading(
                part="", height=height * INCH, load=load * LBF, row=2 + number * len(heights) + place, column=3
            )
            for place, (height, load) in enumerate(zip(heights, loads, strict=True))
        )
        springs.append(TestedSpring(id=str(number + 1), readings=held))
    return springs


def loaded(spring: TestedSpring, place: int, factor: float) -> TestedSpring:
    own = list(spring.readings)
    own[place] = replace(own[place], load=own[place].load * factor)
    return replace(spring, readings=tuple(own))


def test_a_gap_raises_no_false_alarm() -> None:
    # Three of 64 readings are missing; their springs have less to be held against.
    told = 0
    for seed in range(150):
        springs, rng = made_set(seed), np.random.default_rng(seed)
        gapped = rng.choice(16, 3, replace=False)
        for row in gapped:
            gap = int(rng.integers(4))
            kept = tuple(each for place, each in enumerate(springs[row].readings) if place != gap)
            springs[row] = replace(springs[row], readings=kept)
        names = {springs[row].id for row in gapped}
        told += any(flag.spring in names for flag in flags_of(springs, accuracy=Accuracy()))
    assert told <= 6


def test_distances_weigh_what_they_stand_on() -> None:
    line = np.array([150.0, 220.0, 290.0, 360.0])
    full = np.tile(line, (5, 1))
    assert np.all(own_scale(full, line) == 1)
    full[0, 1] = np.nan
    scale = own_scale(full, line)
    assert np.all(scale[1:] == 1)
    # Held against two readings at 290 and 360 the prediction at 150 has 1 + 1/2 + 175^2/2450 = 14; against three 10/3.
    assert scale[0, 0] == pytest.approx(np.sqrt((1 + 1 / 3 + 140**2 / 9800) / (1 + 1 / 2 + 175**2 / 2450)))


def test_a_load_a_tenth_low_is_no_height_of_no_graduation() -> None:
    # 135 lbf at 1.900 in would fit 1.943 in, at which nobody stops a tester.
    for seed in range(12):
        springs = made_set(seed)
        springs[4] = loaded(springs[4], 0, 0.92)
        (flag,) = (each for each in flags_of(springs, accuracy=Accuracy()) if each.spring == "5")
        assert flag.kind is FlagKind.OUTLIER, seed
        assert flag.row == springs[4].readings[0].row


def test_a_height_is_misread_by_whole_graduations() -> None:
    common = np.array(HEIGHTS) * INCH
    assert guessed(1.9 * INCH, 1.943 * INCH, 0.005 * INCH, common, common) is None
    off = guessed(1.9 * INCH, 1.951 * INCH, 0.005 * INCH, common, common)
    assert off is not None
    assert off.height == pytest.approx(1.95 * INCH)
    assert guessed(1.9 * INCH, 1.951 * INCH, 0.02 * INCH, common, common) is None  # so blurred anything fits


def test_a_rate_that_falls_at_three_heights_is_one_reading_that_is_off() -> None:
    springs = made_set(5, (1.9, 1.6, 1.3))
    for number, each in enumerate(springs):  # heights in the header: a row a spring
        at = tuple(replace(one, row=number + 3, column=place + 2) for place, one in enumerate(each.readings))
        springs[number] = replace(each, readings=at)
    springs[4] = loaded(springs[4], 0, 0.9)
    (flag,) = flags_of(springs, accuracy=Accuracy())
    assert (flag.kind, flag.spring, flag.row, flag.column) == (FlagKind.OUTLIER, "5", 7, 2)


def test_two_readings_of_one_number_do_not_vouch_for_each_other() -> None:
    # One spring's number stands on two rows; no other spring is repeated.
    springs = made_set(3, (1.9, 1.3), count=4)
    again = tuple(replace(each, load=each.load * 1.08, repeat=2, row=50) for each in springs[1].readings)
    springs[1] = replace(springs[1], readings=(*springs[1].readings, *again))
    flags = flags_of(springs, accuracy=Accuracy())
    assert {(each.kind, each.spring, each.row) for each in flags} == {(FlagKind.REPEAT_DISAGREES, "2", 50)}
