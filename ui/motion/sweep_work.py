"""What the sweep is doing: a bar and a button to stop it, or to go on where it was stopped."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import Qt, QTimer
from PySide6.QtGui import QKeySequence, QShortcut
from PySide6.QtWidgets import QHBoxLayout, QLabel, QProgressBar, QPushButton, QWidget

from ui.motion.sweeper import BANDS, INPUTS

if TYPE_CHECKING:
    from ui.motion.sweeper import Sweeper

SHOW_AFTER_MS = 250
"""Work that takes less is not told."""


class SweepWork(QWidget):
    """Appears where work takes a while, or was stopped, or could not be done."""

    def __init__(self, sweeper: Sweeper, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.sweeper = sweeper
        self.word, self.progress, self.button = QLabel(), QProgressBar(), QPushButton()
        self.word.setProperty("role", "quiet")
        self.word.setTextFormat(Qt.TextFormat.PlainText)
        self.progress.setRange(0, 100)
        self.progress.setTextVisible(False)
        self.progress.setFixedWidth(70)
        self.progress.setAccessibleName(self.tr("Progress of the sweep"))
        self.button.setObjectName("motion_work")
        self.button.setMinimumHeight(26)
        row = QHBoxLayout(self)
        row.setContentsMargins(0, 0, 0, 0)
        for part in (self.word, self.progress, self.button):
            row.addWidget(part)
        self._slow = QTimer(self)
        self._slow.setSingleShot(True)
        self._slow.setInterval(SHOW_AFTER_MS)
        self._slow.timeout.connect(self._appear)
        self.button.clicked.connect(self._pressed)
        self._escape: QShortcut | None = None
        sweeper.changed.connect(self.follow)
        sweeper.begun.connect(self.follow)
        sweeper.advanced.connect(self._advance)
        self.hide()

    def stop_from(self, page: QWidget) -> None:
        """Have Esc stop the work from anywhere in a page, while there is any."""
        self._escape = QShortcut(QKeySequence.StandardKey.Cancel, page)
        self._escape.setContext(Qt.ShortcutContext.WidgetWithChildrenShortcut)
        self._escape.setEnabled(False)
        self._escape.activated.connect(self._stop)

    def follow(self) -> None:
        """Tell what the sweep is doing now."""
        sweeper = self.sweeper
        if self._escape is not None:
            self._escape.setEnabled(sweeper.busy)
        if sweeper.busy:
            self._say_doing()
            if self.sweeper.tracking:  # one after the other while a hand drags: only one that itself takes long is told
                self.hide()
            if self.isHidden():
                self._slow.start()
            return
        self._slow.stop()
        if not (sweeper.failure or sweeper.stopped):
            self.hide()
            return
        self.word.setText(sweeper.failure or self.tr("Stopped."))
        self.progress.hide()
        self.button.setText(self.tr("Go on"))
        self.button.setToolTip(self.tr("Work the sweep out after all."))
        self.show()

    def _say_doing(self) -> None:
        doing = {BANDS: self.tr("Looking for bands"), INPUTS: self.tr("Changing each input")}
        self.word.setText(doing.get(self.sweeper.doing, self.tr("Sweeping")))
        self.button.setText(self.tr("Cancel"))
        self.button.setToolTip(self.tr("Stop the sweep: Esc."))
        self.progress.show()

    def _appear(self) -> None:
        if self.sweeper.busy:
            self.progress.setValue(round(100 * self.sweeper.share))
            self.show()

    def _advance(self, share: float) -> None:
        if self.isVisible():
            self.progress.setValue(round(100 * share))

    def _pressed(self) -> None:
        if self.sweeper.busy:
            self.sweeper.cancel()
        else:
            self.sweeper.again()

    def _stop(self) -> None:
        if self.sweeper.busy:
            self.sweeper.cancel()
