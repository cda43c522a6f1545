"""The columns that give one strand's share of a load at a height: its own height, interval, load, rate and variance."""

from __future__ import annotations

import numpy as np

from loadbench.arrays import Floats
from loadbench.readings.strand import Evidence, Strand
from loadbench.report.book.blocks import Block, Term
from loadbench.report.book.interpolation import curve_intervals, table_of
from loadbench.report.book.paper import DASH as DASH_TEXT
from loadbench.report.book.paper import Book, Sheet
from loadbench.report.book.readings import Sums
from loadbench.report.book.slopes import variance_formula
from loadbench.units import Kind, to_display

DASH = f'"{DASH_TEXT}"'
OWN_HEIGHT, INTERVAL, OWN_LOAD, OWN_RATE, OWN_VARIANCE = range(5)
TERM_COLUMNS = 5
KNOT_SLACK = 1e-9
"""A height that stands on a knot but for rounding counts as on it; the load is the same from either side."""
OWN_PLACES = {OWN_HEIGHT: "0.0000", OWN_LOAD: "0.00", OWN_RATE: "0.00", OWN_VARIANCE: "0.0000"}


def heads(book: Book, mark: str) -> list[tuple[str, float]]:
    """Header and width of the columns of one strand, named by a mark."""
    length, force, rate = (book.unit(kind) for kind in (Kind.LENGTH, Kind.FORCE, Kind.RATE))
    return [
        (f"{mark}: own height, {length}", 10), (f"{mark}: interval", 8), (f"{mark}: load, {force}", 10),
        (f"{mark}: rate, {rate}", 10), (f"{mark}: U² part, {force}²", 10),
    ]  # fmt: skip


def at(sheet: Sheet, row: int, column: int) -> str:
    """The address of a cell for a formula on the same sheet."""
    return sheet.cell(row, column).split("!")[1].replace("$", "")


def straight_or_knots(block: Block, x: str, row: str, knots: str, straight: str) -> str:
    """One formula where the block is progressive, another where it is straight; both may use d, the height above."""
    if not block.curved:
        return straight
    knots = knots.replace("{d}", f"({x}-INDEX({block.name('reference')},{row}))")
    for name in ("c0", "c1", "c2", "c3", "width", "outside"):
        knots = knots.replace(f"{{{name}}}", f"INDEX({block.name(name)},{row})")
    return f"IF({block.name('progressive')}=1,{knots},{straight})"


def load_formula(block: Block, x: str, row: str) -> str:
    """The load of a block at its own height.

    Args:
        block: whose load.
        x: formula of the height.
        row: formula of the row of the interval table.

    Returns:
        A formula; a dash where it cannot be had.
    """
    name = block.name
    straight = f"{name('mean_load')}+{name('rate')}*({name('mean_height')}-{x})"
    both = straight_or_knots(block, x, row, "{c0}+{d}*({c1}+{d}*({c2}+{d}*{c3}))", straight)
    return f"IF(COUNT({x},{name('mean_height')},{name('mean_load')},{name('rate')})=4,MAX(0,{both}),{DASH})"


def interval_formula(block: Block, x: str) -> str:
    """The row of the interval table that holds for a height."""
    if not block.curved:
        return "1"
    return f"IF(COUNT({x})=1,MATCH({x}+{KNOT_SLACK!r},{block.name('from')},1),1)"


def term_formulas(sheet: Sheet, term: Term, row: int, height: str, first: int) -> dict[int, str]:
    """The formulas of one strand's columns.

    Args:
        sheet: with the row.
        term: the strand and the steps by which it stands lower.
        row: of the sheet.
        height: address of the cell with H.
        first: the strand's first column.

    Returns:
        The formula of each column.
    """
    block, name = term.block, term.block.name
    x, interval, own_load = (at(sheet, row, first + column) for column in (OWN_HEIGHT, INTERVAL, OWN_LOAD))
    rate = straight_or_knots(block, x, interval, "-({c1}+{d}*(2*{c2}+3*{c3}*{d}))", name("rate"))
    formulas = {
        OWN_HEIGHT: f"IF(COUNT({height})=1,{height}-{term.offset},{DASH})",
        INTERVAL: interval_formula(block, x),
        OWN_LOAD: load_formula(block, x, interval),
        OWN_RATE: f"IF(COUNT({x},{own_load},{name('rate')})=3,IF({own_load}>0,{rate},0),{DASH})",
        OWN_VARIANCE: DASH,
    }
    if block.readings:
        straight = f"{name('variance')}+({x}-{name('mean_height')})^2*{name('rate_variance')}"
        knots = "" if block.straight else variance_formula(block, interval)
        variance = straight_or_knots(block, x, interval, knots, straight)
        formulas[OWN_VARIANCE] = f"IF(COUNT({x},{name('coverage')})=2,{name('coverage')}^2*({variance}),{DASH})"
    return {first + column: formula for column, formula in formulas.items()}


def starts_of(term: Term, sums: dict[str, Sums], book: Book) -> Floats | None:
    """Where the intervals of a strand's table begin at export, in the workbook's units; None where it has none."""
    if not term.block.curved:
        return None
    if term.block.curve is not None:
        return curve_intervals(term.block.curve, book)[:, 0]
    return table_of(term.block, sums[term.block.mark], book).intervals[:, 0]


def term_values(
    book: Book, term: Term, strand: Strand | None, heights: Floats, starts: Floats | None, *, faulty: bool
) -> list[Floats]:
    """The values of one strand's columns at export, in the workbook's units; NaN where one cannot be had.

    Args:
        book: whose units.
        term: the strand and its steps.
        strand: its load line; None: unknown.
        heights: H, m, shape (n,).
        starts: of its intervals.
        faulty: whether an accuracy of the tester cannot be used, so that nothing has a U.

    Returns:
        A column each, shape (n,).
    """
    style, x = book.style, heights - term.offset_value
    shown = to_display(x, Kind.LENGTH, style)
    out: list[Floats] = [np.full(len(x), np.nan) for _ in range(TERM_COLUMNS)]
    out[OWN_HEIGHT] = shown
    out[INTERVAL] = np.ones(len(x))
    if starts is not None:
        found = np.searchsorted(starts, shown + KNOT_SLACK, side="right")
        out[INTERVAL] = np.where(np.isnan(shown), 1, found).astype(np.float64)
    if strand is not None:
        out[OWN_LOAD] = to_display(strand.load(x), Kind.FORCE, style)
        out[OWN_RATE] = to_display(np.where(np.isnan(x), np.nan, strand.rate_at(x)), Kind.RATE, style)
        if strand.coverage is not None and strand.evidence is Evidence.MEASURED and not faulty:
            part = strand.coverage**2 * strand.variance(x)
            out[OWN_VARIANCE] = part * to_display(1.0, Kind.FORCE, style) ** 2
    return out
