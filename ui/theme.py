"""Light or dark: the user's choice or the system's, applied to the whole application."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from enum import StrEnum

from PySide6.QtCore import QObject, Qt, Signal
from PySide6.QtGui import QGuiApplication
from PySide6.QtWidgets import QApplication

from ui import palette
from ui.palette import DARK, LIGHT, Colours, qt_palette
from ui.stylesheet import stylesheet


class Choice(StrEnum):
    """What the user asked for."""

    SYSTEM = "system"
    LIGHT = "light"
    DARK = "dark"


class Theme(QObject):
    """The theme on show; `changed` comes after the colours are in place."""

    changed = Signal()

    def __init__(self) -> None:
        super().__init__()
        self.choice = Choice.SYSTEM
        self._shown: Colours | None = None
        self._sheet_waits = False
        QGuiApplication.styleHints().colorSchemeChanged.connect(self.follow)

    def choose(self, choice: Choice) -> None:
        """Take the user's choice."""
        self.choice = choice
        self.follow(QGuiApplication.styleHints().colorScheme())

    def follow(self, scheme: Qt.ColorScheme) -> None:
        """Show what the choice, or with Choice.SYSTEM the system's scheme, asks for."""
        dark = self.choice is Choice.DARK or (self.choice is Choice.SYSTEM and scheme is Qt.ColorScheme.Dark)
        wanted = DARK if dark else LIGHT
        if wanted is self._shown:
            return
        self._shown = wanted
        palette.show(wanted)
        application = QApplication.instance()
        if isinstance(application, QApplication):
            if not self._sheet_waits:
                # Off, then on: each widget is styled twice. A sheet laid over another styles each one again for every
                # widget above it, ten times and more.
                application.setStyleSheet("")
            application.setPalette(qt_palette(wanted))
            if not self._sheet_waits:
                application.setStyleSheet(stylesheet(wanted))
        self.changed.emit()

    @contextmanager
    def sheet_last(self) -> Iterator[None]:
        """Within it colours change but the style sheet comes at the end.

        Qt styles a widget anew each time it is put into another: a window built under the sheet takes 0.2 s more.
        """
        self._sheet_waits = True
        _dress("")
        try:
            yield
        finally:
            self._sheet_waits = False
            if self._shown is not None:
                _dress(stylesheet(self._shown))


def _dress(sheet: str) -> None:
    application = QApplication.instance()
    if isinstance(application, QApplication):
        application.setStyleSheet(sheet)


_theme: Theme | None = None


def theme() -> Theme:
    """The one theme of the program; made when first asked for, once there is an application."""
    global _theme  # noqa: PLW0603 - one application, one theme
    if _theme is None:
        _theme = Theme()
    return _theme
