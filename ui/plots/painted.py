"""The base of our own items: drawn in the plot's units, with text and marks in pixels of the screen."""

from __future__ import annotations

from typing import Any, TypedDict

import pyqtgraph as pg
from PySide6.QtCore import QPointF, QRectF
from PySide6.QtGui import QBrush, QPainter, QPen
from typing_extensions import Unpack, override

from ui.plots.ink import Ink, face, screen_ink

PAD = 2.0


class Lettering(TypedDict, total=False):
    """How a text is written.

    `role` of its colour; `anchor`, the point of its box that lies at the place, (0, 0) its top left; `rotated`, read
    from the right as a vertical dimension is; `share` of the window's font size; `bold`; `ground`, role or fill of a
    box behind it.
    """

    role: str
    anchor: tuple[float, float]
    rotated: bool
    share: float
    bold: bool
    ground: str | QBrush | None


class Painted(pg.GraphicsObject):  # type: ignore[misc]
    """An item that fills its view and is drawn anew when its content or the view changes."""

    def __init__(self, z: float) -> None:
        super().__init__()
        self.setZValue(z)
        self.ink: Ink = screen_ink()
        self.px = self.py = 1.0

    def restyle(self, ink: Ink) -> None:
        """Draw with another ink from now on."""
        self.ink = ink
        self.update()

    @override
    def boundingRect(self) -> QRectF:
        rect = self.viewRect()
        return QRectF() if rect is None else QRectF(rect)

    @override
    def dataBounds(self, axis: int, frac: float = 1.0, orthoRange: Any = None) -> Any:
        return None

    @override
    def viewTransformChanged(self) -> None:
        self.prepareGeometryChange()
        super().viewTransformChanged()

    @override
    def paint(self, painter: QPainter, *_: Any) -> None:
        view = self.getViewBox()
        if view is None:
            return
        self.px, self.py = view.viewPixelSize()
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        self.draw(painter)

    def draw(self, painter: QPainter) -> None:
        """Draw, in the plot's units; `px` and `py` are the size of a pixel in them."""
        raise NotImplementedError

    def line(self, painter: QPainter, pen: QPen, start: tuple[float, float], end: tuple[float, float]) -> None:
        """A straight line."""
        painter.setPen(pen)
        painter.drawLine(QPointF(*start), QPointF(*end))

    def text(self, painter: QPainter, at: tuple[float, float], text: str, **how: Unpack[Lettering]) -> QRectF:
        """Text in screen pixels.

        Args:
            painter: the painter.
            at: where, in the plot's units.
            text: plain text.
            how: as in `Lettering`.

        Returns:
            Its box in the plot's units, for finding it again.
        """
        anchor, rotated, ground = how.get("anchor", (0.0, 0.5)), how.get("rotated", False), how.get("ground")
        letters = face(how.get("share", 0.92), bold=how.get("bold", False))
        wide, tall = letters.width(text), letters.tall
        box = QRectF(-anchor[0] * wide, -anchor[1] * tall, wide, tall)
        painter.save()
        painter.translate(*at)
        painter.scale(self.px, -self.py)
        if rotated:
            painter.rotate(-90)
        if ground:
            fill = ground if isinstance(ground, QBrush) else self.ink.brush(ground)
            painter.fillRect(box.adjusted(-PAD, 0, PAD, 0), fill)
        painter.setFont(letters.font)
        painter.setPen(self.ink.colours.colour(how.get("role", "ink")))
        painter.drawText(QPointF(box.left(), box.top() + letters.ascent), text)
        painter.restore()
        return self._placed(box, at, rotated=rotated)

    def _placed(self, box: QRectF, at: tuple[float, float], *, rotated: bool) -> QRectF:
        if rotated:
            box = QRectF(box.top(), -box.right(), box.height(), box.width())
        x, y = at[0] + box.left() * self.px, at[1] - box.bottom() * self.py
        return QRectF(x, y, box.width() * self.px, box.height() * self.py)

    def width_of(self, text: str, share: float = 0.92) -> float:
        """How wide a text is, in pixels."""
        return face(share).width(text)
