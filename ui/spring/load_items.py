"""The coils' load lines as they are drawn: each with its dash and name, turns that land, the damper's friction."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np
import pyqtgraph as pg
from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QPainter, QPainterPath, QPolygonF
from typing_extensions import override

from loadbench.spring.nest import loading_load, unloading_load
from loadbench.units import Kind, Style, to_display
from ui.plots.ink import CURVE, DASHES, THIN, em
from ui.plots.painted import Painted
from ui.spring.wording import tr

if TYPE_CHECKING:
    from ui.spring.load_lines import CoilLine, LoadLines

STROKE = 5.0  # half a landing's stroke, px
NAMES = 0.82


class LoadLinesItem(Painted):
    """Draws the lines of a nest; paths are made once for a state and a unit."""

    def __init__(self) -> None:
        super().__init__(z=8)
        self.lines: LoadLines | None = None
        self._paths: list[tuple[CoilLine, QPainterPath]] = []
        self._whole: QPainterPath | None = None
        self._band: tuple[QPolygonF, QPainterPath, QPainterPath] | None = None
        self._units = (1.0, 1.0)
        self._names_at = 0.0
        self._named: list[QRectF] = []

    def show_lines(self, lines: LoadLines, style: Style, names_at: float) -> None:
        """Draw these from now on, their names at a height, m."""
        self.lines, self._names_at = lines, names_at
        self._units = to_display(1.0, Kind.LENGTH, style), to_display(1.0, Kind.FORCE, style)
        self._paths = [(each, self._path(each)) for each in lines.coils]
        apart = lines.whole is not None and len(lines.coils) > 1
        self._whole = self._path(lines.whole) if apart and lines.whole is not None else None
        self._band = self._friction(lines)
        self.update()

    def _path(self, line: CoilLine) -> QPainterPath:
        length, force = self._units
        path: QPainterPath = pg.arrayToQPath(line.loads * force, line.heights * length, connect="all")
        return path

    def _friction(self, lines: LoadLines) -> tuple[QPolygonF, QPainterPath, QPainterPath] | None:
        if lines.whole is None or not lines.friction:
            return None
        length, force = self._units
        loads, heights = lines.whole.loads, lines.whole.heights * length
        more = loading_load(loads, lines.friction) * force
        less = unloading_load(loads, lines.friction) * force
        x, y = np.concatenate((more, less[::-1])), np.concatenate((heights, heights[::-1]))
        shape = QPolygonF([QPointF(a, b) for a, b in zip(x, y, strict=True)])
        return shape, pg.arrayToQPath(more, heights, connect="all"), pg.arrayToQPath(less, heights, connect="all")

    @override
    def draw(self, painter: QPainter) -> None:
        if self.lines is None:
            return
        self._named = []
        self._draw_band(painter)
        nest = len(self.lines.coils) > 1
        painter.setBrush(Qt.BrushStyle.NoBrush)
        for line, path in self._paths:
            pen = self.ink.series(line.place, DASHES[line.place % 3], 1.4) if nest else self.ink.pen("accent", CURVE)
            painter.setPen(pen)
            painter.drawPath(path)
            self._draw_landings(painter, line)
            if nest:
                self._draw_name(painter, line, line.name, "ink")
        if self._whole is not None and self.lines.whole is not None:
            painter.setPen(self.ink.pen("accent", CURVE))
            painter.drawPath(self._whole)
            self._draw_name(painter, self.lines.whole, tr("together"), "accent")

    def _draw_band(self, painter: QPainter) -> None:
        if self._band is None:
            return
        shape, more, less = self._band
        painter.setPen(Qt.PenStyle.NoPen)
        painter.setBrush(self.ink.brush("watch", 0.22))
        painter.drawPolygon(shape)
        painter.setBrush(Qt.BrushStyle.NoBrush)
        painter.setPen(self.ink.pen("watch", 1.0))
        painter.drawPath(more)
        painter.setPen(self.ink.dashed("watch", DASHES[0], 1.0))
        painter.drawPath(less)

    def _draw_landings(self, painter: QPainter, line: CoilLine) -> None:
        length, force = self._units
        painter.setPen(self.ink.pen("ink", THIN * 1.5))
        for height, load in line.landings:
            x, y = load * force, height * length
            painter.drawLine(QPointF(x, y - STROKE * self.py), QPointF(x, y + STROKE * self.py))

    def _draw_name(self, painter: QPainter, line: CoilLine, name: str, role: str) -> None:
        """The name stands right of its line, where no level's words are, and a line higher where another's is."""
        length, force = self._units
        wide, tall = self.width_of(name, NAMES) * self.px, 13 * em() * self.py
        for step in range(4):
            level = self._names_at * length + step * tall
            load = line.at(level / length)
            if load is None:
                return
            left = min(load * force + 5 * self.px, self.viewRect().right() - wide - 2 * self.px)
            box = QRectF(left, level - tall / 2, wide + 4 * self.px, tall)
            if not any(box.intersects(other) for other in self._named):
                self._named.append(box)
                self.text(painter, (left, level), name, role=role, share=NAMES, ground="panel")
                return
