"""The key of the picture, on one line above it."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import QPointF, QRectF, QSize, Qt
from PySide6.QtGui import QPainter, QPaintEvent, QPolygonF
from PySide6.QtWidgets import QSizePolicy, QWidget
from typing_extensions import override

from ui.plots.ink import em, face, screen_ink
from ui.theme import theme

if TYPE_CHECKING:
    from collections.abc import Callable

GAP, SIGN, SHARE = 14, 12, 0.86


class TrustKey(QWidget):
    """Draws each sign with its word; those that have no room are left out from the right."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.Fixed)
        self.signs: tuple[tuple[str, str], ...] = ()
        theme().changed.connect(self.update)

    def show_signs(self, signs: tuple[tuple[str, str], ...]) -> None:
        """Explain these."""
        if signs != self.signs:
            self.signs = signs
            self.update()

    @override
    def sizeHint(self) -> QSize:
        return QSize(200, round(face(SHARE).tall) + 4)

    @override
    def minimumSizeHint(self) -> QSize:
        return QSize(60, self.sizeHint().height())

    @override
    def paintEvent(self, event: QPaintEvent) -> None:
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        letters, left = face(SHARE), 8.0
        painter.setFont(letters.font)
        for sign, word in self.signs:
            wide = SIGN * em() + 4 + letters.width(word)
            if left + wide > self.width():
                break
            self._sign(painter, sign, QPointF(left + SIGN * em() / 2, self.height() / 2))
            painter.setPen(screen_ink().colours.colour("quiet"))
            painter.drawText(QPointF(left + SIGN * em() + 4, (self.height() - letters.tall) / 2 + letters.ascent), word)
            left += wide + GAP
        painter.end()

    def _sign(self, painter: QPainter, sign: str, middle: QPointF) -> None:
        draw: dict[str, Callable[[QPainter, QPointF, float], None]] = {
            "outside": _diamond,
            "watched": _arrow,
            "doubted": _frame,
            "mean": _line,
            "trend": _chain,
            "bar-within": lambda p, m, h: _bar(p, m, h, "accent"),
            "bar-watched": lambda p, m, h: _bar(p, m, h, "watch"),
            "bar-outside": lambda p, m, h: _bar(p, m, h, "stop"),
        }
        draw.get(sign, _ring)(painter, middle, 4.0 * em())


def _ring(painter: QPainter, middle: QPointF, half: float) -> None:
    painter.setPen(screen_ink().pen("accent", 1.4))
    painter.setBrush(screen_ink().brush("panel"))
    painter.drawEllipse(middle, half, half)


def _diamond(painter: QPainter, middle: QPointF, half: float) -> None:
    painter.setPen(screen_ink().pen("stop", 1.4))
    painter.setBrush(screen_ink().brush("stop"))
    side = 1.3 * half
    corners = (QPointF(side, 0), QPointF(0, side), QPointF(-side, 0), QPointF(0, -side))
    painter.drawPolygon(QPolygonF([middle + corner for corner in corners]))


def _arrow(painter: QPainter, middle: QPointF, half: float) -> None:
    painter.setPen(screen_ink().pen("watch", 1.4))
    painter.setBrush(screen_ink().brush("panel"))
    corners = (QPointF(-half, -half), QPointF(half, -half), QPointF(0, half))
    painter.drawPolygon(QPolygonF([middle + corner * 1.2 for corner in corners]))


def _frame(painter: QPainter, middle: QPointF, half: float) -> None:
    _ring(painter, middle, 0.75 * half)
    painter.setPen(screen_ink().pen("watch", 1.4))
    painter.setBrush(Qt.BrushStyle.NoBrush)
    painter.drawRect(QRectF(middle.x() - 1.4 * half, middle.y() - 1.4 * half, 2.8 * half, 2.8 * half))


def _line(painter: QPainter, middle: QPointF, half: float) -> None:
    painter.setPen(screen_ink().pen("quiet", 1.6))
    painter.drawLine(middle - QPointF(1.5 * half, 0), middle + QPointF(1.5 * half, 0))


def _chain(painter: QPainter, middle: QPointF, half: float) -> None:
    painter.setPen(screen_ink().dashed("ink", (5.0, 2.0, 1.0, 2.0), 1.2))
    painter.drawLine(middle - QPointF(1.7 * half, 0), middle + QPointF(1.7 * half, 0))


def _bar(painter: QPainter, middle: QPointF, half: float, role: str) -> None:
    painter.setPen(screen_ink().pen(role, 1.2))
    painter.setBrush(screen_ink().brush(role) if role == "stop" else screen_ink().tint(role, 0.35))
    box = QRectF(middle.x() - half, middle.y() - 1.3 * half, 2 * half, 2.6 * half)
    painter.drawRect(box)
    if role == "watch":
        painter.drawLine(box.topLeft() + QPointF(0, 3), box.topRight() + QPointF(0, 3))
