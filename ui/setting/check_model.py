"""The check list as a table: what to do, what the job says of it, and places for initials and date."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from typing import TYPE_CHECKING, Any

from PySide6.QtCore import QAbstractTableModel, QModelIndex, QObject, QPersistentModelIndex, Qt, Signal
from PySide6.QtGui import QFont
from typing_extensions import override

from ui.icons import level_icon
from ui.level_words import level_word, source_words
from ui.palette import colours
from ui.plain_tip import plain_tip
from ui.setting.wording import tr

if TYPE_CHECKING:
    from collections.abc import Mapping

    from loadbench.findings.check_items import CheckItem
    from loadbench.job.model import Job
    from ui.session import Session
    from ui.widgets.grid_view import Cells

Index = QModelIndex | QPersistentModelIndex
Role = Qt.ItemDataRole
NOTHING = QModelIndex()
COLUMNS = ("do", "found", "initials", "date")
TYPED = ("initials", "date")
MOST = 40  # letters of an entry


@dataclass(frozen=True, slots=True)
class CheckRow:
    """A heading, or an item beneath it."""

    heading: str
    item: CheckItem | None = None


def rows_of(items: tuple[CheckItem, ...]) -> tuple[CheckRow, ...]:
    """The items under their groups."""
    rows: list[CheckRow] = []
    for item in items:
        if not rows or rows[-1].heading != item.group:
            rows.append(CheckRow(item.group))
        rows.append(CheckRow(item.group, item))
    return tuple(rows)


def with_checks(job: Job, cells: Mapping[tuple[str, str], str], today: str) -> tuple[dict[str, Any], ...]:
    """The job's check list with some cells set.

    Args:
        job: the job before.
        cells: texts by item and "initials" or "date"; "" clears.
        today: the date that initials get where none stands there.

    Returns:
        The whole list; an item with neither is left out.
    """
    kept = {str(each.item): each.model_dump() for each in job.check_list}
    for (item, column), text in cells.items():
        entry = kept.setdefault(item, {"item": item, "initials": None, "date": None})
        entry[column] = text.strip()[:MOST] or None
        if column == "initials":
            stated = cells.get((item, "date"))
            entry["date"] = (entry["date"] or today if stated is None else stated) if entry["initials"] else None
    return tuple(each for each in kept.values() if each["initials"] or each["date"])


class CheckModel(QAbstractTableModel):
    """Owns no entry: what is typed goes to the session."""

    told = Signal(str)

    def __init__(self, session: Session, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self.session = session
        self.rows: tuple[CheckRow, ...] = ()

    def show_items(self, items: tuple[CheckItem, ...]) -> bool:
        """Show these; whether other items stand there than before."""
        rows = rows_of(items)
        same = [_key(each) for each in rows] == [_key(each) for each in self.rows]
        if same:
            changed = rows != self.rows
            self.rows = rows
            if changed and rows:
                self.dataChanged.emit(self.index(0, 0), self.index(len(rows) - 1, len(COLUMNS) - 1))
            return changed
        self.beginResetModel()
        self.rows = rows
        self.endResetModel()
        return True

    def item(self, row: int) -> CheckItem | None:
        """The item of a row; None for a heading."""
        return self.rows[row].item if 0 <= row < len(self.rows) else None

    # Qt's questions

    @override
    def rowCount(self, parent: Index = NOTHING) -> int:
        return 0 if parent.isValid() else len(self.rows)

    @override
    def columnCount(self, parent: Index = NOTHING) -> int:
        return 0 if parent.isValid() else len(COLUMNS)

    @override
    def flags(self, index: Index) -> Qt.ItemFlag:
        if self.item(index.row()) is None:
            return Qt.ItemFlag.ItemIsEnabled
        flags = Qt.ItemFlag.ItemIsSelectable | Qt.ItemFlag.ItemIsEnabled
        return flags | Qt.ItemFlag.ItemIsEditable if COLUMNS[index.column()] in TYPED else flags

    @override
    def headerData(self, section: int, orientation: Qt.Orientation, role: int = Role.DisplayRole) -> Any:
        if orientation is not Qt.Orientation.Horizontal or role != Role.DisplayRole:
            return None
        return head_of(COLUMNS[section])

    @override
    def data(self, index: Index, role: int = Role.DisplayRole) -> Any:
        row, column = index.row(), COLUMNS[index.column()]
        item = self.item(row)
        if role in (Role.DisplayRole, Role.EditRole):
            return self.text(row, column)
        if role == Role.TextAlignmentRole:
            return int(Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignVCenter)
        return _heading_look(role) if item is None else self._item_look(item, row, column, role)

    def _item_look(self, item: CheckItem, row: int, column: str, role: int) -> Any:
        if role == Role.DecorationRole and column == "found" and item.level is not None:
            return level_icon(item.level)
        if role == Role.ToolTipRole:
            return plain_tip(tr("Source: {source}").format(source=source_words(item.source)))
        return self._spoken(item, row, column) if role == Role.AccessibleTextRole else None

    def _spoken(self, item: CheckItem, row: int, column: str) -> str:
        text = self.text(row, column) or tr("empty")
        if column in TYPED:
            return f"{head_of(column)}: {text}. {item.sentence.told(self.session.style)}"
        return f"{head_of(column)}: {text}"

    def text(self, row: int, column: str) -> str:
        """A cell as it is shown."""
        each, style = self.rows[row], self.session.style
        if each.item is None:
            return each.heading if column == "do" else ""
        if column == "do":
            return each.item.sentence.told(style)
        if column == "found":
            found = each.item.found.told(style) if each.item.found is not None else ""
            return f"{level_word(each.item.level)}: {found}" if each.item.level is not None else found
        return each.item.initials if column == "initials" else each.item.date

    # Edits

    @override
    def setData(self, index: Index, value: Any, role: int = Role.EditRole) -> bool:
        item, column = self.item(index.row()), COLUMNS[index.column()]
        if role != Role.EditRole or item is None or str(value).strip() == self.text(index.row(), column):
            return False
        title = tr("initial the check list") if column == "initials" else tr("date the check list")
        self._store({(item.id, column): str(value)}, title)
        return True

    def _store(self, cells: dict[tuple[str, str], str], title: str) -> None:
        kept = with_checks(self.session.job, cells, date.today().isoformat())
        self.session.set_fields(title, {"check_list": kept})

    def set_cells(self, cells: Cells, text: str) -> None:
        """Set several cells as one undo step."""
        found = {
            (item.id, COLUMNS[column]): typed
            for (row, column), typed in cells.items()
            if (item := self.item(row)) is not None and COLUMNS[column] in TYPED
        }
        if found:
            self._store(found, text)

    def paste(self, top: int, left: int, block: list[list[str]], rows: list[int]) -> None:
        """Take a block from the clipboard over initials and dates, as one undo step."""
        items = [item for row in rows if (item := self.item(row)) is not None]
        cells: dict[tuple[str, str], str] = {}
        for item, line in zip(items, block, strict=False):
            for column, text in zip(COLUMNS[left:], line, strict=False):
                if column in TYPED and text:
                    cells[item.id, column] = text
        if cells:
            self._store(cells, self.tr("paste %n cell(s)", "", len(cells)))
        self.told.emit(self.tr("%n cell(s) pasted.", "", len(cells)))


def _key(row: CheckRow) -> str:
    return row.item.id if row.item is not None else row.heading


def _heading_look(role: int) -> Any:
    if role == Role.FontRole:
        font = QFont()
        font.setBold(True)
        return font
    return colours().colour("page") if role == Role.BackgroundRole else None


def head_of(column: str) -> str:
    """A column's head."""
    heads = {
        "do": tr("What to do or look at"),
        "found": tr("What this job says"),
        "initials": tr("Initials"),
        "date": tr("Date"),
    }
    return heads[column]
