"""The sheet Figures: every figure of every line and member as a live formula, with its U, evidence and source."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from loadbench.analysis import Analysis, Figure, LineAnalysis
from loadbench.analysis.figure import symbolic
from loadbench.analysis.members import MARGINS
from loadbench.analysis.result import GREATEST, RATES
from loadbench.report.book.blocks import Plan
from loadbench.report.book.formulas import DASH, LineFormulas, Pair, member_cell, when
from loadbench.report.book.inputs import words
from loadbench.report.book.paper import Book, Sheet
from loadbench.report.follower_words import FOLLOWER_FIGURES
from loadbench.report.motion_words import MOTION_FIGURES
from loadbench.units import Kind

ELSEWHERE = frozenset((*MOTION_FIGURES, *FOLLOWER_FIGURES))
COLUMNS = (
    ("Line", 9), ("Spring", 9), ("Figure", 27), ("Value", 9), ("Unit", 8), ("U (k = 2)", 9), ("Formula", 31),
    ("Evidence", 19), ("Note at export", 28), ("Source", 16), ("Name of the cell", 46),
)  # fmt: skip
NAME = len(COLUMNS) - 1
VALUE, EXPANDED = 3, 5
OF_ONE_KIND = {
    "lift_at_zero_lash": ("Valve lift at zero lash", "solid"),
    "plunger_depth": ("Plunger depth, cold", "hydraulic"),
    "lift_pumped_up": ("Valve lift pumped up", "hydraulic"),
    "bind_margin_zero_lash": ("Coil clearance at zero lash", "solid"),
    "bind_margin_pumped_up": ("Coil clearance pumped up", "hydraulic"),
}
"""Figures that only solid or only hydraulic followers have; their rows stand ready for a change of family."""

AS_TYPED = "as typed"
ORIGINS = {
    "rate_measured": "least squares: the sheet Fit",
    "rate_stated": AS_TYPED,
    "rate_geometric": "k = 4 \u00d7 G \u00d7 J / (\u03c0 \u00d7 \u03a3 D\u00b3)",
    "member_seat_load": "its own load line",
    "member_open_load": "its own load line",
}
"""Where a figure without a formula of its own comes from."""


def write_figures(book: Book, analysis: Analysis, plan: Plan) -> None:
    """Write the sheet Figures.

    Args:
        book: the workbook.
        analysis: of the job.
        plan: the blocks that the loads rest on.
    """
    sheet = book.sheet("Figures", COLUMNS)
    if analysis.has_lines:
        for figure in _at_rest(analysis.figures).values():
            _write(sheet, ("worst", ""), figure, f"worst_{figure.name}", _worst(analysis, figure.name))
    for line in analysis.lines:
        formulas = LineFormulas(line, plan, book.style)
        _write_hydraulic(sheet, line, formulas)
        own = formulas.all()
        for figure in _with_other_kind(_at_rest(line.figures), OF_ONE_KIND):
            _write(sheet, (line.name, ""), figure, formulas.own(figure.name), own.get(figure.name))
        for place, member in enumerate(line.members):
            pairs = dict(formulas.margins_of(member, place))
            for figure in _with_other_kind(member.figures, MARGINS):
                own_name = member_cell(line, place, figure.name)
                _write(sheet, (line.name, member.title), figure, own_name, pairs.get(figure.name))
    sheet.at.print_area(0, 0, sheet.row - 1, NAME - 1)


def _at_rest(figures: dict[str, Figure]) -> dict[str, Figure]:
    """The figures without those of motion and follower, which stand on sheets of their own."""
    return {name: figure for name, figure in figures.items() if name not in ELSEWHERE}


def _with_other_kind(figures: dict[str, Figure], wanted: Iterable[str]) -> Iterator[Figure]:
    """The figures, and without values those of the other kind of follower."""
    yield from figures.values()
    for name in wanted:
        if name in OF_ONE_KIND and name not in figures:
            label, kind = OF_ONE_KIND[name]
            yield Figure(name=name, label=label, kind=Kind.LENGTH, note=f"For a {kind} follower.")


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
    sheet.text(row, 4, book.unit(figure.kind), "unit")
    waits = f"Waits for: {', '.join(words(field) for field in figure.missing)}." if figure.missing else ""
    note = " ".join(part for part in (figure.note, waits) if part)
    sheet.texts(row, (told_formula(figure), figure.evidence, note, figure.source, name), 6, "quiet")
    sheet.define(name, row, VALUE)
    sheet.define(f"{name}_U", row, EXPANDED)


def told_formula(figure: Figure) -> str:
    """The formula with its symbols; in words where the value is one that was typed, or has no formula of its own.

    Args:
        figure: any.

    Returns:
        Such as "h = H \u2212 L" or "as typed"; empty for a figure without a value.
    """
    if not figure.known:
        return ""
    if figure.name == "ratio":
        return AS_TYPED if figure.inputs else ""
    if not figure.formula:
        return ORIGINS.get(figure.name, "")
    right = figure.formula.split("=", 1)[-1].strip()
    alone = next((each for each in figure.inputs if right == f"{{{each.symbol}}}"), None)
    return symbolic(figure) if alone is None or alone.field.startswith("figures.") else AS_TYPED


def _expanded(name: str, pair: Pair) -> str:
    """U, only where there is a value."""
    return DASH if pair[1] == DASH else when(name, pair[1])


def _write_hydraulic(sheet: Sheet, line: LineAnalysis, formulas: LineFormulas) -> None:
    row, sheet.row = sheet.row, sheet.row + 1
    family, lobe = line.stated.value("follower.family"), line.stated.value("cam.lash_kind")
    value = None if lobe is None else float(lobe == "hydraulic")
    value = value if family is None else float(str(family).endswith("hydraulic"))
    sheet.texts(row, (line.name, "", "Hydraulic (1 yes, 0 no)"))
    sheet.formula(row, VALUE, formulas.hydraulic(), value)
    sheet.text(row, NAME, sheet.define(formulas.own("hydraulic"), row, VALUE), "quiet")


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
