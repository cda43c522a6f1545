"""What stands beneath the pictures: figures; beneath the lift durations and another lobe; the sweep speed by speed."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import QSize, Signal
from PySide6.QtWidgets import QPushButton, QStackedWidget, QVBoxLayout, QWidget
from typing_extensions import override

from loadbench.analysis.motion.held_lift import Same
from loadbench.units import Kind, Style
from ui.help.key import give_help_key
from ui.motion.comparison import LOBE, VALVE, Comparison, Table
from ui.motion.figure_table import FigureTable
from ui.motion.lobe_rows import NO_ROWS, LobeRows, compared_rows, duration_rows
from ui.motion.lobe_table import LobeTable, SpeedTable
from ui.motion.speeds_rows import speed_table, told_sweep
from ui.motion.typed_quantity import TypedQuantity
from ui.printout.chooser import NamedChooser
from ui.trust.word_row import WordRow
from ui.widgets.flow_bar import FlowBar
from ui.widgets.message_row import MessageRow
from ui.widgets.wrapped_label import WrappedLabel

if TYPE_CHECKING:
    from loadbench.analysis import LineAnalysis
    from loadbench.motion.lift import Lift
    from ui.lift_import.compare import CompareDialog
    from ui.motion.comparison import Beside
    from ui.motion.seen import Seen
    from ui.session import Session

FIGURES, DURATIONS, LOBES, BY_SPEED = "figures", "durations", "lobes", "by_speed"


class LowerPane(QWidget):
    """The figures, or one of the lobe's tables with its tools above it, or the sweep speed by speed."""

    changed = Signal()  # another table, another lobe beside it, another side
    said = Signal(str)

    def __init__(self, session: Session, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.session, self.comparison = session, Comparison(session, self)
        self.figures, self.lobes, self.by_speed = FigureTable(session), LobeTable(session), SpeedTable(session)
        self.tools, self.message, self.needs = FlowBar(), MessageRow(), WrappedLabel(role="quiet")
        self._rows_for: object = None
        self._dialog: CompareDialog | None = None
        self._make_tools()
        self._lay_out()
        self._connect()
        self._show_tools()
        self.tools.hide()
        self.speed_words.hide()

    # The parts

    def _make_tools(self) -> None:
        tr = self.tr
        self.words = WordRow(
            "motion_lower",
            [
                (FIGURES, tr("Figures"), tr("Figures of the lobe and the moving masses")),
                (DURATIONS, tr("Durations"), tr("How long the lift stays open, and what lash takes of it")),
                (LOBES, tr("Two lobes"), tr("Another lobe beside this one, for a look: the job stays as it is")),
            ],
        )
        self.speed_words = WordRow(
            "motion_speeds_lower",
            [
                (FIGURES, tr("Figures"), tr("Figures at the speed limit")),
                (BY_SPEED, tr("Speed by speed"), tr("What the sweep found at each speed, and where contact is lost")),
            ],
        )
        self.words.setParent(self)
        self.words.hide()  # it only knows which holds: its buttons stand among the tools, and wrap with them
        self.side = NamedChooser("lobe_side", tr("At"), tr("Whether the lift of the valve or of the lobe is looked at"))
        tip = tr("One more lift at which the duration is told; empty for the usual ones alone.")
        self.extra = TypedQuantity(self.session, Kind.LENGTH, "lobe_extra", tr("Also at"), tip)
        self.beside = NamedChooser("lobe_beside", tr("Beside"), tr("What stands beside this lobe"))
        self.open_button = QPushButton()
        self.open_button.setObjectName("lobe_open")
        self.open_button.setText(tr("Lift table\u2026"))
        self.open_button.setToolTip(tr("Read a lift table from a file or the clipboard to stand beside this lobe."))
        self.open_button.setMinimumHeight(26)
        for part in (*self.words.buttons.values(), self.side, self.extra, self.beside, self.open_button):
            self.tools.add(part)

    def _lay_out(self) -> None:
        self.stack = QStackedWidget()
        self.needs.setContentsMargins(8, 8, 8, 8)
        self.needs.setObjectName("lobe_needs")
        for part in (self.figures, self.lobes, self.by_speed, self.needs):
            self.stack.addWidget(part)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(2)
        self.tools.setContentsMargins(8, 2, 8, 0)
        self.message.setContentsMargins(8, 0, 8, 0)
        self.speed_words.setContentsMargins(8, 2, 8, 0)
        column.addWidget(self.tools)
        column.addWidget(self.speed_words)
        column.addWidget(self.message)
        column.addWidget(self.stack, 1)

    def _connect(self) -> None:
        self.words.chosen.connect(self._table_chosen)
        self.extra.edit.told.connect(self.message.tell)
        self.message.chosen.connect(self.extra.edit.take)
        self.extra.edit.changed.connect(self.changed)
        self.comparison.changed.connect(self._compared)
        self.side.box.activated.connect(lambda: self.comparison.look_at(self.side.box.currentData()))
        self.beside.box.activated.connect(lambda: self.comparison.choose(self.beside.box.currentData()))
        self.open_button.clicked.connect(self.open_table)
        self.lobes.said.connect(self.said)
        self.by_speed.said.connect(self.said)
        self.speed_words.chosen.connect(self._table_chosen)

    # Showing

    @property
    def key(self) -> str:
        """Which table is on show."""
        if not self.speed_words.isHidden():
            return self.speed_words.key
        return FIGURES if self.tools.isHidden() else self.words.key

    def show_lift(self, lift: bool, speeds: bool = False) -> None:
        """Offer the lobe's tables, as beneath the lift, or the sweep speed by speed, or neither."""
        self.tools.setVisible(lift)
        self.speed_words.setVisible(speeds)
        for table in (self.figures, self.lobes, self.by_speed):  # a row less where there is a row of tools
            table.setMinimumHeight((2 if lift or speeds else 3) * table.verticalHeader().defaultSectionSize())
        if not lift:
            self.stack.setCurrentWidget(self.figures)
            self.message.hide()

    def beside_of(self, line: LineAnalysis) -> Beside | None:
        """The other lobe, where two are looked at."""
        return self.comparison.beside(line) if self.key == LOBES else None

    def show_line(self, line: LineAnalysis, beside: Beside | None, seen: Seen | None = None) -> None:
        """Show the lobe's table of a line, or its sweep speed by speed; the figures are shown by themselves."""
        if self.key == FIGURES:
            self.stack.setCurrentWidget(self.figures)
            return
        if self.key == BY_SPEED:
            self._show_speeds(seen)
            return
        self._fill_choices()
        rows, why = self._rows(line, beside)
        self.needs.tell(why)
        self.stack.setCurrentWidget(self.needs if why else self.lobes)
        if not why:
            self.lobes.show_rows(rows)

    def _show_speeds(self, seen: Seen | None) -> None:
        found = None if seen is None else told_sweep(seen)
        if seen is None or found is None:
            self.needs.tell(self.tr("The sweep is not there yet."))
            self.stack.setCurrentWidget(self.needs)
            return
        self.stack.setCurrentWidget(self.by_speed)
        key = found, self.session.style
        if key != self._speeds_for:
            self._speeds_for = key
            self.by_speed.show_rows(speed_table(seen, self.session.style))

    _speeds_for: object = None

    def _rows(self, line: LineAnalysis, beside: Beside | None) -> tuple[LobeRows, str]:
        comparison, motion, style = self.comparison, line.motion, self.session.style
        lift = motion.valve if comparison.side == VALVE else motion.lobe
        if lift is None:
            return NO_ROWS, self.tr("The lift on this side waits for the rocker ratio.")
        if self.key == LOBES:
            if beside is None:
                return NO_ROWS, self.tr("Choose what stands beside this lobe: a line, a law, or a lift table.")
            if beside.lift is None:
                return NO_ROWS, beside.lobe.note or self.tr("The other lobe has no lift on this side.")
        lash = line.stated.value("valve_gear.lash") if motion.dynamic is None else motion.dynamic.lash
        return self._made(lift, lash, beside, style), ""

    def _made(self, lift: Lift, lash: float | None, beside: Beside | None, style: Style) -> LobeRows:
        """Made anew only where what they rest on is another: most edits leave the lift as it is."""
        side, extra = self.comparison.side, self.extra.edit.value
        other = None if beside is None else beside.lift
        key = (self.key, Same(lift), Same(other), None if beside is None else beside.name, lash, extra, side, style)
        if key != self._rows_for:
            if self.key == LOBES:
                self._rows_made = compared_rows(lift, beside, extra, style)
            else:
                self._rows_made = duration_rows(lift, lash, extra, side, style)
            self._rows_for = key
        return self._rows_made

    _rows_made: LobeRows = NO_ROWS

    def _fill_choices(self) -> None:
        sides = [(self.tr("the valve"), VALVE), (self.tr("the lobe"), LOBE)]
        self.side.box.fill(sides, self.comparison.side)
        self.beside.box.fill(self.comparison.choices(), self.comparison.choice)

    def _show_tools(self) -> None:
        key = self.words.key
        self.side.setVisible(key != FIGURES)
        self.extra.setVisible(key != FIGURES)
        self.beside.setVisible(key == LOBES)
        self.open_button.setVisible(key == LOBES)
        self.message.setVisible(key != FIGURES and bool(self.message.text.text()))

    def needed_height(self) -> int:
        """How tall it is with all rows of its table."""
        shown = self.stack.currentWidget()
        table = shown if isinstance(shown, FigureTable | LobeTable) else self.lobes
        bars = (each for each in (self.tools, self.speed_words) if not each.isHidden())
        tools = sum(each.heightForWidth(max(self.width(), 1)) + 4 for each in bars)
        return table.needed_height() + tools

    @override
    def minimumSizeHint(self) -> QSize:
        """For the width of now: Qt would reckon with the tools wrapped as in the narrowest pane."""
        least, layout = super().minimumSizeHint(), self.layout()
        height = least.height() if layout is None else layout.minimumHeightForWidth(max(self.width(), 260))
        return QSize(least.width(), height if height > 0 else least.height())

    # Choosing

    def _table_chosen(self, _key: str) -> None:
        self._show_tools()
        self.changed.emit()

    def _compared(self) -> None:
        self._fill_choices()
        self.changed.emit()

    def open_table(self) -> None:
        """Open the window that reads a lift table to stand beside."""
        from ui.lift_import.compare import CompareDialog

        if self._dialog is None:
            settings = getattr(self.window(), "settings", None)
            if settings is None:
                from ui.settings import Settings

                settings = Settings()
            dialog = self._dialog = CompareDialog(self.session, settings, self.window())
            dialog.handed.connect(self._take)
            dialog.finished.connect(self._forget)
            show = getattr(self.window(), "show_help", None)
            if callable(show):
                give_help_key(dialog, "lift_import", show)
        self._dialog.show()
        self._dialog.raise_()
        self._dialog.activateWindow()

    def _take(self, rows: tuple[tuple[str, str], ...], angle: str, side: str, name: str) -> None:
        self.comparison.take(Table(rows=rows, angle=angle, side=side, name=name))
        self.session.announce(self.tr("{name} stands beside this lobe.").format(name=name))

    def _forget(self, _how: int) -> None:
        self._dialog = None

    def shutdown(self) -> None:
        """Close what is open; its thread ends with it."""
        if self._dialog is not None:
            self._dialog.close()
