"""What a page shows while it has nothing to draw: what it waits for, and the button that leads there."""

from __future__ import annotations

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QLabel, QPushButton, QVBoxLayout, QWidget

from ui.labels import common_path, label_of, translated


class WaitingPage(QWidget):
    """A sentence and one button, a little above the middle."""

    wanted = Signal()
    """The button was pressed: the field that is waited for is to be shown."""

    def __init__(self, button_name: str, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.needs = QLabel()
        self.button = QPushButton()
        self.needs.setTextFormat(Qt.TextFormat.PlainText)
        self.needs.setWordWrap(True)
        self.needs.setAlignment(Qt.AlignmentFlag.AlignCenter)
        self.button.setObjectName(button_name)
        self.button.clicked.connect(self.wanted)
        column = QVBoxLayout(self)
        column.addStretch(2)
        column.addWidget(self.needs)
        column.addWidget(self.button, 0, Qt.AlignmentFlag.AlignHCenter)
        column.addStretch(3)

    def tell(self, sentence: str, field: str) -> None:
        """Say what is waited for.

        Args:
            sentence: with "{name}" where the field's name belongs.
            field: dotted path of the field.
        """
        name = named(field)
        self.needs.setText(sentence.format(name=name))
        self.button.setText(self.tr("Enter {name}").format(name=name))


ALONE = {"follower.family": "Follower family"}
"""Labels that stand beside the head of their card, as they are told away from it."""


def named(field: str) -> str:
    """What a field is called within a sentence, away from its card."""
    alone = ALONE.get(common_path(field))
    return within(label_of(field) if alone is None else translated(alone))


def within(label: str) -> str:
    """A label as it stands within a sentence."""
    return label[:1].lower() + label[1:]
