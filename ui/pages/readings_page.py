"""The Readings page: can the springs be trusted? The slip above its picture, and beside them what it means."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import QModelIndex, QSize, Qt
from PySide6.QtGui import QAction, QGuiApplication
from PySide6.QtWidgets import QHBoxLayout, QLabel, QPushButton, QSplitter, QStackedWidget, QVBoxLayout, QWidget
from typing_extensions import override

from loadbench.findings.finding import Level
from loadbench.job.checks import SAME_HEIGHT
from loadbench.readings.evidence import part_named
from ui.commands import Command, action_of
from ui.slip.columns import Column
from ui.slip.slip_part import SlipPart
from ui.trust.checker import Checker
from ui.trust.entries import Entry
from ui.trust.meaning_side import MeaningSide
from ui.trust.trust_picture import TrustPicture
from ui.window_watch import WindowWatch

if TYPE_CHECKING:
    from PySide6.QtGui import QHideEvent, QResizeEvent, QShowEvent

    from ui.session import Session

NARROW = 1060
SIDE, ABOVE, BELOW = 310, 390, 300
READ = "read_printout"


class _Pages(QStackedWidget):
    """Only the one on show says how much room is needed."""

    @override
    def minimumSizeHint(self) -> QSize:
        page = self.currentWidget()
        return page.minimumSizeHint() if page is not None else QSize()


class ReadingsPage(QWidget):
    """Brings slip, picture and meaning to the same spring; nothing is worked out while it is hidden."""

    def __init__(self, session: Session, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.session = session
        self.setObjectName("readings_page")
        self.slip = SlipPart(session)
        self.grid = self.slip.grid
        self.checker = Checker(session, self)
        self.picture, self.meaning = TrustPicture(session), MeaningSide(session)
        self.commands: list[QAction] = self.slip.commands
        self._begun = False  # the grid was opened without a height that the job knows
        self._going = False  # from one part to another
        self._narrow = False
        self._doubt = -1
        self._watch = WindowWatch(self, self.checker.shutdown)
        self._lay_out()
        self._connect()
        self._show_parts()
        self.grid.model.live = False  # until the page is shown

    # The parts

    def _lay_out(self) -> None:
        self.down = QSplitter(Qt.Orientation.Vertical)
        self.across = QSplitter(Qt.Orientation.Horizontal)
        for splitter, parts in ((self.down, (self.slip, self.picture)), (self.across, (self.down, self.meaning))):
            for place, part in enumerate(parts):
                splitter.addWidget(part)
                splitter.setCollapsible(place, False)
        for place in range(2):
            self.down.setStretchFactor(place, 1)
        self.across.setStretchFactor(0, 1)
        self.down.setSizes([ABOVE, BELOW])
        self.across.setSizes([3 * SIDE, SIDE])
        self._pages = _Pages()
        self._pages.addWidget(self.across)
        self._pages.addWidget(self._empty())
        rows = QVBoxLayout(self)
        rows.setContentsMargins(6, 4, 6, 4)
        rows.addWidget(self._pages)
        self.meaning.let_fold(narrow=False)
        for command in self._own_commands():
            action = action_of(command, self)
            action.setShortcutContext(Qt.ShortcutContext.WidgetWithChildrenShortcut)
            self.commands.append(action)

    def _own_commands(self) -> tuple[Command, ...]:
        tr = self.tr
        return (
            Command(
                name="next_doubt",
                text=tr("Next doubt"),
                tip=tr("Go to the next reading that is doubted, or spring that fails"),
                run=self.next_doubt,
                keys=("F8",),
            ),
            Command(
                name="copy_strip_list",
                text=tr("Copy strip list"),
                tip=tr("Copy the springs in cylinder order, to lay them out by"),
                run=self.meaning.copy_strip_list,
                keys=("Ctrl+Alt+L",),
            ),
        )

    def _empty(self) -> QWidget:
        page = QWidget()
        told = QLabel(
            self.tr(
                "No numbered springs yet. Read the printout of a spring tester, paste a slip from a spreadsheet with "
                "heights in its first row, or type the springs in."
            )
        )
        told.setWordWrap(True)
        told.setAlignment(Qt.AlignmentFlag.AlignCenter)
        across = QHBoxLayout()
        across.addStretch(1)
        self.start_button = _button(self.tr("Type the first spring"), "slip_start")
        self.paste_button = _button(self.tr("Paste a slip"), "slip_paste")
        self.read_button = _button(self.tr("Read a printout\u2026"), "trust_read_printout")
        self.read_button.hide()
        for button in (self.read_button, self.start_button, self.paste_button):
            across.addWidget(button)
        across.addStretch(1)
        rows = QVBoxLayout(page)
        rows.addStretch(1)
        rows.addWidget(told)
        rows.addLayout(across)
        rows.addStretch(2)
        return page

    def _connect(self) -> None:
        self.start_button.clicked.connect(self.slip.start)
        self.paste_button.clicked.connect(self.slip.paste_slip)
        for button in (self.read_button, self.slip.read_button):
            button.clicked.connect(self.read_printout)
        self.slip.begun.connect(self._begin)
        self.grid.model.refreshed.connect(self._show_parts)
        self.grid.view.selectionModel().currentChanged.connect(self._went)
        self.checker.changed.connect(self._show_check)
        self.picture.chosen.connect(self._chosen)
        side = self.meaning
        side.entry_pressed.connect(self.go_to_entry)
        side.spring_wanted.connect(self.go_to_spring)
        side.springs_lit.connect(self._light)
        side.level_asked.connect(self._next_of)
        side.field_wanted.connect(self._go_to_field)
        self.session.styled.connect(self._restyled)
        self.session.loaded.connect(self._loaded)

    # Showing

    @override
    def showEvent(self, event: QShowEvent) -> None:
        super().showEvent(event)
        self._watch.watch(self.window())
        has = self._read_action() is not None
        for button in (self.read_button, self.slip.read_button):
            button.setVisible(has)
        self.grid.model.set_live(True)
        self.checker.set_live(True)

    @override
    def hideEvent(self, event: QHideEvent) -> None:
        super().hideEvent(event)
        self.grid.model.set_live(False)
        self.checker.set_live(False)

    @override
    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        narrow = event.size().width() < NARROW
        if narrow != self._narrow:
            self._narrow = narrow
            self.meaning.let_fold(narrow=narrow)
            side = self.meaning.minimumWidth() if narrow else SIDE
            self.across.setSizes([max(event.size().width() - side, 1), side])

    def _begin(self) -> None:
        self._begun = True
        self._show_parts()

    def _show_parts(self) -> None:
        nothing = not (self.session.state.job.springs or self.grid.model.extra or self._begun)
        self._pages.setCurrentIndex(1 if nothing else 0)
        self._pages.updateGeometry()

    def _show_check(self) -> None:
        check = self.checker.check
        if check is None or not self.isVisible():
            return
        self.picture.show_check(check)
        self.meaning.show_check(check)
        if self.checker.failure:
            self.session.announce(self.checker.failure)

    def _restyled(self, _style: object) -> None:
        self.picture.restyled()
        self._show_check()

    def _loaded(self) -> None:
        self._begun = False
        self._doubt = -1
        self.picture.forget()

    # To one spring in every part

    def _row_of(self, spring: str) -> int | None:
        springs = self.session.state.analysis.set.springs
        return next((each.index for each in springs if each.id == spring), None)

    def _column_of(self, part: str, height: float | None) -> int:
        """The column of a height of a part, else the first of loads."""
        first = self.grid.first_load()
        for place, column in enumerate(self.grid.model.columns):
            at = column.height is not None and height is not None and abs(column.height - height) <= SAME_HEIGHT
            if at and part_named(column.part) == part and not column.direction:
                return first + place
        return first

    def go_to_spring(self, spring: str, part: str = "", height: float | None = None) -> None:
        """Make a spring the current one, at a height where one is given, else in the column on show."""
        row = self._row_of(spring)
        if row is None:
            return
        column = self.grid.view.currentIndex().column()
        if height is not None or column < 0:
            column = self._column_of(part, height)
        self._go(row, column, lambda: self.picture.go_to(spring, part, height))

    def _go(self, row: int, column: int, then: object) -> None:
        self._going = True
        try:
            self.grid.go_to(row, column)
        finally:
            self._going = False
        if callable(then):
            then()

    def go_to_entry(self, entry: Entry) -> None:
        """Select the cell that a doubt speaks of, and light its spring in the picture."""
        if not entry.spring:
            self.picture.light(frozenset())
            return
        self.picture.light(frozenset({entry.spring}))
        self.go_to_spring(entry.spring, entry.part, entry.height)
        place = self.grid.model.cell_of(entry.path)
        if place is not None:
            self._go(*place, lambda: None)

    def _chosen(self, spring: str, part: str, height: float | None) -> None:
        """A mark was pressed: its row is the current one."""
        row = self._row_of(spring)
        if row is not None:
            at = self.grid.view.currentIndex().column() if height is None else self._column_of(part, height)
            self._go(row, max(at, 0), lambda: None)

    def _went(self, index: QModelIndex) -> None:
        """The current cell was changed in the grid."""
        source = self.grid.source_of(index)
        if self._going or not source.isValid() or not self.checker.live:
            return
        spring = self.grid.model.spring(source.row())
        name = self.grid.model.name_of(source.column())
        if spring is None:
            return
        if isinstance(name, Column):
            self.picture.go_to(spring.id, part_named(name.part), name.height)
        else:
            self.picture.go_to(spring.id)

    def _light(self, springs: tuple[str, ...]) -> None:
        """Light springs up in the picture; one alone is gone to."""
        self.picture.light(frozenset(springs))
        if len(springs) == 1:
            self.go_to_spring(springs[0])

    def _next_of(self, level: Level) -> None:
        """Light up all springs of a level and go to the next of them."""
        check = self.checker.check
        own = [] if check is None else [spring for spring in check.springs if spring.verdict.level is level]
        if not own:
            self.session.announce(self.tr("There is none of them."))
            return
        self.picture.light(frozenset(spring.id for spring in own))
        at = self.grid.source_of(self.grid.view.currentIndex()).row()
        spring = next((each for each in own if each.index > at), own[0])
        missed = max(spring.verdict.misses, key=lambda miss: abs(miss.off), default=None)
        self.go_to_spring(spring.id, "", None if missed is None else missed.height)

    def next_doubt(self) -> None:
        """Go to the next doubt or failing spring of the list."""
        rows = [row for row in self.meaning.entries.rows if not row.isHidden()]
        if not self.meaning.entries.entries or not rows:
            self.session.announce(self.tr("There are no doubts."))
            return
        if self.meaning.folded:
            self.meaning.set_folded(folded=False)
        self.meaning.words.choose("why")
        self._doubt = (self._doubt + 1) % len(rows)
        self.meaning.entries.go_to(rows[self._doubt])
        self.go_to_entry(rows[self._doubt].entry)

    # What the window is asked for, and asks

    def _read_action(self) -> QAction | None:
        found = self.window().findChild(QAction, READ)
        return found if isinstance(found, QAction) else None

    def read_printout(self) -> None:
        """Have the window read the printout of a tester."""
        action = self._read_action()
        if action is not None:
            action.trigger()

    def _go_to_field(self, field: str) -> None:
        go = getattr(self.window(), "go_to_field", None)  # a window of its own has none
        if go is not None:
            go(field)

    def reset_view(self) -> None:
        """The whole picture again."""
        self.picture.view.reset()

    def copy_picture(self) -> None:
        """Copy the picture."""
        QGuiApplication.clipboard().setImage(self.picture.image())
        self.session.announce(self.tr("Picture copied."))


def _button(text: str, name: str) -> QPushButton:
    button = QPushButton(text)
    button.setObjectName(name)
    button.setMinimumSize(QSize(24, 28))
    return button
