"""A plain-text label that wraps; it measures a text once for each width, so that many of them stay quick."""

from __future__ import annotations

from collections.abc import Callable, Hashable
from typing import TypeVar

from PySide6.QtCore import QEvent, QSize, Qt
from PySide6.QtGui import QFontMetricsF
from PySide6.QtWidgets import QLabel, QWidget
from typing_extensions import override

T = TypeVar("T", int, QSize)

DIGITS = "0123456789"
ZEROS = str.maketrans(DIGITS, "0" * len(DIGITS))


class WrappedLabel(QLabel):
    """Text that may come from a user, on as many lines as it needs."""

    def __init__(self, text: str = "", role: str = "", parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._measures: dict[Hashable, int | QSize] = {}  # of `_shape`, in the font of now
        self._shape = ""
        self._even: bool | None = None  # whether all digits of the font are equally wide; None: not looked yet
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
            shape = self._shape_of(text)
            if shape != self._shape:
                self._measures.clear()
                self._shape = shape
            self.setText(text)
        if not text:
            self.hide()
        elif self.isHidden() and self.parentWidget() is not None:
            self.show()  # without a parent it would come up as a window of its own

    # Measures: an edit mostly changes digits only, and with digits of one width every line breaks where it did

    def _shape_of(self, text: str) -> str:
        if self._even is None:
            metrics = QFontMetricsF(self.font())
            self._even = len({metrics.horizontalAdvance(digit) for digit in DIGITS}) == 1
        return text.translate(ZEROS) if self._even else text

    def _measured(self, key: Hashable, measure: Callable[[], T]) -> T:
        found = self._measures.get(key)
        if found is None:
            found = self._measures[key] = measure()
        return found  # type: ignore[return-value]  # each key has its own type

    @override
    def changeEvent(self, event: QEvent) -> None:
        if event.type() in (QEvent.Type.FontChange, QEvent.Type.StyleChange):
            self._measures.clear()
            self._even = None
            self._shape = self._shape_of(self.text())
        super().changeEvent(event)

    @override
    def heightForWidth(self, width: int) -> int:
        return self._measured(width, lambda: super(WrappedLabel, self).heightForWidth(width))

    @override
    def sizeHint(self) -> QSize:
        return QSize(self._measured("usual", super().sizeHint))

    @override
    def minimumSizeHint(self) -> QSize:
        return QSize(self._measured("least", super().minimumSizeHint))
