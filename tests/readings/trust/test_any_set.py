"""Whatever comes off a tester: no set is too odd to judge, and nothing depends on the order or the unit of things."""

from __future__ import annotations

import math
import random
from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from loadbench.readings.accuracy import Accuracy
from loadbench.readings.trust.check_readings import flags_of
from loadbench.readings.trust.flag import TestedReading, TestedSpring
from loadbench.readings.trust.repeats import repeatability
from loadbench.units import Style
from tests.readings.trust.made_sets import STATED, Way, by_share, changed, made, one_load, spec_of

heights = st.sampled_from([0.0, 0.030, 0.031, 0.035, 0.040, 0.048, math.nan]) | st.floats(0.02, 0.06)
loads = st.sampled_from([0.0, -5.0, 600.0, 700.0, 1200.0, 1900.0, math.inf]) | st.floats(-100, 5000)
readings = st.builds(
    TestedReading,
    part=st.sampled_from(["", "outer", "Inner ", "pair"]),
    height=heights,
    load=loads,
    direction=st.sampled_from(["", "loading", "unloading"]),
    row=st.none() | st.integers(1, 50),
)
springs = st.builds(TestedSpring, id=st.text("S{1}", max_size=4), readings=st.lists(readings, max_size=8).map(tuple))
accuracies = st.sampled_from(
    [STATED, Accuracy(), Accuracy(gain=0.01), Accuracy(repeatability=0.0), Accuracy(faulty=True)]
)


@given(st.lists(springs, max_size=12), accuracies, st.lists(st.tuples(heights, loads), max_size=3))
def test_any_set_is_judged(these: list[TestedSpring], accuracy: Accuracy, spec: list[tuple[float, float]]) -> None:
    for flag in flags_of(these, accuracy=accuracy, spec=spec):
        for style in Style:
            assert flag.told(style)
        assert flag.rule
    repeatability(these)


@given(st.integers(0, 1000), st.randoms(use_true_random=False))
def test_the_order_of_springs_and_readings_does_not_matter(seed: int, shuffle: random.Random) -> None:
    these = changed(made(Way(springs=12, heights=3), np.random.default_rng(seed)), 4, by_share(-0.12))
    mixed = [replace(each, readings=each.readings[::-1]) for each in these]
    shuffle.shuffle(mixed)

    def told(which: list[TestedSpring]) -> set[tuple[object, ...]]:
        flags = flags_of(which, accuracy=STATED, spec=spec_of(Way(heights=3)))
        return {(flag.kind, flag.spring, flag.height) for flag in flags}

    assert told(mixed) == told(these)


@pytest.mark.parametrize("faults", [0, 5])
def test_64_springs_by_10_heights_by_3_repeats(faults: int) -> None:
    way = Way(springs=64, heights=10, repeats=3)
    these = made(way, np.random.default_rng(6))
    for spring in range(faults):
        these = changed(these, 7 * spring, one_load(3 * spring, 0.2) if spring % 2 else by_share(-0.15))
    assert len(flags_of(these, accuracy=STATED, spec=spec_of(way))) >= faults
