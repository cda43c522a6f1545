"""One entry of the list: icon, word and sentence; pressed, it goes to its spring and opens to its rule."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QFocusEvent, QKeyEvent, QMouseEvent, QPainter, QPaintEvent, QPen
from PySide6.QtWidgets import QGridLayout, QLabel, QWidget
from typing_extensions import override

from ui.icons import level_pixmap
from ui.level_words import level_word
from ui.palette import colours
from ui.theme import theme
from ui.widgets.wrapped_label import WrappedLabel

if TYPE_CHECKING:
    from ui.trust.entries import Entry

ENTER = (Qt.Key.Key_Return, Qt.Key.Key_Enter, Qt.Key.Key_Space)


class EntryRow(QWidget):
    """Shows an entry; it is told another one where the list changes, and made anew for none."""

    pressed = Signal(object)
    stepped = Signal(int)

    def __init__(self, entry: Entry, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.entry = entry
        self.opened = False
        self.setObjectName("trust_entry")
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setAttribute(Qt.WidgetAttribute.WA_Hover)
        self.setCursor(Qt.CursorShape.PointingHandCursor)
        self._sign = QLabel()
        self._sign.setFixedWidth(18)
        self.head, self.sentence, self.rule = WrappedLabel(role="quiet"), WrappedLabel(), WrappedLabel(role="quiet")
        rows = QGridLayout(self)
        rows.setContentsMargins(6, 5, 6, 5)
        rows.setHorizontalSpacing(6)
        rows.setVerticalSpacing(1)
        rows.addWidget(self._sign, 0, 0, Qt.AlignmentFlag.AlignTop)
        for place, label in enumerate((self.head, self.sentence, self.rule)):
            rows.addWidget(label, place, 1)
        rows.setColumnStretch(1, 1)
        theme().changed.connect(self._draw)
        self._tell()

    def show_entry(self, entry: Entry) -> None:
        """Show this one; another spring's comes closed."""
        if entry == self.entry:
            return
        if (entry.head, entry.spring, entry.part) != (self.entry.head, self.entry.spring, self.entry.part):
            self.opened = False
        self.entry = entry
        self._tell()

    def _tell(self) -> None:
        self.head.tell(self.entry.head)
        self.sentence.tell(self.entry.sentence)
        self.rule.tell(self.entry.rule if self.opened else "")
        word = level_word(self.entry.level)
        self.setAccessibleName(f"{word}. {self.entry.head}. {self.entry.sentence}")
        self.setAccessibleDescription(
            self.entry.rule if self.opened else self.tr("Enter goes to the spring and opens the rule.")
        )
        self._draw()

    def _draw(self) -> None:
        self._sign.setPixmap(level_pixmap(self.entry.level, 16))
        self.update()

    def set_open(self, opened: bool) -> None:
        """Show the rule, or put it away."""
        if opened != self.opened:
            self.opened = opened
            self._tell()

    def press(self) -> None:
        """Go to the spring and turn the rule."""
        self.set_open(not self.opened)
        self.pressed.emit(self.entry)

    @override
    def mouseReleaseEvent(self, event: QMouseEvent) -> None:
        if event.button() is Qt.MouseButton.LeftButton and self.rect().contains(event.position().toPoint()):
            self.press()
        super().mouseReleaseEvent(event)

    @override
    def keyPressEvent(self, event: QKeyEvent) -> None:
        key = Qt.Key(event.key())
        if key in ENTER:
            self.press()
        elif key in (Qt.Key.Key_Right, Qt.Key.Key_Left):
            self.set_open(key is Qt.Key.Key_Right)
        elif key in (Qt.Key.Key_Down, Qt.Key.Key_Up):
            self.stepped.emit(1 if key is Qt.Key.Key_Down else -1)
        else:
            super().keyPressEvent(event)

    @override
    def focusInEvent(self, event: QFocusEvent) -> None:
        super().focusInEvent(event)
        self.update()

    @override
    def focusOutEvent(self, event: QFocusEvent) -> None:
        super().focusOutEvent(event)
        self.update()

    @override
    def paintEvent(self, event: QPaintEvent) -> None:
        painter, of = QPainter(self), colours()
        if self.underMouse():
            painter.fillRect(self.rect(), of.colour("hover"))
        painter.setPen(QPen(of.colour("hairline"), 1))
        painter.drawLine(0, self.height() - 1, self.width(), self.height() - 1)
        if self.hasFocus():
            painter.setPen(QPen(of.colour("accent"), 2))
            painter.drawRect(self.rect().adjusted(1, 1, -1, -1))
