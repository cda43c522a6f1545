"""Before a printout is there: how to bring one in; and where one was refused, why."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QHBoxLayout, QLabel, QPushButton, QVBoxLayout, QWidget

from loadbench.findings.finding import Level
from ui.icons import level_pixmap
from ui.theme import theme
from ui.widgets.wrapped_label import WrappedLabel

if TYPE_CHECKING:
    from PySide6.QtWidgets import QLayout

WIDEST = 560


class WaitingPage(QWidget):
    """Says what can be read, or why something was not."""

    file_wanted = Signal()
    paste_wanted = Signal()

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._sign = QLabel()
        self._sign.setPixmap(level_pixmap(Level.STOP, 24))
        self.head = WrappedLabel(role="heading")
        self.head.setObjectName("printout_head")
        self.told = WrappedLabel()
        self.told.setObjectName("printout_told")
        self.file_button = self._button("printout_choose", self.tr("Choose a file…"))
        self.paste_button = self._button("printout_paste", self.tr("Paste from the clipboard"))
        self.file_button.clicked.connect(self.file_wanted)
        self.paste_button.clicked.connect(self.paste_wanted)
        middle = QWidget()
        middle.setFixedWidth(WIDEST)
        rows = QVBoxLayout(middle)
        rows.setSpacing(8)
        rows.addLayout(self._top())
        rows.addWidget(self.told)
        rows.addLayout(self._buttons())
        whole = QVBoxLayout(self)
        whole.addStretch(1)
        across = QHBoxLayout()
        across.addStretch(1)
        across.addWidget(middle)
        across.addStretch(1)
        whole.addLayout(across)
        whole.addStretch(2)
        theme().changed.connect(self._draw)
        self.invite()

    def _button(self, name: str, text: str) -> QPushButton:
        button = QPushButton(text)
        button.setObjectName(name)
        button.setMinimumHeight(28)
        return button

    def _top(self) -> QLayout:
        row = QHBoxLayout()
        row.setSpacing(8)
        row.addWidget(self._sign, 0, Qt.AlignmentFlag.AlignTop)
        row.addWidget(self.head, 1)
        return row

    def _buttons(self) -> QLayout:
        row = QHBoxLayout()
        row.addWidget(self.file_button)
        row.addWidget(self.paste_button)
        row.addStretch(1)
        return row

    def invite(self) -> None:
        """Say what can be read."""
        self._sign.hide()
        self.head.tell(self.tr("Read the printout of a spring tester"))
        self.told.tell(
            self.tr(
                "A file (CSV, tabs, columns of blanks, or a workbook .xlsx) or text from the clipboard; a file can be "
                "dropped here too. A row may hold a spring or a single reading. Nothing goes into the job before you "
                "have seen what was understood."
            )
        )

    def refuse(self, name: str, why: str) -> None:
        """Say why something is no printout."""
        self._sign.show()
        head = (
            self.tr("{name} was not read; nothing was changed.") if name else self.tr("The pasted text was not read.")
        )
        self.head.tell(self.tr("Stop: {what}").format(what=head.format(name=name)))
        self.told.tell(why)

    def _draw(self) -> None:
        self._sign.setPixmap(level_pixmap(Level.STOP, 24))
