"""The valves as a table in cylinder order: what is stated of each can be typed, what is planned stands beside it."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from PySide6.QtCore import QAbstractTableModel, QModelIndex, QObject, QPersistentModelIndex, Qt, Signal
from typing_extensions import override

from loadbench.errors import Problem
from loadbench.findings.finding import Level
from loadbench.job.kinds import Quantity
from loadbench.units import Kind
from ui.fitup import wording
from ui.fitup.rows import ValveRow
from ui.fitup.valve_columns import COLUMNS, LENGTHS, NUMERIC, PLANNED, STATED, head_of, plain_head
from ui.fitup.valve_edits import Cell, with_cells
from ui.fitup.valve_pasting import pasted
from ui.icons import icon, level_icon
from ui.labels import mark_for, word_label
from ui.level_words import level_word
from ui.palette import colours
from ui.plain_tip import plain_tip
from ui.widgets.rows_model import told_in_column

if TYPE_CHECKING:
    from collections.abc import Iterable

    from ui.fitup.margins import Margins
    from ui.session import Session
    from ui.widgets.grid_view import Cells

Index = QModelIndex | QPersistentModelIndex
Role = Qt.ItemDataRole
NOTHING = QModelIndex()


class ValveModel(QAbstractTableModel):
    """Rows are the valves and a blank last one that adds a valve."""

    told = Signal(str)

    def __init__(self, session: Session, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self.session = session
        self.rows: tuple[ValveRow, ...] = ()
        self.stale = False
        self.tight = False  # heads on three lines
        self.margins: Margins | None = None

    # What is there

    def show_rows(self, rows: tuple[ValveRow, ...], margins: Margins, *, stale: bool) -> None:
        """Show other rows; the current cell stays where it is."""
        before, after = len(self.rows), len(rows)
        if after > before:
            self.beginInsertRows(NOTHING, before, after - 1)
        elif after < before:
            self.beginRemoveRows(NOTHING, after, before - 1)
        self.rows, self.margins, self.stale = rows, margins, stale
        if after > before:
            self.endInsertRows()
        elif after < before:
            self.endRemoveRows()
        self.headerDataChanged.emit(Qt.Orientation.Horizontal, 0, len(COLUMNS) - 1)
        self.dataChanged.emit(self.index(0, 0), self.index(after, len(COLUMNS) - 1))

    def row(self, place: int) -> ValveRow | None:
        """One valve; None in the blank last row."""
        return self.rows[place] if 0 <= place < len(self.rows) else None

    def place_of(self, row: int) -> int:
        """The valve of a row by its place in the job; the blank row is the place after the last."""
        found = self.row(row)
        return len(self.session.job.valves) if found is None else found.index

    def entered(self, row: int, column: str) -> str:
        """A stated cell as it was typed."""
        found, valves = self.row(row), self.session.state.job.valves
        if found is None or column not in STATED or found.index >= len(valves):
            return ""
        value = getattr(valves[found.index], column)
        return " + ".join(value) if isinstance(value, tuple) else str(value or "") if column != "locked" else ""

    def problem(self, row: int, column: str) -> Problem | None:
        """What is wrong in a stated cell."""
        found, problems = self.row(row), self.session.state.analysis.stated.problems
        if found is None or column not in STATED:
            return None
        path = f"valves.{found.index}.{column}"
        if path in problems:
            return problems[path]
        return next((problems[at] for at in problems if at.startswith(f"{path}.")), None)

    # Qt's questions

    @override
    def rowCount(self, parent: Index = NOTHING) -> int:
        return 0 if parent.isValid() else len(self.rows) + 1

    @override
    def columnCount(self, parent: Index = NOTHING) -> int:
        return 0 if parent.isValid() else len(COLUMNS)

    @override
    def flags(self, index: Index) -> Qt.ItemFlag:
        flags = Qt.ItemFlag.ItemIsSelectable | Qt.ItemFlag.ItemIsEnabled
        column = COLUMNS[index.column()]
        if column == "locked":
            return flags | Qt.ItemFlag.ItemIsUserCheckable if self.row(index.row()) else flags
        return flags if column in PLANNED else flags | Qt.ItemFlag.ItemIsEditable

    @override
    def headerData(self, section: int, orientation: Qt.Orientation, role: int = Role.DisplayRole) -> Any:
        if orientation is not Qt.Orientation.Horizontal or role != Role.DisplayRole:
            return None
        return head_of(COLUMNS[section], self.session.style, tight=self.tight)

    @override
    def data(self, index: Index, role: int = Role.DisplayRole) -> Any:
        row, column = index.row(), COLUMNS[index.column()]
        if role == Role.DisplayRole:
            return self.text(row, column)
        if role == Role.EditRole:
            return self.entered(row, column)
        if role == Role.CheckStateRole:
            return self._checked(row, column)
        if role == Role.TextAlignmentRole:
            side = Qt.AlignmentFlag.AlignRight if column in NUMERIC else Qt.AlignmentFlag.AlignLeft
            return int(Qt.AlignmentFlag.AlignVCenter | side)
        if role == Role.ForegroundRole:
            return colours().colour("quiet") if self.stale and column in PLANNED else None
        return self._marks(row, column, role)

    def _checked(self, row: int, column: str) -> Any:
        found = self.row(row)
        if column != "locked" or found is None:
            return None
        return Qt.CheckState.Checked if found.locked else Qt.CheckState.Unchecked

    def _marks(self, row: int, column: str, role: int) -> Any:
        if role == Role.DecorationRole:
            return self._sign(row, column)
        if role == Role.ToolTipRole:
            return plain_tip(self._tip(row, column)) or None
        if role == Role.AccessibleTextRole:
            return self._spoken(row, column)
        return None

    def _sign(self, row: int, column: str) -> Any:
        found = self.row(row)
        if found is None:
            return icon("add", "quiet") if column == "id" else None
        if self.problem(row, column) is not None or (column == "id" and found.bars and not self.stale):
            return level_icon(Level.STOP)
        level = self._margin_level(found, column)
        return level_icon(level) if level is Level.WATCH or level is Level.STOP else None

    def _margin_level(self, found: ValveRow, column: str) -> Level | None:
        if self.margins is None or found.placed is None or self.stale:
            return None
        return self.margins.level(found, column)

    def _tip(self, row: int, column: str) -> str:
        found, problem = self.row(row), self.problem(row, column)
        if found is None:
            return self.tr("Type here to add a valve.")
        if problem is not None:
            return str(problem.what)
        if column == "id" and found.bars:
            return wording.valve_told(found, self.session.style)
        level = self._margin_level(found, column)
        if level is Level.WATCH and self.margins is not None:
            return self.margins.told(found, column, self.session.style)
        return self.text(row, column) if column in PLANNED else self.entered(row, column)

    def _spoken(self, row: int, column: str) -> str:
        found, problem = self.row(row), self.problem(row, column)
        text = self.text(row, column) or "-"
        if column == "locked" and found is not None:
            text = self.tr("yes") if found.locked else self.tr("no")
        level = self._margin_level(found, column) if found else None
        told = self.tr("{head}, valve {valve}: {text}").format(
            head=plain_head(column, self.session.style), valve=found.id if found else self.tr("new"), text=text
        )
        told = f"{told}. {level_word(level)}" if level is Level.WATCH else told
        return f"{told}. {problem.what}" if problem else told

    def text(self, row: int, column: str) -> str:
        """A cell as it is shown."""
        found = self.row(row)
        if found is None or column == "locked":
            return ""
        if column in PLANNED:
            return self._planned(found, column)
        entered = self.entered(row, column)
        if column == "line":
            return word_label(entered) if entered in ("intake", "exhaust") else entered
        mark = mark_for(f"valves.0.{column}") if column in LENGTHS else None
        if isinstance(mark, Quantity):
            return told_in_column(entered, mark, self.session) if entered else ""
        if column == "shims" and self.problem(row, column) is None and found.shims:
            return wording.stack(found.shims, self.session.style)
        return entered

    def _planned(self, found: ValveRow, column: str) -> str:
        placed, style = found.placed, self.session.style
        if column in ("plan_seat", "plan_open"):
            before, name = (found.seat, "seat_load") if column == "plan_seat" else (found.open, "open_load")
            return wording.change(before, getattr(placed, name, None), style)
        if placed is None:
            return ""
        if column == "plan_spring":
            return f"{placed.spring} + {placed.inner}" if placed.inner else placed.spring
        if column == "plan_shims":
            return wording.stack(placed.shims, style)
        values = {"plan_height": placed.installed_height, "plan_bind": placed.bind_margin}
        return wording.number(values.get(column, placed.retainer_margin), Kind.LENGTH, style)

    # Edits

    @override
    def setData(self, index: Index, value: Any, role: int = Role.EditRole) -> bool:
        row, column = index.row(), COLUMNS[index.column()]
        if role == Role.CheckStateRole and column == "locked":
            return self._lock(row, Qt.CheckState(value) is Qt.CheckState.Checked)
        if role != Role.EditRole or str(value).strip() == self.entered(row, column):
            return False
        found = self.row(row)
        title = self.tr("set {head} of valve {valve}") if found else self.tr("add a valve")
        head = plain_head(column, self.session.style).split(" (")[0].lower()
        self._store(
            {(self.place_of(row), column): str(value)}, title.format(head=head, valve=found.id if found else "")
        )
        return True

    def _lock(self, row: int, locked: bool) -> bool:
        found = self.row(row)
        if found is None:
            return False
        title = self.tr("lock valve {valve}") if locked else self.tr("unlock valve {valve}")
        self._store({(found.index, "locked"): "yes" if locked else ""}, title.format(valve=found.id))
        return True

    def _store(self, cells: dict[Cell, str], title: str) -> None:
        valves = with_cells(self.session.job, cells, self.session.style)
        self.session.set_fields(title, {"valves": valves})

    def set_cells(self, cells: Cells, text: str) -> None:
        """Set several cells as one undo step."""
        places = {(self.place_of(row), COLUMNS[column]): typed for (row, column), typed in cells.items()}
        self._store({cell: typed for cell, typed in places.items() if cell[1] in STATED}, text)

    def paste(self, top: int, left: int, block: list[list[str]], rows: Iterable[int]) -> None:
        """Take a block from the clipboard, as one undo step; bad cells are kept as they are, and marked."""
        known = [valve.index for row in rows if (valve := self.row(row)) is not None]
        names = [valve.id or "" for valve in self.session.job.valves]
        found = pasted(block, left, known, names, len(names))
        if found.cells:
            self._store(found.cells, self.tr("paste %n cell(s)", "", len(found.cells)))
        told = self.tr("%n cell(s) pasted.", "", len(found.cells))
        more = self.tr("{told} What is worked out or has no column here was left out.")
        self.told.emit(more.format(told=told) if found.left_out else told)
