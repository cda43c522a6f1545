"""A list of the panel on show: to read, to go to its springs, to copy."""

from __future__ import annotations

from typing import Any

from PySide6.QtCore import QAbstractTableModel, QModelIndex, QPersistentModelIndex, Qt, Signal
from PySide6.QtGui import QGuiApplication, QKeyEvent, QKeySequence, QResizeEvent
from PySide6.QtWidgets import QAbstractItemView, QHeaderView, QTableView, QVBoxLayout, QWidget
from typing_extensions import override

from ui.plain_tip import plain_tip
from ui.trust.lists import Listed, as_text
from ui.widgets.wrapped_label import WrappedLabel

Index = QModelIndex | QPersistentModelIndex
Role = Qt.ItemDataRole


class ListModel(QAbstractTableModel):
    """A table of texts."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.listed = Listed(heads=(), rows=())

    def show_list(self, listed: Listed) -> bool:
        """Show this one; whether anything changed."""
        if listed == self.listed:
            return False
        self.beginResetModel()
        self.listed = listed
        self.endResetModel()
        return True

    @override
    def rowCount(self, parent: Index = QModelIndex()) -> int:  # noqa: B008 - Qt's own signature
        return 0 if parent.isValid() else len(self.listed.rows)

    @override
    def columnCount(self, parent: Index = QModelIndex()) -> int:  # noqa: B008
        return 0 if parent.isValid() else len(self.listed.heads)

    @override
    def headerData(self, section: int, orientation: Qt.Orientation, role: int = Role.DisplayRole) -> Any:
        across = orientation is Qt.Orientation.Horizontal
        return self.listed.heads[section] if across and role == Role.DisplayRole else None

    @override
    def data(self, index: Index, role: int = Role.DisplayRole) -> Any:
        text = self.listed.rows[index.row()].cells[index.column()]
        if role == Role.DisplayRole:
            return text
        if role == Role.ToolTipRole:
            return plain_tip(text)
        if role == Role.TextAlignmentRole:
            right = index.column() in self.listed.right
            side = Qt.AlignmentFlag.AlignRight if right else Qt.AlignmentFlag.AlignLeft
            return int(Qt.AlignmentFlag.AlignVCenter | side)
        if role == Role.AccessibleTextRole:
            head = " ".join(self.listed.heads[index.column()].split())
            return f"{head}, {index.row() + 1}: {text}"
        return None


class ListView(QTableView):
    """Rows are chosen whole; Copy takes the chosen ones, or all."""

    copied = Signal()

    @override
    def keyPressEvent(self, event: QKeyEvent) -> None:
        if event.matches(QKeySequence.StandardKey.Copy):
            self.copied.emit()
        else:
            super().keyPressEvent(event)


class ListTable(QWidget):
    """A sentence above a table; the springs of the current row are told."""

    went = Signal(tuple)
    copied = Signal(int)

    def __init__(self, name: str, title: str, *, wrapped: bool = False, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.sentence = WrappedLabel(role="quiet")
        self.sentence.setAlignment(Qt.AlignmentFlag.AlignTop | Qt.AlignmentFlag.AlignLeft)
        self.empty = True
        self.model, self.view = ListModel(self), ListView()
        self.view.setModel(self.model)
        self.view.setObjectName(name)
        self.view.setAccessibleName(title)
        self.view.setSelectionBehavior(QAbstractItemView.SelectionBehavior.SelectRows)
        self.view.setEditTriggers(QAbstractItemView.EditTrigger.NoEditTriggers)
        self.view.setTabKeyNavigation(False)
        self.view.setWordWrap(wrapped)
        self.view.setHorizontalScrollMode(QAbstractItemView.ScrollMode.ScrollPerPixel)
        self.view.verticalHeader().hide()
        self.view.verticalHeader().setDefaultSectionSize(max(24, self.fontMetrics().height() + 8))
        across = self.view.horizontalHeader()
        across.setStretchLastSection(True)
        across.setMinimumSectionSize(30)
        across.setHighlightSections(False)
        across.setSectionResizeMode(QHeaderView.ResizeMode.Interactive)
        rows = QVBoxLayout(self)
        rows.setContentsMargins(0, 2, 0, 0)
        rows.setSpacing(4)
        rows.addWidget(self.sentence)
        rows.addWidget(self.view, 1)
        rows.addStretch(0)
        self.view.selectionModel().currentRowChanged.connect(self._go)
        self.view.copied.connect(self.copy)

    def show_list(self, listed: Listed) -> None:
        """Show this one; a table without rows is but its sentence."""
        self.sentence.tell(listed.sentence)
        self.empty = not listed.rows
        self.view.setVisible(bool(listed.rows))
        if self.model.show_list(listed):
            self._size_columns()
            self._size_rows()

    def _size_columns(self) -> None:
        """As wide as their texts; the last one takes what is left."""
        metrics, listed = self.fontMetrics(), self.model.listed
        last = len(listed.heads) - 1
        for column, head in enumerate(listed.heads):
            long = self.view.wordWrap() and column == last
            texts = [] if long else [row.cells[column] for row in listed.rows]
            wide = max((metrics.horizontalAdvance(text) + 12 for text in texts), default=0)
            heads = max(metrics.horizontalAdvance(line) + 16 for line in head.split("\n"))
            self.view.setColumnWidth(column, max(wide, heads))

    def _size_rows(self) -> None:
        if self.view.wordWrap():
            self.view.resizeRowsToContents()

    @override
    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        self._size_rows()

    def _go(self, index: QModelIndex) -> None:
        springs = self.model.listed.rows[index.row()].springs if index.isValid() else ()
        if springs:
            self.went.emit(springs)

    def copy(self) -> None:
        """Copy the chosen rows, or all where no more than one is, with their heads."""
        chosen = sorted({index.row() for index in self.view.selectionModel().selectedRows()})
        self.copy_rows(chosen if len(chosen) > 1 else None)

    def copy_rows(self, rows: list[int] | None) -> None:
        """Copy rows with their heads; None: all."""
        QGuiApplication.clipboard().setText(as_text(self.model.listed, rows))
        self.copied.emit(len(self.model.listed.rows if rows is None else rows))
