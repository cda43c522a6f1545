"""One candidate's column: name, figures, worst findings, and the fields of a variant."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QGridLayout, QHBoxLayout, QLabel, QPushButton, QVBoxLayout, QWidget
from typing_extensions import override

from ui.let_go import let_go
from ui.plain_tip import plain_tip
from ui.variants.comparison import Candidate, cell, row_label
from ui.variants.findings import Findings
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

WIDTH = 240


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
            let_go(label)
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
            let_go(label)
        self._made = [QLabel(row_label(name)) for name in names]
        for place, label in enumerate(self._made, 1):
            label.setProperty("role", "quiet")
            label.setFixedHeight(self._row_height)
            self._rows.insertWidget(place, label)


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
        for widget in (self.name, self.figures, self._make_actions(), self.findings):
            self.rows.addWidget(widget)
        self.rows.addStretch(1)

    def _make_actions(self) -> QWidget:
        """What can be done with the candidate, as tall in each column, so that the findings begin level."""
        own = QLabel(self.tr("In the job now"))
        own.setProperty("role", "quiet")
        own.setFixedHeight(QPushButton(self.tr("Take over")).sizeHint().height() + 2 * self.SPACING)
        return own

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
        self.card = Card(self.tr("Its spring"), self._fields, opened=True, inner=True, name=f"variant_{index}")
        self.rows.insertWidget(self.rows.count() - 1, self.card)

    @override
    def _make_actions(self) -> QWidget:
        self.take_button = self._button(self.tr("Take over"), self.tr("Make this the job\u2019s own spring"))
        self.remove_button = self._button(self.tr("Remove"), self.tr("Take this variant out of the job"))
        actions = QWidget()
        row = QHBoxLayout(actions)
        row.setContentsMargins(0, self.SPACING, 0, self.SPACING)
        for button in (self.take_button, self.remove_button):
            row.addWidget(button)
        row.addStretch(1)
        return actions

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
