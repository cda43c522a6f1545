"""The editor of words from a closed list, and of yes or no; "Not stated" is always among them."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QComboBox, QWidget
from typing_extensions import override

from loadbench.job.kinds import Words
from ui.labels import label_of, mark_for, word_label, words_of
from ui.state import Pointing, State
from ui.widgets.entry_edit import Judgement, Sign, told
from ui.widgets.own_value import Standing, changes_for, standing

if TYPE_CHECKING:
    from PySide6.QtGui import QFocusEvent, QKeyEvent, QWheelEvent

    from ui.session import Session


class ChoiceEdit(QComboBox):
    """One choice of a closed list. What a file says beyond the list is kept, shown and marked."""

    judged = Signal(object)
    stood = Signal(object)

    def __init__(self, session: Session, field: str, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.session, self.field = session, field
        self.judgement = Judgement()
        self.standing = Standing(field, field, None)
        self._choices = self.choices()
        self.setObjectName(field.replace(".", "__"))
        self.setProperty("field", field)
        self.setAccessibleName(label_of(field))
        self.setMinimumHeight(26)
        self.setMinimumContentsLength(4)
        self.setSizeAdjustPolicy(QComboBox.SizeAdjustPolicy.AdjustToMinimumContentsLengthWithIcon)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)  # the wheel over it scrolls the page
        self._fill(None)
        self.activated.connect(self._chosen)
        session.changed.connect(self._show)
        session.line_chosen.connect(self._reline)
        self._show(session.state)

    def choices(self) -> tuple[tuple[str, object], ...]:
        """The choices as (text, value)."""
        return tuple((word_label(word), word) for word in words_of(self.field))

    def _fill(self, strange: str | None) -> None:
        self.clear()
        self.addItem(self._nothing(), None)
        for text, value in self._choices:
            self.addItem(text, value)
        if strange is not None:
            self.addItem(strange, strange)

    def _nothing(self) -> str:
        if self.standing.inherited:
            return self.tr("{value} (common)").format(value=self._text_of(self.standing.value))
        return self.tr("Not stated")

    def _text_of(self, value: object) -> str:
        return next((text for text, known in self._choices if known == value), str(value))

    def _reline(self) -> None:
        self._show(self.session.state)

    def _show(self, state: State) -> None:
        found = standing(self.session, state.job, self.field)
        if found == self.standing and self.count() and found.value == self.currentData():
            self._judge(state)
            return
        self.standing = found
        value = None if found.inherited else self._read(found.value)
        known = value is None or any(value == each for _, each in self._choices)
        self._fill(None if known else str(value))
        self.setCurrentIndex(self._place_of(value))
        self.stood.emit(found)
        self._judge(state)

    def _read(self, value: object) -> object:
        """Other spellings of a word as the word itself."""
        mark = mark_for(self.field)
        return (mark.read(value) or value) if isinstance(mark, Words) and isinstance(value, str) else value

    def _place_of(self, value: object) -> int:
        places = (place for place in range(self.count()) if place and self.itemData(place) == value)
        return 0 if value is None else next(places, 0)

    def _judge(self, state: State) -> None:
        problem = state.analysis.stated.problems.get(self.standing.shown)
        found = (
            Judgement() if problem is None else Judgement(sign=Sign.WRONG, what=problem.what, expected=problem.expected)
        )
        if found != self.judgement:
            self.judgement = found
            self.setAccessibleDescription(told(found))
            self.judged.emit(found)

    def _chosen(self, place: int) -> None:
        value = self.itemData(place)
        title = self.tr("set {field}").format(field=label_of(self.field).lower())
        self.session.set_fields(title, changes_for(self.session, self.field, value))

    @override
    def focusInEvent(self, event: QFocusEvent) -> None:
        super().focusInEvent(event)
        self.session.point_at(Pointing(fields=(self.standing.shown,)))

    @override
    def keyPressEvent(self, event: QKeyEvent) -> None:
        if event.key() in (Qt.Key.Key_Delete, Qt.Key.Key_Backspace):
            self.setCurrentIndex(0)
            self._chosen(0)
        elif event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
            self.showPopup()
        else:
            super().keyPressEvent(event)

    @override
    def wheelEvent(self, event: QWheelEvent) -> None:
        if self.hasFocus():
            super().wheelEvent(event)
        else:
            event.ignore()


class CheckEdit(ChoiceEdit):
    """Yes, no, or not stated."""

    @override
    def choices(self) -> tuple[tuple[str, object], ...]:
        return ((self.tr("Yes"), True), (self.tr("No"), False))
