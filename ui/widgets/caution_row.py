"""A caution where the work can hurt someone: the eye, the word and the sentence, always on show."""

from __future__ import annotations

from PySide6.QtCore import QCoreApplication, Qt
from PySide6.QtWidgets import QHBoxLayout, QLabel, QWidget

from loadbench.findings.finding import Level
from ui.icons import level_pixmap
from ui.theme import theme
from ui.widgets.wrapped_label import WrappedLabel


class CautionRow(QWidget):
    """One sentence of `loadbench.report.cautions`."""

    def __init__(self, caution: str, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setObjectName("caution")
        self._sign = QLabel()
        text = QCoreApplication.translate("Cautions", caution)
        self.label = WrappedLabel(self.tr("Caution: {text}").format(text=text))
        self.label.setTextInteractionFlags(Qt.TextInteractionFlag.TextSelectableByMouse)
        self._sign.setAccessibleName(self.tr("Caution"))
        row = QHBoxLayout(self)
        row.setContentsMargins(8, 1, 8, 1)
        row.setSpacing(6)
        row.addWidget(self._sign, 0, Qt.AlignmentFlag.AlignTop)
        row.addWidget(self.label, 1)
        theme().changed.connect(self._draw)
        self._draw()

    def _draw(self) -> None:
        self._sign.setPixmap(level_pixmap(Level.WATCH, 16))
