"""The strip beside the surge picture: how the coils move in the first modes, from the seat up to the retainer."""

from __future__ import annotations

from typing import Any

import numpy as np
import pyqtgraph as pg
from PySide6.QtCore import QCoreApplication, QPointF, QRectF, QSizeF, Qt
from PySide6.QtGui import QPainter, QPolygonF
from typing_extensions import override

from loadbench.spring.surge import mode_shape
from ui.plots.ink import DASHES, Ink, em, face, screen_ink

MODES = (1, 2, 3)
ALONG = np.linspace(0.0, 1.0, 41)
WIDE = 96.0  # px
SHARE = 0.82


def tr(text: str) -> str:
    """A text of the picture in the user's language."""
    return QCoreApplication.translate("SurgePicture", text)


class ModeStrip(pg.GraphicsWidget):  # type: ignore[misc]
    """Draws the shapes side by side; the chosen mode stands out."""

    def __init__(self) -> None:
        super().__init__()
        self.ink: Ink = screen_ink()
        self.mode = 0
        self.setFixedWidth(WIDE)

    def restyle(self, ink: Ink) -> None:
        """Draw with another ink from now on."""
        self.ink = ink
        self.setFixedWidth(WIDE * em())
        self.update()

    def choose(self, mode: int) -> None:
        """Make one mode stand out; 0 none."""
        if mode != self.mode:
            self.mode = mode
            self.update()

    @override
    def paint(self, painter: QPainter, *_: Any) -> None:
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        letters = face(SHARE)
        box = QRectF(QPointF(0, 0), QSizeF(self.size())).adjusted(4, 2, -6, -4)
        lines = [tr("shape of"), tr("mode")]
        for place, text in enumerate(lines):
            self._text(painter, QPointF(box.center().x(), box.top() + place * letters.tall), text)
        column = QRectF(box.left(), box.top() + 3 * letters.tall, box.width(), box.height() - 6 * letters.tall)
        self._text(painter, QPointF(box.center().x(), column.top() - letters.tall - 2), tr("retainer"))
        self._text(painter, QPointF(box.center().x(), column.bottom() + letters.tall + 2), tr("seat"))
        if column.height() < 40:
            return
        for place, mode in enumerate(MODES):
            wide = column.width() / len(MODES)
            self._shape(painter, QRectF(column.left() + place * wide, column.top(), wide, column.height()), mode)
        self._plates(painter, column)

    def _shape(self, painter: QPainter, box: QRectF, mode: int) -> None:
        middle, reach = box.center().x(), 0.42 * box.width()
        painter.setPen(self.ink.dashed("lines", DASHES[1]))
        painter.drawLine(QPointF(middle, box.top()), QPointF(middle, box.bottom()))
        moved = mode_shape(ALONG, float(mode))
        points = [
            QPointF(middle + reach * float(by), box.bottom() - float(at) * box.height())
            for at, by in zip(ALONG, moved, strict=True)
        ]
        chosen = mode == self.mode
        painter.setPen(self.ink.pen("accent" if chosen else "ink", 2.4 if chosen else 1.3))
        painter.setBrush(Qt.BrushStyle.NoBrush)
        painter.drawPolyline(QPolygonF(points))
        self._text(painter, QPointF(middle, box.bottom() + 1), str(mode), role="accent" if chosen else "ink")

    def _plates(self, painter: QPainter, box: QRectF) -> None:
        painter.setPen(self.ink.pen("ink", 1.6))
        painter.drawLine(box.topLeft(), box.topRight())
        painter.drawLine(box.bottomLeft(), box.bottomRight())

    def _text(self, painter: QPainter, top: QPointF, text: str, role: str = "quiet") -> None:
        letters = face(SHARE)
        painter.setFont(letters.font)
        painter.setPen(self.ink.colours.colour(role))
        painter.drawText(QPointF(top.x() - letters.width(text) / 2, top.y() + letters.ascent), text)
