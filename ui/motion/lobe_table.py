"""The tables of durations, of two lobes, and speed by speed: read, copied; Enter tells a row as a sentence."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from PySide6.QtCore import Signal
from PySide6.QtGui import QGuiApplication
from typing_extensions import override

from ui.clipboard_table import text_of
from ui.motion.wording import tr
from ui.plain_tip import plain_tip
from ui.spring.coil_model import CoilModel, needed_width
from ui.spring.coil_rows import tsv_rows
from ui.spring.coil_table import CoilTable

if TYPE_CHECKING:
    from PySide6.QtCore import QModelIndex
    from PySide6.QtWidgets import QWidget

    from ui.motion.lobe_rows import LobeRows
    from ui.session import Session
    from ui.spring.coil_rows import Cell, Row


LEAST, SIDE = 40, 14  # px: of a column of values, about its words


def lines_of(head: str) -> list[str]:
    """A head on two lines where a comma parts it, so that all columns find room."""
    return head.split(", ", 1)


class LobeModel(CoilModel):
    """Its rows have no formula but a sentence."""

    def __init__(self, parent: QWidget, first: str, last: str) -> None:
        super().__init__(parent)
        self.ends = first, last

    @override
    def _tip(self, row: Row, cell: Cell | None, _column: int) -> str:
        why = cell.waits_for if cell is not None else ""
        return plain_tip(" ".join([f"{row.label}:", why or row.note, tr("Enter tells it as a sentence.")]))

    @override
    def headerData(self, section: int, orientation: Any, role: int = 0) -> Any:
        found = super().headerData(section, orientation, role)
        ends = {0: self.ends[0], self.columnCount() - 1: self.ends[1]}
        return "\n".join(lines_of(ends.get(section, found))) if isinstance(found, str) else found


class LobeTable(CoilTable):
    """Label, columns of values, and when it happens."""

    figures: LobeModel
    said = Signal(str)

    def __init__(self, session: Session, parent: QWidget | None = None) -> None:
        super().__init__(session, parent)
        self.says: dict[str, str] = {}
        self.figures = self._model()
        self.setModel(self.figures)
        self._name()

    def _model(self) -> LobeModel:
        return LobeModel(self, tr("Lift"), tr("Note"))

    def _name(self) -> None:
        self.setObjectName("lobe_table")
        self.setAccessibleName(self.tr("Durations and the comparison of lobes"))

    @override
    def _size_columns(self) -> None:
        shown, metrics = self.figures.figures, self.fontMetrics()
        if not shown.coils:
            return
        first, last = map(lines_of, self.figures.ends)
        labels = [*first, *(row.label for row in shown.rows if not row.heading)]
        self.setColumnWidth(0, max(map(metrics.horizontalAdvance, labels)) + SIDE)
        self.setColumnWidth(len(shown.coils) + 1, max(map(metrics.horizontalAdvance, last)) + SIDE)  # at least
        for place, name in enumerate(shown.coils):
            cells = [needed_width(row.cells[place], self.font()) for row in shown.rows if row.cells]
            head = max(map(metrics.horizontalAdvance, lines_of(name))) + SIDE
            self.setColumnWidth(place + 1, max(LEAST, head, *cells))

    def show_rows(self, rows: LobeRows) -> None:
        """Show these."""
        self.says = rows.says
        current = self.currentIndex()
        place = (current.row(), current.column())
        if not self.figures.show_figures(rows.figures):
            return
        self.clearSpans()
        columns = self.figures.columnCount()
        for column in range(columns):
            self.setColumnHidden(column, False)
        for row, each in enumerate(rows.figures.rows):
            if each.heading and columns > 1:
                self.setSpan(row, 0, 1, columns)
        if rows.figures.rows:
            self.setColumnHidden(columns - 1, not any(row.note for row in rows.figures.rows))
            self._size_columns()
            self._go_back(*place)

    @override
    def copy(self) -> None:
        """Copy the chosen rows with their heads, or all where none is chosen."""
        chosen = sorted({index.row() for index in self.selectionModel().selectedRows()})
        rows = tsv_rows(self.figures.figures, chosen or None)
        rows[0][0], rows[0][-1] = self.figures.ends
        QGuiApplication.clipboard().setText(text_of(rows))
        self.session.announce(self.tr("%n row(s) copied.", "", len(rows) - 1))

    @override
    def open_at(self, index: QModelIndex) -> None:
        """Tell the row as a sentence."""
        if index.isValid() and (said := self.says.get(self.figures.figures.rows[index.row()].name)):
            self.said.emit(said)


class SpeedTable(LobeTable):
    """The sweep, speed by speed."""

    @override
    def _model(self) -> LobeModel:
        return LobeModel(self, tr("Speed, rpm"), tr("Lost at"))

    @override
    def _name(self) -> None:
        self.setObjectName("speed_table")
        self.setAccessibleName(self.tr("The sweep, speed by speed"))
