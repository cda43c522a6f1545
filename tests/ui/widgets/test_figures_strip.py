"""The strip's figures and the reasons behind them."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

import pytest
from PySide6.QtCore import Qt
from PySide6.QtGui import QFont, QGuiApplication, QImage, QRegion

from loadbench.job.model import Job
from loadbench.units import Style
from ui.session import Session
from ui.widgets.figure_button import FigureButton
from ui.widgets.figures_strip import FiguresStrip
from ui.widgets.link import Link
from ui.widgets.wrapped_label import WrappedLabel

if TYPE_CHECKING:
    from collections.abc import Iterator

    from pytestqt.qtbot import QtBot

JOB = Job.model_validate(
    {
        "title": "invented",
        "units": "inch-pound",
        "tester": {"load_accuracy_percent": 1.0, "load_repeatability": "0.5 lbf"},
        "spring": {
            "installed_height": "1.800 in",
            "readings": ({"height": "1.8 in", "load": "150 lbf"}, {"height": "1.3 in", "load": "350 lbf"}),
        },
        "valve_gear": {
            "rocker_ratio": 1.5,
            "lobe_lift": "0.350 in",
            "lash": "0.015 in",
            "retainer_to_seal": "0.700 in",
        },
        "follower": {"family": "roller-solid"},
        "lines": {"exhaust": {"valve_gear": {"lobe_lift": "0.360 in"}}},
    }
)


@pytest.fixture
def strip(qtbot: QtBot) -> Iterator[FiguresStrip]:
    made = FiguresStrip(Session(JOB))
    qtbot.addWidget(made)
    made.resize(1264, 90)
    made.show()
    yield made
    if made.pane is not None:
        made.pane.close()


def button(strip: FiguresStrip, name: str) -> FigureButton:
    return next(each for each in strip.buttons if each.figure.name == name)


def test_values_are_those_of_the_line_on_show(strip: FiguresStrip) -> None:
    assert str(button(strip, "seat_load").figure.told).startswith("150")
    # by hand: 1.5 x 0.350 - 0.015 = 0.510 in; 0.700 - 0.510 = 0.190 in; exhaust 0.175 in
    assert button(strip, "retainer_margin").figure.told.number == "0.190"  # type: ignore[union-attr]
    assert button(strip, "retainer_margin").figure.line_note == "Exhaust is worse"
    strip.session.choose_line("exhaust")
    assert button(strip, "retainer_margin").figure.told.number == "0.175"  # type: ignore[union-attr]
    assert button(strip, "retainer_margin").figure.line_note == "Exhaust, the worse"
    assert button(strip, "seat_load").figure.line_note == "lines alike"


def test_the_other_form_of_the_clearance_follows_the_follower(strip: FiguresStrip) -> None:
    assert button(strip, "bind_margin_zero_lash")
    strip.session.set_field("follower.family", "roller-hydraulic")
    assert button(strip, "bind_margin_pumped_up")


def test_d26_an_unknown_figure_says_what_it_waits_for(strip: FiguresStrip) -> None:
    unknown = button(strip, "bind_margin")
    assert unknown.figure.told is None
    assert unknown.accessibleName() == "Bind margin, unknown"
    assert "Waits for: bind height" in unknown.accessibleDescription()
    assert "Waits for: bind height" in unknown.toolTip()
    strip.session.set_field("spring.bind_height", "1.100 in")
    assert "in" in button(strip, "bind_margin").accessibleName()


def test_d26_a_figure_is_told_with_its_unit_and_uncertainty(strip: FiguresStrip) -> None:
    name = button(strip, "open_load").accessibleName()
    assert "lbf" in name
    assert "\u00b1" in name
    strip.session.set_style(Style.METRIC)
    assert button(strip, "open_load").accessibleName().endswith("N")


@pytest.mark.parametrize(("width", "rows"), [(1264, 1), (1008, 2), (400, 5)])
def test_d20_the_strip_takes_as_many_rows_as_it_needs(strip: FiguresStrip, width: int, rows: int) -> None:
    strip.resize(width, 90)
    QGuiApplication.processEvents()
    columns = -(-len(strip.buttons) // rows)
    assert strip._columns <= columns
    assert strip.minimumSizeHint().width() <= 400
    for each in strip.buttons:
        assert each.width() >= min(each.needed_width(), width // columns - 8)


def test_pointing_at_a_button_points_everywhere(strip: FiguresStrip) -> None:
    first = strip.buttons[0]
    strip.buttons[1].setFocus()
    assert strip.session.pointing.figures == (strip.buttons[1].figure.name,)
    assert strip.buttons[1]._lit
    assert not first._lit


def test_a_button_opens_the_formula_with_this_jobs_numbers(strip: FiguresStrip, qtbot: QtBot) -> None:
    qtbot.mouseClick(button(strip, "retainer_margin"), Qt.MouseButton.LeftButton)
    assert strip.pane is not None
    text = strip.pane.text().replace("\u2009", " ")
    assert "margin = seal \u2212 L" in text
    assert "0.700 in \u2212 0.510 in = 0.190 in" in text
    assert "own derivation" in text
    strip.session.set_field("valve_gear.retainer_to_seal", "0.650 in")
    assert "0.650 in \u2212 0.510 in = 0.140 in" in strip.pane.text().replace("\u2009", " ")


def test_an_input_leads_to_its_field_or_its_own_formula_and_back(strip: FiguresStrip, qtbot: QtBot) -> None:
    pane = strip.open_formula("retainer_margin")
    links = {link.text(): link for link in pane.findChildren(Link) if not link.isHidden()}
    with qtbot.waitSignal(strip.field_wanted) as wanted:
        links["Retainer to seal, closed"].click()
    assert wanted.args == ["valve_gear.retainer_to_seal"]
    links["Net valve lift"].click()
    assert pane.name == "net_valve_lift"
    pane.back.click()
    assert pane.name == "retainer_margin"
    assert not pane.back.isEnabled()


def test_the_uncertainty_says_what_it_is_made_of_as_typed(strip: FiguresStrip) -> None:
    text = strip.open_formula("seat_load").text().replace("\u2009", " ")
    assert "k = 2" in text
    assert "0.5 lbf" in text
    assert "1 %" in text
    assert "EN 13906-1" in text


@pytest.mark.parametrize("figure", ["seat_load", "rate"])
def test_a_formula_breaks_at_no_unit_and_is_copied_without_joiners(strip: FiguresStrip, figure: str) -> None:
    pane = strip.open_formula(figure)
    shown = " ".join(label.text() for label in pane.findChildren(WrappedLabel))
    assert "lbf/\u2060in" in shown
    assert "lbf/in" not in shown
    assert "\u00b1 " not in shown
    assert "\u2060" not in pane.text()
    assert "lbf/in" in pane.text()


def test_a_figure_without_uncertainty_says_why(strip: FiguresStrip) -> None:
    assert "None is given" in strip.open_formula("retainer_margin").text()


def test_an_unknown_figure_opens_too(strip: FiguresStrip) -> None:
    pane = strip.open_formula("bind_margin")
    assert "Waits for: bind height" in pane.text()


def test_the_reason_is_copied_as_text(strip: FiguresStrip, qtbot: QtBot) -> None:
    pane = strip.open_formula("seat_load")
    with qtbot.waitSignal(strip.session.announced):
        pane.copy_button.click()
    assert QGuiApplication.clipboard().text() == pane.text()


@pytest.mark.parametrize("wide", [40, 90, 120, 300])
@pytest.mark.parametrize("tall", [30, 0])
def test_what_an_edit_leaves_unpainted_stands_as_it_should(strip: FiguresStrip, wide: int, tall: int) -> None:
    figure = replace(strip.buttons[1].figure, label="Jumpy gap, pumped up", line_note="Gap yet to judge")
    button = FigureButton(figure, strip)  # letters that reach down to the line of the value
    button.resize(wide, tall or button.sizeHint().height())
    kept = image_of(button)
    strip.session.set_field("spring.installed_height", "1.745 in")
    other = strip.buttons[1].figure.told
    assert other != figure.told
    button.show_figure(replace(figure, told=other))
    value = button._places().value
    button.render(kept, value.topLeft(), QRegion(value))  # what an edit asks to be painted, over what stood there
    assert kept == image_of(button)


def test_a_button_is_placed_anew_for_other_units_fonts_and_sizes(strip: FiguresStrip, qtbot: QtBot) -> None:
    strip.show()
    button = next(each for each in strip.buttons if each.figure.name == "seat_load")
    font = QFont(button.font())
    font.setPointSizeF(1.2 * font.pointSizeF())
    for change in (
        lambda: strip.session.set_style(Style.METRIC),
        lambda: button.setFont(font),
        lambda: button.resize(button.width() + 9, button.height() + 5),
        lambda: strip.session.set_field("spring.installed_height", "1.790 in"),
    ):
        before = image_of(button)
        change()
        fresh = FigureButton(button.figure)
        qtbot.addWidget(fresh)
        fresh.setFont(button.font())
        fresh.resize(button.size())
        assert image_of(fresh) == image_of(button) != before
        assert fresh.needed_width() == button.needed_width()


def image_of(button: FigureButton) -> QImage:
    return button.grab().toImage().convertToFormat(QImage.Format.Format_RGB32)
