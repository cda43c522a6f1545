"""The worksheet as a table in the order asked for: what is measured can be typed, what to do stands beside it."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from PySide6.QtCore import QAbstractTableModel, QModelIndex, QObject, QPersistentModelIndex, Qt, Signal
from typing_extensions import override

from loadbench.findings.finding import Level
from loadbench.job.kinds import Quantity
from ui.icons import level_icon
from ui.labels import mark_for
from ui.level_words import level_word
from ui.plain_tip import plain_tip
from ui.setting import wording
from ui.setting.sheet_columns import MEASURED, NO_WAY, NUMERIC, STATED, columns_of, head_of, plain_head
from ui.setting.sheet_edits import Cell, pasted, with_cells
from ui.widgets.rows_model import told_in_column

if TYPE_CHECKING:
    from loadbench.assembly.setting_result import SettingSheet, ValveSetting
    from loadbench.errors import Problem
    from ui.session import Session
    from ui.widgets.grid_view import Cells

Index = QModelIndex | QPersistentModelIndex
Role = Qt.ItemDataRole
NOTHING = QModelIndex()


class SheetModel(QAbstractTableModel):
    """A row a valve; the columns follow the way of setting."""

    told = Signal(str)

    def __init__(self, session: Session, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self.session = session
        self.rows: tuple[ValveSetting, ...] = ()
        self.columns: tuple[str, ...] = NO_WAY
        self._problems: dict[str, Problem] = {}

    # What is there

    def show_sheet(self, sheet: SettingSheet) -> None:
        """Show another sheet; the current cell stays where it is, unless the columns are others."""
        columns = columns_of(sheet.way)
        self._problems = {each.place.field: each for each in sheet.problems if each.place.field}
        if columns != self.columns or len(sheet.rows) != len(self.rows):
            self.beginResetModel()
            self.columns, self.rows = columns, sheet.rows
            self.endResetModel()
            return
        self.rows = sheet.rows
        self.headerDataChanged.emit(Qt.Orientation.Horizontal, 0, len(columns) - 1)
        if self.rows:
            self.dataChanged.emit(self.index(0, 0), self.index(len(self.rows) - 1, len(columns) - 1))

    def row(self, place: int) -> ValveSetting | None:
        """One valve."""
        return self.rows[place] if 0 <= place < len(self.rows) else None

    def entered(self, row: int, column: str) -> str:
        """A cell that can be typed, as it was typed."""
        found, valves = self.row(row), self.session.state.job.valves
        if found is None or column not in STATED or found.index >= len(valves):
            return ""
        return str(getattr(valves[found.index], column) or "")

    def problem(self, row: int, column: str) -> Problem | None:
        """What is wrong in a cell that can be typed."""
        found = self.row(row)
        if found is None or column not in STATED:
            return None
        path = f"valves.{found.index}.{column}"
        return self.session.state.analysis.stated.problems.get(path) or self._problems.get(path)

    # Qt's questions

    @override
    def rowCount(self, parent: Index = NOTHING) -> int:
        return 0 if parent.isValid() else len(self.rows)

    @override
    def columnCount(self, parent: Index = NOTHING) -> int:
        return 0 if parent.isValid() else len(self.columns)

    @override
    def flags(self, index: Index) -> Qt.ItemFlag:
        flags = Qt.ItemFlag.ItemIsSelectable | Qt.ItemFlag.ItemIsEnabled
        return flags | Qt.ItemFlag.ItemIsEditable if self.columns[index.column()] in STATED else flags

    @override
    def headerData(self, section: int, orientation: Qt.Orientation, role: int = Role.DisplayRole) -> Any:
        if orientation is not Qt.Orientation.Horizontal or role != Role.DisplayRole:
            return None
        return head_of(self.columns[section], self.session.style)

    @override
    def data(self, index: Index, role: int = Role.DisplayRole) -> Any:
        row, column = index.row(), self.columns[index.column()]
        if role == Role.DisplayRole:
            return self.text(row, column)
        if role == Role.EditRole:
            return self.entered(row, column)
        if role == Role.TextAlignmentRole:
            side = Qt.AlignmentFlag.AlignRight if column in NUMERIC else Qt.AlignmentFlag.AlignLeft
            return int(Qt.AlignmentFlag.AlignVCenter | side)
        if role == Role.DecorationRole:
            return self._sign(row, column)
        if role == Role.ToolTipRole:
            return plain_tip(self._tip(row, column)) or None
        return self._spoken(row, column) if role == Role.AccessibleTextRole else None

    def _sign(self, row: int, column: str) -> Any:
        if self.problem(row, column) is not None:
            return level_icon(Level.STOP)
        found = self.row(row)
        return level_icon(found.level) if column == "level" and found is not None and found.level is not None else None

    def _tip(self, row: int, column: str) -> str:
        problem = self.problem(row, column)
        return str(problem.what) if problem is not None else self.entered(row, column) or self.text(row, column)

    def _spoken(self, row: int, column: str) -> str:
        found, problem = self.row(row), self.problem(row, column)
        told = wording.tr("{head}, valve {valve}: {text}").format(
            head=plain_head(column, self.session.style),
            valve=found.valve if found else "",
            text=self.text(row, column) or wording.tr("empty"),
        )
        return f"{told}. {problem.what}" if problem else told

    def text(self, row: int, column: str) -> str:
        """A cell as it is shown."""
        found = self.row(row)
        if found is None:
            return ""
        if column in STATED:
            return self._entered_text(found, row, column)
        style = self.session.style
        if column == "do":
            return found.do.told(style)
        if column == "level":
            return _stands(found)
        if column == "turns":
            return wording.turned(found.turns)
        values = {"wanted": found.wanted, "new_shim": found.new_shim, "pushrod": found.pushrod}
        return wording.number(values[column], style)

    def _entered_text(self, found: ValveSetting, row: int, column: str) -> str:
        entered = self.entered(row, column)
        mark = mark_for(f"valves.0.{column}") if column in MEASURED else None
        if column == "id":
            return entered or found.valve
        return told_in_column(entered, mark, self.session) if entered and isinstance(mark, Quantity) else entered

    def told_of(self, row: int) -> str:
        """One valve in a sentence, for the read-out and for screen readers."""
        found, style = self.row(row), self.session.style
        if found is None:
            return ""
        parts = [wording.tr("Valve {valve}").format(valve=found.valve)]
        if found.found is not None:
            parts.append(wording.tr("found {found}").format(found=wording.length(found.found, style)))
        if found.wanted is not None:
            parts.append(wording.tr("wanted {wanted}").format(wanted=wording.length(found.wanted, style)))
        told = f"{', '.join(parts)}. {found.do.told(style)}"
        if found.after is not None and found.after != found.found:
            told += " " + wording.tr("Then {after}.").format(after=wording.length(found.after, style))
        waits = tuple(field for field in found.missing if not field.startswith("valves."))
        if waits:
            told += " " + wording.tr("Waits for: {fields}.").format(fields=wording.waited_for(waits))
        return told

    # Edits

    @override
    def setData(self, index: Index, value: Any, role: int = Role.EditRole) -> bool:
        row, column = index.row(), self.columns[index.column()]
        found = self.row(row)
        if role != Role.EditRole or found is None or str(value).strip() == self.entered(row, column):
            return False
        head = wording.within(plain_head(column, self.session.style).split(",")[0])
        title = wording.tr("set {head} of valve {valve}").format(head=head, valve=found.valve)
        self._store({(found.index, column): str(value)}, title)
        return True

    def _store(self, cells: dict[Cell, str], title: str) -> None:
        valves = with_cells(self.session.job, cells, self.session.style)
        self.session.set_fields(title, {"valves": valves})

    def set_cells(self, cells: Cells, text: str) -> None:
        """Set several cells as one undo step."""
        places = {
            (found.index, self.columns[column]): typed
            for (row, column), typed in cells.items()
            if (found := self.row(row)) is not None
        }
        self._store({cell: typed for cell, typed in places.items() if cell[1] in STATED}, text)

    def paste(self, top: int, left: int, block: list[list[str]], rows: list[int]) -> None:
        """Take a block from the clipboard, as one undo step; bad cells are kept as they are, and marked."""
        known = [valve.index for row in rows if (valve := self.row(row)) is not None]
        names = [valve.id or "" for valve in self.session.job.valves]
        found = pasted(block, self.columns[left:], known, names)
        if found.cells:
            self._store(found.cells, self.tr("paste %n cell(s)", "", len(found.cells)))
        told = self.tr("%n cell(s) pasted.", "", len(found.cells))
        more = self.tr("{told} What is worked out or has no column here was left out.")
        self.told.emit(more.format(told=told) if found.left_out else told)


def _stands(found: ValveSetting) -> str:
    """A valve's level in words; one that nobody has measured yet says so."""
    if found.level is Level.UNKNOWN and any(field.rpartition(".")[2] in MEASURED for field in found.missing):
        return wording.tr("Not measured")
    return level_word(found.level) if found.level is not None else ""
