"""From the table of cards to widgets: fields, small tables, lists of parts, groups that fold with the family."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtWidgets import QHBoxLayout, QLabel, QPushButton, QVBoxLayout, QWidget

from loadbench.job.edits import value_at
from ui.labels import label_of
from ui.let_go import let_go
from ui.widgets.back_button import BackButton
from ui.widgets.card import Card
from ui.widgets.field_maker import field_for
from ui.widgets.own_value import plain, standing
from ui.widgets.readings_table import RowTable
from ui.widgets.stated_cards import Group, Item, Items, Table, at

if TYPE_CHECKING:
    from collections.abc import Iterator

    from ui.session import Session
    from ui.state import State


def widgets_of(session: Session, items: tuple[Item, ...]) -> Iterator[QWidget]:
    """The widgets of some items, in order."""
    for item in items:
        if isinstance(item, str):
            yield field_for(session, item)
        elif isinstance(item, Table):
            yield RowTable(session, item.field, item.columns)
        elif isinstance(item, Items):
            yield PartList(session, item)
        else:
            yield GroupCard(session, item)


class GroupCard(Card):
    """A group of fields; folds away where the follower's family has no such part, and opens where it has."""

    def __init__(self, session: Session, group: Group, *, inner: bool = True) -> None:
        self.session, self.group = session, group
        self._concerned = True
        super().__init__(group.title, lambda: widgets_of(session, group.items), opened=group.opened, inner=inner)
        if group.concerns is not None:
            session.changed.connect(self._follow)
            self._follow(session.state)

    def _follow(self, state: State) -> None:
        family = state.analysis.stated.values.get("follower.family")
        concerned = self.group.concerns is None or self.group.concerns(family)
        if concerned == self._concerned:
            return
        self._concerned = concerned
        title = (
            self.group.title if concerned else self.tr("{group} (not in this family)").format(group=self.group.title)
        )
        self.set_title(title)
        self.set_open(concerned and self.group.opened)


class PartList(QWidget):
    """A list of parts, each on a card of its own, with buttons to add and to remove."""

    def __init__(self, session: Session, items: Items) -> None:
        super().__init__()
        self.session, self.items = session, items
        self.field = items.field
        self.setProperty("list", items.field)
        self.parts: list[Card] = []
        self._rows = QVBoxLayout(self)
        self._rows.setContentsMargins(6, 0, 0, 0)
        self._rows.setSpacing(2)
        self._add = QPushButton(self.tr("Add {one}").format(one=items.one.lower()))
        self._add.setObjectName(f"add__{items.field.replace('.', '__')}")
        self._add.setMinimumHeight(26)
        self._add.clicked.connect(self.add)
        head = QHBoxLayout()
        self._label = QLabel()
        self._label.setWordWrap(True)
        head.addWidget(self._label, 1)
        head.addWidget(self._add)
        self._back = BackButton(session, items.field)
        self._rows.addLayout(head)
        self._rows.addWidget(self._back)
        session.changed.connect(self._show)
        session.line_chosen.connect(self._reline)
        self._show(session.state)

    def _reline(self) -> None:
        self._show(self.session.state)

    def _show(self, state: State) -> None:
        found = standing(self.session, state.job, self.field)
        count = len(found.value or ())
        name = label_of(self.field)
        self._label.setText(self.tr("{list} (common)").format(list=name) if found.inherited and count else name)
        self._back.follow(found)
        while len(self.parts) > count:
            card = self.parts.pop()
            self._rows.removeWidget(card)
            card.hide()
            let_go(card)
        while len(self.parts) < count:
            card = self._card(len(self.parts))
            self.parts.append(card)
            self._rows.addWidget(card)
            before = self.parts[-2].last_input() if len(self.parts) > 1 else self._add
            QWidget.setTabOrder(before, card.head)
        for place, card in enumerate(self.parts):
            card.set_title(self._title(place, state, found.shown))

    def _title(self, place: int, state: State, path: str) -> str:
        part = value_at(state.job, f"{path}.{place}")
        name = (
            getattr(part, "name", None)
            or getattr(part, "id", None)
            or getattr(getattr(part, "record", None), "date", None)
        )
        title = self.tr("{one} {number}").format(one=self.items.one, number=place + 1)
        return f"{title}: {name[:24].replace('&', '&&')}" if name else title

    def _card(self, place: int) -> Card:
        path = f"{self.field}.{place}"

        def build() -> Iterator[QWidget]:
            yield from widgets_of(self.session, tuple(at(item, path) for item in self.items.items))
            yield self._remove_button(place)

        return Card(self.items.one, build, inner=True, name=path.replace(".", "__"))

    def _remove_button(self, place: int) -> QWidget:
        row = QWidget()
        button = QPushButton(self.tr("Remove {one} {number}").format(one=self.items.one.lower(), number=place + 1))
        button.setMinimumHeight(26)
        button.clicked.connect(lambda _=False: self.remove(place))
        across = QHBoxLayout(row)
        across.setContentsMargins(0, 2, 0, 2)
        across.addStretch(1)
        across.addWidget(button)
        return row

    def add(self) -> None:
        """Add an empty part at the end and open it."""
        self._set([*self._plain(), {}], self.tr("add {one}").format(one=self.items.one.lower()))
        self.parts[-1].set_open(True)

    def remove(self, place: int) -> None:
        """Take one part out; undo brings it back."""
        kept = [part for at_place, part in enumerate(self._plain()) if at_place != place]
        self._set(kept, self.tr("remove {one} {number}").format(one=self.items.one.lower(), number=place + 1))

    def _plain(self) -> list[object]:
        found = standing(self.session, self.session.job, self.field)
        return list(plain(found.value or ()))

    def _set(self, parts: list[object], text: str) -> None:
        self.session.set_fields(text, {self.session.own_field(self.field): tuple(parts)})
        self.session.announce(self.tr("{list}: {count}.").format(list=label_of(self.field), count=len(parts)))
