"""Beneath the slip: mean, spread, least and greatest of each column of numbers."""

from __future__ import annotations

from typing import Any

from PySide6.QtCore import QAbstractTableModel, QModelIndex, QObject, QPersistentModelIndex, Qt
from typing_extensions import override

from loadbench.units import Kind, tell
from ui.slip.columns import Column
from ui.slip.slip_model import KINDS, SlipModel

Index = QModelIndex | QPersistentModelIndex
Role = Qt.ItemDataRole
ROWS = 4


class SummaryModel(QAbstractTableModel):
    """Four rows under the columns of the slip."""

    def __init__(self, slip: SlipModel, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self.slip = slip
        self._numbers: dict[int, list[float]] = {}
        slip.refreshed.connect(self._refresh)
        slip.modelReset.connect(self._reset)
        self._count()

    def _reset(self) -> None:
        self.beginResetModel()
        self._count()
        self.endResetModel()

    def _refresh(self) -> None:
        self._count()
        self.dataChanged.emit(self.index(0, 0), self.index(ROWS - 1, self.columnCount() - 1))

    def _count(self) -> None:
        rows = range(self.slip.rowCount())
        self._numbers = {
            column: [value for row in rows if (value := self.slip.value(row, column)) is not None]
            for column in range(self.slip.columnCount())
            if isinstance(self.slip.name_of(column), Column) or self.slip.name_of(column) in KINDS
        }

    @override
    def rowCount(self, parent: Index = QModelIndex()) -> int:  # noqa: B008 - Qt's own signature
        return 0 if parent.isValid() else ROWS

    @override
    def columnCount(self, parent: Index = QModelIndex()) -> int:  # noqa: B008
        return 0 if parent.isValid() else self.slip.columnCount()

    @override
    def headerData(self, section: int, orientation: Qt.Orientation, role: int = Role.DisplayRole) -> Any:
        if role == Role.DisplayRole and orientation is Qt.Orientation.Vertical:
            return self._names()[section]
        return None

    def _names(self) -> tuple[str, ...]:
        return (self.tr("Mean"), self.tr("Spread"), self.tr("Least"), self.tr("Greatest"))

    @override
    def data(self, index: Index, role: int = Role.DisplayRole) -> Any:
        row, column = index.row(), index.column()
        if role == Role.DisplayRole:
            return self.text(row, column)
        if role == Role.TextAlignmentRole:
            return int(Qt.AlignmentFlag.AlignVCenter | Qt.AlignmentFlag.AlignRight)
        if role == Role.AccessibleTextRole:
            head = " ".join(self.slip.head(column).split())
            return f"{self._names()[row]}, {head}: {self.text(row, column) or '-'}"
        return None

    def text(self, row: int, column: int) -> str:
        """One figure of the summary; the spread also as a share of the mean."""
        numbers = self._numbers.get(column, [])
        if not numbers or (row == 1 and len(numbers) < 2):
            return ""
        name = self.slip.name_of(column)
        kind = Kind.FORCE if isinstance(name, Column) else KINDS[name]
        mean, spread = sum(numbers) / len(numbers), max(numbers) - min(numbers)
        value = (mean, spread, min(numbers), max(numbers))[row]
        told = tell(value, kind, self.slip.session.style).number
        return f"{told} ({100 * spread / mean:.1f} %)" if row == 1 and mean > 0 else told
