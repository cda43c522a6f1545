"""A field with all that is around its editor: label, unit in quiet, message, the way back to the common value."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import Qt
from PySide6.QtGui import QPainter, QPaintEvent
from PySide6.QtWidgets import QComboBox, QGridLayout, QHBoxLayout, QLabel, QSizePolicy, QWidget
from typing_extensions import override

from ui.labels import label_of, unit_of_field
from ui.palette import colours
from ui.widgets.back_button import BackButton
from ui.widgets.entry_edit import EntryEdit, Judgement, Sign
from ui.widgets.message_row import MessageRow

if TYPE_CHECKING:
    from ui.session import Session
    from ui.widgets.own_value import Standing

UNIT_WIDTH = 44


class Field(QWidget):
    """One field: label left, editor and unit right; beneath them what is wrong, and what it inherits from."""

    unit_in_label = False  # for long entries, that want the unit's room

    def __init__(
        self, editor: EntryEdit | QComboBox, session: Session, field: str, parent: QWidget | None = None
    ) -> None:
        super().__init__(parent)
        self.session, self.field, self.editor = session, field, editor
        self.label = QLabel(label_of(field))
        self.label.setWordWrap(True)
        self.label.setBuddy(editor)
        self.unit: QLabel | None = None
        self.message: MessageRow | None = None
        self._back: BackButton | None = None
        self._lit = False
        self._lay_out()
        self._show_unit()
        session.styled.connect(self._show_unit)
        stood, judged = getattr(editor, "stood", None), getattr(editor, "judged", None)
        if stood is not None and judged is not None:
            stood.connect(self._stand)
            judged.connect(self._tell)
            self._stand(getattr(editor, "standing"))  # noqa: B009 - both kinds of editor have one
            self._tell(getattr(editor, "judgement"))  # noqa: B009

    def _lay_out(self) -> None:
        rows = self._rows = QGridLayout(self)
        rows.setContentsMargins(6, 1, 0, 1)
        rows.setHorizontalSpacing(5)
        rows.setVerticalSpacing(1)
        self.editor.setSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.Fixed)
        self.editor.setMinimumWidth(60)
        self._across = QHBoxLayout()
        self._across.setSpacing(5)
        self._across.addWidget(self.editor, 1)
        rows.addWidget(self.label, 0, 0)
        rows.addLayout(self._across, 0, 1)
        rows.setColumnStretch(0, 45)
        rows.setColumnStretch(1, 55)

    def light(self, on: bool) -> None:
        """Show that something elsewhere points at this field."""
        if on != self._lit:
            self._lit = on
            self.update()

    @override
    def paintEvent(self, event: QPaintEvent) -> None:
        super().paintEvent(event)
        if self._lit:
            painter = QPainter(self)
            painter.fillRect(0, 2, 3, self.height() - 4, colours().colour("accent"))
            painter.end()

    def _show_unit(self) -> None:
        text = unit_of_field(self.field, self.session.style)
        if not text:
            return
        if self.unit_in_label:
            self.label.setText(self.tr("{label}, {unit}").format(label=label_of(self.field), unit=text))
            return
        if self.unit is None:
            self.unit = QLabel()
            self.unit.setProperty("role", "quiet")
            self.unit.setMinimumWidth(UNIT_WIDTH)
            self._across.addWidget(self.unit)
        self.unit.setText(text)
        name = self.tr("{label}, in {unit} where no unit is typed").format(label=label_of(self.field), unit=text)
        self.editor.setToolTip(name)

    def _tell(self, judgement: Judgement) -> None:
        wrong = "wrong" if judgement.sign is Sign.WRONG else ""
        if self.editor.property("state") != wrong and (wrong or self.editor.property("state")):
            self.editor.setProperty("state", wrong)
            self.editor.style().unpolish(self.editor)
            self.editor.style().polish(self.editor)
        if self.message is None and not (judgement.what or judgement.remark):
            return
        self._message_row().tell(judgement)

    def _message_row(self) -> MessageRow:
        if self.message is None:
            self.message = MessageRow(self)
            if isinstance(self.editor, EntryEdit):
                self.message.chosen.connect(self.editor.choose)
            self._rows.addWidget(self.message, 1, 0, 1, 2)
        return self.message

    def _stand(self, found: Standing) -> None:
        """Offer the way back where the line has its own value."""
        if self._back is None and not found.overriding:
            return
        if self._back is None:
            self._back = BackButton(self.session, self.field)
            self._back.clicked.connect(self.editor.setFocus)
            self._rows.addWidget(self._back, 2, 0, 1, 2, Qt.AlignmentFlag.AlignRight)
        self._back.follow(found)
