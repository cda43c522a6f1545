"""What must hold of any job: more lift never more room, taller never more load, and the laws of scale."""

from __future__ import annotations

from typing import Any

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from loadbench.analysis import Analysis
from tests.analysis.bench_jobs import COILS, INCH, LBF, SOLID, analysis_of

heights = st.floats(1.60, 2.20)
lifts = st.floats(0.15, 0.50)
families = st.sampled_from([{}, SOLID])
PROGRESSIVE = tuple(
    {"height": f"{height} in", "load": f"{load} lbf"}
    for height, load in ((1.9, 150), (1.7, 220), (1.5, 310), (1.3, 430))
)
springs = st.sampled_from(
    [
        {},
        {"spring.readings": PROGRESSIVE},
        {"spring.readings": (), "spring.coils": COILS},
        {"spring.readings": ({"height": "1.9 in", "load": "150 lbf"},), "spring.rate": "420 lbf/in"},
    ]
)


def inches(value: float) -> str:
    return f"{value:.6f} in"


def known(analysis: Analysis, name: str) -> float:
    """A figure that these jobs always have; bind heights above the drawn height are left aside."""
    value = analysis.value(name)
    assume(value is not None)
    assert value is not None
    return value


def pair(one: float, other: float, field: str, *changes: dict[str, Any]) -> tuple[Analysis, Analysis]:
    low, high = sorted((one, other))
    return analysis_of(*changes, {field: inches(low)}), analysis_of(*changes, {field: inches(high)})


@given(lifts, lifts, families, springs)
def test_more_lift_is_never_more_room(one: float, other: float, family: dict[str, Any], spring: dict[str, Any]) -> None:
    low, high = pair(one, other, "valve_gear.lobe_lift", family, spring)
    for name in ("bind_margin", "retainer_margin", "open_height"):
        assert known(high, name) <= known(low, name) + 1e-12
    for name in ("open_load", "follower_open_load", "net_valve_lift"):
        assert known(high, name) >= known(low, name) - 1e-9
    assert known(high, "seat_load") == known(low, "seat_load")


@given(heights, heights, springs)
def test_taller_is_never_more_load_and_never_less_room(one: float, other: float, spring: dict[str, Any]) -> None:
    low, high = pair(one, other, "spring.installed_height", spring)
    for name in ("seat_load", "open_load", "effective_seat_load", "follower_seat_load"):
        assert known(high, name) <= known(low, name) + 1e-9
    assert known(high, "bind_margin") >= known(low, "bind_margin") - 1e-12


@given(st.floats(0, 0.05), st.floats(0, 0.05))
def test_more_lash_is_never_more_lift(one: float, other: float) -> None:
    low, high = pair(one, other, "valve_gear.lash", SOLID)
    assert known(high, "net_valve_lift") <= known(low, "net_valve_lift")
    assert known(high, "bind_margin_zero_lash") == known(low, "bind_margin_zero_lash")
    assert known(high, "bind_margin_zero_lash") <= known(high, "bind_margin") + 1e-12


@given(st.floats(0, 60), st.floats(0, 60))
def test_more_pressure_is_never_more_seat(one: float, other: float) -> None:
    low, high = (analysis_of({"duty.boost": f"{p:.4f} psi"}) for p in sorted((one, other)))
    assert known(high, "effective_seat_load") <= known(low, "effective_seat_load") <= known(low, "seat_load")


@given(st.lists(st.sampled_from(["0.015 in", "0.030 in", "0.060 in"]), max_size=4))
def test_shims_only_shorten(shims: list[str]) -> None:
    stack = {"spring.installed_height": None, "spring.bare_height": "1.980 in", "spring.shims": tuple(shims)}
    total = sum(float(shim.split()[0]) for shim in shims)
    assert known(analysis_of(stack), "installed_height") == pytest.approx((1.980 - total) * INCH)


@given(st.floats(0.5, 2.0), st.floats(0.5, 2.0), lifts)
def test_larger_and_stronger(larger: float, stronger: float, lift: float) -> None:
    """Twice the lengths is twice the room, twice the loads twice the load; the rate goes with one over the other."""
    base = analysis_of({"valve_gear.lobe_lift": f"{lift!r} in"})
    scaled = analysis_of(
        {
            "spring.installed_height": f"{1.9 * larger!r} in",
            "spring.bind_height": f"{1.08 * larger!r} in",
            "spring.readings": tuple(
                {"height": f"{height * larger!r} in", "load": f"{load * stronger!r} lbf"}
                for height, load in ((1.9, 150), (1.3, 402))
            ),
            "valve_gear.lobe_lift": f"{lift * larger!r} in",
            "valve_gear.retainer_to_seal": f"{0.64 * larger!r} in",
        }
    )
    for name in ("bind_margin", "retainer_margin", "open_height", "net_valve_lift"):
        assert known(scaled, name) == pytest.approx(known(base, name) * larger, rel=1e-9, abs=1e-12)
    for name in ("seat_load", "open_load", "follower_open_load"):
        assert known(scaled, name) == pytest.approx(known(base, name) * stronger, rel=1e-9)
    assert known(scaled, "rate") == pytest.approx(known(base, "rate") * stronger / larger, rel=1e-9)


@given(heights, springs)
def test_the_load_lines_rate_is_its_slope(height: float, spring: dict[str, Any]) -> None:
    line = analysis_of(spring).lines[0].load_line
    assert line is not None
    at, step = height * INCH, 1e-7
    slope = (line.load_at(at - step) - line.load_at(at + step)) / (2 * step)
    if line.load_at(at + step) > 0:
        assert float(line.rate_at(at)) == pytest.approx(slope, rel=1e-3)
        assert slope > 0
    elif line.load_at(at - step) == 0:
        assert float(line.rate_at(at)) == slope == 0


@given(st.permutations(list(COILS)))
def test_the_order_of_members_changes_nothing(coils: list[dict[str, Any]]) -> None:
    found = analysis_of({"spring.readings": (), "spring.coils": tuple(coils)})
    assert known(found, "seat_load") == pytest.approx(190 * LBF)
    assert known(found, "bind_margin") == pytest.approx(0.220 * INCH)


@given(st.permutations(list(PROGRESSIVE)))
def test_the_order_of_readings_changes_nothing(rows: list[dict[str, Any]]) -> None:
    base, mixed = analysis_of({"spring.readings": PROGRESSIVE}), analysis_of({"spring.readings": tuple(rows)})
    for name in ("rate", "seat_load", "open_load"):
        assert known(mixed, name) == pytest.approx(known(base, name), rel=1e-12)
