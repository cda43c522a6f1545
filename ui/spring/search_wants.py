"""What a search is asked, told above it: the wants with their units, or what they wait for, or what is wrong."""

from __future__ import annotations

from functools import partial
from typing import TYPE_CHECKING

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QSizePolicy, QVBoxLayout, QWidget

from ui.labels import label_of
from ui.let_go import let_go
from ui.spring import search_words as words
from ui.spring.wording import tr
from ui.widgets.flow_bar import FlowBar
from ui.widgets.link import Link
from ui.widgets.waiting_page import within
from ui.widgets.wrapped_label import WrappedLabel

if TYPE_CHECKING:
    from loadbench.assembly.spring_wanted import Asked, Choices
    from loadbench.errors import Problem
    from loadbench.units import Style

RULES = "rules."
PREFERRED = QSizePolicy.Policy.Preferred


class SearchWants(QWidget):
    """Sentences, and a way to each field that they speak of."""

    field_wanted = Signal(str)
    rule_wanted = Signal(str)

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setObjectName("search_wants")
        self.text = WrappedLabel()
        self.text.setObjectName("search_wanted")
        self.beside = WrappedLabel(role="quiet")
        self.beside.setObjectName("search_beside")
        self.links: list[Link] = []  # what is wanting, wrong or free
        self.ways: list[Link] = []  # what is stated
        self.follows: QWidget | None = None  # what the ways come after in the focus order
        self._bar = FlowBar()
        self._shown: object = None
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(2)
        for part in (self.text, self.beside, self._bar):
            column.addWidget(part)

    def show_asked(self, asked: Asked, choices: Choices, coils: int, style: Style, ways: tuple[str, ...] = ()) -> None:
        """Show these wants, or why there are none.

        Args:
            asked: of the line.
            choices: of the user.
            coils: how many springs the line has now.
            style: the units on show.
            ways: the fields that the wants come from, to be changed there.
        """
        text, beside, links = _told(asked, choices, coils, style)
        self.text.tell(text)
        self.beside.tell(beside)
        ways = () if asked.wanted is None else tuple(each for each in ways if each not in links)
        if (links, ways) != self._shown:
            self._shown = (links, ways)
            self._show_links(links, ways)

    def _show_links(self, fields: tuple[str, ...], ways: tuple[str, ...]) -> None:
        column = self.layout()
        bar = FlowBar()
        bar.setSizePolicy(PREFERRED, PREFERRED)  # else the least height is that of all links one above the other
        self.links = [self._link(field) for field in fields]
        self.ways = [self._link(field, brief=True) for field in ways]
        for link in (*self.links, *self.ways):
            bar.add(link)
        if column is not None:
            column.replaceWidget(self._bar, bar)
        self._bar.hide()
        let_go(self._bar)
        self._bar = bar
        bar.setVisible(bool(fields or ways))
        self._order()

    def _order(self) -> None:
        """What is made late would come last in the whole window."""
        before = self.follows
        for link in (*self.links, *self.ways):
            if before is not None:
                QWidget.setTabOrder(before, link)
            before = link

    def _link(self, field: str, *, brief: bool = False) -> Link:
        if field.startswith(RULES):
            text = tr("Open the rule book")
            link = Link(text, text)
            link.clicked.connect(partial(self.rule_wanted.emit, field.removeprefix(RULES)))
            return link
        text = tr("Go to {field}").format(field=within(label_of(field)))
        link = Link(label_of(field) if brief else text, text)
        link.clicked.connect(partial(self.field_wanted.emit, field))
        return link


def _told(asked: Asked, choices: Choices, coils: int, style: Style) -> tuple[str, str, tuple[str, ...]]:
    """The sentence, what stands beside it, and the fields that a way leads to."""
    if asked.wanted is not None:
        free = words.not_limited(asked.wanted)
        beside = [tr("Not stated, so not limited: {names}.").format(names=words.names(free))] if free else []
        if free_rules := words.not_held(choices):
            beside.append(tr("Not held: {limits}.").format(limits=", ".join(free_rules)))
        if coils > 1:
            told = tr("Looked for: one spring for the whole load; taken over, it stands in place of all {count}.")
            beside.append(told.format(count=coils))
        return words.wants(asked, asked.wanted, choices, style), " ".join(beside), free
    lines = [_fault(each) for each in asked.faults]
    if asked.missing:
        lines.append(tr("The search waits for: {names}.").format(names=words.names(asked.missing)))
    fields = [each.place.field or "" for each in asked.faults]
    return "\n".join(lines), "", tuple(filter(None, dict.fromkeys((*fields, *asked.missing))))


def _fault(fault: Problem) -> str:
    field = fault.place.field or ""
    where = tr("Rule book") if field.startswith(RULES) else label_of(field)
    what = fault.what.rstrip(".")
    told = tr("{where}: {what}; expected: {expected}.") if fault.expected else tr("{where}: {what}.")
    return told.format(where=where, what=what[:1].lower() + what[1:], expected=fault.expected.rstrip("."))
