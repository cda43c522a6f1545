"""The surge picture: its crossings against the physics, its rays, the read-out, units, and what it waits for."""

from __future__ import annotations

import csv
import io
from collections.abc import Iterator
from dataclasses import replace
from typing import TYPE_CHECKING

import numpy as np
import pytest
from PySide6.QtCore import QPointF, Qt

from loadbench.job.model import Job
from loadbench.spring.surge import critical_speed, mode_shape, order_frequency, surge_ratio
from loadbench.units import Style
from tests.ui.spring.handmade import RPM, a_coil, a_nest, a_range
from tests.ui.spring.opened import opened
from ui.session import Session
from ui.spring.chart_export import csv_of, save_picture
from ui.spring.mode_strip import ALONG, WIDE
from ui.spring.surge_charts import surge_picture
from ui.spring.surge_reach import ORDERS, crossings_of, reach_of
from ui.spring.surge_view import SurgeView
from ui.theme import Choice, theme

if TYPE_CHECKING:
    from pathlib import Path

    from pytestqt.qtbot import QtBot

    from loadbench.analysis.coils.result import CoilAnalysis, SurgeRange
    from ui.spring.surge_reach import Reach

INCH, METRIC = Style.INCH_POUND, Style.METRIC


@pytest.fixture
def view(qtbot: QtBot) -> Iterator[SurgeView]:
    made = SurgeView(Session(Job(title="A job"), style=INCH))
    qtbot.addWidget(made)
    made.resize(900, 600)
    made.show()
    qtbot.waitExposed(made)
    yield made
    made.hide()
    theme().choose(Choice.LIGHT)


def shown(
    view: SurgeView,
    coils: tuple[CoilAnalysis, ...] | None = None,
    surge: SurgeRange | None = None,
    member: str | None = "outer",
) -> None:
    given = a_nest() if coils is None else coils
    view.show_told(view.build_of(given, surge or a_range(), member, view.session.style))


def reached(coils: tuple[CoilAnalysis, ...] | None = None, surge: SurgeRange | None = None) -> Reach:
    found = reach_of(coils or a_nest(), surge or a_range(), "outer", INCH)
    assert found is not None
    return found


# The crossings


def test_crossings_are_the_critical_speeds_of_the_physics() -> None:
    coils, limit, idle = a_nest(), 7200 * RPM, 800 * RPM
    found = {(each.place, each.mode, each.order): each.speed for each in crossings_of(reached())}
    wanted = {}
    for place, coil in enumerate(coils):
        for mode, value in enumerate(np.asarray(coil.modes), start=1):
            for order in range(1, ORDERS + 1):
                speed = float(critical_speed(float(value), float(order)))
                if idle <= speed <= limit and value <= reached().high:
                    wanted[place, mode, order] = speed
    assert wanted
    assert found.keys() == wanted.keys()
    assert list(found.values()) == pytest.approx([wanted[key] for key in found])


def test_a_crossing_stands_where_ray_and_mode_meet() -> None:
    told = surge_picture(a_nest(), a_range(), "outer", INCH)
    marks = {each.key: each for each in told.charts[0].marks if each.key}
    assert marks["0 1 8"].x == pytest.approx(423.0 / 8 * 120)
    assert marks["0 1 8"].y == pytest.approx(423.0)
    assert float(order_frequency(8.0, marks["0 1 8"].x * RPM)) == pytest.approx(423.0)
    assert "0 1 7" not in marks  # 7251 rpm: beyond the limit


def test_crossings_outside_the_working_range_are_none() -> None:
    slow = reached(surge=a_range(limit=1500.0))
    assert crossings_of(slow) == []
    told = surge_picture(a_nest(), a_range(limit=1500.0), "outer", INCH)
    assert not told.empty
    assert told.says == {}


def test_the_fastest_crossing_of_the_chosen_spring_is_named_first() -> None:
    told = surge_picture(a_nest(), a_range(), "outer", INCH)
    assert next(iter(told.says)) == "0 1 8"
    marks = {each.key: each for each in told.charts[0].marks if each.key}
    name = marks["0 1 8"].name
    assert name is not None
    assert name.texts[0] == "order 8, 6345\u2009rpm"
    turned = surge_picture(a_nest(), a_range(), "inner", INCH)
    assert next(iter(turned.says)).startswith("1 1 ")


@pytest.mark.parametrize("member", ["outer", "inner", "damper spring"])
def test_three_springs_differ_by_mark_dash_and_colour(member: str) -> None:
    coils = (*a_nest(), a_coil("damper spring", None, 700.0))
    chart = surge_picture(coils, a_range(), member, INCH).charts[0]
    shapes = {each.key[0]: each.shape for each in chart.marks if each.key}
    assert len(set(shapes.values())) == 3
    first = {each.name.texts[-1]: each.look for each in chart.strokes if each.name is not None}
    looks = [first[name] for name in ("outer 1", "inner 1", "damper spring 1")]
    assert len({look.pattern for look in looks}) == 3
    assert len({look.series for look in looks}) == 3


# The rays


def test_the_rule_is_the_ray_of_fifteen_cam_speeds() -> None:
    reach = reached()
    chart = surge_picture(a_nest(), a_range(), "outer", INCH).charts[0]
    ray = next(each for each in chart.strokes if each.look.role == "watch" and each.name is None)
    assert float(order_frequency(15.0, float(ray.xs[-1]) * RPM)) == pytest.approx(float(ray.ys[-1]))
    words = next(each.name for each in chart.strokes if each.look.role == "watch" and each.name is not None)
    assert "15 to 20" in words.texts[0]
    assert "cam speed" in words.texts[0]
    ratio = float(surge_ratio(423.0, reach.limit))
    notes = " ".join(surge_picture(a_nest(), a_range(), "outer", INCH).notes)
    assert f"outer {ratio:.4g}" in notes


def rays(told_for: SurgeRange) -> list[float]:
    chart = surge_picture(a_nest(), told_for, "outer", INCH).charts[0]
    return [each.look.width for each in chart.strokes if each.look.role == "lines"]


def test_rays_are_alike_without_a_lift_curve_and_follow_its_harmonics_with_one() -> None:
    alike = rays(a_range())
    assert len(alike) == ORDERS
    assert len(set(alike)) == 1
    weighted = rays(a_range(curve=True))
    assert weighted == sorted(weighted, reverse=True)
    assert weighted[0] > 2 * weighted[-1]
    assert any("all orders are drawn alike" in note for note in surge_picture(a_nest(), a_range(), None, INCH).notes)
    curved = surge_picture(a_nest(), a_range(curve=True), None, INCH)
    assert any("lift's harmonic" in note for note in curved.notes)


@pytest.mark.parametrize(("style", "unit"), [(INCH, "in"), (METRIC, "mm")])
def test_the_read_out_tells_the_harmonic(style: Style, unit: str) -> None:
    surge = a_range(curve=True)
    assert surge.harmonics is not None
    said = surge_picture(a_nest(), surge, "outer", style).says["0 1 8"]()
    assert said.startswith("Outer: mode 1 (423\u2009Hz) meets order 8 of the cam at 6345\u2009rpm; that order holds ")
    assert f"\u2009{unit} of the lift" in said
    told = float(said.split("holds ")[1].split("\u2009")[0])
    assert told == pytest.approx(float(surge.harmonics[7]) / (25.4e-3 if unit == "in" else 1e-3), rel=0.05)


# Read-out and keys


def test_keys_go_from_crossing_to_crossing_and_along_the_speed(qtbot: QtBot, view: SurgeView) -> None:
    shown(view)
    with qtbot.waitSignal(view.said) as heard:
        qtbot.keyClick(view.scale, Qt.Key.Key_Up)
    assert heard.args == ["Outer: mode 1 (423\u2009Hz) meets order 8 of the cam at 6345\u2009rpm."]
    assert view.scale.strip.mode == 1
    with qtbot.waitSignal(view.said) as heard:
        qtbot.keyClick(view.scale, Qt.Key.Key_Right)
    assert view.across == pytest.approx(6400.0)
    assert "cam turns at 53\u2009Hz" in heard.args[0]
    ratios = [float(surge_ratio(first, 6400 * RPM)) for first in (423.0, 561.0)]
    assert f"outer {ratios[0]:.4g}, inner {ratios[1]:.4g}" in heard.args[0]
    assert view.scale.strip.mode == 0
    qtbot.keyClick(view.scale, Qt.Key.Key_Left, Qt.KeyboardModifier.ShiftModifier)
    assert view.across == pytest.approx(5900.0)


def test_the_pointer_reads_a_crossing(qtbot: QtBot, view: SurgeView) -> None:
    shown(view)
    for _ in range(2):
        qtbot.wait(1)
        view.grab()
    box = view.scale.plots[0].getViewBox()
    view.scale._pointer(box.mapViewToScene(QPointF(6350.0, 424.0)))
    assert "order 8" in view.last_said
    view.scale._pointer(box.mapViewToScene(QPointF(3000.0, 900.0)))
    assert view.last_said.startswith("At 3000\u2009rpm")


# What it waits for


@pytest.mark.parametrize("known", [True, False])
def test_it_says_what_it_waits_for(view: SurgeView, known: bool) -> None:
    missing = {"surge_frequency": ("spring.coils.0.wire.diameter",)}
    coils = a_nest() if known else (a_coil("outer", missing=missing),)
    shown(view, coils, a_range(limit=None if known else 7000.0))
    assert view.empty.isVisible()
    assert ("speed limit" in view.empty.text()) is known
    assert ("wire" in view.empty.text().split("\n")[1]) is not known


def test_a_spring_without_modes_is_told_beside_those_that_have_them() -> None:
    coils = (a_nest()[0], a_coil("inner", missing={"surge_frequency": ("spring.coils.1.mean_diameter",)}))
    told = surge_picture(coils, a_range(), "inner", INCH)
    assert not told.empty
    assert any(note.startswith("Inner is not drawn; it waits for: ") for note in told.notes)


def test_what_the_lines_leave_out_is_said() -> None:
    damped = replace(a_range(), friction=26.689329691563)
    notes = " ".join(surge_picture(a_nest(), damped, "outer", INCH).notes)
    assert "friction of 6\u2009lbf" in notes
    assert "taper" not in notes
    landed = replace(a_nest()[0], modes=np.array([423.0, np.nan, np.nan]))
    told = surge_picture((landed,), a_range(), "outer", INCH)
    assert {key.split()[1] for key in told.says} == {"1"}
    hardly = replace(a_nest()[0], modes=np.full(5, np.nan))
    assert surge_picture((hardly,), a_range(), "outer", INCH).empty


def test_without_an_idle_speed_the_range_begins_at_standstill() -> None:
    told = surge_picture(a_nest(), a_range(idle=None), "outer", INCH)
    assert any("begins at standstill" in note for note in told.notes)
    assert not any(
        each.name is not None and each.name.texts[0].startswith("idle") for each in told.charts[0].strokes
    )  # fmt: skip


# The picture itself


def test_the_same_springs_again_are_not_built_anew(view: SurgeView) -> None:
    shown(view)
    before = view.told
    shown(view, a_nest())  # other objects, alike in all that is drawn
    assert view.told is before
    shown(view, surge=a_range(limit=7300.0))
    assert view.told is not before


def test_axes_tell_their_units(view: SurgeView) -> None:
    shown(view)
    assert [axis.words for axis in view.scale.axes] == ["frequency, Hz", "engine speed, rpm"]


@pytest.mark.parametrize("size", [(560, 420), (620, 340), (1100, 700)])
def test_names_stand_inside_and_off_each_other(qtbot: QtBot, view: SurgeView, size: tuple[int, int]) -> None:
    view.resize(*size)
    shown(view)
    for _ in range(2):
        qtbot.wait(1)
        view.grab()
    item, plot = view.scale.items[0], view.scale.plots[0]
    boxes, seen = item.name_boxes(), plot.getViewBox().boundingRect()
    for place, box in enumerate(boxes):
        assert seen.adjusted(-1, -1, 1, 1).contains(box)
        assert not any(box.intersects(other) for other in boxes[place + 1 :])
    written = item.names_written
    assert {"order 8, 6345\u2009rpm", "limit 7200\u2009rpm", "idle 800\u2009rpm", "15", "20"} <= set(written)
    assert any(text.startswith("outer") for text in written)
    assert any("15 to 20" in text for text in written)


def test_the_strip_shows_the_shapes_and_makes_way(qtbot: QtBot, view: SurgeView) -> None:
    shown(view)
    assert view.scale.strip.isVisible()
    nodes = [int(np.sum(np.abs(mode_shape(ALONG, float(mode))) < 1e-9)) for mode in (1, 2)]
    assert nodes == [2, 3]  # both ends, and the middle in the second
    view.resize(int(3 * WIDE), 400)
    qtbot.wait(1)
    assert not view.scale.strip.isVisible()


def test_it_follows_the_theme(qtbot: QtBot, view: SurgeView) -> None:
    shown(view)
    light = view.grab().toImage().pixelColor(view.width() - 3, 3)
    theme().choose(Choice.DARK)
    qtbot.wait(1)
    assert view.grab().toImage().pixelColor(view.width() - 3, 3).lightness() < light.lightness() / 2


def test_it_has_a_name_and_a_sentence(view: SurgeView) -> None:
    shown(view)
    assert view.scale.accessibleName() == "Surge picture"
    assert "outer 423\u2009Hz, inner 561\u2009Hz" in view.scale.accessibleDescription()


def test_a_state_of_the_session_is_shown(view: SurgeView) -> None:
    view.show_state(view.session.state, "common", None)
    assert "speed limit" in view.empty.text()


def test_paper_and_csv(view: SurgeView, tmp_path: Path) -> None:
    shown(view, surge=a_range(curve=True))
    for ending in ("png", "svg", "pdf"):
        path = tmp_path / f"surge.{ending}"
        save_picture(view, path, "A job")
        assert path.stat().st_size > 1000
    assert "retainer" in (tmp_path / "surge.svg").read_text(encoding="utf-8")
    rows = list(csv.DictReader(io.StringIO(csv_of(view).decode("utf-8-sig"))))
    modes = [row for row in rows if row["kind"] == "mode"]
    assert len(modes) == 10
    crossing = next(row for row in rows if row["kind"] == "crossing")
    assert (crossing["spring"], crossing["mode"], crossing["order"]) == ("outer", "1", "8")
    assert float(crossing["engine_speed_closed_rpm"]) == pytest.approx(6345.0)
    assert float(crossing["lift_in"]) > 0


def test_a_beehive_job_shows_its_crossings_and_says_what_a_taper_is(qtbot: QtBot) -> None:
    made = opened(qtbot, "beehive-ovate-wire", SurgeView)
    assert made.told.says
    assert any("taper" in note for note in made.told.notes)
    line = made.session.state.analysis.line(made.session.line)
    first = line.coils[0].value("surge_frequency")
    chart = made.told.charts[0]
    assert any(each.y == pytest.approx(first) for each in chart.marks if each.key.startswith("0 1 "))
    made.hide()
