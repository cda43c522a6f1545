"""The choices of the whole printout, above its preview: sheet, recipe, layout, decimals, header row."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import QSize, Qt, Signal
from PySide6.QtWidgets import QLabel, QPushButton, QVBoxLayout, QWidget

from loadbench.readings.printout.cells import Decimal
from loadbench.readings.printout.meaning import Layout
from ui.printout.chooser import NamedChooser, WideBar
from ui.printout.known_recipes import Recipes
from ui.printout.wording import decimal_word, layout_word, name_of

if TYPE_CHECKING:
    from loadbench.job.kept_parts import Recipe
    from loadbench.readings.printout.meaning import Understood

MOST_HEADERS = 40
"""The rows among which the header is chosen by hand."""

NO_HEADER = -1
LONGEST_NAME = 60


class ChoicesBar(QWidget):
    """Follows one printout; each choice has it read again."""

    sheet_chosen = Signal(str)
    recipe_chosen = Signal(object)  # Recipe, or None: afresh
    layout_chosen = Signal(object)  # Layout
    decimal_chosen = Signal(object)  # Decimal
    header_chosen = Signal(object)  # row number, None: no header
    forget_wanted = Signal(str)  # name of a kept recipe

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.name = QLabel()
        self.name.setObjectName("printout_name")
        self.name.setTextFormat(Qt.TextFormat.PlainText)
        self.name.setProperty("role", "heading")
        tr = self.tr
        self.sheet = NamedChooser("printout_sheet", tr("Sheet"), tr("Which sheet of the workbook is read"))
        self.recipe = NamedChooser(
            "printout_recipe", tr("Read by"), tr("A recipe remembered for a tester, or afresh from the printout alone")
        )
        self.layout_ = NamedChooser("printout_layout", tr("One row is"), tr("What one row of the printout holds"))
        self.decimal = NamedChooser("printout_decimal", tr("Decimals"), tr("What stands before the decimals"))
        self.header = NamedChooser("printout_header", tr("Header"), tr("The row that names the columns"))
        self.forget = QPushButton(tr("Forget"))
        self.forget.setObjectName("printout_forget")
        self.forget.setToolTip(tr("Forget this recipe; those of the job stay"))
        self.forget.setAccessibleName(tr("Forget this recipe"))
        self.forget.setAutoDefault(False)
        self.forget.setMinimumSize(QSize(24, 26))
        self._recipes = Recipes()
        self._lay_out()
        self._connect()

    def _lay_out(self) -> None:
        bar = WideBar()
        for widget in (self.sheet, self.recipe, self.forget, self.layout_, self.decimal, self.header):
            bar.add(widget)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(4)
        column.addWidget(self.name)
        column.addWidget(bar)

    def _connect(self) -> None:
        self.sheet.box.activated.connect(lambda: self.sheet_chosen.emit(self.sheet.box.currentData()))
        self.recipe.box.activated.connect(lambda: self.recipe_chosen.emit(self.chosen_recipe))
        self.layout_.box.activated.connect(lambda: self.layout_chosen.emit(Layout(self.layout_.box.currentData())))
        self.decimal.box.activated.connect(lambda: self.decimal_chosen.emit(Decimal(self.decimal.box.currentData())))
        self.header.box.activated.connect(self._choose_header)
        self.forget.clicked.connect(lambda: self.forget_wanted.emit(self.recipe.box.currentData()))

    def _choose_header(self) -> None:
        row = int(self.header.box.currentData())
        self.header_chosen.emit(None if row == NO_HEADER else row)

    @property
    def chosen_recipe(self) -> Recipe | None:
        """The recipe that is chosen; None: afresh."""
        name = self.recipe.box.currentData()
        return next((one.recipe for one in self._recipes.known if one.name == name), None)

    # Showing

    def show_printout(self, understood: Understood, recipes: Recipes) -> None:
        """Show the choices as they stand."""
        grid = understood.grid
        name = name_of(grid)
        self.name.setText(name if len(name) <= LONGEST_NAME else f"{name[: LONGEST_NAME - 1]}…")
        self.name.setToolTip(name)
        self.sheet.setVisible(len(grid.sheets) > 1)
        self.sheet.box.fill([(sheet, sheet) for sheet in grid.sheets], grid.sheet)
        self.show_recipes(recipes, understood.recipe)
        self.layout_.box.fill([(layout_word(each), each.value) for each in Layout], understood.layout.value)
        self.decimal.box.fill([(decimal_word(each), each.value) for each in Decimal], understood.decimal.value)
        self._show_header(understood)

    def show_recipes(self, recipes: Recipes, chosen: str | None) -> None:
        """Offer the recipes; afresh is always among them."""
        self._recipes = recipes
        choices: list[tuple[str, object]] = [(self.tr("Afresh, no recipe"), "")]
        for one in recipes.known:
            text = one.name if one.kept else self.tr("{name} (this job)").format(name=one.name)
            choices.append((text, one.name))
        self.recipe.box.fill(choices, chosen or "")
        kept = {one.name for one in recipes.known if one.kept}
        self.forget.setVisible(self.recipe.box.currentData() in kept)

    def _show_header(self, understood: Understood) -> None:
        numbers = [row.number for row in understood.grid.rows[:MOST_HEADERS]]
        if understood.header_row is not None and understood.header_row not in numbers:
            numbers.append(understood.header_row)
        choices: list[tuple[str, object]] = [(self.tr("no header"), NO_HEADER)]
        choices += [(self.tr("row {row}").format(row=number), number) for number in numbers]
        self.header.box.fill(choices, NO_HEADER if understood.header_row is None else understood.header_row)
