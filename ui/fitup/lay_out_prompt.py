"""What stands in the picture's place while no valve is stated: how many cylinders, and one button."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import QSize, Qt, Signal
from PySide6.QtWidgets import QComboBox, QFormLayout, QHBoxLayout, QLabel, QPushButton, QVBoxLayout, QWidget
from typing_extensions import override

from ui.widgets.quantity_edit import WholeEdit

if TYPE_CHECKING:
    from PySide6.QtGui import QKeyEvent

    from ui.session import Session

EACH = (2, 4)


class CylindersEdit(WholeEdit):
    """The number of cylinders; Enter goes on to laying out."""

    entered = Signal()

    @override
    def keyPressEvent(self, event: QKeyEvent) -> None:
        super().keyPressEvent(event)
        if event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
            self.entered.emit()


class LayOutPrompt(QWidget):
    """Asks for what laying out needs."""

    wanted = Signal()

    def __init__(self, session: Session, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.session = session
        self.cylinders = CylindersEdit(session, "engine.cylinders")
        self.cylinders.setObjectName("fitup__engine__cylinders")
        self.cylinders.setProperty("field", None)  # its first place is on the Bench page
        self.cylinders.entered.connect(self.wanted)
        self.each = QComboBox()
        self.each.setObjectName("fitup_valves_each")
        self.each.setAccessibleName(self.tr("Valves to a cylinder"))
        for number in EACH:
            self.each.addItem(str(number), number)
        self.button = QPushButton()
        self.button.setObjectName("fitup_start")
        self.button.setMinimumSize(QSize(120, 28))
        self.button.clicked.connect(self.wanted)
        self.each.currentIndexChanged.connect(self.show_count)
        self._lay_out()
        self.show_count()

    def _lay_out(self) -> None:
        told = QLabel(
            self.tr(
                "No valves yet. Lay them out and type each bare height, or paste a table of valves and heights"
                " into the grid below."
            )
        )
        told.setWordWrap(True)
        told.setAlignment(Qt.AlignmentFlag.AlignCenter)
        form = QFormLayout()
        form.addRow(self.tr("Cylinders"), self.cylinders)
        form.addRow(self.tr("Valves to a cylinder"), self.each)
        self.cylinders.setFixedWidth(80)
        self.each.setFixedWidth(80)
        rows = QVBoxLayout(self)
        rows.addStretch(1)
        rows.addWidget(told)
        for part in (form, self.button):
            across = QHBoxLayout()
            across.addStretch(1)
            if isinstance(part, QFormLayout):
                across.addLayout(part)
            else:
                across.addWidget(part)
            across.addStretch(1)
            rows.addLayout(across)
        rows.addStretch(2)

    @property
    def valves_each(self) -> int:
        """How many valves a cylinder has."""
        return int(self.each.currentData())

    def show_count(self) -> None:
        """Say on the button how many valves it makes."""
        cylinders = self.session.state.job.engine.cylinders
        text = self.tr("Lay out the valves")
        if cylinders:
            text = self.tr("Lay out {count} valves").format(count=cylinders * self.valves_each)
        self.button.setText(text)
