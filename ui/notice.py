"""A bar above the page that says what happened and offers what can be done; it never stands in the way."""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QFrame, QHBoxLayout, QLabel, QPushButton, QVBoxLayout, QWidget

from loadbench.findings import Level
from ui.icons import level_pixmap
from ui.let_go import let_go
from ui.theme import theme

Offer = tuple[str, Callable[[], object]]
MOST_LINES = 8


class Notice(QFrame):
    """One message with its buttons."""

    def __init__(self, level: Level, text: str, offers: tuple[Offer, ...], closed: Callable[[], object]) -> None:
        super().__init__()
        self.setObjectName("notice")
        self.setFrameShape(QFrame.Shape.StyledPanel)
        self.text = text
        self._level = level
        self._sign = QLabel()
        self._sign.setAccessibleName(str(level))
        self.label = _plain_label(text)
        row = QHBoxLayout(self)
        row.setContentsMargins(12, 6, 12, 6)
        row.setSpacing(10)
        row.addWidget(self._sign, 0, Qt.AlignmentFlag.AlignTop)
        row.addWidget(self.label, 1)
        self.buttons = [_button(words, run, closed) for words, run in (*offers, (self.tr("Close"), lambda: None))]
        for button in self.buttons:
            row.addWidget(button, 0, Qt.AlignmentFlag.AlignTop)
        theme().changed.connect(self._draw)
        self._draw()

    def _draw(self) -> None:
        self._sign.setPixmap(level_pixmap(self._level, 16))


def _plain_label(text: str) -> QLabel:
    lines = text.splitlines()
    shown = lines if len(lines) <= MOST_LINES else [*lines[: MOST_LINES - 1], "…"]
    label = QLabel("\n".join(shown))
    label.setTextFormat(Qt.TextFormat.PlainText)
    label.setTextInteractionFlags(Qt.TextInteractionFlag.TextSelectableByMouse)
    label.setWordWrap(True)
    return label


def _button(words: str, run: Callable[[], object], closed: Callable[[], object]) -> QPushButton:
    button = QPushButton(words)
    button.setMinimumHeight(26)

    def pressed() -> None:
        closed()
        run()

    button.clicked.connect(pressed)
    return button


class NoticeArea(QWidget):
    """Where notices stand, the newest below."""

    def __init__(self) -> None:
        super().__init__()
        self._column = QVBoxLayout(self)
        self._column.setContentsMargins(8, 4, 8, 0)
        self._column.setSpacing(4)
        self.hide()

    def tell(self, level: Level, text: str, *offers: Offer) -> Notice:
        """Show a notice.

        Args:
            level: how serious it is.
            text: plain text, a sentence to a line.
            offers: pairs of a verb and what it does; Close is always there.
        """
        for old in self.notices():
            if old.text == text:
                self.drop(old)  # the same once more stands there once
        notice = Notice(level, text, offers, lambda: self.drop(notice))
        self._column.addWidget(notice)
        self.show()
        return notice

    def drop(self, notice: QWidget) -> None:
        """Take a notice away."""
        self._column.removeWidget(notice)
        notice.hide()
        let_go(notice)
        self.setVisible(self._column.count() > 0)

    def notices(self) -> list[Notice]:
        """Those on show."""
        items = (self._column.itemAt(index) for index in range(self._column.count()))
        return [widget for item in items if item is not None and isinstance(widget := item.widget(), Notice)]

    def clear(self) -> None:
        """Take all away."""
        for notice in self.notices():
            self.drop(notice)
