"""Samples of a load line are kept while it stands and made anew with it; the drawn curve follows the units."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np
import pytest
from PySide6.QtGui import QGuiApplication

from loadbench.units import Style
from ui.app import demo_job
from ui.plots.bench_picture import BenchPicture
from ui.plots.curves import curves_of
from ui.session import Session

if TYPE_CHECKING:
    from pytestqt.qtbot import QtBot

    from ui.plots.curves import Curves


@pytest.fixture
def picture(qtbot: QtBot) -> BenchPicture:
    job = demo_job()
    assert job is not None
    made = BenchPicture(Session(job))
    qtbot.addWidget(made)
    made.resize(640, 560)
    made.show()
    QGuiApplication.processEvents()
    return made


def of(picture: BenchPicture) -> Curves:
    found = curves_of(picture.session.state.analysis.line(picture.session.line))
    assert found is not None
    return found


def test_an_edit_of_the_height_keeps_the_samples_and_another_reading_does_not(picture: BenchPicture) -> None:
    before, drawn = of(picture), picture.items.inside.loads
    picture.session.set_field("spring.installed_height", "1.820 in")
    assert of(picture) is before
    assert picture.items.inside.loads is drawn
    picture.session.set_field("spring.readings.0.load", "151 lbf")
    assert of(picture) is not before
    assert not np.allclose(picture.items.inside.loads, drawn, equal_nan=True)


def test_a_taller_height_and_a_less_certain_one_are_sampled_anew(picture: BenchPicture) -> None:
    before = of(picture)
    picture.session.set_field("spring.installed_height", "1.990 in")
    assert of(picture).heights[-1] > before.heights[-1]
    assert picture.items.inside.heights[-1] == pytest.approx(of(picture).heights[-1] / 0.0254)
    before = of(picture)
    picture.session.set_field("instruments.installed_height", "0.020 in")
    band, earlier = of(picture).band, before.band
    assert band is not None
    assert earlier is not None
    assert (band > earlier).all()


def test_other_units_and_another_line_are_drawn_anew(picture: BenchPicture) -> None:
    loads = picture.items.inside.loads
    picture.session.set_style(Style.METRIC)
    assert picture.items.inside.loads == pytest.approx(loads * 4.4482216, nan_ok=True)
    picture.session.set_field("lines.exhaust.spring.installed_height", "1.990 in")
    picture.session.choose_line("exhaust")
    assert picture.items.inside.heights[-1] > picture.items.other.heights[-1]


def test_a_level_line_reaches_over_the_view_after_zoom_and_move(picture: BenchPicture) -> None:
    line = picture.levels.lines["closed"][1]
    for low, high in ((0.0, 2.5), (1.5, 2.0)):
        picture.view.plot.getViewBox().setXRange(10.0, 40.0 * high, padding=0)
        picture.view.drawing.getViewBox().setYRange(low, high, padding=0)
        for height in (1.6, 1.9):
            line.show_at(height)
            box = line.boundingRect()
            assert (box.left(), box.right()) == pytest.approx((10.0, 40.0 * high))
            pixel = (high - low) / picture.view.plot.getViewBox().height()
            assert box.height() / 2 == pytest.approx(2.3 * pixel)
            assert line.mapRectToParent(box).center().y() == pytest.approx(height)
