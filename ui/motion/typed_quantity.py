"""A quantity that is typed into a view and is no part of the job: any unit of its kind, told at the field."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QHBoxLayout, QLabel, QLineEdit, QWidget
from typing_extensions import override

from loadbench.errors import InputError
from loadbench.units import display_unit, nudged, parse, with_unit
from ui.widgets.entry_edit import Judgement, Sign
from ui.widgets.quantity_edit import judged

if TYPE_CHECKING:
    from PySide6.QtGui import QFocusEvent, QKeyEvent

    from loadbench.units import Kind, Style
    from ui.session import Session

STEPS = {Qt.Key.Key_Up: 1, Qt.Key.Key_Down: -1}
TALL = 26


class TypedEdit(QLineEdit):
    """The field: kept as typed, with the unit on show where none was; Esc empties it."""

    told = Signal(object)  # Judgement
    changed = Signal()  # another value, none, or a fault

    def __init__(self, session: Session, kind: Kind, name: str, least: float = 0.0) -> None:
        super().__init__()
        self.session, self.kind = session, kind
        self.least = least  # what it must be above, or zero and above where it is below zero
        self.value: float | None = None
        self.filled = False  # whether anything stands in it, right or wrong
        self.judgement = Judgement()
        self.setObjectName(name)
        self.setMinimumHeight(TALL)
        self.textEdited.connect(self._typed)
        session.styled.connect(self._restyled)

    def _typed(self, _text: str = "") -> None:
        self._judge(typing=True)

    def _restyled(self, _style: Style) -> None:
        self._judge(typing=False)

    def _judge(self, *, typing: bool) -> None:
        style, text = self.session.style, self.text()
        found = judged(text, self.kind, style, typing=typing)
        value = None
        if found.sign is Sign.FINE and text.strip():
            value = parse(with_unit(text, self.kind, style), self.kind, style).value
            if not (value > self.least or (self.least < 0 <= value)):
                wanted = self.tr("zero or more") if self.least < 0 else self.tr("more than zero")
                found = Judgement(sign=Sign.WRONG, what=self.tr("{text} cannot be.").format(text=text), expected=wanted)
                value = None
        others = found != self.judgement, value != self.value or bool(text.strip()) is not self.filled
        self.judgement, self.value, self.filled = found, value, bool(text.strip())
        if others[0]:
            self.setAccessibleDescription(found.what or found.remark)
            self.told.emit(found)
        if any(others):
            self.changed.emit()

    def take(self, text: str) -> None:
        """Have a text as if it had been typed and left."""
        self.setText(text)
        self._commit()

    def _commit(self) -> None:
        try:
            text = with_unit(self.text(), self.kind, self.session.style)
        except InputError:
            text = self.text()
        if text != self.text():
            self.setText(text)
            self.setCursorPosition(0)
        self._judge(typing=False)

    @override
    def focusOutEvent(self, event: QFocusEvent) -> None:
        super().focusOutEvent(event)
        if event.reason() is not Qt.FocusReason.PopupFocusReason:
            self._commit()

    @override
    def keyPressEvent(self, event: QKeyEvent) -> None:
        key = Qt.Key(event.key())
        if key in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
            self._commit()
            self.selectAll()
        elif key == Qt.Key.Key_Escape and self.text():
            self.take("")
        elif key in STEPS:
            self._nudge(STEPS[key] * (10 if event.modifiers() & Qt.KeyboardModifier.ShiftModifier else 1))
        else:
            super().keyPressEvent(event)

    def _nudge(self, steps: int) -> None:
        try:
            self.take(nudged(self.text().strip() or self.placeholderText(), self.kind, self.session.style, steps))
        except InputError:
            return


class TypedQuantity(QWidget):
    """The field with its word before it and its unit in quiet."""

    def __init__(self, session: Session, kind: Kind, name: str, word: str, tip: str, least: float = 0.0) -> None:
        super().__init__()
        self.session = session
        self.edit = TypedEdit(session, kind, name, least)
        self.edit.setAccessibleName(word)
        self.edit.setToolTip(tip)
        self.edit.setFixedWidth(self.fontMetrics().horizontalAdvance("0") * 11)
        label, self.unit = QLabel(word), QLabel()
        label.setBuddy(self.edit)
        for quiet in (label, self.unit):
            quiet.setProperty("role", "quiet")
        row = QHBoxLayout(self)
        row.setContentsMargins(0, 0, 6, 0)
        row.setSpacing(5)
        for part in (label, self.edit, self.unit):
            row.addWidget(part)
        session.styled.connect(self._say_unit)
        self._say_unit(session.style)

    def _say_unit(self, style: Style) -> None:
        self.unit.setText(display_unit(self.edit.kind, style))
