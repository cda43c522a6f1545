"""Entries to mend: every fault of what was stated, each with the way to its field."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QGridLayout, QLabel, QWidget

from loadbench.findings.finding import Level
from loadbench.report.entries import entry_name, fault
from ui.icons import level_pixmap
from ui.labels import translated
from ui.let_go import let_go
from ui.theme import theme
from ui.widgets.link import Link
from ui.widgets.wrapped_label import WrappedLabel

if TYPE_CHECKING:
    from loadbench.errors import Problem


class ProblemList(QWidget):
    """Hidden while there is nothing to mend."""

    field_wanted = Signal(str)
    rule_wanted = Signal(str)

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setObjectName("entries_to_mend")
        self._shown: tuple[Problem, ...] | None = None
        self._rows = QGridLayout(self)
        self._rows.setContentsMargins(6, 4, 6, 6)
        self._rows.setSpacing(2)
        self._rows.setColumnStretch(1, 1)
        theme().changed.connect(self._redraw)
        self.show_problems(())

    def show_problems(self, problems: tuple[Problem, ...]) -> None:
        """List the faults."""
        if problems == self._shown:
            return
        self._shown = problems
        while (item := self._rows.takeAt(0)) is not None:
            widget = item.widget()
            if widget is not None:
                widget.hide()
                let_go(widget)
        self.setVisible(bool(problems))
        if not problems:
            return
        heading = QLabel(self.tr("Entries to mend"))
        heading.setProperty("role", "heading")
        self._rows.addWidget(heading, self._rows.rowCount(), 0, 1, 2)
        for problem in problems:
            self._add(problem)

    def _add(self, problem: Problem) -> None:
        field = problem.place.field or ""
        sign = QLabel()
        sign.setPixmap(level_pixmap(Level.STOP, 16))
        name = entry_name(field, word=translated)
        button = Link(name, self.tr("Go to {field}").format(field=name))
        button.setProperty("field", field)
        text = self._told(*fault(problem))
        button.setAccessibleDescription(text)
        button.clicked.connect(lambda: self._go(field))
        row = self._rows.rowCount()
        self._rows.addWidget(sign, row, 0)
        self._rows.addWidget(button, row, 1)
        self._rows.addWidget(WrappedLabel(text), row + 1, 1)

    def _told(self, what: str, wanted: str) -> str:
        if not wanted:
            return self.tr("Wrong: {what}").format(what=what)
        text = (
            self.tr("Wrong: {what} {question}") if wanted.endswith("?") else self.tr("Wrong: {what} Wanted: {wanted}.")
        )
        return text.format(what=what, question=wanted, wanted=wanted)

    def _go(self, field: str) -> None:
        if field.startswith("rules."):
            self.rule_wanted.emit(field.split(".")[1])
        else:
            self.field_wanted.emit(field)

    def _redraw(self) -> None:
        shown, self._shown = self._shown, None
        self.show_problems(shown or ())
