"""Sorting of the slip: numbers as numbers, blanks last in both directions; edits do not make rows jump."""

from __future__ import annotations

from PySide6.QtCore import QModelIndex, QObject, QPersistentModelIndex, QSortFilterProxyModel, Qt
from typing_extensions import override

from ui.slip.slip_model import SORT, SlipModel

Index = QModelIndex | QPersistentModelIndex


class SlipSorting(QSortFilterProxyModel):
    """Rows in the order asked for; as entered at first."""

    def __init__(self, model: SlipModel, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self.setDynamicSortFilter(False)
        self.setSortRole(SORT)
        self.setSourceModel(model)

    @override
    def lessThan(self, left: Index, right: Index) -> bool:
        one, other = left.data(SORT), right.data(SORT)
        if one is None or other is None:
            falling = self.sortOrder() is Qt.SortOrder.DescendingOrder  # Qt then asks with the two exchanged
            first, second = (other, one) if falling else (one, other)
            return first is not None and second is None
        return bool(one < other)
