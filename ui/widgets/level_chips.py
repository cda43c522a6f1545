"""The four levels with their counts, as switches: a level that is off is left out of the list."""

from __future__ import annotations

from PySide6.QtCore import QSize, Qt, Signal
from PySide6.QtWidgets import QGridLayout, QSizePolicy, QToolButton, QWidget

from loadbench.findings.finding import Level, Verdicts
from ui.icons import level_icon
from ui.level_words import level_word
from ui.theme import theme

ORDER = (Level.STOP, Level.WATCH, Level.UNKNOWN, Level.CLEAR)


class LevelChips(QWidget):
    """Counts by level; in two rows, or one below the other where the panel is folded."""

    filtered = Signal()

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.chips = {level: self._chip(level) for level in ORDER}
        self._rows = QGridLayout(self)
        self._rows.setContentsMargins(0, 0, 0, 0)
        self._rows.setSpacing(4)
        theme().changed.connect(self._draw)
        self._draw()
        self.stack(False)

    def _chip(self, level: Level) -> QToolButton:
        chip = QToolButton()
        chip.setObjectName(f"level_{level}")
        chip.setCheckable(True)
        chip.setChecked(True)
        chip.setToolButtonStyle(Qt.ToolButtonStyle.ToolButtonTextBesideIcon)
        chip.setIconSize(QSize(16, 16))
        chip.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        chip.setSizePolicy(QSizePolicy.Policy.MinimumExpanding, QSizePolicy.Policy.Fixed)
        chip.setMinimumHeight(26)
        chip.setToolTip(self.tr("Show or leave out what stands at: {level}").format(level=level_word(level)))
        chip.toggled.connect(lambda _on: self.filtered.emit())
        return chip

    def stack(self, folded: bool) -> None:
        """One below the other, or two by two."""
        for place, chip in enumerate(self.chips.values()):
            self._rows.addWidget(chip, place if folded else place // 2, 0 if folded else place % 2)

    def show_counts(self, verdicts: Verdicts) -> None:
        """How many findings stand at each level."""
        for level, chip in self.chips.items():
            count = verdicts.count(level)
            text = self.tr("{count} {level}").format(count=count, level=level_word(level).lower())
            if chip.text() != text:
                chip.setText(text)
                chip.setAccessibleName(text)

    def shows(self, level: Level) -> bool:
        """Whether findings at a level are on show."""
        return self.chips[level].isChecked()

    def _draw(self) -> None:
        for level, chip in self.chips.items():
            chip.setIcon(level_icon(level))
