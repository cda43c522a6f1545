"""What a change of the rules does, in words: finding, level before, level after."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QGridLayout, QLabel, QWidget

from loadbench.findings.finding import Level
from ui.icons import level_pixmap
from ui.let_go import let_go
from ui.level_words import level_word
from ui.widgets.finding_groups import place_of
from ui.widgets.wrapped_label import WrappedLabel

if TYPE_CHECKING:
    from loadbench.units import Style
    from ui.rule_book.effects import Effect
    from ui.rule_book.houses import Outcome

MOST = 8


class EffectsList(QWidget):
    """A heading and up to a few rows; the rest are counted."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setObjectName("effects")
        self._rows = QGridLayout(self)
        self._rows.setContentsMargins(0, 4, 0, 4)
        self._rows.setHorizontalSpacing(6)
        self._rows.setVerticalSpacing(2)
        self._rows.setColumnStretch(3, 1)

    def show_outcome(self, outcome: Outcome | None, style: Style) -> None:
        """Tell an outcome; without one, what would be told here."""
        self._clear()
        self._line(self._heading(outcome), "heading" if outcome else "quiet")
        if outcome is None:
            return
        for effect in outcome.effects[:MOST]:
            self._add(effect, style)
        if len(outcome.effects) > MOST:
            self._line(self.tr("and {count} more").format(count=len(outcome.effects) - MOST), "quiet")

    def _heading(self, outcome: Outcome | None) -> str:
        if outcome is None:
            return self.tr("While a limit is typed, the findings that it moves are listed here.")
        if not outcome.effects:
            return self.tr("This would move no finding.") if outcome.tried else self.tr("This moved no finding.")
        return self.tr("This would move:") if outcome.tried else self.tr("This moved:")

    def _line(self, text: str, role: str) -> None:
        self._rows.addWidget(WrappedLabel(text, role=role), self._rows.rowCount(), 0, 1, 4)

    def _add(self, effect: Effect, style: Style) -> None:
        row = self._rows.rowCount()
        sign = QLabel()
        sign.setPixmap(level_pixmap(effect.after or Level.UNKNOWN, 16))
        before = level_word(effect.before) if effect.before else self.tr("Not told")
        after = level_word(effect.after) if effect.after else self.tr("Not told")
        levels = QLabel(self.tr("{before} \u2192 {after}").format(before=before, after=after))
        levels.setTextFormat(Qt.TextFormat.PlainText)
        place = place_of(effect.finding)
        text = self.tr("{title}, {place}: {sentence}") if place else self.tr("{title}: {sentence}")
        told = text.format(title=effect.finding.title, place=place, sentence=effect.finding.sentence.told(style))
        top = Qt.AlignmentFlag.AlignTop
        self._rows.addWidget(sign, row, 0, top)
        self._rows.addWidget(levels, row, 1, top)
        self._rows.addWidget(WrappedLabel(told), row, 3)

    def text(self) -> str:
        """All of it, line by line."""
        widgets = (self._rows.itemAt(place) for place in range(self._rows.count()))
        labels = [item.widget() for item in widgets if item is not None]
        return "\n".join(label.text() for label in labels if isinstance(label, QLabel) and label.text())

    def _clear(self) -> None:
        while (item := self._rows.takeAt(0)) is not None:
            widget = item.widget()
            if widget is not None:
                widget.hide()
                let_go(widget)
