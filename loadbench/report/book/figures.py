"""The sheet Figures: every figure of every line and member as a live formula, with its U, evidence, source and inputs."""

from __future__ import annotations

from collections.abc import Iterable

from loadbench.analysis import Analysis, Figure, LineAnalysis
from loadbench.analysis.figure import symbolic
from loadbench.analysis.result import GREATEST, RATES
from loadbench.report.book.blocks import Plan
from loadbench.report.book.formulas import DASH, LineFormulas, Pair, member_cell, when
from loadbench.report.book.inputs import words
from loadbench.report.book.paper import Book, Sheet

COLUMNS = (
    ("Line", 11), ("Spring", 14), ("Figure", 30), ("Value", 13), ("Unit", 8), ("U (k = 2)", 11), ("Formula", 34),
    ("Evidence", 18), ("Note at export", 40), ("Waits for", 30), ("Source", 16), ("Name of the cell", 32),
)  # fmt: skip
VALUE, EXPANDED = 3, 5


def write_figures(book: Book, analysis: Analysis, plan: Plan) -> None:
    """Write the sheet Figures.

    Args:
        book: the workbook.
        analysis: of the job.
        plan: the blocks that the loads rest on.
    """
    sheet = book.sheet("Figures", COLUMNS)
    if analysis.has_lines:
        for figure in analysis.figures.values():
            _write(sheet, ("worst", ""), figure, f"worst_{figure.name}", _worst(analysis, figure.name))
    for line in analysis.lines:
        formulas = LineFormulas(line, plan, book.style)
        _write_hydraulic(sheet, line, formulas)
        own = formulas.all()
        for figure in line.figures.values():
            _write(sheet, (line.name, ""), figure, formulas.own(figure.name), own.get(figure.name))
        for place, member in enumerate(line.members):
            pairs = dict(formulas.margins_of(member, place))
            for name, figure in member.figures.items():
                _write(sheet, (line.name, member.title), figure, member_cell(line, place, name), pairs.get(name))


def _write(sheet: Sheet, of: tuple[str, str], figure: Figure, name: str, pair: Pair | None) -> None:
    row, sheet.row, book = sheet.row, sheet.row + 1, sheet.book
    value = book.shown(figure.value, figure.kind)
    expanded = book.shown(figure.expanded, figure.kind) if figure.known else None
    sheet.texts(row, (*of, figure.label))
    places = book.places(figure.kind)
    if pair is None:
        sheet.number(row, VALUE, value, places)
        sheet.number(row, EXPANDED, expanded, places)
    else:
        sheet.formula(row, VALUE, pair[0], value, places)
        sheet.formula(row, EXPANDED, _expanded(name, pair), expanded, places)
    sheet.text(row, 4, book.unit(figure.kind), "quiet")
    waits = ", ".join(words(field) for field in figure.missing)
    sheet.texts(row, (symbolic(figure), figure.evidence, figure.note, waits, figure.source, name), 6, "quiet")
    sheet.define(name, row, VALUE)
    sheet.define(f"{name}_U", row, EXPANDED)


def _expanded(name: str, pair: Pair) -> str:
    """U, only where there is a value."""
    return DASH if pair[1] == DASH else when(name, pair[1])


def _write_hydraulic(sheet: Sheet, line: LineAnalysis, formulas: LineFormulas) -> None:
    row, sheet.row = sheet.row, sheet.row + 1
    family, lobe = line.stated.value("follower.family"), line.stated.value("cam.lash_kind")
    value = None if lobe is None else float(lobe == "hydraulic")
    value = value if family is None else float(str(family).endswith("hydraulic"))
    sheet.texts(row, (line.name, "", "Follower takes up the lash (1 yes, 0 no)"))
    sheet.formula(row, VALUE, formulas.hydraulic(), value)
    sheet.text(row, 11, sheet.define(formulas.own("hydraulic"), row, VALUE), "quiet")


def _worst(analysis: Analysis, name: str) -> Pair:
    """A figure from the line where it is worst; a line without it is left out."""
    lines = [line.name for line in analysis.lines if name in line.figures]
    cells = [f"{line}_{name}" for line in lines]
    joined = ",".join(cells)
    extreme = f"{'MAX' if name in GREATEST or name in RATES else 'MIN'}({joined})"
    plain = f"IF(COUNT({joined})>0,{extreme},{DASH})"
    if name in RATES and len(lines) > 1:
        loaded = _most_loaded(lines, cells)
        return when(loaded, loaded, plain), _of_line(f"worst_{name}", cells)
    return plain, _of_line(f"worst_{name}", cells)


def _most_loaded(lines: Iterable[str], cells: Iterable[str]) -> str:
    """The cell of the line with the greatest open load."""
    (first, second), (one, other) = lines, cells
    a, b = f"{first}_open_load", f"{second}_open_load"
    return f"IF(COUNT({a},{b})=2,IF({b}>{a},{other},{one}),IF(COUNT({b})=1,{other},{one}))"


def _of_line(worst: str, cells: Iterable[str]) -> str:
    """The U of the first line whose figure it is."""
    formula = DASH
    for cell in reversed(list(cells)):
        formula = f"IF({cell}={worst},{cell}_U,{formula})"
    return formula
