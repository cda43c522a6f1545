"""The worksheet: how it is done, each valve with what was measured and what to do, and what the shelf has."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import QModelIndex, QSize, Qt, Signal
from PySide6.QtWidgets import QLabel, QPushButton, QStackedWidget, QVBoxLayout, QWidget

from loadbench.assembly.setting_result import Way
from loadbench.findings.finding import Level
from ui.fitup import valve_edits
from ui.fitup.lay_out_prompt import LayOutPrompt
from ui.setting import wording
from ui.setting.sheet_columns import STATED, first_of
from ui.setting.sheet_grid import SheetGrid
from ui.setting.sheets import Order, Sheets
from ui.setting.shim_stock import bucket_stock, pushrod_stock
from ui.setting.wording import tr
from ui.trust.word_row import WordRow
from ui.widgets.card import Card
from ui.widgets.entry_edit import Judgement, Sign
from ui.widgets.link import Link
from ui.widgets.message_row import MessageRow
from ui.widgets.wrapped_label import WrappedLabel

if TYPE_CHECKING:
    from loadbench.assembly.setting_result import SettingSheet, ValveSetting
    from ui.session import Session
    from ui.state import State

ORDERS: dict[str, Order] = {"cylinder": "cylinder", "firing": "firing"}


class Prompt(LayOutPrompt):
    """How many cylinders, for the worksheet; the same question has its first place on the Fit-up page."""

    def __init__(self, session: Session) -> None:
        super().__init__(session)
        self.setObjectName("setting_prompt")
        self.cylinders.setObjectName("setting__engine__cylinders")
        self.each.setObjectName("setting_valves_each")
        self.button.setObjectName("setting_start")
        told = next(label for label in self.findChildren(QLabel) if label.wordWrap())
        told.setText(tr("No valves yet. Lay them out, then type what is measured on each, or paste it."))


class SheetView(QWidget):
    """Owns no value: what is typed goes to the session, and the sheet comes from the state."""

    said = Signal(str)
    field_wanted = Signal(str)

    def __init__(self, session: Session, sheets: Sheets, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.session, self.sheets = session, sheets
        self.setObjectName("setting_sheet_view")
        self.sheet: SettingSheet | None = None
        self.steps = WrappedLabel()
        self.steps.setContentsMargins(4, 0, 4, 0)
        self.card = Card("", lambda: [self.steps], opened=True, inner=True, name="setting_steps")
        self.grid, self.message, self.prompt = SheetGrid(session), MessageRow(), Prompt(session)
        self.summary, self.waits = WrappedLabel(role="quiet"), Link("", "")
        self.shims, self.pushrods = bucket_stock(session), pushrod_stock(session)
        self._lay_out()
        self._connect()

    # Making

    def _lay_out(self) -> None:
        words = [
            ("cylinder", tr("Cylinder order"), tr("Valves as the cylinders are numbered")),
            ("firing", tr("Firing order"), tr("Valves as the cylinders fire: the engine is turned least")),
        ]
        self.orders = WordRow("setting_order", words, last_right=True)
        self.lay_out_button = self._button("setting_lay_out_button", tr("Lay out valves"))
        self.copy_button = self._button("setting_copy_button", tr("Copy worksheet"))
        self.waits.setObjectName("setting_waits")
        drawn = QWidget()
        rows = QVBoxLayout(drawn)
        rows.setContentsMargins(0, 0, 0, 0)
        rows.setSpacing(3)
        rows.addWidget(self.card)
        rows.addWidget(self.waits, 0, Qt.AlignmentFlag.AlignLeft)
        rows.addWidget(self.grid, 1)
        for part in (self.message, self.summary, self.shims, self.pushrods):
            rows.addWidget(part)
        self.summary.setObjectName("setting_summary")
        self.summary.setContentsMargins(6, 0, 6, 0)
        self.stack = QStackedWidget()
        self.stack.addWidget(drawn)
        self.stack.addWidget(self.prompt)
        column = QVBoxLayout(self)
        column.setContentsMargins(8, 2, 8, 0)
        column.setSpacing(3)
        column.addWidget(self.orders)
        column.addWidget(self.stack, 1)

    def _button(self, name: str, text: str) -> QPushButton:
        button = QPushButton(text)
        button.setObjectName(name)
        button.setMinimumSize(QSize(24, 26))
        self.orders.add(button)
        return button

    def _connect(self) -> None:
        self.orders.chosen.connect(self._reordered)
        self.lay_out_button.clicked.connect(self.lay_out_valves)
        self.copy_button.clicked.connect(self.copy_table)
        self.prompt.wanted.connect(self.lay_out_valves)
        self.grid.selectionModel().currentChanged.connect(self._went)
        self.grid.sheet_model.told.connect(self.session.announce)
        self.waits.clicked.connect(self._lead)

    # Showing

    def show_state(self, state: State, _line: str) -> None:
        """Show the worksheet of a state; it has the valves of both lines."""
        current, index = self.grid.currentIndex(), self._current_valve()
        self.sheet = sheet = self.sheets.sheet(state.analysis, ORDERS[self.orders.key])
        self.grid.sheet_model.show_sheet(sheet)
        self.stack.setCurrentIndex(0 if sheet.rows else 1)
        self.prompt.show_count()
        self._back_to(index, current.column())
        self.card.set_title(wording.way_word(sheet.way) if sheet.way is not None else tr("How it is set"))
        style = self.session.style
        steps = [f"{place}. {step.told(style)}" for place, step in enumerate(sheet.steps, 1)]
        self.steps.tell("\n".join(steps))
        self.summary.tell(self._summary(sheet))
        self._show_waits(sheet)
        self.shims.setVisible(sheet.way is Way.BUCKET_SHIM)
        self.pushrods.setVisible(sheet.way is Way.PUSHROD_LENGTH)
        self.copy_button.setEnabled(bool(sheet.rows))
        self.orders.buttons["firing"].setEnabled(bool(state.job.engine.firing_order) or self.orders.key == "firing")
        self._tell()

    def _summary(self, sheet: SettingSheet) -> str:
        """How far the work is, and what is to be bought."""
        if not sheet.rows:
            return ""
        style, total = self.session.style, len(sheet.rows)
        counts = {level: sum(row.level is level for row in sheet.rows) for level in Level}
        initialled = sum(bool(row.set_by) for row in sheet.rows)
        told = [
            tr("{measured} of {total} measured, {right} as wanted, {initialled} initialled.").format(
                measured=sum(_measured(row, sheet.way) for row in sheet.rows), total=total, right=counts[Level.CLEAR],
                initialled=initialled,
            )
        ]  # fmt: skip
        if sheet.to_buy:
            sizes = ", ".join(wording.number(size, style) for size in sheet.to_buy)
            unit = wording.length(sheet.to_buy[0], style).split("\u2009")[-1]
            told.append(tr("Shims to buy: {sizes} {unit}.").format(sizes=sizes, unit=unit))
        told += [note.told(style) for note in sheet.notes]
        return " ".join(told)

    def wanting(self) -> str:
        """The first field outside the grid that the sheet waits for; "" where there is none."""
        if self.sheet is None:
            return ""
        fields = [*self.sheet.missing, *(field for row in self.sheet.rows for field in row.missing)]
        return next((field for field in fields if not field.startswith("valves")), "")

    def _show_waits(self, sheet: SettingSheet) -> None:
        field = self.wanting()
        self.waits.setVisible(bool(field and sheet.rows))
        if field:
            name = wording.waited_for((field,))
            self.waits.setText(tr("Waits for: {name}").format(name=name))
            self.waits.setAccessibleName(tr("Enter {name}, which the worksheet waits for").format(name=name))
            self.waits.setToolTip(self.waits.accessibleName())
            self.waits.updateGeometry()

    def _tell(self) -> None:
        """What is wrong in the current cell, and the current valve in a sentence."""
        index, model = self.grid.currentIndex(), self.grid.sheet_model
        problem = model.problem(index.row(), model.columns[index.column()]) if index.isValid() else None
        if problem is None:
            self.message.tell(Judgement())
        else:
            self.message.tell(Judgement(sign=Sign.WRONG, what=problem.what, expected=problem.expected))
        self.said.emit(model.told_of(index.row()) if index.isValid() else "")

    # Going

    def _current_valve(self) -> int | None:
        row = self.grid.sheet_model.row(self.grid.currentIndex().row())
        return None if row is None else row.index

    def _back_to(self, index: int | None, column: int) -> None:
        """The same valve and column, wherever they now stand."""
        model = self.grid.sheet_model
        row = next((at for at, each in enumerate(model.rows) if each.index == index), None)
        if row is not None and 0 <= column < len(model.columns):
            place = model.index(row, column)
            if self.grid.currentIndex() != place:
                self.grid.setCurrentIndex(place)

    def _went(self, _index: QModelIndex) -> None:
        self._tell()

    def _reordered(self, _key: str) -> None:
        self.show_state(self.session.state, self.session.line)

    def _lead(self) -> None:
        if field := self.wanting():
            self.field_wanted.emit(field)

    def go_to_valve(self, index: int, column: str) -> None:
        """Make a cell of a valve, by its place in the job, the current one."""
        row = next((at for at, each in enumerate(self.grid.sheet_model.rows) if each.index == index), 0)
        self.grid.setFocus()
        self.grid.go_to(row, column if column in STATED else None)

    # What can be done

    def lay_out_valves(self) -> None:
        """Add the valves that the engine has, then go to the first thing to measure; without cylinders ask for them."""
        session = self.session
        if self.prompt.isVisible():
            self.prompt.cylinders.commit()
        cylinders = session.job.engine.cylinders
        if not cylinders:
            self._ask_cylinders()
            return
        valves = valve_edits.laid_out(session.job, cylinders, self.prompt.valves_each)
        count = len(valves) - len(session.job.valves)
        if count:
            session.set_fields(self.tr("lay out %n valve(s)", "", count), {"valves": valves})
            told = self.tr("%n valve(s) laid out. Type what is measured; Enter moves down.", "", count)
        else:
            told = tr("Every valve of the engine is there already.")
        session.announce(told)
        self.grid.setFocus()
        self.grid.go_to(0, first_of(self.sheet.way if self.sheet else None))

    def _ask_cylinders(self) -> None:
        if self.prompt.isVisible():
            self.prompt.cylinders.setFocus()
        else:
            self.field_wanted.emit("engine.cylinders")
        self.session.announce(tr("Type how many cylinders the engine has."))

    def copy_table(self) -> None:
        """The whole worksheet to the clipboard, for a spreadsheet."""
        self.grid.copy_all()


def _measured(row: ValveSetting, way: Way | None) -> bool:
    """Whether what the way needs of a valve was measured; a bottomed plunger's own travel, else lash or depth."""
    found = row.travel if way is Way.PRELOAD_BOTTOMED else row.found
    return found is not None
