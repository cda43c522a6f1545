"""The key of the picture, on one line above it."""

from __future__ import annotations

from PySide6.QtCore import QPointF, QRectF, QSize
from PySide6.QtGui import QPainter, QPaintEvent
from PySide6.QtWidgets import QSizePolicy, QWidget
from typing_extensions import override

from ui.plots.ink import Ink, em, face, screen_ink
from ui.theme import theme

GAP = 14
SIGN = 12


class FitKey(QWidget):
    """Draws each sign with its word; those that have no room are left out from the right."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.Fixed)
        self.planned = True
        self.band = True
        theme().changed.connect(self.update)

    def words(self) -> list[tuple[str, str]]:
        """The signs on show with their words."""
        found = [("now", self.tr("now"))]
        if self.planned:
            found += [("planned", self.tr("planned")), ("locked", self.tr("planned, locked"))]
        return [*found, ("band", self.tr("wanted seat load"))] if self.band else found

    @override
    def sizeHint(self) -> QSize:
        return QSize(200, round(face(0.86).tall) + 4)

    @override
    def minimumSizeHint(self) -> QSize:
        return QSize(60, self.sizeHint().height())

    @override
    def paintEvent(self, event: QPaintEvent) -> None:
        painter = QPainter(self)
        self.draw(painter, screen_ink(), self.width(), self.height())
        painter.end()

    def draw(self, painter: QPainter, ink: Ink, width: float, height: float) -> None:
        """Draw the key on a line of this size, here or on paper."""
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        letters, left = face(0.86), 8.0
        painter.setFont(letters.font)
        for sign, word in self.words():
            wide = SIGN * em() + 4 + letters.width(word)
            if left + wide > width:
                break
            _draw_sign(painter, ink, sign, QPointF(left + SIGN * em() / 2, height / 2))
            painter.setPen(ink.colours.colour("quiet"))
            painter.drawText(QPointF(left + SIGN * em() + 4, (height - letters.tall) / 2 + letters.ascent), word)
            left += wide + GAP


def _draw_sign(painter: QPainter, ink: Ink, sign: str, middle: QPointF) -> None:
    half = 4.5 * em()
    box = QRectF(middle.x() - half, middle.y() - half, 2 * half, 2 * half)
    if sign == "band":
        wide = box.adjusted(-2, 0, 2, 0)
        painter.fillRect(wide, ink.tint("clear", 0.16))
        painter.setPen(ink.pen("clear"))
        painter.drawLine(wide.topLeft(), wide.topRight())
        painter.drawLine(wide.bottomLeft(), wide.bottomRight())
        return
    role = "quiet" if sign == "now" else "accent"
    painter.setPen(ink.pen(role, 1.5))
    painter.setBrush(ink.brush("panel" if sign == "now" else role))
    if sign == "locked":
        painter.drawRect(box.adjusted(0.5, 0.5, -0.5, -0.5))
    else:
        painter.drawEllipse(box)
