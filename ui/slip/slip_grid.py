"""The slip on show: the grid of springs and heights, sortable, and beneath it the summary on the same columns."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import QModelIndex, QSize, Qt
from PySide6.QtWidgets import QAbstractItemView, QHeaderView, QTableView, QVBoxLayout, QWidget
from typing_extensions import override

from ui.slip.columns import Column
from ui.slip.slip_model import HEADS, SlipModel
from ui.slip.slip_sorting import SlipSorting
from ui.slip.summary_model import ROWS, SummaryModel
from ui.state import Pointing
from ui.widgets.grid_view import GridView

if TYPE_CHECKING:
    from PySide6.QtGui import QResizeEvent

    from ui.session import Session

LEAST_WIDTH = 66
LEAST_ROWS = 4  # on show before the summary takes room from them
WIDE = {"verdict": 190, "mark": 64, "id": 64, "rate": 84}


class SlipGrid(QWidget):
    """The grid with its summary; columns move and scroll together."""

    def __init__(self, session: Session, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.session = session
        self.model = SlipModel(session, self)
        self.sorting = SlipSorting(self.model, self)
        self.view = GridView(session)
        self.view.setModel(self.sorting)
        self.view.setObjectName("springs")
        self.view.setProperty("field", "springs")
        self.view.setAccessibleName(self.tr("Numbered springs"))
        hint = self.tr("Type to fill in, Enter edits and moves on, Delete clears. Paste from a spreadsheet works.")
        self.view.setAccessibleDescription(hint)
        self.summary = QTableView()
        self.summary.setModel(SummaryModel(self.model, self))
        self._shape_view()
        self._shape_summary()
        rows = QVBoxLayout(self)
        rows.setContentsMargins(0, 0, 0, 0)
        rows.setSpacing(2)
        rows.addWidget(self.view, 1)
        rows.addWidget(self.summary)
        self._connect()
        self._size_columns()

    def _connect(self) -> None:
        across = self.view.horizontalHeader()
        across.sectionResized.connect(lambda section, _old, new: self.summary.setColumnWidth(section, new))
        across.sortIndicatorChanged.connect(self.sort)
        beside, beneath = self.view.horizontalScrollBar(), self.summary.horizontalScrollBar()
        beside.valueChanged.connect(beneath.setValue)
        beneath.valueChanged.connect(beside.setValue)
        self.model.modelReset.connect(self._size_columns)
        self.view.selectionModel().currentChanged.connect(self._point)

    def _shape_view(self) -> None:
        across, down = self.view.horizontalHeader(), self.view.verticalHeader()
        across.setSortIndicatorShown(True)
        across.setSectionsClickable(True)
        across.setSortIndicatorClearable(True)
        across.setSortIndicator(-1, Qt.SortOrder.AscendingOrder)
        across.setMinimumSectionSize(48)
        across.setStretchLastSection(True)
        down.setDefaultSectionSize(max(24, self.fontMetrics().height() + 8))
        down.setFixedWidth(self._side_width())
        down.setDefaultAlignment(Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter)

    def _shape_summary(self) -> None:
        self.summary.setObjectName("springs_summary")
        self.summary.setAccessibleName(self.tr("Summary of the numbered springs"))
        self.summary.horizontalHeader().setVisible(False)
        self.summary.horizontalHeader().setStretchLastSection(True)
        down = self.summary.verticalHeader()
        down.setDefaultSectionSize(self.view.verticalHeader().defaultSectionSize())
        down.setSectionResizeMode(QHeaderView.ResizeMode.Fixed)
        down.setFixedWidth(self._side_width())
        self.summary.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.summary.setVerticalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.summary.setHorizontalScrollMode(QAbstractItemView.ScrollMode.ScrollPerPixel)
        self.summary.setTabKeyNavigation(False)
        self.summary.setFixedHeight(ROWS * down.defaultSectionSize() + 4)

    def _side_width(self) -> int:
        return self.fontMetrics().horizontalAdvance("Greatest") + 18

    def _size_columns(self) -> None:
        metrics = self.fontMetrics()
        for column in range(self.model.columnCount()):
            lines = self.model.head(column).split("\n")
            wanted = max(metrics.horizontalAdvance(line) for line in lines) + 22
            name = self.model.name_of(column)
            least = WIDE.get(name, LEAST_WIDTH) if isinstance(name, str) else LEAST_WIDTH + 18
            self.view.setColumnWidth(column, max(wanted, least))
            self.summary.setColumnWidth(column, max(wanted, least))

    # The summary goes where there is hardly room for the springs

    @override
    def minimumSizeHint(self) -> QSize:
        least = self.view.minimumSizeHint()
        return QSize(least.width(), max(least.height(), self._least_view()))

    def _least_view(self) -> int:
        """The height of head and two rows."""
        return (
            self.view.horizontalHeader().sizeHint().height() + 2 * self.view.verticalHeader().defaultSectionSize() + 4
        )

    @override
    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        rows = LEAST_ROWS * self.view.verticalHeader().defaultSectionSize()
        head = self.view.horizontalHeader().sizeHint().height()
        self.summary.setVisible(self.height() >= head + rows + self.summary.height())

    # Sorting

    def sort(self, column: int, order: Qt.SortOrder) -> None:
        """Sort by a column; -1 puts the springs back as entered."""
        self.sorting.sort(column, order)
        self.view.scrollTo(self.view.currentIndex())

    def sort_by_current(self) -> None:
        """Sort by the current column: rising, then falling, then as entered."""
        column, across = self.view.currentIndex().column(), self.view.horizontalHeader()
        rising, falling = Qt.SortOrder.AscendingOrder, Qt.SortOrder.DescendingOrder
        if column < 0:
            return
        if across.sortIndicatorSection() != column:
            across.setSortIndicator(column, rising)
        elif across.sortIndicatorOrder() is rising:
            across.setSortIndicator(column, falling)
        else:
            across.setSortIndicator(-1, rising)

    # The current cell

    def source_of(self, index: QModelIndex) -> QModelIndex:
        """A cell on show as the model's own."""
        return self.sorting.mapToSource(index)

    def current_column(self) -> Column | None:
        """The height of the current column, if it has one."""
        index = self.view.currentIndex()
        name = self.model.name_of(index.column()) if index.isValid() else None
        return name if isinstance(name, Column) else None

    def chosen_rows(self) -> set[int]:
        """The springs with a chosen cell."""
        rows = {self.source_of(index).row() for index in self.view.selectedIndexes()}
        return {row for row in rows if row < self.model.rowCount() - 1}

    def go_to(self, row: int, column: int) -> None:
        """Make a cell of the model the current one."""
        index = self.sorting.mapFromSource(self.model.index(row, column))
        self.view.setCurrentIndex(index)
        self.view.scrollTo(index)

    def first_load(self) -> int:
        """The first column of loads."""
        return len(HEADS)

    def _point(self, index: QModelIndex) -> None:
        source = self.source_of(index)
        found = self.model.reading(source.row(), source.column()) if source.isValid() else None
        self.session.point_at(Pointing(fields=(f"{found[1]}.load",) if found else ()))
