"""One rule on show: what it is, its limits with their houses, what a change does."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QFrame, QHBoxLayout, QPushButton, QScrollArea, QVBoxLayout, QWidget

from ui.level_words import source_words
from ui.rule_book.effects_list import EffectsList
from ui.rule_book.houses import House, Houses, Outcome
from ui.rule_book.limit_card import LimitCard
from ui.widgets.wrapped_label import WrappedLabel

if TYPE_CHECKING:
    from loadbench.findings.rulebook import Rule
    from ui.session import Session


class RuleView(QWidget):
    """The right side of the rule book."""

    def __init__(self, session: Session, houses: Houses, rule: Rule) -> None:
        super().__init__()
        self.session, self.houses, self.rule = session, houses, rule
        self.cards = [LimitCard(session, houses, rule, name) for name in self._in_order()]
        self.effects = EffectsList()
        self.resets = {house: QPushButton() for house in House}
        inside = QWidget()
        rows = QVBoxLayout(inside)
        rows.setContentsMargins(12, 0, 12, 0)
        rows.addWidget(WrappedLabel(rule.title, role="heading"))
        rows.addWidget(WrappedLabel(self.tr("Source: {source}").format(source=source_words(rule.source)), role="quiet"))
        if not self.cards:
            rows.addWidget(WrappedLabel(self.tr("This rule has no limits: it asks for facts, not for a value.")))
        for card in self.cards:
            rows.addWidget(card)
        rows.addLayout(self._reset_row())
        rows.addWidget(self.effects)
        rows.addStretch(1)
        scroll = QScrollArea()
        scroll.setWidget(inside)
        scroll.setWidgetResizable(True)
        scroll.setFrameShape(QFrame.Shape.NoFrame)
        scroll.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        whole = QVBoxLayout(self)
        whole.setContentsMargins(0, 0, 0, 0)
        whole.addWidget(scroll)
        houses.outcome.connect(self.show_outcome)
        self.refresh()
        self.show_outcome(None)

    def _in_order(self) -> list[str]:
        """The limits; of alternatives, the one in force first."""
        first = self.houses.in_force.get(self.rule.id)
        return (
            sorted(self.rule.limits, key=lambda name: name != first)
            if self.rule.alternatives
            else list(self.rule.limits)
        )

    def _reset_row(self) -> QHBoxLayout:
        row = QHBoxLayout()
        shop, job = self.tr("Take the shop\u2019s change out"), self.tr("Take the job\u2019s change out")
        words = {House.SHOP: shop, House.JOB: job}
        for house, button in self.resets.items():
            button.setText(words[house])
            button.setObjectName(f"reset_{house}")
            button.setAutoDefault(False)
            button.clicked.connect(lambda _=False, whose=house: self.houses.reset(whose, self.rule))
            row.addWidget(button)
        row.addStretch(1)
        return row

    def refresh(self) -> None:
        """Show what holds now."""
        for card in self.cards:
            card.refresh()
        for house, button in self.resets.items():
            button.setEnabled(self.rule.id in self.houses.rules(house))
            button.setVisible(bool(self.cards))

    def show_outcome(self, outcome: Outcome | None) -> None:
        """Tell what a change does."""
        self.effects.setVisible(bool(self.cards))
        self.effects.show_outcome(outcome, self.session.style)
