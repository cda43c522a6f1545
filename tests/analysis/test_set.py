"""Numbered springs and valves: each at its own height, with what is known of it."""

from __future__ import annotations

from typing import Any

import pytest

from loadbench.analysis.springs import NumberedSpringAnalysis
from tests.analysis.bench_jobs import COILS, INCH, LBF, analysis_of


def rows(low: float, high: float, part: str | None = None) -> tuple[dict[str, Any], ...]:
    pair = ((1.900, low), (1.300, high))
    return tuple({"part": part, "height": f"{height} in", "load": f"{load} lbf"} for height, load in pair)


SPRINGS = ({"id": "A", "readings": rows(150, 402)}, {"id": "B", "readings": rows(144, 384)})


def springs(*changes: dict[str, Any]) -> tuple[NumberedSpringAnalysis, ...]:
    return analysis_of({"springs": SPRINGS}, *changes).set.springs


def seat(spring: NumberedSpringAnalysis) -> float | None:
    return None if spring.seat_load is None else spring.seat_load / LBF


def test_without_valves_they_stand_at_the_jobs_height() -> None:
    first, second = springs()
    assert (seat(first), seat(second)) == (pytest.approx(150), pytest.approx(144))
    assert second.rate == pytest.approx(400 * LBF / INCH)
    assert second.open_load == pytest.approx((144 + 400 * 0.560) * LBF)
    # Spread: 6 lbf of their mean, 147.
    assert analysis_of({"springs": SPRINGS}).set.spread == pytest.approx(6 / 147)


def test_on_a_valve_they_stand_at_the_valves_height_less_its_shims() -> None:
    valves = ({"id": "1", "bare_height": "1.930 in", "shims": ("0.015 in",), "spring": "B"},)
    assert seat(springs({"valves": valves})[1]) == pytest.approx(144 - 0.015 * 400)


def test_a_valve_without_shims_of_its_own_takes_the_common_ones() -> None:
    stack = {"spring.installed_height": None, "spring.bare_height": "1.930 in", "spring.shims": ("0.030 in",)}
    valves = ({"id": "1", "bare_height": "1.940 in", "spring": "B"},)
    found = analysis_of({"springs": SPRINGS, "valves": valves}, stack)
    assert found.set.valves[0].height == pytest.approx(1.910 * INCH)
    assert seat(found.set.springs[1]) == pytest.approx(144 - 0.010 * 400)


@pytest.mark.parametrize("fault", [{"bare_height": "1.93 inn"}, {"bare_height": "1.93 in", "shims": ("thick",)}])
def test_a_valve_with_an_unreadable_height_leaves_its_spring_without_one(fault: dict[str, Any]) -> None:
    found = analysis_of({"springs": SPRINGS, "valves": ({"id": "1", "spring": "B", **fault},)})
    assert (found.set.valves[0].height, seat(found.set.springs[1])) == (None, None)
    assert seat(found.set.springs[0]) == pytest.approx(150)


def test_a_valves_margins_follow_its_height_and_line() -> None:
    valves = (
        {"id": "1I", "line": "intake", "bare_height": "1.890 in"},
        {"id": "1E", "line": "exhaust", "bare_height": "1.890 in", "retainer_to_seal": "0.630 in"},
    )
    found = analysis_of({"valves": valves, "lines.exhaust.valve_gear.lobe_lift": "0.360 in"})
    intake, exhaust = found.set.valves
    assert intake.bind_margin == pytest.approx((1.890 - 0.560 - 1.080) * INCH)
    assert exhaust.bind_margin == pytest.approx((1.890 - 0.576 - 1.080) * INCH)
    assert (intake.retainer_margin, exhaust.retainer_margin) == (None, pytest.approx(0.054 * INCH))


def test_members_of_a_numbered_nest() -> None:
    nest = ({"id": "A", "readings": (*rows(150, 330, "outer"), *rows(30, 90, "Inner"))},)
    (spring,) = springs({"springs": nest, "spring.coils": COILS, "spring.readings": ()})
    assert seat(spring) == pytest.approx(150 + 30 + 0.100 * 100)  # the inner stands 0.100 in shorter
    assert spring.rate == pytest.approx(400 * LBF / INCH)


def test_a_numbered_pair_tested_flat_is_not_the_pair_in_the_head() -> None:
    nest = ({"id": "A", "readings": rows(180, 420, "pair")},)
    changes = {"springs": nest, "spring.coils": COILS, "spring.readings": ()}
    assert seat(springs(changes)[0]) is None
    assert springs(changes)[0].missing == ("springs.0.readings",)
    assert seat(springs(changes, {"spring.readings_on": "retainer"})[0]) == pytest.approx(180)


def test_parts_of_a_numbered_spring_are_never_mixed() -> None:
    both = ({"id": "A", "readings": (*rows(150, 402, "pair"), *rows(100, 300, "outer"))},)
    assert seat(springs({"springs": both})[0]) == pytest.approx(150)


def test_one_reading_takes_the_stated_rate_and_no_rate_of_its_own() -> None:
    (spring,) = springs({"springs": ({"id": "A", "readings": rows(150, 402)[:1]},), "spring.rate": "420 lbf/in"})
    assert (seat(spring), spring.rate) == (pytest.approx(150), None)
    assert spring.open_load == pytest.approx((150 + 420 * 0.560) * LBF)
    (alone,) = springs({"springs": ({"id": "A", "readings": rows(150, 402)[:1]},)})
    assert (seat(alone), alone.missing) == (None, ("springs.0.readings",))


def test_fewer_than_two_have_no_spread() -> None:
    assert analysis_of({"springs": SPRINGS[:1]}).set.spread is None
    assert analysis_of().set.spread is None
