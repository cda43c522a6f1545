"""The sheet Interpolation: a monotone interpolant through each block's readings as a table of intervals to look up.

Slopes at the knots are the weighted harmonic means of the neighbouring secants, at the ends the three-point formula
held monotone (fritsch-butland); within an interval F = c0 + d (c1 + d (c2 + d c3)), d the height above its reference.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from loadbench.arrays import Floats
from loadbench.readings.strand import Knots
from loadbench.report.book.blocks import Block, Plan
from loadbench.report.book.paper import Book, Sheet
from loadbench.report.book.readings import NO_KEY, Sums
from loadbench.units import Kind, to_display

BELOW = -1e6
BEYOND = 1000.0
KEY, HEIGHT, LOAD, WIDTH_TO_NEXT, SECANT, SLOPE, FROM, REFERENCE, WIDTH, C0, C1, C2, C3, OUTSIDE = range(2, 16)
RANGES = {
    "from": FROM, "reference": REFERENCE, "width": WIDTH, "c0": C0, "c1": C1, "c2": C2, "c3": C3, "outside": OUTSIDE,
}  # fmt: skip
PLACES = {HEIGHT: "0.0000", LOAD: "0.00", SECANT: "0.00", SLOPE: "0.00"}
PLACES[FROM] = f'[<={BELOW:.0f}]"below";0.0000'
"""The first interval has no lower end; its cell holds one for the look-up that no spring reaches."""
PLACES |= dict.fromkeys((WIDTH_TO_NEXT, REFERENCE, WIDTH, C0, C1, C2, C3), "0.0000")


@dataclass(frozen=True, slots=True)
class Table:
    """A block's knots (shape (rows,), beyond the last of them fill) and intervals (shape (rows + 1, 8)) at export."""

    knots: dict[int, Floats]
    intervals: Floats


def columns(book: Book) -> tuple[tuple[str, float], ...]:
    """The header row."""
    length, force, rate = (book.unit(kind) for kind in (Kind.LENGTH, Kind.FORCE, Kind.RATE))
    return (
        ("Spring", 18), ("Knot", 6), ("Key: whole µm", 11), (f"Height, {length}", 11), (f"Load, {force}", 11),
        (f"Width to the next, {length}", 11), (f"Secant, {rate}", 12), (f"Slope dF/dh, {rate}", 12),
        (f"Interval from, {length}", 12), (f"Reference, {length}", 11), (f"Width, {length}", 10), (f"c0, {force}", 11),
        (f"c1, {rate}", 12), (f"c2, {rate}/{length}", 12), (f"c3, {rate}/{length}²", 12), ("Outside (1 yes)", 9),
    )  # fmt: skip


def write_interpolation(book: Book, plan: Plan, sums: dict[str, Sums]) -> dict[str, int]:
    """Write the sheet Interpolation.

    Args:
        book: the workbook.
        plan: the blocks.
        sums: the columns of the blocks with readings, by mark.

    Returns:
        The row where each block begins, by mark.
    """
    sheet = book.sheet("Interpolation", columns(book))
    tops = {}
    for block in plan.blocks:
        if block.readings and not block.straight:
            tops[block.mark] = sheet.row
            _write_block(sheet, block, sums[block.mark])
        elif block.curve is not None:
            _write_curve(sheet, block, block.curve)
    if sheet.row > 1:
        _quieten(sheet)
    else:
        sheet.text(sheet.row, 0, "No load line of this job follows a curve.", "note")
    return tops


def _quieten(sheet: Sheet) -> None:
    """Rows beyond the last knot serve the look-up only: they are not shown."""
    hidden = sheet.book.workbook.add_format({"num_format": ";;;"})
    rule = {"type": "formula", "criteria": f"=$D2>={BEYOND}", "format": hidden}
    sheet.at.conditional_format(1, KEY, sheet.row - 1, OUTSIDE, rule)


def _write_block(sheet: Sheet, block: Block, sums: Sums) -> None:
    top, rows = sheet.row, len(sums.counted)
    table = table_of(block, sums, sheet.book)
    for name, column in RANGES.items():
        sheet.book.define(block.name(name), sheet.span(top, top + rows, column))
    for place in range(rows + 1):
        sheet.text(top + place, 0, block.title)
        if place:
            sheet.number(top + place, 1, float(place))
            _write_knot(sheet, block, top, place, table)
        for column, formula in _interval(block, top, place).items():
            value = float(table.intervals[place, column - FROM])
            sheet.formula(top + place, column, formula, value, PLACES.get(column, ""))
    sheet.row = top + rows + 1


def _write_curve(sheet: Sheet, block: Block, curve: Knots) -> None:
    """A coil's own curve as it was worked out at export: numbers, not formulas."""
    top, intervals = sheet.row, curve_intervals(curve, sheet.book)
    for name, column in RANGES.items():
        if column >= FROM:
            sheet.book.define(block.name(name), sheet.span(top, top + len(intervals) - 1, column))
    for place, row in enumerate(intervals):
        sheet.text(top + place, 0, block.title)
        for offset, value in enumerate(row):
            sheet.number(top + place, FROM + offset, float(value), PLACES.get(FROM + offset, ""))
    sheet.row = top + len(intervals)


def curve_intervals(curve: Knots, book: Book) -> Floats:
    """The intervals of a curve in the workbook's units.

    Args:
        curve: heights ascending.
        book: whose units.

    Returns:
        Shape (knots + 1, 8): the part below the first knot, then one from each knot.
    """
    height = to_display(curve.heights, Kind.LENGTH, book.style)
    load = to_display(curve.loads, Kind.FORCE, book.style)
    width, secant = np.ones(len(height)), np.zeros(len(height))
    width[:-1] = np.diff(height)
    secant[:-1] = np.diff(load) / width[:-1]
    slope = to_display(curve.slopes, Kind.RATE, book.style)
    knots = {HEIGHT: height, LOAD: load, WIDTH_TO_NEXT: width, SECANT: secant, SLOPE: slope}
    return _intervals(knots, len(height))


def _write_knot(sheet: Sheet, block: Block, top: int, place: int, table: Table) -> None:
    def at(column: int, step: int = 0) -> str:
        return cell_of(column, top + place + step)

    name, exists, more = block.name, f"{place}<={block.name('distinct')}", f"{place}<{block.name('distinct')}"
    before = f'COUNTIF({name("key")},"<="&{at(KEY, -1)})+1' if place > 1 else "1"
    fallback = f"{at(HEIGHT, -1)}+{BEYOND!r}" if place > 1 else f"{BEYOND!r}"
    same = f"COUNTIF({name('key')},{at(KEY)})"
    last = place == len(table.knots[KEY])
    formulas = {
        KEY: f"IF({exists},SMALL({name('key')},{before}),{NO_KEY!r})",
        HEIGHT: f"IF({exists},SUMIF({name('key')},{at(KEY)},{name('height')})/{same},{fallback})",
        LOAD: f"IF({exists},SUMIF({name('key')},{at(KEY)},{name('load')})/{same},0)",
        WIDTH_TO_NEXT: "1" if last else f"IF({more},{at(HEIGHT, 1)}-{at(HEIGHT)},1)",
        SECANT: "0" if last else f"IF({more},({at(LOAD, 1)}-{at(LOAD)})/{at(WIDTH_TO_NEXT)},0)",
        SLOPE: _slope(block, top, place),
    }
    for column, formula in formulas.items():
        sheet.formula(top + place, column, formula, float(table.knots[column][place - 1]), PLACES.get(column, ""))


def cell_of(column: int, row: int) -> str:
    """The address of a cell of this sheet; all its columns have one letter."""
    return f"{chr(ord('A') + column)}{row + 1}"


def _end_slope(near: tuple[str, str], far: tuple[str, str]) -> str:
    """The three-point slope at an end, from the widths and secants of the two nearest intervals, held monotone."""
    (h, m), (k, n) = near, far
    slope = f"((2*{h}+{k})*{m}-{h}*{n})/({h}+{k})"
    return f"IF(SIGN({slope})<>SIGN({m}),0,IF(AND(SIGN({m})<>SIGN({n}),ABS({slope})>3*ABS({m})),3*{m},{slope}))"


def _slope(block: Block, top: int, place: int) -> str:
    """The slope at a knot: of three points at the ends, weighted harmonic mean of the secants between."""
    count, row = block.name("distinct"), top + place

    def pair(step: int) -> tuple[str, str]:
        return cell_of(WIDTH_TO_NEXT, row + step), cell_of(SECANT, row + step)

    if place == 1:
        return f"IF({count}>=3,{_end_slope(pair(0), pair(1))},{pair(0)[1]})"
    (h, m), (k, n) = pair(-1), pair(0)
    mean = f"IF({m}*{n}<=0,0,(3*{h}+3*{k})/((2*{k}+{h})/{m}+({k}+2*{h})/{n}))"
    end = _end_slope(pair(-1), pair(-2)) if place > 2 else m
    return f"IF({place}<{count},{mean},IF({place}={count},{end},0))"


def _interval(block: Block, top: int, place: int) -> dict[int, str]:
    """One row of the look-up: below the first knot, from a knot to the next, or from the last knot on."""
    row, count = top + place, block.name("distinct")

    def at(column: int, step: int = 0) -> str:
        return cell_of(column, row + step)

    if place == 0:
        first = {REFERENCE: HEIGHT, WIDTH: WIDTH_TO_NEXT, C0: LOAD, C1: SLOPE}
        own = {column: at(source, 1) for column, source in first.items()}
        return {FROM: repr(BELOW), **own, C2: "0", C3: "0", OUTSIDE: "1"}
    inside = f"IF({place}<{count},"
    second = f"(3*{at(SECANT)}-2*{at(SLOPE)}-{at(SLOPE, 1)})/{at(WIDTH_TO_NEXT)}"
    third = f"({at(SLOPE)}+{at(SLOPE, 1)}-2*{at(SECANT)})/{at(WIDTH_TO_NEXT)}^2"
    width = (
        f"{inside}{at(WIDTH_TO_NEXT)},IF({place}={count},{at(WIDTH_TO_NEXT, -1)},1))"
        if place > 1
        else at(WIDTH_TO_NEXT)
    )
    return {
        FROM: at(HEIGHT),
        REFERENCE: at(HEIGHT),
        WIDTH: width,
        C0: at(LOAD),
        C1: at(SLOPE),
        C2: f"{inside}{second},0)",
        C3: f"{inside}{third},0)",
        OUTSIDE: f"{inside}0,1)",
    }


def table_of(block: Block, sums: Sums, book: Book) -> Table:
    """A block's table at export, in the workbook's units, from the readings and the strand's own slopes."""
    rows, count = len(sums.counted), sums.distinct
    keys = np.full(rows, NO_KEY)
    keys[:count] = np.unique(sums.key[sums.counted > 0])
    height, load = np.zeros(rows), np.zeros(rows)
    for place in range(rows):
        if place < count:
            same = sums.key == keys[place]
            height[place], load[place] = sums.heights[same].mean(), sums.loads[same].mean()
        else:
            height[place] = (height[place - 1] if place else 0.0) + BEYOND
    width, secant = np.ones(rows), np.zeros(rows)
    if count > 1:
        width[: count - 1] = np.diff(height[:count])
        secant[: count - 1] = np.diff(load[:count]) / width[: count - 1]
    slope = np.zeros(rows)
    slope[:count] = _slopes(block, height[:count], load[:count], book)
    knots = {KEY: keys, HEIGHT: height, LOAD: load, WIDTH_TO_NEXT: width, SECANT: secant, SLOPE: slope}
    return Table(knots, _intervals(knots, count))


def _slopes(block: Block, heights: Floats, loads: Floats, book: Book) -> Floats:
    """The slopes at the knots: the strand's own where it is progressive, else as they would be."""
    if len(heights) < 2:
        return np.zeros(len(heights))
    strand = block.evidence.measured
    knots: Knots | None = None if strand is None else strand.knots
    if knots is not None:
        return to_display(knots.slopes, Kind.RATE, book.style)
    from scipy.interpolate import PchipInterpolator

    return np.asarray(PchipInterpolator(heights, loads).derivative()(heights), dtype=np.float64)


def _intervals(knots: dict[int, Floats], count: int) -> Floats:
    height, load, width, secant, slope = (knots[column] for column in (HEIGHT, LOAD, WIDTH_TO_NEXT, SECANT, SLOPE))
    rows = len(height)
    out = np.zeros((rows + 1, OUTSIDE - FROM + 1))
    out[0] = (BELOW, height[0], width[0], load[0], slope[0], 0.0, 0.0, 1.0)
    for place in range(rows):
        inside = place + 1 < count
        after = slope[place + 1] if inside else 0.0
        second = (3 * secant[place] - 2 * slope[place] - after) / width[place] if inside else 0.0
        third = (slope[place] + after - 2 * secant[place]) / width[place] ** 2 if inside else 0.0
        own = width[place - 1] if place and place + 1 == count else width[place]
        line = (height[place], height[place], own, load[place], slope[place], second, third, 0.0 if inside else 1.0)
        out[place + 1] = line
    return out
