"""Repeats: the pooled deviation, what a stated repeatability allows, and a tester worse than stated."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest

from loadbench.readings.accuracy import Accuracy
from loadbench.readings.trust.check_readings import flags_of
from loadbench.readings.trust.flag import FlagKind, TestedReading, TestedSpring
from loadbench.readings.trust.repeats import repeatability
from loadbench.units import Style
from tests.readings.trust.made_sets import LBF, STATED, Way, made, one_load


def spring(name: str, *loads: float, height: float = 0.048) -> TestedSpring:
    readings = [TestedReading(part="", height=height, load=load, repeat=i + 1) for i, load in enumerate(loads)]
    return TestedSpring(id=name, readings=tuple(readings))


def test_pooled_by_hand() -> None:
    found = repeatability([spring("1", 700, 702), spring("2", 690, 693, 696), spring("3", 710)])
    assert found is not None
    assert (found.freedom, found.groups, found.left_out) == (3, 2, 0)
    assert found.deviation == pytest.approx(math.sqrt((2 + 18) / 3))


def test_no_repeats_no_repeatability() -> None:
    assert repeatability([]) is None
    assert repeatability([spring("1", 700), spring("2", 700)]) is None


def test_the_pooled_deviation_is_what_the_tester_does() -> None:
    way = Way(springs=32, heights=3, repeats=3, rounded=0.01, accuracy=replace(STATED, height=0.0))
    found = repeatability(made(way, np.random.default_rng(3)))
    assert found is not None
    assert found.deviation == pytest.approx(0.5 * LBF / math.sqrt(3), rel=0.1)


def test_a_bad_group_does_not_hide_itself() -> None:
    good = [spring(str(i), 700 + i, 701 + i % 3) for i in range(10)]
    found = repeatability([*good, spring("bad", 700, 760)])
    assert found is not None
    assert found.left_out == 1
    assert found.deviation < 5


def test_heights_within_a_hair_are_one_height() -> None:
    readings = [TestedReading(part="", height=0.048 + off, load=700 + 50 * off / 1e-5) for off in (0.0, 1.5e-5)]
    assert repeatability([TestedSpring(id="1", readings=tuple(readings))]) is not None
    readings[1] = replace(readings[1], height=0.048 + 3e-5)
    assert repeatability([TestedSpring(id="1", readings=tuple(readings))]) is None


def test_a_tester_worse_than_stated_is_told_once_for_the_set() -> None:
    bad = Way(repeats=3, accuracy=replace(STATED, repeatability=3 * LBF))
    flags = flags_of(made(bad, np.random.default_rng(1)), accuracy=STATED)
    assert [(flag.kind, flag.spring) for flag in flags] == [(FlagKind.REPEAT_DISAGREES, None)]
    assert "times what its stated accuracy allows" in flags[0].told(Style.INCH_POUND)
    assert flags[0].value == pytest.approx(3 * LBF, rel=0.25)


def test_of_three_repeats_the_one_that_disagrees_is_named_and_left_out() -> None:
    springs = made(Way(heights=2, repeats=3), np.random.default_rng(1))
    readings = list(springs[4].readings)
    readings[4] = one_load(0, 0.2)(0, readings[4])
    springs[4] = replace(springs[4], readings=tuple(readings))
    (flag,) = flags_of(springs, accuracy=STATED)
    assert (flag.kind, flag.row, flag.height) == (FlagKind.REPEAT_DISAGREES, readings[4].row, readings[4].height)
    assert flag.value is not None
    assert flag.limit is not None
    assert flag.value > flag.limit


def test_two_repeats_alone_go_by_five_percent() -> None:
    assert flags_of([spring("1", 700, 730)], accuracy=Accuracy()) == ()
    (flag,) = flags_of([spring("1", 700, 740)], accuracy=Accuracy())
    assert flag.kind is FlagKind.REPEAT_DISAGREES
    assert "5 %" in flag.rule
