"""The match as a table: a family a column, a criterion a row, each cell its level by icon and word."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from PySide6.QtCore import QAbstractTableModel, QModelIndex, QPersistentModelIndex, Qt
from typing_extensions import override

from loadbench.findings.match.result import Criterion, Kit
from ui.followers.wording import criterion_head, criterion_word, kit_head, kit_word, tr
from ui.icons import icon, level_icon
from ui.level_words import level_word
from ui.palette import colours
from ui.plain_tip import plain_tip
from ui.plots.ink import font

if TYPE_CHECKING:
    from collections.abc import Callable

    from PySide6.QtGui import QIcon
    from PySide6.QtWidgets import QWidget

    from loadbench.findings.finding import Level
    from loadbench.findings.match.result import Cell, Match
    from loadbench.units import Style

Index = QModelIndex | QPersistentModelIndex
Role = Qt.ItemDataRole
KITS, CRITERIA = tuple(Kit), tuple(Criterion)
NOTHING = "\u2013"
HEAD_SHARE = 0.85
"""Of the window's letters: those of the heads."""


class MatchModel(QAbstractTableModel):
    """Levels only: the reasons stand beside the table."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.held: Match | None = None
        self.style: Style | None = None
        self.stale = False

    def head_lines(self) -> int:
        """Lines of the tallest head across, with both its marks."""
        return max(kit_head(kit).count("\n") for kit in KITS) + 3

    def set_stale(self, stale: bool) -> None:
        """Show all greyed, or not: what stands here is of the job before."""
        if stale != self.stale:
            self.stale = stale
            self._tell_all()

    def _tell_all(self) -> None:
        self.dataChanged.emit(self.index(0, 0), self.index(len(CRITERIA) - 1, len(KITS) - 1))

    def show_match(self, match: Match, style: Style) -> None:
        """Show a match; the place that is chosen stays."""
        self.held, self.style = match, style
        self._tell_all()
        self.headerDataChanged.emit(Qt.Orientation.Horizontal, 0, len(KITS) - 1)

    def cell(self, index: Index) -> Cell | None:
        """The cell at a place."""
        if self.held is None or not index.isValid():
            return None
        return self.held.cell(KITS[index.column()], CRITERIA[index.row()])

    @override
    def rowCount(self, parent: Index = QModelIndex()) -> int:  # noqa: B008 - Qt's own signature
        return 0 if parent.isValid() else len(CRITERIA)

    @override
    def columnCount(self, parent: Index = QModelIndex()) -> int:  # noqa: B008
        return 0 if parent.isValid() else len(KITS)

    @override
    def headerData(self, section: int, orientation: Qt.Orientation, role: int = Role.DisplayRole) -> Any:
        if role == Role.FontRole:
            return font(HEAD_SHARE)
        if orientation is Qt.Orientation.Vertical:
            return criterion_head(CRITERIA[section]) if role == Role.DisplayRole else None
        kit = KITS[section]
        own = self.held is not None and self.held.stated is kit
        best = self.held is not None and self.held.family.choice == str(kit)
        if role == Role.DisplayRole:
            marks = [tr("stated")] * own + [tr("best")] * best
            return "\n".join([kit_head(kit), *(f"({mark})" for mark in marks)])
        return None

    @override
    def data(self, index: Index, role: int = Role.DisplayRole) -> Any:
        cell = self.cell(index)
        return None if cell is None else self._shown(cell, role)

    def _shown(self, cell: Cell, role: int) -> Any:
        """What a cell shows in a role."""
        level = cell.level
        word = NOTHING if level is None else level_word(level) + (" *" if cell.disagree else "")
        said = tr("does not concern it") if level is None else level_word(level)
        said += tr(", trade and physics disagree") * cell.disagree
        style = self.style
        found: dict[int, Callable[[], Any]] = {
            Role.DisplayRole: lambda: word,
            Role.DecorationRole: lambda: None if level is None else self._sign(level),
            Role.ForegroundRole: lambda: colours().colour("quiet" if level is None or self.stale else str(level)),
            Role.ToolTipRole: lambda: None if style is None else plain_tip(cell.sentence.told(style)),
            Role.AccessibleTextRole: lambda: f"{kit_word(cell.kit)}, {criterion_word(cell.criterion)}: {said}",
            Role.TextAlignmentRole: lambda: int(Qt.AlignmentFlag.AlignCenter) if level is None else None,
        }
        return found[role]() if role in found else None

    def _sign(self, level: Level) -> QIcon:
        return icon(str(level), "quiet") if self.stale else level_icon(level)

    def as_rows(self) -> list[list[str]]:
        """The table as texts, its heads first."""
        heads = ["", *(kit_word(kit) for kit in KITS)]
        rows = [
            [criterion_word(criterion), *(str(self.data(self.index(row, column)) or "") for column in range(len(KITS)))]
            for row, criterion in enumerate(CRITERIA)
        ]
        return [heads, *rows]
