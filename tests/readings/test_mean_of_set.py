"""The mean spring of a set: by hand, with repeats, blanks, parts, and heights that nobody shares."""

from __future__ import annotations

import pytest

from loadbench.readings.mean_of_set import mean_of_set
from loadbench.readings.trust.flag import TestedReading, TestedSpring


def spring(name: str, *readings: tuple[float, float], part: str = "", direction: str = "") -> TestedSpring:
    own = tuple(
        TestedReading(part=part, height=height, load=load, direction=direction, path=f"{name}.{place}")
        for place, (height, load) in enumerate(readings)
    )
    return TestedSpring(id=name, readings=own, path=name)


def test_the_mean_at_each_height_and_how_far_the_springs_are_apart() -> None:
    mean = mean_of_set(
        [spring("A", (0.048, 600), (0.033, 1700)), spring("B", (0.048, 630), (0.033, 1790)), spring("C")]
    )
    assert [(point.height, point.load, point.spread) for point in mean.points] == [(0.048, 615, 30), (0.033, 1745, 90)]
    assert {point.springs for point in mean.points} == {2}
    assert mean.springs == 2  # C was not tested
    assert mean.left_out == ()
    assert mean.points[0].place == "A.0"


def test_a_spring_that_was_tested_twice_counts_once() -> None:
    mean = mean_of_set([spring("A", (0.048, 600), (0.048, 620)), spring("B", (0.048, 700))])
    assert mean.points[0].load == pytest.approx((610 + 700) / 2)


def test_heights_within_the_rounding_of_a_unit_are_one() -> None:
    mean = mean_of_set([spring("A", (0.04826, 600)), spring("B", (0.04827, 700))])
    assert [point.load for point in mean.points] == [650]


def test_a_height_that_one_spring_lacks_is_left_out() -> None:
    """Else the rate between the means would be that of no spring: 1000 N over 15 mm, not 1175 N."""
    mean = mean_of_set([spring("A", (0.048, 600), (0.033, 1600)), spring("B", (0.048, 950))])
    assert [point.height for point in mean.points] == [0.048]
    assert mean.left_out == (("", 0.033),)


def test_heights_that_nobody_shares_give_no_mean() -> None:
    mean = mean_of_set([spring("A", (0.048, 600)), spring("B", (0.047, 650))])
    assert mean.points == ()
    assert len(mean.left_out) == mean.springs == 2


def test_members_of_a_nest_have_means_of_their_own() -> None:
    outer = [spring(name, (0.046, load), part="outer") for name, load in (("A", 500.0), ("B", 520.0))]
    inner = [spring(name, (0.046, load), part="inner") for name, load in (("C", 240.0), ("D", 250.0), ("E", 260.0))]
    mean = mean_of_set([*outer, *inner])
    assert [(p.part, p.load, p.springs) for p in mean.points] == [("outer", 510, 2), ("inner", 250, 3)]
    assert mean.springs == 5


def test_unloading_counts_only_where_there_is_no_loading() -> None:
    both = TestedSpring(
        id="A",
        path="A",
        readings=(*spring("A", (0.048, 600)).readings, *spring("A", (0.048, 560), direction="unloading").readings),
    )
    assert [(p.load, p.direction) for p in mean_of_set([both]).points] == [(600, "")]
    alone = mean_of_set([spring("A", (0.048, 560), direction="unloading")])
    assert [(p.load, p.direction) for p in alone.points] == [(560, "unloading")]
