"""What is told beneath a field: icon, word and sentence of a fault, the two readings of a doubtful entry, a remark."""

from __future__ import annotations

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QGridLayout, QLabel, QPushButton, QWidget

from loadbench.findings.finding import Level
from ui.icons import level_pixmap
from ui.theme import theme
from ui.widgets.entry_edit import Judgement, Sign


class MessageRow(QWidget):
    """One judgement in words; hidden where there is nothing to say."""

    chosen = Signal(str)

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._icon = QLabel()
        self._icon.setFixedWidth(18)
        self.text = QLabel()
        self.text.setWordWrap(True)
        self.text.setTextFormat(Qt.TextFormat.PlainText)
        self._buttons = [QPushButton(), QPushButton()]
        rows = QGridLayout(self)
        rows.setContentsMargins(0, 0, 0, 2)
        rows.setSpacing(4)
        rows.addWidget(self._icon, 0, 0, Qt.AlignmentFlag.AlignTop)
        rows.addWidget(self.text, 0, 1, 1, 2)
        for column, button in enumerate(self._buttons):
            button.setMinimumHeight(24)
            button.clicked.connect(lambda _=False, pressed=button: self.chosen.emit(pressed.property("choice")))
            rows.addWidget(button, 1, 1 + column)
        rows.setColumnStretch(1, 1)
        rows.setColumnStretch(2, 1)
        self._sign = Sign.FINE
        theme().changed.connect(self._draw)
        self.tell(Judgement())

    def tell(self, judgement: Judgement) -> None:
        """Show one judgement; an unfinished entry has nothing to say yet."""
        self._sign = judgement.sign
        self.text.setText(self._words(judgement))
        role = "stop" if judgement.sign is Sign.WRONG else "quiet"
        if role != self.text.property("role"):
            self.text.setProperty("role", role)
            self.text.style().unpolish(self.text)
            self.text.style().polish(self.text)
        self._draw()
        for place, button in enumerate(self._buttons):
            has = place < len(judgement.choices)
            button.setVisible(has)
            if has:
                button.setText(judgement.choices[place])
                button.setProperty("choice", judgement.choices[place])
                button.setAccessibleName(self.tr("Take it as {choice}").format(choice=judgement.choices[place]))
        self.setVisible(bool(self.text.text()))

    def _words(self, judgement: Judgement) -> str:
        if judgement.sign is Sign.WRONG:
            if not judgement.expected:
                return self.tr("Wrong: {what}").format(what=judgement.what)
            text = self.tr("Wrong: {what} Wanted: {expected}.")
            return text.format(what=_ended(judgement.what), expected=judgement.expected)
        if judgement.sign is Sign.AMBIGUOUS:
            return self.tr("Which? {what}").format(what=_ended(judgement.what))
        return judgement.remark

    def _draw(self) -> None:
        level = {Sign.WRONG: Level.STOP, Sign.AMBIGUOUS: Level.UNKNOWN}.get(self._sign)
        self._icon.setVisible(level is not None)
        if level is not None:
            self._icon.setPixmap(level_pixmap(level, 16))


def _ended(what: str) -> str:
    return what if what.endswith((".", "?")) else f"{what}."
