"""Work under way, on the status line: what it is, how far, and a way to stop it."""

from __future__ import annotations

from PySide6.QtCore import QTimer
from PySide6.QtWidgets import QHBoxLayout, QLabel, QProgressBar, QPushButton, QWidget

from ui.desk import Desk

SHOW_AFTER_MS = 300


class WorkBar(QWidget):
    """Follows one desk; seen only when the work takes a while."""

    def __init__(self, desk: Desk) -> None:
        super().__init__()
        self._desk = desk
        self._label = QLabel()
        self._bar = QProgressBar()
        self._bar.setFixedWidth(140)
        self._bar.setAccessibleName(self.tr("Progress"))
        cancel = QPushButton(self.tr("Cancel"))
        cancel.setObjectName("cancel_work")
        cancel.clicked.connect(self.cancel)
        row = QHBoxLayout(self)
        row.setContentsMargins(0, 0, 0, 0)
        for widget in (self._label, self._bar, cancel):
            row.addWidget(widget)
        self._wait = QTimer(self)
        self._wait.setSingleShot(True)
        self._wait.setInterval(SHOW_AFTER_MS)
        self._wait.timeout.connect(self.show)
        desk.progress.connect(self._advance)
        desk.done.connect(self._end)
        desk.failed.connect(self._end)
        self.hide()

    def begin(self, what: str) -> None:
        """Say what has begun."""
        self._label.setText(what)
        self._bar.setRange(0, 0)
        self._wait.start()

    def cancel(self) -> None:
        """Stop the work."""
        self._desk.cancel()
        self._end()

    def _advance(self, share: float) -> None:
        self._bar.setRange(0, 100)
        self._bar.setValue(round(100 * share))

    def _end(self, _answer: object = None) -> None:
        self._wait.stop()
        self.hide()
