"""Zero and scale of the tester: which of the two, how much, and when it is not said."""

from __future__ import annotations

import math

import numpy as np
import pytest

from loadbench.readings.accuracy import Accuracy
from loadbench.readings.trust.check_readings import flags_of
from loadbench.readings.trust.flag import Flag, FlagKind
from loadbench.readings.trust.set_table import tables_of
from loadbench.readings.trust.tester_faults import against_spec
from loadbench.units import Style
from tests.readings.trust.made_sets import INCH, LBF, Way, made, spec_of

EXACT = Accuracy(gain=0.0, zero=0.0, repeatability=0.2 * LBF, height=0.0)
FINE = Accuracy(gain=0.005, zero=0.5 * LBF, repeatability=0.2 * LBF)


def told(way: Way, accuracy: Accuracy = FINE, seed: int = 1) -> tuple[Flag, ...]:
    return flags_of(made(way, np.random.default_rng(seed)), accuracy=accuracy, spec=spec_of(way))


@pytest.mark.parametrize("zero", [-8.0, 8.0])
def test_how_far_off_zero(zero: float) -> None:
    (flag,) = told(Way(heights=3, zero=zero * LBF, accuracy=EXACT))
    assert flag.kind is FlagKind.TESTER_ZERO
    assert flag.value == pytest.approx(zero * LBF, rel=0.25)
    assert f" lbf {'low' if zero < 0 else 'high'} against the sheet: the tester's zero, or" in flag.told(
        Style.INCH_POUND
    ).replace("\u2009", " ")


@pytest.mark.parametrize("scale", [-0.031, 0.031])
def test_how_far_off_scale(scale: float) -> None:
    (flag,) = told(Way(heights=3, scale=scale, accuracy=EXACT, spread=0.01))
    assert flag.kind is FlagKind.TESTER_SCALE
    assert flag.value == pytest.approx(scale, abs=0.004)
    sentence = flag.told(Style.METRIC)
    assert sentence.startswith("All 16 springs stand ")
    assert sentence.endswith("test a known weight.")
    assert ("or all springs lost load" in sentence) == (scale < 0)
    assert ("stronger than the sheet" in sentence) == (scale > 0)


def test_both_only_where_both_are_needed() -> None:
    (flag,) = told(Way(heights=3, zero=-10 * LBF, scale=0.05, accuracy=EXACT, spread=0.01))
    assert "the tester's zero and scale" in flag.told(Style.METRIC)


def test_loads_too_alike_do_not_tell_zero_from_scale() -> None:
    way = Way(heights=1, scale=-0.06, accuracy=EXACT)
    (flag,) = told(way)
    assert flag.kind is FlagKind.TESTER_ZERO
    assert "zero or scale (loads too alike to tell which)" in flag.told(Style.METRIC)


def test_what_the_stated_accuracy_allows_is_not_told() -> None:
    wide = Accuracy(gain=0.04, zero=2 * LBF, repeatability=0.2 * LBF)
    assert told(Way(heights=3, scale=-0.031, accuracy=EXACT, spread=0.01), wide) == ()


def test_a_scatter_larger_than_the_shift_is_no_tester_fault() -> None:
    # A 1.5 % shift within springs that differ by 10 %: less than half of what they stand off is explained.
    flags = told(Way(springs=64, heights=3, scale=-0.015, accuracy=EXACT, spread=0.14))
    assert FlagKind.TESTER_SCALE not in {flag.kind for flag in flags}


def test_without_a_sheet_nothing_is_said_of_the_tester() -> None:
    springs = made(Way(scale=-0.06, accuracy=EXACT), np.random.default_rng(1))
    assert flags_of(springs, accuracy=EXACT) == ()


def test_the_sheet_is_read_inside_the_readings_only() -> None:
    (table,) = tables_of(made(Way(heights=2, accuracy=EXACT), np.random.default_rng(1)))
    outside = [(2.2 * INCH, 50.0), (1.0 * INCH, 2500.0)]
    assert against_spec(table, outside) is None
    held = against_spec(table, [*outside, (1.55 * INCH, 1320.0), (math.nan, 5.0)])
    assert held is not None
    assert held.spec.tolist() == [1320.0]
    assert held.loads[:, 0] == pytest.approx(table.loads.mean(axis=1))


def test_a_nest_is_held_against_its_sheet_as_a_pair() -> None:
    parts = Way(heights=2, scale=-0.06, accuracy=EXACT, parts=("outer", "pair"))
    assert [flag.kind for flag in told(parts)] == [FlagKind.TESTER_SCALE]
    parts = Way(heights=2, scale=-0.06, accuracy=EXACT, parts=("outer", "inner"))
    assert told(parts) == ()
