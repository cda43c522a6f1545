"""Every command with its keys, read from the commands themselves."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtWidgets import QDialog, QHeaderView, QTreeWidget, QTreeWidgetItem, QVBoxLayout

from ui.commands import commands_of, keys_told, plain_text

if TYPE_CHECKING:
    from ui.window import MainWindow


class KeyboardSheet(QDialog):
    """A table of commands, keys and what they do."""

    def __init__(self, window: MainWindow) -> None:
        super().__init__(window)
        self.setObjectName("keyboard_sheet")
        self.setWindowTitle(self.tr("Keyboard"))
        self.table = QTreeWidget()
        self.table.setAccessibleName(self.tr("Commands and their keys"))
        self.table.setHeaderLabels([self.tr("Command"), self.tr("Keys"), self.tr("What it does")])
        self.table.setRootIsDecorated(False)
        self.table.setUniformRowHeights(True)
        for action in commands_of(window):
            keys = keys_told(action)
            self.table.addTopLevelItem(QTreeWidgetItem([plain_text(action), keys or "–", action.statusTip()]))  # noqa: RUF001
        for more in self._within():
            self.table.addTopLevelItem(QTreeWidgetItem(list(more)))
        self.table.header().setSectionResizeMode(QHeaderView.ResizeMode.ResizeToContents)
        QVBoxLayout(self).addWidget(self.table)
        self.resize(820, 560)

    def _within(self) -> tuple[tuple[str, str, str], ...]:
        """Keys that mean something only where the focus is."""
        return (
            (self.tr("In a field"), self.tr("Enter"), self.tr("Take what was typed, as one step")),
            (self.tr("In a field"), self.tr("Esc"), self.tr("Back to what stood there")),
            (self.tr("In a field, on a line of the picture"), self.tr("Up, Down"), self.tr("One step; with Shift ten")),
            (self.tr("Anywhere"), self.tr("Tab, Shift+Tab"), self.tr("To the next or the previous place")),
            (self.tr("While work is under way"), self.tr("Esc"), self.tr("Cancel it")),
        )
