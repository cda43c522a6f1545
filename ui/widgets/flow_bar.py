"""A row of small tools that wraps where the window is narrow, so that nothing is cut."""

from __future__ import annotations

from PySide6.QtCore import QPoint, QRect, QSize, Qt
from PySide6.QtWidgets import QLayout, QLayoutItem, QSizePolicy, QWidget
from typing_extensions import override

GAP = 6


class FlowLayout(QLayout):
    """Items side by side, then on the next line."""

    def __init__(self, parent: QWidget, *, last_right: bool = False) -> None:
        super().__init__(parent)
        self._last_right = last_right
        self._items: list[QLayoutItem] = []
        self.setContentsMargins(0, 0, 0, 0)

    @override
    def addItem(self, item: QLayoutItem) -> None:
        self._items.append(item)

    @override
    def count(self) -> int:
        return len(self._items)

    @override
    def itemAt(self, index: int) -> QLayoutItem | None:
        return self._items[index] if 0 <= index < len(self._items) else None

    @override
    def takeAt(self, index: int) -> QLayoutItem | None:
        return self._items.pop(index) if 0 <= index < len(self._items) else None

    @override
    def expandingDirections(self) -> Qt.Orientation:
        return Qt.Orientation(0)

    @override
    def hasHeightForWidth(self) -> bool:
        return True

    @override
    def heightForWidth(self, width: int) -> int:
        return self._place(QRect(0, 0, width, 0), move=False)

    @override
    def setGeometry(self, rect: QRect) -> None:
        super().setGeometry(rect)
        self._place(rect, move=True)

    @override
    def sizeHint(self) -> QSize:
        return self.minimumSize()

    @override
    def minimumSize(self) -> QSize:
        size = QSize()
        for item in self._items:
            size = size.expandedTo(item.minimumSize())
        return size

    def _place(self, rect: QRect, *, move: bool) -> int:
        x, y, line = rect.x(), rect.y(), 0
        for item in self._items:
            size = item.sizeHint()
            if x + size.width() > rect.right() + 1 and line:
                x, y, line = rect.x(), y + line + GAP, 0
            if self._last_right and item is self._items[-1]:
                x = max(x, rect.right() + 1 - size.width())
            if move:
                item.setGeometry(QRect(QPoint(x, y), size))
            x, line = x + size.width() + GAP, max(line, size.height())
        return y + line - rect.y()


class FlowBar(QWidget):
    """A bar of tools; the last one may stand at the right end."""

    def __init__(self, parent: QWidget | None = None, *, last_right: bool = False) -> None:
        super().__init__(parent)
        self._flow = FlowLayout(self, last_right=last_right)
        self.setSizePolicy(QSizePolicy.Policy.Preferred, QSizePolicy.Policy.Minimum)

    def add(self, widget: QWidget) -> None:
        """Put one more tool at the end."""
        self._flow.addWidget(widget)
