"""Boxes and rings to tick whose outline is seen in both themes; Qt's own is drawn darker than the ground."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtGui import QPalette
from PySide6.QtWidgets import QCheckBox, QRadioButton

from ui.palette import colours
from ui.theme import theme

if TYPE_CHECKING:
    from PySide6.QtWidgets import QWidget

LEAST = 24


class Tick(QCheckBox):
    """A box that is ticked or not."""

    def __init__(self, text: str, name: str, parent: QWidget | None = None) -> None:
        super().__init__(text, parent)
        self.setObjectName(name)
        self.setMinimumSize(LEAST, LEAST)
        theme().changed.connect(self._draw)
        self._draw()

    def _draw(self) -> None:
        self.setPalette(_outlined(self.palette()))


class Ring(QRadioButton):
    """One of several, of which one is chosen."""

    def __init__(self, text: str, name: str, parent: QWidget | None = None) -> None:
        super().__init__(text, parent)
        self.setObjectName(name)
        self.setMinimumSize(LEAST, LEAST)
        theme().changed.connect(self._draw)
        self._draw()

    def _draw(self) -> None:
        self.setPalette(_outlined(self.palette()))


def _outlined(palette: QPalette) -> QPalette:
    """Qt derives the outline from the ground's colour by darkening it."""
    shown = QPalette(palette)
    for role, name in (
        (QPalette.ColorRole.Window, "quiet"),
        (QPalette.ColorRole.WindowText, "ink"),
        (QPalette.ColorRole.Text, "ink"),
        (QPalette.ColorRole.Base, "panel"),
    ):
        shown.setColor(role, colours().colour(name))
    return shown
