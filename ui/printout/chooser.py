"""A list of words to choose from: Enter opens it, the wheel over it scrolls the page, and it tells what it is."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import QSize, Qt
from PySide6.QtWidgets import QComboBox, QHBoxLayout, QLabel, QWidget
from typing_extensions import override

from ui.widgets.flow_bar import FlowBar

if TYPE_CHECKING:
    from collections.abc import Sequence

    from PySide6.QtGui import QKeyEvent, QWheelEvent

BAR_WIDTH = 880


class Chooser(QComboBox):
    """One choice; only what the user does emits `activated`. `letters`: the room it asks for; 0: that of its words."""

    def __init__(self, name: str, parent: QWidget | None = None, *, letters: int = 0) -> None:
        super().__init__(parent)
        self.setObjectName(name)
        self.setMinimumHeight(26)
        if letters:  # else it takes its own size again and again, whoever gave it another
            self.setMinimumContentsLength(letters)
            self.setSizeAdjustPolicy(QComboBox.SizeAdjustPolicy.AdjustToMinimumContentsLengthWithIcon)
        else:
            self.setSizeAdjustPolicy(QComboBox.SizeAdjustPolicy.AdjustToContents)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)

    def fill(self, choices: Sequence[tuple[str, object]], chosen: object) -> None:
        """Offer these choices, with one chosen; nothing happens where they stand already."""
        if [(self.itemText(place), self.itemData(place)) for place in range(self.count())] != list(choices):
            self.clear()
            for text, value in choices:
                self.addItem(text, value)
        places = (place for place, (_, value) in enumerate(choices) if value == chosen)
        self.setCurrentIndex(next(places, 0))

    @override
    def keyPressEvent(self, event: QKeyEvent) -> None:
        if event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
            self.showPopup()
        else:
            super().keyPressEvent(event)

    @override
    def wheelEvent(self, event: QWheelEvent) -> None:
        if self.hasFocus():
            super().wheelEvent(event)
        else:
            event.ignore()


class WideBar(FlowBar):
    """A bar that wraps, but asks for no more height than it needs at its least width."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setMinimumWidth(BAR_WIDTH)

    @override
    def sizeHint(self) -> QSize:
        return QSize(BAR_WIDTH, self.heightForWidth(max(BAR_WIDTH, self.width() if self.isVisible() else 0)))

    @override
    def minimumSizeHint(self) -> QSize:
        return self.sizeHint()


class NamedChooser(QWidget):
    """A chooser with its name before it."""

    def __init__(self, name: str, text: str, tip: str) -> None:
        super().__init__()
        self.box = Chooser(name)
        self.box.setAccessibleName(text)
        self.box.setToolTip(tip)
        label = QLabel(text)
        label.setBuddy(self.box)
        label.setProperty("role", "quiet")
        row = QHBoxLayout(self)
        row.setContentsMargins(0, 0, 6, 0)
        row.setSpacing(5)
        row.addWidget(label)
        row.addWidget(self.box)
