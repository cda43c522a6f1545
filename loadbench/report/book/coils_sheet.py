"""The sheet Coils: every figure of each spring from the wire up, live where a spreadsheet can compute it."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from loadbench.analysis import Analysis, Figure
from loadbench.analysis.coils.stress_figures import LANDED
from loadbench.analysis.figure import Plain, symbolic
from loadbench.report.book.blocks import Plan
from loadbench.report.book.coil_basis import Rest, loads_of, rests_on
from loadbench.report.book.coil_cells import CoilCells, coil_cells
from loadbench.report.book.coil_formulas import geometry_formulas
from loadbench.report.book.coil_stress_formulas import kept_formula, stress_formulas
from loadbench.report.book.figures import told_formula
from loadbench.report.book.inputs import words
from loadbench.report.book.paper import Book, Sheet

COLUMNS = (
    ("Line", 9), ("Spring", 10), ("Figure", 29), ("Value", 10), ("Unit", 7), ("Cell", 9.5), ("Formula", 30),
    ("From", 18), ("Note at export", 31), ("Source", 12.5), ("Name of the cell", 46),
)  # fmt: skip
FIGURE, VALUE, UNIT, CELL, FORMULA = range(2, 7)
NAME = len(COLUMNS) - 1
LIVE, KEPT = "live", "at export"
NUMBERS = "0.000"
FOR_ABOVE = "for the figures above"
TAKEN = (
    "Live: the figure follows the numbers on the sheet Job and the readings.",
    "At export: no spreadsheet computes it; it turns into a dash once an entry or a load that it rests on is changed.",
    "Material, ends, peening and presetting are those at export: the words of a job are read by the program alone.",
)


def write_coils(book: Book, analysis: Analysis, plan: Plan) -> None:
    """Write the sheet Coils, where anything is stated of any coil.

    Args:
        book: the workbook, its sheet Job written.
        analysis: of the job.
        plan: the blocks that the loads rest on.
    """
    every = list(coil_cells(book, analysis, plan))
    if not every:
        return
    sheet = book.sheet("Coils", COLUMNS)
    breaks = []
    for of in every:
        formulas = {**dict(geometry_formulas(of)), **dict(stress_formulas(of))}
        breaks.append(sheet.row)
        for figure in of.coil.figures.values():
            _write_figure(sheet, of, figure, formulas)
        for rest in rests_on(of, formulas):
            _write_rest(sheet, of, rest)
    sheet.at.set_h_pagebreaks(breaks[1:])
    for place, line in enumerate(TAKEN, 1):
        sheet.text(sheet.row + place, 0, line, "note")
    sheet.at.print_area(0, 0, sheet.row + len(TAKEN), NAME - 1)
    sheet.at.freeze_panes(1, FIGURE + 1)


def places_of(book: Book, figure: Figure) -> str:
    """The number pattern of a figure of a coil."""
    return NUMBERS if figure.kind is Plain.NUMBER else book.places(figure.kind)


def _write_figure(sheet: Sheet, of: CoilCells, figure: Figure, formulas: Mapping[str, str]) -> None:
    row, book = _begin(sheet, of, figure.label, figure.name)
    value, places = book.shown(figure.value, figure.kind), places_of(book, figure)
    kept = figure.name not in formulas and value is not None
    formula = formulas.get(figure.name)
    if kept and value is not None:
        formula = kept_formula(of, figure.name, value, loads_of(of))
    if formula is None:
        sheet.number(row, VALUE, value, places)
    else:
        sheet.formula(row, VALUE, formula, value, places)
    sheet.text(row, UNIT, book.unit(figure.kind), "unit")
    by_curve = figure.name == "bind_load" and (of.by_curve or figure.evidence == LANDED)
    sheet.text(row, CELL, "" if formula is None else KEPT if kept or by_curve else LIVE, "word")
    note = " ".join(_notes(figure))
    came = figure.evidence.removeprefix("from ")
    sheet.texts(row, (_how(figure), came, note, figure.source), FORMULA, "quiet")


def _how(figure: Figure) -> str:
    """The formula with its symbols; a strength was read from its table, not typed."""
    return symbolic(figure) if figure.known and figure.name == "tensile_strength" else told_formula(figure)


def _notes(figure: Figure) -> Iterator[str]:
    if figure.note:
        yield figure.note
    if figure.missing:
        yield f"Waits for: {', '.join(words(field) for field in figure.missing)}."


def _write_rest(sheet: Sheet, of: CoilCells, rest: Rest) -> None:
    row, _ = _begin(sheet, of, rest.label, rest.name)
    if rest.formula is None:
        sheet.number(row, VALUE, rest.value, rest.places)
    else:
        sheet.formula(row, VALUE, rest.formula, rest.value, rest.places)
    sheet.text(row, UNIT, rest.unit, "unit")
    sheet.text(row, CELL, KEPT if rest.formula is None and rest.value is not None else LIVE, "word")
    sheet.texts(row, (rest.how, FOR_ABOVE, rest.note, rest.source), FORMULA, "quiet")


def _begin(sheet: Sheet, of: CoilCells, label: str, name: str) -> tuple[int, Book]:
    row, sheet.row = sheet.row, sheet.row + 1
    sheet.texts(row, (of.line.name, of.coil.name, label))
    sheet.text(row, NAME, sheet.define(of.own(name), row, VALUE), "quiet")
    return row, sheet.book
