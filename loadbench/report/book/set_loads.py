"""The sheet Set loads: each load of a numbered spring or a pair at a height, worked out strand by strand, live.

The other sheets of the set show these loads; a row is asked for first, and the sheet is written when all are known.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from loadbench.arrays import Floats
from loadbench.report.book.blocks import Term
from loadbench.report.book.paper import Book, Sheet
from loadbench.report.book.readings import Sums
from loadbench.report.book.set_blocks import Carried
from loadbench.report.book.strand_columns import (
    DASH,
    OWN_LOAD,
    OWN_PLACES,
    OWN_RATE,
    OWN_VARIANCE,
    TERM_COLUMNS,
    at,
    heads,
    starts_of,
    term_formulas,
    term_values,
)
from loadbench.units import Kind, to_display

NAME = "Set loads"
SPRING, AT, HEIGHT, LOAD, EXPANDED, FIRST = range(6)
LETTERS = "ABCDEF"


@dataclass(frozen=True, slots=True, kw_only=True)
class Standing:
    """A height at which a load is asked for: its formula, its value, m, and the cell with U of it, "" for exact."""

    formula: str
    value: float | None
    expanded_cell: str = ""
    expanded: float | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Asked:
    """A load that was asked for: the cells that hold its height, itself and its U, and the values, N; None: a dash."""

    height: str
    load: str
    expanded: str
    value: float | None
    expanded_value: float | None


@dataclass(frozen=True, slots=True, kw_only=True)
class _Row:
    spring: str
    where: str
    carried: Carried
    standing: Standing
    found: Asked


class LoadRows:
    """The rows of the sheet, asked for one by one."""

    def __init__(self) -> None:
        self.rows: list[_Row] = []

    def ask(self, spring: str, where: str, carried: Carried, standing: Standing) -> Asked:
        """Ask for the load of a spring at a height.

        Args:
            spring: its name.
            where: what the load is for, in words.
            carried: its terms and its load line.
            standing: the height.

        Returns:
            Where the load will stand, and its value.
        """
        row, line, height = len(self.rows) + 2, carried.load_line, standing.value
        load = None if line is None or height is None else float(line.load(height))
        expanded = None
        if line is not None and height is not None:
            found = line.uncertainty(height, (standing.expanded or 0.0) / 2)
            expanded = None if found is None else float(found)
        asked = Asked(
            height=f"'{NAME}'!${LETTERS[HEIGHT]}${row}",
            load=f"'{NAME}'!${LETTERS[LOAD]}${row}",
            expanded=f"'{NAME}'!${LETTERS[EXPANDED]}${row}",
            value=load,
            expanded_value=expanded,
        )
        self.rows.append(_Row(spring=spring, where=where, carried=carried, standing=standing, found=asked))
        return asked

    def write(self, book: Book, sums: dict[str, Sums]) -> None:
        """Write the sheet, where a load was asked for.

        Args:
            book: the workbook.
            sums: the columns of the blocks with readings, by mark.
        """
        if not self.rows:
            return
        most = max(1, *(len(row.carried.terms) for row in self.rows))
        sheet = book.sheet(NAME, columns(book, most))
        starts: dict[str, Floats | None] = {}
        for row in self.rows:
            for term in row.carried.terms:
                if term.block.mark not in starts:
                    starts[term.block.mark] = starts_of(term, sums, book)
            _write_row(sheet, row, starts)


def columns(book: Book, most: int) -> list[tuple[str, float]]:
    """The header row; `most` strands."""
    length, force = book.unit(Kind.LENGTH), book.unit(Kind.FORCE)
    head: list[tuple[str, float]] = [
        ("Spring", 14), ("What for", 22), (f"Height H, {length}", 10), (f"Load, {force}", 10),
        (f"U (k = 2), {force}", 9),
    ]  # fmt: skip
    for place in range(most):
        head += heads(book, f"Strand {place + 1}")
    return head


def _write_row(sheet: Sheet, row: _Row, starts: dict[str, Floats | None]) -> None:
    at_row, sheet.row, book = sheet.row, sheet.row + 1, sheet.book
    terms, standing, line = row.carried.terms, row.standing, row.carried.load_line
    sheet.texts(at_row, (row.spring, row.where))
    sheet.formula(at_row, HEIGHT, standing.formula, book.shown(standing.value, Kind.LENGTH), "0.0000")
    height = at(sheet, at_row, HEIGHT)
    for place, term in enumerate(terms):
        first = FIRST + TERM_COLUMNS * place
        formulas = term_formulas(sheet, term, at_row, height, first)
        strand = None if line is None else line.strands[place][1]
        h = np.array([math.nan if standing.value is None else standing.value])
        own = starts[term.block.mark]
        values = term_values(book, term, strand, h, own, faulty=line is None or line.accuracy.faulty)
        for column, formula in formulas.items():
            value = float(values[column - first][0])
            places = OWN_PLACES.get(column - first, "")
            sheet.formula(at_row, column, formula, None if math.isnan(value) else value, places)
    load, expanded = _totals(sheet, at_row, terms, standing)
    sheet.formula(at_row, LOAD, load, book.shown(row.found.value, Kind.FORCE), "0.0")
    sheet.formula(at_row, EXPANDED, expanded, _shown_force(book, row.found.expanded_value), "0.0")


def _shown_force(book: Book, value: float | None) -> float | None:
    return None if value is None else to_display(value, Kind.FORCE, book.style)


def _totals(sheet: Sheet, row: int, terms: tuple[Term, ...], standing: Standing) -> tuple[str, str]:
    """The formulas of load and U: gain and zero are shared by the strands, the rest is independent."""
    if not terms:
        return DASH, DASH
    count = len(terms)
    loads, rates, parts = (
        [at(sheet, row, FIRST + TERM_COLUMNS * place + column) for place in range(count)]
        for column in (OWN_LOAD, OWN_RATE, OWN_VARIANCE)
    )
    load = at(sheet, row, LOAD)
    shared = f"(accuracy_gain*{load})^2+(accuracy_zero*{count})^2"
    if standing.expanded_cell:
        shared += f"+({'+'.join(rates)})^2*(N({standing.expanded_cell})/2)^2"
    joined = ",".join(parts)
    expanded = f"IF(COUNT({joined},{load})={count + 1},SQRT(SUM({joined})+4*({shared})),{DASH})"
    return f"IF(COUNT({','.join(loads)})={count},SUM({','.join(loads)}),{DASH})", expanded
