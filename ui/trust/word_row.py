"""A row of words of which one holds: what to show. Left and right go from word to word."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QButtonGroup, QToolButton, QWidget
from typing_extensions import override

from ui.widgets.flow_bar import FlowBar

if TYPE_CHECKING:
    from collections.abc import Iterable

    from PySide6.QtGui import QKeyEvent

STEPS = {Qt.Key.Key_Right: 1, Qt.Key.Key_Left: -1}


class _Word(QToolButton):
    """One word; the arrow keys go on to its neighbours."""

    stepped = Signal(int)

    @override
    def keyPressEvent(self, event: QKeyEvent) -> None:
        step = STEPS.get(Qt.Key(event.key()))
        if step is None:
            super().keyPressEvent(event)
        else:
            self.stepped.emit(step)


class WordRow(FlowBar):
    """Words side by side, on the next line where there is no room."""

    chosen = Signal(str)

    def __init__(
        self,
        name: str,
        words: Iterable[tuple[str, str, str]],
        parent: QWidget | None = None,
        *,
        last_right: bool = False,
    ) -> None:
        super().__init__(parent, last_right=last_right)
        self.setObjectName(name)
        self.buttons: dict[str, QToolButton] = {}
        self._group = QButtonGroup(self)
        for key, word, tip in words:
            self.add(self._button(key, word, tip))
        next(iter(self.buttons.values())).setChecked(True)
        self._group.buttonToggled.connect(self._toggled)

    def _button(self, key: str, word: str, tip: str) -> QToolButton:
        button = self.buttons[key] = _Word()
        button.setObjectName(f"{self.objectName()}_{key}")
        button.setText(word)
        button.setToolTip(tip)
        button.setAccessibleName(word)
        button.setAccessibleDescription(tip)
        button.setProperty("row", "units")
        button.setCheckable(True)
        button.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        button.setMinimumHeight(26)
        button.stepped.connect(self._step)
        self._group.addButton(button)
        return button

    @property
    def key(self) -> str:
        """The word that holds."""
        return next(key for key, button in self.buttons.items() if button.isChecked())

    def choose(self, key: str) -> None:
        """Make a word hold."""
        self.buttons[key].setChecked(True)

    def _step(self, by: int) -> None:
        keys = list(self.buttons)
        place = keys.index(self.key) + by
        if 0 <= place < len(keys):
            self.choose(keys[place])
            self.buttons[keys[place]].setFocus(Qt.FocusReason.OtherFocusReason)

    def _toggled(self, _button: object, on: bool) -> None:
        if on:
            self.chosen.emit(self.key)
