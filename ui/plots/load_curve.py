"""The load line itself and the band of its uncertainty."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np
import pyqtgraph as pg
from PySide6.QtCore import QPointF, Qt
from PySide6.QtGui import QPainter, QPainterPath, QPen, QPolygonF
from typing_extensions import override

from ui.plots.painted import Painted

if TYPE_CHECKING:
    from loadbench.arrays import Floats


class LoadCurve(Painted):
    """A line of load over height, broken where a load is NaN; its path is made once, not at every painting."""

    def __init__(self) -> None:
        super().__init__(z=0)
        self.loads = self.heights = np.empty(0)
        self.pen = QPen(Qt.PenStyle.NoPen)
        self._path = QPainterPath()

    def show_curve(self, loads: Floats, heights: Floats) -> None:
        """Draw this from now on; both in the unit on show."""
        self.loads, self.heights = loads, heights
        self._path = pg.arrayToQPath(loads, heights, connect="finite")
        self.update()

    def set_pen(self, pen: QPen) -> None:
        """Draw with this pen from now on."""
        self.pen = pen
        self.update()

    @override
    def draw(self, painter: QPainter) -> None:
        painter.setPen(self.pen)
        painter.setBrush(Qt.BrushStyle.NoBrush)
        painter.drawPath(self._path)


class Band(Painted):
    """The band of uncertainty about the load line."""

    def __init__(self) -> None:
        super().__init__(z=-10)
        self._shape: QPolygonF | None = None

    def show_band(self, heights: Floats, loads: Floats, band: Floats | None) -> None:
        """Fill between load less band and load plus band."""
        self._shape = None
        if band is not None:
            loads, heights, band = (np.append(one[::8], one[-1]) for one in (loads, heights, band))
            x = np.concatenate((loads - band, (loads + band)[::-1]))
            y = np.concatenate((heights, heights[::-1]))
            self._shape = QPolygonF([QPointF(a, b) for a, b in zip(x, y, strict=True)])
        self.update()

    @property
    def shown(self) -> bool:
        """Whether there is a band."""
        return self._shape is not None

    @override
    def draw(self, painter: QPainter) -> None:
        if self._shape is not None:
            painter.setPen(Qt.PenStyle.NoPen)
            painter.setBrush(self.ink.brush("accent", 0.25))
            painter.drawPolygon(self._shape)
