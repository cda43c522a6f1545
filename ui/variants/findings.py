"""What is found of one candidate: a block for each level, its first few, the rest on demand."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtWidgets import QHBoxLayout, QLabel, QPushButton, QVBoxLayout, QWidget

from loadbench.findings.finding import Level
from ui.icons import level_pixmap
from ui.let_go import let_go
from ui.level_words import level_word
from ui.plain_tip import plain_tip
from ui.theme import theme
from ui.variants.comparison import worst_findings
from ui.widgets.wrapped_label import WrappedLabel

if TYPE_CHECKING:
    from loadbench.units import Style
    from ui.variants.comparison import Candidate, Told

LEVELS = (Level.STOP, Level.WATCH, Level.UNKNOWN)
FIRST = 2


class LevelBlock(QWidget):
    """The findings of one level: sign, count and word, then the sentences."""

    def __init__(self, level: Level, found: tuple[Told, ...], whose: str, opened: set[Level]) -> None:
        super().__init__()
        self.level, self._opened, self._whose = level, opened, whose
        self._sign = QLabel()
        rows = QVBoxLayout(self)
        rows.setContentsMargins(0, 4, 0, 0)
        rows.setSpacing(3)
        rows.addLayout(self._head(len(found)))
        for told in found[:FIRST]:
            rows.addWidget(self._sentence(told))
        self.rest, self.more = QWidget(), QPushButton()
        below = QVBoxLayout(self.rest)
        below.setContentsMargins(0, 0, 0, 0)
        below.setSpacing(3)
        for told in found[FIRST:]:
            below.addWidget(self._sentence(told))
        rows.addWidget(self.rest)
        beside = QHBoxLayout()
        beside.setContentsMargins(14, 0, 0, 0)  # its words level with the sentences
        beside.addWidget(self.more)
        beside.addStretch(1)
        rows.addLayout(beside)
        self._count = len(found) - FIRST
        self.more.setObjectName("more_findings")
        self.more.setFlat(True)
        self.more.setAutoDefault(False)
        self.more.setMinimumHeight(24)
        self.more.clicked.connect(self._turn)
        theme().changed.connect(self._draw)
        self._draw()
        self._say()

    def _head(self, count: int) -> QHBoxLayout:
        words = QLabel(self.tr("{count} {level}").format(count=count, level=level_word(self.level).lower()))
        words.setProperty("role", "heading")
        head = QHBoxLayout()
        head.setSpacing(6)
        head.addWidget(self._sign)
        head.addWidget(words, 1)
        return head

    def _sentence(self, told: Told) -> WrappedLabel:
        label = WrappedLabel(self.tr("Here only: {text}").format(text=told.text) if told.differs else told.text)
        label.setContentsMargins(22, 0, 0, 0)
        if told.differs:
            label.setToolTip(plain_tip(self.tr("The job\u2019s own spring does not stand at this level here.")))
        return label

    def _turn(self) -> None:
        self._opened ^= {self.level}
        self._say()

    def _say(self) -> None:
        opened = self.level in self._opened
        self.rest.setVisible(opened and self._count > 0)
        self.more.setVisible(self._count > 0)
        text = self.tr("Show fewer") if opened else self.tr("and {count} more").format(count=self._count)
        self.more.setText(text)
        name = self.tr("{text}: {level}, {candidate}")
        self.more.setAccessibleName(name.format(text=text, level=level_word(self.level), candidate=self._whose))

    def _draw(self) -> None:
        self._sign.setPixmap(level_pixmap(self.level, 16))


class Findings(QWidget):
    """The blocks of one candidate, worst first; what is clear is only said where all is."""

    def __init__(self) -> None:
        super().__init__()
        self.blocks: list[LevelBlock] = []
        self._opened: set[Level] = set()  # outlives the blocks: an edit closes nothing
        self._rows = QVBoxLayout(self)
        self._rows.setContentsMargins(0, 2, 0, 0)
        self._rows.setSpacing(2)
        self._clear = WrappedLabel(role="heading")
        self._rows.addWidget(self._clear)
        self._shown: object = None

    def show_candidate(self, candidate: Candidate, own: Candidate, style: Style) -> None:
        """Show what is found of a candidate; nothing is done where it stands as before."""
        found = worst_findings(candidate, own, style)
        if self._shown == (candidate.name, found):
            return
        self._shown = (candidate.name, found)
        self._clear.tell("" if found else self.tr("All clear"))
        for block in self.blocks:
            self._rows.removeWidget(block)
            block.hide()
            let_go(block)
        by_level = {level: tuple(told for told in found if told.level is level) for level in LEVELS}
        self.blocks = [
            LevelBlock(level, each, candidate.name, self._opened) for level, each in by_level.items() if each
        ]
        for block in self.blocks:
            self._rows.addWidget(block)
