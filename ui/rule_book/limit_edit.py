"""The editor of one limit: a value in any unit of its kind, a percentage or a number; judged while typing."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QLineEdit, QWidget
from typing_extensions import override

from loadbench.analysis.figure import FigureKind, told
from loadbench.errors import AmbiguousEntry, InputError, UnfinishedEntry
from loadbench.findings.rulebook import limit_value
from loadbench.units import Kind, Style, with_unit
from ui.widgets.entry_edit import Judgement, Sign

if TYPE_CHECKING:
    from PySide6.QtGui import QFocusEvent, QKeyEvent


class HouseEdit(QLineEdit):
    """A text of a house's change: previews while typing, commits on Enter or leaving, restores on Esc."""

    typed = Signal(str)
    committed = Signal(str)
    dropped = Signal()

    def __init__(self, name: str, spoken: str, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setObjectName(name)
        self.setAccessibleName(spoken)
        self.setMinimumHeight(26)
        self._kept = ""
        self.textEdited.connect(self.typed)

    def show_text(self, text: str) -> None:
        """Show what is committed, unless it is being typed in."""
        if not (self.hasFocus() and self.text() != self._kept) and text != self.text():
            self.setText(text)
            self.setCursorPosition(0)
        self._kept = text

    def as_stored(self, text: str) -> str:
        """What is kept of a text."""
        return text.strip()

    def commit(self) -> None:
        """Hand over what was typed, if it differs."""
        text = self.as_stored(self.text())
        if text == self._kept:
            self.setText(self._kept)
            self.dropped.emit()
            return
        self._kept = text
        self.setText(text)
        self.committed.emit(text)

    @override
    def focusOutEvent(self, event: QFocusEvent) -> None:
        super().focusOutEvent(event)
        if event.reason() is not Qt.FocusReason.PopupFocusReason:
            self.commit()

    @override
    def keyPressEvent(self, event: QKeyEvent) -> None:
        if event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
            self.commit()
            self.selectAll()
        elif event.key() == Qt.Key.Key_Escape and self.text() != self._kept:
            self.setText(self._kept)
            self.dropped.emit()
        else:
            super().keyPressEvent(event)


class LimitEdit(HouseEdit):
    """One value of a limit."""

    def __init__(self, kind: FigureKind, style: Style, name: str, spoken: str) -> None:
        super().__init__(name, spoken)
        self.kind, self.style_on_show = kind, style

    @override
    def as_stored(self, text: str) -> str:
        return stored_limit(text, self.kind, self.style_on_show)

    def judge(self) -> Judgement:
        """How what stands here stands."""
        return judged_limit(self.text(), self.kind, self.style_on_show, typing=self.hasFocus())


def stored_limit(text: str, kind: FigureKind, style: Style) -> str:
    """A limit as it is kept: a bare quantity gets the unit on show, a bare share its percent sign; else as typed."""
    typed = text.strip()
    if not typed:
        return ""
    if isinstance(kind, Kind):
        try:
            return with_unit(typed, kind, style)
        except InputError:
            return typed  # kept as typed; the book tells it
    return f"{typed} %" if told(0.0, kind, style).unit == "%" and not typed.endswith("%") else typed


def judged_limit(text: str, kind: FigureKind, style: Style, *, typing: bool) -> Judgement:
    """How a limit's text stands; an unfinished one that is still being typed is not wrong yet."""
    if not text.strip():
        return Judgement()
    try:
        limit_value(stored_limit(text, kind, style), kind, style)
    except UnfinishedEntry as error:
        sign = Sign.UNFINISHED if typing else Sign.WRONG
        return Judgement(sign=sign, what="" if typing else error.what, expected=error.expected)
    except AmbiguousEntry as error:
        return Judgement(sign=Sign.WRONG, what=error.what, expected=error.expected)
    except InputError as error:
        what = error.what[:1].upper() + error.what[1:]
        return Judgement(sign=Sign.WRONG, what=what, expected=error.expected)
    return Judgement()
