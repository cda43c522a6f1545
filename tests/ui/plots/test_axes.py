"""The lift axis places its marks itself: where the stock axis would place the same ones."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import pyqtgraph as pg
import pytest
from PySide6.QtGui import QFont, QGuiApplication, QPainter, QPicture

from ui.palette import LIGHT
from ui.plots.height_scale import HeightScale
from ui.plots.ink import Ink

if TYPE_CHECKING:
    from pytestqt.qtbot import QtBot

    from ui.plots.axes import LiftAxis


@pytest.fixture
def scale(qtbot: QtBot) -> HeightScale:
    made = HeightScale()
    qtbot.addWidget(made)
    made.restyle(Ink(LIGHT))
    made.resize(700, 560)
    made.show()
    QGuiApplication.processEvents()
    return made


def specs(axis: LiftAxis, kind: type[pg.AxisItem]) -> tuple[list[Any], list[Any]]:
    """Ticks (length and colour, place) and texts (place, words) as an axis would draw them."""
    picture = QPicture()
    painter = QPainter(picture)
    painter.setFont(axis.style["tickFont"])
    line, ticks, texts = kind.generateDrawSpecs(axis, painter)
    painter.end()
    ends = [(line[1].x(), line[1].y()), (line[2].x(), line[2].y())]
    drawn = [(pen.color().alpha(), one.x(), other.x(), one.y(), other.y()) for pen, one, other in ticks]
    words = [(rect.x(), rect.y(), rect.width(), rect.height(), int(flags), text) for rect, flags, text in texts if text]
    return [*ends, *sorted(drawn)], sorted(words, key=lambda word: (word[1], word[-1]))


@pytest.mark.parametrize(("low", "high"), [(-0.86, 2.46), (1.0, 2.0), (1.2, 1.31), (1.83, 1.84), (-20.0, 60.0)])
@pytest.mark.parametrize(("height", "most"), [(1.85, 0.68), (1.8305, 0.6605), (47.0, 17.3)])
def test_its_marks_are_the_stock_axis_s_own(
    scale: HeightScale, low: float, high: float, height: float, most: float
) -> None:
    scale.drawing.getViewBox().setYRange(low, high, padding=0)
    axis = scale.lift_axis
    axis.set_closed(height, most)
    mine, stock = specs(axis, type(axis)), specs(axis, pg.AxisItem)
    for ours, theirs in zip(mine, stock, strict=True):
        assert len(ours) == len(theirs)
        for one, other in zip(ours, theirs, strict=True):
            assert one[-1] == (other[-1] if isinstance(one[-1], str) else pytest.approx(other[-1], abs=1e-6))
            assert one[:-1] == pytest.approx(other[:-1], abs=1e-6)


def test_a_larger_font_is_measured_anew(scale: HeightScale) -> None:
    before = QFont(QGuiApplication.font())
    scale.drawing.getViewBox().setYRange(-0.86, 2.46, padding=0)
    scale.lift_axis.set_closed(1.85, 0.68)
    small = specs(scale.lift_axis, type(scale.lift_axis))[1]
    grown = QFont(before)
    grown.setPointSizeF(1.5 * before.pointSizeF())
    try:
        QGuiApplication.setFont(grown)
        scale.restyle(Ink(LIGHT))
        large = specs(scale.lift_axis, type(scale.lift_axis))[1]
    finally:
        QGuiApplication.setFont(before)
    assert large[0][2] > small[0][2]
    assert large[0][3] > small[0][3]
