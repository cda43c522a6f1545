"""The pictures of the Motion page, drawn from a motion that is known: what they show, say, and hand out."""

from __future__ import annotations

import csv
import io
import math
from dataclasses import replace
from typing import TYPE_CHECKING

import numpy as np
import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest

from loadbench.analysis.motion.result import MotionAnalysis
from loadbench.analysis.motion.sensitivity import Moved, Quantity, rigid_sensitivity
from loadbench.motion.bands import Cause, LossBand
from loadbench.units import Kind, Style, to_display
from tests.motion.lifts import FOUR_FIVE_SIX_SEVEN
from tests.ui.motion.made import LASH, RPM, SPEEDS, dynamics, motion, seen
from ui.motion import (
    band_marks,
    force_view,
    lift_view,
    map_view,
    matters_view,
    speeds_charts,
    speeds_rows,
    together_view,
)
from ui.motion import wording as words
from ui.motion.seen import Seen
from ui.motion.views import views
from ui.plots.ink import face
from ui.spring.chart_export import csv_of, image_of

if TYPE_CHECKING:
    from collections.abc import Callable

    from PySide6.QtGui import QImage
    from pytestqt.qtbot import QtBot

    from ui.motion.motion_picture import MotionPicture
    from ui.session import Session

Key = Qt.Key
KEYS = [kind.key for kind in views() if kind.picture]
INCH, METRIC = Style.INCH_POUND, Style.METRIC


@pytest.fixture
def opened(qtbot: QtBot, session: Session) -> Callable[[str, Seen], MotionPicture]:
    def make(key: str, what: Seen) -> MotionPicture:
        view = next(kind for kind in views() if kind.key == key).make(session)
        qtbot.addWidget(view)
        view.resize(620, 380)
        view.show()
        qtbot.waitExposed(view)
        view.show_seen(what)
        view.grab()
        return view

    return make


# Lift


def test_the_lift_charts_hold_the_lift_and_its_derivatives_per_degree() -> None:
    told = lift_view.lift_picture(seen(), METRIC)
    assert [chart.title for chart in told.charts] == ["Lift", "", "Velocity", "Acceleration", "Jerk"]
    assert [chart.up for chart in told.charts if chart.title] == ["mm", "mm/deg", "mm/deg\u00b2", "mm/deg\u00b3"]
    for chart, order in zip((told.charts[0], *told.charts[2:]), range(4), strict=True):
        stroke = chart.strokes[-1]
        at = int(np.argmin(np.abs(stroke.xs + 30.0)))
        wanted = 1000 * FOUR_FIVE_SIX_SEVEN(math.radians(-30.0), order) * math.radians(1) ** order
        assert stroke.ys[at] == pytest.approx(float(wanted), rel=1e-6)


def test_the_slope_of_the_lift_shown_is_the_velocity_shown() -> None:
    lift, velocity = (lift_view.lift_picture(seen(), INCH).charts[place].strokes[-1] for place in (0, 2))
    inner = slice(250, 470)
    assert np.gradient(lift.ys, lift.xs)[inner] == pytest.approx(velocity.ys[inner], abs=2e-5)


def test_a_smoothed_table_shows_its_points_and_how_far_they_lie_off() -> None:
    told = lift_view.lift_picture(seen(table=True), METRIC)
    assert len(told.charts[0].marks) == 61
    assert [mark.y for mark in told.charts[1].marks[:2]] == pytest.approx([-0.01, 0.01])
    assert "at most 0.0100 mm" in " ".join(told.notes)
    assert lift_view.lift_picture(seen(), METRIC).charts[1].marks == ()


def test_the_lift_read_out_tells_crank_and_what_it_is_at_speed() -> None:
    said = lift_view.lift_read_out(seen(), -30.0, METRIC)
    assert "crank \u221260.0" in said
    lift = float(FOUR_FIVE_SIX_SEVEN(math.radians(-30.0)))
    assert words.length(lift, METRIC) in said
    assert words.length(lift - LASH, METRIC) in said
    speed = float(FOUR_FIVE_SIX_SEVEN(math.radians(-30.0), 1)) * 3000 * RPM
    assert words.velocity(speed, METRIC) in said


# Force


def test_the_dynamic_force_is_the_row_of_the_map_at_the_sliders_speed() -> None:
    told = force_view.force_picture(seen(speed=5000 * RPM), METRIC)
    found = dynamics().found
    row = int(np.argmin(np.abs(found.speeds - 5000 * RPM)))
    assert told.charts[0].strokes[-1].ys == pytest.approx(found.force[row])
    greatest = next(mark for mark in told.charts[0].marks if mark.name and "greatest" in mark.name.texts[0])
    assert greatest.y == pytest.approx(found.peak_force[row])


def test_stations_that_are_the_same_are_drawn_once() -> None:
    chart = force_view.force_picture(seen(), METRIC).charts[1]
    names = [mark.name.texts[0] for mark in chart.marks if mark.name]
    assert sorted(names) == sorted(["lobe, normal to the flank", "valve tip", "pushrod", "lobe, along the travel"])


def test_before_the_first_sweep_the_rigid_force_is_there() -> None:
    own = replace(seen(), dynamics=None)
    told = force_view.force_picture(own, INCH)
    assert len(told.charts) == 2
    assert "being worked out" in " ".join(told.notes)
    assert "rigid" in force_view.force_read_out(own, 0.0, INCH)


def test_stations_wait_for_the_speed_limit() -> None:
    own = Seen(motion=motion(limit=None), dynamics=dynamics(), speed=5000 * RPM, refined=True)
    assert "speed limit" in " ".join(force_view.force_picture(own, INCH).notes)


# Map and bands


def test_the_heat_is_the_force_where_the_valve_is_lifted() -> None:
    own = seen()
    heat, found = map_view.heat_of(own, METRIC), dynamics().found
    columns = map_view.window_of(own, found)
    assert heat.values.shape == (SPEEDS.size, columns.stop - columns.start)
    lifted = np.isfinite(heat.values)
    assert heat.values[lifted] == pytest.approx(found.force[:, columns][lifted])
    assert heat.top >= np.nanmax(heat.values)
    assert heat.box[1] == pytest.approx(2750.0)  # half a step beneath the first speed
    assert heat.box[3] == pytest.approx(4500.0)


def test_uneven_steps_give_rows_of_one_height() -> None:
    own = seen()
    assert own.dynamics is not None
    found = own.dynamics.found
    speeds = found.speeds.copy()
    speeds[-1] += 200 * RPM
    uneven = replace(own, dynamics=replace(own.dynamics, found=replace(found, speeds=speeds)))
    heat = map_view.heat_of(uneven, METRIC)
    rows = heat.values.shape[0]
    assert rows > speeds.size
    at = int((5000 - heat.box[1]) / heat.box[3] * rows)
    columns = map_view.window_of(own, found)
    middle = heat.values.shape[1] // 2
    assert heat.values[at, middle] == pytest.approx(found.force[4, columns][middle])


def test_the_outline_encloses_what_is_lost_and_nothing_else() -> None:
    own = seen()
    halo, edge = map_view.outline_of(own, METRIC)
    assert np.array_equal(halo.xs, edge.xs, equal_nan=True)
    found = dynamics().found
    lost = found.speeds[found.lost] / RPM
    assert np.nanmin(edge.ys) == pytest.approx(lost[0] - 250.0)
    assert np.nanmax(edge.ys) == pytest.approx(lost[-1] + 250.0)
    assert np.nanmax(np.abs(edge.xs)) <= 50.5


def test_held_contact_has_no_outline() -> None:
    own = seen()
    assert own.dynamics is not None
    found = own.dynamics.found
    held = replace(found, force=np.maximum(found.force, 1.0), least_force=np.maximum(found.least_force, 1.0))
    quiet = replace(own, dynamics=replace(own.dynamics, found=held, bands=()))
    assert map_view.outline_of(quiet, METRIC) == ()
    assert band_marks.notes(quiet, METRIC)[0] == "Contact is held over the whole sweep."


def test_bands_are_told_with_cause_and_edges() -> None:
    told = map_view.map_picture(seen(), INCH, ())
    bands = dynamics().bands
    assert len(told.says) == len(bands)
    first = next(iter(told.says.values()))()
    assert words.speed(bands[0].low, INCH) in first
    assert words.cause(bands[0]) in first
    assert first in " ".join(told.notes)


def test_unrefined_bands_are_the_swept_speeds_and_say_so() -> None:
    own = seen(refine=False)
    (only, *_) = band_marks.stretches(own, INCH)
    found = dynamics(refine=False).found
    assert only.band is None
    assert only.low == pytest.approx(found.speeds[found.lost][0] / RPM)
    assert "being looked for" in band_marks.notes(own, INCH)[0]
    assert map_view.map_picture(own, INCH, ()).says == {}


@pytest.mark.parametrize(
    ("band", "said"),
    [
        (LossBand(low=600.0, high=None, cause=Cause.INERTIA), "more than the spring"),
        (LossBand(low=600.0, high=650.0, cause=Cause.LINKAGE), "linkage rings"),
        (LossBand(low=600.0, high=650.0, cause=Cause.SURGE, order=7, mode=1), "order 7 of the cam swings its mode 1"),
        (LossBand(low=600.0, high=650.0, cause=Cause.SURGE, begins_below=True), "or below"),
    ],
)
def test_every_cause_has_its_words_and_its_own_mark(band: LossBand, said: str) -> None:
    assert said in words.band_sentence(band, INCH)
    assert len(set(band_marks.SHAPES.values())) == len(Cause)
    assert len(words.cause_names(band)[-1]) < 12


def test_the_map_reads_out_force_or_its_want() -> None:
    own, found = seen(), dynamics().found
    row = int(np.flatnonzero(found.lost)[0])
    inside = (found.force[row] <= 0) & (np.abs(found.angles) < math.radians(50))
    at = math.degrees(float(found.angles[inside][0]))
    assert "no contact" in map_view.map_read_out(own, at, row, METRIC)
    assert words.speed(float(found.speeds[0]), METRIC) in map_view.map_read_out(own, 0.0, 0, METRIC)


def test_the_line_of_the_slider_stands_in_map_and_speeds() -> None:
    own = seen(speed=4500 * RPM)
    level = [s for s in map_view.map_picture(own, INCH, ()).charts[0].strokes if s.name and "slider" in s.name.texts[0]]
    assert level[0].ys == pytest.approx([4500.0, 4500.0])
    upright = [
        s for s in speeds_charts.speeds_picture(own, INCH).charts[-1].strokes if s.name and "slider" in s.name.texts[0]
    ]
    assert upright[0].xs == pytest.approx([4500.0, 4500.0])


# Speeds


def test_the_speeds_view_holds_what_was_found() -> None:
    told, found = speeds_charts.speeds_picture(seen(), METRIC), dynamics().found
    greatest, least = (s for s in told.charts[0].strokes if s.xs.size == SPEEDS.size)
    assert greatest.ys == pytest.approx(found.peak_force)
    assert least.ys == pytest.approx(found.least_force)
    names = {mark.name.texts[0] for mark in told.charts[0].marks if mark.name and not mark.key}
    assert names == {"greatest", "least"}
    seating = [s for s in told.charts[3].strokes if s.xs.size == SPEEDS.size]
    assert seating[0].ys == pytest.approx(-found.seating_speed)
    said = speeds_rows.speeds_read_out(seen(), 4000.0, METRIC)
    assert words.force(float(found.surge_load[2]), METRIC) in said


# What matters


def test_bars_reach_as_far_as_the_speed_moves_and_the_strongest_stands_first() -> None:
    rows = matters_view.sorted_rows(seen())
    reaches = [by_how["rigid"].reach for _, by_how in rows if "rigid" in by_how]
    assert reaches == sorted(reaches, reverse=True)
    told = matters_view.matters_picture(seen(), rows, METRIC)
    first = rows[0][1]["rigid"]
    assert first.base is not None
    assert first.more is not None
    assert first.less is not None
    xs = {round(mark.x, 3) for mark in told.charts[0].marks if mark.key == "input 0"}
    assert xs == {round((each - first.base) / RPM, 3) for each in (first.less, first.more)}


def test_onsets_order_the_bars_once_they_are_there() -> None:
    base = 600.0
    onsets = (
        Moved(quantity=Quantity.STIFFNESS, less=base - 40, base=base, more=base + 40),
        Moved(quantity=Quantity.RATE, less=base - 0.05, base=base, more=base + 0.05),
    )
    rows = matters_view.sorted_rows(replace(seen(), onsets=onsets))
    assert rows[0][0] is Quantity.STIFFNESS
    told = matters_view.matters_picture(replace(seen(), onsets=onsets), rows, METRIC)
    assert "force balance" not in told.says["input 0"]()
    assert words.speed(base + 40, METRIC) in told.says["input 0"]()
    assert words.speed(base, METRIC) in " ".join(told.notes)


def test_every_bar_has_its_number_though_two_end_side_by_side(
    opened: Callable[[str, Seen], MotionPicture],
) -> None:
    rigid = rigid_sensitivity(motion(), None)
    close = tuple(
        replace(each, less=each.less and each.less - 0.6, more=each.more and each.more + 0.6) for each in rigid
    )
    view = opened("matters", replace(seen(), onsets=close))
    wanted = [mark.name.texts[0] for mark in view.told.charts[0].marks if mark.name]
    assert len(wanted) == 4 * len(rigid)
    written = [text for _, text, _ in view.scale.items[0]._named]
    assert sorted(written) == sorted(wanted)


@pytest.mark.parametrize("side", [-1, 1])
def test_two_numbers_at_the_longest_bar_find_room(side: int, opened: Callable[[str, Seen], MotionPicture]) -> None:
    onsets = (Moved(quantity=Quantity.RATE, less=900 + 30 * side, base=900.0, more=900 + 3 * side),)
    view = opened("matters", replace(seen(), onsets=onsets))
    wanted = next(text for mark in view.told.charts[0].marks if mark.name for text in mark.name.texts if "," in text)
    assert wanted in [text for _, text, _ in view.scale.items[0]._named]


def test_held_throughout_is_told() -> None:
    onsets = (Moved(quantity=Quantity.RATE, less=600.0, base=None, more=None),)
    own = replace(seen(), onsets=onsets)
    told = matters_view.matters_picture(own, matters_view.sorted_rows(own), INCH)
    assert "holds contact over the whole sweep" in " ".join(told.notes)
    assert any("held throughout" in say() for say in told.says.values())


# All of them


@pytest.mark.parametrize("key", KEYS)
@pytest.mark.parametrize("style", list(Style))
def test_every_view_draws_and_hands_its_data_out(
    opened: Callable[[str, Seen], MotionPicture], key: str, style: Style
) -> None:
    view = opened(key, seen(table=True))
    view.session.set_style(style)
    assert view.told.charts
    assert view.scale.accessibleName()
    assert view.scale.accessibleDescription()
    assert all(chart.up or key == "matters" or not chart.strokes for chart in view.told.charts)
    rows = list(csv.reader(io.StringIO(csv_of(view).decode("utf-8-sig"))))
    assert len({len(row) for row in rows}) == 1
    assert len(rows) > 4


@pytest.mark.parametrize("key", KEYS)
def test_every_view_prints(opened: Callable[[str, Seen], MotionPicture], key: str) -> None:
    view = opened(key, seen())
    before = view.scale.size()
    image = image_of(view)
    assert view.scale.size() == before
    colours = {image.pixelColor(x, y).rgb() for x in range(0, image.width(), 9) for y in range(0, image.height(), 9)}
    assert len(colours) > 5


@pytest.mark.parametrize("key", [key for key in KEYS if key != "matters"])
def test_d40_arrow_keys_read_every_view_out(
    opened: Callable[[str, Seen], MotionPicture], key: str, qtbot: QtBot
) -> None:
    view = opened(key, seen())
    with qtbot.waitSignal(view.said) as said:
        QTest.keyClick(view.scale, Key.Key_Right)
    assert any(character.isdigit() for character in said.args[0])


@pytest.mark.parametrize("key", ["map", "speeds", "matters"])
def test_up_and_down_walk_the_bands_or_inputs(
    opened: Callable[[str, Seen], MotionPicture], key: str, qtbot: QtBot
) -> None:
    view = opened(key, seen())
    with qtbot.waitSignal(view.said) as said:
        QTest.keyClick(view.scale, Key.Key_Up)
    assert said.args[0] == next(iter(view.told.says.values()))()


@pytest.mark.parametrize("key", KEYS)
def test_no_motion_is_told_and_not_drawn(opened: Callable[[str, Seen], MotionPicture], key: str) -> None:
    view = opened(key, Seen(motion=MotionAnalysis()))
    assert view.told.empty


def test_the_legend_has_numbers_from_zero_to_a_round_top(opened: Callable[[str, Seen], MotionPicture]) -> None:
    view = opened("map", seen())
    assert isinstance(view, map_view.MapView)
    numbers = [float(text.replace("\u2009", "")) for text in view.scale.legend.numbers]
    assert numbers[-1] == 0.0
    assert numbers[0] == map_view.heat_of(seen(), view.session.style).top
    assert numbers == sorted(numbers, reverse=True)
    assert "Force, lbf" in view.scale.legend.heat.words


def test_the_map_is_painted_with_its_own_colours_and_paler_when_out_of_date(
    opened: Callable[[str, Seen], MotionPicture],
) -> None:
    view = opened("map", seen())

    def spread(image: QImage) -> float:
        values = [image.pixelColor(x, y).lightnessF() for x in range(80, 350, 5) for y in range(60, 280, 5)]
        return float(np.std(values))

    sharp = spread(view.grab().toImage())
    view.set_grey(True)
    assert spread(view.grab().toImage()) < 0.7 * sharp
    view.set_grey(False)
    assert spread(view.grab().toImage()) == pytest.approx(sharp)


def test_units_change_the_numbers_and_not_the_force(opened: Callable[[str, Seen], MotionPicture]) -> None:
    pounds, newtons = (map_view.heat_of(seen(), style).values for style in (INCH, METRIC))
    inside = np.isfinite(newtons)
    assert pounds[inside] == pytest.approx(to_display(newtons[inside], Kind.FORCE, INCH))


# Together


def test_together_holds_lift_force_and_map_over_one_angle() -> None:
    own, found = seen(speed=5000 * RPM), dynamics().found
    told = together_view.together_picture(own, METRIC, (), 100.0)
    assert len({chart.x_range for chart in told.charts}) == 1
    assert [chart.title for chart in told.charts] == ["Lift", "Velocity", "Acceleration", "Contact force", "Speed"]
    row = int(np.argmin(np.abs(found.speeds - 5000 * RPM)))
    assert told.charts[3].strokes[-1].ys == pytest.approx(found.force[row])
    level = next(each for each in told.charts[4].strokes if each.name and each.name.texts[0] == "slider")
    assert level.ys == pytest.approx([5000.0, 5000.0])
    said = together_view.together_read_out(own, -30.0, METRIC)
    lift = float(FOUR_FIVE_SIX_SEVEN(math.radians(-30.0)))
    force = float(np.interp(math.radians(-30.0), found.angles, found.force[row]))
    assert words.length(lift, METRIC) in said
    assert words.force(force, METRIC) in said


def test_an_angle_is_pointed_out_in_all_charts_and_its_read_out_follows_the_slider(
    opened: Callable[[str, Seen], MotionPicture], qtbot: QtBot
) -> None:
    view = opened("together", seen(speed=5000 * RPM))
    with qtbot.waitSignal(view.pointed):
        QTest.keyClick(view.scale, Key.Key_Right)
    places = {item.cursor for item in view.scale.items}
    assert len(places) == 1
    assert None not in places
    with qtbot.waitSignal(view.said) as said:
        view.show_seen(seen(speed=6000 * RPM))
    assert said.args[0].startswith("6000")
    assert view.across in places


def test_a_chart_says_its_quantity_and_unit_however_low_it_is(opened: Callable[[str, Seen], MotionPicture]) -> None:
    view = opened("lift", seen(table=True))
    view.resize(600, 330)
    view.grab()
    for item, title in zip(view.scale.items, ("Lift, in", "Table less lift, in", "Velocity, in/deg"), strict=False):
        assert title in item.names_written


def test_numbers_beside_low_charts_do_not_run_into_each_other(
    opened: Callable[[str, Seen], MotionPicture],
) -> None:  # fmt: skip
    view = opened("lift", seen(table=True))
    view.resize(420, 240)
    view.grab()
    shown = [axis for plot, axis in zip(view.scale.plots, view.scale.ups, strict=True) if plot.isVisible()]
    assert len(shown) > 1
    for axis in shown:
        low, high = axis.range
        tall = axis.geometry().height()
        for spacing, values in axis.tickValues(low, high, tall):
            texts = axis.tickStrings(values, 1.0, spacing)
            assert not any(texts) or spacing * tall / (high - low) >= face(0.9).tall


def test_two_bars_on_one_side_have_their_numbers_at_the_longer_ones_end() -> None:
    base = 600.0
    moved = Moved(quantity=Quantity.RATE, less=base + 5, base=base, more=base + 12)
    ((x, text),) = matters_view._numbers(moved, METRIC)
    assert x == pytest.approx(12 / RPM)
    assert text == f"+{5 / RPM:.0f} less, +{12 / RPM:.0f} more"


def test_a_spring_without_waves_says_that_no_surge_is_known() -> None:
    still = motion(surging_mass=0.0)
    told = speeds_charts.speeds_picture(replace(seen(), motion=still), METRIC)
    assert "No surge is known" in told.notes[-1]
    assert "No surge is known" not in " ".join(speeds_charts.speeds_picture(seen(), METRIC).notes)


@pytest.mark.parametrize(
    ("spacing", "wanted"),
    [
        (5e-5, ["-0.00005", "0", "0.00005"]),
        (2.5e-5, ["-0.000025", "0", "0.000025"]),
        (0.25, ["-0.25", "0", "0.25"]),
        (20000.0, ["-20000", "0", "20000"]),
    ],
)
def test_numbers_beside_a_chart_are_exact_and_no_powers_of_ten(
    opened: Callable[[str, Seen], MotionPicture], spacing: float, wanted: list[str]
) -> None:
    axis = opened("lift", seen()).scale.ups[0]
    assert axis.tickStrings([-spacing, -1e-20, spacing], 1.0, spacing) == wanted
