"""The table of found springs: sorted by its heads, copied, and each spring taken over with Enter."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import QEvent, QSize, Qt, Signal
from PySide6.QtGui import QKeyEvent, QKeySequence
from PySide6.QtWidgets import QAbstractItemView, QHeaderView, QTableView, QWidget
from typing_extensions import override

from ui.spring.search_model import SpringsModel
from ui.spring.wording import tr

if TYPE_CHECKING:
    from loadbench.spring.wanted import Candidate
    from loadbench.units import Style

SIDE = 14


def _sorts(event: QKeyEvent) -> bool:
    """Alt and Down, as in the table of readings."""
    return event.key() == Qt.Key.Key_Down and bool(event.modifiers() & Qt.KeyboardModifier.AltModifier)


class SearchTable(QTableView):
    """One row a spring; the current row is the chosen one."""

    taken = Signal()  # Enter or a double click
    copied = Signal()
    pointed = Signal()  # another row is the current one

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.springs = SpringsModel(self)
        self.setObjectName("search_table")
        self.setAccessibleName(tr("Springs that fit"))
        self.setModel(self.springs)
        self.setSelectionBehavior(QAbstractItemView.SelectionBehavior.SelectRows)
        self.setSelectionMode(QAbstractItemView.SelectionMode.SingleSelection)
        self.setEditTriggers(QAbstractItemView.EditTrigger.NoEditTriggers)
        self.setTabKeyNavigation(False)
        self.setWordWrap(False)
        self.setAlternatingRowColors(True)
        self.setHorizontalScrollMode(QAbstractItemView.ScrollMode.ScrollPerPixel)
        self._arrange_heads()
        self.doubleClicked.connect(lambda _index: self.taken.emit())
        self.selectionModel().currentRowChanged.connect(lambda *_: self.pointed.emit())

    def _arrange_heads(self) -> None:
        down, across = self.verticalHeader(), self.horizontalHeader()
        down.setDefaultSectionSize(max(24, self.fontMetrics().height() + 6))
        down.setSectionResizeMode(QHeaderView.ResizeMode.Fixed)
        down.setDefaultAlignment(Qt.AlignmentFlag.AlignCenter)
        across.setHighlightSections(False)
        across.setSectionsClickable(True)
        across.setSortIndicator(-1, Qt.SortOrder.AscendingOrder)
        across.setSortIndicatorClearable(True)
        self.setSortingEnabled(True)
        self.setMinimumHeight(5 * down.defaultSectionSize())

    def sort_by_current(self) -> None:
        """Sort by the current column: rising, then falling, then best first again."""
        across, column = self.horizontalHeader(), max(self.currentIndex().column(), 0)
        rising, falling = Qt.SortOrder.AscendingOrder, Qt.SortOrder.DescendingOrder
        if across.sortIndicatorSection() != column:
            across.setSortIndicator(column, rising)
        elif across.sortIndicatorOrder() is rising:
            across.setSortIndicator(column, falling)
        else:
            across.setSortIndicator(-1, rising)

    def show_springs(self, springs: tuple[Candidate, ...], style: Style) -> None:
        """Show these; the current row stays where it was, the first at the start."""
        row = max(self.currentIndex().row(), 0)
        self.springs.show_springs(springs, style)
        self._size_columns()
        if springs and not self.currentIndex().isValid():
            self.selectRow(min(row, len(springs) - 1))

    @override
    def sizeHint(self) -> QSize:
        """Five rows; whatever room there is more goes to the table."""
        rows = 5 * self.verticalHeader().defaultSectionSize()
        bar = self.horizontalScrollBar().sizeHint().height()
        return QSize(super().sizeHint().width(), self.horizontalHeader().sizeHint().height() + rows + bar + 4)

    def _size_columns(self) -> None:
        model, metrics = self.springs, self.fontMetrics()
        head = self.horizontalHeader().fontMetrics()
        for place, column in enumerate(model.columns):
            lines = (*column.head.split("\n"), column.unit(model.style))
            wide = max(head.horizontalAdvance(line) for line in lines)
            cells = [metrics.horizontalAdvance(column.text(each, model.style)) for each in model.springs]
            self.setColumnWidth(place, max(wide, *cells, 0) + SIDE)

    @property
    def chosen(self) -> Candidate | None:
        """The spring of the current row."""
        row = self.currentIndex().row()
        return self.springs.springs[row] if 0 <= row < self.springs.rowCount() else None

    @override
    def event(self, event: QEvent) -> bool:
        """Copy in the table goes before the window's own."""
        if (
            event.type() is QEvent.Type.ShortcutOverride
            and isinstance(event, QKeyEvent)
            and (event.matches(QKeySequence.StandardKey.Copy) or _sorts(event))
        ):
            event.accept()
            return True
        return super().event(event)

    @override
    def keyPressEvent(self, event: QKeyEvent) -> None:
        if event.matches(QKeySequence.StandardKey.Copy):
            self.copied.emit()
        elif _sorts(event):
            self.sort_by_current()
        elif event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
            self.taken.emit()
        elif event.key() in (Qt.Key.Key_Home, Qt.Key.Key_End) and self.springs.rowCount():
            last = self.springs.rowCount() - 1
            self.selectRow(0 if event.key() == Qt.Key.Key_Home else last)
        else:
            super().keyPressEvent(event)

    @override
    def changeEvent(self, event: QEvent) -> None:
        super().changeEvent(event)
        if event.type() is QEvent.Type.FontChange and hasattr(self, "springs"):
            self.verticalHeader().setDefaultSectionSize(max(24, self.fontMetrics().height() + 6))
            self._size_columns()
