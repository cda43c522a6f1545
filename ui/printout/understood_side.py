"""What was understood, to the right of the preview: counts, the first spring, what is wrong and what is unsure."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import QSize, Qt, Signal
from PySide6.QtWidgets import QLabel, QListView, QListWidget, QListWidgetItem, QVBoxLayout, QWidget
from typing_extensions import override

from loadbench.findings.finding import Level
from ui.icons import level_icon, level_pixmap
from ui.printout import wording
from ui.printout.preview import problem_told
from ui.theme import theme
from ui.widgets.wrapped_label import WrappedLabel

if TYPE_CHECKING:
    from collections.abc import Callable, Sequence

    from PySide6.QtGui import QKeyEvent, QResizeEvent

    from loadbench.errors import Problem
    from loadbench.readings.printout.meaning import Column, Understood
    from loadbench.units import Style

MOST_LISTED = 200
AROUND = 36
"""px across that an item's text doesn't have: spacing, the style's padding, the margins of icon and text."""
LEVEL = Qt.ItemDataRole.UserRole
THING = LEVEL + 1


class DoubtList(QListWidget):
    """Sentences on as many lines as they need; one stop for Tab, the arrow keys go through it."""

    pressed_enter = Signal(QListWidgetItem)

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setWordWrap(True)
        self.setResizeMode(QListView.ResizeMode.Adjust)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.setVerticalScrollMode(QListWidget.ScrollMode.ScrollPerPixel)
        self.setIconSize(QSize(16, 16))
        self.setTextElideMode(Qt.TextElideMode.ElideNone)
        self.setSpacing(1)

    @override
    def keyPressEvent(self, event: QKeyEvent) -> None:
        if event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
            if self.currentItem() is not None:
                self.pressed_enter.emit(self.currentItem())
            return
        super().keyPressEvent(event)

    @override
    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        self.measure()

    def measure(self) -> None:
        """Give each sentence the height that it needs at this width."""
        room = self.viewport().width() - self.iconSize().width() - AROUND
        for place in range(self.count()):
            item = self.item(place)
            flags = int(Qt.TextFlag.TextWordWrap)
            box = self.fontMetrics().boundingRect(0, 0, max(60, room), 10_000, flags, item.text())
            item.setSizeHint(QSize(0, max(24, box.height() + 10)))


class UnderstoodSide(QWidget):
    """Follows one printout; pressing a sentence goes where it speaks of."""

    problem_wanted = Signal(object, bool)  # Problem, and whether the focus goes with it
    column_wanted = Signal(int, bool)  # place, and whether the focus goes with it

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setObjectName("printout_understood")
        self.heading = QLabel(self.tr("What was understood"))
        self.heading.setProperty("role", "heading")
        self._sign = QLabel()
        self.counts = WrappedLabel()
        self.counts.setObjectName("printout_counts")
        self.heights = WrappedLabel()
        self.first = WrappedLabel()
        self.form = WrappedLabel(role="quiet")
        self.state = WrappedLabel()
        self.state.setObjectName("printout_state")
        self.list = DoubtList()
        self.list.setObjectName("printout_doubts")
        self.list.setAccessibleName(self.tr("What to look at"))
        self._level = Level.CLEAR
        self._column_of: Callable[[Problem], int | None] = lambda problem: problem.place.column
        self._lay_out()
        self.list.currentItemChanged.connect(lambda item, _old: self._go(item, focus=False))
        self.list.itemClicked.connect(lambda item: self._go(item, focus=False))
        self.list.itemDoubleClicked.connect(lambda item: self._go(item, focus=True))
        self.list.pressed_enter.connect(lambda item: self._go(item, focus=True))
        theme().changed.connect(self._draw)

    def _lay_out(self) -> None:
        from PySide6.QtWidgets import QHBoxLayout

        self._sign.setFixedWidth(20)
        state = QHBoxLayout()
        state.setSpacing(2)
        state.addWidget(self._sign, 0, Qt.AlignmentFlag.AlignTop)
        state.addWidget(self.state, 1)
        rows = QVBoxLayout(self)
        rows.setContentsMargins(6, 2, 0, 0)
        rows.setSpacing(5)
        for widget in (self.heading, self.counts, self.heights, self.first, self.form):
            rows.addWidget(widget)
        rows.addSpacing(4)
        rows.addLayout(state)
        rows.addWidget(self.list, 1)
        rows.addStretch(0)
        self.setMinimumWidth(230)

    # Showing

    def show_printout(
        self, understood: Understood, style: Style, column_of: Callable[[Problem], int | None], missing: int = 0
    ) -> None:
        """Tell what was understood now.

        Args:
            understood: the printout.
            style: the units on show.
            column_of: the column of the preview that a problem stands in, from 1.
            missing: how many loads are blank.
        """
        self._column_of = column_of
        told = self.tr("{counts}.").format(counts=wording.counts_told(understood))
        if missing:
            blank = wording.counted(missing, self.tr("{count} load is blank."), self.tr("{count} loads are blank."))
            told = f"{told} {blank}"
        self.counts.tell(told)
        self.heights.tell(wording.heights_told(understood, style))
        self.first.tell(wording.first_told(understood))
        self.form.tell(wording.form_told(understood))
        self._fill(understood)
        self._tell_state(understood)

    def _fill(self, understood: Understood) -> None:
        self.list.blockSignals(True)
        current = self.list.currentRow()
        self.list.clear()
        groups = list(alike(understood.problems).values())
        for problems in groups[:MOST_LISTED]:
            self._add(Level.STOP, self._problem_words(problems), problems[0])
        more = len(groups) - MOST_LISTED
        if more > 0:
            self._add(Level.STOP, self.tr("Wrong: {count} further places.").format(count=more), None)
        for why, columns in doubts(understood).items():
            text = self.tr("Look at this: {columns}. {why}")
            self._add(Level.WATCH, text.format(columns=wording.columns_title(columns), why=why), columns[0])
        self.list.measure()
        if 0 <= current < self.list.count():
            self.list.setCurrentRow(current)
        self.list.blockSignals(False)
        self.list.setVisible(self.list.count() > 0)

    def _add(self, level: Level, text: str, thing: Problem | Column | None) -> None:
        item = QListWidgetItem(level_icon(level), text)
        item.setData(LEVEL, str(level))
        item.setData(THING, thing)
        self.list.addItem(item)

    def _problem_words(self, problems: Sequence[Problem]) -> str:
        places = [(problem.place.row, self._column_of(problem)) for problem in problems]
        place, what = wording.problems_place(places), problem_told(problems[0])
        if not place:
            return self.tr("Wrong: {what}").format(what=what)
        return self.tr("Wrong, {place}: {what}").format(place=place, what=what)

    def _tell_state(self, understood: Understood) -> None:
        wrong, unsure = len(understood.problems), len(understood.unsure)
        if not understood.count:
            self._level, told = Level.STOP, self.tr("No reading was found: say above the columns what they hold.")
        elif wrong or unsure:
            self._level = Level.STOP if wrong else Level.WATCH
            parts = [wording.counted(wrong, self.tr("{count} place is wrong"), self.tr("{count} places are wrong"))]
            parts.append(
                wording.counted(unsure, self.tr("{count} column is unsure"), self.tr("{count} columns are unsure"))
            )
            told = self.tr("{parts}:").format(
                parts=", ".join(p for p, n in zip(parts, (wrong, unsure), strict=True) if n)
            )
        else:
            self._level, told = Level.CLEAR, self.tr("Clear: every column was understood.")
        self.state.tell(told)
        self._draw()

    def _draw(self) -> None:
        self._sign.setPixmap(level_pixmap(self._level, 16))
        for place in range(self.list.count()):
            item = self.list.item(place)
            item.setIcon(level_icon(Level(item.data(LEVEL))))

    def _go(self, item: QListWidgetItem | None, *, focus: bool) -> None:
        thing = None if item is None else item.data(THING)
        if thing is None:
            return
        if hasattr(thing, "meaning"):
            self.column_wanted.emit(thing.place, focus)
        else:
            self.problem_wanted.emit(thing, focus)


def doubts(understood: Understood) -> dict[str, list[Column]]:
    """The unsure columns by what is doubtful about them: a slip of ten heights has ten columns with one doubt."""
    found: dict[str, list[Column]] = {}
    for column in understood.unsure:
        found.setdefault(column.why, []).append(column)
    return found


def alike(problems: Sequence[Problem]) -> dict[tuple[str, str], list[Problem]]:
    """The problems by what is wrong: what stands in every row is told once."""
    found: dict[tuple[str, str], list[Problem]] = {}
    for problem in problems:
        found.setdefault((problem.what, problem.expected), []).append(problem)
    return found
