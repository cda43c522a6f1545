"""The springs of a search as a table: a row each, units in the heads, every column sorts."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import Any

from PySide6.QtCore import QAbstractTableModel, QModelIndex, QObject, QPersistentModelIndex, Qt
from typing_extensions import override

from loadbench.assembly.spring_wanted import PLACES
from loadbench.spring.wanted import Candidate
from loadbench.units import Kind, Style, display_unit, tell, to_display
from ui.plain_tip import plain_tip
from ui.spring.search_tips import more_of
from ui.spring.wording import tr
from ui.widgets.key_figures import DASH

Index = QModelIndex | QPersistentModelIndex
Role = Qt.ItemDataRole
RIGHT = int(Qt.AlignmentFlag.AlignVCenter | Qt.AlignmentFlag.AlignRight)


@dataclass(frozen=True, slots=True, kw_only=True)
class Column:
    """A column: its head, the unit beneath, what it sorts by and what stands in a cell."""

    key: str
    head: str
    tip: str
    kind: Kind | None
    value: Callable[[Candidate], float | None]
    text: Callable[[Candidate, Style], str]
    plain_unit: str = ""

    def tip_of(self, spring: Candidate, style: Style) -> str:
        """What the column holds, and what else is known of this spring."""
        return f"{self.tip} {more_of(self.key, spring, style)}".rstrip()

    def unit(self, style: Style) -> str:
        """The unit on show; "" for a plain number."""
        return self.plain_unit if self.kind is None else display_unit(self.kind, style)

    def title(self, style: Style) -> str:
        """Head and unit on one line."""
        unit = self.unit(style)
        return f"{self.head.replace(chr(10), ' ')}, {unit}" if unit else self.head.replace("\n", " ")


def columns() -> tuple[Column, ...]:
    """The columns, with their words in the user's language."""
    length = Kind.LENGTH
    return (
        _wire(),
        _told("mean_diameter", tr("Mean\ndiameter"), length, tr("Mean diameter of the coil, between wire centres.")),
        _told("outer_diameter", tr("Outer\ndiameter"), length, tr("Outer diameter of the coil.")),
        _told("inner_diameter", tr("Inner\ndiameter"), length, tr("Inner diameter of the coil.")),
        _number("active_coils", tr("Active\ncoils"), 2, tr("Turns that work.")),
        _number("total_coils", tr("Total\ncoils"), 2, tr("Turns in all, ends closed and ground.")),
        _told("free_height", tr("Free\nheight"), length, tr("Height without load.")),
        _told("bind_height", tr("Bind\nheight"), length, tr("Height with all turns on each other.")),
        _told("bind_margin", tr("To\nbind"), length, tr("What is left to bind at full net lift.")),
        _number("spring_index", tr("Spring\nindex"), 2, tr("Mean diameter over wire diameter.")),
        _stress("open", tr("Stress\nopen")),
        _share("open", tr("Share\nopen")),
        _stress("bind", tr("Stress\nat bind")),
        _share("bind", tr("Share\nat bind")),
        _number("fatigue_factor_goodman", tr("Fatigue\nGoodman"), 2, tr("Fatigue factor by Goodman, closed to open.")),
        _told("surge_frequency", tr("Surge\nfirst mode"), Kind.FREQUENCY, tr("First mode, both ends held.")),
        _told("wire_mass", tr("Mass"), Kind.MASS, tr("Of the whole spring.")),
    )


def _value(name: str) -> Callable[[Candidate], float | None]:
    return lambda spring: getattr(spring, name)


def _told(name: str, head: str, kind: Kind, tip: str) -> Column:
    def text(spring: Candidate, style: Style) -> str:
        return tell(getattr(spring, name), kind, style).number

    return Column(key=name, head=head, tip=tip, kind=kind, value=_value(name), text=text)


def _wire() -> Column:
    """A stock size keeps the digits that make it one, whichever units are on show."""

    def text(spring: Candidate, style: Style) -> str:
        return f"{to_display(spring.wire_diameter, Kind.LENGTH, style):.{PLACES[style]}f}"

    name, tip = "wire_diameter", tr("Diameter of the stock wire.")
    return Column(key=name, head=tr("Wire"), tip=tip, kind=Kind.LENGTH, value=_value(name), text=text)


def _number(name: str, head: str, places: int, tip: str) -> Column:
    def text(spring: Candidate, _style: Style) -> str:
        value = getattr(spring, name)
        return DASH if value is None else f"{value:.{places}f}"

    return Column(key=name, head=head, tip=tip, kind=None, value=_value(name), text=text)


def _stress(where: str, head: str) -> Column:
    tip = tr("Stress corrected by Wahl.")
    return _told(f"shear_stress_{where}", head, Kind.STRESS, tip)


def _share(where: str, head: str) -> Column:
    def text(spring: Candidate, _style: Style) -> str:
        return f"{100 * getattr(spring, name):.1f}"

    name, tip = f"stress_share_{where}", tr("Stress corrected by Wahl as a share of the wire's tensile strength.")
    return Column(key=name, head=head, tip=tip, plain_unit="%", kind=None, value=_value(name), text=text)


class SpringsModel(QAbstractTableModel):
    """The springs, best first until a head is pressed."""

    def __init__(self, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self.columns = columns()
        self.springs: tuple[Candidate, ...] = ()
        self.style = Style.INCH_POUND
        self._best: tuple[Candidate, ...] = ()
        self._by: tuple[int, Qt.SortOrder] | None = None

    def show_springs(self, springs: tuple[Candidate, ...], style: Style) -> None:
        """Show these, in the order chosen before."""
        if springs == self._best and style is self.style:
            return
        self.beginResetModel()
        self._best, self.style = springs, style
        self.springs = self._sorted()
        self.endResetModel()

    def rank(self, row: int) -> int:
        """The place of a row's spring among the best, from 1."""
        return 1 + next(place for place, each in enumerate(self._best) if each is self.springs[row])

    def _sorted(self) -> tuple[Candidate, ...]:
        if self._by is None:
            return self._best
        column, order = self._by
        value, down = self.columns[column].value, order is Qt.SortOrder.DescendingOrder
        known = [each for each in self._best if value(each) is not None]
        unknown = [each for each in self._best if value(each) is None]  # last, whichever way
        return (*sorted(known, key=lambda each: value(each) or 0.0, reverse=down), *unknown)

    @override
    def sort(self, column: int, order: Qt.SortOrder = Qt.SortOrder.AscendingOrder) -> None:
        """Order by a column; a column below zero: best first."""
        self._by = None if column < 0 else (column, order)
        self.layoutAboutToBeChanged.emit()
        before = self.persistentIndexList()
        held = [(self.springs[index.row()], index.column()) for index in before]
        self.springs = self._sorted()
        rows = {id(each): row for row, each in enumerate(self.springs)}
        self.changePersistentIndexList(before, [self.index(rows[id(each)], at) for each, at in held])
        self.layoutChanged.emit()

    @override
    def rowCount(self, parent: Index = QModelIndex()) -> int:  # noqa: B008 - Qt's own signature
        return 0 if parent.isValid() else len(self.springs)

    @override
    def columnCount(self, parent: Index = QModelIndex()) -> int:  # noqa: B008
        return 0 if parent.isValid() else len(self.columns)

    @override
    def headerData(self, section: int, orientation: Qt.Orientation, role: int = Role.DisplayRole) -> Any:
        if orientation is Qt.Orientation.Vertical:
            return str(self.rank(section)) if role == Role.DisplayRole else None
        column = self.columns[section]
        if role == Role.TextAlignmentRole:
            return RIGHT
        if role == Role.DisplayRole:
            return "\n".join(filter(None, (column.head, column.unit(self.style))))
        if role == Role.ToolTipRole:
            return plain_tip(column.tip)
        return column.title(self.style) if role == Role.AccessibleTextRole else None

    @override
    def data(self, index: Index, role: int = Role.DisplayRole) -> Any:
        if not index.isValid():
            return None
        column, spring = self.columns[index.column()], self.springs[index.row()]
        if role == Role.DisplayRole:
            return column.text(spring, self.style)
        if role == Role.TextAlignmentRole:
            return RIGHT
        if role == Role.AccessibleTextRole:
            return f"{column.title(self.style)}: {column.text(spring, self.style)}"
        return plain_tip(column.tip_of(spring, self.style)) if role == Role.ToolTipRole else None

    def cells(self, rows: list[int]) -> list[list[str]]:
        """Heads with their units, and these rows, as cells of text."""
        heads = [tr("Rank"), *(column.title(self.style) for column in self.columns)]
        return [heads] + [
            [str(self.rank(row)), *(column.text(self.springs[row], self.style) for column in self.columns)]
            for row in rows
        ]
