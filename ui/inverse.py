"""The questions asked the other way round, answered for the line on show: height, shims, lift, rate."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace

from PySide6.QtCore import Qt
from PySide6.QtGui import QGuiApplication
from PySide6.QtWidgets import QGridLayout, QLabel, QPushButton, QVBoxLayout, QWidget

from loadbench.analysis import LineAnalysis
from loadbench.errors import InputError
from loadbench.findings.rows import bind_row, rows_in_force
from loadbench.findings.rulebook import RuleBook, rule_book
from loadbench.fitup.inverse import (
    MOST_SHIMS,
    STOCK_SHIMS,
    TALLEST_STACK,
    LiftStop,
    ShimPlan,
    height_for_load,
    most_lift,
    nearest_stack,
    rate_wanted,
)
from loadbench.fitup.moves import Move, Stop, Way, move_height, move_lift, stock_of, written
from loadbench.job.edits import replaced_all
from loadbench.units import Kind, Style, display_unit, parse, tell, with_unit
from ui.labels import label_of
from ui.plots.section import bound_height
from ui.session import Session
from ui.state import State
from ui.widgets.wrapped_label import WrappedLabel

ABOVE = 1.3  # heights are looked for up to this many times the installed one


@dataclass(frozen=True, slots=True, kw_only=True)
class Answer:
    """One question with its answer, and the move that takes it over where there is one.

    `beside` says why there is none, or how far the move goes where it ends early.
    """

    question: str
    text: str
    move: Move | None = None
    beside: str = ""


class Answers:
    """Makes the answers for one line in the units on show."""

    def __init__(self, session: Session) -> None:
        self.session = session
        self.state: State = session.state
        self.line: LineAnalysis = session.state.analysis.line(session.line)
        self.style: Style = session.style

    def all(self) -> tuple[Answer, ...]:
        """The four answers, in the order in which they are asked."""
        return tuple(self._with_reason(answer) for answer in (self.height(), self.shims(), self.lift(), self.rate()))

    def _with_reason(self, answer: Answer) -> Answer:
        """The answer with what must be said of taking it over; a move that changes nothing is none."""
        if answer.beside:
            return answer
        move = answer.move
        if move is None:
            return replace(answer, beside=self._tr("Nothing to take over: there is no answer yet."))
        job = self.session.job
        idle = not move.changes or replaced_all(job, dict(move.changes)) == job
        return replace(answer, move=None if idle else move, beside=self._said_of(move, idle=idle))

    def _said_of(self, move: Move, *, idle: bool) -> str:
        if move.stop is Stop.UNKNOWN:
            return self._tr("Nothing to take over: what it would change is not stated.")
        if move.stop is Stop.BARE:
            text = self._tr("Take over goes to {height} only: shims only shorten.")
            at_it = self._tr("Nothing to take over: shims only shorten, and {height} is there already.")
            return (at_it if idle else text).format(height=self._length(move.reached or 0.0))
        return self._tr("Nothing to take over: the job has this already.") if idle else ""

    def _load(self, field: str) -> str:
        """A wanted load as typed, or in the units on show where it was typed in others."""
        path, stated = self.line.stated.path(field), self.line.stated.value(field)
        typed: object = self.state.job
        for step in path.split("."):
            typed = getattr(typed, step, None)
        own = self.state.analysis.stated.style or self.style
        if isinstance(typed, str) and parse(typed, Kind.FORCE, own).unit == display_unit(Kind.FORCE, self.style):
            return with_unit(typed, Kind.FORCE, own)
        return str(tell(stated, Kind.FORCE, self.style))

    def _tr(self, text: str) -> str:
        return self.session.tr(text)

    def _length(self, value: float) -> str:
        return str(tell(value, Kind.LENGTH, self.style))

    def _waits(self, *fields: str) -> str:
        names = ", ".join(dict.fromkeys(label_of(field) for field in fields if "figures." not in field))
        return self._tr("Waits for: {names}.").format(names=names)

    def _height_wanted(self) -> tuple[float | None, str]:
        """The height for the wanted seat load, and why there is none."""
        line, wanted = self.line, self.line.stated.value("targets.seat_load")
        if wanted is None:
            return None, self._waits("targets.seat_load")
        load_line, height = line.load_line, line.value("installed_height")
        if load_line is None:
            return None, self._waits(*line.figures["seat_load"].missing)
        bound = bound_height(line)
        anchor = height if height is not None else load_line.strands[0][1].anchor_height
        low = bound if bound is not None else 0.4 * anchor
        found = height_for_load(lambda at: float(load_line.load(at)), wanted, low, ABOVE * anchor)
        return found, "" if found is not None else self._tr("This spring does not give that load above bind.")

    def height(self) -> Answer:
        """The installed height for the wanted seat load."""
        question = self._tr("Installed height for the wanted seat load")
        height, why = self._height_wanted()
        if height is None:
            return Answer(question=question, text=why)
        move = self._height_move(height)
        text = self._tr("{height} gives the wanted {load}.")
        told = text.format(height=self._length(height), load=self._load("targets.seat_load"))
        return Answer(question=question, text=told, move=move)

    def _height_move(self, height: float) -> Move:
        return move_height(self.line.stated, self.session.own_field, Way.SHIM, height, self.style)

    def shims(self) -> Answer:
        """The shims that come nearest to it."""
        question = self._tr("Shims nearest to that height")
        height, why = self._height_wanted()
        bare = self.line.stated.value("spring.bare_height")
        if height is None or bare is None:
            return Answer(question=question, text=why or self._waits("spring.bare_height"))
        plan = nearest_stack(bare, height, stock_of(self.line.stated, STOCK_SHIMS), MOST_SHIMS, TALLEST_STACK)
        return Answer(question=question, text=self._plan_text(plan), move=self._plan_move(plan))

    def _plan_text(self, plan: ShimPlan) -> str:
        shims = " + ".join(written(size, self.style) for size in plan.shims) or self._tr("none")
        wanted = self._load("targets.seat_load")
        height, miss = self._length(plan.height), self._length(abs(plan.miss))
        values = {"shims": shims, "height": height, "miss": miss, "load": wanted}
        if plan.gain:
            text = self._tr("None: {load} needs {gain} more: cut the seat, other locks or retainer, or a longer valve.")
            return text.format(gain=self._length(plan.gain), load=wanted)
        if plan.pack:
            text = self._tr(
                "{shims} gives {height}; for {load} another {pack} must be taken up: "
                "other locks or retainer, or another spring."
            )
            return text.format(pack=self._length(plan.pack), **values)
        if abs(plan.miss) < 1e-6:
            return self._tr("{shims} gives {height} for {load}.").format(**values)
        side = self._tr("{shims} gives {height}, {miss} taller than wanted for {load}.")
        other = self._tr("{shims} gives {height}, {miss} shorter than wanted for {load}.")
        return (side if plan.miss > 0 else other).format(**values)

    def _plan_move(self, plan: ShimPlan) -> Move:
        own, view = self.session.own_field, self.line.stated
        shims = tuple(written(size, self.style) for size in plan.shims)
        changes: dict[str, object] = {own("spring.shims"): shims}
        if view.value("spring.installed_height") is not None:
            changes[own("spring.installed_height")] = written(plan.height, self.style)
        return Move(changes=changes, reached=plan.height)

    def lift(self) -> Answer:
        """The most lift that leaves the rule book's margins."""
        question = self._tr("Most lift that keeps the margins")
        line, book = self.line, self._book()
        bind, seal = book.limit("bind-margin-min", bind_row(line.stated)).watch, book.limit("retainer-margin-min").watch
        rooms = [(member, member.figures["member_height"].value) for member in line.members]
        if any(height is None or member.stated.bind is None for member, height in rooms) or not rooms:
            missing = [field for member, _ in rooms for field in member.figures["bind_margin"].missing]
            return Answer(question=question, text=self._waits(*missing))
        known = [
            height - member.stated.bind
            for member, height in rooms
            if height is not None and member.stated.bind is not None
        ]
        clearance = line.stated.value("valve_gear.retainer_to_seal")
        most = most_lift(known, clearance, bind or 0.0, seal or 0.0)
        if most is None:
            return Answer(question=question, text=self._waits("spring.bind_height"))
        text = self._lift_text(most.stop, clearance is None)
        gross, net = line.value("gross_valve_lift"), line.value("net_valve_lift")
        less = 0.0 if gross is None or net is None else gross - net
        move = move_lift(line.stated, self.session.own_field, most.lift, less, self.style)
        return Answer(
            question=question, text=text.format(lift=self._length(most.lift)), move=move if most.lift > 0 else None
        )

    def _lift_text(self, stop: LiftStop, no_seal: bool) -> str:
        if stop is LiftStop.SEAL:
            return self._tr("{lift} at the valve; the seal is what stops it.")
        if no_seal:
            return self._tr("{lift} at the valve by the coils; the seal is left out: its clearance is not stated.")
        return self._tr("{lift} at the valve; the coils are what stops it.")

    def _book(self) -> RuleBook:
        analysis = self.state.analysis
        return rule_book(
            self.session.shop, self.state.job.rules, analysis.stated.style, rows_in_force(self.line.stated)
        )

    def rate(self) -> Answer:
        """The rate for both wanted loads."""
        question = self._tr("Rate for the wanted seat and open loads")
        fields = ("targets.seat_load", "targets.open_load")
        seat, opened = (self.line.stated.value(field) for field in fields)
        lift = self.line.value("net_valve_lift")
        missing = [field for field, value in zip(fields, (seat, opened), strict=True) if value is None]
        missing += self.line.figures["net_valve_lift"].missing if lift is None else ()
        if missing or lift is None:
            return Answer(question=question, text=self._waits(*missing))
        try:
            rate = str(tell(rate_wanted(seat, opened, lift), Kind.RATE, self.style))
        except InputError as error:
            return Answer(question=question, text=str(error))
        text = self._tr("{rate} gives {seat} closed and {opened} at full lift.")
        told = text.format(rate=rate, seat=self._load(fields[0]), opened=self._load(fields[1]))
        why = self._tr("Not to be taken over: a rate comes with another spring; compare it under Variants.")
        return Answer(question=question, text=told, beside=why)


class InversePanel(QWidget):
    """Shows the answers; each can be copied, and taken over where it changes the job."""

    def __init__(self, session: Session, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setObjectName("inverse_panel")
        self.setWindowTitle(self.tr("Inverse answers"))
        self.session = session
        self._answers: tuple[Answer, ...] = ()
        self._grid = QGridLayout()
        self._grid.setColumnStretch(0, 1)
        self._grid.setVerticalSpacing(4)
        self._rows = [self._make_row(place) for place in range(4)]
        column = QVBoxLayout(self)
        column.addLayout(self._grid)
        column.addStretch(1)
        session.changed.connect(self._show)
        session.styled.connect(self._show)
        session.line_chosen.connect(self._show)
        self._show()

    def _make_row(self, place: int) -> tuple[QLabel, QLabel, QPushButton, QPushButton, WrappedLabel]:
        question, text, beside = QLabel(), QLabel(), WrappedLabel(role="quiet")
        copy, take = QPushButton(self.tr("Copy")), QPushButton(self.tr("Take over"))
        for label in (question, text):
            label.setTextFormat(Qt.TextFormat.PlainText)
            label.setWordWrap(True)
        text.setObjectName(f"answer_{place}")
        text.setTextInteractionFlags(Qt.TextInteractionFlag.TextSelectableByMouse)
        copy.setObjectName(f"copy_{place}")
        take.setObjectName(f"take_{place}")
        copy.clicked.connect(self._calls(self.copy_answer, place))
        take.clicked.connect(self._calls(self.take_over, place))
        font = question.font()
        font.setBold(True)
        question.setFont(font)
        beside.setObjectName(f"beside_{place}")
        told = QVBoxLayout()
        told.setSpacing(1)
        told.addWidget(text)
        told.addWidget(beside)
        self._grid.addWidget(question, 2 * place, 0, 1, 3)
        self._grid.addLayout(told, 2 * place + 1, 0)
        for column, button in enumerate((copy, take), 1):
            self._grid.addWidget(button, 2 * place + 1, column)
        return question, text, copy, take, beside

    @staticmethod
    def _calls(method: Callable[[int], None], place: int) -> Callable[[], None]:
        return lambda: method(place)

    def _show(self, *_: object) -> None:
        self._answers = Answers(self.session).all()
        for answer, (question, text, copy, take, beside) in zip(self._answers, self._rows, strict=True):
            question.setText(answer.question)
            text.setText(answer.text)
            copy.setAccessibleName(self.tr("Copy: {question}").format(question=answer.question))
            take.setAccessibleName(self.tr("Take over: {question}").format(question=answer.question))
            take.setAccessibleDescription(answer.beside)
            take.setEnabled(answer.move is not None)
            beside.tell(answer.beside)

    def copy_answer(self, place: int) -> None:
        """Copy an answer with its question."""
        answer = self._answers[place]
        text = self.tr("{question}: {text}").format(question=answer.question, text=answer.text)
        QGuiApplication.clipboard().setText(text)

    def take_over(self, place: int) -> None:
        """Change the job as an answer says, as one undo step."""
        answer = self._answers[place]
        if answer.move is not None:
            self.session.set_fields(
                self.tr("take over: {question}").format(question=answer.question), dict(answer.move.changes)
            )
