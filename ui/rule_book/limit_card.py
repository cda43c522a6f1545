"""One limit with its houses beside each other: program, this shop, this job, the part maker, and what is in force."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QGridLayout, QHBoxLayout, QLabel, QLineEdit, QPushButton, QVBoxLayout, QWidget

from loadbench.analysis.figure import told
from loadbench.findings.rulebook import Limit, Rule, program_rules
from loadbench.units import Kind, to_display
from ui.labels import label_of
from ui.level_words import house_words
from ui.rule_book.houses import House, Houses
from ui.rule_book.limit_edit import HouseEdit, LimitEdit
from ui.rule_book.limit_names import limit_label, side_words
from ui.rule_book.maker_values import MakerValue, looser, maker_value
from ui.widgets.entry_edit import Judgement, Sign
from ui.widgets.message_row import MessageRow
from ui.widgets.wrapped_label import WrappedLabel

if TYPE_CHECKING:
    from loadbench.errors import Problem
    from ui.session import Session

DASH = "\u2013"
ENDS = ("watch", "stop")


class LimitCard(QWidget):
    """The table of one limit."""

    def __init__(self, session: Session, houses: Houses, rule: Rule, name: str) -> None:
        super().__init__()
        self.session, self.houses, self.rule, self.name = session, houses, rule, name
        self.setObjectName(f"limit_{name}")
        self.edits: dict[tuple[House, str], HouseEdit] = {}
        self._told: dict[str, QLabel] = {}
        self._forced = {end: WrappedLabel() for end in self._ends()}
        self._maker = WrappedLabel()
        self._messages = {house: MessageRow() for house in House}
        self.initials = QLineEdit()
        self.accept_button = QPushButton()
        self._grid = QGridLayout()
        self._grid.setHorizontalSpacing(10)
        self._grid.setVerticalSpacing(3)
        whole = QVBoxLayout(self)
        whole.setContentsMargins(0, 6, 0, 8)
        whole.setSpacing(3)
        whole.addWidget(WrappedLabel(self._title(), role="heading"))
        whole.addLayout(self._grid)
        for message in self._messages.values():
            whole.addWidget(message)
        whole.addWidget(self._acceptance())
        self._fill()
        self.refresh()

    @property
    def program(self) -> Limit:
        """The program's own limit."""
        return program_rules()[self.rule.id].limits[self.name]

    @property
    def limit(self) -> Limit:
        """The limit in force, the part maker's aside."""
        return self.houses.book().rules[self.rule.id].limits[self.name]

    # Building

    def _fill(self) -> None:
        heads = (
            self.tr("Program"),
            self.tr("This shop"),
            self.tr("This job"),
            self.tr("Part maker"),
            self.tr("In force"),
        )
        for column, text in enumerate(heads, 1):
            self._grid.addWidget(_quiet(text), 0, column)
            self._grid.setColumnStretch(column, 2)
        self._grid.setColumnStretch(0, 1)
        for row, end in enumerate(self._ends(), 1):
            self._fill_end(row, end)
        row = len(self._ends()) + 1
        self._grid.addWidget(_quiet(self.tr("Why")), row, 0)
        for column, house in enumerate(House, 2):
            self._grid.addWidget(self._edit(house, "why"), row, column)
        self._grid.addWidget(self._maker, 1, 4, max(1, row - 1), 1)

    @property
    def speaks(self) -> bool:
        """Whether this limit is in force for the job: of alternatives only one is."""
        row = self.houses.in_force.get(self.rule.id)
        return not self.rule.alternatives or row is None or row == self.name

    def _title(self) -> str:
        title, side = limit_label(self.name), side_words(self.program)
        name = self.tr("{title}, {side}").format(title=title, side=side) if title else side
        if not self.rule.alternatives:
            return name[:1].upper() + name[1:]
        mark = self.tr("{limit} (in force for this job)") if self.speaks else self.tr("{limit} (for other jobs)")
        return mark.format(limit=name[:1].upper() + name[1:])

    def _ends(self) -> tuple[str, ...]:
        """Watch and stop; one that the program leaves out is not offered: it would be judged by nothing."""
        return tuple(end for end in ENDS if getattr(self.program, end) is not None)

    def _fill_end(self, row: int, end: str) -> None:
        words = {"watch": self.tr("Watch"), "stop": self.tr("Stop")}
        self._grid.addWidget(_quiet(words[end]), row, 0)
        self._told[end] = QLabel()
        self._grid.addWidget(self._told[end], row, 1)
        for column, house in enumerate(House, 2):
            self._grid.addWidget(self._edit(house, end), row, column)
        self._grid.addWidget(self._forced[end], row, 5, Qt.AlignmentFlag.AlignVCenter)

    def _edit(self, house: House, end: str) -> HouseEdit:
        words = {"watch": self.tr("watch"), "stop": self.tr("stop"), "why": self.tr("why")}
        whose = {House.SHOP: self.tr("this shop"), House.JOB: self.tr("this job")}
        spoken = self.tr("{rule} {limit}: {what}, {whose}").format(
            rule=self.rule.title, limit=limit_label(self.name), what=words[end], whose=whose[house]
        )
        name = f"{house}_{self.name}_{end}"
        if end == "why":
            edit = HouseEdit(name, spoken)
        else:
            edit = LimitEdit(self.program.kind, self.session.style, name, spoken)
            edit.typed.connect(lambda text: self._typed(house, end, text))
            edit.dropped.connect(self.houses.drop)
        edit.setMinimumWidth(70)
        edit.committed.connect(lambda text: self.houses.keep(house, self.rule, self.name, {end: text}))
        self.edits[house, end] = edit
        return edit

    def _acceptance(self) -> QWidget:
        self._accepting = QWidget()
        self.initials.setMaximumWidth(80)
        self.initials.setMaxLength(20)
        self.initials.setMinimumHeight(26)
        self.initials.setPlaceholderText(self.tr("initials"))
        self.initials.setAccessibleName(self.tr("Initials of who accepts the part maker\u2019s limit"))
        self.initials.textChanged.connect(lambda text: self.accept_button.setEnabled(bool(text.strip())))
        self.accept_button.setEnabled(False)
        self.accept_button.setAutoDefault(False)
        self.accept_button.clicked.connect(self._accept)
        row = QHBoxLayout(self._accepting)
        row.setContentsMargins(0, 0, 0, 0)
        self._looser = WrappedLabel()
        row.addWidget(self._looser, 1)
        row.addWidget(self.initials)
        row.addWidget(self.accept_button)
        return self._accepting

    # Showing

    def refresh(self) -> None:
        """Show what holds now."""
        style, limit = self.session.style, self.limit
        maker = self._makers_own()
        forced = limit if maker is None else limit.with_maker(maker.value)
        for end in self._ends():
            self._told[end].setText(self._text(getattr(self.program, end)))
            whose = house_words(getattr(forced, f"{end}_house"))
            text = self.tr("{value}, {whose}").format(value=self._text(getattr(forced, end)), whose=whose)
            self._forced[end].tell(text if self.speaks else DASH)
        for (house, end), edit in self.edits.items():
            if isinstance(edit, LimitEdit):
                edit.style_on_show = style
            entry = getattr(self.houses.change(house, self.rule, self.name), end)
            edit.show_text("" if entry is None else str(entry))
        self._show_maker(maker, limit)
        for house in House:
            self._tell(house, self._problem(house))

    def _makers_own(self) -> MakerValue | None:
        if not self.speaks:
            return None
        analysis = self.session.state.analysis
        return maker_value(self.rule, self.program, analysis.line(self.session.line))

    def _text(self, value: float | None) -> str:
        return DASH if value is None else str(told(value, self.program.kind, self.session.style))

    def _show_maker(self, maker: MakerValue | None, limit: Limit) -> None:
        if maker is None:
            self._maker.tell(DASH)
            self._accepting.hide()
            return
        self._maker.tell(
            self.tr("{value} ({field})").format(value=self._text(maker.value), field=label_of(maker.field))
        )
        offered = looser(limit, maker)
        if offered:
            self._looser.tell(self.tr("The part maker allows more than the stop in force; the stricter governs."))
            self.accept_button.setText(self.tr("Accept {value} for this job").format(value=self._text(maker.value)))
        self._accepting.setVisible(offered)

    def _problem(self, house: House) -> Problem | None:
        paths = [f"rules.{self.rule.id}.{self.name}"]
        if self.rule.taking(self.name, self.houses.in_force):
            paths.append(f"rules.{self.rule.id}")  # a plain change speaks of this limit alone
        fields = {f"{path}{end}" for path in paths for end in ("", ".watch", ".stop")}
        return next((each for each in self.houses.problems(house) if each.place.field in fields), None)

    def _tell(self, house: House, problem: Problem | None) -> None:
        judgement = Judgement()
        if problem is not None:
            judgement = Judgement(sign=Sign.WRONG, what=problem.what, expected=problem.expected)
        self._messages[house].tell(judgement)

    # Changing

    def _typed(self, house: House, end: str, text: str) -> None:
        edit = self.edits[house, end]
        judgement = edit.judge() if isinstance(edit, LimitEdit) else Judgement()
        self._messages[house].tell(judgement)
        edit.setAccessibleDescription(judgement.what)
        if judgement.sign is Sign.FINE:
            self.houses.attempt(house, self.rule, self.name, {end: edit.as_stored(text)})

    def _accept(self) -> None:
        maker = self._makers_own()
        if maker is None or not isinstance(self.program.kind, Kind):
            return
        unit = told(maker.value, self.program.kind, self.session.style).unit
        value = f"{to_display(maker.value, self.program.kind, self.session.style):.6g} {unit}"
        why = self.tr("maker\u2019s limit accepted by {initials}").format(initials=self.initials.text().strip())
        self.houses.keep(House.JOB, self.rule, self.name, {"stop": value, "why": why})
        self.initials.clear()


def _quiet(text: str) -> QLabel:
    label = QLabel(text)
    label.setProperty("role", "quiet")
    return label
