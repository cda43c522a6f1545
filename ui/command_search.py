"""One place to find anything by its name: commands with their keys, fields of the job, rules of the book."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from functools import partial
from typing import TYPE_CHECKING

from PySide6.QtCore import QEvent, QObject, Qt
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QDialog, QLabel, QLineEdit, QTreeWidget, QTreeWidgetItem, QVBoxLayout, QWidget
from typing_extensions import override

from loadbench.findings.rulebook import program_rules
from ui.commands import commands_of, keys_told, plain_text
from ui.fuzzy import NO_FIT, fit
from ui.going import go_to

if TYPE_CHECKING:
    from ui.window import MainWindow

MOST = 60
_RUN = Qt.ItemDataRole.UserRole


@dataclass(frozen=True, slots=True, kw_only=True)
class Entry:
    """Something that can be found: its name, what sort of thing it is, its keys, and how to get there."""

    name: str
    sort: str
    keys: str
    run: Callable[[], object]


class CommandSearch(QDialog):
    """Type, choose with the arrows, Enter."""

    def __init__(self, window: MainWindow) -> None:
        super().__init__(window)
        self.setObjectName("command_search")
        self.setWindowTitle(self.tr("Find command, field or rule"))
        self._window = window
        self._entries = tuple(self._all())
        self.line = QLineEdit()
        self.line.setObjectName("search_text")
        self.line.setAccessibleName(self.tr("Name of a command, field or rule"))
        self.line.setPlaceholderText(self.tr("e.g. undo, installed height, bind"))
        self.line.textChanged.connect(self._show)
        self.line.installEventFilter(self)
        self.list = QTreeWidget()
        self.list.setAccessibleName(self.tr("What was found"))
        self.list.setHeaderHidden(True)
        self.list.setColumnCount(3)
        self.list.setRootIsDecorated(False)
        self.list.setUniformRowHeights(True)
        self.list.itemActivated.connect(self._go)
        self._none = QLabel(self.tr("Nothing has that name."))
        self._none.setProperty("role", "quiet")
        column = QVBoxLayout(self)
        for widget in (self.line, self.list, self._none):
            column.addWidget(widget)
        self.resize(560, 420)
        self._show("")
        self.line.setFocus()

    # What there is

    def _all(self) -> Iterator[Entry]:
        for action in commands_of(self._window):
            if action.isEnabled():
                keys = keys_told(action)
                yield Entry(name=plain_text(action), sort=self.tr("command"), keys=keys, run=action.trigger)
        yield from self._fields()
        for rule in program_rules().values():
            go = partial(self._window.show_rule_book, rule.id)
            yield Entry(name=rule.title, sort=self.tr("rule"), keys="", run=go)

    def _fields(self) -> Iterator[Entry]:
        seen: set[str] = set()
        for widget in self._window.shell.findChildren(QWidget):
            field = widget.property("field")
            name = widget.accessibleName()
            if (
                not isinstance(field, str)
                or not name
                or field in seen
                or widget.focusPolicy() is Qt.FocusPolicy.NoFocus
            ):
                continue
            seen.add(field)
            yield Entry(name=name, sort=self.tr("field"), keys="", run=partial(go_to, self._window, widget))

    def found(self, pattern: str) -> list[Entry]:
        """What fits a pattern, the best first; all of it for an empty one."""
        scored = [(fit(pattern, entry.name), entry) for entry in self._entries]
        fitting = [(score, entry) for score, entry in scored if score != NO_FIT]
        return [entry for _, entry in sorted(fitting, key=lambda pair: -pair[0])][:MOST]

    # Choosing

    def _show(self, pattern: str) -> None:
        self.list.clear()
        for entry in self.found(pattern):
            item = QTreeWidgetItem([entry.name, entry.sort, entry.keys])
            item.setData(0, _RUN, entry.run)
            self.list.addTopLevelItem(item)
        self._none.setVisible(self.list.topLevelItemCount() == 0)
        self._choose(0)
        self.list.setColumnWidth(0, 320)

    def _go(self, item: QTreeWidgetItem) -> None:
        run = item.data(0, _RUN)
        self.accept()
        run()

    @override
    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        if watched is self.line and isinstance(event, QKeyEvent) and event.type() is QEvent.Type.KeyPress:
            step = {Qt.Key.Key_Down: 1, Qt.Key.Key_Up: -1, Qt.Key.Key_PageDown: 10, Qt.Key.Key_PageUp: -10}.get(
                Qt.Key(event.key()), 0
            )
            if step:
                self._move(step)
                return True
            if event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
                item = self.list.currentItem()
                if item is not None:
                    self._go(item)
                return True
        return super().eventFilter(watched, event)

    def _move(self, step: int) -> None:
        self._choose(self.list.indexOfTopLevelItem(self.list.currentItem()) + step)

    def _choose(self, row: int) -> None:
        item = self.list.topLevelItem(max(0, min(self.list.topLevelItemCount() - 1, row)))
        if item is not None:
            self.list.setCurrentItem(item)
