"""What stands above one column of the preview: how sure it is, what it holds, its unit, its height, its part."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from PySide6.QtCore import QEvent, QObject, Qt, Signal
from PySide6.QtWidgets import QHBoxLayout, QLabel, QLineEdit, QWidget
from typing_extensions import override

from loadbench.errors import InputError
from loadbench.findings.finding import Level
from loadbench.readings.printout.headers import KIND_OF
from loadbench.readings.printout.meaning import Meaning
from loadbench.units import Kind, Style, parse, with_unit
from ui.icons import level_pixmap, pixmap
from ui.printout.chooser import Chooser
from ui.printout.wording import Lack, column_title, lacking, meaning_word, part_word, quantity, style_of
from ui.theme import theme

if TYPE_CHECKING:
    from loadbench.readings.printout.meaning import Column

UNITS = {
    Kind.LENGTH: ("in", "thou", "mm", "cm"),
    Kind.FORCE: ("lbf", "ozf", "N", "daN", "kN", "kgf"),
    Kind.RATE: ("lbf/in", "N/mm", "N/m", "kgf/mm"),
}
PARTS = ("", "outer", "inner", "pair")
WITH_PART = (Meaning.LOAD, Meaning.HEIGHT, Meaning.RATE)
CHOOSER_SIDES, EDIT_SIDES = 40, 24  # beside the text: frame, padding, arrow
ROWS = ("sign", "meaning", "unit", "height", "part")


class ColumnHead(QObject):
    """The widgets of one column; whoever lays them out gives them their places."""

    corrected = Signal(object)  # the Column as it should be
    entered = Signal(int)  # the focus came to one of its widgets
    refused = Signal(str)  # what was typed is no height, and why

    def __init__(self, place: int, parent: QWidget) -> None:
        super().__init__(parent)
        self.place = place
        self.column: Column | None = None
        self._style = Style.INCH_POUND
        self.sign = Sign(parent)
        self.meaning = Chooser(f"column_{place}_meaning", parent, letters=4)
        for meaning in Meaning:
            self.meaning.addItem(meaning_word(meaning), meaning)
        self.unit = Chooser(f"column_{place}_unit", parent, letters=4)
        self.part = Chooser(f"column_{place}_part", parent, letters=4)
        self.height = QLineEdit(parent)
        self.height.setObjectName(f"column_{place}_height")
        self.height.setMinimumHeight(26)
        widest = max(self.meaning.fontMetrics().horizontalAdvance(meaning_word(each)) for each in Meaning)
        self.meaning.view().setMinimumWidth(widest + CHOOSER_SIDES)
        self.meaning.activated.connect(self._choose_meaning)
        self.unit.activated.connect(self._choose_unit)
        self.part.activated.connect(self._choose_part)
        self.height.editingFinished.connect(self._type_height)
        for widget in self.inputs:
            widget.installEventFilter(self)

    @property
    def inputs(self) -> tuple[QWidget, ...]:
        """The widgets that take the focus, from the top."""
        return (self.meaning, self.unit, self.height, self.part)

    @property
    def widgets(self) -> dict[str, QWidget]:
        """All of them, by their row."""
        return dict(zip(ROWS, (self.sign, *self.inputs), strict=True))

    # Showing

    def wants(self) -> set[str]:
        """The rows that this column has something to show in."""
        if self.column is None:
            return set()
        meaning, rows = self.column.meaning, {"sign", "meaning"}
        if meaning in KIND_OF:
            rows.add("unit")
        if meaning is Meaning.LOAD and self.one_height:
            rows.add("height")
        if meaning in WITH_PART:
            rows.add("part")
        return rows

    one_height = True
    """Whether each column of loads has a height of its own: a row is a spring."""

    def show_column(self, column: Column, style: Style, *, one_height: bool) -> None:
        """Show a column as it is understood now."""
        self.column, self.one_height = column, one_height
        self._style = style = style_of(column, style)
        self.sign.show_column(column, lacking(column, one_height=one_height))
        self.meaning.setCurrentIndex(self.meaning.findData(column.meaning))
        self._fill_unit(column)
        self.part.fill([(part_word(part), part) for part in dict.fromkeys((*PARTS, column.part))], column.part)
        if not self.height.hasFocus() or not self.height.isModified():
            self.height.setText("" if column.height is None else quantity(column.height, Kind.LENGTH, style))
            self.height.setCursorPosition(0)
        self.height.setPlaceholderText(self.tr("height?"))
        self._name(column)

    def _fill_unit(self, column: Column) -> None:
        kind = KIND_OF.get(column.meaning)
        units = list(dict.fromkeys((*UNITS[kind], column.unit or ""))) if kind is not None else []
        choices = [(unit, unit) for unit in units if unit]
        if kind is not None and column.unit is None:
            choices.insert(0, (self.tr("unit?"), ""))
        self.unit.fill(choices, column.unit or "")

    def _name(self, column: Column) -> None:
        title = column_title(column)
        names = (
            (self.meaning, self.tr("{column}: what it holds")),
            (self.unit, self.tr("{column}: unit")),
            (self.height, self.tr("{column}: height of these loads")),
            (self.part, self.tr("{column}: part")),
        )
        for widget, name in names:
            widget.setAccessibleName(name.format(column=title))
            widget.setAccessibleDescription(column.why or self.sign.word.text())
            widget.setToolTip(title)

    def room(self) -> int:
        """The width that shows all of it."""
        metrics = self.meaning.fontMetrics()
        words = [box.currentText() for box in (self.meaning, self.unit, self.part)]
        chosen = max(metrics.horizontalAdvance(word) for word in words) + CHOOSER_SIDES
        typed = metrics.horizontalAdvance(self.height.text() or self.height.placeholderText()) + EDIT_SIDES
        return max(chosen, typed, self.sign.sizeHint().width())

    # Correcting

    def _choose_meaning(self) -> None:
        meaning = Meaning(self.meaning.currentData())
        if self.column is None or meaning is self.column.meaning:
            return
        kept = self.column.part if meaning in WITH_PART else ""
        same_kind = KIND_OF.get(meaning) is KIND_OF.get(self.column.meaning)
        unit = self.column.unit if same_kind else None
        height = self.column.height if meaning is Meaning.LOAD else None
        self._correct(replace(self.column, meaning=meaning, part=kept, unit=unit, height=height))

    def _choose_unit(self) -> None:
        unit = self.unit.currentData()
        if self.column is not None and unit and unit != self.column.unit:
            self._correct(replace(self.column, unit=unit, assumed=False))

    def _choose_part(self) -> None:
        part = self.part.currentData()
        if self.column is not None and part != self.column.part:
            self._correct(replace(self.column, part=part))

    def _type_height(self) -> None:
        if self.column is None or not self.height.isModified():
            return
        self.height.setModified(False)
        text = self.height.text().strip()
        try:
            found = parse(with_unit(text, Kind.LENGTH, self._style), Kind.LENGTH, self._style).value if text else None
        except InputError as error:
            self.refused.emit(self.tr("{what} Wanted: {expected}.").format(what=error.what, expected=error.expected))
            self.show_column(self.column, self._style, one_height=self.one_height)
            return
        if found is None or found <= 0:
            self.show_column(self.column, self._style, one_height=self.one_height)
        elif found != self.column.height:
            self._correct(replace(self.column, height=found))

    def _correct(self, column: Column) -> None:
        self.corrected.emit(replace(column, sure=True, why=""))

    @override
    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        if event.type() is QEvent.Type.FocusIn:
            self.entered.emit(self.place)
        elif event.type() is QEvent.Type.FocusOut and watched is self.height:
            self.height.deselect()
        return False


class Sign(QWidget):
    """How sure a column is: a sign and its word."""

    def __init__(self, parent: QWidget) -> None:
        super().__init__(parent)
        self._level: Level | None = None
        self._icon = QLabel()
        self._icon.setFixedWidth(18)
        self.word = QLabel()
        self.word.setTextFormat(Qt.TextFormat.PlainText)
        row = QHBoxLayout(self)
        row.setContentsMargins(4, 0, 2, 0)
        row.setSpacing(3)
        row.addWidget(self._icon)
        row.addWidget(self.word, 1)
        theme().changed.connect(self._draw)

    def show_column(self, column: Column, lacks: Lack | None) -> None:
        """Tell how sure a column is, or what it lacks."""
        if lacks is not None:
            words = {Lack.HEIGHT: self.tr("No height"), Lack.UNIT: self.tr("No unit")}
            self._level, word = Level.STOP, words[lacks]
        elif not column.sure:
            self._level, word = Level.WATCH, self.tr("Look at this")
        elif column.meaning is Meaning.NOTHING:
            self._level, word = None, self.tr("Left out")
        else:
            self._level, word = Level.CLEAR, self.tr("Sure")
        self.word.setText(word)
        self.setToolTip(column.why)
        self._draw()

    def _draw(self) -> None:
        self._icon.setPixmap(pixmap("remove", 16, "quiet") if self._level is None else level_pixmap(self._level, 16))
