"""The model and the cell under the coil table."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from PySide6.QtCore import QAbstractTableModel, QModelIndex, QPersistentModelIndex, QRect, Qt
from PySide6.QtGui import QFont, QFontMetrics
from PySide6.QtWidgets import QApplication, QStyle, QStyledItemDelegate, QStyleOptionViewItem
from typing_extensions import override

from ui.palette import colours
from ui.plain_tip import plain_tip
from ui.spring.coil_rows import NOTHING, Cell, Figures, Row
from ui.spring.wording import tr
from ui.widgets.key_figures import DASH

if TYPE_CHECKING:
    from PySide6.QtGui import QPainter
    from PySide6.QtWidgets import QWidget

Index = QModelIndex | QPersistentModelIndex
Role = Qt.ItemDataRole
CELL = Role.UserRole
PAD, GAP, SMALL = 7, 4, 0.88
RIGHT = int(Qt.AlignmentFlag.AlignVCenter | Qt.AlignmentFlag.AlignRight)


class CoilModel(QAbstractTableModel):
    """Label, a column for each coil, a note; cells that did not change are not painted anew."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.figures = NOTHING
        self._bold = QFont()

    def show_figures(self, figures: Figures) -> bool:
        """Show these; whether rows or columns are others than before."""
        before, self.figures = self.figures, figures
        if before == figures:
            return False
        names = [[row.name for row in each.rows] for each in (before, figures)]
        if before.coils != figures.coils or names[0] != names[1]:
            self.beginResetModel()
            self.endResetModel()
            return True
        for place, (old, new) in enumerate(zip(before.rows, figures.rows, strict=True)):
            if old != new:
                self.dataChanged.emit(self.index(place, 0), self.index(place, self.columnCount() - 1))
        return False

    @override
    def rowCount(self, parent: Index = QModelIndex()) -> int:  # noqa: B008 - Qt's own signature
        return 0 if parent.isValid() else len(self.figures.rows)

    @override
    def columnCount(self, parent: Index = QModelIndex()) -> int:  # noqa: B008
        return 0 if parent.isValid() or not self.figures.coils else len(self.figures.coils) + 2

    @override
    def headerData(self, section: int, orientation: Qt.Orientation, role: int = Role.DisplayRole) -> Any:
        if orientation is not Qt.Orientation.Horizontal:
            return None
        if role == Role.TextAlignmentRole:
            value = 0 < section <= len(self.figures.coils)
            return RIGHT if value else int(Qt.AlignmentFlag.AlignVCenter | Qt.AlignmentFlag.AlignLeft)
        heads = (tr("Figure"), *self.figures.coils, tr("Note"))
        return heads[section] if role == Role.DisplayRole and section < len(heads) else None

    @override
    def flags(self, index: Index) -> Qt.ItemFlag:
        if self.figures.rows[index.row()].heading:
            return Qt.ItemFlag.ItemIsEnabled
        return Qt.ItemFlag.ItemIsEnabled | Qt.ItemFlag.ItemIsSelectable

    @override
    def data(self, index: Index, role: int = Role.DisplayRole) -> Any:
        row, column = self.figures.rows[index.row()], index.column()
        if row.heading:
            return self._heading(row, column, role)
        cell = row.cells[column - 1] if 0 < column <= len(row.cells) else None
        if role == CELL:
            return cell
        if role == Role.TextAlignmentRole:
            return RIGHT if cell is not None else None
        tell = {Role.DisplayRole: self._text, Role.ToolTipRole: self._tip, Role.AccessibleTextRole: self._spoken}
        found = tell.get(Role(role))
        return None if found is None else found(row, cell, column)

    def _heading(self, row: Row, column: int, role: int) -> Any:
        if role == Role.FontRole:
            font = QFont(QApplication.font())
            font.setBold(True)
            return font
        return row.label if column == 0 and role in (Role.DisplayRole, Role.AccessibleTextRole) else None

    def _text(self, row: Row, cell: Cell | None, column: int) -> str:
        return cell.text if cell is not None else row.label if column == 0 else row.note

    def _tip(self, row: Row, cell: Cell | None, _column: int) -> str:
        why = cell.waits_for if cell is not None else ""
        parts = (f"{row.label}:", why or row.note, tr("Enter or a double click opens the formula."))
        return plain_tip(" ".join(part if part.endswith((":", ".")) else f"{part}." for part in parts if part))

    def _spoken(self, row: Row, cell: Cell | None, column: int) -> str:
        if cell is None:
            return row.label if column == 0 else row.note
        return f"{row.label}, {self.figures.coils[column - 1]}: {cell.spoken}"


class FigureCell(QStyledItemDelegate):
    """Paints a value with its unit and uncertainty smaller and quiet; a dash where it cannot be had."""

    @override
    def paint(self, painter: QPainter, option: QStyleOptionViewItem, index: Index) -> None:
        cell = index.data(CELL)
        if not isinstance(cell, Cell):
            super().paint(painter, option, index)
            return
        self.initStyleOption(option, index)
        option.text = ""
        rect: QRect = option.rect
        chosen = bool(option.state & QStyle.StateFlag.State_Selected)
        widget = option.widget
        widget.style().drawControl(QStyle.ControlElement.CE_ItemViewItem, option, painter, widget)
        painter.save()
        right = rect.right() - PAD
        for text, font, role in reversed(parts_of(cell, option.font)):
            wide = QFontMetrics(font).horizontalAdvance(text)
            painter.setFont(font)
            painter.setPen(colours().colour("on_accent" if chosen else role))
            painter.drawText(QRect(right - wide, rect.top(), wide + 1, rect.height()), RIGHT, text)
            right -= wide + GAP
        painter.restore()


def parts_of(cell: Cell, font: QFont) -> list[tuple[str, QFont, str]]:
    """Number, uncertainty and unit, each with its font and role."""
    value = cell.told
    if value is None:
        return [(DASH, font, "unknown")]
    small = QFont(font)
    small.setPointSizeF(font.pointSizeF() * SMALL)
    parts = [(value.number, font, "ink")]
    if value.uncertainty:
        parts.append((f"\u00b1\u2009{value.uncertainty}", small, "quiet"))
    return [*parts, (value.unit, small, "quiet")] if value.unit else parts


def needed_width(cell: Cell, font: QFont) -> int:
    """How wide a cell must be."""
    return sum(QFontMetrics(each).horizontalAdvance(text) + GAP for text, each, _ in parts_of(cell, font)) + 2 * PAD
