"""How many pass, fail and are unknown, as switches to the next spring of that kind."""

from __future__ import annotations

from functools import partial

from PySide6.QtCore import QSize, Qt, Signal
from PySide6.QtWidgets import QToolButton, QWidget

from loadbench.findings.finding import Level
from loadbench.findings.set_check.result import SetCheck
from ui.icons import level_icon
from ui.theme import theme
from ui.widgets.flow_bar import FlowBar

LEVELS = (Level.CLEAR, Level.STOP, Level.UNKNOWN)


class CountRow(FlowBar):
    """Three counts with icon and word, side by side, or one beneath the other where there is no room."""

    asked = Signal(object)  # Level

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.buttons = {level: self._button(level) for level in LEVELS}
        for button in self.buttons.values():
            self.add(button)
        theme().changed.connect(self._draw)
        self._draw()

    def _button(self, level: Level) -> QToolButton:
        button = QToolButton()
        button.setObjectName(f"trust_count_{level}")
        button.setToolButtonStyle(Qt.ToolButtonStyle.ToolButtonTextBesideIcon)
        button.setIconSize(QSize(16, 16))
        button.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        button.setMinimumHeight(26)
        button.clicked.connect(partial(self._ask, level))
        return button

    def _ask(self, level: Level, _checked: bool = False) -> None:
        self.asked.emit(level)

    def show_check(self, check: SetCheck) -> None:
        """Tell the counts."""
        words = {
            Level.CLEAR: (self.tr("{count} pass"), check.passed),
            Level.STOP: (self.tr("{count} fail"), check.failed),
            Level.UNKNOWN: (self.tr("{count} unknown"), check.unknown),
        }
        for level, (text, count) in words.items():
            told = text.format(count=count)
            self.buttons[level].setText(told)
            self.buttons[level].setAccessibleName(told)
            self.buttons[level].setToolTip(self.tr("Go to the next of them and light them all up"))

    def _draw(self) -> None:
        for level, button in self.buttons.items():
            button.setIcon(level_icon(level))
