"""The coil's picture: to scale, on one height scale, with each state, the load lines, the friction, the read-out."""

from __future__ import annotations

import csv
import io
import itertools
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import TYPE_CHECKING, Any

import pytest
from PySide6.QtCore import QPointF, Qt
from PySide6.QtGui import QGuiApplication
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication

from loadbench.job.model import Job
from loadbench.units import Style
from tests.ui.spring.spring_jobs import IN, LBF, beehive, pair, single
from ui.plots.export import image_of
from ui.session import Session
from ui.spring.coil_export import csv_of_lines
from ui.spring.coil_view import CoilView
from ui.theme import Choice, theme

if TYPE_CHECKING:
    from pytestqt.qtbot import QtBot

Show = Callable[..., CoilView]


@pytest.fixture
def shown(qtbot: QtBot) -> Iterator[Show]:
    def show(job: Job, member: str | None = None, **how: Any) -> CoilView:
        session = Session(job, **how)
        view = CoilView(session)
        qtbot.addWidget(view)
        view.resize(640, 420)
        view.show()
        view.show_state(session.state, session.line, member)
        settle(view)
        return view

    yield show
    theme().choose(Choice.LIGHT)


def settle(view: CoilView) -> None:
    for _ in range(3):
        QApplication.processEvents()
        view.grab()


# The drawing


def test_a_pair_stands_at_four_heights_one_in_the_other(shown: Show) -> None:
    stands = shown(pair()).items.stands
    assert [stand.state for stand in stands.stands] == ["free", "closed", "open", "bind"]
    assert [round(stand.height / IN, 3) for stand in stands.stands] == [2.23, 1.85, 1.272, 1.17]
    assert [len(stand.coils) for stand in stands.stands] == [2, 2, 2, 2]
    outer, inner = stands.profiles
    assert outer.inner > inner.outer
    assert stands.lacking == ()


def test_the_wire_reaches_from_seat_to_retainer_in_every_state(shown: Show) -> None:
    for stand in shown(single()).items.stands.stands:
        levels = [level for _, level in stand.coils[0].cuts]
        assert levels == sorted(levels)
        assert levels[0] == pytest.approx(0.0, abs=1e-9)  # ground: half the wire is cut away on the seat
        assert stand.height - levels[-1] < 0.192 * IN * 1.01
        assert all(radius == pytest.approx(0.635 * IN) for radius, _ in stand.coils[0].cuts)


def test_pressed_coils_stand_closer_and_bound_ones_touch(shown: Show) -> None:
    gaps = []
    for stand in shown(single()).items.stands.stands:
        levels = [level for _, level in stand.coils[0].cuts]
        gaps.append(max(high - low for low, high in itertools.pairwise(levels)))
    assert gaps == sorted(gaps, reverse=True)
    # stated to bind at 1.170 in, drawn there though 5.3 turns of 0.192 in stack to 1.018 in
    assert 0.192 * IN <= gaps[-1] < 0.26 * IN


def test_a_beehive_is_drawn_with_its_own_radii_and_section(shown: Show) -> None:
    stand = shown(beehive()).items.stands.stands[1]
    profile = stand.coils[0].profile
    assert (profile.shape, profile.across / IN, profile.along / IN) == (
        "ovate",
        pytest.approx(0.21),
        pytest.approx(0.176),
    )
    radii = [radius for radius, _ in stand.coils[0].cuts]
    assert radii[0] == pytest.approx(0.635 * IN)
    assert radii[-1] == pytest.approx(0.475 * IN)
    assert radii == sorted(radii, reverse=True)


def test_steps_of_seat_and_retainer_place_the_inner_coil(shown: Show) -> None:
    job = pair(spring__coils__1__seat_step="0.060 in", spring__coils__1__retainer_step="0.050 in")
    closed = shown(job).items.stands.stands[1]
    inner = closed.coils[1]
    assert inner.cuts[0][1] == pytest.approx(0.06 * IN, abs=1e-9)
    assert inner.height == pytest.approx(1.74 * IN)
    alone = shown(job, "inner").items.stands
    assert alone.height("closed") == pytest.approx((1.85 - 0.11) * IN)


def test_a_damper_is_drawn_where_its_strip_is_stated(shown: Show) -> None:
    assert shown(pair(spring__damper__load="12 lbf")).items.stands.stands[1].strip is None
    job = pair(spring__damper__load="12 lbf", spring__damper__width="0.180 in", spring__damper__thickness="0.020 in")
    stands = shown(job).items.stands
    strip = stands.stands[1].strip
    assert strip is not None
    assert stands.profiles[1].outer < strip.radius < stands.profiles[0].inner


def test_a_coil_without_turns_is_not_drawn_and_says_what_it_waits_for(shown: Show) -> None:
    view = shown(pair(spring__coils__1__wire__diameter=None))
    assert [profile.name for profile in view.items.stands.profiles] == ["outer"]
    assert "inner is not drawn: it waits for" in view.items.sections.note
    assert "wire diameter" in view.items.sections.note


def test_the_drawing_is_to_scale_and_shares_its_heights_with_the_plot(shown: Show) -> None:
    view = shown(pair())
    drawing, plot = (each.getViewBox() for each in (view.view.drawing, view.view.plot))
    across, up = drawing.viewPixelSize()
    assert across == pytest.approx(up, rel=1e-6)
    for height in (0.5, 1.17, 1.85):
        points = [box.mapViewToScene(QPointF(box.viewRange()[0][0], height)).y() for box in (drawing, plot)]
        assert points[0] == pytest.approx(points[1], abs=1e-9)


@pytest.mark.parametrize("size", [(620, 290), (1240, 590), (360, 240)])
def test_everything_drawn_lies_within_the_drawing(shown: Show, size: tuple[int, int]) -> None:
    view = shown(pair())
    view.resize(*size)
    settle(view)
    (left, right), (low, high) = view.view.drawing.getViewBox().viewRange()
    layout = view.items.sections.layout
    assert layout is not None
    assert left < -layout.half_width / IN
    assert right > layout.half_width / IN
    assert low < 0
    assert high > 2.23
    assert view.view.plot.getViewBox().viewRange()[0][1] > view.items.lines.greatest / LBF


def test_each_height_is_dimensioned(shown: Show) -> None:
    view = shown(single())
    texts = [each.text for each in view.items.dimensions.dimensions]
    assert texts == ["2.230\u2009in", "1.850\u2009in", "1.272\u2009in", "1.170\u2009in"]


def test_without_a_lift_two_heights_fewer_are_drawn(shown: Show) -> None:
    view = shown(single(valve_gear__lobe_lift=None))
    assert [stand.state for stand in view.items.stands.stands] == ["free", "closed", "bind"]
    assert not any(line.isVisible() for line in view.items.levels["open"])


# The load lines


def test_the_lines_of_a_nest_add_up_where_each_is_known(shown: Show) -> None:
    readings = {
        f"spring__coils__{place}__readings": ({"height": "1.850 in", "load": low}, {"height": "1.300 in", "load": high})
        for place, (low, high) in enumerate((("100 lbf", "250 lbf"), ("50 lbf", "130 lbf")))
    }
    lines = shown(pair(spring__readings=(), spring__rate=None, **readings)).items.lines
    assert [each.name for each in lines.coils] == ["outer", "inner"]
    for height in (1.85, 1.5, 1.3):
        parts = [each.at(height * IN) for each in lines.coils]
        assert lines.whole_at(height * IN) == pytest.approx(sum(part or 0.0 for part in parts), rel=1e-6)
    assert lines.whole_at(1.85 * IN) == pytest.approx(150 * LBF, rel=1e-3)


def test_friction_opens_the_line_to_a_band(shown: Show) -> None:
    plain = shown(single())
    assert plain.items.lines.band_at(1.5 * IN) is None
    damped = shown(single(spring__damper__load="10 lbf")).items.lines
    load, band = damped.whole_at(1.5 * IN), damped.band_at(1.5 * IN)
    assert load is not None
    assert band == pytest.approx((load + 10 * LBF, load - 10 * LBF))


def test_friction_never_pulls(shown: Show) -> None:
    damped = shown(single(spring__damper__load="60 lbf")).items.lines
    band = damped.band_at(2.2 * IN)
    assert band is not None
    assert band[1] == 0.0


def test_a_beehive_carries_marks_where_its_turns_land(shown: Show) -> None:
    line = shown(beehive()).items.lines.coils[0]
    assert line.landings
    for height, load in line.landings:
        assert line.at(height) == pytest.approx(load, rel=2e-3)
    straight = shown(single()).items.lines.coils[0]
    assert straight.landings == ()


def test_a_stated_bind_height_ends_the_line(shown: Show) -> None:
    line = shown(beehive(spring__coils__0__bind_height="1.400 in")).items.lines.coils[0]
    assert line.heights[-1] == pytest.approx(1.4 * IN)
    assert all(height >= 1.4 * IN for height, _ in line.landings)
    assert line.at(1.39 * IN) is None


# Read-out and keys


def test_d40_keys_move_the_read_out_from_the_closed_height(shown: Show) -> None:
    view = shown(single())
    said: list[str] = []
    view.said.connect(said.append)
    view.view.setFocus()
    QTest.keyClick(view.view, Qt.Key.Key_Down)
    assert view.read_height == pytest.approx(1.849 * IN)
    QTest.keyClick(view.view, Qt.Key.Key_Down, Qt.KeyboardModifier.ShiftModifier)
    assert view.read_height == pytest.approx(1.839 * IN)
    assert said[-1].startswith("Height 1.839\u2009in, lift 0.011\u2009in, load 15")
    QTest.keyClick(view.view, Qt.Key.Key_C, Qt.KeyboardModifier.ControlModifier)
    assert QGuiApplication.clipboard().text() == said[-1]


def test_the_read_out_names_each_coil_and_the_friction(shown: Show) -> None:
    view = shown(pair(spring__damper__load="12 lbf"))
    said: list[str] = []
    view.said.connect(said.append)
    view.read_at(1.5 * IN)
    assert "outer" in said[-1]
    assert "inner" in said[-1]
    assert "loading" in said[-1]
    assert "unloading" in said[-1]


def test_d39_a_zoomed_picture_stays_until_reset(shown: Show) -> None:
    view = shown(single())
    box = view.view.plot.getViewBox()
    box.setYRange(1.0, 1.6, padding=0)
    box.sigRangeChangedManually.emit([True, True])
    view.session.set_field("spring.installed_height", "1.800 in")
    view.show_state(view.session.state, view.session.line, None)
    assert box.viewRange()[1] == pytest.approx([1.0, 1.6])
    view.session.set_style(Style.METRIC)
    view.show_state(view.session.state, view.session.line, None)
    assert box.viewRange()[1] == pytest.approx([25.4, 40.64])
    QTest.keyClick(view.view, Qt.Key.Key_Home)
    assert box.viewRange()[1][1] > 50


def test_d38_axes_name_quantity_and_unit_in_both_styles(shown: Show) -> None:
    view = shown(single())
    axes = (view.view.height_axis, view.view.lift_axis, view.view.load_axis)
    assert [axis.words for axis in axes] == ["spring height, in", "valve lift, in", "spring load, lbf"]
    view.session.set_style(Style.METRIC)
    view.show_state(view.session.state, view.session.line, None)
    assert [axis.words for axis in axes] == ["spring height, mm", "valve lift, mm", "spring load, N"]


def test_d26_the_picture_has_a_name_and_a_sentence(shown: Show) -> None:
    view = shown(pair())
    assert view.view.accessibleName() == "Coil picture"
    assert "free 2.230\u2009in" in view.view.accessibleDescription()
    assert "outer, inner" in view.view.accessibleDescription()


# On paper


def test_d42_the_picture_is_copied_and_saved(shown: Show, tmp_path: Path) -> None:
    view = shown(pair())
    size = view.view.size()
    view.copy_picture()
    assert QGuiApplication.clipboard().image().width() == 2125
    for ending, begin in ((".png", b"\x89PNG"), (".svg", b"<?xml"), (".pdf", b"%PDF"), (".csv", b"\xef\xbb\xbfcoil")):
        path = tmp_path / f"coil{ending}"
        view.save_picture_as(path)
        assert path.read_bytes().startswith(begin)
    assert view.view.size() == size


def test_d42_a_picture_that_cannot_be_written_is_told(shown: Show, tmp_path: Path) -> None:
    view = shown(single())
    failures: list[str] = []
    view.session.failed.connect(failures.append)
    view.save_picture_as(tmp_path / "not there" / "coil.png")
    assert len(failures) == 1


def test_d42_the_data_behind_are_the_lines(shown: Show) -> None:
    view = shown(single(spring__damper__load="10 lbf"))
    rows = list(csv.reader(io.StringIO(csv_of_lines(view.items.lines, Style.INCH_POUND))))
    assert rows[0] == ["coil", "kind", "height_in", "load_lbf", "loading_lbf", "unloading_lbf"]
    whole = [row for row in rows[1:] if row[0] == ""]
    assert whole
    for row in whole:
        assert float(row[4]) == pytest.approx(float(row[3]) + 10)


def test_paper_is_light_whatever_the_theme(shown: Show) -> None:
    view = shown(single())
    theme().choose(Choice.DARK)
    image = image_of(view, 96)
    assert image.pixelColor(2, 2).lightness() > 240
