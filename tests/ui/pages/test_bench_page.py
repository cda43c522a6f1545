"""The bench picture: one height scale, handles, read-out, pointing, export, what it says when something is missing."""

from __future__ import annotations

import csv
import io
from collections.abc import Iterator
from pathlib import Path
from typing import TYPE_CHECKING, Any

import pytest
from PySide6.QtCore import QEvent, QPoint, QPointF, Qt
from PySide6.QtGui import QAccessible, QFont, QFontMetricsF, QGuiApplication, QMouseEvent
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QLineEdit, QPushButton, QWidget

import loadbench
from loadbench.fitup.moves import Way
from loadbench.job.edits import replaced_all
from loadbench.job.files import open_job
from loadbench.job.model import Job
from loadbench.units import Style
from ui.pages.bench_page import BenchPage
from ui.plots.export import bytes_of, csv_of, image_of
from ui.session import Session
from ui.state import Pointing
from ui.theme import Choice, theme

if TYPE_CHECKING:
    from pytestqt.qtbot import QtBot

IN = 0.0254
SAMPLES = Path(loadbench.__file__).parent.parent / "samples"
EXTRA: dict[str, Any] = {"lines.exhaust": None, "spring.installed_height": None}


def demo(**more: Any) -> Job:
    """The short-travel demo job with one common line, stated by bare height and shims."""
    opened = open_job(SAMPLES / "short-travel-hydraulic-roller.loadbench.json")
    job = opened if isinstance(opened, Job) else opened.job
    return replaced_all(job, EXTRA | {name.replace("__", "."): value for name, value in more.items()})


@pytest.fixture
def page(qtbot: QtBot) -> Iterator[BenchPage]:
    yield shown(qtbot, demo())
    theme().choose(Choice.LIGHT)


def shown(qtbot: QtBot, job: Job) -> BenchPage:
    made = BenchPage(Session(job))
    qtbot.addWidget(made)
    made.resize(660, 620)
    made.show()
    made.activateWindow()
    settle(made)
    return made


def settle(page: BenchPage) -> None:
    for _ in range(3):
        QApplication.processEvents()
        page.grab()


def height_of(page: BenchPage) -> float:
    return page.session.state.analysis.value("installed_height") or 0.0


def drag(page: BenchPage, name: str, pixels: int, *, steps: int = 4) -> None:
    """Drag a grip with the mouse; it moves along, so places are taken on the screen."""
    grip = page.picture.grips[name]
    start = grip.mapToGlobal(QPoint(12, 12))
    QTest.mousePress(grip, Qt.MouseButton.LeftButton, pos=QPoint(12, 12))
    for step in range(1, steps + 1):
        send_move(grip, start + QPoint(0, pixels * step // steps))
        QTest.qWait(25)
    QTest.mouseRelease(grip, Qt.MouseButton.LeftButton, pos=QPoint(12, 12))


def send_move(widget: QWidget, at: QPoint) -> None:
    """A mouse move with the left button held."""
    left, none = Qt.MouseButton.LeftButton, Qt.KeyboardModifier.NoModifier
    local = QPointF(widget.mapFromGlobal(at))
    event = QMouseEvent(QEvent.Type.MouseMove, local, QPointF(at), Qt.MouseButton.NoButton, left, none)
    QApplication.sendEvent(widget, event)


# One height scale


def test_both_views_stand_on_one_height_scale(page: BenchPage) -> None:
    view = page.picture.view
    drawing, plot = (each.getViewBox() for each in (view.drawing, view.plot))
    for height in (0.5, 1.17, 1.85):
        points = [box.mapViewToScene(QPointF(box.viewRange()[0][0], height)).y() for box in (drawing, plot)]
        assert points[0] == pytest.approx(points[1], abs=1e-9)
    assert drawing.viewRange()[1] == pytest.approx(plot.viewRange()[1], abs=1e-15)


@pytest.mark.parametrize("size", [(660, 620), (1288, 850), (420, 480)])
def test_the_drawing_is_to_scale_both_ways(page: BenchPage, size: tuple[int, int]) -> None:
    page.resize(*size)
    settle(page)
    across, up = page.picture.view.drawing.getViewBox().viewPixelSize()
    assert across == pytest.approx(up, rel=1e-6)


def test_what_must_be_seen_is_seen(page: BenchPage) -> None:
    view = page.picture.view
    low, high = view.drawing.getViewBox().viewRange()[1]
    left, right = view.drawing.getViewBox().viewRange()[0]
    section = page.picture.items.section
    assert section is not None
    assert low < -0.1
    assert high > 1.85 * 1.15
    assert left < -section.radius / IN
    assert right > section.radius / IN
    assert view.plot.getViewBox().viewRange()[0][1] > 420


def test_d38_axes_name_quantity_and_unit_in_both_styles(page: BenchPage) -> None:
    view = page.picture.view
    axes = (view.height_axis, view.lift_axis, view.load_axis)
    assert [axis.words for axis in axes] == ["spring height, in", "valve lift, in", "spring load, lbf"]
    before = page.session.job
    page.session.set_style(Style.METRIC)
    settle(page)
    assert [axis.words for axis in axes] == ["spring height, mm", "valve lift, mm", "spring load, N"]
    assert not any(axis.autoSIPrefix for axis in axes)
    assert page.session.job is before


def test_the_lift_axis_counts_down_from_closed(page: BenchPage) -> None:
    axis = page.picture.view.lift_axis
    ticks = [value for _, values in axis.tickValues(0.9, 2.1, 400) for value in values]
    assert min(ticks) >= 1.17 - 1e-9
    assert max(ticks) == pytest.approx(1.85)
    assert axis.tickStrings([1.85, 1.35], 1.0, 0.5) == ["0", "0.5"]


# Handles


def test_d06_dragging_the_closed_line_is_one_step_by_shims(page: BenchPage) -> None:
    session = page.session
    seen: list[float] = []
    session.changed.connect(lambda state: seen.append(state.analysis.value("installed_height")))
    down = round(0.030 / page.picture.view.height_per_pixel())
    drag(page, "closed", down)
    assert session.undo_stack.count() == 1
    assert session.undo_stack.undoText() == "set installed height by shims"
    assert height_of(page) == pytest.approx((1.85 - down * page.picture.view.height_per_pixel()) * IN, abs=0.0006 * IN)
    assert all(shim.endswith(" in") for shim in session.job.spring.shims)
    assert len(set(seen)) > 1  # live, not only at the end
    session.undo_stack.undo()
    assert session.job.spring.shims == ("0.030 in",)


def test_more_height_than_bare_stops_and_says_what_is_wanting(page: BenchPage) -> None:
    handle = page.picture.height_handle
    handle.take()
    handle.pull(1.892 * IN)
    assert page.read_out.text() == "Needs 0.012 in more: cut the seat, other locks or retainer, or a longer valve."
    handle.release()
    assert height_of(page) == pytest.approx(1.880 * IN)


def test_escape_puts_a_drag_back(page: BenchPage) -> None:
    handle, before = page.picture.height_handle, page.session.job
    handle.take()
    handle.pull(1.80 * IN)
    QTest.qWait(30)
    assert height_of(page) == pytest.approx(1.80 * IN)
    handle.release(meant=False)
    assert page.session.job is before
    assert height_of(page) == pytest.approx(1.85 * IN)
    assert page.session.undo_stack.count() == 0


def test_d24_arrow_keys_move_the_closed_line(page: BenchPage) -> None:
    grip = page.picture.grips["closed"]
    grip.setFocus()
    for _ in range(3):
        QTest.keyClick(grip, Qt.Key.Key_Down)
    assert height_of(page) == pytest.approx(1.847 * IN)
    QTest.keyClick(grip, Qt.Key.Key_Up, Qt.KeyboardModifier.ShiftModifier)
    assert height_of(page) == pytest.approx(1.857 * IN)
    assert page.session.undo_stack.count() == 1


def test_d06_keys_back_to_the_start_leave_no_step(page: BenchPage) -> None:
    grip = page.picture.grips["closed"]
    grip.setFocus()
    QTest.keyClick(grip, Qt.Key.Key_Down)
    QTest.keyClick(grip, Qt.Key.Key_Up)
    assert page.session.job.spring.shims == ("0.030 in",)
    assert page.session.undo_stack.count() == 0


def test_keys_after_an_undo_start_from_there(page: BenchPage) -> None:
    grip = page.picture.grips["closed"]
    QTest.keyClick(grip, Qt.Key.Key_Down)
    page.session.undo_stack.undo()
    QTest.keyClick(grip, Qt.Key.Key_Down, Qt.KeyboardModifier.ShiftModifier)
    assert height_of(page) == pytest.approx(1.84 * IN)


def test_d24_the_full_lift_line_moves_the_lobe_lift(page: BenchPage) -> None:
    grip = page.picture.grips["open"]
    QTest.keyClick(grip, Qt.Key.Key_Down, Qt.KeyboardModifier.ShiftModifier)
    assert page.session.job.valve_gear.lobe_lift == "0.346 in"
    assert page.session.undo_stack.undoText() == "set lobe lift"
    drag(page, "open", -40)
    assert page.session.undo_stack.count() == 2
    assert page.session.state.analysis.value("net_valve_lift") < 0.578 * IN


def test_another_way_moves_what_goes_with_it(page: BenchPage) -> None:
    page.ways.setCurrentIndex(page.ways.findData(str(Way.RETAINER)))
    QTest.keyClick(page.picture.grips["closed"], Qt.Key.Key_Up, Qt.KeyboardModifier.ShiftModifier)
    assert page.session.job.spring.bare_height == "1.890 in"
    assert page.session.job.valve_gear.retainer_to_seal == "0.660 in"
    assert page.session.job.spring.shims == ("0.030 in",)


def test_the_grip_itself_offers_the_ways(page: BenchPage) -> None:
    grip = page.picture.grips["closed"]
    offered = [action.data() for action in grip.actions() if action.isCheckable()]
    assert offered == [str(way) for way in Way]
    next(action for action in grip.actions() if action.data() == str(Way.STEM)).trigger()
    assert page.ways.currentData() == str(Way.STEM)
    assert page.picture.height_handle.way is Way.STEM


def test_a_lash_cap_moves_the_tip_only(page: BenchPage) -> None:
    page.session.set_field("follower.family", "roller-solid")
    page.session.set_field("valve_gear.lash", "0.016 in")
    page.fit_lash_cap("0.010")
    assert page.session.job.valve_gear.lash == "0.006 in"
    assert height_of(page) == pytest.approx(1.85 * IN)
    page.fit_lash_cap("nonsense")
    assert "nonsense" in page.read_out.text()
    page.fit_lash_cap("0.090 in")
    assert "lash" in page.read_out.text()
    assert page.session.job.valve_gear.lash == "0.006 in"
    assert page.session.undo_stack.count() == 3


def test_a_line_in_the_plot_can_be_dragged_itself(page: BenchPage) -> None:
    view = page.picture.view
    line, unit = page.picture.levels.lines["closed"][1], view.height_per_pixel()
    box = view.plot.getViewBox()
    start = view.mapFromScene(box.mapViewToScene(QPointF(400, line.value())))
    port = view.viewport()
    QTest.mouseMove(port, start)
    QTest.mousePress(port, Qt.MouseButton.LeftButton, pos=start)
    for step in range(1, 6):
        send_move(port, port.mapToGlobal(start + QPoint(0, 4 * step)))
        QTest.qWait(25)
    assert line.value() < 1.85 - 10 * unit
    QTest.mouseRelease(port, Qt.MouseButton.LeftButton, pos=start + QPoint(0, 20))
    assert height_of(page) == pytest.approx((1.85 - 20 * unit) * IN, abs=2 * unit * IN)
    assert page.session.undo_stack.count() == 1


def test_in_metric_the_handle_writes_millimetres(page: BenchPage) -> None:
    page.session.set_style(Style.METRIC)
    QTest.keyClick(page.picture.grips["closed"], Qt.Key.Key_Down)
    assert page.session.job.spring.shims[0].endswith(" mm")


def test_d25_grips_are_large_enough(page: BenchPage) -> None:
    for grip in page.picture.grips.values():
        assert grip.width() >= 24
        assert grip.height() >= 24


# Ranges


def test_d39_a_zoomed_plot_stays_where_it_is_until_reset(page: BenchPage) -> None:
    view = page.picture.view
    box = view.plot.getViewBox()
    box.setYRange(1.0, 1.6, padding=0)
    box.sigRangeChangedManually.emit([True, True])
    before = box.viewRange()
    page.session.set_field("spring.shims", ("0.090 in",))
    page.session.set_field("valve_gear.lobe_lift", "0.300 in")
    assert box.viewRange() == before
    page.session.set_style(Style.METRIC)
    assert box.viewRange()[1] == pytest.approx([25.4, 40.64])
    page.reset_button.click()
    assert box.viewRange()[1][1] > 50


@pytest.mark.parametrize("how", ["key", "double", "command"])
def test_d39_reset_by_key_double_click_and_command(page: BenchPage, how: str) -> None:
    view = page.picture.view
    whole = view.plot.getViewBox().viewRange()
    view.plot.getViewBox().setYRange(1.0, 1.6, padding=0)
    view.zoomed = True
    if how == "key":
        QTest.keyClick(view, Qt.Key.Key_Home)
    elif how == "double":
        QTest.mouseDClick(view.viewport(), Qt.MouseButton.LeftButton, pos=QPoint(500, 500))
    else:
        page.reset_view()
    assert view.plot.getViewBox().viewRange() == whole


def test_small_edits_do_not_move_the_ground(page: BenchPage) -> None:
    before = page.picture.view.plot.getViewBox().viewRange()
    page.session.set_field("spring.shims", ("0.035 in",))
    assert page.picture.view.plot.getViewBox().viewRange() == before


# Read-out


def test_d40_arrow_keys_read_height_lift_load_and_rate(page: BenchPage) -> None:
    view = page.picture.view
    QTest.keyClick(view, Qt.Key.Key_Down, Qt.KeyboardModifier.ShiftModifier)
    text = page.read_out.text().replace("\u2009", " ")
    assert text.startswith("Height 1.840 in, lift 0.010 in, load ")
    assert " lbf, rate " in text
    assert text.endswith("lbf/in")
    QTest.keyClick(view, Qt.Key.Key_Up)
    assert "1.841" in page.read_out.text()
    assert page.picture.items.cross.at is not None


def test_d40_the_read_out_is_copied(page: BenchPage) -> None:
    QTest.keyClick(page.picture.view, Qt.Key.Key_Down)
    QTest.keyClick(page.picture.view, Qt.Key.Key_C, Qt.KeyboardModifier.ControlModifier)
    assert QGuiApplication.clipboard().text() == page.read_out.text()


def test_d40_the_pointer_reads_too_and_beyond_the_readings_is_said(page: BenchPage) -> None:
    box = page.picture.view.plot.getViewBox()
    page.picture.view.scene().sigMouseMoved.emit(box.mapViewToScene(QPointF(200, 1.5)))
    assert page.read_out.text().replace("\u2009", " ").startswith("Height 1.5")
    page.picture.read_at(1.2 * IN)
    assert page.read_out.text().endswith("(beyond the readings)")


# Pointing


def test_pointing_lights_up_its_dimension_and_its_limits(page: BenchPage) -> None:
    items = page.picture.items
    page.session.point_at(Pointing(figures=("bind_margin",), member="inner"))
    lit = {(each.figure, each.member) for each in items.dimensions.dimensions if items.dimensions.is_lit(each)}
    assert lit == {("bind_margin", "inner")}
    page.session.point_at(Pointing(fields=("valve_gear.retainer_to_seal",), rule="short-travel-max"))
    lit = {(each.figure, each.member) for each in items.dimensions.dimensions if items.dimensions.is_lit(each)}
    assert lit == {("retainer_margin", None)}
    assert items.limits.lit == "short-travel-max"
    page.session.point_at(Pointing(figures=("open_load",)))
    assert items.labels.lit == frozenset({"open"})


def test_clicking_a_dimension_points_at_its_figure(page: BenchPage) -> None:
    section = page.picture.items.section
    assert section is not None
    found = []
    page.session.pointed.connect(found.append)
    left = page.picture.view.drawing.getViewBox()
    for dimension in page.picture.items.dimensions.dimensions:
        box = next(box for box, each in page.picture.items.dimensions._boxes if each is dimension)
        across, up = left.viewPixelSize()
        assert box.width() / across >= 23.9
        assert box.height() / up >= 23.9
        page.picture.view.clicked.emit(False, box.center().x(), box.center().y())
    assert {figure for each in found for figure in each.figures} >= {"installed_height", "retainer_margin"}


# What it says


def test_d26_every_part_that_takes_the_focus_has_a_name(page: BenchPage) -> None:
    for widget in page.findChildren(QWidget):
        if (
            widget.focusPolicy() != Qt.FocusPolicy.NoFocus
            and widget.isVisible()
            and "viewport" not in widget.objectName()
        ):
            told = QAccessible.queryAccessibleInterface(widget)
            assert told.text(QAccessible.Text.Name) or widget.accessibleName(), widget
    assert page.picture.view.accessibleName() == "Bench picture"
    text = page.picture.view.accessibleDescription().replace("\u2009", " ")
    assert text.count(". ") == 0
    assert "closed at 1.85" in text
    assert "±" in page.picture.grips["closed"].accessibleDescription()


def test_d23_the_focus_goes_through_in_reading_order(page: BenchPage) -> None:
    page.ways.setFocus()
    seen = []
    for _ in range(5):
        seen.append(QApplication.focusWidget().objectName())
        QTest.keyClick(QApplication.focusWidget(), Qt.Key.Key_Tab)
    assert seen == ["height_way", "reset_view_button", "closed_handle", "open_handle", "bench_picture"]


def test_the_key_tells_margins_with_word_and_chance(page: BenchPage) -> None:
    rows = [text.replace("\u2009", " ") for text, _ in page.picture.items.key.rows]
    assert any(text.startswith("Coil clearance, outer") and text.endswith(": clear") for text in rows)
    page.session.set_field("valve_gear.lobe_lift", "0.366 in")
    rows = [text.replace("\u2009", " ") for text, _ in page.picture.items.key.rows]
    assert any(text.endswith((": watch", ": stop")) for text in rows)
    assert any(text.startswith("chance of under") and text.endswith("%") for text in rows)


def test_loads_stand_at_their_lines_with_uncertainty(page: BenchPage) -> None:
    texts = {label.name: label.texts[0].replace("\u2009", " ") for label in page.picture.items.labels.labels}
    assert texts["closed"].startswith("closed  15")
    assert "±" in texts["open"]
    assert texts["open"].endswith("lbf")


def test_the_other_line_is_drawn_in_quiet(qtbot: QtBot) -> None:
    both = replaced_all(
        demo(),
        {
            "lines.exhaust.spring.readings": (
                {"height": "1.850 in", "load": "140 lbf"},
                {"height": "1.300 in", "load": "350 lbf"},
            )
        },
    )
    page = shown(qtbot, both)
    assert set(page.picture.items.curves) == {"intake", "exhaust"}
    assert len(page.picture.items.other.loads) > 2
    before = page.picture.items.labels.labels
    page.session.choose_line("exhaust")
    assert page.picture.items.labels.labels != before


def test_d29_without_a_height_it_says_so_and_leads_to_the_field(qtbot: QtBot) -> None:
    job = Job(title="empty", units="inch-pound")
    page = shown(qtbot, job)
    assert page.waiting.needs.isVisible()
    assert "installed height" in page.waiting.needs.text()
    buttons = [button for button in page.findChildren(QPushButton) if button.isVisible()]
    assert buttons == [page.waiting.button]
    field = QLineEdit(page)
    field.setProperty("field", "spring.installed_height")
    field.show()
    page.waiting.button.click()
    assert field.hasFocus()
    page.session.set_field("spring.installed_height", "1.900")
    assert page.picture.isVisible()
    assert page.needs.isVisible()
    assert "lobe lift" in page.needs.text().lower()


def test_a_faulty_job_is_drawn_as_far_as_it_goes(qtbot: QtBot) -> None:
    page = shown(qtbot, demo(valve_gear__lobe_lift="x", valve_gear__retainer_to_seal="y"))
    assert page.picture.items.section is not None
    assert not page.picture.grips["open"].isVisible()
    page.session.set_field("spring.readings", ())
    page.session.set_field("spring.coils", ())
    page.session.set_field("spring.rate", None)
    settle(page)
    assert page.picture.items.readings.series == ()


@pytest.mark.parametrize("name", sorted(file.name for file in SAMPLES.glob("*.loadbench.json")))
@pytest.mark.parametrize("style", list(Style))
def test_every_sample_is_drawn_in_both_themes(qtbot: QtBot, name: str, style: Style) -> None:
    opened = open_job(SAMPLES / name)
    page = shown(qtbot, opened if isinstance(opened, Job) else opened.job)
    page.session.set_style(style)
    theme().choose(Choice.DARK)
    settle(page)
    dark = page.grab().toImage().pixelColor(5, 300).lightness()
    theme().choose(Choice.LIGHT)
    settle(page)
    assert dark < 80
    assert page.grab().toImage().pixelColor(5, 300).lightness() > 200


def test_d20_it_fits_beside_both_panels(page: BenchPage) -> None:
    assert page.minimumSizeHint().width() <= 1024 - 300 - 240
    assert page.minimumSizeHint().height() <= 640 - 180


def test_words_that_do_not_fit_are_told_shorter(page: BenchPage) -> None:
    labels = {label.name: label.texts for label in page.picture.items.labels.labels}
    assert [len(texts) for texts in labels.values()] == [3, 3, 2]
    for texts in labels.values():
        assert list(texts) == sorted(texts, key=len, reverse=True)


def test_what_a_handle_says_is_announced_once(page: BenchPage) -> None:
    heard: list[str] = []
    page.session.announced.connect(heard.append)
    handle = page.picture.height_handle
    handle.take()
    for _ in range(3):
        handle.pull(1.892 * IN)
    handle.release(meant=False)
    assert len(heard) == 1


def test_d19_d21_a_larger_font_cuts_nothing(qtbot: QtBot, qapp: QApplication) -> None:
    before = qapp.font()
    larger = QFont(before)
    larger.setPointSizeF(1.5 * before.pointSizeF())
    qapp.setFont(larger)
    try:
        page = shown(qtbot, demo())
        view = page.picture.view
        drawing, plot = (each.getViewBox().sceneBoundingRect() for each in (view.drawing, view.plot))
        assert (drawing.top(), drawing.bottom()) == (plot.top(), plot.bottom())
        wide = QFontMetricsF(view.height_axis.style["tickFont"]).horizontalAdvance("-0.5")
        assert wide < view.height_axis.width() - 20
        assert page.reset_button.sizeHint().width() <= page.reset_button.width()
    finally:
        qapp.setFont(before)


# Export


def test_d42_png_at_300_dpi(page: BenchPage) -> None:
    image = image_of(page.picture)
    assert image.width() == 2125
    assert round(image.dotsPerMeterX() * 0.0254) == 300
    colours = {image.pixelColor(x, y).name() for x in range(0, 2125, 7) for y in range(0, 1594, 7)}
    assert len(colours) > 10
    assert bytes_of(page.picture, ".png", "t")[:4] == b"\x89PNG"
    assert page.picture.view.width() > 600  # its own size again


def test_d42_svg_and_pdf_hold_text(page: BenchPage) -> None:
    svg = bytes_of(page.picture, ".svg", "<b>t</b>").decode()
    assert "<b>t" not in svg
    assert "spring load, lbf" in svg
    assert "closed  15" in svg.replace("\u2009", " ")
    pdf = bytes_of(page.picture, ".pdf", "t")
    assert pdf[:5] == b"%PDF-"
    assert len(pdf) > 10_000


def test_d42_csv_of_the_data_behind(page: BenchPage) -> None:
    rows = list(csv.DictReader(io.StringIO(csv_of(page.session.state.analysis, Style.INCH_POUND))))
    reading = [row for row in rows if row["kind"] == "reading"]
    told = sorted((round(float(row["height_in"]), 6), round(float(row["load_lbf"]), 6)) for row in reading)
    assert told == [(1.3, 381), (1.55, 279), (1.85, 152)]
    line = page.session.state.analysis.lines[0].load_line
    assert line is not None
    row = next(row for row in rows if row["kind"] == "line")
    wanted = float(line.load(float(row["height_in"]) * IN)) / 4.4482216152605
    assert float(row["load_lbf"]) == pytest.approx(wanted, rel=1e-6)
    assert float(row["lift_in"]) == pytest.approx(1.85 - float(row["height_in"]))


@pytest.mark.parametrize("ending", [".png", ".svg", ".pdf", ".csv"])
def test_d42_saved_in_the_format_of_the_name(page: BenchPage, tmp_path: Path, ending: str) -> None:
    page.save_picture_as(tmp_path / f"p{ending}")
    assert (tmp_path / f"p{ending}").stat().st_size > 1000


def test_d42_the_picture_is_copied(page: BenchPage) -> None:
    page.copy_picture()
    assert QGuiApplication.clipboard().image().width() == 2125


def test_an_export_in_the_dark_is_on_light_paper(page: BenchPage) -> None:
    theme().choose(Choice.DARK)
    assert image_of(page.picture).pixelColor(3, 3).lightness() > 200
    settle(page)
    assert page.picture.view.grab().toImage().pixelColor(3, 3).lightness() < 80
