"""The force balance asked the other way round: a speed and a margin are typed, and what they need is told."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QGuiApplication
from PySide6.QtWidgets import QFrame, QLabel, QScrollArea, QToolButton, QVBoxLayout, QWidget

from loadbench.analysis.motion.wanted_duty import wanted_duty
from loadbench.units import Kind, tell
from ui.motion.typed_quantity import TypedQuantity
from ui.motion.wanted_words import Said, sentences
from ui.widgets.flow_bar import FlowBar
from ui.widgets.message_row import MessageRow
from ui.widgets.wrapped_label import WrappedLabel

if TYPE_CHECKING:
    from loadbench.analysis.motion.result import Dynamic
    from ui.motion.seen import Seen
    from ui.session import Session

ANSWERS = 5


class WantedView(QWidget):
    """Two fields and the answers; nothing of it goes into the job."""

    said = Signal(str)

    def __init__(self, session: Session, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.session = session
        self.setObjectName("wanted_view")
        self.seen: Seen | None = None
        self.answers: tuple[Said, ...] = ()
        tr = self.tr
        self.speed = TypedQuantity(
            session, Kind.SPEED, "wanted_speed", tr("Wanted speed"),
            tr("The speed of the engine at which contact is to be held; empty for the speed limit."),
        )  # fmt: skip
        self.margin = TypedQuantity(
            session, Kind.FORCE, "wanted_margin", tr("Force to be left"),
            tr("What must still press at the valve where it is least; empty for none."), least=-1.0,
        )  # fmt: skip
        self.copy_button = QToolButton()
        self.copy_button.setObjectName("wanted_copy")
        self.copy_button.setText(tr("Copy the answers"))
        self.copy_button.setMinimumHeight(26)
        self.copy_button.clicked.connect(self.copy)
        self.scale = self.speed.edit  # where the keyboard comes in
        self.messages = MessageRow(), MessageRow()
        self.needs, self.note = WrappedLabel(role="quiet"), WrappedLabel(role="quiet")
        self._rows = [(QLabel(), WrappedLabel()) for _ in range(ANSWERS)]
        self._lay_out()
        for field, message in zip((self.speed, self.margin), self.messages, strict=True):
            field.edit.changed.connect(self._draw)
            field.edit.told.connect(message.tell)
            message.chosen.connect(field.edit.take)

    def _lay_out(self) -> None:
        fields = FlowBar()
        for field in (self.speed, self.margin, self.copy_button):
            fields.add(field)
        body, column = QWidget(), QVBoxLayout()
        column.setSpacing(2)
        for place, (question, answer) in enumerate(self._rows):
            font = question.font()
            font.setBold(True)
            question.setFont(font)
            question.setTextFormat(Qt.TextFormat.PlainText)
            question.setWordWrap(True)
            answer.setObjectName(f"wanted_{place}")
            answer.setTextInteractionFlags(Qt.TextInteractionFlag.TextSelectableByMouse)
            question.setContentsMargins(0, 6, 0, 0)
            column.addWidget(question)
            column.addWidget(answer)
        inside = QVBoxLayout(body)
        inside.setContentsMargins(8, 0, 8, 0)
        inside.addWidget(self.needs)
        inside.addLayout(column)
        inside.addWidget(self.note)
        inside.addStretch(1)
        self.area = QScrollArea()
        self.area.setWidgetResizable(True)
        self.area.setFrameShape(QFrame.Shape.NoFrame)
        self.area.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self.area.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.area.setWidget(body)
        rows = QVBoxLayout(self)
        rows.setContentsMargins(0, 4, 0, 0)
        rows.setSpacing(4)
        fields.setContentsMargins(8, 0, 8, 0)
        rows.addWidget(fields)
        for message in self.messages:
            message.setContentsMargins(8, 0, 8, 0)
            rows.addWidget(message)
        rows.addWidget(self.area, 1)
        self.note.tell(
            self.tr(
                "A rigid linkage and a spring without waves, as in the force balance; surge and the linkage\u2019s "
                "ringing take contact earlier: leave a margin, and look at the Map."
            )
        )

    # As the pictures

    def show_seen(self, seen: Seen) -> None:
        """Answer for a line's motion."""
        self.seen = seen
        self._draw()

    def set_grey(self, grey: bool) -> None:
        """Nothing here waits for a sweep."""

    def _draw(self) -> None:
        seen, style = self.seen, self.session.style
        dynamic = None if seen is None else seen.motion.dynamic
        if seen is None or dynamic is None or not seen.mass:
            return
        limit = seen.motion.speed_limit
        self.speed.edit.setPlaceholderText("" if limit is None else str(tell(limit, Kind.SPEED, style)))
        self.margin.edit.setPlaceholderText(str(tell(0.0, Kind.FORCE, style)))
        speed = self.speed.edit.value if self.speed.edit.filled else limit
        wrong = self.margin.edit.filled and self.margin.edit.value is None
        why = ""
        if speed is None:
            why = self.tr("The answers wait for a speed.")
        elif wrong:
            why = self.tr("The answers wait for the force to be left.")
        self.needs.tell(why)
        self.answers = () if why or speed is None else self._asked(dynamic, seen.mass, speed)
        self.copy_button.setEnabled(bool(self.answers))
        for place, (question, answer) in enumerate(self._rows):
            said = self.answers[place] if place < len(self.answers) else Said("", "")
            question.setText(said.question)
            question.setVisible(bool(said.question))
            answer.tell(said.answer)

    def _asked(self, dynamic: Dynamic, mass: float, speed: float) -> tuple[Said, ...]:
        return sentences(wanted_duty(dynamic, mass, speed, self.margin.edit.value or 0.0), self.session.style)

    def copy(self) -> None:
        """Copy the answers as text."""
        text = "\n".join(f"{each.question}: {each.answer}" for each in self.answers)
        QGuiApplication.clipboard().setText(text)
        self.session.announce(self.tr("Answers copied."))
