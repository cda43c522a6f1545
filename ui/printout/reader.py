"""Reads a printout off the window's thread, and again with each correction; the newest wish wins."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import QObject, Signal

from loadbench.errors import LoadBenchError
from loadbench.readings.printout.opening import grid_of_pasted, read_grid
from loadbench.readings.printout.reading import understood
from loadbench.readings.printout.recipe_shelf import best_recipe
from loadbench.readings.printout.recipes import corrected
from ui.desk import Desk, Progress

if TYPE_CHECKING:
    from collections.abc import Callable, Sequence
    from pathlib import Path

    from loadbench.job.kept_parts import Recipe
    from loadbench.readings.printout.cells import Decimal, Grid
    from loadbench.readings.printout.meaning import Column, Layout, Understood
    from loadbench.units import Style

AT_ONCE = 1500
"""Rows that are read again within 0.1 s, so that no desk is needed."""


class Reader(QObject):
    """One printout at a time. What is being read shows nothing until it is there; what was there before stays."""

    read = Signal(object)  # Understood
    failed = Signal(object)  # LoadBenchError: why it is no printout
    begun = Signal(str)  # what is being read

    def __init__(self, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self.desk = Desk(self)
        self.current: Understood | None = None
        self.path: Path | None = None  # of what is read now or was read last; None for pasted text
        self.book: Path | None = None  # the file of `current`
        self.desk.done.connect(self._take)
        self.desk.failed.connect(self._fail)

    # A printout

    def open(self, path: Path, style: Style, recipes: Sequence[Recipe], sheet: str | None = None) -> None:
        """Read a file, by the recipe that fits it.

        Args:
            path: the file.
            style: the job's units, for what states none.
            recipes: those that may fit, the preferred ones first.
            sheet: of a workbook; None: the first with rows of numbers.
        """
        self.path = path
        self.begun.emit(path.name)

        def work(progress: Progress) -> Understood:
            return _understood(read_grid(path, sheet=sheet, progress=progress), style, recipes, progress)

        self.desk.start(work)

    def paste(self, text: str, style: Style, recipes: Sequence[Recipe]) -> None:
        """Read a pasted text; otherwise as `open`."""
        self.path = None
        self.begun.emit("")
        self.desk.start(lambda progress: _understood(grid_of_pasted(text), style, recipes, progress))

    # Corrections

    def read_by(self, recipe: Recipe | None, style: Style) -> None:
        """Read the same printout by a recipe, or afresh; corrections made before are gone."""
        found = self.current
        if found is not None:
            self._again(lambda: understood(found.grid, style=style, recipe=recipe))

    def correct(
        self,
        columns: Sequence[Column] = (),
        *,
        layout: Layout | None = None,
        decimal: Decimal | None = None,
    ) -> None:
        """Read again with corrections; earlier ones stay."""
        found = self.current
        if found is not None:
            self._again(lambda: corrected(found, columns, layout=layout, decimal=decimal))

    def correct_header(self, row: int | None) -> None:
        """Read again with another header row; None: without one."""
        found = self.current
        if found is not None:
            self._again(lambda: corrected(found, (), header_row=row))

    def _again(self, read: Callable[[], Understood]) -> None:
        found, self.path = self.current, self.book
        if found is not None and len(found.grid.rows) <= AT_ONCE:
            self.desk.cancel()
            self._take(read())
            return
        self.begun.emit(found.grid.name if found is not None else "")
        self.desk.start(lambda _progress: read())

    # Answers

    def _take(self, found: Understood) -> None:
        self.current, self.book = found, self.path
        self.read.emit(found)

    def _fail(self, error: Exception) -> None:
        if not isinstance(error, LoadBenchError):
            raise error
        if self.path is None or self.path != self.book:
            self.current = None
        self.failed.emit(error)


def _understood(grid: Grid, style: Style, recipes: Sequence[Recipe], progress: Progress) -> Understood:
    progress(0.6)
    recipe = best_recipe(grid, recipes)
    found = understood(grid, style=style, recipe=recipe)
    progress(1.0)
    return found
