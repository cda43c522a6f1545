"""The preview: heads to correct above the printout as it came, and beneath them the current column or cell in words."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from PySide6.QtCore import QModelIndex, Qt, Signal
from PySide6.QtGui import QFont
from PySide6.QtWidgets import (
    QAbstractItemView,
    QHBoxLayout,
    QHeaderView,
    QLabel,
    QPushButton,
    QTableView,
    QVBoxLayout,
    QWidget,
)
from typing_extensions import override

from loadbench.findings.finding import Level
from loadbench.readings.printout.meaning import Layout
from ui.icons import level_pixmap, pixmap
from ui.printout.column_heads import ColumnHeads
from ui.printout.preview_model import MOST_COLUMNS, PreviewModel
from ui.printout.rows import SHOWN, RowKind, cell_index
from ui.printout.wording import column_title, column_told, lack_told, lacking, place_told
from ui.theme import theme
from ui.widgets.wrapped_label import WrappedLabel

if TYPE_CHECKING:
    from PySide6.QtGui import QKeyEvent

    from loadbench.errors import Problem
    from loadbench.readings.printout.meaning import Column, Understood
    from loadbench.units import Style

WIDEST = 260
ROOM = 18  # beside a cell's text


class PreviewTable(QTableView):
    """The rows; Tab leaves it, and copying is all that can be done to it."""

    @override
    def keyPressEvent(self, event: QKeyEvent) -> None:
        if event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
            event.accept()  # it must not press the dialog's button
            return
        super().keyPressEvent(event)


class Preview(QWidget):
    """Shows what was understood of a printout; what is corrected goes out as the column that it should be."""

    corrected = Signal(object)  # the Columns as they should be, a tuple

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.understood: Understood | None = None
        self._style: Style | None = None
        self.before: QWidget | None = None  # what the focus comes from when it comes to the heads
        self.model = PreviewModel(self)
        self.table = PreviewTable()
        self.table.setModel(self.model)
        self.heads = ColumnHeads(self.table)
        self.note = WrappedLabel(role="quiet")
        self.accept_button = QPushButton(self.tr("It is right"))
        self.accept_all_button = QPushButton()
        self._level: Level | None = None
        self._sign = QLabel()
        self.told = WrappedLabel()
        self._shape()
        self._lay_out()
        self.heads.corrected.connect(lambda column: self.corrected.emit((column,)))
        self.heads.entered.connect(self.choose_column)
        self.heads.refused.connect(self._refuse)
        self.table.selectionModel().currentChanged.connect(self._tell)
        self.accept_button.clicked.connect(lambda: self._accept(self._alike()[:1]))
        self.accept_all_button.clicked.connect(lambda: self._accept(self._alike()))
        theme().changed.connect(self._draw)

    def _shape(self) -> None:
        table, mono = self.table, QFont("monospace")
        mono.setStyleHint(QFont.StyleHint.Monospace)
        mono.setPointSizeF(max(7.0, self.font().pointSizeF() - 0.5))
        table.setObjectName("printout_rows")
        table.setAccessibleName(self.tr("The printout as it came"))
        table.setFont(mono)
        table.setTabKeyNavigation(False)
        table.setWordWrap(False)
        table.setEditTriggers(QAbstractItemView.EditTrigger.NoEditTriggers)
        table.setSelectionMode(QAbstractItemView.SelectionMode.ContiguousSelection)
        table.setHorizontalScrollMode(QAbstractItemView.ScrollMode.ScrollPerPixel)
        table.setMinimumHeight(4 * self._row_height())
        down, across = table.verticalHeader(), table.horizontalHeader()
        down.setFont(self.font())
        across.setFont(self.font())
        down.setSectionResizeMode(QHeaderView.ResizeMode.Fixed)
        down.setDefaultSectionSize(self._row_height())
        down.setHighlightSections(False)  # in bold the words beside the rows would not fit
        down.setDefaultAlignment(Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter)
        across.setSectionsClickable(True)
        across.sectionClicked.connect(self.choose_column)
        across.setMinimumSectionSize(40)
        across.setStretchLastSection(True)

    def _row_height(self) -> int:
        return max(24, self.fontMetrics().height() + 6)

    def _lay_out(self) -> None:
        self.accept_button.setObjectName("column_is_right")
        self.accept_all_button.setObjectName("columns_are_right")
        for button in (self.accept_button, self.accept_all_button):
            button.setAutoDefault(False)
            button.setMinimumHeight(26)
        self.told.setObjectName("column_told")
        self._sign.setFixedWidth(18)
        foot = QHBoxLayout()
        foot.setSpacing(4)
        foot.addWidget(self._sign, 0, Qt.AlignmentFlag.AlignTop)
        foot.addWidget(self.told, 1, Qt.AlignmentFlag.AlignTop)
        foot.addWidget(self.accept_button, 0, Qt.AlignmentFlag.AlignTop)
        foot.addWidget(self.accept_all_button, 0, Qt.AlignmentFlag.AlignTop)
        rows = QVBoxLayout(self)
        rows.setContentsMargins(0, 0, 0, 0)
        rows.setSpacing(4)
        rows.addWidget(self.heads)
        rows.addWidget(self.table, 1)
        rows.addWidget(self.note)
        rows.addLayout(foot)

    # Showing

    def show_printout(self, understood: Understood, style: Style) -> None:
        """Show a printout as it is understood now; the current cell stays where it is."""
        anew = self.understood is None or understood.grid is not self.understood.grid
        current = self.table.currentIndex()
        self.understood, self._style = understood, style
        self.model.show_printout(understood)
        self.heads.show_columns(understood, min(MOST_COLUMNS, self.model.columnCount()), style)
        self._order_focus()
        self._size_columns(anew=anew)
        self._span()
        at = self._first_look() if anew else (current.row(), current.column())
        self.table.setCurrentIndex(self.model.index(max(0, at[0]), max(0, at[1])))
        if anew:
            self.table.scrollToTop()  # what stands above the readings stays in sight
        self.note.tell(self._note(understood))
        self._tell()

    def _order_focus(self) -> None:
        before = self.before
        for head in self.heads.heads:
            for widget in head.inputs:
                if before is not None:
                    QWidget.setTabOrder(before, widget)
                before = widget
        if before is not None:
            QWidget.setTabOrder(before, self.table)
            QWidget.setTabOrder(self.table, self.accept_button)
            QWidget.setTabOrder(self.accept_button, self.accept_all_button)

    def _size_columns(self, *, anew: bool) -> None:
        metrics = self.table.fontMetrics()
        down = self.table.verticalHeader()
        heads = [self.model.row_head(row) for row in range(self.model.rowCount())]
        widest = max((self.fontMetrics().horizontalAdvance(head) for head in heads), default=40) + 22
        down.setFixedWidth(max(widest, self.heads.side_width()))
        for column in range(self.model.columnCount()):
            cells = [row.cells[column] for row in self.model.rows if column < len(row.cells) and not row.alone]
            longest = max((metrics.horizontalAdvance(cell[:80]) for cell in cells), default=0) + ROOM
            width = max(min(longest, WIDEST), self.heads.room_for(column), 48)
            if anew or width > self.table.columnWidth(column):
                self.table.setColumnWidth(column, width)

    def _span(self) -> None:
        """A line that is no row of the table has the whole width."""
        self.table.clearSpans()
        width = self.model.columnCount()
        for place, row in enumerate(self.model.rows):
            if row.alone and width > 1:
                self.table.setSpan(place, 0, 1, width)

    def _note(self, understood: Understood) -> str:
        rows, further = self.model.all_rows, self.model.rowCount() - SHOWN
        told = []
        if rows > SHOWN:
            text = self.tr("The first {shown} of {all} rows are shown; all of them are read.")
            told.append(text.format(shown=SHOWN, all=f"{rows:,}".replace(",", "\u202f")))
        if further > 0:
            told.append(
                self.tr("Beneath them stand those further down with something wrong ({count}).").format(count=further)
            )
        hidden = len(understood.columns) - self.model.columnCount()
        if hidden > 0:
            told.append(self.tr("{count} further columns are not shown.").format(count=hidden))
        return " ".join(told)

    # The current column and cell

    @property
    def _one_height(self) -> bool:
        return self.understood is not None and self.understood.layout is Layout.ROW_A_SPRING

    @property
    def column(self) -> Column | None:
        """The current column."""
        index = self.table.currentIndex()
        columns = self.understood.columns if self.understood is not None else ()
        return columns[index.column()] if index.isValid() and index.column() < len(columns) else None

    def choose_column(self, place: int) -> None:
        """Make a column the current one, and bring it in sight."""
        row = max(0, self.table.currentIndex().row())
        if place != self.table.currentIndex().column():
            self.table.setCurrentIndex(self.model.index(row, place))
        self.table.scrollTo(self.model.index(row, place))

    def go_to_column(self, place: int) -> None:
        """Put the focus on what a column holds."""
        self.choose_column(place)
        if place < len(self.heads.heads):
            self.heads.heads[place].meaning.setFocus(Qt.FocusReason.ShortcutFocusReason)

    def go_to_problem(self, problem: Problem, *, focus: bool = True) -> None:
        """Make the cell of a problem the current one; one without a row is of the whole printout."""
        row = self.model.row_of(problem.place.row or 0)
        if row is None:
            return
        index = self.model.index_of(row.number, cell_index(row, problem.place.column))
        if index.isValid():
            self.table.setCurrentIndex(index)
            self.table.scrollTo(index)
        if focus:
            self.table.setFocus(Qt.FocusReason.ShortcutFocusReason)

    def _first_look(self) -> tuple[int, int]:
        """The first row that was read, in the first column that wants a look."""
        row = next((place for place, row in enumerate(self.model.rows) if row.kind is RowKind.READ), 0)
        unsure = self.understood.unsure if self.understood is not None else ()
        return row, min(unsure[0].place, self.model.columnCount() - 1) if unsure else 0

    def column_of(self, problem: Problem) -> int | None:
        """The column of the preview (from 1) that a problem stands in: columns of blanks count letters else."""
        row = self.model.row_of(problem.place.row or 0)
        if row is None or problem.place.column is None:
            return problem.place.column
        return cell_index(row, problem.place.column) + 1

    def _refuse(self, why: str) -> None:
        self._say(Level.STOP, self.tr("Wrong: {what}").format(what=why))

    def _alike(self) -> tuple[Column, ...]:
        """The current column where it is unsure, and after it the others that are so for the same reason."""
        column = self.column
        if column is None or column.sure or self.understood is None:
            return ()
        others = (other for other in self.understood.unsure if other.place != column.place and other.why == column.why)
        return (column, *others)

    def _accept(self, columns: tuple[Column, ...]) -> None:
        if columns:
            self.corrected.emit(tuple(replace(column, sure=True, why="") for column in columns))
            self.table.setFocus(Qt.FocusReason.OtherFocusReason)

    def _tell(self, _current: QModelIndex | None = None, _before: QModelIndex | None = None) -> None:
        column, problem = self.column, self.model.problem_at(self.table.currentIndex())
        alike = len(self._alike())
        self.accept_button.setVisible(alike > 0)
        self.accept_all_button.setVisible(alike > 1)
        self.accept_all_button.setText(self.tr("All {count} are right").format(count=alike))
        lacks = None if column is None else lacking(column, one_height=self._one_height)
        if problem is not None:
            place = place_told(problem.place.row, self.table.currentIndex().column() + 1)
            self._say(Level.STOP, self.tr("Wrong, {place}: {what}").format(place=place, what=problem_told(problem)))
        elif column is not None and lacks is not None:
            text = self.tr("Wrong, {column}: {what}")
            self._say(Level.STOP, text.format(column=column_title(column), what=lack_told(lacks)))
        elif column is not None and self._style is not None:
            what = " ".join(filter(None, (column.why, column_told(column, self._style))))
            if column.sure:
                self._say(None, self.tr("{column}: {what}").format(column=column_title(column), what=what))
            else:
                text = self.tr("Look at this: {column}. {what}")
                self._say(Level.WATCH, text.format(column=column_title(column), what=what))
        else:
            self._say(None, "")

    def _say(self, level: Level | None, text: str) -> None:
        self._level = level
        self.told.tell(text)
        self._draw()

    def _draw(self) -> None:
        self._sign.setVisible(bool(self.told.text()))
        self._sign.setPixmap(pixmap("about", 16, "quiet") if self._level is None else level_pixmap(self._level, 16))


def problem_told(problem: Problem) -> str:
    """What is wrong and what was expected, without the place."""
    from PySide6.QtCore import QCoreApplication

    if not problem.expected:
        return problem.what
    what = problem.what if problem.what.endswith((".", "?")) else f"{problem.what}."
    wanted = QCoreApplication.translate("Printout", "{what} Wanted: {expected}.")
    return wanted.format(what=what, expected=problem.expected)
