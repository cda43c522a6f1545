"""The faults in a printout's rows, each with its place; many of one kind are told as a number."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence

from loadbench.errors import Place, Problem
from loadbench.readings.printout.cells import Row
from loadbench.readings.printout.drafts import Draft

MOST_TOLD = 50
"""Faults told one by one for a column; the rest is told as a number."""


class Faults:
    """The faults of a printout's rows, with a limit for each column."""

    def __init__(self, file: str | None, drafts: Sequence[Draft]) -> None:
        self._file, self._drafts = file, drafts
        self._problems: list[Problem] = []
        self._counts: Counter[int] = Counter()

    def tell(self, row: Row, place: int, what: str, expected: str, column: int | None) -> None:
        """Note a fault at a cell; `column`, by place, is the column it counts for, None for the row as a whole."""
        counted = -1 if column is None else column
        self._counts[counted] += 1
        if self._counts[counted] <= MOST_TOLD:
            at = row.columns[place] if place < len(row.columns) else place + 1
            where = Place(file=self._file, row=row.number, column=at)
            self._problems.append(Problem(what=what, expected=expected, place=where))

    def told(self) -> tuple[Problem, ...]:
        """All that was noted, and how much more there was."""
        more = []
        for place, count in self._counts.items():
            if count > MOST_TOLD:
                name = "whole rows" if place < 0 else f'column "{self._drafts[place].header or place + 1}"'
                where = Place(file=self._file, column=place + 1 if place >= 0 else None)
                more.append(Problem(what=f"{count - MOST_TOLD:,} more faults like these in {name}.", place=where))
        return (*self._problems, *more)
