"""The half section's geometry: to scale where sizes are stated, typical and said so where not."""

from __future__ import annotations

import itertools
from typing import Any

import pytest

from loadbench.analysis import analyse
from loadbench.job.edits import replaced_all
from loadbench.job.model import Job
from ui.plots.curves import curves_of, span_of
from ui.plots.dimensions import dimensions_of
from ui.plots.half_section import HalfSection
from ui.plots.section import Section, bound_height, cuts, section_of

IN = 0.0254
OUTER = {
    "name": "outer", "bind_height": "1.080 in", "wire": {"shape": "round", "diameter": "0.207 in"},
    "mean_diameter": "1.243 in", "active_coils": 3.2, "total_coils": 5.2,
}  # fmt: skip
INNER = {"name": "inner", "seat_step": "0.060 in", "retainer_step": "0.030 in", "bind_height": "0.950 in"}
BASE: dict[str, Any] = {
    "spring.bare_height": "1.915 in",
    "spring.shims": ("0.015 in",),
    "spring.coils": (OUTER,),
    "spring.readings": ({"height": "1.900 in", "load": "150 lbf"}, {"height": "1.250 in", "load": "423 lbf"}),
    "valve_gear.measured_net_lift": "0.560 in",
    "valve_gear.retainer_to_seal": "0.640 in",
    "follower.family": "roller-hydraulic",
}


def line_of(**more: Any) -> Any:
    fields = {**BASE, **{name.replace("__", "."): value for name, value in more.items()}}
    return analyse(replaced_all(Job(title="t", units="inch-pound"), fields)).lines[0]


def section(**more: Any) -> Section:
    found = section_of(line_of(**more))
    assert found is not None
    return found


def test_stated_sizes_are_drawn_to_scale() -> None:
    coil = section().coils[0]
    assert not coil.typical
    assert coil.outer == pytest.approx((1.243 + 0.207) / 2 * IN)
    assert coil.wire.across == pytest.approx(0.207 * IN)
    assert len(coil.closed) == len(coil.opened) == 5


def test_the_wire_stands_between_seat_and_retainer() -> None:
    coil = section().coils[0]
    half = 0.207 * IN / 2
    assert coil.closed[0][1] == pytest.approx(half)
    assert coil.closed[-1][1] == pytest.approx(1.9 * IN - half)
    assert coil.opened[-1][1] == pytest.approx(1.34 * IN - half)
    levels = [level for _, level in coil.closed]
    assert levels == sorted(levels)


def test_unstated_sizes_are_typical_and_marked() -> None:
    drawn = section(spring__coils=({"bind_height": "1.080 in"},))
    assert drawn.typical
    assert 0.5 * drawn.height < 2 * drawn.radius < drawn.height


def test_members_stand_one_in_the_other_with_their_steps() -> None:
    drawn = section(spring__coils=(OUTER, INNER))
    outer, inner = drawn.coils
    assert inner.outer < outer.inner
    assert inner.seat == pytest.approx(0.060 * IN)
    assert inner.height == pytest.approx(1.81 * IN)
    assert drawn.retainer_drop == pytest.approx(0.030 * IN)
    assert drawn.seal == pytest.approx((1.9 - 0.030 - 0.640) * IN)


def test_a_beehive_tapers_and_a_rectangular_wire_keeps_its_sides() -> None:
    coil = {
        **OUTER,
        "small_mean_diameter": "0.900 in",
        "wire": {"shape": "rectangular", "width": "0.150 in", "thickness": "0.180 in"},
    }
    drawn = section(spring__coils=(coil,)).coils[0]
    assert drawn.closed[0][0] > drawn.closed[-1][0] > 0.45 * IN
    assert (drawn.wire.across, drawn.wire.along) == pytest.approx((0.150 * IN, 0.180 * IN))


def test_without_a_height_there_is_no_section_and_without_lift_one_half() -> None:
    assert section_of(line_of(spring__bare_height=None)) is None
    closed = section(valve_gear__measured_net_lift=None)
    assert closed.open_height is None
    assert closed.coils[0].opened == ()


@pytest.mark.parametrize("turns", [3.6, 5.2, 9.0])
def test_a_bound_coil_is_wire_on_wire(turns: float) -> None:
    points = cuts(turns * 0.005, turns, turns - 2, 0.005, 0.005, (0.03, 0.03))
    gaps = [b[1] - a[1] for a, b in itertools.pairwise(points)]
    assert all(gap >= 0.0039 for gap in gaps)


def test_dimensions_stand_where_the_clearances_are() -> None:
    members: list[tuple[str, str | None]] = [("bind_margin", "outer"), ("bind_margin", "inner")]
    texts = dict.fromkeys([("installed_height", None), ("retainer_margin", None), *members], ("1 in", "ink"))
    found = {(each.figure, each.member): each for each in dimensions_of(section(spring__coils=(OUTER, INNER)), texts)}
    assert found.keys() == texts.keys()
    bind = found["bind_margin", "outer"]
    assert (bind.low, bind.high) == pytest.approx((1.08 * IN, 1.34 * IN))
    inner = found["bind_margin", "inner"]
    assert inner.high - inner.low == pytest.approx((1.34 - 0.09 - 0.95) * IN)
    seal = found["retainer_margin", None]
    assert seal.high - seal.low == pytest.approx(0.080 * IN)


def test_the_highest_bound_member_governs() -> None:
    line = line_of(spring__coils=(OUTER, {**INNER, "bind_height": "1.050 in"}))
    assert bound_height(line) == pytest.approx(1.14 * IN)


def test_the_load_line_runs_from_bind_to_above_the_top_reading() -> None:
    line = line_of()
    low, high = span_of(line) or (0.0, 0.0)
    assert low == pytest.approx(1.08 * IN)
    assert high > 1.9 * IN
    curves = curves_of(line)
    assert curves is not None
    assert len(curves.heights) <= 720
    outside = curves.heights[curves.inside == 0]
    assert all(height < 1.25 * IN or height > 1.9 * IN for height in outside)


def test_nothing_to_draw_is_no_error(qapp: object) -> None:
    item = HalfSection()
    item.show_section(None, 1.0)
    assert item.section is None
    assert curves_of(line_of(spring__readings=())) is None
