"""Tells a page when the window it stands in is closed, so that its threads go with it."""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING

from PySide6.QtCore import QEvent, QObject
from typing_extensions import override

if TYPE_CHECKING:
    from PySide6.QtWidgets import QWidget


class WindowWatch(QObject):
    """Watches one window at a time; `gone` is called when it is hidden by the program, not by the desktop."""

    def __init__(self, page: QWidget, gone: Callable[[], None]) -> None:
        super().__init__(page)
        self._gone = gone
        self._window: QWidget | None = None

    def watch(self, window: QWidget) -> None:
        """Watch the window in which the page stands now."""
        if window is self._window:
            return
        if self._window is not None:
            self._window.removeEventFilter(self)
        self._window = window
        window.installEventFilter(self)

    @override
    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        if event.type() is QEvent.Type.Hide and not event.spontaneous():
            self._gone()
        return False
