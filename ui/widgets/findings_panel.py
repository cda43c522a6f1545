"""What it means: entries to mend, advice, and the findings worst first."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QFrame, QScrollArea, QVBoxLayout, QWidget

from ui.let_go import let_go
from ui.state import Pointing, State
from ui.widgets.advice_block import AdviceBlock
from ui.widgets.finding_entry import FindingEntry
from ui.widgets.finding_groups import Group, grouped
from ui.widgets.level_chips import LevelChips
from ui.widgets.problem_list import ProblemList
from ui.widgets.wrapped_label import WrappedLabel

if TYPE_CHECKING:
    from loadbench.units import Style
    from ui.session import Session

QWIDGETSIZE_MAX = 16777215  # Qt's own, which PySide does not name
WIDTH = 260


class FindingsPanel(QWidget):
    """The column of meaning. `set_folded` leaves only the counts."""

    field_wanted = Signal(str)  # a field that a finding waits for or rests on was asked for
    rule_wanted = Signal(str)  # a rule was asked for in the rule book

    def __init__(self, session: Session, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setObjectName("findings_panel")
        self.session = session
        self._entries: dict[tuple[str, str], FindingEntry] = {}
        self._order: tuple[tuple[str, str], ...] = ()
        self._current: FindingEntry | None = None
        self._first = ""
        self.chips = LevelChips()
        self.problems = ProblemList()
        self.advice = AdviceBlock()
        self.empty = WrappedLabel(role="quiet")
        self._lay_out()
        self._connect()
        self._show(session.state)
        self.set_folded(False)

    def _lay_out(self) -> None:
        self._body = QWidget()
        self._list = QVBoxLayout()
        self._list.setSpacing(0)
        inside = QVBoxLayout(self._body)
        inside.setContentsMargins(0, 0, 0, 0)
        inside.setSpacing(0)
        for widget in (self.problems, self.advice, self.empty):
            inside.addWidget(widget)
        inside.addLayout(self._list)
        inside.addStretch(1)
        self.scroller = QScrollArea()
        self.scroller.setWidget(self._body)
        self.scroller.setWidgetResizable(True)
        self.scroller.setFrameShape(QFrame.Shape.NoFrame)
        self.scroller.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.scroller.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(6)
        column.addWidget(self.chips)
        column.addWidget(self.scroller, 1)
        self._column = column

    def _connect(self) -> None:
        self.chips.filtered.connect(self._filter)
        self.problems.field_wanted.connect(self._want)
        self.problems.rule_wanted.connect(self.rule_wanted)
        self.session.changed.connect(self._show)
        self.session.styled.connect(self._restyle)
        self.session.pointed.connect(self._light)

    # Showing

    def _restyle(self, _style: Style) -> None:
        self._show(self.session.state)

    def put_first(self, group: str) -> None:
        """Show the findings of a group of rules before the others; "" for none."""
        if group != self._first:
            self._first = group
            self._show(self.session.state)

    def _show(self, state: State) -> None:
        verdicts, style = state.verdicts, self.session.style
        self.chips.show_counts(verdicts)
        self.problems.show_problems(verdicts.problems)
        self.advice.show_advice(verdicts.advice, style)
        groups = grouped(verdicts.findings, self._first)
        for group in groups:
            entry = self._entries.get(group.key)
            if entry is None:
                entry = self._entries[group.key] = self._entry(group, style)
            entry.show_group(group, style)
        self._arrange(tuple(group.key for group in groups))

    def _entry(self, group: Group, style: Style) -> FindingEntry:
        entry = FindingEntry(group, style, self._body)
        entry.pointed.connect(self._point)
        entry.field_wanted.connect(self._want)
        entry.rule_wanted.connect(self.rule_wanted)
        entry.stepped.connect(lambda step: self._step(entry, step))
        entry.entered.connect(lambda: self._enter(entry))
        return entry

    def _arrange(self, order: tuple[tuple[str, str], ...]) -> None:
        """Put the entries in order; those of rules that no longer say anything go."""
        if order != self._order:
            self._order = order
            for key in [key for key in self._entries if key not in order]:
                self._drop(self._entries.pop(key))
            for place, key in enumerate(order):
                item = self._list.itemAt(place)
                if item is None or item.widget() is not self._entries[key]:
                    self._list.insertWidget(place, self._entries[key])
        self._filter()

    def _drop(self, entry: FindingEntry) -> None:
        if entry is self._current:
            self._current = None
        self._list.removeWidget(entry)
        entry.hide()
        let_go(entry)

    def entries(self) -> list[FindingEntry]:
        """The entries on show, from top to bottom."""
        return [entry for key in self._order if self.chips.shows((entry := self._entries[key]).group.level)]

    def _filter(self) -> None:
        shown = set(map(id, self.entries()))
        for entry in self._entries.values():
            if entry.isHidden() == (id(entry) in shown):
                entry.setVisible(id(entry) in shown)
        self.empty.tell("" if shown else self.tr("Nothing stands at the levels on show."))
        self._rove()

    def _rove(self) -> None:
        """One entry takes the Tab key, the arrow keys go from there."""
        entries = self.entries()
        if self._current not in entries:
            self._current = entries[0] if entries else None
        for entry in entries:
            policy = Qt.FocusPolicy.StrongFocus if entry is self._current else Qt.FocusPolicy.ClickFocus
            if entry.focusPolicy() is not policy:
                entry.setFocusPolicy(policy)

    # Pointing and going

    def _point(self, pointing: Pointing) -> None:
        self.session.point_at(pointing)

    def _light(self, pointing: Pointing) -> None:
        for entry in self._entries.values():
            entry.light(pointing)

    def _want(self, field: str) -> None:
        self.session.point_at(Pointing(fields=(field,)))
        self.field_wanted.emit(field)

    def _enter(self, entry: FindingEntry) -> None:
        self._current = entry
        self._rove()
        self.scroller.ensureWidgetVisible(entry, 0, 8)

    def _step(self, entry: FindingEntry, step: int) -> None:
        entries = self.entries()
        place = entries.index(entry) + step if entry in entries else 0
        if 0 <= place < len(entries):
            entries[place].setFocus(Qt.FocusReason.OtherFocusReason)

    # Folding

    def set_folded(self, folded: bool) -> None:
        """Leave only the counts, or show everything."""
        self.chips.stack(folded)
        self.scroller.setVisible(not folded)
        self._column.setAlignment(self.chips, Qt.AlignmentFlag.AlignTop if folded else Qt.AlignmentFlag(0))
        counts = self.chips.sizeHint().width()
        self.setMinimumWidth(counts if folded else WIDTH)
        self.setMaximumWidth(counts if folded else QWIDGETSIZE_MAX)
