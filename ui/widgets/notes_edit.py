"""The editor of longer text: several lines, committed on leaving."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import Qt
from PySide6.QtGui import QFocusEvent, QKeyEvent, QKeySequence
from PySide6.QtWidgets import QLabel, QPlainTextEdit, QVBoxLayout, QWidget
from typing_extensions import override

from loadbench.job.edits import value_at
from ui.labels import label_of

if TYPE_CHECKING:
    from ui.session import Session
    from ui.state import State


class NotesEdit(QPlainTextEdit):
    """A text of several lines, exactly as typed."""

    def __init__(self, session: Session, field: str, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.session, self.field = session, field
        self._shown = ""
        self.setObjectName(field.replace(".", "__"))
        self.setProperty("field", field)
        self.setAccessibleName(label_of(field))
        self.setTabChangesFocus(True)
        self.setFixedHeight(3 * self.fontMetrics().lineSpacing() + 16)
        session.changed.connect(self._show)
        self._show(session.state)

    def _show(self, state: State) -> None:
        text = value_at(state.job, self.field) or ""
        if text != self._shown:
            self._shown = text
            self.setPlainText(text)

    def commit(self) -> None:
        """Make what is typed the job's."""
        text = self.toPlainText()
        if text != self._shown:
            self._shown = text
            self.session.set_field(self.field, text or None)

    @override
    def focusOutEvent(self, event: QFocusEvent) -> None:
        super().focusOutEvent(event)
        if event.reason() is not Qt.FocusReason.PopupFocusReason:
            self.commit()

    @override
    def keyPressEvent(self, event: QKeyEvent) -> None:
        if event.key() == Qt.Key.Key_Escape:
            self.setPlainText(self._shown)
        elif event.matches(QKeySequence.StandardKey.Undo) and not self.document().isUndoAvailable():
            self.session.undo_stack.undo()
        else:
            super().keyPressEvent(event)


class NotesField(QWidget):
    """Longer text with its label above."""

    def __init__(self, session: Session, field: str, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.field = field
        self.editor = NotesEdit(session, field)
        self.label = QLabel(label_of(field))
        self.label.setBuddy(self.editor)
        rows = QVBoxLayout(self)
        rows.setContentsMargins(0, 1, 0, 1)
        rows.setSpacing(2)
        rows.addWidget(self.label)
        rows.addWidget(self.editor)
