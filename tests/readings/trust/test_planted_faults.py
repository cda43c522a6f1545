"""Every planted fault of a realistic size is found, in the spring it was planted in, and told once."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import numpy as np
import pytest

from loadbench.readings.accuracy import Accuracy
from loadbench.readings.trust.check_readings import flags_of
from loadbench.readings.trust.flag import Flag, FlagKind, TestedReading
from loadbench.units import Style
from tests.readings.trust.made_sets import (
    LBF,
    STATED,
    Way,
    bent,
    by_share,
    changed,
    listed,
    made,
    one_load,
    spec_of,
    taken,
)

SEEDS = range(16)
Change = Callable[[int, TestedReading], TestedReading]


def found(way: Way, change: Change | None, seed: int, told: Accuracy = STATED) -> tuple[tuple[Flag, ...], str | None]:
    """The flags of a set with a planted fault, and the spring it is in."""
    rng = np.random.default_rng([seed, way.springs, way.heights])
    springs = made(way, rng)
    if change is None:
        return flags_of(springs, accuracy=told, spec=spec_of(way)), None
    spring = int(rng.integers(way.springs))
    return flags_of(changed(springs, spring, change), accuracy=told, spec=spec_of(way)), springs[spring].id


def share_found(way: Way, change: Change | None, kind: FlagKind, told: Accuracy = STATED) -> float:
    """Share of the sets in which the fault is told as what it is, and of its spring nothing else."""
    hits = 0
    for seed in SEEDS:
        flags, spring = found(way, change, seed, told)
        hits += [flag.kind for flag in flags if flag.spring == spring] == [kind]
    return hits / len(SEEDS)


SINGLE: list[tuple[str, Change, FlagKind, tuple[int, ...]]] = [
    ("weak by 12 %", by_share(-0.12), FlagKind.OUTLIER, (1, 2, 3, 5)),
    ("strong by 12 %", by_share(0.12), FlagKind.OUTLIER, (1, 2, 3, 5)),
    ("1.200 typed 1.020", listed(1.2, 1.02), FlagKind.HEIGHT_TYPED_WRONG, (2, 3, 5)),
    ("1.900 typed 1.090", listed(1.9, 1.09), FlagKind.HEIGHT_TYPED_WRONG, (2, 3, 5)),
    ("1.200 typed 1.300", listed(1.2, 1.3), FlagKind.HEIGHT_TYPED_WRONG, (2, 3, 5)),
    ("1.200 typed as its own 1.900", listed(1.2, 1.9), FlagKind.HEIGHT_TYPED_WRONG, (2, 3, 5)),
    ("taken at 1.300, told at 1.200", taken(1.3, 1.2), FlagKind.HEIGHT_TYPED_WRONG, (2, 3, 5)),
    ("taken at 1.800, told at 1.900", taken(1.8, 1.9), FlagKind.HEIGHT_TYPED_WRONG, (2, 3, 5)),
    ("a digit lost", one_load(1, -0.9), FlagKind.NOT_RISING, (2, 3, 5)),
    ("a curve of 25 %", bent(0.25), FlagKind.CURVED, (5, 10)),
]


def singles() -> list[Any]:
    return [pytest.param(*rest, id=name) for name, *rest in SINGLE]


@pytest.mark.parametrize(("change", "kind", "heights"), singles())
@pytest.mark.parametrize("told", [STATED, Accuracy()], ids=["stated", "unstated"])
def test_a_fault_of_one_spring_is_found(
    change: Change, kind: FlagKind, heights: tuple[int, ...], told: Accuracy
) -> None:
    shares = [
        share_found(Way(springs=springs, heights=count, accuracy=told), change, kind, told)
        for springs in (16, 32)
        for count in heights
    ]
    assert np.mean(shares) > 0.95
    assert min(shares) > 0.8


@pytest.mark.parametrize("share", [-0.12, 0.12])
def test_two_weak_springs_of_eight_do_not_hide_each_other(share: float) -> None:
    hits = 0
    for seed in SEEDS:
        springs = made(Way(springs=8), np.random.default_rng(seed))
        flags = flags_of(changed(changed(springs, 1, by_share(share)), 6, by_share(share)), accuracy=STATED)
        hits += {("2", FlagKind.OUTLIER), ("7", FlagKind.OUTLIER)} <= {(flag.spring, flag.kind) for flag in flags}
    assert hits / len(SEEDS) > 0.95


@pytest.mark.parametrize("repeats", [2, 3])
@pytest.mark.parametrize("told", [STATED, Accuracy()], ids=["stated", "unstated"])
def test_a_repeat_that_disagrees_is_found(repeats: int, told: Accuracy) -> None:
    way = Way(heights=2, repeats=repeats, accuracy=told)
    assert share_found(way, one_load(repeats - 1, 0.08), FlagKind.REPEAT_DISAGREES, told) > 0.95


@pytest.mark.parametrize("heights", [2, 3, 5])
@pytest.mark.parametrize("zero", [-6.0, 6.0])
def test_a_zero_error_is_found(heights: int, zero: float) -> None:
    shares = [
        share_found(Way(springs=n, heights=heights, zero=zero * LBF), None, FlagKind.TESTER_ZERO) for n in (8, 16, 32)
    ]
    assert np.mean(shares) > 0.95


@pytest.mark.parametrize("heights", [2, 3, 5])
@pytest.mark.parametrize("scale", [-0.04, 0.04])
def test_a_scale_error_is_found(heights: int, scale: float) -> None:
    shares = [
        share_found(Way(springs=n, heights=heights, scale=scale), None, FlagKind.TESTER_SCALE) for n in (8, 16, 32)
    ]
    assert np.mean(shares) > 0.95


def test_one_bad_cell_under_a_header_of_heights_is_no_typed_height() -> None:
    # The height stands once, over the column: it can't be wrong for one spring alone.
    way = Way(heights=3, rows=False)
    assert share_found(way, one_load(1, -0.18), FlagKind.OUTLIER) > 0.95


def test_the_flag_says_where_and_why() -> None:
    flags, spring = found(Way(heights=2), listed(1.2, 1.02), 3)
    (flag,) = flags
    assert flag.spring == spring
    sentence = flag.told(Style.INCH_POUND).replace("\u2009", " ")
    assert sentence.startswith(f"Spring {spring}: ")
    assert " at 1.020 in fits a height of 1.200 in, where the others were tested" in sentence
    assert sentence.endswith("two digits swapped?")
    assert flag.path == f"springs.{int(spring or 0) - 1}"
    assert (flag.row, flag.column) == (2 + (int(spring or 0) - 1) * 2 + 1, 3)
    assert "modified z 3.5" in flag.rule
    flags, spring = found(Way(heights=3), by_share(-0.12), 3)
    assert flags[0].rule.startswith("modified z over 3.5 (median absolute deviation)")
    assert (flags[0].limit, flags[0].spring) == (3.5, spring)


def test_the_most_telling_comes_first() -> None:
    springs = made(Way(heights=3, scale=-0.05, springs=32), np.random.default_rng(4))
    springs = changed(springs, 3, by_share(-0.15))
    springs = changed(springs, 9, listed(1.2, 1.02))
    springs = changed(springs, 12, one_load(1, -0.9))
    flags = flags_of(springs, accuracy=STATED, spec=spec_of(Way(heights=3)))
    assert [(flag.kind, flag.spring) for flag in flags] == [
        (FlagKind.TESTER_SCALE, None),
        (FlagKind.HEIGHT_TYPED_WRONG, "10"),
        (FlagKind.NOT_RISING, "13"),
        (FlagKind.OUTLIER, "4"),
    ]


def test_each_part_is_a_set_of_its_own() -> None:
    way = Way(heights=2, parts=("outer", "inner"))
    springs = made(way, np.random.default_rng(5))

    def weak_inner(_: int, reading: TestedReading) -> TestedReading:
        return by_share(-0.15)(_, reading) if reading.part == "inner" else reading

    (flag,) = flags_of(changed(springs, 6, weak_inner), accuracy=STATED, spec=spec_of(way))
    assert (flag.kind, flag.spring, flag.part) == (FlagKind.OUTLIER, "7", "inner")
    assert flag.told(Style.METRIC).startswith("Spring 7, inner: ")
