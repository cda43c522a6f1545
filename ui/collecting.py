"""Python's collector on the window's thread only: a widget that ends on another thread stops the program for good.

Python collects on whatever thread makes the next object. Where a worker's turn comes, it would take apart rings that
hold widgets or items of a plot; Qt wants those to end on the window's thread, and waits for ever or crashes.
"""

from __future__ import annotations

import gc

from PySide6.QtCore import QObject, QTimer

LOOK_MS = 100
PUT_OFF = 3
"""A whole collection takes a tenth of a second; it waits for a quiet moment, up to so many times as long."""


class Collector(QObject):
    """Stands for the automatic collector from its making until `stop`."""

    def __init__(self, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._limits = gc.get_threshold()
        self._timer = QTimer(self)
        self._timer.setInterval(LOOK_MS)
        self._timer.timeout.connect(self.look)
        gc.disable()
        self._timer.start()

    def look(self) -> None:
        """Collect what the automatic collector would have by now."""
        limits, counts = self._limits, gc.get_count()
        quiet = counts[0] <= limits[0]
        if counts[2] > limits[2] * (1 if quiet else PUT_OFF):
            gc.collect(2)
        elif counts[1] > limits[1]:
            gc.collect(1)
        elif not quiet:
            gc.collect(0)

    def stop(self) -> None:
        """Give back to the automatic collector."""
        self._timer.stop()
        gc.enable()
