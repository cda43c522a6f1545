"""The left panel: everything that is stated and measured, on cards that fold, for the line on show."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import Qt, QTimer
from PySide6.QtWidgets import QFrame, QScrollArea, QVBoxLayout, QWidget

from ui.labels import common_path
from ui.widgets.card import Card
from ui.widgets.card_builder import GroupCard, PartList
from ui.widgets.field import Field
from ui.widgets.line_switch import LineSwitch
from ui.widgets.stated_cards import CARDS, mentions

if TYPE_CHECKING:
    from ui.session import Session
    from ui.state import Pointing

WIDTH = 300


class StatedPanel(QWidget):
    """Cards of fields in the order of the way through the house."""

    def __init__(self, session: Session, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.session = session
        self.setObjectName("stated_panel")
        self.setMinimumWidth(WIDTH - 20)
        self.switch = LineSwitch(session)
        self.cards = [GroupCard(session, group, inner=False) for group in CARDS]
        self._lit: list[Field] = []
        self._lay_out()
        session.pointed.connect(self._light)

    def _lay_out(self) -> None:
        inside = QWidget()
        column = QVBoxLayout(inside)
        column.setContentsMargins(6, 0, 4, 8)
        column.setSpacing(2)
        for card in self.cards:
            column.addWidget(card)
        column.addStretch(1)
        self.area = QScrollArea()
        self.area.setWidgetResizable(True)
        self.area.setFrameShape(QFrame.Shape.NoFrame)
        self.area.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.area.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self.area.setWidget(inside)
        rows = QVBoxLayout(self)
        rows.setContentsMargins(0, 0, 0, 0)
        rows.setSpacing(0)
        rows.addWidget(self.switch)
        rows.addWidget(self.area, 1)

    def open_all(self) -> None:
        """Unfold everything."""
        seen: set[int] = set()
        while folded := [card for card in self.findChildren(Card) if id(card) not in seen]:
            for card in folded:
                seen.add(id(card))
                card.set_open(True)

    def reveal(self, field: str) -> bool:
        """Open the cards around a field, scroll to it and give it the focus.

        Args:
            field: dotted path, of the common part or of a line.

        Returns:
            Whether the panel has this field.
        """
        line = field.split(".")[1] if field.startswith("lines.") else None
        if line is not None:
            self.session.choose_line(line)
        wanted = common_path(field) if line else field
        if not any(self._open_towards(card, wanted) for card in self.cards):
            return False
        widget = self._input_of(wanted)
        if widget is None:
            return False
        widget.setFocus(Qt.FocusReason.ShortcutFocusReason)
        QTimer.singleShot(0, widget, lambda: self.area.ensureWidgetVisible(widget, 20, 60))
        return True

    def _open_towards(self, card: Card, field: str) -> bool:
        if isinstance(card, GroupCard) and not mentions(card.group, field):
            return False
        card.set_open(True)
        for place in range(card.rows.count()):
            item = card.rows.itemAt(place)
            inner = None if item is None else item.widget()
            if isinstance(inner, GroupCard):
                self._open_towards(inner, field)
            elif isinstance(inner, PartList) and field.startswith(f"{inner.field}."):
                number = field.removeprefix(f"{inner.field}.").split(".")[0]
                if number.isdigit() and int(number) < len(inner.parts):
                    self._open_towards(inner.parts[int(number)], field)
        return True

    def _input_of(self, field: str) -> QWidget | None:
        """The input of a field, or the table that holds it."""
        inputs = [widget for widget in self.findChildren(QWidget) if isinstance(widget.property("field"), str)]
        exact = next((widget for widget in inputs if widget.property("field") == field), None)
        if exact is None:
            exact = next((widget for widget in inputs if field.startswith(f"{widget.property('field')}.")), None)
        grid = getattr(exact, "grid", None)
        return grid if isinstance(grid, QWidget) else exact

    def _light(self, pointing: Pointing) -> None:
        """Light up the fields that something points at."""
        wanted = {common_path(field) if field.startswith("lines.") else field for field in pointing.fields}
        for field in self.findChildren(Field):
            field.light(field.field in wanted)
