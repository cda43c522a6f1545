"""The sheet Valves: each valve of the head as it stands, heights and margins live on its own measured entries."""

from __future__ import annotations

from dataclasses import dataclass

from loadbench.analysis import Analysis, LineAnalysis
from loadbench.analysis.springs import valve_lift, valve_line
from loadbench.assembly.fit_valve import bound_height
from loadbench.findings.set_check.cylinder_order import in_cylinder_order
from loadbench.report.book.blocks import offset_formula
from loadbench.report.book.inputs import cell_name
from loadbench.report.book.paper import Book, Sheet
from loadbench.report.book.set_blocks import SetBlocks
from loadbench.report.book.set_loads import Asked, LoadRows, Standing
from loadbench.report.book.strand_columns import DASH
from loadbench.units import Kind

NAME = "Valves"
VALVE, LINE, BARE, FIRST_SHIM = range(4)
LEAST_SHIMS = 3
AFTER_SHIMS = ("height", "seal", "lash", "lift", "open_height", "spring", "seat", "open", "bind", "retainer")
ENTRIES = ("bare_height", "retainer_to_seal", "lash")


@dataclass(frozen=True, slots=True, kw_only=True)
class ValveRow:
    """One valve: the cells of its row by name, and its heights and lift at export, m."""

    index: int
    name: str
    line: LineAnalysis
    row: int
    cells: dict[str, str]
    height: float | None
    lift: float | None
    faulty: bool
    shims: tuple[float, ...] = ()

    @property
    def open_height(self) -> float | None:
        """Height at full lift, m."""
        return None if self.height is None or self.lift is None else self.height - self.lift


class Valves:
    """The rows of the sheet; where their cells stand is known before they are written."""

    def __init__(self, analysis: Analysis) -> None:
        self.analysis = analysis
        counts = [len(valve.shims) for valve in analysis.job.valves]
        self.shims = max(LEAST_SHIMS, *counts) if counts else LEAST_SHIMS
        self.column = {name: FIRST_SHIM + self.shims + place for place, name in enumerate(AFTER_SHIMS)}
        self.column["bare"] = BARE
        order = in_cylinder_order(analysis.job.valves)
        self.rows = {index: self._row(index, place + 1) for place, index in enumerate(order)}

    def _row(self, index: int, row: int) -> ValveRow:
        from xlsxwriter.utility import xl_rowcol_to_cell

        stated = self.analysis.stated
        line = valve_line(stated, index, {each.name: each for each in self.analysis.lines})
        own = f"valves.{index}."
        faulty = any(path == f"{own}bare_height" or path.startswith(f"{own}shims.") for path in stated.problems)
        height = self.analysis.set.valves[index].height
        if height is None and not faulty:
            height = line.value("installed_height")
        cells = {
            name: f"'{NAME}'!{xl_rowcol_to_cell(row, column, row_abs=True, col_abs=True)}"
            for name, column in self.column.items()
        }
        return ValveRow(
            index=index,
            name=self.analysis.job.valves[index].id or f"#{index + 1}",
            line=line,
            row=row,
            cells=cells,
            height=height,
            lift=valve_lift(stated, index, line),
            faulty=faulty,
            shims=tuple(stated.values[path] for path in self._shim_paths(index) if path in stated.values),
        )

    def _shim_paths(self, index: int) -> tuple[str, ...]:
        return tuple(f"valves.{index}.shims.{place}" for place in range(self.shims))

    def paths(self) -> set[str]:
        """The paths of the entries whose values stand on this sheet."""
        values = self.analysis.stated.values
        found = {f"valves.{index}.{name}" for index in self.rows for name in ENTRIES}
        found |= {path for index in self.rows for path in self._shim_paths(index)}
        return {path for path in found if path in values}

    def write(self, book: Book, carried: SetBlocks, loads: LoadRows, springs: dict[str, tuple[Asked, Asked]]) -> None:
        """Write the sheet, where the job has valves.

        Args:
            book: the workbook.
            carried: the springs' terms.
            loads: takes the loads of pairs.
            springs: the loads of each numbered spring where it stands, closed and at full lift.
        """
        if not self.rows:
            return
        sheet = book.sheet(NAME, self._head(book))
        for row in self.rows.values():
            self._write(sheet, row, _own_loads(self.analysis, row, carried, loads, springs))
            sheet.row = row.row + 1

    def _head(self, book: Book) -> list[tuple[str, float]]:
        length, force = book.unit(Kind.LENGTH), book.unit(Kind.FORCE)
        return [
            ("Valve", 9), ("Line", 9), (f"Bare height, {length}", 11),
            *((f"Shim {place + 1}, {length}", 8) for place in range(self.shims)),
            (f"Installed height, {length}", 11), (f"Retainer to seal, {length}", 11), (f"Lash, {length}", 9),
            (f"Net lift, {length}", 10), (f"Height at full lift, {length}", 11), ("Spring", 12),
            (f"Seat load, {force}", 11), (f"Open load, {force}", 11), (f"To bind, {length}", 11),
            (f"To seal, {length}", 11),
        ]  # fmt: skip

    def _write(self, sheet: Sheet, row: ValveRow, own: tuple[Asked, Asked] | None) -> None:
        book, at, index = sheet.book, row.row, row.index
        sheet.texts(at, (row.name, "" if row.line.name == "common" else row.line.name))
        for name, column in zip(ENTRIES, (BARE, self.column["seal"], self.column["lash"]), strict=True):
            write_input(sheet, self.analysis, f"valves.{index}.{name}", at, column)
        write_shims(sheet, self.analysis, f"valves.{index}.shims", at, FIRST_SHIM, self.shims)
        values = self._values(row)
        for name, formula in self._formulas(row).items():
            sheet.formula(
                at, self.column[name], formula, book.shown(values[name], Kind.LENGTH), book.places(Kind.LENGTH)
            )
        sheet.text(at, self.column["spring"], self.analysis.job.valves[index].spring, "word")
        for name, asked in zip(("seat", "open"), own or (None, None), strict=True):
            if asked is None:
                sheet.number(at, self.column[name], None)
            else:
                sheet.formula(at, self.column[name], asked.load, book.shown(asked.value, Kind.FORCE), "0.0")

    def _formulas(self, row: ValveRow) -> dict[str, str]:
        line, cell = row.line, {name: where.split("!")[1].replace("$", "") for name, where in row.cells.items()}
        shims = cell_name(f"valves.{row.index}.shims")
        usual = f"{line.name}_installed_height"
        own = f"{cell['bare']}-IF(COUNT({shims})>0,SUM({shims}),SUM({line_shims(line)}))"
        seal = cell_name(line.stated.path("valve_gear.retainer_to_seal"))
        room = f"IF(COUNT({cell['seal']})=1,{cell['seal']},{seal})"
        return {
            "height": DASH if row.faulty else f"IF(COUNT({cell['bare']})=1,{own},{usual})",
            "lift": lift_formula(line, cell["lash"]),
            "open_height": _less(cell["height"], cell["lift"]),
            "bind": _less(cell["open_height"], bound_formula(line)),
            "retainer": f"IF(COUNT({room},{cell['lift']})=2,{room}-{cell['lift']},{DASH})",
        }

    def _values(self, row: ValveRow) -> dict[str, float | None]:
        stated, bound = self.analysis.stated, bound_height(row.line)
        seal = stated.values.get(f"valves.{row.index}.retainer_to_seal")
        seal = row.line.stated.value("valve_gear.retainer_to_seal") if seal is None else seal
        opened = row.open_height
        return {
            "height": row.height,
            "lift": row.lift,
            "open_height": opened,
            "bind": None if opened is None or bound is None else opened - bound,
            "retainer": None if seal is None or row.lift is None else seal - row.lift,
        }


def _own_loads(
    analysis: Analysis, row: ValveRow, carried: SetBlocks, loads: LoadRows, springs: dict[str, tuple[Asked, Asked]]
) -> tuple[Asked, Asked] | None:
    """The loads of the spring on a valve: a numbered spring's own, or those of a pair by the valve's own heights."""
    name = analysis.job.valves[row.index].spring or ""
    if name in springs or not name:
        return springs.get(name)
    pair = carried.of(row.line.name, name)
    if pair.load_line is None:
        return None
    closed = Standing(formula=row.cells["height"], value=row.height)
    opened = Standing(formula=row.cells["open_height"], value=row.open_height)
    what = f"Valve {row.name}"
    return loads.ask(name, f"{what}, closed", pair, closed), loads.ask(name, f"{what}, full lift", pair, opened)


def write_input(sheet: Sheet, analysis: Analysis, path: str, row: int, column: int) -> None:
    """Write a length of the job as a cell to change, with its name; empty where it is not stated."""
    value = sheet.book.shown(analysis.stated.values.get(path), Kind.LENGTH)
    sheet.number(row, column, value, sheet.book.places(Kind.LENGTH), look="input")
    sheet.define(cell_name(path), row, column)


def write_shims(sheet: Sheet, analysis: Analysis, path: str, row: int, first: int, count: int) -> None:
    """Write a stack of shims as cells to change, side by side, with a name for all."""
    for place in range(count):
        value = analysis.stated.values.get(f"{path}.{place}")
        sheet.number(row, first + place, sheet.book.shown(value, Kind.LENGTH), "0.000#", look="input")
    last = sheet.cell(row, first + count - 1).split("!")[1]
    sheet.book.define(cell_name(path), f"{sheet.cell(row, first)}:{last}")


def line_shims(line: LineAnalysis) -> str:
    """The name of the cells with a line's own shims."""
    return cell_name(line.stated.rows("spring.shims")[0])


def lift_formula(line: LineAnalysis, lash: str) -> str:
    """A valve's own net lift: the line's, less its own lash in place of the line's where lash is what is lost."""
    gross, measured = f"{line.name}_gross_valve_lift", cell_name(line.stated.path("valve_gear.measured_net_lift"))
    own = f"AND(COUNT({lash},{gross})=2,COUNT({measured})=0,{line.name}_hydraulic=0)"
    return f"IF({own},{gross}-{lash},{line.name}_net_valve_lift)"


def bound_formula(line: LineAnalysis) -> str:
    """The height H at which the tallest member is bound; a dash while a member's bind height is not known."""
    members = [member.stated for member in line.members if member.stated.offset is not None]
    if not members or len(members) < len(line.members):
        return DASH
    cells = [cell_name(member.bind_field) for member in members]
    tops = [f"{cell}+{offset_formula(member)}" for cell, member in zip(cells, members, strict=True)]
    return f"IF(COUNT({','.join(cells)})={len(cells)},MAX({','.join(tops)}),{DASH})"


def _less(one: str, other: str) -> str:
    return f"IF(COUNT({one},{other})=2,{one}-{other},{DASH})"
