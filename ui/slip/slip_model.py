"""The slip as a table model: what was typed for each numbered spring, then what follows from it."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from PySide6.QtCore import QAbstractTableModel, QModelIndex, QObject, QPersistentModelIndex, Qt, Signal
from typing_extensions import override

from loadbench.findings.finding import Level
from loadbench.findings.spec_check import SpecVerdict, Window, direct_loads, judged, windows_of
from loadbench.job.kinds import Quantity, Sense
from loadbench.units import Kind, display_unit, tell
from ui.icons import level_icon
from ui.plain_tip import plain_tip
from ui.slip.columns import Column, columns_of, places_of
from ui.slip.pasting import block_of
from ui.slip.slip_edits import Place, Springs, with_cells, without_column, without_springs
from ui.slip.slip_texts import natural_key, verdict_text
from ui.widgets.rows_model import told_in_column

if TYPE_CHECKING:
    from loadbench.analysis.springs import NumberedSpringAnalysis
    from loadbench.errors import Problem
    from loadbench.job.parts import Reading
    from ui.session import Session
    from ui.state import State
    from ui.widgets.grid_view import Cells

Index = QModelIndex | QPersistentModelIndex
Role = Qt.ItemDataRole
SORT = int(Role.UserRole) + 1
HEADS = ("id", "mark")
COMPUTED = ("rate", "seat_load", "open_load", "verdict")
KINDS = {"rate": Kind.RATE, "seat_load": Kind.FORCE, "open_load": Kind.FORCE}
LOAD = Quantity(Kind.FORCE, Sense.NOT_NEGATIVE)
BLANK_ROWS = 1


class SlipModel(QAbstractTableModel):
    """Numbered springs down, heights across."""

    told = Signal(str)  # one sentence after a paste
    refreshed = Signal()

    def __init__(self, session: Session, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self.session = session
        self.extra: tuple[Column, ...] = ()
        self.columns: tuple[Column, ...] = ()
        self.live = True  # a hidden page leaves the work until it is shown
        self._state = session.state  # as taken: a hidden page shows an older one, of another count
        self._count = 0
        self._cells: list[dict[int, int]] = []  # of each spring: column of loads -> its reading
        self._verdicts: list[SpecVerdict] = []
        self._signs: list[tuple[object, ...]] = []  # what each row shows, to see which changed
        session.changed.connect(self._show)
        session.styled.connect(self._redraw)
        session.line_chosen.connect(self._reline)
        session.loaded.connect(self._forget)
        self._show(session.state)

    # What is there

    def _forget(self) -> None:
        self.extra = ()
        self._show(self.session.state)

    def _reline(self) -> None:
        self._show(self.session.state)

    def set_live(self, live: bool) -> None:
        """Follow the job from now on, or not."""
        self.live = live
        if live:
            self._show(self.session.state)

    def _show(self, state: State) -> None:
        if not self.live:
            return
        columns = columns_of(state.analysis.stated, self.extra)
        count = len(state.job.springs)
        before = self._signs
        if columns != self.columns:
            self.beginResetModel()
            self._take(state, columns, count)
            self.endResetModel()
            before = self._signs  # everything is new
        elif count > self._count:
            self.beginInsertRows(QModelIndex(), self._count, count - 1)
            self._take(state, columns, count)
            self.endInsertRows()
        elif count < self._count:
            self.beginRemoveRows(QModelIndex(), count, self._count - 1)
            self._take(state, columns, count)
            self.endRemoveRows()
        else:
            self._take(state, columns, count)
        self._redraw_rows([row for row, sign in enumerate(self._signs) if row >= len(before) or sign != before[row]])

    def _redraw_rows(self, rows: list[int]) -> None:
        last = self.columnCount() - 1
        for row in rows:
            self.dataChanged.emit(self.index(row, 0), self.index(row, last))
        self.refreshed.emit()

    def _take(self, state: State, columns: tuple[Column, ...], count: int) -> None:
        self._state, self.columns, self._count = state, columns, count
        style = state.analysis.stated.style
        self._cells = []
        for spring in state.job.springs:
            places = places_of(spring.readings, style)
            found = {self._place_of(column): reading for reading, column in enumerate(places)}
            self._cells.append(found)
        line = state.analysis.line(self.session.line)
        whole = len(line.nest.members) <= 1
        windows = windows_of(line)
        self.windows: tuple[Window, ...] = windows
        springs = state.analysis.set.springs
        self._verdicts = [
            judged(spring, direct_loads(state.analysis, place, whole=whole), windows)
            for place, spring in enumerate(springs)
        ]
        self._signs = [
            (stated, found.rate, found.seat_load, found.open_load, verdict)
            for stated, found, verdict in zip(state.job.springs, springs, self._verdicts, strict=True)
        ]

    def _place_of(self, column: Column) -> int:
        return next(place for place, other in enumerate(self.columns) if column.same(other))

    def _redraw(self) -> None:
        if self.columnCount():
            self.headerDataChanged.emit(Qt.Orientation.Horizontal, 0, self.columnCount() - 1)
            self.dataChanged.emit(self.index(0, 0), self.index(self.rowCount() - 1, self.columnCount() - 1))
        self.refreshed.emit()

    def name_of(self, column: int) -> Column | str:
        """What a column of the table is: "id", "mark", a height, or the name of a figure."""
        if column < len(HEADS):
            return HEADS[column]
        loads = column - len(HEADS)
        return self.columns[loads] if loads < len(self.columns) else COMPUTED[loads - len(self.columns)]

    def spring(self, row: int) -> NumberedSpringAnalysis | None:
        """One spring analysed; None in the blank last row."""
        springs = self._state.analysis.set.springs
        return springs[row] if row < len(springs) else None

    def verdict(self, row: int) -> SpecVerdict:
        """How one spring stands against its windows."""
        return self._verdicts[row] if row < len(self._verdicts) else SpecVerdict(level=Level.UNKNOWN)

    def reading(self, row: int, column: int) -> tuple[Reading, str] | None:
        """The reading in a cell and its dotted path."""
        place = self._cells[row].get(column - len(HEADS)) if row < self._count else None
        if place is None:
            return None
        return self._state.job.springs[row].readings[place], f"springs.{row}.readings.{place}"

    def cell_of(self, path: str) -> tuple[int, int] | None:
        """The cell of a reading by its dotted path, "springs.3.readings.1"; None where it has none."""
        parts = path.split(".")
        if len(parts) < 4 or parts[0] != "springs" or not int(parts[1]) < self._count:
            return None
        row, reading = int(parts[1]), int(parts[3])
        found = (column for column, own in self._cells[row].items() if own == reading)
        return next(((row, len(HEADS) + column) for column in found), None)

    def value(self, row: int, column: int) -> float | None:
        """The number in a cell, SI."""
        name = self.name_of(column)
        if isinstance(name, Column):
            found = self.reading(row, column)
            value = None if found is None else self._state.analysis.stated.values.get(f"{found[1]}.load")
            return None if value is None else float(value)
        spring = self.spring(row)
        value = getattr(spring, name, None) if name in KINDS and spring is not None else None
        return None if value is None else float(value)

    def entered(self, row: int, column: int) -> str:
        """A cell as it was typed."""
        name = self.name_of(column)
        if isinstance(name, Column):
            found = self.reading(row, column)
            return (found[0].load or "") if found else ""
        if name in HEADS and row < self._count:
            return str(getattr(self._state.job.springs[row], name) or "")
        return ""

    def problem(self, row: int, column: int) -> Problem | None:
        """What is wrong in a cell, its height included."""
        found = self.reading(row, column) if isinstance(self.name_of(column), Column) else None
        if found is None:
            return None
        problems = self._state.analysis.stated.problems
        return next((problems[path] for name in ("load", "height") if (path := f"{found[1]}.{name}") in problems), None)

    # Qt's questions

    @override
    def rowCount(self, parent: Index = QModelIndex()) -> int:  # noqa: B008 - Qt's own signature
        return 0 if parent.isValid() else self._count + BLANK_ROWS

    @override
    def columnCount(self, parent: Index = QModelIndex()) -> int:  # noqa: B008
        return 0 if parent.isValid() else len(HEADS) + len(self.columns) + len(COMPUTED)

    @override
    def flags(self, index: Index) -> Qt.ItemFlag:
        flags = Qt.ItemFlag.ItemIsSelectable | Qt.ItemFlag.ItemIsEnabled
        return flags if self.name_of(index.column()) in COMPUTED else flags | Qt.ItemFlag.ItemIsEditable

    @override
    def headerData(self, section: int, orientation: Qt.Orientation, role: int = Role.DisplayRole) -> Any:
        if role != Role.DisplayRole:
            return None
        if orientation is Qt.Orientation.Vertical:
            return str(section + 1) if section < self._count else "+"
        return self.head(section)

    def head(self, section: int) -> str:
        """A column's head, with the unit of its numbers on its second line."""
        name, style = self.name_of(section), self.session.style
        if isinstance(name, Column):
            return f"{name.head(style)}\n{display_unit(Kind.FORCE, style)}"
        heads = {
            "id": self.tr("Spring"),
            "mark": self.tr("Mark"),
            "rate": self.tr("Rate"),
            "seat_load": self.tr("Seat load"),
            "open_load": self.tr("Open load"),
            "verdict": self.tr("Against the spec"),
        }
        return f"{heads[name]}\n{display_unit(KINDS[name], style)}" if name in KINDS else heads[name]

    @override
    def data(self, index: Index, role: int = Role.DisplayRole) -> Any:
        row, column = index.row(), index.column()
        if role == Role.DisplayRole:
            return self.text(row, column)
        if role == Role.EditRole:
            return self.entered(row, column)
        if role == SORT:
            return self._sort_key(row, column)
        if role == Role.TextAlignmentRole:
            right = isinstance(self.name_of(column), Column) or self.name_of(column) in KINDS
            return int(
                Qt.AlignmentFlag.AlignVCenter | (Qt.AlignmentFlag.AlignRight if right else Qt.AlignmentFlag.AlignLeft)
            )
        return self._marks(row, column, role)

    def _marks(self, row: int, column: int, role: int) -> Any:
        problem = self.problem(row, column)
        if role == Role.DecorationRole:
            if self.name_of(column) == "verdict" and row < self._count:
                return level_icon(self.verdict(row).level)
            return level_icon(Level.STOP) if problem else None
        if role == Role.ToolTipRole:
            return plain_tip(str(problem.what) if problem else self.entered(row, column)) or None
        if role == Role.AccessibleTextRole:
            head = " ".join(self.head(column).split())
            text = self.tr("{head}, row {row}: {text}").format(
                head=head, row=row + 1, text=self.text(row, column) or "-"
            )
            return f"{text}. {problem.what}" if problem else text
        return None

    def text(self, row: int, column: int) -> str:
        """A cell as it is shown."""
        name = self.name_of(column)
        if isinstance(name, Column):
            return told_in_column(self.entered(row, column), LOAD, self.session)
        if name == "verdict":
            return verdict_text(self.verdict(row), self.session.style) if row < self._count else ""
        if name in KINDS:
            value = self.value(row, column)
            blank = "" if row >= self._count else "\u2013"
            return blank if value is None else tell(value, KINDS[name], self.session.style).number
        return self.entered(row, column)

    def _sort_key(self, row: int, column: int) -> Any:
        """A number, or a text whose figures sort as numbers; None for a blank."""
        name = self.name_of(column)
        if row >= self._count:
            return None
        if isinstance(name, Column) or name in KINDS:
            return self.value(row, column)
        if name == "verdict":
            return float(self.verdict(row).level.rank)
        text = self.entered(row, column)
        return natural_key(text) or None

    # Edits

    @override
    def setData(self, index: Index, value: Any, role: int = Role.EditRole) -> bool:
        row, column = index.row(), index.column()
        if not index.isValid() or role != Role.EditRole or str(value).strip() == self.entered(row, column):
            return False
        head = " ".join(self.head(column).split("\n")[:-1]) or self.head(column)
        self.set_cells(
            {(row, column): str(value)}, self.tr("set {head} of spring {row}").format(head=head, row=row + 1)
        )
        return True

    def set_cells(self, cells: Cells, text: str) -> None:
        """Set several cells as one undo step; rows past the end are added. Cleared heights keep their column."""
        places: dict[Place, str] = {(row, self.name_of(column)): typed for (row, column), typed in cells.items()}
        cleared = [where for (_, where), typed in places.items() if isinstance(where, Column) and not typed.strip()]
        self._keep(tuple(cleared))
        self._store(self._with(places), text)

    def _keep(self, columns: tuple[Column, ...]) -> None:
        self.extra += tuple(c for c in columns if not any(c.same(other) for other in self.extra))

    def _with(self, places: dict[Place, str]) -> Springs:
        return with_cells(self.session.job, places, self.session.style, self.session.state.analysis.stated.style)

    def _store(self, springs: Springs, text: str) -> None:
        self.session.set_fields(text, {"springs": springs})

    def add_column(self, column: Column) -> None:
        """Add a height to type loads at."""
        self._keep((column,))
        self._show(self.session.state)

    def remove_column(self, column: Column) -> None:
        """Take a height out, with its readings."""
        self.extra = tuple(other for other in self.extra if not other.same(column))
        style = self.session.state.analysis.stated.style
        text = self.tr("remove the readings at {height}").format(
            height=" ".join(column.head(self.session.style).split())
        )
        self._store(without_column(self.session.job, column, style), text)
        self._show(self.session.state)

    def remove_rows(self, rows: set[int]) -> None:
        """Take springs out."""
        self._store(without_springs(self.session.job, rows), self.tr("remove %n spring(s)", "", len(rows)))

    def paste(self, top: int, left: int, block: list[list[str]], rows: list[int]) -> None:
        """Take a block from the clipboard, as one undo step; bad cells are kept as they are, and marked."""
        own = {
            " ".join(self.head(c).lower().split()): "" for c in range(self.columnCount()) if self.name_of(c) in COMPUTED
        }
        found = block_of(block, self.session.style, own)
        targets: list[Column | str | None] = list(found.targets or ())
        out = len(found.left_out)
        if found.targets is None:
            width = max(map(len, found.rows))
            last = len(HEADS) + len(self.columns)
            targets = [self.name_of(left + place) if left + place < last else None for place in range(width)]
            out = sum(bool(text) for row in found.rows for text in row[max(0, last - left) :])
        places: dict[Place, str] = {}
        for down, line in enumerate(found.rows):
            row = self._row_at(down, rows)
            if row >= self._count and not any(text for text, where in zip(line, targets, strict=False) if where):
                continue  # a blank row makes no spring
            places.update({(row, where): text for where, text in zip(targets, line, strict=False) if where})
        self._store(self._with(places), self.tr("paste %n cell(s)", "", len(places)))
        told = self.tr("%n cell(s) pasted.", "", len(places))
        self.told.emit(
            self.tr("{told} What stood past the last height was left out.").format(told=told) if out else told
        )

    def _row_at(self, down: int, rows: list[int]) -> int:
        """The spring that a row of the clipboard goes to: as they stand on show, then new ones."""
        known = [row for row in rows if row < self._count]
        return known[down] if down < len(known) else self._count + down - len(known)
