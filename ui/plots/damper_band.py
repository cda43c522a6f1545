"""The damper's band about the load line: shaded, its edges drawn apart, named with the friction."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np
import pyqtgraph as pg
from PySide6.QtCore import QCoreApplication, QPointF, Qt
from PySide6.QtGui import QPainterPath, QPolygonF
from typing_extensions import override

from loadbench.analysis.damper import FRICTION, damper_band
from loadbench.units import Kind, Style, tell, to_display
from ui.plots.ink import DASHES
from ui.plots.painted import Painted

if TYPE_CHECKING:
    from PySide6.QtGui import QPainter

    from loadbench.analysis import LineAnalysis
    from ui.plots.curves import Curves

CONTEXT = "BenchPicture"
LENGTH, FORCE = Kind.LENGTH, Kind.FORCE
EVERY = 4
"""Of the curve's samples, one in so many is drawn: the band is as smooth as the line for the eye."""
NAMES = 0.82


def tr(text: str) -> str:
    """A text of the picture in the user's language."""
    return QCoreApplication.translate(CONTEXT, text)


class DamperBand(Painted):
    """Between pressing the spring (solid edge) and letting it up (dashed edge); kept while both stand."""

    def __init__(self) -> None:
        super().__init__(z=-3)  # above the limits, that its name stays readable; below the words at the levels
        self.shown: tuple[Curves, float, Style] | None = None
        self.edges: tuple[QPainterPath, QPainterPath] = (QPainterPath(), QPainterPath())
        self._shape = QPolygonF()
        self._name = ""
        self._name_at: tuple[float, float] | None = None

    def show_line(self, line: LineAnalysis, curves: Curves | None, style: Style) -> None:
        """Draw the band of a line.

        Args:
            line: analysed.
            curves: its load line as sampled; None where there is none.
            style: the units on show.
        """
        friction = line.stated.value(FRICTION)
        wanted = (curves, float(friction), style) if curves is not None and friction else None
        if not self._same(wanted):
            self.shown = wanted
            self._make(line)
        if self.shown is not None:
            self._place_name(line, *self.shown)
        self.update()

    def _same(self, wanted: tuple[Curves, float, Style] | None) -> bool:
        if wanted is None or self.shown is None:
            return wanted is self.shown
        return wanted[0] is self.shown[0] and wanted[1:] == self.shown[1:]

    def _make(self, line: LineAnalysis) -> None:
        self._shape, self.edges = QPolygonF(), (QPainterPath(), QPainterPath())
        if self.shown is None:
            return
        curves, friction, style = self.shown
        length, force = to_display(1.0, LENGTH, style), to_display(1.0, FORCE, style)
        loads, heights = (np.append(each[:-1:EVERY], each[-1]) for each in (curves.loads, curves.heights))
        more, less = (edge * force for edge in damper_band(line.stated, loads))
        heights = heights * length
        x, y = np.concatenate((more, less[::-1])), np.concatenate((heights, heights[::-1]))
        self._shape = QPolygonF([QPointF(a, b) for a, b in zip(x, y, strict=True)])
        self.edges = tuple(pg.arrayToQPath(edge, heights, connect="all") for edge in (more, less))
        self._name = tr("damper \u00b1{load}").format(load=tell(friction, FORCE, style))

    def _place_name(self, line: LineAnalysis, curves: Curves, friction: float, style: Style) -> None:
        """A third of the lift down, right of the upper edge, where neither a level's words nor a reading stand."""
        closed, opened = line.value("installed_height"), line.value("open_height")
        at = float(curves.heights.mean()) if closed is None or opened is None else (2 * closed + opened) / 3
        load = float(np.interp(at, curves.heights, curves.loads)) + friction
        self._name_at = (to_display(load, FORCE, style), to_display(at, LENGTH, style))

    @override
    def draw(self, painter: QPainter) -> None:
        if self.shown is None:
            return
        painter.setPen(Qt.PenStyle.NoPen)
        painter.setBrush(self.ink.brush("watch", 0.22))
        painter.drawPolygon(self._shape)
        painter.setBrush(Qt.BrushStyle.NoBrush)
        pressed, released = self.edges
        painter.setPen(self.ink.pen("watch", 1.0))
        painter.drawPath(pressed)
        painter.setPen(self.ink.dashed("watch", DASHES[0], 1.0))
        painter.drawPath(released)
        if self._name_at is not None:
            x, y = self._name_at
            most = self.boundingRect().right() - (self.width_of(self._name, NAMES) + 3) * self.px
            at = (min(x + 6 * self.px, most), y)
            self.text(painter, at, self._name, role="quiet", share=NAMES, ground="panel")


def damper_words(line: LineAnalysis, height: float, style: Style) -> str:
    """What the read-out adds at a height: the loads of the band, in words; "" without a damper's load or a load line.

    Args:
        line: analysed.
        height: m.
        style: the units on show.
    """
    if line.load_line is None or not line.stated.value(FRICTION):
        return ""
    more, less = damper_band(line.stated, np.asarray(line.load_line.load(height)))
    told = tr("with the damper {more} as the valve opens, {less} as it closes")
    return told.format(more=tell(float(more), FORCE, style), less=tell(float(less), FORCE, style))


def damper_description(line: LineAnalysis, style: Style) -> str:
    """One more sentence for those who do not see the picture; "" without a damper's load or a load line."""
    friction = line.stated.value(FRICTION)
    if line.load_line is None or not friction:
        return ""
    return tr(
        "A band about the load line shows the damper's friction of {load}: its solid edge as the valve opens, its "
        "dashed edge as it closes."
    ).format(load=tell(friction, FORCE, style))
