"""A way to somewhere else in the window: text in the accent colour, underlined where the pointer or the focus is."""

from __future__ import annotations

from PySide6.QtCore import QSize, Qt
from PySide6.QtGui import QPainter, QPaintEvent, QPen
from PySide6.QtWidgets import QAbstractButton, QSizePolicy, QWidget
from typing_extensions import override

from ui.palette import colours
from ui.theme import theme

SIDE = 2


class Link(QAbstractButton):
    """One link; what does not fit is elided and stands whole in the tool tip."""

    def __init__(self, text: str, name: str, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setText(text)
        self.setAccessibleName(name)
        self.setToolTip(name)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setCursor(Qt.CursorShape.PointingHandCursor)
        self.setSizePolicy(QSizePolicy.Policy.Preferred, QSizePolicy.Policy.Fixed)
        self.setAttribute(Qt.WidgetAttribute.WA_Hover)
        theme().changed.connect(self.update)

    @override
    def sizeHint(self) -> QSize:
        return QSize(
            self.fontMetrics().horizontalAdvance(self.text()) + 2 * SIDE + 2, max(24, self.fontMetrics().height() + 6)
        )

    @override
    def minimumSizeHint(self) -> QSize:
        return QSize(60, self.sizeHint().height())

    @override
    def paintEvent(self, event: QPaintEvent) -> None:
        painter = QPainter(self)
        painter.setPen(QPen(colours().colour("accent"), 2))
        if self.hasFocus():
            painter.drawRect(self.rect().adjusted(-1, 1, -1, -1))
        font = self.font()
        font.setUnderline(self.underMouse() or self.hasFocus())
        painter.setFont(font)
        inner = self.rect().adjusted(0, 0, -SIDE, 0)
        text = self.fontMetrics().elidedText(self.text(), Qt.TextElideMode.ElideRight, inner.width())
        painter.drawText(inner, Qt.AlignmentFlag.AlignVCenter | Qt.AlignmentFlag.AlignLeft, text)
