"""The reason of one cell of the match: its level, trade and physics side by side, value and limit, source, links."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import QSize, Signal
from PySide6.QtWidgets import QFrame, QGridLayout, QHBoxLayout, QLabel, QVBoxLayout, QWidget
from typing_extensions import override

from loadbench.findings.finding import Level
from ui.followers.wording import DASH, criterion_word, kit_word, small, tr, value
from ui.icons import level_pixmap
from ui.labels import label_of
from ui.let_go import let_go
from ui.level_words import level_word, line_word, source_words
from ui.theme import theme
from ui.widgets.flow_bar import FlowBar
from ui.widgets.link import Link
from ui.widgets.wrapped_label import WrappedLabel

if TYPE_CHECKING:
    from loadbench.findings.match.result import Cell, Match
    from loadbench.units import Style

MOST_LINKS = 6


class Links(FlowBar):
    """What is not stated yet, each a way to its field."""

    wanted = Signal(str)

    def __init__(self) -> None:
        super().__init__()
        self.shown: list[Link] = []
        self._fields: tuple[str, ...] = ()
        self.word = QLabel(tr("Waits for:"))
        self.word.setProperty("role", "quiet")
        self.word.setMinimumHeight(24)
        self.add(self.word)
        self.hide()

    def show_fields(self, fields: tuple[str, ...]) -> None:
        """Lead to these; of fields that are called alike the first."""
        fields = tuple({label_of(field): field for field in reversed(fields)}.values())[::-1][:MOST_LINKS]
        if fields == self._fields:
            return
        self._fields = fields
        for link in self.shown:
            self._flow.removeWidget(link)
            link.hide()
            let_go(link)
        self.shown = [self._link(place, field) for place, field in enumerate(fields)]
        self.setVisible(bool(fields))
        self.updateGeometry()

    def _link(self, place: int, field: str) -> Link:
        label = label_of(field)
        link = Link(small(label), tr("Go to {field}").format(field=label))
        link.setObjectName(f"match_link_{place}")
        link.setProperty("leads_to", field)
        link.clicked.connect(lambda: self.wanted.emit(field))
        self.add(link)
        link.show()
        return link


class Side(QWidget):
    """What the trade says, or the physics."""

    def __init__(self, name: str, word: str) -> None:
        super().__init__()
        self.word, self.said = QLabel(word), WrappedLabel()
        self.word.setProperty("role", "heading")
        self.said.setObjectName(f"match_{name}")
        self.said.setAccessibleName(word)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(1)
        column.addWidget(self.word)
        column.addWidget(self.said)
        column.addStretch(1)


class Disagreement(QWidget):
    """Sign and words where the two disagree."""

    def __init__(self) -> None:
        super().__init__()
        self.sign, self.word = QLabel(), QLabel(tr("They disagree"))
        self.word.setObjectName("match_disagree")
        self.word.setProperty("role", "heading")
        row = QHBoxLayout(self)
        row.setContentsMargins(0, 0, 0, 0)
        row.setSpacing(6)
        row.addWidget(self.sign)
        row.addWidget(self.word)
        row.addStretch(1)
        theme().changed.connect(self._draw)
        self._draw()

    def _draw(self) -> None:
        self.sign.setPixmap(level_pixmap(Level.WATCH))


class CellReason(QFrame):
    """Shown beneath the grid."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setObjectName("match_cell")
        self.head, self.reason = WrappedLabel(), WrappedLabel()
        self.facts, self.changes = WrappedLabel(role="quiet"), WrappedLabel()
        self.trade, self.physics = Side("trade", tr("The trade says")), Side("physics", tr("The physics says"))
        self.disagreement, self.links = Disagreement(), Links()
        for name, label in (("head", self.head), ("reason", self.reason), ("facts", self.facts),
                            ("changes", self.changes)):  # fmt: skip
            label.setObjectName(f"match_{name}")
        self._embolden()
        self.sides = QWidget()
        both = QGridLayout(self.sides)
        both.setContentsMargins(0, 2, 0, 2)
        both.setHorizontalSpacing(16)
        both.addWidget(self.trade, 0, 0)
        both.addWidget(self.physics, 0, 1)
        both.setColumnStretch(0, 1)
        both.setColumnStretch(1, 1)
        column = QVBoxLayout(self)
        column.setContentsMargins(8, 4, 8, 4)
        column.setSpacing(3)
        for part in (self.head, self.disagreement, self.sides, self.reason, self.facts, self.links, self.changes):
            column.addWidget(part)
        column.addStretch(1)

    @override
    def minimumSizeHint(self) -> QSize:
        """For the width of now: wrapped labels would reckon with a narrow one."""
        least, layout = super().minimumSizeHint(), self.layout()
        height = least.height() if layout is None else layout.minimumHeightForWidth(max(self.width(), least.width()))
        return QSize(least.width(), height)

    def _embolden(self) -> None:
        bold = self.font()
        bold.setBold(True)
        self.head.setFont(bold)

    def show_cell(self, cell: Cell, match: Match, style: Style) -> None:
        """Show the reason of a cell."""
        both = cell.practice is not None and cell.physics is not None
        self.head.tell(head_of(cell))
        self.disagreement.setVisible(cell.disagree)
        self.sides.setVisible(both)
        if cell.practice is not None and cell.physics is not None:
            self.trade.said.tell(cell.practice.told(style))
            self.physics.said.tell(cell.physics.told(style))
        self.reason.tell(beyond(cell, style))
        self.facts.tell(facts_of(cell, style))
        self.links.show_fields(cell.missing)
        told = "\n".join(f"\u2022 {each.told(style)}" for each in match.changes.get(cell.kit, ()))
        lead = tr("For {kit} to suit:").format(kit=small(kit_word(cell.kit)))
        self.changes.tell(f"{lead}\n{told}" if told else "")


def head_of(cell: Cell) -> str:
    """Family, criterion, level, and the line where the level is of one."""
    level = tr("does not concern it") if cell.level is None else small(level_word(cell.level))
    place = "" if cell.line is None else f" ({small(line_word(cell.line))})"
    return f"{kit_word(cell.kit)}, {small(criterion_word(cell.criterion))}: {level}{place}"


def beyond(cell: Cell, style: Style) -> str:
    """The sentence; of that nothing that stands in one of the two columns already."""
    told = cell.sentence.told(style)
    if cell.practice is None or cell.physics is None:
        return told
    for side in (cell.practice, cell.physics):
        said = side.told(style)
        if told.startswith(said):
            return told[len(said) :].strip()
    return told


def facts_of(cell: Cell, style: Style) -> str:
    """Value, limit and source."""
    found = []
    if cell.value is not None and cell.value_kind is not None:
        limit = DASH if cell.limit is None else value(cell.limit, cell.value_kind, style)
        shown = value(cell.value, cell.value_kind, style)
        found.append(tr("Value {value}, limit {limit}.").format(value=shown, limit=limit))
    if cell.level is not None:
        found.append(tr("Source: {source}.").format(source=source_words(cell.source).rstrip(".")))
    return " ".join(found)
