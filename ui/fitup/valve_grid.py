"""The grid of valves on show: as wide as the page lets it be, typed down the column, locked by Space."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import QItemSelection, QItemSelectionModel, QModelIndex, QPersistentModelIndex, QSize, Qt
from PySide6.QtGui import QPainter, QPen
from PySide6.QtWidgets import (
    QAbstractItemView,
    QApplication,
    QHeaderView,
    QLineEdit,
    QStyle,
    QStyleOptionViewItem,
    QTableView,
    QWidget,
)
from typing_extensions import override

from ui.fitup.valve_columns import COLUMNS, WIDEST, head_of
from ui.fitup.valve_model import ValveModel
from ui.palette import colours
from ui.widgets.grid_view import CellDelegate, GridView

if TYPE_CHECKING:
    from PySide6.QtGui import QResizeEvent

    from ui.session import Session

HEAD_SIDES, CELL_SIDES = 14, 8  # px beside the text
SIGN = 22  # a sign beside the text
SIGNED = ("id", "plan_bind")
MOST_WIDER = 1.9


class ValveDelegate(CellDelegate):
    """Cells as everywhere; the box of a lock in the colours on show, which the style's own has not in the dark."""

    @override
    def setEditorData(self, editor: QWidget, index: QModelIndex | QPersistentModelIndex) -> None:
        """A plan that comes while a height is typed takes nothing out of the editor."""
        if not (isinstance(editor, QLineEdit) and editor.isModified()):
            super().setEditorData(editor, index)

    @override
    def paint(
        self, painter: QPainter, option: QStyleOptionViewItem, index: QModelIndex | QPersistentModelIndex
    ) -> None:
        super().paint(painter, option, index)
        if index.data(Qt.ItemDataRole.CheckStateRole) is None:
            return
        own = QStyleOptionViewItem(option)
        self.initStyleOption(own, index)
        widget = self.parent()
        style = widget.style() if isinstance(widget, QTableView) else QApplication.style()
        box = style.subElementRect(QStyle.SubElement.SE_ItemViewItemCheckIndicator, own, None)
        chosen = bool(own.state & QStyle.StateFlag.State_Selected)
        painter.save()
        painter.setPen(QPen(colours().colour("on_accent" if chosen else "lines"), 1.2))
        painter.drawRoundedRect(box.adjusted(0, 0, -1, -1), 2, 2)
        painter.restore()


class ValveGrid(GridView):
    """One row a valve, in cylinder order."""

    def __init__(self, session: Session) -> None:
        super().__init__(session)
        self.valves = ValveModel(session, self)
        self.setModel(self.valves)
        self.setItemDelegate(ValveDelegate(self))
        self.setObjectName("valves")
        self.setProperty("field", "valves")
        self.setAccessibleName(self.tr("Valves in cylinder order, as stated and as planned"))
        hint = self.tr("Type to fill in, Enter moves down, Delete clears, Space locks. Paste from a spreadsheet works.")
        self.setAccessibleDescription(hint)
        self.setSelectionMode(QAbstractItemView.SelectionMode.ContiguousSelection)
        self._shape()
        session.styled.connect(self.fit_columns)
        self.valves.dataChanged.connect(self.fit_columns)

    def _shape(self) -> None:
        across, down = self.horizontalHeader(), self.verticalHeader()
        across.setMinimumSectionSize(30)
        across.setHighlightSections(False)
        across.setSectionResizeMode(QHeaderView.ResizeMode.Interactive)
        across.setDefaultAlignment(Qt.AlignmentFlag.AlignHCenter | Qt.AlignmentFlag.AlignBottom)
        down.setVisible(False)
        down.setDefaultSectionSize(max(24, self.fontMetrics().height() + 8))
        self.setIconSize(QSize(16, 16))
        self.setMinimumHeight(70)

    def fit_columns(self, *_: object) -> None:
        """Columns as wide as their heads and usual entries; what room is left is shared out."""
        room = self.viewport().width()
        tight = sum(self._least(tight=False)) > room
        if tight != self.valves.tight:
            self.valves.tight = tight
            self.horizontalHeader().headerDataChanged(Qt.Orientation.Horizontal, 0, len(COLUMNS) - 1)
        least = self._least(tight=tight)
        share = min(max(room / sum(least), 1.0), MOST_WIDER)
        for place, width in enumerate(least):
            if self.columnWidth(place) != int(width * share):
                self.setColumnWidth(place, int(width * share))

    def _least(self, *, tight: bool) -> list[int]:
        metrics, style = self.fontMetrics(), self.session.style
        found = []
        for column in COLUMNS:
            heads = [metrics.horizontalAdvance(line) for line in head_of(column, style, tight=tight).split("\n")]
            usual = max(metrics.horizontalAdvance(text) for text in self._entries(column))
            found.append(max(max(heads) + HEAD_SIDES, usual + CELL_SIDES + (SIGN if column in SIGNED else 0)))
        return found

    def _entries(self, column: str) -> list[str]:
        """The usual entry of a column, and of stacks those that are there: they differ most."""
        stacks = column in ("shims", "plan_shims")
        return [WIDEST[column], *(self.valves.text(row, column) for row in range(len(self.valves.rows)) if stacks)]

    @override
    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        self.fit_columns()

    def chosen_places(self) -> list[int]:
        """The valves with a chosen cell, by their place in the job."""
        rows = sorted({index.row() for index in self.selectedIndexes()} or {self.currentIndex().row()})
        return [found.index for row in rows if (found := self.valves.row(row)) is not None]

    def current_valve(self) -> int | None:
        """The row of the current cell; None where it is no valve."""
        row = self.currentIndex().row()
        return row if self.valves.row(row) is not None else None

    def go_to(self, row: int, column: str | None = None) -> None:
        """Make a cell the current one; the column stays where none is named."""
        now = max(self.currentIndex().column(), 0)
        index = self.valves.index(row, COLUMNS.index(column) if column else now)
        if index.isValid() and index != self.currentIndex():
            self.setCurrentIndex(index)
        self.scrollTo(index)

    def copy_all(self) -> None:
        """Every valve to the clipboard, with heads; the current cell stays."""
        last = len(self.valves.rows) - 1
        if last < 0:
            return
        current = self.currentIndex()
        flag = QItemSelectionModel.SelectionFlag
        whole = QItemSelection(self.valves.index(0, 0), self.valves.index(last, len(COLUMNS) - 1))
        self.selectionModel().select(whole, flag.ClearAndSelect)
        self.copy()
        self.selectionModel().setCurrentIndex(current, flag.ClearAndSelect)
