"""The grid of the match: cells are walked with the arrow keys, the chosen one framed so that its sign stays seen."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import QModelIndex, QPersistentModelIndex, QRect, QSize, Qt, Signal
from PySide6.QtGui import QKeyEvent, QKeySequence, QPainter, QPen
from PySide6.QtWidgets import (
    QAbstractItemView,
    QHeaderView,
    QStyle,
    QStyledItemDelegate,
    QStyleOptionViewItem,
    QTableView,
)
from typing_extensions import override

from ui.followers.match_model import HEAD_SHARE
from ui.followers.wording import tr
from ui.palette import colours
from ui.plots.ink import face, font

if TYPE_CHECKING:
    from ui.followers.match_model import MatchModel

FRAME = 2
LEAST = 25  # px: a cell is a target
TURNS = {Qt.Key.Key_PageDown: 1, Qt.Key.Key_PageUp: -1}


class CellDelegate(QStyledItemDelegate):
    """A frame says which cell is chosen: a fill would swallow the colour of its sign."""

    def __init__(self, grid: QTableView) -> None:
        super().__init__(grid)
        self._grid = grid

    @override
    def paint(
        self, painter: QPainter, option: QStyleOptionViewItem, index: QModelIndex | QPersistentModelIndex
    ) -> None:
        plain = QStyleOptionViewItem(option)
        state = plain.state
        chosen = bool(state & QStyle.StateFlag.State_Selected)
        plain.state = state & ~QStyle.StateFlag.State_Selected & ~QStyle.StateFlag.State_HasFocus
        if chosen:  # the table has filled it already
            painter.fillRect(option.rect, colours().colour("panel"))
        super().paint(painter, plain, index)
        if chosen:
            painter.save()
            focused = bool(state & QStyle.StateFlag.State_Active) and self._grid.hasFocus()
            pen = QPen(colours().colour("accent" if focused else "ink"), FRAME)
            pen.setJoinStyle(Qt.PenJoinStyle.MiterJoin)
            painter.setPen(pen)
            box: QRect = option.rect
            painter.drawRect(box.adjusted(1, 1, -FRAME + 1, -FRAME + 1))
            painter.restore()


class MatchGrid(QTableView):
    """Copy takes the whole table; Page Up and Page Down turn the reasons beneath."""

    copied = Signal()
    turned = Signal(int)

    def __init__(self, model: MatchModel) -> None:
        super().__init__()
        self.setModel(model)
        self.setObjectName("match_grid")
        self.setAccessibleName(tr("Match of follower families"))
        self.setAccessibleDescription(
            tr("Families across, criteria down. Arrow keys walk the cells, Page Down scrolls the reason beneath.")
        )
        self.setItemDelegate(CellDelegate(self))
        self.setSelectionMode(QAbstractItemView.SelectionMode.SingleSelection)
        self.setSelectionBehavior(QAbstractItemView.SelectionBehavior.SelectItems)
        self.setEditTriggers(QAbstractItemView.EditTrigger.NoEditTriggers)
        self.setTabKeyNavigation(False)
        self.setIconSize(QSize(14, 14))
        self.setFont(font(0.8))
        self.setWordWrap(False)
        self.setTextElideMode(Qt.TextElideMode.ElideNone)
        self._set_up_heads(model)

    def _set_up_heads(self, model: MatchModel) -> None:
        across, down, letters = self.horizontalHeader(), self.verticalHeader(), face(HEAD_SHARE)
        across.setSectionResizeMode(QHeaderView.ResizeMode.Stretch)
        across.setDefaultAlignment(Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignVCenter)
        across.setFixedHeight(round(model.head_lines() * letters.tall) + 12)
        across.setMinimumSectionSize(40)
        across.setHighlightSections(False)
        across.setSectionsClickable(False)
        down.setSectionResizeMode(QHeaderView.ResizeMode.Stretch)
        down.setMinimumSectionSize(max(LEAST, round(1.6 * letters.tall)))
        down.setHighlightSections(False)
        down.setSectionsClickable(False)

    @override
    def keyPressEvent(self, event: QKeyEvent) -> None:
        turn = TURNS.get(Qt.Key(event.key()))
        if event.matches(QKeySequence.StandardKey.Copy):
            self.copied.emit()
        elif turn is not None:
            self.turned.emit(turn)
        else:
            super().keyPressEvent(event)
