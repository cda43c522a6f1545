"""The sheet Plan: the plan that the job keeps, valve by valve; heights, loads and margins follow its shims."""

from __future__ import annotations

from dataclasses import dataclass

from loadbench.analysis import Analysis
from loadbench.assembly.choices import SHARE_SLACK
from loadbench.assembly.fit_valve import FitValve
from loadbench.findings.rulebook import Limit
from loadbench.findings.standing import slack
from loadbench.report.book.inputs import cell_name
from loadbench.report.book.looks import LEVEL_INKS
from loadbench.report.book.paper import Book, Sheet
from loadbench.report.book.set_blocks import SetBlocks
from loadbench.report.book.set_loads import Asked, LoadRows, Standing
from loadbench.report.book.strand_columns import DASH
from loadbench.report.book.valves_sheet import LEAST_SHIMS, Valves, bound_formula, line_shims, write_shims
from loadbench.report.kept_plan import KeptPlace
from loadbench.units import Kind

NAME = "Plan"
VALVE, LINE, SPRING, MARK, BARE, FIRST_SHIM = range(6)
AFTER_SHIMS = ("height", "open_height", "seat", "open", "bind", "retainer", "limits", "was", "seat_was", "open_was")
SAME_SIZE = 1e-8
"""Two thicknesses closer than this, m, are one."""
HOLDS = "hold"


@dataclass(frozen=True, slots=True, kw_only=True)
class PlanRow:
    """One valve of the plan: its cells by name, and its loads."""

    kept: KeptPlace
    row: int
    cells: dict[str, str]
    shim_cells: tuple[str, ...]
    seat: Asked
    open: Asked


class PlanRows:
    """The rows of the sheet; their loads are asked for before anything is written."""

    def __init__(
        self, analysis: Analysis, kept: tuple[KeptPlace, ...], carried: SetBlocks, valves: Valves, loads: LoadRows
    ) -> None:
        self.analysis, self.valves = analysis, valves
        self.shims = max(LEAST_SHIMS, *(len(each.shims or ()) for each in kept)) if kept else LEAST_SHIMS
        self.column = {name: FIRST_SHIM + self.shims + place for place, name in enumerate(AFTER_SHIMS)}
        self.column["bare"] = BARE
        self.rows = tuple(self._row(each, place + 1, carried, loads) for place, each in enumerate(kept))

    def _row(self, kept: KeptPlace, row: int, carried: SetBlocks, loads: LoadRows) -> PlanRow:
        from xlsxwriter.utility import xl_rowcol_to_cell

        def cell(column: int) -> str:
            return f"'{NAME}'!{xl_rowcol_to_cell(row, column, row_abs=True, col_abs=True)}"

        cells = {name: cell(column) for name, column in self.column.items()}
        own, what = carried.of(kept.line, kept.spring), f"Plan, valve {kept.name}"
        closed = Standing(formula=cells["height"], value=kept.installed_height)
        opened = Standing(formula=cells["open_height"], value=kept.open_height)
        return PlanRow(
            kept=kept,
            row=row,
            cells=cells,
            shim_cells=tuple(cell(FIRST_SHIM + place) for place in range(self.shims)),
            seat=loads.ask(kept.spring, f"{what}, closed", own, closed),
            open=loads.ask(kept.spring, f"{what}, full lift", own, opened),
        )

    def write(self, book: Book) -> None:
        """Write the sheet, where the job keeps a plan."""
        if not self.rows:
            return
        sheet = book.sheet(NAME, self._head(book))
        for row in self.rows:
            self._write(sheet, row)
            sheet.row = row.row + 1
        last = sheet.row - 1
        rule = {"type": "cell", "criteria": "!=", "value": f'"{HOLDS}"'}
        look = book.workbook.add_format({"font_color": LEVEL_INKS["stop"], "bold": True})
        sheet.at.conditional_format(1, self.column["limits"], last, self.column["limits"], rule | {"format": look})
        sheet.row += 1
        self._write_totals(sheet, last)
        self._write_shopping(sheet, last)
        self._write_notes(sheet)

    def _head(self, book: Book) -> list[tuple[str, float]]:
        length, force = book.unit(Kind.LENGTH), book.unit(Kind.FORCE)
        return [
            ("Valve", 9), ("Line", 9), ("Spring", 12), ("Mark", 9), (f"Bare height, {length}", 9),
            *((f"Shim {place + 1}, {length}", 7.5) for place in range(self.shims)),
            (f"Installed height, {length}", 10), (f"Height at full lift, {length}", 9), (f"Seat load, {force}", 8),
            (f"Open load, {force}", 8), (f"To bind, {length}", 8), (f"To seal, {length}", 8), ("Limits", 9),
            ("Spring before", 11), (f"Seat load before, {force}", 8), (f"Open load before, {force}", 8),
        ]  # fmt: skip

    def _write(self, sheet: Sheet, row: PlanRow) -> None:
        book, at, kept, column = sheet.book, row.row, row.kept, self.column
        line = "" if kept.line == "common" else kept.line
        sheet.texts(at, (kept.name, line, kept.spring, kept.mark))
        bare = None if kept.valve is None else book.shown(kept.valve.bare_height, Kind.LENGTH)
        sheet.formula(at, BARE, self._bare(kept), bare, book.places(Kind.LENGTH))
        write_shims(sheet, self.analysis, f"plan.placed.{kept.place}.shims", at, FIRST_SHIM, self.shims)
        values = {
            "height": kept.installed_height, "open_height": kept.open_height, "bind": kept.bind_margin,
            "retainer": kept.retainer_margin,
        }  # fmt: skip
        for name, formula in self._formulas(row).items():
            sheet.formula(at, column[name], formula, book.shown(values[name], Kind.LENGTH), book.places(Kind.LENGTH))
        for name, asked in (("seat", row.seat), ("open", row.open)):
            sheet.formula(at, column[name], asked.load, book.shown(asked.value, Kind.FORCE), "0.0")
        formula, word = self._limits(row, book)
        sheet.formula(at, column["limits"], formula, word, look="word")
        before = self.valves.rows[kept.index]
        sheet.text(at, column["was"], self.analysis.job.valves[kept.index].spring)
        stood = self.analysis.set.valves[kept.index]
        for name, value in (("seat", stood.seat_load), ("open", stood.open_load)):
            sheet.formula(at, column[f"{name}_was"], before.cells[name], book.shown(value, Kind.FORCE), "0.0")

    def _bare(self, kept: KeptPlace) -> str:
        """The valve's own bare height, else the line's, else what its installed height and shims make."""
        if kept.valve is None:
            return DASH
        line = self.analysis.line(kept.line)
        own, usual = self.valves.rows[kept.index].cells["bare"], cell_name(line.stated.path("spring.bare_height"))
        installed = f"{line.name}_installed_height"
        made = f"IF(COUNT({installed})=1,{installed}+SUM({line_shims(line)}),{DASH})"
        return f"IF(COUNT({own})=1,{own},IF(COUNT({usual})=1,{usual},{made}))"

    def _formulas(self, row: PlanRow) -> dict[str, str]:
        cell = {name: where.split("!")[1].replace("$", "") for name, where in row.cells.items()}
        valve, line = self.valves.rows[row.kept.index].cells, self.analysis.line(row.kept.line)
        shims = cell_name(f"plan.placed.{row.kept.place}.shims")
        height = DASH if row.kept.shims is None else f"IF(COUNT({cell['bare']})=1,{cell['bare']}-SUM({shims}),{DASH})"
        bound = bound_formula(line)
        return {
            "height": height,
            "open_height": f"IF(COUNT({cell['height']},{valve['lift']})=2,{cell['height']}-{valve['lift']},{DASH})",
            "bind": f"IF(COUNT({cell['open_height']},{bound})=2,{cell['open_height']}-{bound},{DASH})",
            "retainer": DASH if row.kept.valve is None else valve["retainer"],
        }

    def _limits(self, row: PlanRow, book: Book) -> tuple[str, str]:
        """Which limit the valve is past: a formula and its word at export. Their values are those at export."""
        kept, valve = row.kept, row.kept.valve
        if valve is None:
            return DASH, "\u2013"
        cell = {name: where.split("!")[1].replace("$", "") for name, where in row.cells.items()}
        checks = [
            ("bind", _past_least(cell["bind"], valve.bind_limit, book), _is_past(valve.bind_limit, kept.bind_margin)),
            (
                "seal",
                _past_least(cell["retainer"], valve.retainer_limit, book),
                _is_past(valve.retainer_limit, kept.retainer_margin),
            ),
            ("seat load", *_off(cell["seat"], "seat_load", self, valve, kept.seat_load)),
            ("open load", *_off(cell["open"], "open_load", self, valve, kept.open_load)),
        ]
        formula, word = f'"{HOLDS}"', HOLDS
        for name, test, is_so in reversed(checks):
            formula = f'IF({test},"{name}",{formula})'
            word = name if is_so else word
        return formula, word

    def _write_totals(self, sheet: Sheet, last: int) -> None:
        """Spread, deviation and shims, live."""
        book, seats = sheet.book, [each.seat.value for each in self.rows]
        known = [each for each in seats if each is not None]
        span = sheet.span(1, last, self.column["seat"]).split("!")[1]
        spread = max(known) - min(known) if known else None
        used = sum(len(each.kept.shims or ()) for each in self.rows)
        force = book.unit(Kind.FORCE)
        totals = [
            ("plan_seat_spread", f"Spread of seat load, {force}",
             f"IF(COUNT({span})>0,MAX({span})-MIN({span}),{DASH})", book.shown(spread, Kind.FORCE), "0.00"),
            ("plan_shims_used", "Shims used", f'COUNTIF({self._stack(sheet, last)},">0")', float(used), "0"),
        ]  # fmt: skip
        deviations, values = zip(*(self._deviation(each) for each in self.rows), strict=True)
        total = None if None in values else sum(each for each in values if each is not None)
        formula = f"IF(COUNT({span})={len(self.rows)},{'+'.join(deviations)},{DASH})"
        totals.insert(1, ("plan_target_deviation", f"Off the targets in all, {force}", formula,
                          book.shown(total, Kind.FORCE), "0.00"))  # fmt: skip
        for name, label, formula, value, places in totals:
            sheet.text(sheet.row, VALVE, label, "note")
            sheet.formula(sheet.row, BARE, formula, value, places)
            sheet.define(name, sheet.row, BARE)
            sheet.row += 1

    def _deviation(self, row: PlanRow) -> tuple[str, float | None]:
        """How far a valve is from its target: seat load, else open load, else none."""
        valve = row.kept.valve
        for name, asked, target in (
            ("seat_load", row.seat, None if valve is None else valve.target_seat),
            ("open_load", row.open, None if valve is None else valve.target_open),
        ):
            if target is not None:
                column = row.cells[name.removesuffix("_load")].split("!")[1].replace("$", "")
                off = None if asked.value is None else abs(asked.value - target)
                return f"ABS({column}-{self.target(row.kept, name)})", off
        return "0", None if row.seat.value is None else 0.0

    def target(self, kept: KeptPlace, name: str) -> str:
        """The cell with a target of a valve's line."""
        return cell_name(self.analysis.line(kept.line).stated.path(f"targets.{name}"))

    def _stack(self, sheet: Sheet, last: int) -> str:
        """All shim cells of the plan."""
        first = sheet.span(1, last, FIRST_SHIM).split("!")[1].split(":")[0]
        return f"{first}:{sheet.span(1, last, FIRST_SHIM + self.shims - 1).split(':')[1]}"

    def _write_shopping(self, sheet: Sheet, last: int) -> None:
        """How many shims of each thickness, live."""
        book, stack = sheet.book, self._stack(sheet, last)
        near = repr(SAME_SIZE * book.per_metre())
        listed = []
        for size, count in self.sizes().items():
            row, sheet.row = sheet.row, sheet.row + 1
            sheet.text(row, VALVE, f"Shims to fetch, {book.unit(Kind.LENGTH)}: size and how many", "note")
            sheet.number(row, BARE, book.shown(size, Kind.LENGTH), "0.000#")
            own = f"SUMPRODUCT((ABS({stack}-{_at(sheet, row, BARE)})<={near})*1)"
            sheet.formula(row, FIRST_SHIM, own, float(count), "0")
            listed.append(_at(sheet, row, FIRST_SHIM))
        other = f'COUNTIF({stack},">0")-SUM({",".join(listed)})' if listed else f'COUNTIF({stack},">0")'
        sheet.text(sheet.row, VALVE, "Shims of other sizes typed in above", "note")
        sheet.formula(sheet.row, FIRST_SHIM, other, 0.0, "0")
        sheet.row += 1

    def sizes(self) -> dict[float, int]:
        """The thicknesses in the plan, m, and how many of each it takes."""
        found: dict[float, int] = {}
        for shim in (shim for row in self.rows for shim in row.kept.shims or ()):
            size = next((each for each in found if abs(each - shim) <= SAME_SIZE), shim)
            found[size] = found.get(size, 0) + 1
        return dict(sorted(found.items()))

    def _write_notes(self, sheet: Sheet) -> None:
        plan = self.analysis.job.plan
        proved = {True: "the best there is, proved", False: "the best that was found, not proved"}
        told = [each for each in (plan.made_on, proved.get(plan.proved) if plan.proved is not None else None) if each]
        if told:
            sheet.text(sheet.row, VALVE, f"Plan as kept: {', '.join(told)}.", "note")
            sheet.row += 1
        note = (
            "Change a shim: heights, loads and margins follow. The springs stay as planned; limits are those at export."
        )
        sheet.text(sheet.row, VALVE, note, "note")
        sheet.row += 1


def _at(sheet: Sheet, row: int, column: int) -> str:
    return sheet.cell(row, column).split("!")[1]


def _past_least(cell: str, limit: Limit, book: Book) -> str:
    """Whether a margin is past the stop of a limit that asks for at least so much."""
    if limit.stop is None:
        return "FALSE"
    room = slack(limit.stop, limit.kind)
    over = f"{(limit.stop * book.per_metre())!r}-{cell}"
    test = f"{over}>={-room * book.per_metre()!r}" if limit.reached else f"{over}>{room * book.per_metre()!r}"
    return f"IF(COUNT({cell})=1,{test},FALSE)"


def _is_past(limit: Limit, value: float | None) -> bool:
    if limit.stop is None or value is None:
        return False
    room = slack(limit.stop, limit.kind)
    return limit.stop - value >= -room if limit.reached else limit.stop - value > room


def _off(cell: str, name: str, rows: PlanRows, valve: FitValve, value: float | None) -> tuple[str, bool]:
    """Whether a load is off its target by more than the tolerance."""
    target = valve.target_seat if name == "seat_load" else valve.target_open
    if target is None or valve.tolerance is None:
        return "FALSE", False
    line = rows.analysis.line(valve.line)
    wanted, tolerance = (cell_name(line.stated.path(f"targets.{each}")) for each in (name, "tolerance_percent"))
    test = f"ABS({cell}-{wanted})>{wanted}*({tolerance}/100+{SHARE_SLACK!r})"
    off = value is not None and abs(value - target) > target * (valve.tolerance + SHARE_SLACK)
    return f"IF(COUNT({cell},{wanted},{tolerance})=3,{test},FALSE)", off
