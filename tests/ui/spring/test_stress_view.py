"""The stress picture: its lines against the physics, its factors, read-out, units, and what it waits for."""

from __future__ import annotations

import csv
import io
from collections.abc import Iterator
from dataclasses import replace
from typing import TYPE_CHECKING

import numpy as np
import pytest
from PySide6.QtCore import QPointF, Qt
from PySide6.QtGui import QAccessible, QGuiApplication

from loadbench.job.model import Job
from loadbench.spring import fatigue
from loadbench.units import Style
from tests.ui.spring.handmade import INNER, KPSI, OUTER, a_coil, a_nest, lines_of
from tests.ui.spring.opened import opened
from ui.palette import DARK
from ui.session import Session
from ui.spring.chart import Chart, Mark, Stroke
from ui.spring.chart_export import csv_of, image_of, save_picture
from ui.spring.stress_charts import stress_picture
from ui.spring.stress_view import StressView
from ui.theme import Choice, theme

if TYPE_CHECKING:
    from pathlib import Path

    from pytestqt.qtbot import QtBot

    from loadbench.analysis.coils.result import CoilAnalysis

INCH, METRIC = Style.INCH_POUND, Style.METRIC
MPA = 1e6


@pytest.fixture
def view(qtbot: QtBot) -> Iterator[StressView]:
    made = StressView(Session(Job(title="A job"), style=INCH))
    qtbot.addWidget(made)
    made.resize(900, 600)
    made.show()
    qtbot.waitExposed(made)
    yield made
    made.hide()
    theme().choose(Choice.LIGHT)


def shown(view: StressView, coils: tuple[CoilAnalysis, ...] | None = None, member: str | None = "outer") -> None:
    view.show_told(view.build_of(a_nest() if coils is None else coils, member, view.session.style))


def settled(qtbot: QtBot, view: StressView) -> None:
    for _ in range(2):
        qtbot.wait(1)
        view.grab()


def mark(chart: Chart, key: str) -> Mark:
    return next(each for each in chart.marks if each.key == key)


def named(chart: Chart, word: str) -> Stroke:
    return next(each for each in chart.strokes if each.name is not None and each.name.texts[-1] == word)


# The lines


@pytest.mark.parametrize(("style", "unit"), [(INCH, KPSI), (METRIC, MPA)])
def test_haigh_lines_are_those_of_the_physics(style: Style, unit: float) -> None:
    lines = lines_of(*OUTER)
    chart = stress_picture(a_nest(), "outer", style).charts[1]
    gerber = named(chart, "Gerber")
    expected = fatigue.gerber_line(gerber.xs * unit, lines.endurance_gerber, lines.ultimate_shear)
    assert gerber.ys * unit == pytest.approx(expected, rel=1e-9, abs=1.0)
    goodman = named(chart, "Goodman")
    expected = fatigue.goodman_line(goodman.xs * unit, lines.endurance_goodman, lines.ultimate_shear)
    assert goodman.ys * unit == pytest.approx(expected, rel=1e-9, abs=1.0)
    assert named(chart, "Sines").ys * unit == pytest.approx(lines.amplitude)


@pytest.mark.parametrize(("style", "unit"), [(INCH, KPSI), (METRIC, MPA)])
def test_goodman_lines_bound_the_stress_by_the_allowed_amplitude(style: Style, unit: float) -> None:
    lines = lines_of(*OUTER)
    upper = named(stress_picture(a_nest(), "outer", style).charts[0], "Gerber")
    allowed = fatigue.gerber_line(upper.xs * unit, lines.endurance_gerber, lines.ultimate_shear)
    assert (upper.ys - upper.xs) * unit == pytest.approx(allowed, rel=1e-9, abs=1.0)


def test_the_bar_goes_from_closed_to_full_lift_at_the_mean() -> None:
    chart = stress_picture(a_nest(), "outer", INCH).charts[0]
    closed, full = mark(chart, "closed"), mark(chart, "full_lift")
    assert (closed.x, closed.y) == pytest.approx(((OUTER[0] + OUTER[1]) / 2, OUTER[0]))
    assert (full.x, full.y) == pytest.approx(((OUTER[0] + OUTER[1]) / 2, OUTER[1]))
    assert mark(chart, "bind").y == pytest.approx(OUTER[2])
    assert mark(chart, "static").y == pytest.approx(0.5 * 247)


@pytest.mark.parametrize("criterion", ["goodman", "gerber", "sines"])
def test_a_factor_is_how_far_along_the_load_line_its_line_lies(criterion: str) -> None:
    outer = a_nest()[0]
    chart = stress_picture(a_nest(), "outer", INCH).charts[1]
    point, crossing = mark(chart, "point"), mark(chart, criterion)
    factor = outer.value(f"fatigue_factor_{criterion}")
    assert factor is not None
    assert crossing.x / point.x == pytest.approx(factor)
    assert crossing.y / point.y == pytest.approx(factor)
    line = named(chart, criterion.capitalize())
    assert np.interp(crossing.x, line.xs, line.ys) == pytest.approx(crossing.y, rel=2e-3)  # of a polygon
    assert line.name is not None
    assert line.name.texts[0] == f"{criterion.capitalize()} {factor:.2f}"


@pytest.mark.reference("shigley")
def test_zimmerlis_point_is_that_of_the_data_taken() -> None:
    for peened, amplitude, mean in ((False, 35.0, 55.0), (True, 57.5, 77.5)):
        coil = a_coil("outer", lines_of(*OUTER, peened=peened))
        told = stress_picture((coil,), None, INCH)
        point = mark(told.charts[1], "zimmerli")
        assert (point.x, point.y) == pytest.approx((mean, amplitude))
        assert point.name is not None
        assert point.name.texts[0] == ("Zimmerli, peened" if peened else "Zimmerli, not peened")
        assert (f"Zimmerli data: {'peened' if peened else 'not peened'}.") in told.notes


def test_other_springs_stand_as_points_with_their_names() -> None:
    told = stress_picture(a_nest(), "outer", INCH)
    other = mark(told.charts[1], "member 1")
    assert other.y == pytest.approx((INNER[1] - INNER[0]) / 2)
    assert other.look.faint
    assert other.name is not None
    assert other.name.texts == ("inner",)
    turned = stress_picture(a_nest(), "inner", INCH)
    assert mark(turned.charts[1], "point").y == pytest.approx(other.y)


# What it says


def test_the_notes_say_what_the_lines_rest_on() -> None:
    coil = a_coil("outer", lines_of(*OUTER, peened=False), peened=None)
    notes = " ".join(stress_picture((coil,), None, INCH).notes)
    assert "shot peening is not stated" in notes
    assert "Wire strength by EN 10270-2" in notes
    assert "EN 13906-1 gives fatigue strengths as diagrams only" in notes


def test_without_a_load_range_the_load_line_lies_along_the_mean() -> None:
    coil = a_coil("outer", lines_of(80.0, 80.0, None))
    told = stress_picture((coil,), None, INCH)
    assert "sines" not in told.says  # endless: never met
    crossing = mark(told.charts[1], "goodman")
    assert (crossing.x, crossing.y) == pytest.approx((0.67 * 247, 0.0))
    assert np.isfinite([(each.x, each.y) for chart in told.charts for each in chart.marks]).all()


def test_a_wire_weaker_than_the_data_draws_no_line_through_them(qtbot: QtBot, view: StressView) -> None:
    lines = lines_of(20.0, 60.0, None, tensile=100.0)  # ultimate shear 67 kpsi, below Zimmerli's mean of 77.5
    assert np.isnan(lines.endurance_goodman)
    shown(view, (a_coil("outer", replace(lines)),))
    settled(qtbot, view)
    texts = {each.name.texts[-1] for each in view.told.charts[1].strokes if each.name is not None}
    assert "Sines" in texts
    assert not {"Goodman", "Gerber"} & texts


def test_it_says_what_it_waits_for(view: StressView) -> None:
    missing = {"fatigue_factor_goodman": ("spring.coils.0.material", "spring.coils.0.wire.diameter")}
    shown(view, (a_coil("outer", missing=missing),))
    assert view.empty.isVisible()
    assert not view.scale.isVisible()
    assert "material" in view.empty.text()
    assert "wire" in view.empty.text()
    shown(view)
    assert view.scale.isVisible()
    shown(view, ())
    assert view.empty.isVisible()


# Read-out, keys, units


def test_keys_go_from_mark_to_mark_and_along_the_mean(qtbot: QtBot, view: StressView) -> None:
    shown(view)
    with qtbot.waitSignal(view.said) as heard:
        qtbot.keyClick(view.scale, Qt.Key.Key_Up)
    assert heard.args == ["Outer: closed 46.0\u2009kpsi."]
    with qtbot.waitSignal(view.said) as heard:
        qtbot.keyClick(view.scale, Qt.Key.Key_Up)
    assert heard.args == ["Outer: full lift 108.0\u2009kpsi; static limit 123.5\u2009kpsi."]
    assert view.scale.items[0].chosen == "full_lift"
    with qtbot.waitSignal(view.said) as heard:
        qtbot.keyClick(view.scale, Qt.Key.Key_Right)
    assert "At a mean of 78.0\u2009kpsi" in heard.args[0]
    assert [item.cursor for item in view.scale.items] == [78.0, 78.0]  # linked: both charts show it
    qtbot.keyClick(view.scale, Qt.Key.Key_Right, Qt.KeyboardModifier.ShiftModifier)
    assert view.across == 88.0
    lines = lines_of(*OUTER)
    allowed = float(fatigue.goodman_line(88 * KPSI, lines.endurance_goodman, lines.ultimate_shear)) / KPSI
    assert f"Goodman ±\u2009{allowed:.1f}\u2009kpsi" in view.last_said
    qtbot.keyClick(view.scale, Qt.Key.Key_C, Qt.KeyboardModifier.ControlModifier)
    assert QGuiApplication.clipboard().text() == view.last_said


def test_every_mark_has_its_words(view: StressView) -> None:
    for style in (INCH, METRIC):
        view.session.set_style(style)
        shown(view)
        unit = "kpsi" if style is INCH else "MPa"
        keys = {each.key for chart in view.told.charts for each in chart.marks if each.key}
        assert keys == set(view.told.says)
        for key in keys:
            assert unit in view.told.says[key]()


def test_the_pointer_reads_the_nearest_mark_or_the_mean(qtbot: QtBot, view: StressView) -> None:
    shown(view)
    settled(qtbot, view)
    point = mark(view.told.charts[1], "point")
    box = view.scale.plots[1].getViewBox()
    view.scale._pointer(box.mapViewToScene(QPointF(point.x, point.y)))
    assert view.last_said.startswith("Outer: alternating 31.0\u2009kpsi about a mean of 77.0\u2009kpsi; factor Goodman")
    view.scale._pointer(box.mapViewToScene(QPointF(20.0, 5.0)))
    assert view.last_said.startswith("At a mean of 20.0\u2009kpsi")


def test_the_other_units_are_on_both_axes(view: StressView) -> None:
    shown(view)
    assert {axis.words for axis in view.scale.axes} == {
        "stress, kpsi",
        "mean stress, kpsi",
        "alternating stress, kpsi",
    }
    view.session.set_style(METRIC)
    shown(view)
    assert all(axis.words.endswith("MPa") for axis in view.scale.axes)
    assert view.told.charts[0].y_range[1] > 1000


# The picture itself


def test_hidden_it_draws_nothing_and_shown_it_catches_up(qtbot: QtBot) -> None:
    made = StressView(Session(Job(title="A job"), style=INCH))
    qtbot.addWidget(made)
    built: list[str | None] = []
    made.build = lambda state, line, member, style: built.append(member) or made.build_of(a_nest(), member, style)  # type: ignore[assignment, func-returns-value]
    made.show_state(made.session.state, "common", "outer")
    assert built == []
    made.show()
    qtbot.waitExposed(made)
    assert built == ["outer"]
    made.show_state(made.session.state, "common", "inner")
    assert built == ["outer", "inner"]
    made.hide()
    made.show_state(made.session.state, "common", "outer")
    assert built == ["outer", "inner"]


def test_a_state_of_the_session_is_shown(view: StressView) -> None:
    view.show_state(view.session.state, "common", None)
    assert view.empty.text()


@pytest.mark.parametrize("size", [(560, 420), (620, 340), (1100, 700), (420, 700)])
def test_names_stand_inside_and_off_each_other(qtbot: QtBot, view: StressView, size: tuple[int, int]) -> None:
    view.resize(*size)
    shown(view)
    settled(qtbot, view)
    for item, plot in zip(view.scale.items, view.scale.plots, strict=True):
        boxes, seen = item.name_boxes(), plot.getViewBox().boundingRect()
        for place, box in enumerate(boxes):
            assert seen.adjusted(-1, -1, 1, 1).contains(box)
            assert not any(box.intersects(other) for other in boxes[place + 1 :])
    written = [text for item in view.scale.items for text in item.names_written]
    assert {"Goodman 1.33", "Gerber 1.39", "Sines 1.85"} <= set(written)
    assert any(text.startswith("at bind") for text in written)


def test_an_edit_keeps_the_ranges_until_they_no_longer_hold(view: StressView) -> None:
    shown(view)
    before = view.scale.plots[0].getViewBox().viewRange()
    shown(view, (a_coil("outer", lines_of(50.0, 112.0, 133.0)), a_nest()[1]))
    assert view.scale.plots[0].getViewBox().viewRange() == before
    shown(view, (a_coil("outer", lines_of(50.0, 300.0, 320.0)), a_nest()[1]))
    assert view.scale.plots[0].getViewBox().viewRange()[1][1] > 300


def test_a_zoom_stays_until_the_view_is_reset(view: StressView) -> None:
    shown(view)
    box = view.scale.plots[0].getViewBox()
    box.setRange(xRange=(40, 100), yRange=(40, 120), padding=0)
    box.sigRangeChangedManually.emit([True, True])
    shown(view, (a_coil("outer", lines_of(50.0, 112.0, 133.0)),))
    assert box.viewRange()[0] == pytest.approx([40, 100])
    view.reset_view()
    assert box.viewRange()[0][0] == 0.0


def test_it_follows_the_theme(qtbot: QtBot, view: StressView) -> None:
    shown(view)
    theme().choose(Choice.DARK)
    settled(qtbot, view)
    image = view.grab().toImage()
    assert image.pixelColor(view.width() - 3, 3).name() == DARK.panel


def test_it_has_a_name_and_a_sentence(view: StressView) -> None:
    shown(view)
    found = QAccessible.queryAccessibleInterface(view.scale)
    assert found is not None
    assert view.scale.accessibleName() == "Stress picture"
    text = view.scale.accessibleDescription()
    assert "108.0\u2009kpsi" in text
    assert "factor Goodman" in text


# Taking it away


def test_paper_carries_the_picture_and_leaves_the_screen_as_it_was(view: StressView, tmp_path: Path) -> None:
    shown(view)
    size = view.scale.size()
    image = image_of(view, 150)
    assert image.width() > 1000
    assert view.scale.size() == size
    for ending in ("png", "svg", "pdf", "csv"):
        path = tmp_path / f"stress.{ending}"
        save_picture(view, path, "A job")
        assert path.stat().st_size > 200
    text = (tmp_path / "stress.svg").read_text(encoding="utf-8")
    assert "Goodman 1.33" in text
    assert "diagrams only" in text
    with pytest.raises(ValueError, match="txt"):
        save_picture(view, tmp_path / "stress.txt", "A job")


def test_csv_holds_every_spring(view: StressView) -> None:
    coils = (a_nest()[0], a_coil("=inner"))
    shown(view, coils)
    rows = list(csv.DictReader(io.StringIO(csv_of(view).decode("utf-8-sig"))))
    assert [row["spring"] for row in rows] == ["outer", "'=inner"]
    assert float(rows[0]["full_lift_kpsi"]) == pytest.approx(108.0)
    assert float(rows[0]["fatigue_factor_sines"]) == pytest.approx(57.5 / 31)
    assert rows[1]["full_lift_kpsi"] == ""


def test_a_nest_of_three_shows_the_chosen_spring_among_the_others(qtbot: QtBot) -> None:
    made = opened(qtbot, "nest-of-three-with-damper", StressView)
    coils = made.session.state.analysis.line(made.session.line).coils
    assert {key for key in made.told.says if key.startswith("member")} == {"member 1", "member 2"}
    line = named(made.told.charts[1], "Goodman")
    assert line.name is not None
    assert line.name.texts[0] == f"Goodman {coils[0].value('fatigue_factor_goodman'):.2f}"
    made.show_state(made.session.state, made.session.line, coils[2].name)
    assert coils[2].name in made.told.says["point"]().lower()
    made.hide()


@pytest.mark.parametrize(("width", "height"), [(0.0, 10.0), (10.0, 0.0), (0.0, 0.0)])
def test_a_chart_without_width_or_height_draws_nothing(
    qtbot: QtBot, monkeypatch: pytest.MonkeyPatch, width: float, height: float
) -> None:
    from PySide6.QtCore import QRectF
    from PySide6.QtGui import QImage, QPainter

    from ui.spring.chart_item import ChartItem

    item = ChartItem()
    drawn: list[str] = []
    monkeypatch.setattr(item, "boundingRect", lambda: QRectF(0, 0, width, height))
    monkeypatch.setattr(item, "_draw_names", lambda _painter: drawn.append("names"))
    image = QImage(8, 8, QImage.Format.Format_ARGB32)
    painter = QPainter(image)
    item.draw(painter)
    assert drawn == []
    monkeypatch.setattr(item, "boundingRect", lambda: QRectF(0, 0, 10, 10))
    item.draw(painter)
    assert drawn == ["names"]
    item.py = float("inf")
    item.draw(painter)
    painter.end()
    assert drawn == ["names"]
