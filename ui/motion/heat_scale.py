"""The view of the map: a heat picture beneath the chart, and its legend with numbers beside it."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any, NamedTuple

import numpy as np
import pyqtgraph as pg
from PySide6.QtCore import QPointF, QRectF, QSizeF
from PySide6.QtGui import QImage, QPainter
from typing_extensions import override

from ui.motion.stacked import GREY, AngleAxis, StackedScale
from ui.plots.ink import Ink, em, face, screen_ink

if TYPE_CHECKING:
    from PySide6.QtWidgets import QWidget

    from loadbench.arrays import Floats

MAP, STEPS = "viridis", 256  # perceptually even, also for eyes that tell few colours apart
WIDE, BAR, SHARE = 74.0, 16.0, 0.84
MARKS, MANY = 6, 1000.0
BEHIND = 2.4  # px


class Heat(NamedTuple):
    """Values over a grid, shape (up, across), NaN where nothing is to be seen; where it lies; the end of the legend."""

    values: Floats
    box: tuple[float, float, float, float]  # left, bottom, width, height in the units on show
    top: float
    words: str  # what the legend says


NO_HEAT = Heat(np.full((1, 1), np.nan), (0.0, 0.0, 1.0, 1.0), 1.0, "")


def number(value: float) -> str:
    """As on the axes beside it: never as a power of ten, no more digits than it has."""
    return f"{value:.0f}" if value >= MANY else f"{value:.4g}"


class Legend(pg.GraphicsWidget):  # type: ignore[misc]
    """The colours from zero to the top, with numbers."""

    def __init__(self) -> None:
        super().__init__()
        self.ink: Ink = screen_ink()
        self.heat = NO_HEAT
        table = pg.colormap.get(MAP).getLookupTable(nPts=STEPS)[::-1]
        self._bar = QImage(1, STEPS, QImage.Format.Format_RGB32)
        for row, (red, green, blue) in enumerate(table):
            self._bar.setPixel(0, row, (255 << 24) | (int(red) << 16) | (int(green) << 8) | int(blue))
        self.restyle(self.ink)

    def restyle(self, ink: Ink) -> None:
        """Draw with another ink from now on."""
        self.ink = ink
        self.setFixedWidth(WIDE * em())
        self.update()

    @property
    def numbers(self) -> list[str]:
        """What stands beside the colours, from the top down."""
        return [number(self.heat.top * place / (MARKS - 1)) for place in reversed(range(MARKS))]

    @override
    def paint(self, painter: QPainter, *_: Any) -> None:
        letters = face(SHARE)
        box = QRectF(QPointF(0, 0), QSizeF(self.size()))
        bar = QRectF(box.left() + 6, box.top() + 2 * letters.tall, BAR, max(box.height() - 5 * letters.tall, 10.0))
        painter.drawImage(bar, self._bar)
        painter.setPen(self.ink.pen("lines", 1.0))
        painter.drawRect(bar)
        painter.setFont(letters.font)
        painter.setPen(self.ink.colours.colour("ink"))
        for place, text in enumerate(self.numbers):
            y = bar.top() + bar.height() * place / (MARKS - 1)
            painter.drawText(QPointF(bar.right() + 5, y + letters.ascent - letters.tall / 2), text)
        painter.setPen(self.ink.colours.colour("quiet"))
        painter.drawText(QPointF(box.left() + 4, box.top() + letters.ascent), self.heat.words)


class HeatScale(StackedScale):
    """A chart over a heat picture, with others above it or alone; alone it has a legend beside it."""

    def __init__(self, name: str, parent: QWidget | None = None, *, count: int = 1) -> None:
        self.pointed_up: float | None = None  # where the pointer is in the heat picture, up
        super().__init__(name, count, parent, crank=True)
        self.cam = AngleAxis("bottom")
        self.plots[-1].setAxisItems({"bottom": self.cam})
        self.axes[-1] = self.cam
        self.image = pg.ImageItem(axisOrder="row-major")
        self.image.setLookupTable(pg.colormap.get(MAP).getLookupTable(nPts=STEPS))
        self.image.setZValue(-5)
        self.plots[-1].addItem(self.image, ignoreBounds=True)
        self.legend = Legend()
        if count == 1:
            self.ci.addItem(self.legend, row=0, col=1)
        self._heat = NO_HEAT
        self.behind = pg.InfiniteLine(angle=90)  # the line that is read out would be lost over dark colours
        self.behind.setZValue(1)
        self.behind.hide()
        self.plots[-1].addItem(self.behind, ignoreBounds=True)

    @override
    def point_out(self, key: str, cursor: float | None) -> None:
        super().point_out(key, cursor)
        self.behind.setVisible(cursor is not None)
        if cursor is not None:
            self.behind.setPos(cursor)

    def show_heat(self, heat: Heat) -> None:
        """Draw another heat picture beneath the chart."""
        if heat is self._heat:
            return
        self._heat = self.legend.heat = heat
        self.image.setImage(heat.values, autoLevels=False, levels=(0.0, heat.top))
        self.image.setRect(QRectF(*heat.box))
        for axis in (self.cam, self.crank):
            if axis is not None:
                axis.end_at(heat.box[0] + heat.box[2])
        self.legend.update()

    @override
    def restyle(self, ink: Ink) -> None:
        super().restyle(ink)
        if hasattr(self, "legend"):
            self.legend.restyle(ink)
        if hasattr(self, "behind"):
            self.behind.setPen(ink.pen("panel", BEHIND))

    @override
    def set_grey(self, grey: bool) -> None:
        super().set_grey(grey)
        self.image.setOpacity(GREY if grey else 1.0)

    @override
    def _pointer(self, point: QPointF) -> None:
        box = self.plots[-1].getViewBox()
        inside = QRectF(box.sceneBoundingRect()).contains(point)
        self.pointed_up = box.mapSceneToView(point).y() if inside else None
        super()._pointer(point)
