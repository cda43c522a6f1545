"""The table of durations, and that of two lobes: read, copied; Enter tells a row as a sentence."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from PySide6.QtCore import Signal
from typing_extensions import override

from ui.motion.wording import tr
from ui.plain_tip import plain_tip
from ui.spring.coil_model import CoilModel
from ui.spring.coil_table import CoilTable

if TYPE_CHECKING:
    from PySide6.QtCore import QModelIndex
    from PySide6.QtWidgets import QWidget

    from ui.motion.lobe_rows import LobeRows
    from ui.session import Session
    from ui.spring.coil_rows import Cell, Row


class LobeModel(CoilModel):
    """Its rows have no formula but a sentence."""

    @override
    def _tip(self, row: Row, cell: Cell | None, _column: int) -> str:
        why = cell.waits_for if cell is not None else ""
        return plain_tip(" ".join([f"{row.label}:", why or row.note, tr("Enter tells it as a sentence.")]))

    @override
    def headerData(self, section: int, orientation: Any, role: int = 0) -> Any:
        found = super().headerData(section, orientation, role)
        return tr("Lift") if found is not None and section == 0 and isinstance(found, str) else found


class LobeTable(CoilTable):
    """Label, columns of values, and when it happens."""

    said = Signal(str)

    def __init__(self, session: Session, parent: QWidget | None = None) -> None:
        super().__init__(session, parent)
        self.says: dict[str, str] = {}
        self.figures = LobeModel(self)
        self.setModel(self.figures)
        self.setObjectName("lobe_table")
        self.setAccessibleName(self.tr("Durations and the comparison of lobes"))

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
    def open_at(self, index: QModelIndex) -> None:
        """Tell the row as a sentence."""
        if index.isValid() and (said := self.says.get(self.figures.figures.rows[index.row()].name)):
            self.said.emit(said)
