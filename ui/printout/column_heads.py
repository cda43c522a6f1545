"""The heads of all columns, side by side above the preview: they move and scroll with the columns beneath them."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import QEvent, QObject, QRect, QSize, Signal
from PySide6.QtWidgets import QLabel, QSizePolicy, QTableView, QWidget
from typing_extensions import override

from loadbench.readings.printout.meaning import Layout
from ui.printout.column_head import ROWS, ColumnHead

if TYPE_CHECKING:
    from PySide6.QtGui import QResizeEvent

    from loadbench.readings.printout.meaning import Understood
    from loadbench.units import Style

GAP, WIDEST = 3, 160


class ColumnHeads(QWidget):
    """One head for each column of a view."""

    corrected = Signal(object)  # Column
    entered = Signal(int)  # place of the column that the focus came to
    refused = Signal(str)
    drawn = Signal(int)  # place of a column whose head wants more room

    def __init__(self, view: QTableView, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._view = view
        self.heads: list[ColumnHead] = []
        self._rows: tuple[str, ...] = ROWS
        self.setObjectName("column_heads")
        self.setSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.Fixed)
        self._window = QWidget(self)  # clips the heads at the row numbers beside them
        words = {
            "meaning": self.tr("Holds"),
            "unit": self.tr("Unit"),
            "height": self.tr("At height"),
            "part": self.tr("Part"),
        }
        self._words = {row: QLabel(words.get(row, ""), self) for row in ROWS}
        for word in self._words.values():
            word.setProperty("role", "quiet")
        across = view.horizontalHeader()
        across.sectionResized.connect(self._place)
        view.horizontalScrollBar().valueChanged.connect(self._place)
        view.horizontalScrollBar().rangeChanged.connect(self._place)
        view.verticalHeader().installEventFilter(self)

    # Showing

    def show_columns(self, understood: Understood, shown: int, style: Style) -> None:
        """Show the heads of the first columns; those on show keep the focus."""
        columns = understood.columns[:shown]
        while len(self.heads) < len(columns):
            self._add(len(self.heads))
        one_height = understood.layout is Layout.ROW_A_SPRING
        for head, column in zip(self.heads, columns, strict=False):
            head.show_column(column, style, one_height=one_height)
        wanted = set().union(*(head.wants() for head in self.heads[: len(columns)])) if columns else set()
        if not (one_height or sum(column.meaning == "load" for column in columns) > 1 or _named(understood)):
            wanted.discard("part")
        self._rows = tuple(row for row in ROWS if row in wanted)
        for place, head in enumerate(self.heads):
            own = head.wants() if place < len(columns) else set()
            for row, widget in head.widgets.items():
                widget.setVisible(row in own and row in self._rows)
        self.setFixedHeight(self._height())
        self._place()

    def _add(self, place: int) -> None:
        head = ColumnHead(place, self._window)
        head.corrected.connect(self.corrected)
        head.entered.connect(self.entered)
        head.refused.connect(self.refused)
        self.heads.append(head)

    def room_for(self, place: int) -> int:
        """The width that a column's head needs."""
        if place >= len(self.heads):
            return 0
        return self.heads[place].room() + 2 * GAP

    # Places

    def _row_height(self) -> int:
        return max(26, self.fontMetrics().height() + 10)

    def _height(self) -> int:
        return len(self._rows) * (self._row_height() + GAP) + GAP

    def _place(self) -> None:
        view, across = self._view, self._view.horizontalHeader()
        side = view.verticalHeader().width() + view.frameWidth()
        height, tall = self._row_height(), self._height()
        self._window.setGeometry(QRect(side, 0, max(0, view.viewport().width()), tall))
        for row, word in self._words.items():
            word.setVisible(row in self._rows and bool(word.text()))
        for step, row in enumerate(self._rows):
            top = GAP + step * (height + GAP)
            self._words[row].setGeometry(QRect(GAP, top, side - 2 * GAP, height))
            for place, head in enumerate(self.heads):
                if place < across.count():
                    left, width = across.sectionViewportPosition(place), across.sectionSize(place)
                    head.widgets[row].setGeometry(
                        QRect(left + GAP, top, min(max(WIDEST, head.room()), width - 2 * GAP), height)
                    )

    @override
    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        self._place()

    @override
    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        if event.type() is QEvent.Type.Resize:
            self._place()
        return False

    @override
    def sizeHint(self) -> QSize:
        return QSize(200, self._height())

    def side_width(self) -> int:
        """The room that the words before the heads need."""
        return max(word.sizeHint().width() for word in self._words.values()) + 3 * GAP


def _named(understood: Understood) -> bool:
    return any(column.part for column in understood.columns)
