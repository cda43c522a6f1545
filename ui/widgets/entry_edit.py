"""The line edit under every typed field: previews while typing, commits on Enter or leaving, restores on Esc."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from typing import TYPE_CHECKING

from PySide6.QtCore import QEvent, Qt, Signal
from PySide6.QtGui import QFocusEvent, QKeyEvent, QKeySequence, QWheelEvent
from PySide6.QtWidgets import QLineEdit, QWidget
from typing_extensions import override

from loadbench.errors import InputError
from loadbench.job.edits import replaced_all
from ui.labels import hint_of, label_of
from ui.state import Pointing, State
from ui.widgets.own_value import Standing, changes_for, standing

if TYPE_CHECKING:
    from ui.session import Session


class Sign(StrEnum):
    """How an entry stands while it is typed and after."""

    FINE = "fine"
    UNFINISHED = "unfinished"
    WRONG = "wrong"
    AMBIGUOUS = "ambiguous"


@dataclass(frozen=True, slots=True, kw_only=True)
class Judgement:
    """What is told beside a field: its sign, what is wrong, what was expected, the two readings, a quiet remark."""

    sign: Sign = Sign.FINE
    what: str = ""
    expected: str = ""
    choices: tuple[str, ...] = ()
    remark: str = ""


class EntryEdit(QLineEdit):
    """A text of the job as it was typed. Subclasses say how an entry is judged, stored and nudged."""

    judged = Signal(object)  # Judgement, whenever it changes
    stood = Signal(object)  # Standing, whenever it changes

    def __init__(self, session: Session, field: str, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.session, self.field = session, field
        self.judgement = Judgement()
        self.standing = Standing(field, field, None)
        self._kept: str | None = None  # wrong text that the job has no place for
        self._shown = ""
        self._told = ""
        self._gesture: int | None = None
        self._previewing = False
        self._stale = True  # units, line or job are others than those on show
        self._faults: object = None
        self.setObjectName(field.replace(".", "__"))
        self.setProperty("field", field)
        self.setAccessibleName(label_of(field))
        self.setMinimumHeight(26)
        self.textEdited.connect(self._typed)
        session.changed.connect(self._show)
        session.styled.connect(self._restyle)
        session.line_chosen.connect(self._reline)
        session.loaded.connect(self._reload)
        self._show(session.state)

    # What a subclass says

    def as_text(self, value: object) -> str:
        """How a value of the job stands in the field."""
        return "" if value is None else str(value)

    def as_value(self, text: str) -> object:
        """What is stored of a text; an InputError where the job has no place for it."""
        return text.strip() or None

    def judge(self, text: str) -> Judgement:
        """How an entry stands, by itself."""
        return Judgement()

    def nudge(self, steps: int) -> None:
        """Up or Down: nothing, unless the field is a number."""

    # Showing

    def faults(self, state: State, path: str) -> object:
        """What the job finds wrong in the entry that stands at a path; compared to see whether it changed."""
        return state.analysis.stated.problems.get(path)

    def _show(self, state: State) -> None:
        found = standing(self.session, state.job, self.field)
        faults = self.faults(state, found.shown)
        if not self._stale and found == self.standing and faults == self._faults and not self.hasFocus():
            return  # nearly every field at nearly every keystroke elsewhere
        self._faults = faults
        self._stand(found)
        busy = self.hasFocus() and self.text() != self._shown
        if not busy and not self._previewing:
            text = "" if self.standing.inherited else self.as_text(self.standing.value)
            if text:
                self._kept = None  # the job has a value again: an undo, or another's edit
            self._put(text if self._kept is None else self._kept)
            self._shown = self.text()
        self._judge_now()

    def _stand(self, found: Standing) -> None:
        if found == self.standing and not self._stale:
            return
        self.standing, self._stale = found, False
        inherited = self.as_text(found.value) if found.inherited else ""
        self.setPlaceholderText(inherited or hint_of(self.field, self.session.style, unit=False))
        self.stood.emit(found)

    def _put(self, text: str) -> None:
        if text != self.text():
            self.setText(text)
            self.setCursorPosition(0)

    def _restyle(self) -> None:
        self._stale = True
        self._show(self.session.state)

    def _reline(self) -> None:
        self._kept = None
        self._restyle()

    def _reload(self) -> None:
        """Another job is there: what was being typed was meant for the one before."""
        self._previewing, self._kept = False, None
        self.setText(self._shown)
        self._restyle()

    def _judge_now(self) -> None:
        found = self.judge(self.text())
        problem = self.session.state.analysis.stated.problems.get(self.standing.shown)
        if problem is not None and found.sign is Sign.FINE and not (self.hasFocus() and self.text() != self._shown):
            found = Judgement(sign=Sign.WRONG, what=problem.what, expected=problem.expected, remark=found.remark)
        if found != self.judgement:
            self.judgement = found
            self.setAccessibleDescription(told(found))
            self.judged.emit(found)

    # Typing

    def _typed(self, text: str) -> None:
        self._judge_now()
        if self.judgement.sign in (Sign.UNFINISHED, Sign.AMBIGUOUS):
            return  # not wrong yet: the figures stay as they are
        self._preview(text)

    def _preview(self, text: str) -> None:
        try:
            value = self.as_value(text)
        except InputError:
            value = None
        self._previewing = True
        self.session.preview_fields(changes_for(self.session, self.field, value))

    def commit(self) -> None:
        """Make what is typed the job's, as one undo step of this focus."""
        text = self.text()
        self._previewing = False
        if text == self._shown:
            self.session.drop_preview()
            return
        try:
            value = self.as_value(text)
            self._kept = None
        except InputError:
            value, self._kept = None, text
        self._shown = text
        title = self.tr("set {field}").format(field=_small(label_of(self.field)))
        changes = changes_for(self.session, self.field, value)  # with its unit already: nothing is added on the way
        self.session.edit(title, lambda job: replaced_all(job, changes), self._gesture)
        self._shown = self.text()
        self._show(self.session.state)

    def restore(self) -> None:
        """Put back what was committed."""
        self._previewing = False
        self.session.drop_preview()
        self._put(self._shown)
        self._judge_now()
        self.selectAll()

    def choose(self, text: str) -> None:
        """Take one of two readings of an ambiguous entry."""
        self.setText(text)
        self.commit()

    # Events

    @override
    def focusInEvent(self, event: QFocusEvent) -> None:
        super().focusInEvent(event)
        self._gesture = self.session.gesture()
        self.session.point_at(Pointing(fields=(self.standing.shown,)))

    @override
    def focusOutEvent(self, event: QFocusEvent) -> None:
        super().focusOutEvent(event)
        if event.reason() is not Qt.FocusReason.PopupFocusReason:
            self.commit()
            self.deselect()
            self.setCursorPosition(0)

    @override
    def keyPressEvent(self, event: QKeyEvent) -> None:
        steps = {Qt.Key.Key_Up: 1, Qt.Key.Key_Down: -1}.get(Qt.Key(event.key()))
        if steps is not None:
            self.nudge(steps * (10 if event.modifiers() & Qt.KeyboardModifier.ShiftModifier else 1))
        elif event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
            self.commit()
            self.selectAll()
        elif event.key() == Qt.Key.Key_Escape and (self.text() != self._shown or self._previewing):
            self.restore()
        elif not self._undone(event):
            super().keyPressEvent(event)

    def _undone(self, event: QKeyEvent) -> bool:
        """Undo and redo beyond the typing of this moment are the job's."""
        if event.matches(QKeySequence.StandardKey.Undo) and not self.isUndoAvailable():
            self.session.undo_stack.undo()
            return True
        if event.matches(QKeySequence.StandardKey.Redo) and not self.isRedoAvailable():
            self.session.undo_stack.redo()
            return True
        return False

    @override
    def event(self, event: QEvent) -> bool:
        if event.type() is QEvent.Type.ShortcutOverride and isinstance(event, QKeyEvent):
            for key, own in (
                (QKeySequence.StandardKey.Undo, self.isUndoAvailable()),
                (QKeySequence.StandardKey.Redo, self.isRedoAvailable()),
            ):
                if event.matches(key) and not own:
                    event.ignore()  # the window's Undo takes it
                    return False
        return super().event(event)

    @override
    def wheelEvent(self, event: QWheelEvent) -> None:
        if not self.hasFocus() or event.angleDelta().y() == 0:
            event.ignore()  # the page scrolls
            return
        self.nudge(1 if event.angleDelta().y() > 0 else -1)
        event.accept()


def told(judgement: Judgement) -> str:
    """A judgement as one text for a screen reader."""
    return ". ".join(part.rstrip(".") for part in (judgement.what, judgement.expected, judgement.remark) if part)


def _small(label: str) -> str:
    return label[:1].lower() + label[1:]
