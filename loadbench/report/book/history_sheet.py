"""The sheet History: every check of the same springs, the load each spring has lost since its first, and the trend."""

from __future__ import annotations

import datetime as dt
from dataclasses import dataclass

from loadbench.analysis import Analysis
from loadbench.findings.set_check.result import CheckPoint, Past
from loadbench.report.book.paper import Book, Sheet
from loadbench.report.book.set_blocks import Carried, SetBlocks
from loadbench.report.book.set_loads import Asked, LoadRows, Standing
from loadbench.report.book.strand_columns import DASH
from loadbench.units import Kind

NAME = "History"
CHECK, DATE, HOURS, PASSES, SPRING, LOAD, FIRST_LOAD, LOST, WORST = range(9)
ALL = "mean of all"


@dataclass(frozen=True, slots=True, kw_only=True)
class _Tested:
    """One spring at one check, and its load when it was first tested."""

    spring: str
    now: Asked
    first: Asked


class History:
    """The checks by date, the present one last; their loads are asked for before anything is written."""

    def __init__(self, analysis: Analysis, past: Past | None, carried: SetBlocks, loads: LoadRows) -> None:
        self.past = past
        self.checks: list[list[_Tested]] = []
        if past is None:
            return
        job, line = analysis.job, analysis.lines[0]
        order = sorted(range(len(job.history)), key=lambda index: (job.history[index].record.date or "", index))
        named = [_named(carried, index) for index in order]
        present = {spring.id: carried.of(line.name, spring.id) for spring in job.springs if spring.id}
        named.append({name: own for name, own in present.items() if own.load_line is not None})
        standing = Standing(formula=f"{line.name}_installed_height", value=line.value("installed_height"))
        first: dict[str, Asked] = {}
        for point, springs in zip(past.checks, named, strict=True):
            rows = []
            for name, own in springs.items():
                now = loads.ask(name, f"History, {point.name}", own, standing)
                rows.append(_Tested(spring=name, now=now, first=first.setdefault(name, now)))
            self.checks.append(rows)

    def write(self, book: Book) -> None:
        """Write the sheet, where there is an earlier check."""
        if self.past is None:
            return
        force = book.unit(Kind.FORCE)
        head = (
            ("Check", 14), ("Date", 12), ("Hours", 9), ("Passes", 9), ("Spring", 14), (f"Load at rest, {force}", 11),
            (f"Load when first tested, {force}", 12), ("Lost since", 10), ("Worst lost", 10), ("Worst spring", 14),
        )  # fmt: skip
        sheet = book.sheet(NAME, head)
        top = 1 + len(self.checks)
        spans = []
        for rows in self.checks:
            spans.append((top, top + len(rows) - 1))
            top += len(rows)
        for point, rows, span in zip(self.past.checks, self.checks, spans, strict=True):
            self._write_point(sheet, point, rows, span)
        for point, rows in zip(self.past.checks, self.checks, strict=True):
            for each in rows:
                _write_tested(sheet, point, each)
        self._write_trend(sheet)

    def _write_point(self, sheet: Sheet, point: CheckPoint, rows: list[_Tested], span: tuple[int, int]) -> None:
        """A check's mean and worst loss, from the rows of its springs below."""
        row, sheet.row = sheet.row, sheet.row + 1
        _write_check(sheet, row, point)
        sheet.text(row, SPRING, ALL)
        if not rows:
            sheet.number(row, LOST, None)
            return
        lost, springs = (sheet.span(*span, column).split("!")[1] for column in (LOST, SPRING))
        sheet.formula(row, LOST, f"IF(COUNT({lost})>0,AVERAGE({lost}),{DASH})", point.mean_lost, "0.0 %")
        sheet.formula(row, WORST, f"IF(COUNT({lost})>0,MAX({lost}),{DASH})", point.worst_lost, "0.0 %")
        worst = _at(sheet, row, WORST)
        found = f'IF(COUNT({worst})=1,INDEX({springs},MATCH({worst},{lost},0)),"")'
        sheet.formula(row, WORST + 1, found, point.worst_spring, look="word")

    def _write_trend(self, sheet: Sheet) -> None:
        """The straight line through the means, live: share lost for each hour, pass or day."""
        past = self.past
        if past is None or past.unit is None or past.trend is None:
            return
        sheet.row += 1
        first = sheet.row
        for place, point in enumerate(past.checks):
            at = _time(past, point)
            if at is None or point.mean_lost is None:
                continue
            row, sheet.row = sheet.row, sheet.row + 1
            sheet.texts(row, ("For the trend", point.name))
            sheet.number(row, HOURS, at, "0.##")
            sheet.text(row, PASSES, past.unit, "unit")
            sheet.text(row, SPRING, "share of the load left", "note")
            sheet.formula(row, LOST, f"1-{_at(sheet, 1 + place, LOST)}", 1 - point.mean_lost, "0.0 %")
        last = sheet.row - 1
        times, left = (sheet.span(first, last, column).split("!")[1] for column in (HOURS, LOST))
        started = f"(INTERCEPT({left},{times})+SLOPE({left},{times})*MIN({times}))"
        sheet.text(sheet.row, CHECK, f"Trend: share lost for each of the {past.unit}", "note")
        sheet.formula(sheet.row, LOST, f"-SLOPE({left},{times})/{started}", past.trend.loss_per_unit, "0.0000 %")
        sheet.define("history_loss_per_unit", sheet.row, LOST)
        sheet.row += 1
        if past.trend.loss_per_unit_U is not None:
            sheet.text(sheet.row, CHECK, "± U at export (k = 2; Student's t for few checks)", "note")
            sheet.number(sheet.row, LOST, past.trend.loss_per_unit_U, "0.0000 %")
            sheet.row += 1


def _named(carried: SetBlocks, check: int) -> dict[str, Carried]:
    found = {name: own for (index, name), own in carried.earlier.items() if index == check}
    return {name: own for name, own in found.items() if own.load_line is not None}


def _time(past: Past, point: CheckPoint) -> float | None:
    """Where a check stands on the trend's axis."""
    if past.unit == "hours":
        return point.hours
    if past.unit == "passes":
        return point.passes
    days = [_day(each) for each in past.checks]
    own, known = _day(point), [day for day in days if day is not None]
    return None if own is None else float(own - known[0])


def _day(point: CheckPoint) -> int | None:
    try:
        return dt.date.fromisoformat(point.date or "").toordinal()
    except ValueError:
        return None


def _write_check(sheet: Sheet, row: int, point: CheckPoint) -> None:
    sheet.texts(row, (point.name, point.date))
    for column, value in ((HOURS, point.hours), (PASSES, point.passes)):
        if value is not None:
            sheet.number(row, column, value, "0.##")


def _write_tested(sheet: Sheet, point: CheckPoint, each: _Tested) -> None:
    row, sheet.row, book = sheet.row, sheet.row + 1, sheet.book
    _write_check(sheet, row, point)
    sheet.text(row, SPRING, each.spring)
    for column, asked in ((LOAD, each.now), (FIRST_LOAD, each.first)):
        sheet.formula(row, column, asked.load, book.shown(asked.value, Kind.FORCE), "0.0")
    now, first = _at(sheet, row, LOAD), _at(sheet, row, FIRST_LOAD)
    share = f"IF(COUNT({now},{first})=2,IF({first}>0,1-{now}/{first},{DASH}),{DASH})"
    sheet.formula(row, LOST, share, _lost(each), "0.0 %")


def _lost(each: _Tested) -> float | None:
    if each.now.value is None or each.first.value is None or each.first.value <= 0:
        return None
    return 1 - each.now.value / each.first.value


def _at(sheet: Sheet, row: int, column: int) -> str:
    return sheet.cell(row, column).split("!")[1].replace("$", "")
