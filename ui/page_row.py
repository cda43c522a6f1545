"""The row of pages, by their words, with the units switch at its end."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QHBoxLayout, QLabel, QToolButton, QWidget

if TYPE_CHECKING:
    from PySide6.QtGui import QAction, QActionGroup

SMALLEST = 28


class PageRow(QWidget):
    """Buttons of the page actions to the left, of the units actions to the right."""

    def __init__(self, pages: QActionGroup, units: QActionGroup) -> None:
        super().__init__()
        self.setObjectName("page_row")
        self.setAttribute(Qt.WidgetAttribute.WA_StyledBackground)
        self.setAccessibleName(self.tr("Pages and units"))
        row = QHBoxLayout(self)
        row.setContentsMargins(8, 0, 8, 0)
        row.setSpacing(0)
        for action in pages.actions():
            row.addWidget(_button(action, "page"))
        self.question = QLabel()
        self.question.setProperty("role", "quiet")
        row.addSpacing(16)
        row.addWidget(self.question, 1)
        for action in units.actions():
            row.addWidget(_button(action, "units"), 0, Qt.AlignmentFlag.AlignVCenter)


def _button(action: QAction, kind: str) -> QToolButton:
    button = QToolButton()
    button.setDefaultAction(action)
    button.setProperty("row", kind)
    button.setObjectName(f"row_{action.objectName()}")
    button.setText(action.text().replace("&", ""))
    button.setAccessibleName(action.text().replace("&", ""))
    button.setToolButtonStyle(Qt.ToolButtonStyle.ToolButtonTextOnly)
    button.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
    button.setMinimumSize(SMALLEST, SMALLEST)
    return button
