"""The load table of one line by formulas: every step of lift from closed to full lift, with its charts."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from loadbench.analysis import LineAnalysis
from loadbench.analysis.damper import ENERGY, FRICTION, damper_band, damper_entered
from loadbench.arrays import Floats
from loadbench.report.book.blocks import Plan, Term
from loadbench.report.book.charts import CHART_ROWS, Drawn, write_charts
from loadbench.report.book.inputs import cell_name, words
from loadbench.report.book.paper import Book, Sheet
from loadbench.report.book.readings import Sums
from loadbench.report.book.strand_columns import (
    DASH,
    OWN_HEIGHT,
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
from loadbench.report.table import STEPS, height_deviations, lift_rows
from loadbench.units import Kind, Style, to_display

POINT, LIFT, HEIGHT, LOAD, EXPANDED, RATE, FOLLOWER, BEYOND = range(8)
LOADING, UNLOADING = BEYOND + 1, BEYOND + 2
"""The edges of a damper's band; the columns are there only where its load was entered."""

SPARE_SHARE = 0.25
ROWS_ON_A_PAGE = 34
"""Table and charts share a page as long as its letters stay readable."""
PLACES = {LIFT: "0.000", HEIGHT: "0.0000", LOAD: "0.0", EXPANDED: "0.0", RATE: "0.00", FOLLOWER: "0.0",
          LOADING: "0.0", UNLOADING: "0.0"}  # fmt: skip


@dataclass(frozen=True, slots=True)
class Line:
    """What the sheet of one line is written from."""

    analysed: LineAnalysis
    terms: tuple[Term, ...]
    sums: dict[str, Sums]

    def name(self, figure: str) -> str:
        """The name of a figure's cell on this line."""
        return f"{self.analysed.name}_{figure}"

    @property
    def friction(self) -> str:
        """The name of the cell with the damper's load; "" where none was entered."""
        stated = self.analysed.stated
        return cell_name(stated.path(FRICTION)) if damper_entered(stated) else ""

    @property
    def first(self) -> int:
        """The first column of the first strand."""
        return UNLOADING + 1 if self.friction else BEYOND + 1

    def value(self, name: str) -> float:
        """A figure, SI; NaN where it is unknown."""
        found = self.analysed.value(name)
        return math.nan if found is None else found


def columns(book: Book, own: Line) -> list[tuple[str, float]]:
    """The header row."""
    length, force, rate = (book.unit(kind) for kind in (Kind.LENGTH, Kind.FORCE, Kind.RATE))
    head: list[tuple[str, float]] = [
        ("Point", 11), (f"Valve lift, {length}", 10), (f"Height H, {length}", 10), (f"Load, {force}", 10),
        (f"U (k = 2), {force}", 9), (f"Rate, {rate}", 10), (f"Follower load, {force}", 10),
        ("Beyond the readings (1 yes)", 10),
    ]  # fmt: skip
    if own.friction:
        head += [(f"Valve opens, {force}", 10), (f"Valve closes, {force}", 10)]
    for term in own.terms:
        head += heads(book, term.block.mark)
    return head


def write_load_line(book: Book, line: LineAnalysis, plan: Plan, sums: dict[str, Sums]) -> None:
    """Write the load table and the charts of one line.

    Args:
        book: the workbook.
        line: analysed.
        plan: the blocks.
        sums: the columns of the blocks with readings, by mark.
    """
    own = Line(line, plan.terms[line.name], sums)
    title = "Load line" if line.name == "common" else f"Load line {line.name}"
    sheet = book.sheet(title, columns(book, own))
    if not own.terms:
        waits = "; ".join(words(field) for field in line.nest.missing)
        sheet.text(sheet.row, 0, f"The load line cannot be had. Waits for: {waits}.", "note")
        return
    lifts = _lifts(book, own)
    values = _values(book, own, lifts)
    for place in range(len(lifts)):
        _write_row(sheet, own, place, len(lifts), values)
    for end, row in (("closed", 1), ("full_lift", len(lifts))):
        named = [("load", LOAD), ("load_U", EXPANDED)]
        named += [("loading", LOADING), ("unloading", UNLOADING)] if own.friction else []
        for what, column in named:
            sheet.define(own.name(f"{end}_{what}"), row, column)
    hidden = book.workbook.add_format({"num_format": ";;;"})
    rule = {"type": "formula", "criteria": f"=$B3>={own.name('net_valve_lift')}", "format": hidden}
    if len(lifts) > 2:
        sheet.at.conditional_format(2, LIFT, len(lifts) - 1, own.first - 1 + TERM_COLUMNS * len(own.terms), rule)
    sheet.row = len(lifts) + 2
    sheet.text(sheet.row, 0, "More lift than the steps above reach: the last row is always full lift.", "note")
    if own.friction:
        _write_energy(sheet, own)
    if line.value("open_load") is not None:
        write_charts(sheet, _drawn(own, len(lifts), values))
    printed = own.first - 1 + TERM_COLUMNS * min(len(own.terms), 1)
    sheet.at.print_area(0, 0, sheet.row + CHART_ROWS, printed)
    if sheet.row <= ROWS_ON_A_PAGE:
        sheet.at.fit_to_pages(1, 1)
    else:
        sheet.at.set_h_pagebreaks([sheet.row + 1])


def _drawn(own: Line, rows: int, values: dict[int, Floats]) -> Drawn:
    """What the charts show; readings only where one spring carries them at the line's own height."""
    alone = own.terms[0] if len(own.terms) == 1 else None
    block = alone.block if alone and alone.block.readings and alone.offset_value == 0 else None
    heights = [float(np.nanmin(values[HEIGHT]))]
    if block is not None:
        sums = own.sums[block.mark]
        heights += [float(height) for height in sums.heights[sums.counted > 0]]
    return Drawn(lift=LIFT, height=HEIGHT, load=LOAD, rows=rows, readings=block, lowest=min(heights))


def _lifts(book: Book, own: Line) -> Floats:
    """Lifts at export, m: the steps, some to spare that stay at the net lift, the net lift; NaN where unknown."""
    lifts = lift_rows(own.analysed.value("net_valve_lift"), book.style)
    if not len(lifts):
        return np.array([0.0, math.nan])
    spare = np.full(1 + int(SPARE_SHARE * len(lifts)), lifts[-1])
    return np.concatenate([lifts[:-1], spare, lifts[-1:]])


def _values(book: Book, own: Line, lifts: Floats) -> dict[int, Floats]:
    """Every column's values at export, in the workbook's units; NaN where one cannot be had."""
    style, line = book.style, own.analysed.load_line
    heights = own.value("installed_height") - lifts
    nothing: Floats = np.full(len(lifts), np.nan)
    known = line is not None
    load = line.load(heights) if line is not None else nothing
    rate = line.rate_at(heights) if line is not None else nothing
    nominal, full = height_deviations(own.analysed)
    expanded = nothing
    if line is not None and (found := line.uncertainty(heights, nominal)) is not None:
        last = line.uncertainty(heights[-1:], full)
        expanded = found if last is None else np.concatenate([found[:-1], last])
    out = {
        LIFT: to_display(lifts, Kind.LENGTH, style),
        HEIGHT: to_display(heights, Kind.LENGTH, style),
        LOAD: to_display(load, Kind.FORCE, style),
        EXPANDED: to_display(expanded, Kind.FORCE, style),
        RATE: to_display(np.where(np.isnan(heights), np.nan, rate), Kind.RATE, style),
        FOLLOWER: to_display(load * own.value("ratio"), Kind.FORCE, style),
    }
    for column, edge in zip((LOADING, UNLOADING), damper_band(own.analysed.stated, load), strict=True):
        out[column] = to_display(edge, Kind.FORCE, style)
    beyond = [math.nan if math.isnan(h) or line is None else float(line.extrapolated(float(h))) for h in heights]
    out[BEYOND] = np.array(beyond)
    for place, term in enumerate(own.terms):
        strand = term.block.evidence.strand if known else None
        starts = starts_of(term, own.sums, book)
        columns_of_it = term_values(book, term, strand, heights, starts, faulty=line is None or line.accuracy.faulty)
        out |= dict(enumerate(columns_of_it, own.first + TERM_COLUMNS * place))
    return out


def _write_row(sheet: Sheet, own: Line, place: int, rows: int, values: dict[int, Floats]) -> None:
    row, last = 1 + place, place == rows - 1
    sheet.text(row, POINT, "closed" if place == 0 else "full lift" if last else "")
    formulas = _line_formulas(sheet, own, row, last)
    for index, term in enumerate(own.terms):
        first = own.first + TERM_COLUMNS * index
        formulas |= term_formulas(sheet, term, row, at(sheet, row, HEIGHT), first)
    for column, formula in formulas.items():
        value = float(values[column][place])
        own_place = OWN_PLACES.get((column - own.first) % TERM_COLUMNS, "")
        places = own_place if column >= own.first else PLACES.get(column, "")
        sheet.formula(row, column, formula, None if math.isnan(value) else value, places)


def _line_formulas(sheet: Sheet, own: Line, row: int, last: bool) -> dict[int, str]:
    """Lift, height, load, U, rate and follower load of one row."""
    book, net, top, ratio = sheet.book, own.name("net_valve_lift"), own.name("installed_height"), own.name("ratio")
    lift, load = at(sheet, row, LIFT), at(sheet, row, LOAD)
    step = STEPS[book.style] * (row - 1)
    part = {name: [at(sheet, row, own.first + TERM_COLUMNS * index + place) for index in range(len(own.terms))]
            for name, place in (("load", OWN_LOAD), ("rate", OWN_RATE), ("variance", OWN_VARIANCE))}  # fmt: skip
    loads, rates, parts = (",".join(part[name]) for name in ("load", "rate", "variance"))
    count, rate = len(own.terms), at(sheet, row, RATE)
    deviation = f"(N({own.name('installed_height_U')})/2)^2"
    deviation += f"+(N({own.name('net_valve_lift_U')})/2)^2" if last else ""
    shared = f"(accuracy_gain*{load})^2+(accuracy_zero*{count})^2+{rate}^2*({deviation})"
    at_lift = f"IF(COUNT({net})=1,{net if last else f'MIN({step!r},{net})'},{DASH})"
    return {
        LIFT: "0" if row == 1 else at_lift,
        HEIGHT: f"IF(COUNT({top},{lift})=2,{top}-{lift},{DASH})",
        LOAD: f"IF(COUNT({loads})={count},SUM({loads}),{DASH})",
        EXPANDED: f"IF(COUNT({parts},{load})={count + 1},SQRT(SUM({parts})+4*({shared})),{DASH})",
        RATE: f"IF(COUNT({rates})={count},SUM({rates}),{DASH})",
        FOLLOWER: f"IF(COUNT({load},{ratio})=2,{load}*{ratio},{DASH})",
        BEYOND: _beyond(sheet, own, row),
        **_edges(own, load),
    }


def _edges(own: Line, load: str) -> dict[int, str]:
    """The damper's band about the load of one row; a retainer is not pulled, so the lower edge ends at nothing."""
    friction = own.friction
    if not friction:
        return {}
    return {
        LOADING: f"IF(COUNT({load},{friction})=2,{load}+{friction},{DASH})",
        UNLOADING: f"IF(COUNT({load},{friction})=2,MAX({load}-{friction},0),{DASH})",
    }


def _write_energy(sheet: Sheet, own: Line) -> None:
    """The energy of one cycle, below the table: the area of the band, where the springs do not stick."""
    book, friction, net, seat = sheet.book, own.friction, own.name("net_valve_lift"), own.name("closed_load")
    energy = own.analysed.figures[ENERGY]
    to_joule = "*0.001" if book.style is Style.METRIC else ""
    row, sheet.row = sheet.row + 1, sheet.row + 1
    formula = f"IF(COUNT({friction},{net},{seat})=3,IF({seat}<{friction},{DASH},2*{friction}*{net}{to_joule}),{DASH})"
    sheet.text(row, POINT, f"{energy.label}, {book.unit(energy.kind)}", "note")
    sheet.formula(row, EXPANDED, formula, book.shown(energy.value, energy.kind), book.places(energy.kind))
    sheet.define(own.name("cycle_energy"), row, EXPANDED)


def _beyond(sheet: Sheet, own: Line, row: int) -> str:
    """Whether the height lies outside the readings of a spring, with a micrometre of slack."""
    slack = repr(1e-6 * sheet.book.per_metre())
    terms, loads = [], []
    for index, term in enumerate(own.terms):
        first, name = own.first + TERM_COLUMNS * index, term.block.name
        loads.append(at(sheet, row, first + OWN_LOAD))
        if term.block.readings:
            u = f"({at(sheet, row, first + OWN_HEIGHT)}-{name('mean_height')})"
            outside = f"OR({u}<MIN({name('from_mean')})-{slack},{u}>MAX({name('from_mean')})+{slack})"
            terms.append(f"IF({name('count')}>=2,IF({outside},1,0),0)")
    highest = f"MAX({','.join(terms)})" if terms else "0"
    return f"IF(COUNT({','.join(loads)})={len(loads)},{highest},{DASH})"


def damper_pairs(line: LineAnalysis, style: Style) -> dict[str, tuple[str, str]]:
    """The damper's figures of one line for the sheet Figures: they stand on this sheet, as the loads do.

    Args:
        line: analysed, with a load line.
        style: the workbook's units.

    Returns:
        The formulas of value and U by the figure's name; none where no damper's load was entered.
    """
    own = Line(line, (), {})
    if not own.friction:
        return {}
    pairs: dict[str, tuple[str, str]] = {}
    for figure, end in (("seat_load", "closed"), ("open_load", "full_lift")):
        load, u = own.name(f"{end}_load"), own.name(f"{end}_load_U")
        held = f"IF(COUNT({load},{own.friction})=2,IF({load}<{own.friction},{DASH},{u}),{DASH})"
        pairs[f"{figure}_loading"] = (own.name(f"{end}_loading"), u)
        pairs[f"{figure}_unloading"] = (own.name(f"{end}_unloading"), held)
    spread, to_joule = own.name("net_valve_lift_U"), "*0.001" if style is Style.METRIC else ""
    wide = f"IF(COUNT({own.friction},{spread})=2,2*{own.friction}*{spread}{to_joule},{DASH})"
    pairs[ENERGY] = (own.name("cycle_energy"), wide)
    return pairs
