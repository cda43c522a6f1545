"""See why: a figure's formula with symbols and with this job's numbers, inputs, evidence, uncertainty, source."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import QSize, Qt, Signal
from PySide6.QtGui import QGuiApplication
from PySide6.QtWidgets import (
    QDialog,
    QFrame,
    QGridLayout,
    QHBoxLayout,
    QLabel,
    QPushButton,
    QScrollArea,
    QVBoxLayout,
    QWidget,
)
from typing_extensions import override

from ui.let_go import let_go
from ui.widgets.formula_text import InputRow, Reason, reason_of
from ui.widgets.link import Link
from ui.widgets.wrapped_label import WrappedLabel

if TYPE_CHECKING:
    from loadbench.analysis.figure import Figure
    from ui.session import Session

WIDTH, MOST_HEIGHT = 460, 560


class FormulaPane(QDialog):
    """Stays open beside the work and follows it; inputs that are figures open in their turn."""

    field_wanted = Signal(str)

    def __init__(self, session: Session, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setObjectName("formula_pane")
        self.setWindowFlag(Qt.WindowType.Tool)
        self.session = session
        self.name = ""
        self._reason: Reason | None = None
        self._way: list[str] = []
        self._body = QWidget()
        self._rows = QVBoxLayout(self._body)
        self._rows.setSpacing(4)
        self.scroller = QScrollArea()
        self.scroller.setWidget(self._body)
        self.scroller.setWidgetResizable(True)
        self.scroller.setFrameShape(QFrame.Shape.NoFrame)
        self.scroller.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self._lay_out()
        for signal in (session.changed, session.styled, session.line_chosen):
            signal.connect(self._follow)

    def _lay_out(self) -> None:
        self.back = QPushButton(self.tr("Back"))
        self.back.clicked.connect(self._go_back)
        self.copy_button = QPushButton(self.tr("Copy as text"))
        self.copy_button.clicked.connect(self.copy)
        close = QPushButton(self.tr("Close"))
        close.clicked.connect(self.close)
        foot = QHBoxLayout()
        for button in (self.back, self.copy_button):
            button.setAutoDefault(False)
            foot.addWidget(button)
        foot.addStretch(1)
        foot.addWidget(close)
        column = QVBoxLayout(self)
        column.addWidget(self.scroller, 1)
        column.addLayout(foot)
        self.setMinimumSize(320, 240)

    # Showing

    def show_figure(self, name: str) -> None:
        """Show a figure of the line on show; the way back begins here."""
        self._way = []
        self._open(name)

    def _open(self, name: str) -> None:
        self.name = name
        self._reason = None
        self._follow()

    def _go_back(self) -> None:
        if self._way:
            self._open(self._way.pop())

    def _into(self, name: str) -> None:
        self._way.append(self.name)
        self._open(name)

    @property
    def figure(self) -> Figure | None:
        """The figure on show as it stands now."""
        return self.session.state.analysis.line(self.session.line).figures.get(self.name)

    def _follow(self, _what: object = None) -> None:
        figure = self.figure
        if figure is None:
            return
        reason = reason_of(figure, self.session.state.analysis, self.session.line, self.session.style)
        self.back.setEnabled(bool(self._way))
        if reason == self._reason:
            return
        self._reason = reason
        self.setWindowTitle(reason.title)
        self._clear()
        self._fill(reason)

    def _clear(self) -> None:
        while (item := self._rows.takeAt(0)) is not None:
            widget = item.widget()
            if widget is not None:
                widget.hide()
                let_go(widget)

    def _fill(self, reason: Reason) -> None:
        head = WrappedLabel(reason.headline, role="heading")
        self._rows.addWidget(head)
        for text in filter(None, (reason.symbols, reason.numbers)):
            label = WrappedLabel(text)
            label.setTextInteractionFlags(Qt.TextInteractionFlag.TextSelectableByMouse)
            self._rows.addWidget(label)
        if reason.inputs:
            self._rows.addWidget(self._table(reason.inputs))
        for title, text in reason.notes:
            self._rows.addWidget(WrappedLabel(title, role="quiet"))
            self._rows.addWidget(WrappedLabel(text))
        self._rows.addStretch(1)

    def _table(self, inputs: tuple[InputRow, ...]) -> QWidget:
        table = QWidget()
        grid = QGridLayout(table)
        grid.setContentsMargins(0, 4, 0, 4)
        grid.setHorizontalSpacing(10)
        grid.setVerticalSpacing(0)
        grid.setColumnStretch(1, 1)
        for column, title in enumerate((self.tr("Symbol"), self.tr("What"), self.tr("Value"))):
            label = QLabel(title)
            label.setProperty("role", "quiet")
            grid.addWidget(label, 0, column)
        for row, each in enumerate(inputs, 1):
            grid.addWidget(QLabel(each.symbol), row, 0)
            grid.addWidget(self._what(each), row, 1)
            value = QLabel(each.value)
            grid.addWidget(value, row, 2, Qt.AlignmentFlag.AlignRight)
        return table

    def _what(self, row: InputRow) -> QWidget:
        if row.figure:
            link = Link(row.label, self.tr("Open the formula of {figure}").format(figure=row.label))
            link.clicked.connect(lambda: self._into(row.figure))
            return link
        if row.field:
            link = Link(row.label, self.tr("Go to {field}").format(field=row.label))
            link.setProperty("field", row.field)
            link.clicked.connect(lambda: self.field_wanted.emit(row.field))
            return link
        return WrappedLabel(row.label)

    def text(self) -> str:
        """All of it as plain text."""
        return "" if self._reason is None else self._reason.text()

    def copy(self) -> None:
        """Put the text on the clipboard."""
        QGuiApplication.clipboard().setText(self.text())
        self.session.announce(self.tr("The formula was copied."))

    @override
    def sizeHint(self) -> QSize:
        wanted = (
            self._body.heightForWidth(WIDTH - 40) if self._body.hasHeightForWidth() else self._body.sizeHint().height()
        )
        return QSize(WIDTH, min(MOST_HEIGHT, max(240, wanted + 70)))
