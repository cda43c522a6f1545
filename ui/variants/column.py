"""One candidate's column: name, figures, worst findings, and the fields of a variant."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QGridLayout, QHBoxLayout, QLabel, QPushButton, QVBoxLayout, QWidget
from typing_extensions import override

from loadbench.findings.finding import Level
from ui.icons import level_pixmap
from ui.level_words import level_word
from ui.plain_tip import plain_tip
from ui.variants.comparison import Candidate, cell, row_label, worst_findings
from ui.widgets.card import Card
from ui.widgets.quantity_field import QuantityField, ShimsField
from ui.widgets.readings_table import ReadingsTable
from ui.widgets.text_field import TextField
from ui.widgets.wrapped_label import WrappedLabel

if TYPE_CHECKING:
    from collections.abc import Callable

    from PySide6.QtGui import QResizeEvent

    from loadbench.units import Style
    from ui.session import Session

WIDTH = 250


class Figures(QWidget):
    """The figures of one candidate, a row each, with the difference in words."""

    def __init__(self, row_height: int) -> None:
        super().__init__()
        self.cells: dict[str, tuple[QLabel, QLabel]] = {}
        self._row_height = row_height
        self._grid = QGridLayout(self)
        self._grid.setContentsMargins(0, 0, 0, 0)
        self._grid.setVerticalSpacing(0)
        self._grid.setColumnStretch(0, 3)
        self._grid.setColumnStretch(1, 2)

    def show_rows(self, names: tuple[str, ...]) -> None:
        """Make a row for each figure."""
        for label in (label for pair in self.cells.values() for label in pair):
            self._grid.removeWidget(label)
            label.hide()
            label.deleteLater()
        self.cells = {name: (QLabel(), QLabel()) for name in names}
        for row, (name, pair) in enumerate(self.cells.items()):
            pair[1].setProperty("role", "heading")
            for column, label in enumerate(pair):
                label.setTextFormat(Qt.TextFormat.PlainText)
                label.setFixedHeight(self._row_height)
                label.setObjectName(f"{name}_{'mark' if column else 'value'}")
                self._grid.addWidget(label, row, column)

    def show_candidate(self, candidate: Candidate, own: Candidate, line: str, style: Style) -> None:
        """Show a candidate's figures beside the job's own."""
        for name, (value, mark) in self.cells.items():
            found = cell(candidate, own, line, name, style)
            value.setText(found.text)
            mark.setText(found.mark)


def name_height(widget: QWidget) -> int:
    """Two lines: a long name wraps, and the rows beneath stay level across the columns."""
    return 2 * widget.fontMetrics().lineSpacing()


class Labels(QWidget):
    """What the rows are, level with the columns' figures."""

    def __init__(self, row_height: int) -> None:
        super().__init__()
        self._row_height = row_height
        self._rows = QVBoxLayout(self)
        self._rows.setContentsMargins(0, 0, 0, 0)
        self._rows.setSpacing(0)
        self._made: list[QLabel] = []
        self._rows.addSpacing(name_height(self) + Column.SPACING)
        self._rows.addStretch(1)

    def show_rows(self, names: tuple[str, ...]) -> None:
        """Name the rows."""
        for label in self._made:
            self._rows.removeWidget(label)
            label.hide()
            label.deleteLater()
        self._made = [QLabel(row_label(name)) for name in names]
        for place, label in enumerate(self._made, 1):
            label.setProperty("role", "quiet")
            label.setFixedHeight(self._row_height)
            self._rows.insertWidget(place, label)


class Findings(QWidget):
    """Counts by level and the worst findings of one candidate."""

    def __init__(self) -> None:
        super().__init__()
        self._rows = QGridLayout(self)
        self._rows.setContentsMargins(0, 6, 0, 0)
        self._rows.setColumnStretch(1, 1)
        self._shown: object = None

    def show_candidate(self, candidate: Candidate, own: Candidate, style: Style) -> None:
        """Show what is found of a candidate."""
        counts = [(level, candidate.verdicts.count(level)) for level in (Level.STOP, Level.WATCH, Level.UNKNOWN)]
        worst = worst_findings(candidate, own, style)
        if self._shown == (counts, worst):
            return
        self._shown = (counts, worst)
        while (item := self._rows.takeAt(0)) is not None:
            widget = item.widget()
            if widget is not None:
                widget.hide()
                widget.deleteLater()
        summary = ", ".join(f"{count} {level_word(level).lower()}" for level, count in counts if count)
        self._rows.addWidget(WrappedLabel(summary or self.tr("All clear"), role="heading"), 0, 0, 1, 2)
        for row, told in enumerate(worst, 1):
            sign = QLabel()
            sign.setPixmap(level_pixmap(told.level, 16))
            self._rows.addWidget(sign, row, 0, Qt.AlignmentFlag.AlignTop)
            text = (
                self.tr("{level}, other than the job\u2019s own: {text}")
                if told.differs
                else self.tr("{level}: {text}")
            )
            label = WrappedLabel(text.format(level=level_word(told.level), text=told.text))
            self._rows.addWidget(label, row, 1)


class Column(QWidget):
    """A candidate from top to bottom; `index` is None for the job's own spring."""

    SPACING = 4

    def __init__(self, session: Session, index: int | None, row_height: int) -> None:
        super().__init__()
        self.session, self.index = session, index
        self.setObjectName("own" if index is None else f"variant_{index}")
        self.setMinimumWidth(WIDTH)
        self.name = WrappedLabel(role="heading")
        self.name.setFixedHeight(name_height(self))
        self._called = ""
        self.figures = Figures(row_height)
        self.findings = Findings()
        self.rows = QVBoxLayout(self)
        self.rows.setContentsMargins(6, 0, 6, 0)
        self.rows.setSpacing(self.SPACING)
        for widget in (self.name, self.figures, self.findings):
            self.rows.addWidget(widget)
        self.rows.addStretch(1)

    @override
    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        self._tell_name()

    def _tell_name(self) -> None:
        """The name on its two lines; what does not fit stands in the tool tip."""
        room = int(1.7 * (max(self.width(), WIDTH) - 12))  # a wrapped line is seldom full
        self.name.tell(self.name.fontMetrics().elidedText(self._called, Qt.TextElideMode.ElideRight, room))
        self.name.setToolTip(plain_tip(self._called))

    def show_candidate(self, candidate: Candidate, own: Candidate, line: str, style: Style) -> None:
        """Show the column's candidate as it stands now."""
        self._called = candidate.name
        self._tell_name()
        self.figures.show_candidate(candidate, own, line, style)
        self.findings.show_candidate(candidate, own, style)


class VariantColumn(Column):
    """A variant: it can be edited, taken over and removed."""

    def __init__(self, session: Session, index: int, row_height: int) -> None:
        super().__init__(session, index, row_height)
        self.take_button = self._button(self.tr("Take over"), self.tr("Make this the job\u2019s own spring"))
        self.remove_button = self._button(self.tr("Remove"), self.tr("Take this variant out of the job"))
        buttons = QHBoxLayout()
        for button in (self.take_button, self.remove_button):
            buttons.addWidget(button)
        buttons.addStretch(1)
        self.rows.insertLayout(self.rows.count() - 1, buttons)
        self.card = Card(self.tr("Its spring"), self._fields, opened=True, inner=True, name=f"variant_{index}")
        self.rows.insertWidget(self.rows.count() - 1, self.card)

    def _button(self, text: str, tip: str) -> QPushButton:
        button = QPushButton(text)
        button.setToolTip(tip)
        button.setAutoDefault(False)
        button.setAccessibleName(self.tr("{text}: variant {number}").format(text=text, number=(self.index or 0) + 1))
        return button

    def _fields(self) -> tuple[QWidget, ...]:
        spring = f"variants.{self.index}.spring"
        lengths = ("installed_height", "bare_height")
        make: tuple[Callable[[], QWidget], ...] = (
            lambda: TextField(self.session, f"variants.{self.index}.name"),
            lambda: QuantityField(self.session, f"{spring}.rate"),
            *(lambda name=name: QuantityField(self.session, f"{spring}.{name}") for name in lengths),
            lambda: ShimsField(self.session, f"{spring}.shims"),
            lambda: QuantityField(self.session, f"{spring}.bind_height"),
            lambda: ReadingsTable(self.session, f"{spring}.readings"),
        )
        return tuple(each() for each in make)
