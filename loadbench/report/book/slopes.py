"""The sheet Slopes: how the slope at each knot of an interpolant follows the load at each, and each load's deviation.

What the uncertainty of a progressive spring's load rests on: the load at a height follows the knots on either side and,
through the slopes there, their neighbours.
"""

from __future__ import annotations

import numpy as np

from loadbench.arrays import Floats
from loadbench.readings.accuracy import Accuracy
from loadbench.report.book import interpolation as table
from loadbench.report.book.blocks import Block, Plan
from loadbench.report.book.paper import Book, Sheet
from loadbench.report.book.readings import Sums
from loadbench.units import Kind, from_display, to_display

KNOT, DEVIATION, TWO_BEFORE, BEFORE, AFTER, TWO_AFTER, FIRST = range(1, 8)
SHARES = (TWO_BEFORE, BEFORE, AFTER, TWO_AFTER)
PLACES = "0.0000;-0.0000;0"


def columns(book: Book, most: int) -> tuple[tuple[str, float], ...]:
    """The header row; `most` is the longest block's number of rows."""
    length, force = book.unit(Kind.LENGTH), book.unit(Kind.FORCE)
    head = [
        ("Spring", 18), ("Knot", 6), (f"u of the load, {force}", 12), ("Slope by the secant two before", 12),
        ("by the secant before", 12), ("by the secant after", 12), ("by the secant two after", 12),
    ]  # fmt: skip
    return (*head, *((f"Slope at knot {place + 1} by this load, 1/{length}", 12) for place in range(most)))


def write_slopes(book: Book, plan: Plan, sums: dict[str, Sums], tops: dict[str, int], accuracy: Accuracy) -> None:
    """Write the sheet Slopes.

    Args:
        book: the workbook.
        plan: the blocks.
        sums: the columns of the blocks with readings, by mark.
        tops: the row of the sheet Interpolation where each block begins, by mark.
        accuracy: of the tester.
    """
    curved = [block for block in plan.blocks if block.readings and not block.straight]
    most = max((len(sums[block.mark].counted) for block in curved), default=0)
    sheet = book.sheet("Slopes", columns(book, most))
    for block in curved:
        _write_block(sheet, block, sums[block.mark], tops[block.mark], accuracy)
    if not curved:
        sheet.text(sheet.row, 0, "No load line of this job rests on readings.", "note")


def _write_block(sheet: Sheet, block: Block, sums: Sums, top: int, accuracy: Accuracy) -> None:
    book, first, rows = sheet.book, sheet.row, len(sums.counted)
    knots = table.table_of(block, sums, book).knots
    shares = _share_values(knots, sums.distinct)
    follows = _follow_values(knots, shares)
    deviations = _deviation_values(book, knots, sums, accuracy)
    for name, column in (("knot", KNOT), ("deviation", DEVIATION)):
        book.define(block.name(name), sheet.span(first, first + rows - 1, column))
    last = sheet.cell(first + rows - 1, FIRST + rows - 1).split("!")[1]
    book.define(block.name("follows"), f"{sheet.cell(first, FIRST)}:{last}")
    for place in range(1, rows + 1):
        row = first + place - 1
        sheet.text(row, 0, block.title)
        sheet.number(row, KNOT, float(place))
        sheet.formula(row, DEVIATION, _deviation(block, top, place), float(deviations[place - 1]), PLACES)
        for column, formula in _shares(block, top, place).items():
            sheet.formula(row, column, formula, float(shares[column][place - 1]), PLACES)
    for knot in range(1, rows + 1):
        for place in range(1, rows + 1):
            where = (first + place - 1, FIRST + knot - 1)
            parts = _follow(sheet, first, top, knot, place, rows)
            if parts:
                sheet.formula(*where, parts, float(follows[place - 1, knot - 1]), PLACES)
            else:
                sheet.number(*where, 0.0, PLACES)
    _quieten(sheet, block, first, rows)
    sheet.row = first + rows


def _quieten(sheet: Sheet, block: Block, first: int, rows: int) -> None:
    """Rows and columns beyond the last knot hold no more than zeros: they are not shown."""
    hidden = sheet.book.workbook.add_format({"num_format": ";;;"})
    last = first + rows - 1
    for column, knot in ((DEVIATION, f"$B{first + 1}"), (FIRST, f"COLUMN()-{FIRST}")):
        rule = {"type": "formula", "criteria": f"={knot}>{block.name('distinct')}", "format": hidden}
        sheet.at.conditional_format(first, column, last, FIRST + rows - 1, rule)


def _there(column: int, top: int, knot: int) -> str:
    """A knot's cell on the sheet Interpolation."""
    return f"Interpolation!{table.cell_of(column, top + knot)}"


def _secant(top: int, knot: int) -> tuple[str, str]:
    """Width and secant from a knot to the next."""
    return _there(table.WIDTH_TO_NEXT, top, knot), _there(table.SECANT, top, knot)


def _deviation(block: Block, top: int, place: int) -> str:
    slope, key = _there(table.SLOPE, top, place), _there(table.KEY, top, place)
    own = f"SQRT((accuracy_repeat^2+({slope}*accuracy_height)^2)/COUNTIF({block.name('key')},{key}))"
    return f"IF({place}<={block.name('distinct')},{own},0)"


def _shares(block: Block, top: int, place: int) -> dict[int, str]:
    """How the slope at a knot follows the secants: of three points at the ends, weighted harmonic mean between."""
    count = block.name("distinct")
    if place == 1:
        near, far = _end(_secant(top, 1), _secant(top, 2))
        return {
            TWO_BEFORE: "0",
            BEFORE: "0",
            AFTER: f"IF({count}>=3,{near},IF({count}=2,1,0))",
            TWO_AFTER: f"IF({count}>=3,{far},0)",
        }
    (h, m), (k, n) = _secant(top, place - 1), _secant(top, place)
    share = f"{_there(table.SLOPE, top, place)}^2/(3*{h}+3*{k})"
    before = f"IF({m}*{n}<=0,0,{share}*(2*{k}+{h})/{m}^2)"
    after = f"IF({m}*{n}<=0,0,{share}*({k}+2*{h})/{n}^2)"
    near, far = _end(_secant(top, place - 1), _secant(top, place - 2)) if place > 2 else ("1", "0")
    return {
        TWO_BEFORE: f"IF({place}={count},{far},0)",
        BEFORE: f"IF({place}<{count},{before},IF({place}={count},{near},0))",
        AFTER: f"IF({place}<{count},{after},0)",
        TWO_AFTER: "0",
    }


def _end(near: tuple[str, str], far: tuple[str, str]) -> tuple[str, str]:
    """How the slope at an end follows its two nearest secants; held where the slope is held monotone."""
    (h, m), (k, n) = near, far
    slope = f"(((2*{h}+{k})*{m}-{h}*{n})/({h}+{k}))"
    held = f"AND({m}*{n}<0,ABS({slope})>3*ABS({m}))"
    return (
        f"IF({slope}*{m}<=0,0,IF({held},3,(2*{h}+{k})/({h}+{k})))",
        f"IF({slope}*{m}<=0,0,IF({held},0,-{h}/({h}+{k})))",
    )


def _follow(sheet: Sheet, first: int, top: int, knot: int, place: int, rows: int) -> str:
    """How the slope at a knot follows the load at another: through the secants on either side of that load."""

    def share(column: int) -> str:
        return sheet.cell(first + knot - 1, column).split("!")[1].replace("$", "")

    # a secant grows by 1/width with the load at its upper end, and falls by as much with that at its lower
    by_secant = {knot - 2: TWO_BEFORE, knot - 1: BEFORE, knot: AFTER, knot + 1: TWO_AFTER}
    parts = []
    for secant, sign in ((place - 1, "+"), (place, "-")):
        if secant in by_secant and 1 <= secant < rows:
            parts.append(f"{sign}{share(by_secant[secant])}/{_secant(top, secant)[0]}")
    return "".join(parts).removeprefix("+")


def _share_values(knots: dict[int, Floats], count: int) -> dict[int, Floats]:
    """The same at export."""
    width, secant, slope = (knots[column] for column in (table.WIDTH_TO_NEXT, table.SECANT, table.SLOPE))
    out = {column: np.zeros(len(width)) for column in SHARES}
    if count == 2:
        out[AFTER][0] = out[BEFORE][1] = 1.0
    if count < 3:
        return out
    from loadbench.readings.strand_fit import end_shares

    out[AFTER][0], out[TWO_AFTER][0] = end_shares(width[0], width[1], secant[0], secant[1])
    last = count - 1
    near = (width[last - 1], width[last - 2], secant[last - 1], secant[last - 2])
    out[BEFORE][last], out[TWO_BEFORE][last] = end_shares(*near)
    for i in range(1, last):
        if secant[i - 1] * secant[i] > 0:
            share = slope[i] ** 2 / (3 * width[i - 1] + 3 * width[i])
            out[BEFORE][i] = share * (2 * width[i] + width[i - 1]) / secant[i - 1] ** 2
            out[AFTER][i] = share * (width[i] + 2 * width[i - 1]) / secant[i] ** 2
    return out


def _follow_values(knots: dict[int, Floats], shares: dict[int, Floats]) -> Floats:
    """The same at export: row the load's knot, column the slope's."""
    width = knots[table.WIDTH_TO_NEXT]
    rows = len(width)
    out = np.zeros((rows, rows))
    for knot in range(rows):
        for step, column in zip((-2, -1, 0, 1), SHARES, strict=True):
            secant = knot + step
            if 0 <= secant < rows - 1:
                out[secant + 1, knot] += shares[column][knot] / width[secant]
                out[secant, knot] -= shares[column][knot] / width[secant]
    return out


def _deviation_values(book: Book, knots: dict[int, Floats], sums: Sums, accuracy: Accuracy) -> Floats:
    """The same at export."""
    count = sums.distinct
    slopes = from_display(knots[table.SLOPE][:count], Kind.RATE, book.style)
    own = to_display(accuracy.of_reading(slopes), Kind.FORCE, book.style)
    same = np.array([float(np.sum(sums.key == key)) for key in knots[table.KEY][:count]])
    out = np.zeros(len(knots[table.KEY]))
    out[:count] = own / np.sqrt(same)
    return out


def variance_formula(block: Block, row: str) -> str:
    """Variance of an interpolated load: each knot's load on its own; placeholders as in `straight_or_knots`.

    Args:
        block: whose load.
        row: formula of the row of the interval table: the first lies below the first knot.

    Returns:
        The template of a formula.
    """
    knot, lower = block.name("knot"), f"MAX({row}-1,1)"
    t = "({d}/{width})"
    rise = f"({t}^2*(3-2*{t}))"
    own = f"({knot}={lower})*IF({{outside}}=1,1,1-{rise})+({knot}={row})*IF({{outside}}=1,0,{rise})"
    by_slope = (
        f"({knot}={lower})*IF({{outside}}=1,{{d}},{{width}}*{t}*(1-{t})^2)"
        f"-({knot}={row})*IF({{outside}}=1,0,{{width}}*{t}^2*(1-{t}))"
    )
    return f"SUMPRODUCT(({own}+MMULT({block.name('follows')},{by_slope}))^2,{block.name('deviation')}^2)"
