"""Beneath the preview: the recipe to remember, the record of this check, and what becomes of the present readings."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import Signal
from PySide6.QtWidgets import (
    QButtonGroup,
    QHBoxLayout,
    QLabel,
    QLineEdit,
    QVBoxLayout,
    QWidget,
)

from loadbench.errors import InputError
from loadbench.job.parts import Record
from ui.entries import number_of
from ui.labels import label_of
from ui.printout.chooser import WideBar
from ui.printout.taking_over import Way
from ui.printout.ticks import Ring, Tick
from ui.printout.wording import springs_word
from ui.widgets.wrapped_label import WrappedLabel

if TYPE_CHECKING:
    from loadbench.job.kept_parts import Recipe
    from loadbench.job.model import Job

TEXTS = ("measured_by", "date", "tester")
NUMBERS = ("hours", "passes")
WIDTHS = {"measured_by": 14, "date": 11, "tester": 14, "hours": 6, "passes": 6}
OF_ONE_CHECK = ("date", "hours", "passes")


class RecordRow(QWidget):
    """Who measured, when, with what, and how long the springs have run."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.edits: dict[str, QLineEdit] = {}
        self._base = Record()
        bar = WideBar(self)
        for name in (*TEXTS, *NUMBERS):
            bar.add(self._field(name))
        row = QVBoxLayout(self)
        row.setContentsMargins(0, 0, 0, 0)
        row.addWidget(bar)

    def _field(self, name: str) -> QWidget:
        edit = self.edits[name] = QLineEdit()
        edit.setObjectName(f"printout_{name}")
        edit.setAccessibleName(label_of(f"record.{name}"))
        edit.setFixedWidth(self.fontMetrics().averageCharWidth() * WIDTHS[name] + 20)
        edit.setMinimumHeight(26)
        label = QLabel(label_of(f"record.{name}"))
        label.setBuddy(edit)
        label.setProperty("role", "quiet")
        pair = QWidget()
        row = QHBoxLayout(pair)
        row.setContentsMargins(0, 0, 6, 0)
        row.setSpacing(5)
        row.addWidget(label)
        row.addWidget(edit)
        return pair

    def begin(self, job: Job) -> None:
        """Start from the job's record; what belongs to one check only comes along where the job has no springs yet."""
        self._base = job.record
        if job.springs:
            self._base = job.record.model_copy(update=dict.fromkeys(OF_ONE_CHECK))
        for name, edit in self.edits.items():
            value = getattr(self._base, name)
            edit.setText("" if value is None else f"{value:g}" if isinstance(value, float | int) else value)
            edit.setCursorPosition(0)

    def propose_tester(self, recipe: Recipe | None) -> None:
        """The tester that a recipe was remembered for, where none is stated."""
        if recipe is not None and recipe.tester and not self.edits["tester"].text().strip():
            self.edits["tester"].setText(recipe.tester)

    def record(self) -> Record:
        """The record as typed.

        Raises:
            InputError: hours or passes is no number.
        """
        typed: dict[str, object] = {name: self.edits[name].text().strip() or None for name in TEXTS}
        for name in NUMBERS:
            try:
                value = number_of(self.edits[name].text())
            except InputError as error:
                raise InputError(self._about(name, error.what), expected=error.expected) from error
            if value is not None and value < 0:
                raise InputError(self._about(name, self.tr("it is below zero")), expected=self.tr("zero or more"))
            typed[name] = value
        return self._base.model_copy(update=typed)

    def _about(self, name: str, what: str) -> str:
        return self.tr("{label}: {what}").format(label=label_of(f"record.{name}"), what=what)


class RememberRow(QWidget):
    """Whether the way of reading is kept, and under which name."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        words = self.tr("Remember how it was read, as the recipe of tester")
        self.check = Tick(words, "printout_remember")
        self.name = QLineEdit()
        self.name.setObjectName("printout_recipe_name")
        self.name.setAccessibleName(self.tr("Name of the recipe"))
        self.name.setPlaceholderText(self.tr("name of the tester"))
        self.name.setFixedWidth(self.fontMetrics().averageCharWidth() * 22 + 20)
        self.name.setMinimumHeight(26)
        self.name.textEdited.connect(lambda text: self.check.setChecked(bool(text.strip())))
        row = QHBoxLayout(self)
        row.setContentsMargins(0, 0, 0, 0)
        row.setSpacing(6)
        row.addWidget(self.check)
        row.addWidget(self.name)
        row.addStretch(1)

    def wanted(self) -> str:
        """The name to remember by; "" where nothing is to be kept.

        Raises:
            InputError: it is to be remembered without a name.
        """
        name = self.name.text().strip()
        if self.check.isChecked() and not name:
            raise InputError(self.tr("The recipe has no name."), expected=self.tr("the name of the tester"))
        return name if self.check.isChecked() else ""


class WayRow(QWidget):
    """What becomes of the present readings; on show only where the job has some of the springs already."""

    chosen = Signal()

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.told = WrappedLabel()
        self.told.setObjectName("printout_shared")
        words = {
            Way.LATER: self.tr("A later test of the same springs: keep the present readings as an earlier check"),
            Way.IN_PLACE: self.tr("Put in place of the present readings"),
            Way.ADD: self.tr("Add to the present readings"),
        }
        self.buttons = {way: Ring(text, f"printout_way_{way.value.replace('-', '_')}") for way, text in words.items()}
        self._group = QButtonGroup(self)
        bar = WideBar()
        for button in self.buttons.values():
            button.clicked.connect(self.chosen)
            self._group.addButton(button)
            bar.add(button)
        self.buttons[Way.LATER].setChecked(True)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(2)
        column.addWidget(self.told)
        column.addWidget(bar)

    def show_shared(self, job: Job, shared: int, printed: int, near: tuple[tuple[str, str], ...]) -> None:
        """Say how the printout's springs stand to the job's."""
        self.told.tell(self._words(job, shared, printed, near))
        for button in self.buttons.values():
            button.setVisible(shared > 0)
        self.setVisible(bool(self.told.text()))

    def _words(self, job: Job, shared: int, printed: int, near: tuple[tuple[str, str], ...]) -> str:
        told = []
        if shared:
            text = self.tr("{shared} of the {printed} springs are in the job already.")
            text = self.tr("All {printed} springs are in the job already.") if shared == printed else text
            told.append(text.format(shared=shared, printed=printed))
        elif job.springs and printed:
            text = self.tr(
                "The job has {present}; none of them has a number of this printout. {new} will stand beside them."
            )
            told.append(text.format(present=springs_word(len(job.springs)), new=springs_word(printed)))
        if near:
            text = self.tr("{one} may be the job’s {other} written otherwise; they are taken for two springs.")  # noqa: RUF001
            told.append(text.format(one=near[0][0], other=near[0][1]))
        return " ".join(told)

    @property
    def way(self) -> Way:
        """What was chosen; without shared springs they are added."""
        if self.buttons[Way.LATER].isHidden():
            return Way.ADD
        return next(way for way, button in self.buttons.items() if button.isChecked())
