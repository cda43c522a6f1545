"""A plain-text label that wraps; it measures a text once for each width, so that many of them stay quick."""

from __future__ import annotations

from PySide6.QtCore import QEvent, Qt
from PySide6.QtWidgets import QLabel, QWidget
from typing_extensions import override


class WrappedLabel(QLabel):
    """Text that may come from a user, on as many lines as it needs."""

    def __init__(self, text: str = "", role: str = "", parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._heights: dict[int, int] = {}
        self.setTextFormat(Qt.TextFormat.PlainText)
        self.setWordWrap(True)
        self.setMinimumWidth(40)
        if role:
            self.setProperty("role", role)
        self.tell(text)

    def tell(self, text: str) -> None:
        """Show another text; hidden while there is none. A value and its unit stay on one line."""
        text = text.replace("\u2009", "\u202f")
        if text != self.text():
            self._heights.clear()
            self.setText(text)
        if not text:
            self.hide()
        elif self.isHidden() and self.parentWidget() is not None:
            self.show()  # without a parent it would come up as a window of its own

    @override
    def changeEvent(self, event: QEvent) -> None:
        if event.type() in (QEvent.Type.FontChange, QEvent.Type.StyleChange):
            self._heights.clear()
        super().changeEvent(event)

    @override
    def heightForWidth(self, width: int) -> int:
        if width not in self._heights:
            self._heights[width] = super().heightForWidth(width)
        return self._heights[width]
