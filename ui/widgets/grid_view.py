"""A table worked by the keyboard: type ahead, Enter edits and moves on, Delete clears, copy and paste."""

from __future__ import annotations

from typing import TYPE_CHECKING, Protocol, cast

from PySide6.QtCore import QAbstractItemModel, QAbstractProxyModel, QEvent, QModelIndex, QPersistentModelIndex, Qt
from PySide6.QtGui import QGuiApplication, QKeyEvent, QKeySequence
from PySide6.QtWidgets import (
    QAbstractItemDelegate,
    QAbstractItemView,
    QLineEdit,
    QStyledItemDelegate,
    QStyleOptionViewItem,
    QTableView,
    QWidget,
)
from typing_extensions import override

from ui.clipboard_table import cells_of, text_of

if TYPE_CHECKING:
    from ui.session import Session

Index = QModelIndex | QPersistentModelIndex
Cells = dict[tuple[int, int], str]
KEYS = QKeySequence.StandardKey


class Sheet(Protocol):
    """What a model under a GridView can do besides."""

    def set_cells(self, cells: Cells, text: str) -> None:
        """Set several cells as one undo step; rows past the end are added."""
        ...

    def paste(self, top: int, left: int, block: list[list[str]], rows: list[int]) -> None:
        """Take a block from the clipboard; `rows` are the rows on show from the current one on."""
        ...


class CellDelegate(QStyledItemDelegate):
    """Edits a cell as text, all of it selected."""

    @override
    def createEditor(self, parent: QWidget, option: QStyleOptionViewItem, index: Index) -> QWidget:
        editor = QLineEdit(parent)
        editor.setObjectName("cell_editor")
        editor.setAccessibleName(
            str(index.data(Qt.ItemDataRole.AccessibleTextRole) or index.data(Qt.ItemDataRole.DisplayRole) or "")
        )
        editor.setFrame(False)
        return editor

    @override
    def setEditorData(self, editor: QWidget, index: Index) -> None:
        if isinstance(editor, QLineEdit):
            editor.setText(str(index.data(Qt.ItemDataRole.EditRole) or ""))
            editor.selectAll()

    @override
    def setModelData(self, editor: QWidget, model: QAbstractItemModel, index: Index) -> None:
        if isinstance(editor, QLineEdit):
            model.setData(index, editor.text(), Qt.ItemDataRole.EditRole)


class GridView(QTableView):
    """A table of typed entries. `down`: Enter moves down, else right."""

    def __init__(self, session: Session, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.session = session
        self.down = True
        self.setItemDelegate(CellDelegate(self))
        self.setTabKeyNavigation(False)  # Tab leaves the table; in an open editor it goes to the next cell
        self.setSelectionMode(QAbstractItemView.SelectionMode.ContiguousSelection)
        triggers = QAbstractItemView.EditTrigger
        self.setEditTriggers(
            triggers.AnyKeyPressed | triggers.DoubleClicked | triggers.EditKeyPressed | triggers.SelectedClicked
        )
        self.setHorizontalScrollMode(QAbstractItemView.ScrollMode.ScrollPerPixel)
        self.setWordWrap(False)

    @property
    def sheet(self) -> Sheet:
        """The model that holds the cells, beneath any sorting."""
        model = self.model()
        return cast("Sheet", model.sourceModel() if isinstance(model, QAbstractProxyModel) else model)

    def _source(self, index: QModelIndex) -> QModelIndex:
        model = self.model()
        return model.mapToSource(index) if isinstance(model, QAbstractProxyModel) else index

    # Moving

    @override
    def closeEditor(self, editor: QWidget, hint: QAbstractItemDelegate.EndEditHint) -> None:
        current = QPersistentModelIndex(self.currentIndex())
        super().closeEditor(editor, hint)
        if hint is QAbstractItemDelegate.EndEditHint.SubmitModelCache:
            self._move_on(current)

    def _move_on(self, index: Index) -> None:
        row, column = index.row() + self.down, index.column() + (not self.down)
        target = self.model().index(row, column)
        if target.isValid():
            self.setCurrentIndex(target)

    @override
    def event(self, event: QEvent) -> bool:
        """Keys of the table go before the window's own of the same name."""
        own = (KEYS.Copy, KEYS.Cut, KEYS.Paste, KEYS.SelectAll, KEYS.Delete)
        if (
            event.type() is QEvent.Type.ShortcutOverride
            and isinstance(event, QKeyEvent)
            and any(map(event.matches, own))
        ):
            event.accept()
            return True
        return super().event(event)

    @override
    def keyPressEvent(self, event: QKeyEvent) -> None:
        editing = self.state() is QAbstractItemView.State.EditingState
        actions = {
            KEYS.Copy: self.copy,
            KEYS.Cut: self.cut,
            KEYS.Paste: self.paste,
            KEYS.Undo: self.session.undo_stack.undo,
            KEYS.Redo: self.session.undo_stack.redo,
        }
        act = next((act for key, act in actions.items() if event.matches(key)), None)
        if act is not None:
            act()
        elif event.key() in (Qt.Key.Key_Delete, Qt.Key.Key_Backspace):
            self.clear_cells()
        elif event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter) and not editing:
            if self.currentIndex().flags() & Qt.ItemFlag.ItemIsEditable:
                self.edit(self.currentIndex())
            else:
                self._move_on(self.currentIndex())
        else:
            super().keyPressEvent(event)

    # Blocks of cells

    def _chosen(self) -> list[QModelIndex]:
        chosen = sorted(self.selectedIndexes(), key=lambda index: (index.row(), index.column()))
        return chosen or ([self.currentIndex()] if self.currentIndex().isValid() else [])

    def copy(self) -> None:
        """The chosen cells as tab separated text, with their column heads where more than one cell is chosen."""
        chosen = self._chosen()
        if not chosen:
            return
        model, role = self.model(), Qt.ItemDataRole
        columns = sorted({index.column() for index in chosen})
        rows = [
            [str(model.index(row, column).data(role.DisplayRole) or "") for column in columns]
            for row in sorted({index.row() for index in chosen})
        ]
        if len(chosen) > 1:
            heads = [model.headerData(column, Qt.Orientation.Horizontal) for column in columns]
            rows.insert(0, [" ".join(str(head).split()) for head in heads])
        QGuiApplication.clipboard().setText(text_of(rows) if len(chosen) > 1 else rows[0][0])
        self.session.announce(self.tr("%n cell(s) copied.", "", len(chosen)))

    def cut(self) -> None:
        """Copy, then clear."""
        self.copy()
        self.clear_cells()

    def clear_cells(self) -> None:
        """Empty the chosen cells, as one undo step."""
        cells: Cells = {}
        for index in self._chosen():
            if index.flags() & Qt.ItemFlag.ItemIsEditable:
                source = self._source(index)
                cells[source.row(), source.column()] = ""
        if cells:
            self.sheet.set_cells(cells, self.tr("clear %n cell(s)", "", len(cells)))

    def paste(self) -> None:
        """The clipboard's cells from the current cell on, as one undo step."""
        block = cells_of(QGuiApplication.clipboard().text())
        current = self.currentIndex() if self.currentIndex().isValid() else self.model().index(0, 0)
        chosen = self._chosen()
        if chosen:
            current = chosen[0]
        if not block or not current.isValid():
            return
        shown = range(current.row(), self.model().rowCount())
        rows = [self._source(self.model().index(row, current.column())).row() for row in shown]
        self.sheet.paste(rows[0], current.column(), block, rows)
