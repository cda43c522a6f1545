"""What a plan is held to: wanted loads and tolerance of the line on show, shims in stock, the rule book's stops."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import QSize, Qt
from PySide6.QtGui import QAction
from PySide6.QtWidgets import QFrame, QHBoxLayout, QLabel, QScrollArea, QVBoxLayout, QWidget
from typing_extensions import override

from loadbench.fitup.inverse import STOCK_SHIMS
from ui.fitup import wording
from ui.fitup.margins import Margins
from ui.fitup.stock_edit import StockField
from ui.widgets.field_maker import field_for
from ui.widgets.line_switch import LineSwitch
from ui.widgets.link import Link
from ui.widgets.wrapped_label import WrappedLabel

if TYPE_CHECKING:
    from ui.session import Session

TARGETS = ("targets.seat_load", "targets.open_load", "targets.tolerance_percent")


class StatedSide(QScrollArea):
    """The fields on the left of the page."""

    def __init__(self, session: Session, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.session = session
        self.setObjectName("fitup_stated")
        self.setWidgetResizable(True)
        self.setFrameShape(QFrame.Shape.NoFrame)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self.stops: list[WrappedLabel] = []
        inside = QWidget()
        self._rows = QVBoxLayout(inside)
        self._rows.setContentsMargins(0, 0, 4, 4)
        self._rows.setSpacing(2)
        for widget in self._widgets():
            self._rows.addWidget(widget)
        self._rows.addStretch(1)
        self.setWidget(inside)

    def _widgets(self) -> list[QWidget]:
        self.switch = LineSwitch(self.session)
        self.fields = {field: field_for(self.session, field) for field in TARGETS}
        self.stock = StockField(self.session)
        for field in (*self.fields.values(), self.stock):
            _second_place(getattr(field, "editor"))  # noqa: B009 - every field of the house has one
        self.told_stock = WrappedLabel(role="quiet")
        self.told_stock.setContentsMargins(6, 0, 0, 2)
        head = QLabel(self.tr("A plan keeps"))
        head.setProperty("role", "heading")
        head.setContentsMargins(6, 4, 0, 0)
        self.stops = [WrappedLabel(role="quiet") for _ in range(4)]
        for stop in self.stops:
            stop.setContentsMargins(6, 0, 0, 0)
        self.link = Link(self.tr("Rule book"), self.tr("Open the rule book, where the stops can be changed"))
        self.link.setObjectName("fitup_rule_book")
        self.link.clicked.connect(self._open_rule_book)
        return [
            self.switch,
            *self.fields.values(),
            self.stock,
            self.told_stock,
            head,
            *self.stops,
            _indented(self.link),
        ]

    @override
    def minimumSizeHint(self) -> QSize:
        """As wide as its widest field wants: it scrolls down, never sideways."""
        inside = self._rows.minimumSize().width() + self.verticalScrollBar().sizeHint().width() + 2
        return QSize(max(inside, 230), 80)

    def show_margins(self, margins: Margins) -> None:
        """Tell the stops in force and what is counted on without a stock."""
        told = margins.stops(self.session.style)
        for place, label in enumerate(self.stops):
            label.tell(told[place] if place < len(told) else "")
        none = self.tr("No stock is stated: {sizes} are counted on, without end.")
        sizes = wording.sizes(STOCK_SHIMS, self.session.style)
        self.told_stock.tell("" if self.session.state.job.shims_in_stock else none.format(sizes=sizes))

    def _open_rule_book(self) -> None:
        action = self.window().findChild(QAction, "rule_book")
        if action is not None:
            action.trigger()


def _second_place(editor: QWidget) -> None:
    """These fields have their first place on the Bench page: whoever looks for one by its path goes there."""
    editor.setObjectName(f"fitup__{editor.objectName()}")
    editor.setProperty("field", None)


def _indented(link: Link) -> QWidget:
    row = QWidget()
    across = QHBoxLayout(row)
    across.setContentsMargins(6, 0, 0, 0)
    across.addWidget(link)
    across.addStretch(1)
    return row
