"""The sheets Springs and Doubts: each numbered spring, live, held against its windows; what is doubtful."""

from __future__ import annotations

from dataclasses import dataclass

from loadbench.analysis import Analysis, LineAnalysis
from loadbench.analysis.figure import told
from loadbench.analysis.springs import valve_line
from loadbench.findings.finding import Level
from loadbench.findings.set_check.doubts import home_of
from loadbench.findings.set_check.result import SetCheck, SpringCheck
from loadbench.findings.spec_check import SLACK, Window, direct_loads, windows_of
from loadbench.job.checks import SAME_HEIGHT
from loadbench.report.book.formulas import fit_rate_uncertainty
from loadbench.report.book.inputs import cell_name
from loadbench.report.book.looks import LEVEL_INKS
from loadbench.report.book.paper import Book, Sheet
from loadbench.report.book.set_blocks import Carried, SetBlocks, homes_of
from loadbench.report.book.set_loads import Asked, LoadRows, Standing
from loadbench.report.book.strand_columns import DASH
from loadbench.report.book.valves_sheet import Valves
from loadbench.units import Kind

NAME = "Springs"
SPRING, MARK, VALVE, HEIGHT, SEAT, SEAT_U, OPEN_HEIGHT, OPEN, OPEN_U, RATE, RATE_U, VERDICT, FIRST_WINDOW = range(13)
WORDS = {Level.CLEAR: "pass", Level.STOP: "fail"}
UNKNOWN = "unknown"


@dataclass(frozen=True, slots=True, kw_only=True)
class WindowCells:
    """A window as formulas on the job's entries: its height, least and greatest load."""

    window: Window
    height: str
    least: str
    greatest: str


def windows_live(line: LineAnalysis) -> tuple[WindowCells, ...]:
    """The windows that a line's springs are held against, as `windows_of` has them, by formulas.

    Args:
        line: analysed.

    Returns:
        In the same order.
    """
    path, count = line.stated.rows("spring.spec")
    values, tolerance = line.stated.stated.values, cell_name(line.stated.path("targets.tolerance_percent"))
    wanted = []
    for point in range(count):
        own = f"{path}.{point}."
        sides = tuple(cell_name(f"{own}{side}") for side in ("minus", "plus"))
        wanted.append((values.get(f"{own}height"), cell_name(f"{own}height"), cell_name(f"{own}load"), sides))
    if not count:
        for target, height in (("targets.seat_load", "installed_height"), ("targets.open_load", "open_height")):
            cell = cell_name(line.stated.path(target))
            wanted.append((line.value(height), f"{line.name}_{height}", cell, ("", "")))
    found = []
    for window in windows_of(line):
        height, load, sides = next(each[1:] for each in wanted if each[0] == window.height)
        low, high = (_side(load, side, tolerance, sign) for side, sign in zip(sides, "-+", strict=True))
        found.append(WindowCells(window=window, height=height, least=low, greatest=high))
    return tuple(found)


def _side(load: str, side: str, tolerance: str, sign: str) -> str:
    """One side of a window: the sheet's own, else the targets' tolerance."""
    usual = f"IF(COUNT({load},{tolerance})=2,{load}{sign}{load}*{tolerance}/100,{DASH})"
    return f"IF(COUNT({load},{side})=2,{load}{sign}{side},{usual})" if side else usual


def spec_paths(analysis: Analysis) -> tuple[str, ...]:
    """The entries that the windows rest on; each needs a cell."""
    if not analysis.job.springs:
        return ()
    found: list[str] = []
    for line in analysis.lines:
        path, count = line.stated.rows("spring.spec")
        found += [f"{path}.{p}.{name}" for p in range(count) for name in ("height", "load", "minus", "plus")]
        found += [line.stated.path(f"targets.{name}") for name in ("seat_load", "open_load", "tolerance_percent")]
    return tuple(dict.fromkeys(found))


class Springs:
    """The rows of the sheet: the loads of each spring, asked for before anything is written."""

    def __init__(self, analysis: Analysis, check: SetCheck, carried: SetBlocks, valves: Valves, rows: LoadRows) -> None:
        self.analysis, self.check, self.carried, self.rows = analysis, check, carried, rows
        self.loads: dict[str, tuple[Asked, Asked]] = {}
        self.lines: dict[str, LineAnalysis] = {}
        self.valves: dict[str, str] = {}
        homes = homes_of(analysis)
        by_name = {line.name: line for line in analysis.lines}
        for spring in check.springs:
            home = homes.get(spring.id)
            line = analysis.lines[0] if home is None else valve_line(analysis.stated, home, by_name)
            self.lines[spring.id] = line
            self.valves[spring.id] = "" if home is None else valves.rows[home].name
            usual = (f"{line.name}_installed_height", f"{line.name}_net_valve_lift")
            own = usual if home is None else (valves.rows[home].cells["height"], valves.rows[home].cells["lift"])
            self.loads.setdefault(spring.id, self._asked(spring, line, *own))
        self.windows = {line.name: windows_live(line) for line in analysis.lines}

    def _asked(self, spring: SpringCheck, line: LineAnalysis, top: str, net: str) -> tuple[Asked, Asked]:
        carried = self.carried.of(line.name, spring.id)

        def of(figure: str) -> float | None:
            found = line.figures.get(figure)
            return None if found is None else found.expanded

        closed = Standing(
            formula=top,
            value=spring.height,
            expanded_cell=f"{line.name}_installed_height_U",
            expanded=of("installed_height"),
        )
        opened = Standing(
            formula=f"IF(COUNT({top},{net})=2,{top}-{net},{DASH})",
            value=spring.open_height,
            expanded_cell=f"{line.name}_open_height_U",
            expanded=of("open_height"),
        )
        return (
            self.rows.ask(spring.id, "Where it stands, closed", carried, closed),
            self.rows.ask(spring.id, "Where it stands, full lift", carried, opened),
        )

    def write(self, book: Book) -> None:
        """Write the sheet, where the job has numbered springs."""
        if not self.check.springs:
            return
        most = max(len(each) for each in self.windows.values())
        sheet = book.sheet(NAME, self._head(book, most))
        for spring in self.check.springs:
            self._write(sheet, spring, most)
        last = sheet.row - 1
        for word, level in (("pass", "clear"), ("fail", "stop"), (UNKNOWN, "unknown")):
            look = book.workbook.add_format({"font_color": LEVEL_INKS[level], "bold": True})
            rule = {"type": "cell", "criteria": "==", "value": f'"{word}"', "format": look}
            sheet.at.conditional_format(1, VERDICT, last, VERDICT, rule)
        self._write_counts(sheet, last)
        self._write_windows(sheet)

    def _head(self, book: Book, most: int) -> list[tuple[str, float]]:
        length, force, rate = (book.unit(kind) for kind in (Kind.LENGTH, Kind.FORCE, Kind.RATE))
        windows = [(f"Load in window {place + 1}, {force}", 9) for place in range(most)]
        return [
            ("Spring", 8), ("Mark", 8), ("Valve", 7), (f"Height, {length}", 9), (f"Seat load, {force}", 8),
            (f"± U seat, {force}", 8), (f"Height at full lift, {length}", 9), (f"Open load, {force}", 8),
            (f"± U open, {force}", 8), (f"Rate, {rate}", 9), (f"± U rate, {rate}", 9), ("Within the windows", 9),
            *windows, ("Bin at export", 7), ("Lost at export", 8), ("Against", 11), ("Doubts at export", 15),
        ]  # fmt: skip

    def _write(self, sheet: Sheet, spring: SpringCheck, most: int) -> None:
        row, sheet.row, book = sheet.row, sheet.row + 1, sheet.book
        line = self.lines[spring.id]
        carried, (seat, at_lift) = self.carried.of(line.name, spring.id), self.loads[spring.id]
        sheet.texts(row, (spring.id, spring.mark, self.valves[spring.id]))
        height, opened = (book.shown(each, Kind.LENGTH) for each in (spring.height, spring.open_height))
        sheet.formula(row, HEIGHT, seat.height, height, book.places(Kind.LENGTH))
        sheet.formula(row, OPEN_HEIGHT, at_lift.height, opened, book.places(Kind.LENGTH))
        for first, asked, expanded in ((SEAT, seat, spring.seat_expanded), (OPEN, at_lift, spring.open_expanded)):
            sheet.formula(row, first, asked.load, book.shown(asked.value, Kind.FORCE), "0.0")
            sheet.formula(row, first + 1, asked.expanded, book.shown(expanded, Kind.FORCE), '"± "0.0')
        rate, rate_expanded = rate_formulas(carried)
        sheet.formula(row, RATE, rate, book.shown(spring.rate, Kind.RATE), book.places(Kind.RATE))
        known = f"IF(COUNT({_own(sheet, row, RATE)})=1,{rate_expanded},{DASH})"
        sheet.formula(row, RATE_U, known, book.shown(spring.rate_expanded, Kind.RATE), '"± "0.0')
        verdict = self._write_verdict(sheet, row, spring)
        sheet.formula(row, VERDICT, verdict, WORDS.get(spring.verdict.level, UNKNOWN), look="word")
        after = FIRST_WINDOW + most
        sheet.text(row, after, spring.bin, "word")
        if spring.loss is not None:
            sheet.number(row, after + 1, spring.loss.share, "0.0 %")
            sheet.text(row, after + 2, spring.loss.basis, "word")
        sheet.text(row, after + 3, "; ".join(dict.fromkeys(str(flag.kind).replace("-", " ") for flag in spring.flags)))

    def _write_verdict(self, sheet: Sheet, row: int, spring: SpringCheck) -> str:
        """Write the load at each window's height; return the formula that holds them against the windows."""
        line = home_of(self.analysis, spring.id)
        missed, known = [], []
        for place, live in enumerate(self.windows[line.name]):
            column = FIRST_WINDOW + place
            formula, value = self._in_window(sheet.book, spring, line, live)
            sheet.formula(row, column, formula, sheet.book.shown(value, Kind.FORCE), "0.0")
            cell = _own(sheet, row, column)
            low, high = (f"set_window_{line.name}_{place + 1}_{side}" for side in ("least", "greatest"))
            missed.append(f"IF(COUNT({cell},{low})=2,IF({cell}<{low}*(1-{SLACK!r}),1,0),0)")
            missed.append(f"IF(COUNT({cell},{high})=2,IF({cell}>{high}*(1+{SLACK!r}),1,0),0)")
            known.append(cell)
        if not known:
            return f'"{UNKNOWN}"'
        all_known = f'IF(COUNT({",".join(known)})={len(known)},"pass","{UNKNOWN}")'
        return f'IF({"+".join(missed)}>0,"fail",{all_known})'

    def _in_window(
        self, book: Book, spring: SpringCheck, line: LineAnalysis, live: WindowCells
    ) -> tuple[str, float | None]:
        """The load at a window's height: measured there, else by the spring's line."""
        window, what = live.window, f"At the height of window {self.windows[line.name].index(live) + 1}"
        carried = self.carried.of(self.lines[spring.id].name, spring.id)
        asked = self.rows.ask(spring.id, what, carried, Standing(formula=live.height, value=window.height))
        block = self.carried.direct.get(spring.index)
        if block is None:
            return asked.load, asked.value
        direct = direct_loads(self.analysis, spring.index, whole=len(line.members) == 1)
        near = next((load for at, load in direct.items() if abs(at - window.height) <= SAME_HEIGHT), None)
        there = f"(ABS({block.name('height')}-{live.height})<={SAME_HEIGHT * book.per_metre()!r})"
        count = f"SUMPRODUCT({there}*{block.name('counted')})"
        mean = f"SUMPRODUCT({there}*{block.name('counted')}*{block.name('load')})/{count}"
        formula = f"IF(COUNT({live.height})=1,IF({count}>0,{mean},{asked.load}),{DASH})"
        return formula, asked.value if near is None else near

    def _write_counts(self, sheet: Sheet, last: int) -> None:
        """What the set comes to, live."""
        check, book = self.check, sheet.book
        verdicts, seats = (sheet.span(1, last, column).split("!")[1] for column in (VERDICT, SEAT))
        sheet.row += 1
        needed = check.needed or len(check.springs)
        rows: tuple[tuple[str, str, float | None, str], ...] = (
            ("Pass", f'COUNTIF({verdicts},"pass")', check.passed, "0"),
            ("Fail", f'COUNTIF({verdicts},"fail")', check.failed, "0"),
            ("Unknown", f'COUNTIF({verdicts},"{UNKNOWN}")', check.unknown, "0"),
            ("Order more", f'MAX(0,{needed}-({last}-COUNTIF({verdicts},"fail")))', check.order_more, "0"),
            ("Spread of seat load, share of the mean", spread_formula(seats), check.spread, "0.0 %"),
        )
        for label, formula, value, places in rows:
            sheet.text(sheet.row, SPRING, label, "note")
            sheet.formula(sheet.row, SEAT, formula, value, places)
            sheet.row += 1
        limit = check.spread_limit.watch
        if limit is not None:
            note = f"Spread: the rule book's watch is {told(limit, check.spread_limit.kind, book.style)}."
            sheet.text(sheet.row, SPRING, note, "note")
            sheet.row += 1
        if check.test_again:
            sheet.text(sheet.row, SPRING, f"Test again at export: {', '.join(check.test_again)}", "note")
            sheet.row += 1

    def _write_windows(self, sheet: Sheet) -> None:
        """The windows, live, one row each."""
        book, force, length = sheet.book, sheet.book.unit(Kind.FORCE), sheet.book.unit(Kind.LENGTH)
        for line in self.analysis.lines:
            for place, live in enumerate(self.windows[line.name]):
                row, sheet.row, window = sheet.row, sheet.row + 1, live.window
                named = "" if line.name == "common" else f", {line.name}"
                label = f"Window {place + 1}{named}: height, {length}; least, {force}; greatest, {force}"
                sheet.text(row, SPRING, label, "note")
                shown = (book.shown(window.height, Kind.LENGTH), *(book.shown(each, Kind.FORCE) for each in
                         (window.least, window.greatest)))  # fmt: skip
                columns = (("height", OPEN_HEIGHT), ("least", OPEN), ("greatest", OPEN_U))
                formulas = (live.height, live.least, live.greatest)
                for (name, column), formula, value in zip(columns, formulas, shown, strict=True):
                    sheet.formula(row, column, formula, value, book.places(Kind.LENGTH) if name == "height" else "0.0")
                    sheet.define(f"set_window_{line.name}_{place + 1}_{name}", row, column)


def rate_formulas(carried: Carried) -> tuple[str, str]:
    """The formulas of a spring's measured rate and its U; a dash where a strand has but one reading."""
    if not carried.terms:
        return DASH, DASH
    blocks = [term.block for term in carried.terms]
    counts, rates = ([block.name(name) for block in blocks] for name in ("count", "rate"))
    several = f"MIN({','.join(counts)})>1"
    total = f"IF(AND(COUNT({','.join(rates)})={len(rates)},{several}),SUM({','.join(rates)}),{DASH})"
    return total, fit_rate_uncertainty(blocks)


def spread_formula(seats: str) -> str:
    """Greatest less least load as a share of their mean; a dash with fewer than two."""
    share = f"IF(AVERAGE({seats})>0,(MAX({seats})-MIN({seats}))/AVERAGE({seats}),{DASH})"
    return f"IF(COUNT({seats})>1,{share},{DASH})"


def _own(sheet: Sheet, row: int, column: int) -> str:
    return sheet.cell(row, column).split("!")[1].replace("$", "")


def write_doubts(book: Book, check: SetCheck) -> None:
    """Write the sheet Doubts, where there are any: what is doubtful in the readings, and the rule that found it.

    Args:
        book: the workbook.
        check: of the set.
    """
    if not check.flags:
        return
    head = (("Spring", 12), ("Doubt", 18), ("What is doubtful", 62), ("Rule", 52))
    sheet = book.sheet("Doubts", head)
    for flag in check.flags:
        kind = str(flag.kind).replace("-", " ")
        sheet.texts(sheet.row, (flag.spring or "the whole set", kind, flag.told(book.style)))
        sheet.text(sheet.row, 3, flag.rule, "quiet")
        sheet.row += 1
    sheet.at.autofilter(0, 0, sheet.row - 1, len(head) - 1)
