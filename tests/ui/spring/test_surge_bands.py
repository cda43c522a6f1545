"""Bands of the surge picture: modes that rise from closed to full lift, and the stretches of speed that meet them."""

from __future__ import annotations

import csv
import io
from collections.abc import Iterator
from dataclasses import replace
from typing import TYPE_CHECKING

import pytest

from loadbench.job.model import Job
from loadbench.spring.surge import critical_speed, surge_ratio
from loadbench.units import Style
from tests.ui.spring.handmade import RPM, a_nest, a_range
from ui.session import Session
from ui.spring.chart_export import csv_of
from ui.spring.surge_charts import surge_picture
from ui.spring.surge_reach import bands_of, crossings_of, reach_of
from ui.spring.surge_view import SurgeView

if TYPE_CHECKING:
    from pytestqt.qtbot import QtBot

    from loadbench.analysis.coils.result import CoilAnalysis, SurgeRange
    from ui.spring.surge_reach import Crossing

INCH = Style.INCH_POUND


@pytest.fixture
def view(qtbot: QtBot) -> Iterator[SurgeView]:
    made = SurgeView(Session(Job(title="A job"), style=INCH))
    qtbot.addWidget(made)
    made.resize(900, 600)
    made.show()
    qtbot.waitExposed(made)
    yield made
    made.hide()


def shown(view: SurgeView, coils: tuple[CoilAnalysis, ...]) -> None:
    view.show_told(view.build_of(coils, a_range(), "outer", INCH))


def met(coils: tuple[CoilAnalysis, ...], surge: SurgeRange | None = None) -> list[Crossing]:
    reach = reach_of(coils, surge or a_range(), "outer", INCH)
    assert reach is not None
    return crossings_of(reach)


def a_cone(full: float = 1.2, closed: float = 1.0) -> CoilAnalysis:
    """The outer as a taper: 423 Hz with every coil free, these times as much closed and at full lift."""
    coil = a_nest()[0]
    assert coil.geometry is not None
    assert coil.modes is not None
    tapers = replace(coil.geometry, mean_diameter=0.032, small_mean_diameter=0.025, tapered_coils=3.0)
    return replace(coil, geometry=tapers, modes_closed=closed * coil.modes, modes_open=full * coil.modes)


def test_a_mode_that_rises_is_drawn_from_closed_to_full_lift() -> None:
    told = surge_picture((a_cone(), a_nest()[1]), a_range(), "outer", INCH)
    chart = told.charts[0]
    band = next(each for each in chart.shades if each.ys.min() == pytest.approx(423.0))
    assert band.role == "accent"
    assert band.ys.max() == pytest.approx(1.2 * 423.0)
    level = {round(float(each.ys[0]), 3): each for each in chart.strokes if each.ys[0] == each.ys[1]}
    names = {at: each.name.texts for at, each in level.items() if each.name is not None}
    assert names[423.0][0] == "outer mode 1  closed 423\u2009Hz"
    assert names[507.6][0] == "outer full lift 508\u2009Hz"
    assert names[561.0][0] == "inner mode 1  561\u2009Hz"  # a cylinder stays a line
    assert not any(each.ys.min() == pytest.approx(561.0) for each in chart.shades)
    assert any("rise from closed to full lift" in note for note in told.notes)
    assert "the lowest that it is, at the limit: outer 7.05" in told.notes[0]
    assert "outer 423 to 508\u2009Hz" in told.description


def test_an_order_meets_a_band_over_a_stretch_of_speeds() -> None:
    coils, limit = (a_cone(),), 7200 * RPM
    found = {each.order: each for each in met(coils) if each.mode == 1}
    assert min(found) == 8  # order 7 meets it at 7251 rpm and beyond
    eight, twenty = found[8], found[20]
    assert eight.speeds == pytest.approx([float(critical_speed(423.0 * each, 8.0)) for each in (1.0, 1.2)])
    assert (eight.start, eight.end) == (eight.speeds[0], pytest.approx(limit))  # 7614 rpm is past the limit
    assert (twenty.start, twenty.end) == twenty.speeds
    chart = surge_picture(coils, a_range(), "outer", INCH).charts[0]
    mark = next(each for each in chart.marks if each.key == "0 1 20")
    stretch = next(each for each in chart.strokes if each.xs[0] == mark.x)
    assert (mark.x, mark.y) == (pytest.approx(423.0 / 20 * 120), pytest.approx(423.0))
    assert (stretch.xs[1], stretch.ys[1]) == (pytest.approx(507.6 / 20 * 120), pytest.approx(507.6))
    says = surge_picture(coils, a_range(), "outer", INCH).says["0 1 8"]()
    assert "mode 1 (423 to 508\u2009Hz, closed to full lift)" in says
    assert "order 8 of the cam from 6345 to 7614\u2009rpm" in says


def test_a_band_that_begins_below_the_range_is_met_from_idle_on() -> None:
    surge = a_range(idle=3000.0)
    found = [each for each in met((a_cone(),), surge) if each.key == "0 1 17"]
    assert [(each.start, each.speeds[0]) for each in found] == [
        (pytest.approx(3000 * RPM), pytest.approx(423 / 17 * 120 * RPM))
    ]


def test_a_band_beyond_the_picture_tells_its_end_at_its_line() -> None:
    chart = surge_picture((a_cone(5.0),), a_range(), "outer", INCH).charts[0]
    top = chart.y_range[1]
    assert max(float(each.ys.max()) for each in chart.shades) <= top * (1 + 1e-9)
    names = [each.name.texts[0] for each in chart.strokes if each.name is not None]
    assert "outer mode 1  closed 423\u2009Hz, full lift 2115\u2009Hz" in names
    assert not any("outer full lift" in each for each in names)
    # The rule's field lies over a band that is as tall as the picture.
    roles = [each.role for each in chart.shades]
    assert roles.index("accent", 1) < roles.index("watch")


def test_an_end_that_is_not_known_is_not_drawn_and_that_is_said() -> None:
    assert bands_of(replace(a_cone(), modes_open=None))[0] == (423.0, 423.0)
    assert bands_of(replace(a_cone(), modes_closed=None))[0] == pytest.approx((507.6, 507.6))
    assert bands_of(replace(a_cone(), modes_closed=None, modes_open=None))[0] == (423.0, 423.0)
    told = surge_picture((replace(a_cone(), modes_open=None),), a_range(), "outer", INCH)
    assert any("is not known" in note for note in told.notes)
    still = surge_picture((a_cone(1.0),), a_range(), "outer", INCH)
    assert any("stay as they are" in note for note in still.notes)


def test_the_read_out_at_a_speed_tells_both_ends(view: SurgeView) -> None:
    shown(view, (a_cone(), a_nest()[1]))
    ratios = [float(surge_ratio(each, 6000 * RPM)) for each in (423.0, 507.6, 561.0)]
    said = view.read_at(6000.0)
    assert said.endswith(f"closed to full lift: outer {ratios[0]:.4g} to {ratios[1]:.4g}, inner {ratios[2]:.4g}.")


def test_rows_tell_every_coil_free_closed_and_full_lift(view: SurgeView) -> None:
    shown(view, (a_cone(1.2, 1.1), replace(a_nest()[1], modes_open=None)))
    rows = list(csv.DictReader(io.StringIO(csv_of(view).decode("utf-8-sig"))))
    ends = [f"frequency_{each}_Hz" for each in ("all_free", "closed", "full_lift")]
    assert [float(rows[0][each]) for each in ends] == pytest.approx([423.0, 1.1 * 423.0, 1.2 * 423.0])
    inner = next(row for row in rows if row["spring"] == "inner")
    assert [inner[each] for each in ends] == ["561", "", ""]
    crossing = next(row for row in rows if row["kind"] == "crossing" and row["order"] == "10")
    speeds = [float(crossing[f"engine_speed_{each}_rpm"]) for each in ("closed", "full_lift")]
    assert speeds == pytest.approx([1.1 * 423.0 * 12, 1.2 * 423.0 * 12])


def test_bands_that_move_are_drawn_anew(view: SurgeView) -> None:
    shown(view, (a_cone(),))
    before = view.told
    shown(view, (a_cone(),))
    assert view.told is before
    shown(view, (a_cone(1.3),))
    assert view.told is not before
