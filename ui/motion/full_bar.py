"""The choice of the full sweep: what it is doing, what it waits for, and a button to stop it or to work it out anew."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import QSignalBlocker, Qt, QTimer, Signal
from PySide6.QtGui import QKeySequence, QShortcut
from PySide6.QtWidgets import QLabel, QProgressBar, QPushButton, QSizePolicy, QToolButton, QWidget

from ui.labels import label_of
from ui.motion.sweep_work import SHOW_AFTER_MS
from ui.widgets.flow_bar import FlowBar
from ui.widgets.waiting_page import within

if TYPE_CHECKING:
    from ui.motion.full_sweep import FullSweep

TALL = 26


class FullBar(FlowBar):
    """One word to press; beside it what there is to say of it."""

    field_wanted = Signal(str)

    def __init__(self, full: FullSweep, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.full = full
        self.setContentsMargins(8, 0, 8, 0)
        self.choice, self.word = QToolButton(), QLabel()
        self.progress, self.button = QProgressBar(), QPushButton()
        self._missing = ""
        self._long = False  # work has been under way for so long that it is told
        self._escape: QShortcut | None = None
        self._make()
        for part in (self.choice, self.word, self.progress, self.button):
            self.add(part)
        self._slow = QTimer(self)
        self._slow.setSingleShot(True)
        self._slow.setInterval(SHOW_AFTER_MS)
        self._slow.timeout.connect(self._tell_long)
        self.follow()
        self.choice.toggled.connect(full.want)
        self.button.clicked.connect(self._pressed)
        full.changed.connect(self.follow)
        full.advanced.connect(lambda share: self.progress.setValue(round(100 * share)))

    def _make(self) -> None:
        tip = self.tr(
            "The follower as a mass of its own: what is lost at lobe, linkage and seat, and how far a plunger pumps up."
        )
        self.choice.setObjectName("motion_full")
        self.choice.setText(self.tr("Full sweep"))
        self.choice.setCheckable(True)
        self.choice.setProperty("row", "units")
        self.choice.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.choice.setMinimumHeight(TALL)
        self.choice.setToolTip(tip)
        self.choice.setAccessibleName(self.tr("Full sweep"))
        self.word.setProperty("role", "quiet")
        self.word.setTextFormat(Qt.TextFormat.PlainText)
        self.word.setMinimumHeight(TALL)
        self.word.setObjectName("motion_full_word")
        self.progress.setRange(0, 100)
        self.progress.setTextVisible(False)
        self.progress.setFixedSize(70, TALL - 8)
        self.progress.setAccessibleName(self.tr("Progress of the full sweep"))
        self.button.setObjectName("motion_full_button")
        self.button.setMinimumHeight(TALL)
        self.button.setSizePolicy(QSizePolicy.Policy.Fixed, QSizePolicy.Policy.Fixed)
        self._usual_tip = tip

    def stop_from(self, page: QWidget) -> None:
        """Have Esc stop the work from anywhere in a page, while there is any; also beside other work that it stops."""
        self._escape = QShortcut(QKeySequence.StandardKey.Cancel, page)
        self._escape.setContext(Qt.ShortcutContext.WidgetWithChildrenShortcut)
        self._escape.setEnabled(False)
        self._escape.activated.connect(self._stop)
        self._escape.activatedAmbiguously.connect(self._stop)

    def follow(self) -> None:
        """Tell how it stands now."""
        full = self.full
        possible = full.possible
        self.choice.setEnabled(possible)
        with QSignalBlocker(self.choice):
            self.choice.setChecked(full.wanted)
        if self._escape is not None:
            self._escape.setEnabled(full.busy)
        if not full.busy:
            self._slow.stop()
            self._long = False
        elif not self._long and not self._slow.isActive():
            self.progress.setValue(0)
            self._slow.start()
        word, button, self._missing = ("", "", "") if full.busy and not self._long else self._told()
        self.progress.setVisible(self._long)
        self.word.setText(word)
        self.word.setVisible(bool(word))
        self.button.setText(button)
        self.button.setVisible(bool(button))
        tip = self._usual_tip if possible else word
        self.choice.setToolTip(tip)
        self.choice.setAccessibleDescription(tip)

    def _tell_long(self) -> None:
        self._long = True
        self.follow()

    def _told(self) -> tuple[str, str, str]:
        """What is said, what the button does, and the field that it leads to."""
        full, tr = self.full, self.tr
        rows = (
            (full.busy, tr("Sweeping"), tr("Cancel")),
            (not full.wanted, tr("The follower as a mass of its own."), ""),
            (bool(full.failure), full.failure, tr("Try again")),
            (full.stale, tr("Of earlier entries."), tr("Work out anew")),
            (full.stopped, tr("Stopped."), tr("Go on")),
        )
        if not full.possible:
            return self._wanting()
        return next(((word, button, "") for holds, word, button in rows if holds), ("", "", ""))

    def _wanting(self) -> tuple[str, str, str]:
        if self.full.why_not:
            return self.tr("A bucket rides on the valve: nothing is between that could part."), "", ""
        missing = self.full.motion.missing
        if not missing:
            return self.tr("It waits for what is not stated."), "", ""
        names = [within(label_of(field)) for field in missing]
        word = self.tr("Waits for: {names}.").format(names=names[0])
        if len(names) > 1:
            word = self.tr("Waits for: {names} and %n more.", "", len(names) - 1).format(names=names[0])
        return word, self.tr("Enter {name}").format(name=names[0]), missing[0]

    def _pressed(self) -> None:
        if self._missing:
            self.field_wanted.emit(self._missing)
        elif self.full.busy:
            self.full.cancel()
        else:
            self.full.again()

    def _stop(self) -> None:
        if self.full.busy:
            self.full.cancel()
