"""The force balance asked the other way round: a speed and a margin are typed, and what they need is told."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QGuiApplication
from PySide6.QtWidgets import QFrame, QLabel, QPushButton, QScrollArea, QVBoxLayout, QWidget
from typing_extensions import override

from loadbench.analysis.motion.wanted_duty import wanted_duty
from loadbench.units import Kind, tell
from ui.motion.typed_quantity import TypedQuantity
from ui.motion.wanted_run_work import WantedRunWork
from ui.motion.wanted_words import Said, run_question, run_sentence, sentences
from ui.widgets.flow_bar import FlowBar
from ui.widgets.message_row import MessageRow
from ui.widgets.wrapped_label import WrappedLabel
from ui.window_watch import WindowWatch

if TYPE_CHECKING:
    from PySide6.QtGui import QHideEvent, QShowEvent

    from loadbench.analysis.motion.result import Dynamic
    from loadbench.analysis.motion.wanted_duty import WantedDuty
    from ui.motion.seen import Seen
    from ui.session import Session

ANSWERS = 5
BY_RUN = ANSWERS  # the row of the dynamic run's answer, which comes later than the others


class WantedView(QWidget):
    """Two fields and the answers; nothing of it goes into the job."""

    said = Signal(str)

    def __init__(self, session: Session, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.session = session
        self.setObjectName("wanted_view")
        self.seen: Seen | None = None
        self.answers: tuple[Said, ...] = ()
        self.duty: WantedDuty | None = None
        tr = self.tr
        self.speed = TypedQuantity(
            session, Kind.SPEED, "wanted_speed", tr("Wanted speed"),
            tr("The speed of the engine at which contact is to be held; empty for the speed limit."),
        )  # fmt: skip
        self.margin = TypedQuantity(
            session, Kind.FORCE, "wanted_margin", tr("Force to be left"),
            tr("What must still press at the valve where it is least; empty for none."), least=-1.0,
        )  # fmt: skip
        self.copy_button = QPushButton()
        self.copy_button.setObjectName("wanted_copy")
        self.copy_button.setText(tr("Copy the answers"))
        self.copy_button.setMinimumHeight(26)
        self.copy_button.clicked.connect(self.copy)
        self.run_button = QPushButton()
        self.run_button.setObjectName("wanted_run")
        self.run_button.setMinimumHeight(26)
        self.run_button.clicked.connect(self._run_pressed)
        self.run_button.hide()
        self.run = WantedRunWork(self)
        self.run.changed.connect(self._tell_run)
        self._watch = WindowWatch(self, self.run.shutdown)
        self.scale = self.speed.edit  # where the keyboard comes in
        self.messages = MessageRow(), MessageRow()
        self.needs, self.note = WrappedLabel(role="quiet"), WrappedLabel(role="quiet")
        self._rows = [(QLabel(), WrappedLabel()) for _ in range(ANSWERS + 1)]
        self._lay_out()
        for field, message in zip((self.speed, self.margin), self.messages, strict=True):
            field.edit.changed.connect(self._draw)
            field.edit.told.connect(message.tell)
            message.chosen.connect(field.edit.take)

    def _lay_out(self) -> None:
        fields = FlowBar()
        for field in (self.speed, self.margin, self.copy_button, self.run_button):
            fields.add(field)
        body, column = QWidget(), QVBoxLayout()
        column.setSpacing(2)
        for place in (BY_RUN, *range(ANSWERS)):  # what decides stands first
            question, answer = self._rows[place]
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
                "All but the dynamic run\u2019s answer are those of the force balance: a rigid linkage, a spring "
                "without waves. Surge and the linkage\u2019s ringing take contact earlier, as the dynamic run and the "
                "Map tell. Bind, stress and what the follower bears are not asked here; part makers\u2019 limits stand "
                "above these figures."
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
            self.run.forget()
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
        for place, (question, answer) in enumerate(self._rows[:ANSWERS]):
            said = self.answers[place] if place < len(self.answers) else Said("", "")
            question.setText(said.question)
            question.setVisible(bool(said.question))
            answer.tell(said.answer)
        if why or speed is None or self.duty is None or not self.isVisible():
            self.run.forget()
        else:
            lift = (self.duty.open_now - self.duty.seat_now) / self.duty.rate_now
            self.run.ask(dynamic, lift, speed, self.margin.edit.value or 0.0)
        self._tell_run()

    def _asked(self, dynamic: Dynamic, mass: float, speed: float) -> tuple[Said, ...]:
        self.duty = wanted_duty(dynamic, mass, speed, self.margin.edit.value or 0.0)
        return sentences(self.duty, self.session.style)

    # The dynamic run

    def by_run(self) -> str:
        """What the dynamic run answers, or how far it is."""
        run = self.run
        if run.answer is not None:
            return run_sentence(run.answer, self.session.style, None if self.duty is None else self.duty.seat_load)
        if run.failure:
            return self.tr("It could not be worked out: {why}").format(why=run.failure)
        if run.stopped:
            return self.tr("Stopped.")
        return self.tr("Working it out \u2026 {share}\u2009%").format(share=round(100 * run.share))

    def _tell_run(self) -> None:
        question, answer = self._rows[BY_RUN]
        question.setText(run_question())
        question.setVisible(bool(self.answers))
        answer.tell(self.by_run() if self.answers else "")
        again = self.run.stopped or bool(self.run.failure)
        self.run_button.setText(self.tr("Go on") if again else self.tr("Cancel"))
        self.run_button.setToolTip(
            self.tr("Work the dynamic run\u2019s answer out after all.")
            if again
            else self.tr("Stop working out the dynamic run\u2019s answer.")
        )
        self.run_button.setVisible(bool(self.answers) and (again or self.run.busy))

    def _run_pressed(self) -> None:
        if self.run.busy:
            self.run.stop()
        else:
            self.run.again()

    @override
    def showEvent(self, event: QShowEvent) -> None:
        super().showEvent(event)
        self._watch.watch(self.window())
        self._draw()

    @override
    def hideEvent(self, event: QHideEvent) -> None:
        super().hideEvent(event)
        self.run.forget()

    def copy(self) -> None:
        """Copy the answers as text."""
        rows = [*([Said(run_question(), self.by_run())] if self.run.answer is not None else []), *self.answers]
        text = "\n".join(f"{each.question}: {each.answer}" for each in rows)
        QGuiApplication.clipboard().setText(text)
        self.session.announce(self.tr("Answers copied."))
