"""A list of the job as a small table: readings, spec, durations, lift table; a blank last row adds an item."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from PySide6.QtCore import QAbstractTableModel, QModelIndex, QObject, QPersistentModelIndex, Qt, Signal
from typing_extensions import override

from loadbench.errors import InputError, Problem
from loadbench.findings.finding import Level
from loadbench.job.kinds import Number, Quantity
from loadbench.units import parse, tell, with_unit
from ui.entries import number_of
from ui.icons import level_icon
from ui.labels import TABLE_COLUMNS, column_label, label_of, mark_for, unit_of_field, word_label, words_of
from ui.plain_tip import plain_tip
from ui.widgets.own_value import plain, standing

if TYPE_CHECKING:
    from ui.session import Session
    from ui.state import State
    from ui.widgets.grid_view import Cells

Index = QModelIndex | QPersistentModelIndex
Role = Qt.ItemDataRole


class RowsModel(QAbstractTableModel):
    """The rows of one list; every cell shows what was typed, in the units on show."""

    marked = Signal()  # the faults may have changed

    def __init__(self, session: Session, field: str, columns: tuple[str, ...], parent: QObject | None = None) -> None:
        super().__init__(parent)
        self.session, self.field, self.columns = session, field, columns
        self.bare = field.rsplit(".", 1)[-1] in TABLE_COLUMNS
        self._rows: tuple[Any, ...] = ()
        self._kept: dict[tuple[int, int], str] = {}  # what the job has no place for: half a row, a number that is none
        self._path = field
        self._seen: dict[str, Any] = {}
        session.changed.connect(self._show)
        session.styled.connect(self._restyle)
        session.line_chosen.connect(self._reline)
        self._show(session.state)

    # Rows

    def _show(self, state: State) -> None:
        found = standing(self.session, state.job, self.field)
        rows = found.value or ()
        kept = self._kept
        if len(rows) != len(self._rows) or found.shown != self._path:
            kept = {place: text for place, text in kept.items() if self._partial(place, rows)}
        if found.shown != self._path:
            self.beginResetModel()
            self._rows, self._path, self._kept = rows, found.shown, kept
            self.endResetModel()
        elif self._changed(rows, kept, state):
            self._take(rows, kept)
        self._seen = self._told_of(state)
        self.marked.emit()

    def _told_of(self, state: State) -> dict[str, Any]:
        """The faults and notes of this list's cells."""
        stated, own = state.analysis.stated, f"{self._path}."
        found = [*stated.problems.items(), *stated.notes.items()]
        return {path: told for path, told in found if path.startswith(own)}

    def _changed(self, rows: tuple[Any, ...], kept: Cells, state: State) -> bool:
        """Whether a cell shows anything else than before: most edits are elsewhere."""
        return rows != self._rows or kept != self._kept or self._told_of(state) != self._seen

    def _restyle(self) -> None:
        self._refresh()

    def _reline(self) -> None:
        self._show(self.session.state)

    def _take(self, rows: tuple[Any, ...], kept: Cells) -> None:
        """Other rows, so that the current cell stays where it is."""
        before, after = self._height(self._rows, self._kept), self._height(rows, kept)
        if after > before:
            self.beginInsertRows(QModelIndex(), before, after - 1)
        elif after < before:
            self.beginRemoveRows(QModelIndex(), after, before - 1)
        self._rows, self._kept = rows, kept
        if after > before:
            self.endInsertRows()
        elif after < before:
            self.endRemoveRows()
        self._refresh()

    @staticmethod
    def _height(rows: tuple[Any, ...], kept: Cells) -> int:
        """How many rows the table has, the blank last one included."""
        return max([len(rows), *(row + 1 for row, _ in kept)]) + 1

    def _partial(self, place: tuple[int, int], rows: tuple[Any, ...]) -> bool:
        """Whether kept text still has its place: half rows stand past the end."""
        return place[0] >= len(rows) if self.bare else place[0] < len(rows)

    def _refresh(self) -> None:
        self.headerDataChanged.emit(Qt.Orientation.Horizontal, 0, len(self.columns) - 1)
        self.dataChanged.emit(self.index(0, 0), self.index(self.rowCount() - 1, len(self.columns) - 1))

    def path_of(self, row: int, column: int) -> str:
        """The dotted path of a cell."""
        return f"{self._path}.{row}.{column if self.bare else self.columns[column]}"

    def value(self, row: int, column: int) -> Any:
        """What the job holds in a cell; None in the blank last row."""
        if row >= len(self._rows):
            return None
        return self._rows[row][column] if self.bare else getattr(self._rows[row], self.columns[column])

    def entered(self, row: int, column: int) -> str:
        """A cell as it was typed."""
        if (row, column) in self._kept:
            return self._kept[row, column]
        value = self.value(row, column)
        return "" if value is None else value if isinstance(value, str) else f"{value:.10g}"

    def problem(self, row: int, column: int) -> Problem | None:
        """What is wrong in a cell."""
        if (row, column) in self._kept:
            return Problem(
                what=self.tr("The row is not complete or this is not a number."), expected=self.tr("a number")
            )
        return self.session.state.analysis.stated.problems.get(self.path_of(row, column))

    @override
    def rowCount(self, parent: Index = QModelIndex()) -> int:  # noqa: B008 - Qt's own signature
        return 0 if parent.isValid() else self._height(self._rows, self._kept)

    @override
    def columnCount(self, parent: Index = QModelIndex()) -> int:  # noqa: B008
        return 0 if parent.isValid() else len(self.columns)

    @override
    def flags(self, index: Index) -> Qt.ItemFlag:
        return Qt.ItemFlag.ItemIsSelectable | Qt.ItemFlag.ItemIsEnabled | Qt.ItemFlag.ItemIsEditable

    @override
    def headerData(self, section: int, orientation: Qt.Orientation, role: int = Role.DisplayRole) -> Any:
        path = self.path_of(0, section) if orientation is Qt.Orientation.Horizontal else ""
        if role == Role.ToolTipRole and path:
            return column_label(path)  # a long head is cut in a narrow column
        if role != Role.DisplayRole:
            return None
        if not path:
            return str(section + 1) if section < len(self._rows) else "+"
        unit = unit_of_field(path, self.session.style)
        return f"{column_label(path)}\n{unit}" if unit else column_label(path)

    @override
    def data(self, index: Index, role: int = Role.DisplayRole) -> Any:
        row, column = index.row(), index.column()
        if role == Role.DisplayRole:
            return self._told(row, column)
        if role == Role.EditRole:
            return self.entered(row, column)
        if role == Role.TextAlignmentRole:
            numeric = isinstance(mark_for(self.path_of(0, column)), Quantity | Number)
            return int(
                Qt.AlignmentFlag.AlignVCenter | (Qt.AlignmentFlag.AlignRight if numeric else Qt.AlignmentFlag.AlignLeft)
            )
        return self._marks(row, column, role)

    def _marks(self, row: int, column: int, role: int) -> Any:
        problem = self.problem(row, column)
        if role == Role.DecorationRole:
            return level_icon(Level.STOP) if problem else None
        if role == Role.ToolTipRole:
            return plain_tip(str(problem.what) if problem else self.entered(row, column)) or None
        if role == Role.AccessibleTextRole:
            name = label_of(self.path_of(row, column))
            text = f"{name} {row + 1}: {self._told(row, column)}"
            return f"{text}. {problem.what}" if problem else text
        return None

    def _told(self, row: int, column: int) -> str:
        entered = self.entered(row, column)
        mark = mark_for(self.path_of(0, column))
        if isinstance(mark, Quantity):
            return told_in_column(entered, mark, self.session)
        return word_label(entered) if entered in words_of(self.path_of(0, column)) else entered

    # Edits

    @override
    def setData(self, index: Index, value: Any, role: int = Role.EditRole) -> bool:
        if role != Role.EditRole or str(value) == self.entered(index.row(), index.column()):
            return False
        name = label_of(self.path_of(0, index.column())).lower()
        title = self.tr("set {field} in row {row}").format(field=name, row=index.row() + 1)
        self.set_cells({(index.row(), index.column()): str(value)}, title)
        return True

    def set_cells(self, cells: Cells, text: str) -> None:
        """Set several cells as one undo step; a row past the end is added, a row left empty is taken out."""
        entries = {**self._kept, **cells}
        last = max([len(self._rows) - 1, *(row for row, _ in entries)])
        tree = [self._row_tree(row) for row in range(last + 1)]
        odd: Cells = {}
        for (row, column), typed in sorted(entries.items()):
            try:
                tree[row][column] = self._stored(column, typed)
            except InputError:
                tree[row][column], odd[row, column] = None, typed
        self._store(tree, odd, text)

    def _row_tree(self, row: int) -> list[Any]:
        return [self.value(row, column) for column in range(len(self.columns))]

    def _stored(self, column: int, typed: str) -> Any:
        mark, text = mark_for(self.path_of(0, column)), typed.strip()
        if isinstance(mark, Number):
            return number_of(text)
        if isinstance(mark, Quantity) and text:
            try:
                return with_unit(text, mark.kind, self.session.style)
            except InputError:
                return text
        return text or None

    def _store(self, tree: list[list[Any]], odd: Cells, text: str) -> None:
        whole: list[Any] = []
        halves: list[dict[int, str]] = []
        kept: Cells = {}
        for row, cells in enumerate(tree):
            strange = {column: entry for (place, column), entry in odd.items() if place == row}
            if all(cell is None for cell in cells) and not strange:
                continue
            if self._half(cells):
                halves.append({**{c: str(cell) for c, cell in enumerate(cells) if cell is not None}, **strange})
                continue
            kept.update({(len(whole), column): entry for column, entry in strange.items()})
            whole.append(tuple(cells) if self.bare else self._part(row, cells))
        for place, half in enumerate(halves, len(whole)):
            kept.update({(place, column): entry for column, entry in half.items()})
        self._take(self._rows, kept)
        self.session.set_fields(text, {self.session.own_field(self.field): tuple(whole)})
        self.marked.emit()

    def _half(self, cells: list[Any]) -> bool:
        """Whether the job cannot hold this row yet: a bare row wants its numbers."""
        marks = (mark_for(self.path_of(0, column)) for column in range(len(cells)))
        return self.bare and any(
            isinstance(mark, Number) and cell is None for mark, cell in zip(marks, cells, strict=True)
        )

    def _part(self, row: int, cells: list[Any]) -> dict[str, Any]:
        """The item with its cells; what the table does not show stays."""
        before = plain(self._rows[row]) if row < len(self._rows) else {}
        return {**before, **dict(zip(self.columns, cells, strict=True))}

    def paste(self, top: int, left: int, block: list[list[str]], rows: list[int]) -> None:
        """Take a block from the clipboard; what goes past the last column is left."""
        cells = {
            (top + down, left + across): text
            for down, line in enumerate(block)
            for across, text in enumerate(line)
            if left + across < len(self.columns)
        }
        self.set_cells(cells, self.tr("paste %n cell(s)", "", len(cells)))

    def remove_row(self, row: int) -> None:
        """Take one item out."""
        if row < len(self._rows):
            self._kept = {}
            tree = [plain(item) for place, item in enumerate(self._rows) if place != row]
            text = self.tr("remove row {row} of {list}").format(row=row + 1, list=label_of(self.field).lower())
            self.session.set_fields(text, {self.session.own_field(self.field): tuple(tree)})


def told_in_column(entered: str, mark: Quantity, session: Session) -> str:
    """A typed quantity under a head that names the unit: its number as typed, or converted; else as typed."""
    try:
        found = parse(entered, mark.kind, session.state.analysis.stated.style)
    except InputError:
        return entered
    told = tell(found.value, mark.kind, session.style)
    if found.unit != told.unit:
        return told.number
    number = entered.strip()
    return number[: -len(found.unit)].strip() if number.endswith(found.unit) else told.number
