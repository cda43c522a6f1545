"""The grip of a handle: a small button on the level line that the mouse drags and the arrow keys move."""

from __future__ import annotations

from PySide6.QtCore import QPointF, QRectF, QSize, Qt, Signal
from PySide6.QtGui import QFocusEvent, QKeyEvent, QMouseEvent, QPainter, QPaintEvent, QPolygonF
from PySide6.QtWidgets import QAbstractButton, QWidget
from typing_extensions import override

from ui.plots.ink import screen_ink

SIZE = 24
FAST = 10


class Grip(QAbstractButton):
    """Tells of drags in px (down is positive) and of steps by keys (up is positive)."""

    taken = Signal()
    pulled = Signal(int)
    let_go = Signal(bool)
    stepped = Signal(int)
    left = Signal()

    def __init__(self, name: str, role: str, parent: QWidget) -> None:
        super().__init__(parent)
        self.setObjectName(name)
        self._role = role
        self._down: int | None = None
        self.setFixedSize(SIZE, SIZE)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setCursor(Qt.CursorShape.SizeVerCursor)

    @override
    def sizeHint(self) -> QSize:
        return QSize(SIZE, SIZE)

    @override
    def mousePressEvent(self, event: QMouseEvent) -> None:
        if event.button() == Qt.MouseButton.LeftButton:
            self.setFocus(Qt.FocusReason.MouseFocusReason)
            self._down = round(event.globalPosition().y())
            self.taken.emit()

    @override
    def mouseMoveEvent(self, event: QMouseEvent) -> None:
        if self._down is not None:
            self.pulled.emit(round(event.globalPosition().y()) - self._down)

    @override
    def mouseReleaseEvent(self, event: QMouseEvent) -> None:
        if self._down is not None:
            self._down = None
            self.let_go.emit(True)

    @override
    def keyPressEvent(self, event: QKeyEvent) -> None:
        steps = {Qt.Key.Key_Up: 1, Qt.Key.Key_Down: -1, Qt.Key.Key_PageUp: FAST, Qt.Key.Key_PageDown: -FAST}
        if event.key() == Qt.Key.Key_Escape and self._down is not None:
            self._down = None
            self.let_go.emit(False)
        elif event.key() in steps:
            fast = event.modifiers() & Qt.KeyboardModifier.ShiftModifier
            self.stepped.emit(
                steps[Qt.Key(event.key())] * (FAST if fast and abs(steps[Qt.Key(event.key())]) == 1 else 1)
            )
        else:
            event.ignore()

    @override
    def focusOutEvent(self, event: QFocusEvent) -> None:
        super().focusOutEvent(event)
        self.left.emit()

    @override
    def paintEvent(self, event: QPaintEvent) -> None:
        ink, painter = screen_ink(), QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        painter.setPen(ink.pen("accent" if self.hasFocus() else self._role, 2.2 if self.hasFocus() else 1.2))
        painter.setBrush(ink.brush("panel"))
        painter.drawRoundedRect(QRectF(5, 2, SIZE - 10, SIZE - 4), 4, 4)
        painter.setPen(Qt.PenStyle.NoPen)
        painter.setBrush(ink.brush("accent" if self.hasFocus() or self.underMouse() else self._role))
        middle = SIZE / 2
        for way in (-1, 1):
            tip, base = middle + way * 7, middle + way * 2.5
            painter.drawPolygon(
                QPolygonF([QPointF(middle, tip), QPointF(middle - 3.5, base), QPointF(middle + 3.5, base)])
            )
        painter.end()
