"""The key figures of the sheet Summary: live, and held against what they were at export."""

from __future__ import annotations

from loadbench.analysis import Analysis, Figure
from loadbench.analysis.figure import told
from loadbench.report.book.looks import LEVEL_INKS
from loadbench.report.book.paper import Book, Sheet
from loadbench.report.book.summary_speeds import Cell, speed_rows
from loadbench.units import Kind

WIDTHS = (10, 25, 10, 9, 10, 9, 9, 18, 3, 11, 9, 11, 9, 9)
"""Eight columns that are printed, a gap, and beside them the figures as they were at export."""
LAST = 7
AIR, SLIT = 9.0, 3.0
"""Empty rows between the parts of the page and under a head, points."""
LABEL, FIRST_VALUE, UNIT, AT_EXPORT, FLAG = 0, 2, 6, 9, 13
KEY_FIGURES = (
    "rate", "installed_height", "seat_load", "effective_seat_load", "net_valve_lift", "open_height", "open_load",
    "bind_margin", "bind_margin_zero_lash", "bind_margin_pumped_up", "retainer_margin", "follower_seat_load",
    "follower_open_load",
)  # fmt: skip
"""In the order of the work."""
SAME = "The verdicts on this page belong to these figures."
CHANGED = (
    "A figure on this page has changed since the export: the verdicts are those of the old figures. Judge the job anew."
)
CHANGED_NAME = "summary_changed"


def write_key_figures(sheet: Sheet, analysis: Analysis) -> None:
    """Write the key figures of every line side by side, each with its U and unit, and whether they have changed.

    Args:
        sheet: the Summary, at the row to begin.
        analysis: of the job.
    """
    sheet.gap(AIR)
    row, sheet.row = sheet.row, sheet.row + 1
    sheet.blanks(row, 0, LAST, "head")
    sheet.across(row, LABEL, LABEL + 1, "Key figures, \u00b1 U with k = 2", "head")
    for line in analysis.lines:
        at = _column(analysis, line.name)
        sheet.texts(row, (line.name if analysis.has_lines else "Value", "\u00b1 U"), FIRST_VALUE + at, "head number")
        sheet.text(row, AT_EXPORT + at, "At export", "at export")
    sheet.text(row, FLAG, "Changed", "at export")
    sheet.text(row, UNIT, "Unit", "head indented")
    sheet.text(row, UNIT + 1, "From", "head")
    sheet.gap(SLIT)
    for name in KEY_FIGURES:
        _write_row(sheet, analysis, name)
    for label, cells, came in speed_rows(sheet, analysis):
        _write_speed(sheet, analysis, label, cells, came)
    _write_changed(sheet, row + 1)


def _column(analysis: Analysis, line: str) -> int:
    """Where a line's figures stand, from the first: the last is next to the units."""
    place = [each.name for each in analysis.lines].index(line)
    return 2 * (place + 2 - len(analysis.lines))


def missing_here(analysis: Analysis) -> dict[str, None]:
    """The fields that the dashes of this page wait for."""
    figures = (line.figures[name] for name in KEY_FIGURES for line in analysis.lines if name in line.figures)
    return dict.fromkeys(field for figure in figures for field in figure.missing)


def _write_row(sheet: Sheet, analysis: Analysis, name: str) -> None:
    figures = {line.name: line.figures[name] for line in analysis.lines if name in line.figures}
    if not figures:
        return
    row, sheet.row, first = sheet.row, sheet.row + 1, next(iter(figures.values()))
    sheet.across(row, LABEL, LABEL + 1, first.label)
    sheet.text(row, UNIT, sheet.book.unit(first.kind), "unit")
    evidence = dict.fromkeys(str(each.evidence) for each in figures.values() if each.evidence)
    sheet.text(row, UNIT + 1, "; ".join(evidence), "aside")
    flags: list[str] = []
    for line, figure in figures.items():
        flags += _write_figure(sheet, row, _column(analysis, line), f"{line}_{name}", figure)
    sheet.formula(row, FLAG, f"MAX({','.join(flags)})", 0.0)


def _write_speed(sheet: Sheet, analysis: Analysis, label: str, cells: dict[str, Cell], came: str) -> None:
    row, sheet.row, flags = sheet.row, sheet.row + 1, []
    sheet.across(row, LABEL, LABEL + 1, label)
    sheet.text(row, UNIT, sheet.book.unit(Kind.SPEED), "unit")
    sheet.text(row, UNIT + 1, came, "aside")
    for line, (formula, value) in cells.items():
        at = FIRST_VALUE + _column(analysis, line)
        kept = at - FIRST_VALUE + AT_EXPORT
        sheet.formula(row, at, formula, value, "0", look="number")
        live, told_then = _at(sheet, row, at), _at(sheet, row, kept)
        if isinstance(value, str):
            sheet.text(row, kept, value, "at export")
            flags.append(f"IF({live}={told_then},0,1)")
        else:
            sheet.number(row, kept, value, "0", look="at export")
            flags.append(_differs(live, told_then))
    sheet.formula(row, FLAG, f"MAX({','.join(flags)})", 0.0)


def _write_figure(sheet: Sheet, row: int, at: int, name: str, figure: Figure) -> list[str]:
    """A figure and its U, live and as at export; the formulas that say whether they differ."""
    book, places, flags = sheet.book, places_of(sheet.book, figure), []
    expanded = book.shown(figure.expanded, figure.kind) if figure.known else None
    cells = (
        (name, book.shown(figure.value, figure.kind), places),
        (f"{name}_U", expanded, f'"\u00b1 "{places}'),
    )
    for column, (of, value, pattern) in enumerate(cells, FIRST_VALUE + at):
        kept = column - FIRST_VALUE + AT_EXPORT
        sheet.formula(row, column, of, value, pattern)
        sheet.number(row, kept, value, pattern, look="at export")
        flags.append(_differs(_at(sheet, row, column), _at(sheet, row, kept)))
    return flags


def _at(sheet: Sheet, row: int, column: int) -> str:
    return sheet.cell(row, column).split("!")[1].replace("$", "")


def _differs(live: str, kept: str) -> str:
    """1 where a figure is no longer what it was at export, but for rounding; 0 where both are dashes."""
    far = f"IF(ABS({live}-{kept})>1E-9*ABS({kept})+1E-12,1,0)"
    return f"IF(COUNT({live},{kept})=2,{far},IF(COUNT({live},{kept})=0,0,1))"


def places_of(book: Book, figure: Figure) -> str:
    """The number pattern with as many decimals as the figure is told with.

    Args:
        book: whose units.
        figure: known or not.

    Returns:
        Such as "0.000".
    """
    shown = None if figure.value is None else told(figure.value, figure.kind, book.style, figure.expanded)
    if shown is None or "e" in shown.number:
        return book.places(figure.kind)
    decimals = len(shown.number.partition(".")[2])
    return f"0.{'0' * decimals}" if decimals else "0"


def _write_changed(sheet: Sheet, first: int) -> None:
    """Say, live, whether the verdicts still belong to the figures on the page."""
    row, sheet.row, book = sheet.row, sheet.row + 1, sheet.book
    flags = sheet.span(first, row - 1, FLAG).split("!")[1]
    sheet.formula(row, FLAG, f"MAX({flags})", 0.0)
    changed = sheet.define(CHANGED_NAME, row, FLAG)
    sheet.at.merge_range(row, 0, row, LAST, "", book.format("aside"))
    sheet.formula(row, 0, f'IF({changed}>0,"{CHANGED}","{SAME}")', SAME)
    sheet.make_room(row, sheet.height_for(CHANGED, sheet.width_of(0, LAST), "strong"))
    look = book.workbook.add_format({"font_color": LEVEL_INKS["stop"], "bold": True})
    rule = {"type": "formula", "criteria": f"={changed}>0", "format": look}
    sheet.at.conditional_format(row, 0, row, LAST, rule)
