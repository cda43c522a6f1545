"""The level lines through both views: closed, full lift, bind; the first two can be dragged."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import pyqtgraph as pg
from PySide6.QtCore import QPointF, QRectF, Qt, Signal
from typing_extensions import override

from ui.plots.ink import Ink

if TYPE_CHECKING:
    from PySide6.QtGui import QPainter

REACH = 7
"""How far from the line it can be taken, px."""

STYLES: dict[str, tuple[str, float, tuple[float, ...]]] = {
    "closed": ("ink", 1.4, ()),
    "open": ("accent", 1.4, (6.0, 3.0)),
    "bind": ("stop", 1.2, (8.0, 3.0, 2.0, 3.0)),
}


class LevelLine(pg.InfiniteLine):  # type: ignore[misc]
    """A horizontal line at a height. Dragging tells the height wanted; the job decides where the line then is."""

    taken = Signal()
    pulled = Signal(float)
    let_go = Signal(bool)  # whether what it shows is meant

    def __init__(self, name: str, *, movable: bool) -> None:
        super().__init__(angle=0, movable=movable)
        self.level = name
        self.setZValue(5)
        self._begun: float | None = None
        self._seen: tuple[object, QRectF] = (None, QRectF())
        if movable:
            self.setCursor(Qt.CursorShape.SizeVerCursor)

    def restyle(self, ink: Ink) -> None:
        """Draw with another ink from now on."""
        role, width, pattern = STYLES[self.level]
        pen = ink.dashed(role, pattern, width) if pattern else ink.pen(role, width)
        self.setPen(pen)
        self.setHoverPen(ink.pen("accent", 2.6))

    def show_at(self, height: float | None) -> None:
        """Stand at a height in the unit on show; None hides it."""
        self.setVisible(height is not None)
        if height is not None and height != self.value():
            self.setValue(height)

    @override
    def boundingRect(self) -> QRectF:
        """Its box about its own height: the same wherever it stands; the stock line measures it at every step."""
        view = self.getViewBox()
        if view is None:
            return QRectF()
        wide = max(self.pen.widthF(), self.hoverPen.widthF())
        seen = (*view.viewRange()[0], (wide / 2 + 1) * view.viewPixelSize()[1])
        if seen != self._seen[0]:
            left, right, tall = seen
            self.prepareGeometryChange()
            self._seen = (seen, QRectF(left, -tall, right - left, 2 * tall))
        return self._seen[1]

    @override
    def paint(self, p: QPainter, *_: Any) -> None:
        box = self.boundingRect()
        p.setPen(self.currentPen)
        p.drawLine(QPointF(box.left(), 0.0), QPointF(box.right(), 0.0))

    @override
    def mouseDragEvent(self, ev: Any) -> None:
        if not self.movable or ev.button() != Qt.MouseButton.LeftButton:
            return
        ev.accept()
        if ev.isStart():
            self._begun = self.value() - self.mapToParent(ev.buttonDownPos()).y()
            self.taken.emit()
        if self._begun is None:
            return
        self.pulled.emit(self._begun + self.mapToParent(ev.pos()).y())
        if ev.isFinish():
            self._begun = None
            self.let_go.emit(True)

    @override
    def mouseClickEvent(self, ev: Any) -> None:
        """Taking the stock item's place: a right click does nothing to a line that the job holds."""


class Levels:
    """The three lines, once in each view, kept at one height."""

    def __init__(self, plots: tuple[Any, ...]) -> None:
        self.lines: dict[str, list[LevelLine]] = {}
        for name in STYLES:
            self.lines[name] = [LevelLine(name, movable=name != "bind") for _ in plots]
            for plot, line in zip(plots, self.lines[name], strict=True):
                plot.addItem(line, ignoreBounds=True)

    def all(self) -> list[LevelLine]:
        """Every line."""
        return [line for lines in self.lines.values() for line in lines]

    def show_at(self, name: str, height: float | None) -> None:
        """Put a level where it is."""
        for line in self.lines[name]:
            line.show_at(height)

    def restyle(self, ink: Ink) -> None:
        """Draw with another ink from now on."""
        for line in self.all():
            line.restyle(ink)
