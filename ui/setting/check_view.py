"""Before it goes in: the check list of the chosen family, initialled item by item."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import QModelIndex, QSize, Qt, QTimer, Signal
from PySide6.QtGui import QGuiApplication, QKeyEvent, QResizeEvent
from PySide6.QtWidgets import QAbstractItemView, QHeaderView, QPushButton, QVBoxLayout, QWidget
from typing_extensions import override

from loadbench.findings.check_list import check_list
from ui.clipboard_table import text_of
from ui.level_words import source_words
from ui.plots.export import plain_name
from ui.setting.check_model import COLUMNS, TYPED, CheckModel, head_of
from ui.setting.wording import tr
from ui.widgets.flow_bar import FlowBar
from ui.widgets.grid_view import GridView
from ui.widgets.wrapped_label import WrappedLabel

if TYPE_CHECKING:
    from ui.session import Session
    from ui.state import State

FOUND_SHARE = 0.44
"""Of the room that the two columns of text share, what the job says."""


class CheckGrid(GridView):
    """One row an item; Enter on its text goes to the entry that it rests on."""

    entered = Signal(int)

    def __init__(self, session: Session) -> None:
        super().__init__(session)
        self.checks = CheckModel(session, self)
        self.setModel(self.checks)
        self.setObjectName("setting_checks")
        self.setAccessibleName(tr("Check list before the followers go in"))
        self.setAccessibleDescription(
            tr("Type initials; today\u2019s date is added. Enter on a text goes to the entry it rests on.")
        )
        self.setSelectionMode(QAbstractItemView.SelectionMode.ContiguousSelection)
        self.setWordWrap(True)
        self.setVerticalScrollMode(QAbstractItemView.ScrollMode.ScrollPerPixel)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.setIconSize(QSize(16, 16))
        self.verticalHeader().setVisible(False)
        self.verticalHeader().setMinimumSectionSize(24)
        across = self.horizontalHeader()
        across.setHighlightSections(False)
        across.setMinimumSectionSize(30)
        across.setSectionResizeMode(QHeaderView.ResizeMode.Interactive)
        across.setDefaultAlignment(Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignVCenter)
        self.setMinimumHeight(90)
        self._soon = QTimer(self)
        self._soon.setSingleShot(True)
        self._soon.setInterval(0)
        self._soon.timeout.connect(self.resizeRowsToContents)
        self.checks.modelReset.connect(self._span)
        self.checks.dataChanged.connect(self._fit_soon)

    def _span(self) -> None:
        """Headings go across."""
        self.clearSpans()
        for row, each in enumerate(self.checks.rows):
            if each.item is None:
                self.setSpan(row, 0, 1, len(COLUMNS))
        self._soon.start()

    def _fit_soon(self, *_: object) -> None:
        self._soon.start()

    @override
    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        metrics, room = self.fontMetrics(), self.viewport().width()
        typed = (metrics.horizontalAdvance("2026-00-00") + 14, metrics.horizontalAdvance(head_of("initials")) + 18)
        left = max(room - sum(typed), 200)
        found = round(FOUND_SHARE * left)
        for column, width in enumerate((left - found, found, typed[1], typed[0])):
            self.setColumnWidth(column, width)
        self._soon.start()

    @override
    def keyPressEvent(self, event: QKeyEvent) -> None:
        index = self.currentIndex()
        enter = event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter)
        if enter and index.isValid() and COLUMNS[index.column()] not in TYPED:
            self.entered.emit(index.row())
        else:
            super().keyPressEvent(event)


class CheckView(QWidget):
    """Owns no value: the list follows the state, initials go to the session."""

    said = Signal(str)
    field_wanted = Signal(str)

    def __init__(self, session: Session, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.session = session
        self.setObjectName("setting_check_view")
        self.grid = CheckGrid(session)
        self.count = WrappedLabel(role="quiet")
        self.count.setObjectName("setting_checked")
        self.copy_button = QPushButton(tr("Copy as table"))
        self.copy_button.setObjectName("setting_copy_checks")
        self.copy_button.setMinimumSize(QSize(24, 26))
        bar = FlowBar()
        bar.add(self.copy_button)
        column = QVBoxLayout(self)
        column.setContentsMargins(8, 2, 8, 0)
        column.setSpacing(3)
        column.addWidget(bar)
        column.addWidget(self.count)
        column.addWidget(self.grid, 1)
        self.copy_button.clicked.connect(self.copy_table)
        self.grid.entered.connect(self._lead)
        self.grid.doubleClicked.connect(self._pressed)
        self.grid.selectionModel().currentChanged.connect(self._went)
        self.grid.checks.told.connect(session.announce)

    def show_state(self, state: State, _line: str) -> None:
        """Show the check list of a state."""
        items = check_list(state.analysis, state.verdicts)
        self.grid.checks.show_items(items)
        done = sum(bool(item.initials) for item in items)
        told = tr("{done} of {total} initialled. The part maker\u2019s sheet comes first; where it differs, it holds.")
        self.count.tell(told.format(done=done, total=len(items)))

    # Going

    def _went(self, index: QModelIndex) -> None:
        item = self.grid.checks.item(index.row()) if index.isValid() else None
        if item is not None:
            self.said.emit(tr("Source: {source}").format(source=source_words(item.source)))

    def _pressed(self, index: QModelIndex) -> None:
        if COLUMNS[index.column()] not in TYPED:
            self._lead(index.row())

    def _lead(self, row: int) -> None:
        item = self.grid.checks.item(row)
        if item is not None and item.about:
            self.field_wanted.emit(item.about[0])
        elif item is not None:
            self.session.announce(tr("This item rests on no entry: it is looked at on the bench."))

    def copy_table(self) -> None:
        """The whole list to the clipboard, for a spreadsheet or for paper."""
        model = self.grid.checks
        rows = [[tr("Part"), *(head_of(column) for column in COLUMNS), tr("Source")]]
        for place, row in enumerate(model.rows):
            if row.item is not None:
                cells = [row.heading, *(model.text(place, column) for column in COLUMNS), row.item.source]
                rows.append([plain_name(cell) for cell in cells])
        QGuiApplication.clipboard().setText(text_of(rows))
        self.session.announce(self.tr("%n item(s) copied.", "", len(rows) - 1))
