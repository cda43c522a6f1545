"""The preview's table: the printout as it came, row by row, with what each row and cell was taken for."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import QAbstractTableModel, QModelIndex, QObject, QPersistentModelIndex, Qt
from PySide6.QtGui import QFont
from typing_extensions import override

from loadbench.findings.finding import Level
from ui.icons import level_icon
from ui.palette import colours
from ui.printout.rows import RowKind, ShownRow, levelled, missing_loads, shown_rows
from ui.printout.wording import column_title
from ui.theme import theme

if TYPE_CHECKING:
    from loadbench.errors import Problem
    from loadbench.readings.printout.cells import Grid, Row
    from loadbench.readings.printout.meaning import Column, Understood

Index = QModelIndex | QPersistentModelIndex
NOWHERE = QModelIndex()
Role = Qt.ItemDataRole
MOST_COLUMNS = 60
"""More columns than any tester prints; those beyond are read, but not shown."""


class PreviewModel(QAbstractTableModel):
    """Rows of text; nothing in it is edited."""

    def __init__(self, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self.rows: tuple[ShownRow, ...] = ()
        self.columns: tuple[Column, ...] = ()
        self._grid: Grid | None = None
        self._levelled: tuple[Row, ...] = ()
        self._width = self._missing = 0
        theme().changed.connect(self._restyle)

    def show_printout(self, understood: Understood) -> None:
        """Show a printout as it is understood now."""
        grid = understood.grid
        if grid is not self._grid:
            self._grid, self._levelled = grid, levelled(grid)
        self._missing = missing_loads(understood, self._levelled)
        rows, columns = shown_rows(understood, self._levelled), understood.columns
        width = min(MOST_COLUMNS, max(len(columns), max((len(row.cells) for row in rows), default=0)))
        fits = (len(rows), width) == (len(self.rows), self._width)
        if not fits:
            self.beginResetModel()
        self.rows, self.columns, self._width = rows, columns, width
        if not fits:
            self.endResetModel()
            return
        self._restyle()

    def _restyle(self) -> None:
        if not self.rows or not self._width:
            return
        last = self.index(len(self.rows) - 1, self._width - 1)
        self.dataChanged.emit(self.index(0, 0), last)
        self.headerDataChanged.emit(Qt.Orientation.Horizontal, 0, self._width - 1)
        self.headerDataChanged.emit(Qt.Orientation.Vertical, 0, len(self.rows) - 1)

    @property
    def missing(self) -> int:
        """How many loads are not there."""
        return self._missing

    def problem_at(self, index: Index) -> Problem | None:
        """What is wrong in a cell."""
        return self.rows[index.row()].problems.get(index.column()) if index.isValid() else None

    def index_of(self, row: int, cell: int) -> QModelIndex:
        """The cell of a row by its number in the printout; an invalid one where that row is not shown."""
        found = next((place for place, shown in enumerate(self.rows) if shown.number == row), None)
        return QModelIndex() if found is None else self.index(found, max(0, min(cell, self._width - 1)))

    def row_of(self, number: int) -> Row | None:
        """A row of the printout by its number."""
        return next((row for row in self._levelled if row.number == number), None)

    @property
    def all_rows(self) -> int:
        """How many rows the printout has, blank ones apart."""
        return len(self._levelled)

    # What a view asks

    @override
    def rowCount(self, parent: Index = NOWHERE) -> int:
        return 0 if parent.isValid() else len(self.rows)

    @override
    def columnCount(self, parent: Index = NOWHERE) -> int:
        return 0 if parent.isValid() else self._width

    @override
    def data(self, index: Index, role: int = Role.DisplayRole) -> object:
        row = self.rows[index.row()]
        text = row.cells[index.column()] if index.column() < len(row.cells) else ""
        problem = row.problems.get(index.column())
        if role == Role.DisplayRole:
            return text
        if role == Role.DecorationRole:
            return level_icon(Level.STOP) if problem is not None else None
        if role in (Role.ToolTipRole, Role.AccessibleDescriptionRole):
            return str(problem) if problem is not None else None
        if role == Role.AccessibleTextRole:
            told = self.tr("Wrong: {text}") if problem is not None else "{text}"
            return told.format(text=text or self.tr("blank"))
        return self._look(row, role)

    def _look(self, row: ShownRow, role: int) -> object:
        if role == Role.ForegroundRole and row.kind is RowKind.LEFT_OUT:
            return colours().colour("quiet")
        if role == Role.FontRole and row.kind in (RowKind.HEADER, RowKind.UNITS, RowKind.LEFT_OUT):
            font = QFont()
            font.setBold(row.kind is not RowKind.LEFT_OUT)
            font.setItalic(row.kind is RowKind.LEFT_OUT)
            return font
        return None

    @override
    def headerData(self, section: int, orientation: Qt.Orientation, role: int = Role.DisplayRole) -> object:
        if orientation is Qt.Orientation.Vertical:
            return self.row_head(section) if role == Role.DisplayRole else None
        if role == Role.DisplayRole:
            return str(section + 1)
        if role in (Role.ToolTipRole, Role.AccessibleTextRole) and section < len(self.columns):
            return column_title(self.columns[section])
        return None

    def row_head(self, section: int) -> str:
        """A row's number and what it was taken for."""
        row = self.rows[section]
        words = {
            RowKind.HEADER: self.tr("header"),
            RowKind.UNITS: self.tr("units"),
            RowKind.LEFT_OUT: self.tr("left out"),
            RowKind.WRONG: self.tr("wrong"),
            RowKind.READ: "",
        }
        word = words[row.kind]
        return f"{word}  {row.number}" if word else str(row.number)
