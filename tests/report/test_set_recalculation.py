"""The sheets of a set calculated anew, as they are and after a change, give what the program gives: to 1e-9."""

from __future__ import annotations

import shutil
from collections.abc import Iterator
from itertools import cycle
from pathlib import Path
from typing import Any

import pytest

from loadbench.analysis import Analysis, analyse
from loadbench.findings.finding import Level
from loadbench.findings.set_check.check_set import check_set
from loadbench.job.edits import replaced
from loadbench.report.kept_plan import kept_plan
from loadbench.units import Kind, Style, to_display
from tests.report.recalculated import (
    Calculated,
    Engine,
    book_of,
    by_formulas,
    by_office,
    cached_differences,
    changed_job,
    differences,
    opened,
    same,
    stored,
)
from tests.report.set_cases import SETS

Wanted = tuple[str, str, str, float | str | None, Kind | None]
"""A value of the program: sheet, row by its first text, start of the column's head, value, kind."""

QUIET = pytest.mark.filterwarnings("ignore::DeprecationWarning", "ignore::FutureWarning", "ignore::RuntimeWarning")
EVERYDAY: tuple[str, ...] = ()
OFTEN = [pytest.param(name, marks=() if name in EVERYDAY else pytest.mark.strength) for name in SETS]
WORDS = {Level.CLEAR: "pass", Level.STOP: "fail"}


def of_springs(analysis: Analysis) -> Iterator[Wanted]:
    for each in check_set(analysis).springs:
        for head, value, kind in (
            ("Height,", each.height, Kind.LENGTH),
            ("Seat load", each.seat_load, Kind.FORCE),
            ("± U seat", each.seat_expanded, Kind.FORCE),
            ("Height at full lift", each.open_height, Kind.LENGTH),
            ("Open load", each.open_load, Kind.FORCE),
            ("± U open", each.open_expanded, Kind.FORCE),
            ("Rate", each.rate, Kind.RATE),
            ("± U rate", each.rate_expanded, Kind.RATE),
            ("Within the windows", WORDS.get(each.verdict.level, "unknown"), None),
        ):
            yield "Springs", each.id, head, value, kind


def of_valves(analysis: Analysis) -> Iterator[Wanted]:
    for each in analysis.set.valves:
        for head, value, kind in (
            ("Installed height", each.height, Kind.LENGTH),
            ("Seat load", each.seat_load, Kind.FORCE),
            ("Open load", each.open_load, Kind.FORCE),
            ("To bind", each.bind_margin, Kind.LENGTH),
            ("To seal", each.retainer_margin, Kind.LENGTH),
        ):
            if value is not None:  # without a height of its own the sheet shows the line's
                yield "Valves", each.id, head, value, kind


def of_plan(analysis: Analysis) -> Iterator[Wanted]:
    for each in kept_plan(analysis):
        before = analysis.set.valves[each.index]
        for head, value, kind in (
            ("Installed height", each.installed_height, Kind.LENGTH),
            ("Height at full lift", each.open_height, Kind.LENGTH),
            ("Seat load,", each.seat_load, Kind.FORCE),
            ("Open load,", each.open_load, Kind.FORCE),
            ("To bind", each.bind_margin, Kind.LENGTH),
            ("To seal", each.retainer_margin, Kind.LENGTH),
            ("Seat load before", before.seat_load, Kind.FORCE),
            ("Open load before", before.open_load, Kind.FORCE),
        ):
            yield "Plan", each.name, head, value, kind


def of_history(analysis: Analysis) -> Iterator[Wanted]:
    past = check_set(analysis).past
    for point in past.checks if past else ():
        yield "History", point.name, "Lost since", point.mean_lost, None
        yield "History", point.name, "Worst lost", point.worst_lost, None
        yield "History", point.name, "Worst spring", point.worst_spring, None


def set_differences(analysis: Analysis, calculated: Calculated, book: bytes, style: Style) -> list[str]:
    """Where the sheets of the set and the program disagree by more than 1e-9."""
    workbook, wrong, count = opened(book, values=True), [], 0
    for sheet, row, head, value, kind in (
        *of_springs(analysis),
        *of_valves(analysis),
        *of_plan(analysis),
        *of_history(analysis),
    ):
        count += 1
        where = cell_of(workbook[sheet], row, head)
        want = to_display(value, kind, style) if isinstance(value, float) and kind else value
        got = calculated.at(sheet, where)
        if not (got == want if isinstance(want, str) else same(want, got)):
            wrong.append(f"{sheet} {where}, {row}, {head}: {want!r} here, {got!r} there")
    assert count > 10
    return wrong + totals_wrong(analysis, calculated, book, style)


def totals_wrong(analysis: Analysis, calculated: Calculated, book: bytes, style: Style) -> list[str]:
    names, kept, check = opened(book).defined_names, kept_plan(analysis), check_set(analysis)
    wanted: dict[str, tuple[float | None, Kind | None]] = {}
    if kept:
        seats = [each.seat_load for each in kept]
        assert None not in seats
        wanted["plan_seat_spread"] = max(seats) - min(seats), Kind.FORCE  # type: ignore[type-var, operator]
        wanted["plan_shims_used"] = float(sum(len(each.shims or ()) for each in kept)), None
        off = [
            abs((each.seat_load or 0) - target) for each in kept if each.valve and (target := each.valve.target_seat)
        ]
        wanted["plan_target_deviation"] = sum(off), Kind.FORCE
    if check.past is not None and check.past.trend is not None:
        wanted["history_loss_per_unit"] = check.past.trend.loss_per_unit, None
    wrong = []
    for name, (value, kind) in wanted.items():
        want = value if kind is None or value is None else to_display(value, kind, style)
        got = calculated.at(*next(iter(names[name].destinations)))
        if not same(want, got):
            wrong.append(f"{name}: {want!r} here, {got!r} there")
    return wrong


def cell_of(sheet: Any, row: str, head: str) -> str:
    """The address of the first row that begins with a text, under the first head that begins with another."""
    column = next(cell.column for cell in sheet[1] if str(cell.value).startswith(head))
    place = next(cell.row for cell in sheet["A"][1:] if cell.value == row)
    return str(sheet.cell(place, column).coordinate)


def check(name: str, style: Style, engine: Engine, folder: Path) -> None:
    job, changes = SETS[name]
    before, after = analyse(job), analyse(changed_job(job, changes))
    assert before.problems == after.problems == ()
    book = book_of(job, style)
    as_it_is, changed = engine(book, job, changes, style, folder)
    assert cached_differences(as_it_is, book) == []
    assert set_differences(before, as_it_is, book, style) == []
    assert set_differences(after, changed, book, style) == []
    assert differences(after, changed, book, style) == []


@QUIET
@pytest.mark.parametrize("name", OFTEN)
def test_formulas_package_agrees(name: str, tmp_path: Path) -> None:
    check(name, Style.METRIC if name == "progressive set" else Style.INCH_POUND, by_formulas, tmp_path)


@pytest.mark.strength
@pytest.mark.skipif(shutil.which("soffice") is None, reason="LibreOffice is not installed")
@pytest.mark.parametrize("style", list(Style))
@pytest.mark.parametrize("name", list(SETS))
def test_office_agrees(name: str, style: Style, tmp_path: Path) -> None:
    check(name, style, by_office, tmp_path)


@pytest.mark.parametrize(("name", "style"), list(zip(SETS, cycle(Style), strict=False)))
def test_what_is_written_is_what_the_program_has(name: str, style: Style) -> None:
    book = book_of(SETS[name][0], style)
    assert set_differences(analyse(SETS[name][0]), stored(book), book, style) == []


def test_the_cases_are_what_they_say() -> None:
    """The changes turn a verdict, move a load and leave a progressive spring straight; a wrong sheet is seen."""
    job, changes = SETS["sixteen with a plan"]
    levels = [[s.verdict.level for s in check_set(analyse(j)).springs] for j in (job, changed_job(job, changes))]
    assert levels[0] != levels[1]
    assert {Level.CLEAR, Level.STOP} <= set(levels[0])
    bent = [s.load_line and s.load_line.progressive for s in analyse(SETS["progressive set"][0]).set.springs]
    assert bent == [True, True, False, True, True]
    book = book_of(job, Style.INCH_POUND)
    assert set_differences(analyse(changed_job(job, changes)), stored(book), book, Style.INCH_POUND) != []
    assert all(each.seat_load for each in kept_plan(analyse(SETS["loose pairs"][0])))


def test_a_shim_changed_in_the_plan_changes_its_valve_only() -> None:
    job, _ = SETS["sixteen with a plan"]
    before, after = (kept_plan(analyse(j)) for j in (job, replaced(job, "plan.placed.0.shims.0", "0.045 in")))
    moved = [one.name for one, other in zip(before, after, strict=True) if one.seat_load != other.seat_load]
    assert moved == [before[0].name]
