"""The list of doubts and failing springs; rows are kept and told anew, for a slip may have very many."""

from __future__ import annotations

from PySide6.QtCore import Qt, QTimer, Signal
from PySide6.QtWidgets import QFrame, QPushButton, QScrollArea, QVBoxLayout, QWidget

from ui.trust.entries import Entry
from ui.trust.entry_row import EntryRow
from ui.widgets.wrapped_label import WrappedLabel

FIRST, MORE = 12, 24


class EntryList(QScrollArea):
    """Shows the first entries, and more of them when asked."""

    pressed = Signal(object)

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setObjectName("trust_entries")
        self.setWidgetResizable(True)
        self.setFrameShape(QFrame.Shape.NoFrame)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self.entries: tuple[Entry, ...] = ()
        self.rows: list[EntryRow] = []
        self._most = FIRST
        self.nothing = WrappedLabel(role="quiet")
        self.nothing.setContentsMargins(6, 6, 6, 6)
        self.more = QPushButton()
        self.more.setObjectName("trust_more_entries")
        self.more.setFlat(True)
        self.more.setMinimumHeight(26)
        self.more.clicked.connect(self._show_more)
        inside = QWidget()
        self._column = QVBoxLayout(inside)
        self._column.setContentsMargins(0, 0, 0, 0)
        self._column.setSpacing(0)
        self._column.addWidget(self.nothing)
        self._column.addWidget(self.more)
        self._column.addStretch(1)
        self.setWidget(inside)

    def show_entries(self, entries: tuple[Entry, ...], nothing: str) -> None:
        """Show these; `nothing` is said where there are none."""
        self.nothing.tell("" if entries else nothing)
        if entries == self.entries:
            return
        self.entries = entries
        self._show()

    def _show(self) -> None:
        shown = self.entries[: self._most]
        for entry in shown[len(self.rows) :]:
            self._add(entry)
        for row, entry in zip(self.rows, shown, strict=False):
            row.show_entry(entry)
            row.show()
        for row in self.rows[len(shown) :]:
            row.hide()
        left = len(self.entries) - len(shown)
        self.more.setVisible(left > 0)
        self.more.setText(self.tr("Show %n more", "", min(left, MORE)))

    def _add(self, entry: Entry) -> None:
        row = EntryRow(entry)
        row.pressed.connect(self.pressed)
        row.stepped.connect(self._step)
        before = self.rows[-1] if self.rows else None
        self.rows.append(row)
        self._column.insertWidget(len(self.rows), row)
        if before is not None:
            QWidget.setTabOrder(before, row)
        QWidget.setTabOrder(row, self.more)

    def _show_more(self) -> None:
        first = self._most
        self._most += MORE
        self._show()
        self.rows[first].setFocus(Qt.FocusReason.OtherFocusReason)

    def _step(self, by: int) -> None:
        shown = [row for row in self.rows if not row.isHidden()]
        at = next((place for place, row in enumerate(shown) if row.hasFocus()), 0) + by
        if 0 <= at < len(shown):
            self.go_to(shown[at])

    def go_to(self, row: EntryRow) -> None:
        """Put the focus on a row and bring it into view."""
        row.setFocus(Qt.FocusReason.OtherFocusReason)
        QTimer.singleShot(0, self, lambda: self.ensureWidgetVisible(row, 0, 8))
