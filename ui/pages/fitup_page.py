"""The Fit-up page: which spring on which valve, on which shims? Valves typed or pasted, the plan worked out beside."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

from PySide6.QtCore import QModelIndex, QSize, Qt
from PySide6.QtGui import QGuiApplication, QKeyEvent, QKeySequence
from PySide6.QtWidgets import QPushButton, QSplitter, QStackedWidget, QVBoxLayout, QWidget
from typing_extensions import override

from loadbench.errors import SaveError
from loadbench.report.cautions import SPRING
from loadbench.units import Kind
from ui.commands import action_of
from ui.fitup import page_commands, wording
from ui.fitup.answer_side import AnswerSide
from ui.fitup.fit_export import image_of, save_picture
from ui.fitup.fit_picture import FitPicture
from ui.fitup.lay_out_prompt import LayOutPrompt
from ui.fitup.margins import Margins
from ui.fitup.page_work import PageWork, go_to_field
from ui.fitup.planner import Planner
from ui.fitup.rows import ValveRow, rows_of
from ui.fitup.stated_side import StatedSide
from ui.fitup.valve_columns import COLUMNS, FIRST
from ui.fitup.valve_grid import ValveGrid
from ui.plots.paper import asked_path
from ui.widgets.caution_row import CautionRow
from ui.widgets.entry_edit import Judgement, Sign
from ui.widgets.flow_bar import FlowBar
from ui.widgets.message_row import MessageRow
from ui.window_watch import WindowWatch

if TYPE_CHECKING:
    from PySide6.QtGui import QAction, QHideEvent, QShowEvent

    from ui.session import Session

LEFT, MIDDLE, RIGHT = 290, 620, 320
ABOVE, BELOW = 300, 360


class _Beneath(QWidget):
    """Bar, grid and message."""

    @override
    def minimumSizeHint(self) -> QSize:
        """For the width of now: Qt would reckon with the bar wrapped as in the narrowest page."""
        least, layout = super().minimumSizeHint(), self.layout()
        height = least.height() if layout is None else layout.minimumHeightForWidth(max(self.width(), least.width()))
        return QSize(least.width(), height)


class FitupPage(QWidget):
    """What is stated, the picture and the answer side by side; beneath them the grid as wide as the page."""

    def __init__(self, session: Session, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.session = session
        self.setObjectName("fitup_page")
        self.rows: tuple[ValveRow, ...] = ()
        self.planner = Planner(session, self)
        self.stated, self.answer = StatedSide(session), AnswerSide(self.planner)
        self.picture, self.prompt = FitPicture(session), LayOutPrompt(session)
        self.grid, self.message = ValveGrid(session), MessageRow()
        self.work = PageWork(self.planner, self.grid, self.prompt, self)
        self.commands: list[QAction] = []
        self.buttons: dict[str, QPushButton] = {}
        self._watch = WindowWatch(self, self.planner.shutdown)
        self._said: str | None = None
        self._lay_out()
        self._connect()

    # The parts

    def _lay_out(self) -> None:
        self.middle = QStackedWidget()
        self.middle.addWidget(self.picture)
        self.middle.addWidget(self.prompt)
        self.across = QSplitter(Qt.Orientation.Horizontal)
        for part in (self.stated, self.middle, self.answer):
            self.across.addWidget(part)
            self.across.setCollapsible(self.across.count() - 1, False)
        self.across.setStretchFactor(1, 1)
        self.across.setSizes([LEFT, MIDDLE, RIGHT])
        self.down = QSplitter(Qt.Orientation.Vertical)
        self.down.addWidget(self.across)
        self.down.addWidget(self._beneath())
        for place in range(2):
            self.down.setCollapsible(place, False)
            self.down.setStretchFactor(place, 1)
        self.down.setSizes([ABOVE, BELOW])
        rows = QVBoxLayout(self)
        rows.setContentsMargins(6, 4, 6, 4)
        rows.addWidget(self.down)

    def _beneath(self) -> QWidget:
        beneath = _Beneath()
        rows = QVBoxLayout(beneath)
        rows.setContentsMargins(0, 2, 0, 0)
        rows.setSpacing(5)
        rows.addWidget(self._bar())
        rows.addWidget(self.grid, 1)
        rows.addWidget(self.message)
        rows.addWidget(CautionRow(SPRING))
        return beneath

    def _bar(self) -> QWidget:
        bar = FlowBar()
        for command in page_commands.commands_for(self.work):
            action = action_of(command, self)
            action.setShortcutContext(Qt.ShortcutContext.WidgetWithChildrenShortcut)
            self.commands.append(action)
            bar.add(self._button(action))
        return bar

    def _button(self, action: QAction) -> QPushButton:
        button = self.buttons[action.objectName()] = QPushButton(action.text())
        button.setObjectName(f"{action.objectName()}_button")
        button.setToolTip(action.toolTip())
        button.setMinimumSize(QSize(24, 26))
        button.clicked.connect(action.trigger)
        return button

    def _connect(self) -> None:
        session = self.session
        session.changed.connect(self._follow)
        session.styled.connect(self._restyled)
        session.loaded.connect(self._loaded)
        self.planner.changed.connect(self._show)
        self.picture.chosen.connect(self.go_to)
        self.grid.selectionModel().currentChanged.connect(self._went)
        self.grid.valves.told.connect(session.announce)
        self.answer.lit.connect(self.light)
        self.answer.field_wanted.connect(self._go_to_field)
        self.prompt.wanted.connect(self.work.lay_out_valves)

    # Showing: nothing is done while the page is hidden

    @override
    def showEvent(self, event: QShowEvent) -> None:
        super().showEvent(event)
        self._watch.watch(self.window())
        self.planner.set_live(True)
        self._show()

    @override
    def hideEvent(self, event: QHideEvent) -> None:
        super().hideEvent(event)
        self.planner.set_live(False)

    def _follow(self, _state: object) -> None:
        if self.planner.live:
            self._show()

    def _restyled(self, _style: object) -> None:
        if self.planner.live:
            self.picture.view.zoomed = False  # the numbers are others
            self._show()

    def _loaded(self) -> None:
        self.picture.view.zoomed = False
        self.picture.current = None
        self.picture.light(())

    def _show(self) -> None:
        if not self.planner.live:
            return
        state, stale = self.session.state, self.planner.stale
        self.rows = rows_of(state.analysis, self.planner.answer)
        margins = Margins(state, self.session.shop)
        self.grid.valves.show_rows(self.rows, margins, stale=stale)
        self.middle.setCurrentIndex(0 if self.rows else 1)
        self.prompt.show_count()
        self.picture.show_rows(self.rows, stale=stale)
        self.stated.show_margins(margins)
        self.answer.show_answer(self.rows)
        self._enable()
        self._tell()
        self._say()

    def _say(self) -> None:
        """A plan that has come is said once, also to screen readers."""
        answer = self.planner.answer
        if answer is None or answer.problems or self.planner.busy or self.planner.stale:
            return
        said = self.tr("{standing}.").format(standing=self.answer.word.text())
        if answer.feasible:
            spread = wording.amount(answer.seat_spread, Kind.FORCE, self.session.style)
            said = self.tr("{standing}: seat loads within {spread}.").format(standing=said.rstrip("."), spread=spread)
        if said != self._said:
            self._said = said
            self.session.announce(said)

    def _enable(self) -> None:
        usable, some = self.planner.usable, bool(self.rows)
        locked = any(row.locked for row in self.rows)
        able = {
            "find_plan": some,
            "take_over_plan": usable,
            "keep_plan": usable,
            "copy_plan": usable,
            "lock_valves": some,
            "lock_all": some,
            "unlock_all": locked,
            "remove_valves": some,
        }
        for action in self.commands:
            action.setEnabled(able.get(action.objectName(), True))
            self.buttons[action.objectName()].setEnabled(action.isEnabled())

    def _tell(self) -> None:
        """What is wrong in the current cell."""
        index = self.grid.currentIndex()
        problem = self.grid.valves.problem(index.row(), COLUMNS[index.column()]) if index.isValid() else None
        if problem is None:
            self.message.tell(Judgement())
        else:
            self.message.tell(Judgement(sign=Sign.WRONG, what=problem.what, expected=problem.expected))

    # From valve to valve

    def go_to(self, row: int) -> None:
        """Make a valve the current one, in the grid and in the picture."""
        self.grid.go_to(row)
        self.picture.go_to(row)

    def _went(self, index: QModelIndex) -> None:
        self.picture.go_to(self.grid.current_valve() if index.isValid() else None)
        self._tell()

    def light(self, valves: tuple[str, ...]) -> None:
        """Light valves up and go to the first of them."""
        self.picture.light(valves)
        first = next((place for place, row in enumerate(self.rows) if row.id in valves), None)
        if first is not None:
            self.go_to(first)
        self.session.announce(self.tr("Shown: valve {valves}.").format(valves=", ".join(valves)))

    def _go_to_field(self, field: str) -> None:
        place = field.split(".")
        if place[0] == "valves":
            self._go_to_cell(place[1:])
            return
        go_to_field(self, field)

    def _go_to_cell(self, place: list[str]) -> None:
        index = int(place[0]) if place and place[0].isdigit() else -1
        row = next((at for at, row in enumerate(self.rows) if row.index == index), len(self.rows))
        column = place[1] if len(place) > 1 and place[1] in COLUMNS else FIRST
        self.grid.setFocus()
        self.grid.go_to(row, column)

    # What the window asks of the page

    def reset_view(self) -> None:
        """The whole picture again."""
        self.picture.view.reset()

    def copy_picture(self) -> None:
        """Copy the picture."""
        QGuiApplication.clipboard().setImage(image_of(self.picture))
        self.session.announce(self.tr("Picture copied."))

    def save_picture(self) -> None:
        """Ask where, and save the picture or the plan behind it."""
        kinds = self.tr("PNG, 300 dpi (*.png);;SVG (*.svg);;PDF (*.pdf);;CSV, the plan behind (*.csv)")
        path = asked_path(self, self.tr("Save picture"), kinds)
        if path is not None:
            self.save_picture_as(path)

    def save_picture_as(self, path: Path) -> None:
        """Save the picture in the format of the file's name; a failure is told and leaves the old file."""
        try:
            save_picture(self.picture, path, self.session.state.job.title)
        except SaveError as error:
            self.session.failed.emit(str(error))
            return
        self.session.announce(self.tr("Picture saved as {name}.").format(name=path.name))

    @override
    def keyPressEvent(self, event: QKeyEvent) -> None:
        if event.matches(QKeySequence.StandardKey.Cancel) and self.planner.busy:
            self.planner.cancel()
        else:
            super().keyPressEvent(event)
