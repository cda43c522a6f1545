"""The list of findings over the page, where the window is too narrow for it: a count opens it, Esc closes it."""

from __future__ import annotations

from functools import partial
from typing import TYPE_CHECKING

from PySide6.QtCore import QEvent, QObject, QPoint, QRect, Qt, QTimer
from PySide6.QtGui import QKeyEvent, QKeySequence
from PySide6.QtWidgets import QApplication, QBoxLayout, QFrame, QHBoxLayout, QLabel, QPushButton, QVBoxLayout, QWidget
from typing_extensions import override

from loadbench.findings import Level
from ui.level_words import level_word

if TYPE_CHECKING:
    from ui.widgets.findings_panel import FindingsPanel

WIDTH, GAP = 380, 6
ENTER = (Qt.Key.Key_Return, Qt.Key.Key_Enter)


class Drawer(QFrame):
    """Holds the list of a folded panel; nothing of it is on show until a count is pressed."""

    def __init__(self, panel: FindingsPanel, parent: QWidget) -> None:
        super().__init__(parent)
        self.setObjectName("meaning_drawer")
        self.setAccessibleName(self.tr("What it means"))
        self.setAutoFillBackground(True)
        self.hide()
        self._panel = panel
        self._chips = panel.chips.chips
        self._tips = {level: chip.toolTip() for level, chip in self._chips.items()}
        self._has_list = False
        self._level: Level | None = None
        self.close_button = QPushButton(self.tr("Close"))
        self.close_button.setObjectName("close_drawer")
        self.close_button.setToolTip(self.tr("Close the list: Esc."))
        self.close_button.setAccessibleName(self.tr("Close the list of findings"))
        self.close_button.clicked.connect(self.shut)
        self._column = QVBoxLayout(self)
        self._column.setContentsMargins(10, 6, 6, 6)
        self._column.addLayout(self._head())
        for level, chip in self._chips.items():
            chip.installEventFilter(self)
            chip.pressed.connect(self._hold)
            chip.released.connect(self._let_go)
            chip.clicked.connect(partial(self._asked, level))
        QWidget.setTabOrder(list(self._chips.values())[-1], self.close_button)

    def _head(self) -> QHBoxLayout:
        name = QLabel(self.tr("What it means"))
        name.setProperty("role", "heading")
        head = QHBoxLayout()
        head.addWidget(name, 1)
        head.addWidget(self.close_button)
        return head

    # The list comes and goes with the fold

    def take_list(self) -> None:
        """Hold the list from now on: the panel is folded to its counts."""
        self._has_list = True
        self._column.addWidget(self._panel.scroller, 1)
        self._panel.scroller.show()
        for level, chip in self._chips.items():
            chip.setToolTip(self.tr("Open the list at: {level}").format(level=level_word(level)))

    def give_back(self) -> None:
        """Give the list back to the panel, which is about to unfold."""
        if not self._has_list:
            return
        self.shut()
        self._has_list = False
        column = self._panel.layout()
        if isinstance(column, QBoxLayout):
            column.addWidget(self._panel.scroller, 1)
        for level, chip in self._chips.items():
            chip.setToolTip(self._tips[level])

    # Opening and closing

    def _hold(self) -> None:
        """A press turns its switch for a moment: the list must not lose its entries, and the focus, over that."""
        self._panel.chips.blockSignals(self._has_list)

    def _let_go(self) -> None:
        self._panel.chips.blockSignals(False)

    def _asked(self, level: Level, _on: bool = False) -> None:
        """A count was pressed: open the list there; pressed again, close it."""
        if not self._has_list:
            return
        self._chips[level].setChecked(True)  # pressed to open, not to leave the level out
        self._panel.chips.filtered.emit()
        if self._level is level:
            self.shut()
        else:
            self.open_at(level)

    def open_at(self, level: Level) -> None:
        """Open the list and go to the first finding of a level."""
        if self._level is None:
            application = QApplication.instance()
            if isinstance(application, QApplication):
                application.focusChanged.connect(self._focus_moved)
        self._level = level
        self.show()
        self.place()
        self.raise_()
        entries = self._panel.entries()
        wanted = next((entry for entry in entries if entry.group.level is level), None)
        target: QWidget = wanted or (entries[0] if entries else self.close_button)
        target.setFocus(Qt.FocusReason.OtherFocusReason)
        QTimer.singleShot(0, self._reveal)  # once the list has its width

    def _reveal(self) -> None:
        focused = self.window().focusWidget()
        if focused is not None and self._panel.scroller.isAncestorOf(focused):
            self._panel.scroller.ensureWidgetVisible(focused, 0, 8)

    def shut(self) -> None:
        """Close the list; a focus within it goes back to the count that it came from."""
        if self._level is None:
            return
        chip, self._level = self._chips[self._level], None
        application = QApplication.instance()
        if isinstance(application, QApplication):
            application.focusChanged.disconnect(self._focus_moved)
        focused = self.window().focusWidget()
        if focused is not None and self.isAncestorOf(focused):
            chip.setFocus(Qt.FocusReason.OtherFocusReason)
        self.hide()

    def _focus_moved(self, _before: QWidget | None, now: QWidget | None) -> None:
        """Close where the focus goes on to the page: what has it must not lie beneath the list."""
        if now is None or now.window() is not self.window():
            return  # a dialog or another program: the list stays
        if not self.isAncestorOf(now) and now not in self._chips.values():
            self.shut()

    def place(self) -> None:
        """Beside the counts, over the page, as tall as they are."""
        shell = self.parentWidget()
        if self._level is None or shell is None:
            return
        counts = QRect(self._panel.mapTo(shell, QPoint(0, 0)), self._panel.size())
        on_right = counts.center().x() > shell.width() / 2  # on the left where the language runs that way
        width = min(WIDTH, (counts.left() if on_right else shell.width() - counts.right()) - GAP)
        left = counts.left() - GAP - width if on_right else counts.right() + GAP
        self.setGeometry(left, counts.top(), width, counts.height())

    # Keys

    @override
    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        """Enter on a count opens the list as Space does, Esc on it closes it."""
        if not self._has_list or event.type() is not QEvent.Type.KeyPress or not isinstance(event, QKeyEvent):
            return False
        if event.key() in ENTER:
            next(chip for chip in self._chips.values() if chip is watched).click()
            return True
        if self._level is not None and event.matches(QKeySequence.StandardKey.Cancel):
            self.shut()
            return True
        return False

    @override
    def keyPressEvent(self, event: QKeyEvent) -> None:
        if event.matches(QKeySequence.StandardKey.Cancel):
            self.shut()
            return
        super().keyPressEvent(event)
