"""The rows of a printout for its preview: which is a header, which holds readings, which cell has something wrong."""

from __future__ import annotations

from bisect import bisect_right
from dataclasses import dataclass
from enum import StrEnum
from typing import TYPE_CHECKING

from loadbench.readings.printout.cells import Separator
from loadbench.readings.printout.guidance import Guidance
from loadbench.readings.printout.layout import table_of
from loadbench.readings.printout.meaning import Meaning
from loadbench.readings.printout.numbers_in import is_missing

if TYPE_CHECKING:
    from loadbench.errors import Problem
    from loadbench.readings.printout.cells import Grid, Row
    from loadbench.readings.printout.meaning import Understood

SHOWN = 200
"""The rows that a preview begins with; those with something wrong come besides."""

MOST_WRONG = 200


class RowKind(StrEnum):
    """What a row of the printout was taken for."""

    HEADER = "header"
    UNITS = "units"
    READ = "read"
    WRONG = "wrong"
    LEFT_OUT = "left-out"


@dataclass(frozen=True, slots=True, kw_only=True)
class ShownRow:
    """A row of the preview: its number in the printout, its cells, what it was taken for, and the problems by cell."""

    number: int
    cells: tuple[str, ...]
    kind: RowKind
    problems: dict[int, Problem]

    @property
    def alone(self) -> bool:
        """Whether it is a line of text above, between or beneath the table's rows: one cell and nothing beside it."""
        return self.kind is RowKind.LEFT_OUT and bool(self.cells) and self.cells[0] != "" and not any(self.cells[1:])


def levelled(grid: Grid) -> tuple[Row, ...]:
    """The rows with each cell under its column; only columns of blanks need it."""
    if grid.separator is not Separator.BLANKS:
        return grid.rows
    table = table_of(grid, Guidance())
    placed = {row.number: row for row in (*table.above, *table.body)}
    return tuple(placed.get(row.number, row) for row in grid.rows)


def shown_rows(understood: Understood, rows: tuple[Row, ...]) -> tuple[ShownRow, ...]:
    """The rows to show.

    Args:
        understood: the printout.
        rows: of its grid, from `levelled`.

    Returns:
        The first SHOWN, then those further down that have something wrong.
    """
    wrong = problems_by_row(understood, rows)
    read = _read_rows(understood)
    further = [row for row in rows[SHOWN:] if row.number in wrong][:MOST_WRONG]
    return tuple(
        ShownRow(
            number=row.number,
            cells=row.cells,
            kind=_kind(understood, row.number, read, wrong=row.number in wrong),
            problems=wrong.get(row.number, {}),
        )
        for row in (*rows[:SHOWN], *further)
    )


def _read_rows(understood: Understood) -> frozenset[int]:
    """The rows that gave a reading."""
    return frozenset(reading.row for spring in understood.springs for reading in spring.readings)


def _kind(understood: Understood, number: int, read: frozenset[int], *, wrong: bool) -> RowKind:
    if number == understood.unit_row:
        return RowKind.UNITS
    if number in read:
        return RowKind.READ
    header, first = understood.header_row, understood.first_row
    if header is not None and header <= number < (first or header + 1):
        return RowKind.HEADER
    if wrong:
        return RowKind.WRONG
    begins = any(spring.row == number for spring in understood.springs)  # a heading, or a spring without readings
    return RowKind.READ if begins else RowKind.LEFT_OUT


def missing_loads(understood: Understood, rows: tuple[Row, ...]) -> int:
    """How many loads are not there: cells that are blank, or hold a dash, in rows that were read."""
    places = [column.place for column in understood.columns if column.meaning is Meaning.LOAD]
    read = _read_rows(understood) | {spring.row for spring in understood.springs}
    cells = (row.cells[place : place + 1] for row in rows if row.number in read for place in places)
    return sum(not cell or is_missing(cell[0]) for cell in cells)


def problems_by_row(understood: Understood, rows: tuple[Row, ...]) -> dict[int, dict[int, Problem]]:
    """The problems that have a row, by its number and the index of the cell; a whole row's stands at its first cell."""
    by_number = {row.number: row for row in rows}
    found: dict[int, dict[int, Problem]] = {}
    for problem in understood.problems:
        row = by_number.get(problem.place.row or 0)
        if row is not None:
            found.setdefault(row.number, {}).setdefault(cell_index(row, problem.place.column), problem)
    return found


def cell_index(row: Row, column: int | None) -> int:
    """The index of the cell that stands at a column of the printout (from 1), or among whose letters it is."""
    if column is None:
        return 0
    return max(0, bisect_right(row.columns, column) - 1)
