"""A small table in a card: a list of the job with a line beneath that tells what is wrong in the current cell."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import QSize, Qt
from PySide6.QtWidgets import QAbstractScrollArea, QHeaderView, QLabel, QVBoxLayout, QWidget
from typing_extensions import override

from ui.labels import label_of
from ui.widgets.back_button import BackButton
from ui.widgets.entry_edit import Judgement, Sign
from ui.widgets.grid_view import GridView
from ui.widgets.lift_rows import LiftRowsModel
from ui.widgets.message_row import MessageRow
from ui.widgets.own_value import standing
from ui.widgets.rows_model import RowsModel

if TYPE_CHECKING:
    from ui.session import Session

MOST_ROWS = 7
LIFT_TABLE = "cam.profile"
READING_COLUMNS = ("part", "height", "load", "direction")


class FittedGrid(GridView):
    """A grid as tall as its rows, up to a few."""

    @override
    def sizeHint(self) -> QSize:
        model = self.model()
        rows = min(MOST_ROWS, model.rowCount() if model else 1)
        height = self.horizontalHeader().sizeHint().height() + rows * self.verticalHeader().defaultSectionSize()
        return QSize(120, height + 2 * self.frameWidth() + 2)

    @override
    def minimumSizeHint(self) -> QSize:
        return QSize(120, self.sizeHint().height())


class RowTable(QWidget):
    """One list of the job as a table with a label above it."""

    def __init__(self, session: Session, field: str, columns: tuple[str, ...], parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.field = field
        self.setProperty("field", field)
        self.setProperty("columns", list(columns))
        self.grid = FittedGrid(session)
        kind = LiftRowsModel if field == LIFT_TABLE else RowsModel
        self.model = kind(session, field, columns, self)
        self.grid.setModel(self.model)
        self.grid.setObjectName(f"{field.replace('.', '__')}__table")
        self.grid.setAccessibleName(label_of(field))
        hint = self.tr(
            "Type to fill in, Enter moves down, Delete clears; an emptied row goes. Paste from a spreadsheet works."
        )
        self.grid.setAccessibleDescription(hint)
        self.label = QLabel(label_of(field))
        self.label.setBuddy(self.grid)
        self.message = MessageRow()
        rows = QVBoxLayout(self)
        rows.setContentsMargins(0, 2, 0, 2)
        rows.setSpacing(2)
        self.back = BackButton(session, field)
        self.session = session
        for widget in (self.label, self.grid, self.message, self.back):
            rows.addWidget(widget)
        self._shape()
        for changed in (self.model.modelReset, self.model.rowsInserted, self.model.rowsRemoved):
            changed.connect(self._fit)
        self.model.marked.connect(self._tell)
        self.grid.selectionModel().currentChanged.connect(self._tell)
        self._tell()

    def _shape(self) -> None:
        across = self.grid.horizontalHeader()
        across.setSectionResizeMode(QHeaderView.ResizeMode.Stretch)
        if "direction" in self.model.columns:  # its head is the longest word of the row
            own = self.model.columns.index("direction")
            across.setSectionResizeMode(own, QHeaderView.ResizeMode.ResizeToContents)
        across.setMinimumSectionSize(36)
        across.setDefaultAlignment(Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignVCenter)
        down = self.grid.verticalHeader()
        down.setDefaultSectionSize(max(24, self.fontMetrics().height() + 8))
        down.setVisible(False)
        self.grid.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.grid.setSizeAdjustPolicy(QAbstractScrollArea.SizeAdjustPolicy.AdjustIgnored)

    def _fit(self) -> None:
        self.grid.updateGeometry()

    def _tell(self) -> None:
        """The fault of the current cell, else the first of the table; and whose rows these are."""
        stands = standing(self.session, self.session.state.job, self.field)
        self.back.follow(stands)
        name = label_of(self.field)
        self.label.setText(self.tr("{list} (common)").format(list=name) if stands.inherited else name)
        places = [(row, column) for row in range(self.model.rowCount()) for column in range(self.model.columnCount())]
        current = self.grid.currentIndex()
        if current.isValid():
            places.insert(0, (current.row(), current.column()))
        problem = next((found for place in places if (found := self.model.problem(*place))), None)
        if problem is None:
            self.message.tell(Judgement())
            return
        self.message.tell(Judgement(sign=Sign.WRONG, what=problem.what, expected=problem.expected))


class ReadingsTable(RowTable):
    """The readings of one spring or member."""

    def __init__(self, session: Session, field: str = "spring.readings", parent: QWidget | None = None) -> None:
        super().__init__(session, field, READING_COLUMNS, parent)
