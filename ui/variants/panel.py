"""Candidate springs side by side: figures, findings, fields, and one taken over with a click."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QApplication, QFrame, QHBoxLayout, QPushButton, QScrollArea, QVBoxLayout, QWidget
from typing_extensions import override

from ui.variants.column import Column, Labels, VariantColumn
from ui.variants.comparison import candidates, figure_rows
from ui.variants.edits import MOST, added, dropped, made_own
from ui.widgets.wrapped_label import WrappedLabel

if TYPE_CHECKING:
    from PySide6.QtGui import QShowEvent

    from ui.session import Session


class VariantsPanel(QWidget):
    """The job's own spring and up to three variants; computed while it is on show only."""

    def __init__(self, session: Session, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setObjectName("variants_panel")
        self.session = session
        self.columns: list[Column] = []
        self._names: tuple[str, ...] = ()
        self._row_height = self.fontMetrics().lineSpacing() + 6
        self.add_button = QPushButton(self.tr("Add a variant from the job\u2019s spring"))
        self.add_button.setObjectName("add_variant")
        self.add_button.setAutoDefault(False)
        self.add_button.clicked.connect(self._add)
        self.note = WrappedLabel(role="quiet")
        self._labels = Labels(self._row_height)
        self._across = QHBoxLayout()
        self._across.setSpacing(10)
        self._across.addWidget(self._labels)
        self._lay_out()
        for signal in (session.changed, session.styled, session.line_chosen):
            signal.connect(self._follow)
        self._show()
        self.resize(900, 640)

    def _lay_out(self) -> None:
        inside = QWidget()
        inside.setLayout(self._across)
        scroller = QScrollArea()
        scroller.setWidget(inside)
        scroller.setWidgetResizable(True)
        scroller.setFrameShape(QFrame.Shape.NoFrame)
        head = QHBoxLayout()
        head.addWidget(self.note, 1)
        head.addWidget(self.add_button, 0, Qt.AlignmentFlag.AlignTop)
        whole = QVBoxLayout(self)
        whole.setContentsMargins(0, 0, 0, 0)
        whole.addLayout(head)
        whole.addWidget(scroller, 1)
        self.setMinimumSize(560, 420)

    @override
    def showEvent(self, event: QShowEvent) -> None:
        super().showEvent(event)
        self._show()

    # Showing

    def _follow(self, _what: object) -> None:
        if self.isVisible():
            self._show()

    def _show(self) -> None:
        state, style, line = self.session.state, self.session.style, self.session.line
        found = candidates(state, self.session.shop)
        self._build(len(found), figure_rows(found[0], line))
        for column, candidate in zip(self.columns, found, strict=False):
            column.show_candidate(candidate, found[0], line, style)
        self.add_button.setEnabled(len(state.job.variants) < MOST)
        self.note.tell(self._note(len(state.job.variants)))

    def _note(self, count: int) -> str:
        if not count:
            return self.tr(
                "No variant yet. Add one, change what differs, and compare it with the job\u2019s own spring."
            )
        return self.tr(
            "What a variant states wins. One with a rate, readings or coils of its own is another spring: "
            "nothing measured or promised for the job\u2019s own speaks for it."
        )

    def _build(self, count: int, names: tuple[str, ...]) -> None:
        """As many columns as candidates; a column that was made once is kept for the next variant."""
        while len(self.columns) < count:
            self._add_column(len(self.columns) - 1)
        for place, column in enumerate(self.columns):
            column.setVisible(place < count)
        if names != self._names:
            self._names = names
            self._labels.show_rows(names)
            for column in self.columns:
                column.figures.show_rows(names)

    def _add_column(self, index: int) -> None:
        column = (
            VariantColumn(self.session, index, self._row_height)
            if index >= 0
            else Column(self.session, None, self._row_height)
        )
        if isinstance(column, VariantColumn):
            column.take_button.clicked.connect(lambda: self._take(index))
            column.remove_button.clicked.connect(lambda: self._remove(index))
        column.figures.show_rows(self._names)
        self.columns.append(column)
        self._across.addWidget(column, 1)

    # Changing

    def _add(self) -> None:
        name = self.tr("Variant {number}").format(number=len(self.session.job.variants) + 1)
        self.session.edit(self.tr("add a variant"), lambda job: added(job, name))

    def _remove(self, index: int) -> None:
        self._settle()
        self.session.edit(self.tr("remove a variant"), lambda job: dropped(job, index))
        self._go_on(self._variant(index).remove_button)

    def _take(self, index: int) -> None:
        self._settle()
        self.session.edit(self.tr("take a variant over"), lambda job: made_own(job, index))
        self._go_on(self._variant(index).take_button)
        self.session.announce(self.tr("The variant is the job\u2019s own spring now."))

    def _variant(self, index: int) -> VariantColumn:
        return next(each for each in self.columns if isinstance(each, VariantColumn) and each.index == index)

    def _go_on(self, button: QPushButton) -> None:
        """Leave the focus where it was, or where a variant can be added, when that column is gone."""
        (button if button.isVisible() else self.add_button).setFocus(Qt.FocusReason.OtherFocusReason)

    def _settle(self) -> None:
        """Commit what is being typed in a field before the fields move."""
        focused = QApplication.focusWidget()
        if focused is not None and self.isAncestorOf(focused):
            focused.clearFocus()
