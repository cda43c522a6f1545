"""The worksheet on show: as wide as the page lets it be, typed down the column."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import QItemSelection, QItemSelectionModel, QSize, Qt, QTimer
from PySide6.QtWidgets import QAbstractItemView, QHeaderView
from typing_extensions import override

from ui.setting.sheet_columns import WIDEST, head_of
from ui.setting.sheet_model import SheetModel
from ui.setting.wording import tr
from ui.widgets.grid_view import GridView

if TYPE_CHECKING:
    from PySide6.QtGui import QResizeEvent

    from ui.session import Session

HEAD_SIDES, CELL_SIDES, SIGN = 14, 10, 20  # px beside the text, and of a sign
LEAST_DO, WIDEST_DO = 120, 460


class SheetGrid(GridView):
    """One row a valve."""

    def __init__(self, session: Session) -> None:
        super().__init__(session)
        self.sheet_model = SheetModel(session, self)
        self.setModel(self.sheet_model)
        self.setObjectName("setting_sheet")
        self.setAccessibleName(tr("Worksheet of the valves"))
        self.setAccessibleDescription(
            tr("Type what was measured, Enter moves down, Delete clears. Paste from a spreadsheet works.")
        )
        self.setSelectionMode(QAbstractItemView.SelectionMode.ContiguousSelection)
        across, down = self.horizontalHeader(), self.verticalHeader()
        across.setMinimumSectionSize(30)
        across.setHighlightSections(False)
        across.setSectionResizeMode(QHeaderView.ResizeMode.Interactive)
        across.setDefaultAlignment(Qt.AlignmentFlag.AlignHCenter | Qt.AlignmentFlag.AlignBottom)
        down.setVisible(False)
        down.setDefaultSectionSize(max(24, self.fontMetrics().height() + 8))
        self.setIconSize(QSize(16, 16))
        self.setMinimumHeight(90)
        self.setWordWrap(True)
        self.setVerticalScrollMode(QAbstractItemView.ScrollMode.ScrollPerPixel)
        down.setMinimumSectionSize(down.defaultSectionSize())
        self._soon = QTimer(self)
        self._soon.setSingleShot(True)
        self._soon.setInterval(0)
        self._soon.timeout.connect(self.resizeRowsToContents)
        for signal in (session.styled, self.sheet_model.dataChanged, self.sheet_model.modelReset):
            signal.connect(self.fit_columns)

    def fit_columns(self, *_: object) -> None:
        """Columns as wide as their heads and usual entries; what is left goes to what to do."""
        columns, metrics, style = self.sheet_model.columns, self.fontMetrics(), self.session.style
        widths = []
        for column in columns:
            heads = max(metrics.horizontalAdvance(line) for line in head_of(column, style).split("\n")) + HEAD_SIDES
            sign = SIGN if column == "level" else 0
            widths.append(max(heads, metrics.horizontalAdvance(WIDEST[column]) + CELL_SIDES + sign))
        if "do" in columns:
            place = columns.index("do")
            room = self.viewport().width() - sum(widths) + widths[place]
            rows = range(len(self.sheet_model.rows))
            longest = max((metrics.horizontalAdvance(self.sheet_model.text(row, "do")) for row in rows), default=0)
            widths[place] = max(widths[place], min(room, max(longest + CELL_SIDES, WIDEST_DO)), LEAST_DO)
        for place, width in enumerate(widths):
            if self.columnWidth(place) != width:
                self.setColumnWidth(place, width)
        self._soon.start()

    @override
    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        self.fit_columns()

    def go_to(self, row: int, column: str | None = None) -> None:
        """Make a cell the current one; the column stays where none is named."""
        columns = self.sheet_model.columns
        now = max(self.currentIndex().column(), 0)
        index = self.sheet_model.index(row, columns.index(column) if column in columns else now)
        if index.isValid() and index != self.currentIndex():
            self.setCurrentIndex(index)
        self.scrollTo(index)

    def copy_all(self) -> None:
        """Every valve to the clipboard, with heads; the current cell stays."""
        last = len(self.sheet_model.rows) - 1
        if last < 0:
            return
        current = self.currentIndex()
        flag = QItemSelectionModel.SelectionFlag
        corner = self.sheet_model.index(last, len(self.sheet_model.columns) - 1)
        self.selectionModel().select(QItemSelection(self.sheet_model.index(0, 0), corner), flag.ClearAndSelect)
        self.copy()
        self.selectionModel().setCurrentIndex(current, flag.ClearAndSelect)
