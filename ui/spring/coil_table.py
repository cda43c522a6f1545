"""The table of the coils' figures beneath the pictures: read, copied, and each opened for its formula."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import QEvent, QModelIndex, QPoint, QSize, Qt, Signal
from PySide6.QtGui import QGuiApplication, QKeyEvent, QKeySequence
from PySide6.QtWidgets import QAbstractItemView, QHeaderView, QTableView, QWidget
from typing_extensions import override

from ui.clipboard_table import text_of
from ui.spring.coil_formula import CoilFormulaPane
from ui.spring.coil_model import CoilModel, FigureCell, needed_width
from ui.spring.coil_rows import rows_of, tsv_rows
from ui.theme import theme

if TYPE_CHECKING:
    from collections.abc import Sequence

    from loadbench.analysis.coils.result import CoilAnalysis
    from ui.session import Session

LEAST_COLUMN, SIDE = 92, 18


class CoilTable(QTableView):
    """Rows are figures, columns coils. Enter or a double click opens the formula of a cell."""

    field_wanted = Signal(str)

    def __init__(self, session: Session, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.session = session
        self.pane: CoilFormulaPane | None = None
        self.figures = CoilModel(self)
        self.setObjectName("coil_table")
        self.setAccessibleName(self.tr("Figures of the coils"))
        self.setModel(self.figures)
        self.setItemDelegate(FigureCell(self))
        self.setSelectionBehavior(QAbstractItemView.SelectionBehavior.SelectRows)
        self.setEditTriggers(QAbstractItemView.EditTrigger.NoEditTriggers)
        self.setTabKeyNavigation(False)
        self.setWordWrap(False)
        self.setShowGrid(False)
        self.setHorizontalScrollMode(QAbstractItemView.ScrollMode.ScrollPerPixel)
        self.setMinimumHeight(3 * self._row_height())
        self._arrange_heads()
        self.doubleClicked.connect(self.open_at)
        theme().changed.connect(self.viewport().update)

    def _row_height(self) -> int:
        return max(24, self.fontMetrics().height() + 6)

    def _arrange_heads(self) -> None:
        self.verticalHeader().hide()
        self.verticalHeader().setDefaultSectionSize(self._row_height())
        across = self.horizontalHeader()
        across.setHighlightSections(False)
        across.setMinimumSectionSize(40)
        across.setStretchLastSection(True)
        across.setSectionResizeMode(QHeaderView.ResizeMode.Interactive)

    # Showing

    def show_coils(self, coils: Sequence[CoilAnalysis], groups: Sequence[str]) -> None:
        """Show the figures of these coils in these groups."""
        current = self.currentIndex()
        place = (current.row(), current.column())
        if not self.figures.show_figures(rows_of(coils, groups, self.session.style)):
            return
        self.clearSpans()
        columns = self.figures.columnCount()
        for row, each in enumerate(self.figures.figures.rows):
            if each.heading and columns > 1:
                self.setSpan(row, 0, 1, columns)
        self._size_columns()
        self._go_back(*place)

    def _go_back(self, row: int, column: int) -> None:
        """The keyboard starts at the first figure, or goes on where it was."""
        index = self.figures.index(max(row, 1), min(max(column, 1), self.figures.columnCount() - 1))
        if index.isValid():
            self.selectionModel().setCurrentIndex(index, self.selectionModel().SelectionFlag.NoUpdate)

    def _size_columns(self) -> None:
        shown, metrics = self.figures.figures, self.fontMetrics()
        if not shown.coils:
            return
        labels = max(metrics.horizontalAdvance(row.label) for row in shown.rows)
        self.setColumnWidth(0, labels + SIDE)
        for place, name in enumerate(shown.coils):
            cells = [needed_width(row.cells[place], self.font()) for row in shown.rows if row.cells]
            head = metrics.horizontalAdvance(name) + SIDE
            self.setColumnWidth(place + 1, max(LEAST_COLUMN, head, *cells))

    @override
    def changeEvent(self, event: QEvent) -> None:
        super().changeEvent(event)
        if event.type() is QEvent.Type.FontChange and hasattr(self, "figures"):
            self.verticalHeader().setDefaultSectionSize(self._row_height())
            self._size_columns()

    @override
    def sizeHint(self) -> QSize:
        return QSize(super().sizeHint().width(), 9 * self._row_height())

    def needed_height(self) -> int:
        """How tall it is with all its rows."""
        rows = self.figures.rowCount() * self.verticalHeader().defaultSectionSize()
        return max(self.minimumHeight(), self.horizontalHeader().sizeHint().height() + rows + 2 * self.frameWidth() + 2)

    # Formula

    def open_at(self, index: QModelIndex) -> None:
        """Open the formula of a cell; of the first coil where the label or the note was pressed."""
        shown = self.figures.figures
        if not index.isValid() or shown.rows[index.row()].heading:
            return
        place = min(max(index.column() - 1, 0), len(shown.coils) - 1) if index.column() <= len(shown.coils) else 0
        self.open_formula(shown.coils[place], shown.rows[index.row()].name)

    def open_formula(self, coil: str, name: str) -> CoilFormulaPane:
        """Open the formula of a coil's figure, above the table."""
        if self.pane is None:
            self.pane = CoilFormulaPane(self.session, self)
            self.pane.field_wanted.connect(self.field_wanted)
        self.pane.show_coil_figure(coil, name)
        self.pane.resize(self.pane.sizeHint())
        corner = self.mapToGlobal(QPoint(self.columnWidth(0), -self.pane.height() - 4))
        screen = self.screen().availableGeometry()
        x = max(screen.left(), min(corner.x(), screen.right() - self.pane.width()))
        self.pane.move(x, max(screen.top(), corner.y()))
        self.pane.show()
        return self.pane

    # Keys and the clipboard

    @override
    def event(self, event: QEvent) -> bool:
        """Copy in the table goes before the window's own."""
        own = (QKeySequence.StandardKey.Copy, QKeySequence.StandardKey.SelectAll)
        if (
            event.type() is QEvent.Type.ShortcutOverride
            and isinstance(event, QKeyEvent)
            and any(map(event.matches, own))
        ):
            event.accept()
            return True
        return super().event(event)

    @override
    def keyPressEvent(self, event: QKeyEvent) -> None:
        if event.matches(QKeySequence.StandardKey.Copy):
            self.copy()
        elif event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
            self.open_at(self.currentIndex())
        else:
            super().keyPressEvent(event)

    def copy(self) -> None:
        """Copy the chosen rows as tab separated text with their heads, or all where none is chosen."""
        chosen = sorted({index.row() for index in self.selectionModel().selectedRows()})
        rows = chosen or list(range(self.figures.rowCount()))
        QGuiApplication.clipboard().setText(text_of(tsv_rows(self.figures.figures, rows)))
        self.session.announce(self.tr("%n row(s) copied.", "", len(rows)))
