"""The sheet Readings: each reading as a number, and beside it what the sums on the sheet Fit take from it."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

import numpy as np

from loadbench.analysis import Analysis
from loadbench.arrays import Floats
from loadbench.report.book.blocks import Block, Plan
from loadbench.report.book.inputs import cell_name, entry_at
from loadbench.report.book.paper import Book, Sheet
from loadbench.units import Kind, to_display

NO_KEY = 1e9
"""Stands for the height of a row that does not count; above any height in micrometres."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Sums:
    """What a block's rows hold, in the workbook's units; shape (rows,), zero in rows that do not count."""

    heights: Floats
    loads: Floats
    counted: Floats
    from_mean: Floats
    line: Floats
    residual: Floats
    second: Floats
    key: Floats
    first: Floats

    @property
    def count(self) -> int:
        """How many readings count."""
        return int(self.counted.sum())

    @property
    def distinct(self) -> int:
        """How many different heights there are."""
        return int(self.first.sum())


def sums_of(block: Block, book: Book, values: Mapping[str, Any]) -> Sums:
    """The columns of a block as they are at export.

    Args:
        block: with readings.
        book: whose units they take.
        values: the stated values by path, SI.

    Returns:
        Its columns, with rows to spare.
    """
    paths = block.evidence.paths
    heights = np.array([values[f"{path}.height"] for path in paths], dtype=np.float64)
    loads = np.array([values[f"{path}.load"] for path in paths], dtype=np.float64)
    n, rows = len(heights), len(heights) + block.spare
    h, load = to_display(heights, Kind.LENGTH, book.style), to_display(loads, Kind.FORCE, book.style)
    u = h - np.mean(h) if n else h
    key = np.round(heights * 1e6)
    first = np.array([float(k not in key[:i]) for i, k in enumerate(key)])
    measured = n >= 2 and float(np.ptp(heights)) > 2e-5
    rate = -float(u @ load) / float(u @ u) if measured else 0.0
    line = np.mean(load) - rate * u if measured else np.zeros(n)
    residual = load - line if measured else np.zeros(n)
    second = u**2 - float(np.sum(u**3)) / float(u @ u) * u - float(u @ u) / n if measured else np.zeros(n)

    def padded(values: Floats, fill: float = 0.0) -> Floats:
        return np.concatenate([values, np.full(rows - n, fill)])

    return Sums(
        heights=padded(h),
        loads=padded(load),
        counted=padded(np.ones(n)),
        from_mean=padded(u),
        line=padded(line),
        residual=padded(residual),
        second=padded(second),
        key=padded(key, NO_KEY),
        first=padded(first),
    )


def columns(book: Book) -> tuple[tuple[str, float], ...]:
    """The header row."""
    length, force = book.unit(Kind.LENGTH), book.unit(Kind.FORCE)
    return (
        ("Spring", 20), ("Height as typed", 15), ("Load as typed", 15), (f"Height, {length}", 12),
        (f"Load, {force}", 12),
        ("Counts (1 yes, 0 no)", 10), (f"Height from their mean, {length}", 13), (f"Straight line there, {force}", 13),
        (f"Residual, {force}", 12), (f"Second-order term, {length}²", 14), ("Key: whole µm", 12),
        ("First of its height", 10),
    )  # fmt: skip


HEIGHT, LOAD, COUNTS, FROM_MEAN, ON_LINE, RESIDUAL, SECOND, KEY, FIRST = range(3, 12)
FOR_CURVES = ("second", "key", "first")
"""The columns that only a spring of three or more heights needs."""
TYPED = "0.0###"
PLACES = {FROM_MEAN: "0.0000", ON_LINE: "0.0000", RESIDUAL: "0.0000", SECOND: "0.000000", KEY: f"[<{NO_KEY:.0f}]0;"}
"""The patterns of the numbers; the key of a row that does not count is not shown."""


def reading_paths(plan: Plan) -> set[str]:
    """The paths of the readings whose cells stand on this sheet."""
    found = [path for block in plan.blocks if block.readings for path in block.evidence.paths]
    return {f"{path}.{name}" for path in found for name in ("height", "load")}


def write_readings(book: Book, analysis: Analysis, plan: Plan) -> dict[str, Sums]:
    """Write the sheet Readings.

    Args:
        book: the workbook.
        analysis: of the job.
        plan: the blocks.

    Returns:
        The columns of each block by its mark.
    """
    sheet = book.sheet("Readings", columns(book))
    found: dict[str, Sums] = {}
    for block in plan.blocks:
        if block.readings:
            found[block.mark] = sums_of(block, book, analysis.stated.values)
            _write_block(sheet, analysis, block, found[block.mark])
    if not found:
        sheet.text(sheet.row, 0, "No load line of this job rests on readings.", "note")
    return found


def _write_block(sheet: Sheet, analysis: Analysis, block: Block, sums: Sums) -> None:
    first, rows = sheet.row, len(sums.counted)
    last = first + rows - 1
    ranges = {
        "height": HEIGHT, "load": LOAD, "counted": COUNTS, "from_mean": FROM_MEAN, "residual": RESIDUAL,
        "second": SECOND, "key": KEY, "first": FIRST,
    }  # fmt: skip
    for name, column in ranges.items():
        if block.straight and name in FOR_CURVES:
            continue
        sheet.book.define(block.name(name), sheet.span(first, last, column))
    for place in range(rows):
        sheet.text(first + place, 0, block.title)
        if place < sums.count:
            _write_reading(sheet, analysis, block.evidence.paths[place], first + place, sums, place)
        else:
            for column in (HEIGHT, LOAD):
                sheet.number(first + place, column, None, TYPED, look="input")
        _write_sums(sheet, block, first, place, sums)
    sheet.row = last + 1


def _write_reading(sheet: Sheet, analysis: Analysis, path: str, row: int, sums: Sums, place: int) -> None:
    """One reading's cells; where another block has the same reading, they follow that one."""
    for column, name, value in ((HEIGHT, "height", sums.heights[place]), (LOAD, "load", sums.loads[place])):
        own = f"{path}.{name}"
        sheet.text(row, column - 2, str(entry_at(analysis.job, own) or ""))
        if sheet.book.named(cell_name(own)):
            sheet.formula(row, column, cell_name(own), float(value), TYPED)
        else:
            sheet.number(row, column, float(value), TYPED, look="input")
            sheet.define(cell_name(own), row, column)


def _write_sums(sheet: Sheet, block: Block, first: int, place: int, sums: Sums) -> None:
    row, name = first + place, block.name
    height, load, counts, u, line, key = (
        sheet.cell(row, column).split("!")[1] for column in (HEIGHT, LOAD, COUNTS, FROM_MEAN, ON_LINE, KEY)
    )
    so_far = sheet.span(first, row, KEY).split("!")[1]
    micrometres = f"{1e6 / sheet.book.per_metre()!r}"
    formulas = {
        COUNTS: (f"IF(COUNT({height},{load})=2,1,0)", sums.counted),
        FROM_MEAN: (f"IF({counts}=1,{height}-{name('mean_height')},0)", sums.from_mean),
        ON_LINE: (f"IF({counts}*{name('measured')}=1,{name('mean_load')}-{name('rate')}*{u},0)", sums.line),
        RESIDUAL: (f"IF({counts}*{name('measured')}=1,{load}-{line},0)", sums.residual),
        SECOND: (
            f"IF({counts}*{name('measured')}=1,{u}^2-{name('skew')}*{u}-{name('spread')}/{name('count')},0)",
            sums.second,
        ),
        KEY: (f"IF({counts}=1,ROUND({height}*{micrometres},0),{NO_KEY!r})", sums.key),
        FIRST: (f"IF({counts}=1,IF(COUNTIF({so_far},{key})=1,1,0),0)", sums.first),
    }
    if block.straight:
        formulas = {column: own for column, own in formulas.items() if column not in (SECOND, KEY, FIRST)}
    for column, (formula, values) in formulas.items():
        sheet.formula(row, column, formula, float(values[place]), PLACES.get(column, ""))
