"""A file or pasted text with a lift table as a grid of cells: the sheet with the lobe, and what is no table refused."""

from __future__ import annotations

import os
from collections.abc import Callable
from dataclasses import replace

from loadbench.errors import UnreadableFileError
from loadbench.readings import lift_columns as c
from loadbench.readings.printout.cells import Grid
from loadbench.readings.printout.opening import PRINTOUT, ROWS, grid_of_pasted, read_grid

MOST_SHEETS = 12
"""Sheets of a workbook that are looked through for the one with a lobe."""
IN_OTHER_WORDS = {
    PRINTOUT: "a lift table as text (CSV, tabs, columns of blanks) or a workbook (.xlsx)",
    ROWS: "a lift table with a row for each angle",
}
"""What is expected, where the reader of files speaks of printouts."""

Progress = Callable[[float], None]


def lobe_grid(path: str | os.PathLike[str], *, sheet: str | None = None, progress: Progress | None = None) -> Grid:
    """The cells of a file with a lift table.

    Args:
        path: text, or an .xlsx workbook.
        sheet: of a workbook; None: the first whose headers name angles and lifts, else the first with rows of numbers.
        progress: told the share done; it may raise Cancelled.

    Returns:
        The grid, with at least one row.

    Raises:
        UnreadableFileError: missing, empty, too large, no text and no workbook.
        Cancelled: by `progress`.
    """
    try:
        grid = read_grid(path, sheet=sheet, progress=progress)
        if sheet is None and len(grid.sheets) > 1 and not _names_a_lobe(grid):
            return _sheet_with_a_lobe(path, grid, progress)
    except UnreadableFileError as error:
        raise _in_other_words(error) from error
    return grid


def pasted_lobe_grid(text: str) -> Grid:
    """The cells of a pasted lift table.

    Args:
        text: what was pasted.

    Returns:
        The grid, with at least one row.

    Raises:
        UnreadableFileError: nothing in it, too much, or no text.
    """
    try:
        return grid_of_pasted(text)
    except UnreadableFileError as error:
        raise _in_other_words(error) from error


def _names_a_lobe(grid: Grid) -> bool:
    roles = [column.role for column in c.columns_of(c.parted(grid))]
    return "angle" in roles and "lift" in roles


def _sheet_with_a_lobe(path: str | os.PathLike[str], first: Grid, progress: Progress | None) -> Grid:
    for name in first.sheets[:MOST_SHEETS]:
        if name == first.sheet:
            continue
        try:
            grid = read_grid(path, sheet=name, progress=progress)
        except UnreadableFileError:
            continue  # an empty sheet, such as one of notes
        if _names_a_lobe(grid):
            return grid
    return first


def _in_other_words(error: UnreadableFileError) -> UnreadableFileError:
    problems = (replace(each, expected=IN_OTHER_WORDS.get(each.expected, each.expected)) for each in error.problems)
    return UnreadableFileError(tuple(problems))
