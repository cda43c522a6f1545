"""The slip with what can be done with it: the bar above the grid, and beneath it what is wrong in the current cell."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import QModelIndex, QSize, Qt, Signal
from PySide6.QtWidgets import QLineEdit, QPushButton, QVBoxLayout, QWidget
from typing_extensions import override

from loadbench.units import Style
from ui.commands import Command, action_of
from ui.slip.columns import Column, column_in, room_for
from ui.slip.set_mean import mean_offered, take_mean, why_told
from ui.slip.slip_grid import SlipGrid
from ui.widgets.entry_edit import Judgement, Sign
from ui.widgets.flow_bar import FlowBar
from ui.widgets.message_row import MessageRow

if TYPE_CHECKING:
    from collections.abc import Callable

    from PySide6.QtGui import QAction

    from ui.session import Session


class SlipPart(QWidget):
    """The grid, what can be done with it, and what is wrong in the current cell."""

    begun = Signal()  # the grid was opened without a height that the job knows

    def __init__(self, session: Session, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.session = session
        self.grid = SlipGrid(session)
        self.message = MessageRow()
        self.new_height = QLineEdit()
        self.commands: list[QAction] = []
        self.buttons: dict[str, QPushButton] = {}
        self.bar = self._bar()
        rows = QVBoxLayout(self)
        rows.setContentsMargins(0, 0, 0, 0)
        rows.setSpacing(5)
        rows.addWidget(self.bar)
        rows.addWidget(self.grid, 1)
        rows.addWidget(self.message)
        self._connect()
        self.show_hints()
        self._show_offer()

    def _bar(self) -> QWidget:
        self.new_height.setObjectName("slip_new_height")
        examples = ("outer 1.900 in", self.tr("e.g. {height}").format(height="48.26 mm"))
        self.new_height.setFixedWidth(max(map(self.fontMetrics().horizontalAdvance, examples)) + 22)
        self.new_height.setMinimumHeight(26)
        self.new_height.setAccessibleName(self.tr("New height, with the part before it in a nest"))
        bar = FlowBar()
        self.read_button = self._read_button()
        bar.add(self.read_button)
        bar.add(self.new_height)
        for command in self._commands():
            action = action_of(command, self)
            action.setShortcutContext(Qt.ShortcutContext.WidgetWithChildrenShortcut)
            self.commands.append(action)
            bar.add(self._button(action))
        self.buttons["slip_enter_right"].setCheckable(True)
        self.buttons["slip_sort"].setText(self.tr("Sort"))  # its tip says by what
        return bar

    def _button(self, action: QAction) -> QPushButton:
        button = self.buttons[action.objectName()] = QPushButton(action.text())
        button.setObjectName(f"{action.objectName()}_button")
        button.setToolTip(action.toolTip())
        button.setMinimumSize(QSize(24, 26))
        button.clicked.connect(action.trigger)
        return button

    def _commands(self) -> tuple[Command, ...]:
        tr = self.tr
        return (
            _command(
                "slip_add_height", tr("Add height"), tr("Add a column for the height typed here"), self.add_height
            ),
            _command("slip_remove_height", tr("Remove height"), tr("Take the current column out"), self.remove_height),
            _command(
                "slip_remove_springs", tr("Remove springs"), tr("Take the chosen springs out"), self.remove_springs
            ),
            _command("slip_sort", tr("Sort by column"), tr("Rising, falling, then as entered"), self._sort, "Alt+Down"),
            _command("slip_copy_all", tr("Copy all"), tr("Copy the whole slip for a spreadsheet"), self.copy_all),
            _command("slip_enter_right", tr("Enter moves right"), tr("Else Enter moves down"), self._turn_enter),
            _command(
                "slip_take_mean",
                tr("Mean to the bench"),
                tr("Take the mean of the springs as the bench\u2019s readings, where it has none"),
                self.take_mean,
            ),
        )

    def _sort(self) -> None:
        self.grid.sort_by_current()

    def _read_button(self) -> QPushButton:
        """Hidden where the window has no such command."""
        button = QPushButton(self.tr("Read a printout\u2026"))
        button.setObjectName("slip_read_printout")
        button.setMinimumSize(QSize(24, 26))
        button.hide()
        return button

    def _connect(self) -> None:
        model, view = self.grid.model, self.grid.view
        model.refreshed.connect(self.show_hints)
        model.refreshed.connect(self._show_offer)
        model.told.connect(self.session.announce)
        view.selectionModel().currentChanged.connect(self._tell)
        self.new_height.returnPressed.connect(self.add_height)
        self.session.styled.connect(self.show_hints)

    @override
    def minimumSizeHint(self) -> QSize:
        """For the width of now: Qt would reckon with the bar wrapped as in the narrowest page."""
        least, layout = super().minimumSizeHint(), self.layout()
        height = least.height() if layout is None else layout.minimumHeightForWidth(max(self.width(), least.width()))
        return QSize(least.width(), height)

    def show_hints(self) -> None:
        """The example of a height, and what is wrong in the current cell."""
        example = "1.900 in" if self.session.style is Style.INCH_POUND else "48.26 mm"
        self.new_height.setPlaceholderText(self.tr("e.g. {height}").format(height=example))
        self._tell()

    def _tell(self) -> None:
        """What is wrong in the current cell, else in the first wrong one."""
        model = self.grid.model
        index = self.grid.source_of(self.grid.view.currentIndex())
        problem = model.problem(index.row(), index.column()) if index.isValid() else None
        if problem is None:
            self.message.tell(Judgement())
            return
        self.message.tell(Judgement(sign=Sign.WRONG, what=problem.what, expected=problem.expected))

    def _show_offer(self) -> None:
        """The way to the bench is there where the bench has no readings of its own."""
        self.buttons["slip_take_mean"].setVisible(mean_offered(self.session) is not None)

    # What can be done

    def take_mean(self) -> None:
        """The mean of the springs as readings of the one spring on the bench; what was taken is said."""
        offered = mean_offered(self.session)
        if offered is None:
            none = self.tr("Nothing was taken: the bench has readings already, or no spring was tested.")
            self.session.announce(none)
        elif not offered.readings:
            self.session.announce(why_told(offered))
        else:
            take_mean(self.session)

    def start(self) -> None:
        """Open the grid at the heights that the job knows, else ask for the first; then go to the first cell."""
        known = self._known_heights()
        if not known:
            self.begun.emit()
            self.new_height.setFocus()
            self.session.announce(self.tr("Type the first height, then the loads beneath it."))
            return
        self._open_at(known)

    def _open_at(self, columns: list[Column]) -> None:
        for column in columns:
            self.grid.model.add_column(column)
        self.begun.emit()
        self.grid.view.setFocus()
        self.grid.go_to(0, self.grid.first_load())

    def _known_heights(self) -> list[Column]:
        """The heights of the spec, else of the job's own readings, else the installed height; none is guessed."""
        spring = self.session.state.job.spring
        style = self.session.state.analysis.stated.style
        entered = [point.height for point in spring.spec] or [reading.height for reading in spring.readings]
        entered = [height for height in dict.fromkeys(entered) if height]
        if not entered:
            entered = [spring.installed_height]
        found = [column_in(height, style or self.session.style) for height in entered if height]
        return [column for column in found if column is not None]

    def paste_slip(self) -> None:
        """Take a whole slip from the clipboard into an empty page."""
        if not self._known_heights():
            self.begun.emit()
        else:
            self.start()
        self.grid.go_to(0, 0)
        self.grid.view.paste()

    def add_height(self) -> None:
        """Add a column for the height that is typed beside the button."""
        column = column_in(self.new_height.text(), self.session.style)
        if column is None:
            what = (
                self.tr("This is not a height.")
                if self.new_height.text().strip()
                else self.tr("No height is typed yet.")
            )
            self.message.tell(
                Judgement(sign=Sign.WRONG, what=what, expected=self.tr("a height such as 1.900 in, or outer 1.900 in"))
            )
            self.new_height.setFocus()
            return
        if not room_for(self.grid.model.columns, column.part):
            self.message.tell(Judgement(sign=Sign.WRONG, what=self.tr("Ten heights of one part are there already.")))
            return
        self.new_height.clear()
        self.grid.model.add_column(column)
        place = next(p for p, other in enumerate(self.grid.model.columns) if other.same(column))
        self.grid.view.setFocus()
        self.grid.go_to(0, self.grid.first_load() + place)

    def remove_height(self) -> None:
        """Take the current column out, with its readings; undo brings them back."""
        column = self.grid.current_column()
        if column is None:
            self.session.announce(self.tr("Choose a cell in the column of a height first."))
            return
        self.grid.model.remove_column(column)

    def remove_springs(self) -> None:
        """Take the chosen springs out; undo brings them back."""
        rows = self.grid.chosen_rows()
        if rows:
            self.grid.model.remove_rows(rows)

    def copy_all(self) -> None:
        """The whole slip to the clipboard, with its heads."""
        current: QModelIndex = self.grid.view.currentIndex()
        self.grid.view.selectAll()
        self.grid.view.copy()
        self.grid.view.clearSelection()
        self.grid.view.setCurrentIndex(current)

    def _turn_enter(self) -> None:
        self.grid.view.down = not self.grid.view.down
        self.buttons["slip_enter_right"].setChecked(not self.grid.view.down)


def _command(name: str, text: str, tip: str, run: Callable[[], None], keys: str = "") -> Command:
    return Command(name=name, text=text, tip=tip, run=run, keys=(keys,) if keys else ())
