"""The sheet Order list: the springs and shims in cylinder order, in letters to work by, with boxes to tick."""

from __future__ import annotations

from loadbench.analysis import Analysis
from loadbench.findings.set_check.result import LaidOut, SetCheck
from loadbench.report.book.paper import Book, Sheet
from loadbench.report.book.plan_sheet import PlanRow, PlanRows
from loadbench.report.book.strand_columns import DASH
from loadbench.report.book.valves_sheet import FIRST_SHIM, ValveRow, Valves
from loadbench.report.cautions import CAUTIONS
from loadbench.units import Kind, Told, tell

NAME = "Order list"
BOX = "\u2610"
TICK, VALVE, SPRING, MARK, BIN, SHIM = range(6)
MOST_ON_A_PAGE = 34
"""So many valves still print on one page in letters to work by."""


def write_order_list(book: Book, analysis: Analysis, check: SetCheck, valves: Valves, plan: PlanRows) -> None:
    """Write the sheet, where the valves have springs: as planned where a plan is kept, else as the valves name them.

    Args:
        book: the workbook.
        analysis: of the job.
        check: of the set.
        valves: the sheet with the valves as they stand.
        plan: the sheet with the plan.
    """
    laid_out = [each for each in check.laid_out if each.valve]
    if not any(each.spring for each in laid_out):
        return
    planned = {row.kept.name: row for row in plan.rows}
    standing = {row.name: row for row in valves.rows.values()}
    shims = max(plan.shims, valves.shims) if planned else valves.shims
    widths = [5.0, 9.0, 15.0, 12.0, 6.0, *([9.0] * shims), 11.0, 11.0, 11.0]
    sheet = book.page(NAME, widths)
    last = len(widths) - 1
    _line(sheet, last, (analysis.job.title or "").strip() or "Untitled job", "title")
    kept = f"as planned {analysis.job.plan.made_on}" if analysis.job.plan.made_on else "as planned"
    _line(sheet, last, f"Springs in cylinder order, {kept if planned else 'as the valves name them'}", "aside")
    sheet.gap(6)
    first = sheet.row
    _write_head(sheet, shims)
    for each in laid_out:
        _write(sheet, each, planned.get(each.valve) or standing.get(each.valve), shims)
    if len(laid_out) > MOST_ON_A_PAGE:
        sheet.at.fit_to_pages(1, 0)
        sheet.at.repeat_rows(first)
    _write_below(sheet, last, plan)
    sheet.at.print_area(0, 0, sheet.row - 1, last)


def _line(sheet: Sheet, last: int, text: str, look: str) -> None:
    sheet.across(sheet.row, 0, last, text, look)
    sheet.row += 1


def _write_head(sheet: Sheet, shims: int) -> None:
    row, sheet.row, book = sheet.row, sheet.row + 1, sheet.book
    length, force = book.unit(Kind.LENGTH), book.unit(Kind.FORCE)
    sheet.texts(row, ("", "Valve", "Spring", "Mark", "Bin"), look="big head")
    sheet.blanks(row, 0, 0, "big head")
    numbers = [*(f"Shim {place + 1}, {length}" for place in range(shims)), f"Height, {length}", f"Seat, {force}",
               f"Open, {force}"]  # fmt: skip
    sheet.texts(row, numbers, SHIM, "big head number")


def _write(sheet: Sheet, each: LaidOut, source: PlanRow | ValveRow | None, shims: int) -> None:
    row, sheet.row, book = sheet.row, sheet.row + 1, sheet.book
    sheet.text(row, TICK, BOX, "big box")
    for column, text in enumerate((each.valve, each.spring or DASH.strip('"'), each.mark, each.bin), VALVE):
        sheet.blanks(row, column, column, "big")
        sheet.text(row, column, text, "big")
    if source is None:
        sheet.blanks(row, SHIM, SHIM + shims + 2, "big number")
        return
    sheet.blanks(row, SHIM, SHIM + shims - 1, "big number")
    _write_shims(sheet, row, source, shims)
    after = SHIM + shims
    values = _values(source, each)
    for column, (name, value, kind) in enumerate(values, after):
        places = book.places(kind) if kind is Kind.LENGTH else "0.0"
        sheet.formula(row, column, source.cells[name], book.shown(value, kind), places, look="big number")


def _values(source: PlanRow | ValveRow, each: LaidOut) -> tuple[tuple[str, float | None, Kind], ...]:
    """Height and loads of the place, each with the name of its cell."""
    if isinstance(source, PlanRow):
        height, seat, at_lift = source.kept.installed_height, source.kept.seat_load, source.kept.open_load
    else:
        height, seat, at_lift = source.height, each.seat_load, each.open_load
    return ("height", height, Kind.LENGTH), ("seat", seat, Kind.FORCE), ("open", at_lift, Kind.FORCE)


def _write_shims(sheet: Sheet, row: int, source: PlanRow | ValveRow, shims: int) -> None:
    """The shims as they stand on the other sheet; nothing where a cell there is empty."""
    if isinstance(source, PlanRow):
        cells, stack = source.shim_cells, source.kept.shims or ()
    else:
        cells, stack = tuple(_shim_cell(source, place) for place in range(shims)), source.shims
    for place, cell in enumerate(cells):
        value = sheet.book.shown(stack[place], Kind.LENGTH) if place < len(stack) else ""
        sheet.formula(row, SHIM + place, f'IF(COUNT({cell})=1,{cell},"")', value, "0.000#", look="big number")


def _shim_cell(source: ValveRow, place: int) -> str:
    from xlsxwriter.utility import xl_rowcol_to_cell

    sheet = source.cells["bare"].split("!")[0]
    return f"{sheet}!{xl_rowcol_to_cell(source.row, FIRST_SHIM + place, row_abs=True, col_abs=True)}"


def _write_below(sheet: Sheet, last: int, plan: PlanRows) -> None:
    """The shims to fetch, and the cautions."""
    if plan.rows:
        sheet.gap(6)
        fetched = [f"{count} of {_told(sheet, size)}" for size, count in plan.sizes().items()]
        _line(sheet, last, f"Shims to fetch at export: {', '.join(fetched) or 'none'}.", "strong")
    sheet.gap(6)
    for caution in CAUTIONS:
        _line(sheet, last, caution, "aside")


def _told(sheet: Sheet, size: float) -> Told:
    return tell(size, Kind.LENGTH, sheet.book.style)
