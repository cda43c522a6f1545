"""The workbook calculated anew, as it is and after a change, gives what the program gives: to 1e-9, U included."""

from __future__ import annotations

import io
import json
import shutil
from pathlib import Path
from typing import Any

import pytest

from loadbench.analysis import analyse
from loadbench.job.edits import replaced
from loadbench.job.model import Job
from loadbench.job.reading_in import job_from_text
from loadbench.report.book.summary_figures import CHANGED, SAME
from loadbench.units import Style
from tests.report.cases import CASES
from tests.report.recalculated import (
    Calculated,
    Engine,
    book_of,
    by_formulas,
    by_office,
    cached_differences,
    changed_job,
    coil_differences,
    differences,
    opened,
    stored,
)

ENDS = "progressive with repeats, beyond its ends"
EVERYDAY = ("lines",)
OFTEN = [pytest.param(name, marks=() if name in EVERYDAY else pytest.mark.strength) for name in CASES]
QUIET = pytest.mark.filterwarnings("ignore::DeprecationWarning", "ignore::FutureWarning", "ignore::RuntimeWarning")


def check(name: str, style: Style, engine: Engine, folder: Path) -> None:
    job, changes = CASES[name]
    before, after = analyse(job), analyse(changed_job(job, changes))
    assert before.problems == after.problems == ()
    assert before.figures != after.figures
    book = book_of(job, style)
    as_it_is, changed = engine(book, job, changes, style, folder)
    assert cached_differences(as_it_is, book) == []
    assert differences(before, as_it_is, book, style) == []
    assert differences(after, changed, book, style) == []
    assert coil_differences(before, as_it_is, book, style) == []
    assert coil_differences(after, changed, book, style) == []
    (line,) = [cell.coordinate for (cell,) in opened(book)["Summary"]["A1:A60"] if CHANGED in str(cell.value)]
    assert [str(each.at("Summary", line)) for each in (as_it_is, changed)] == [SAME, CHANGED]


@QUIET
@pytest.mark.parametrize("name", OFTEN)
def test_formulas_package_agrees(name: str, tmp_path: Path) -> None:
    style = Style.METRIC if name in (ENDS, "stated rate") else Style.INCH_POUND
    check(name, style, by_formulas, tmp_path)


@pytest.mark.strength
@pytest.mark.skipif(shutil.which("soffice") is None, reason="LibreOffice is not installed")
@pytest.mark.parametrize("style", list(Style))
@pytest.mark.parametrize("name", list(CASES))
def test_office_agrees(name: str, style: Style, tmp_path: Path) -> None:
    check(name, style, by_office, tmp_path)


def test_the_cases_are_what_they_say() -> None:
    """A progressive case follows its readings, and the changes cross the line both ways."""
    crossing = {}
    for name, (job, changes) in CASES.items():
        lines = [analyse(each).lines[0].load_line for each in (job, changed_job(job, changes))]
        crossing[name] = [line is not None and line.progressive for line in lines]
    assert crossing["progressive"] == [True, True]
    assert crossing["progressive becomes straight"] == [True, False]
    assert crossing["straight becomes progressive"] == [False, True]
    assert crossing["five readings"] == [False, False]
    assert crossing[ENDS] == [True, True]


def test_the_progressive_case_goes_beyond_both_ends_and_takes_repeats() -> None:
    job, changes = CASES[ENDS]
    before, after = analyse(job).lines[0], analyse(changed_job(job, changes)).lines[0]
    assert before.load_line is not None
    ((_, strand),) = before.load_line.strands
    assert strand.knots is not None
    assert len(strand.knots.heights) < len(strand.heights)
    assert before.value("installed_height") > strand.knots.heights[-1]
    assert after.value("open_height") < strand.knots.heights[0]


def test_the_loose_cases_are_loose() -> None:
    assert analyse(CASES["loose"][0]).lines[0].value("seat_load") == 0.0
    inner = analyse(CASES["loose inner"][0]).lines[0].members[1].figures
    assert inner["member_seat_load"].value == 0.0
    assert inner["member_open_load"].value > 0.0


@QUIET
def test_a_faulty_accuracy_gives_no_u_until_it_is_mended(tmp_path: Path) -> None:
    """As in the program: what is entered and cannot be read counts neither as none nor as stated."""
    job = replaced(CASES["progressive"][0], "tester.load_repeatability", "half a pound")
    mended = {"tester.load_repeatability": "0.5 lbf"}
    before, after = analyse(job), analyse(changed_job(job, mended))
    assert before.lines[0].figures["seat_load"].expanded is None
    assert after.lines[0].figures["seat_load"].expanded is not None
    book = book_of(job, Style.INCH_POUND)
    as_it_is, changed = by_formulas(book, job, mended, Style.INCH_POUND, tmp_path)
    assert cached_differences(as_it_is, book) == []
    assert differences(before, as_it_is, book, Style.INCH_POUND) == []
    assert differences(after, changed, book, Style.INCH_POUND) == []


def with_reading_added(job: Job, height: str, load: str) -> Job:
    document: dict[str, Any] = json.loads(job.model_dump_json(exclude_none=True))
    document["spring"]["readings"].append({"height": height, "load": load})
    return job_from_text(json.dumps(document), "invented")


@pytest.mark.strength
@pytest.mark.skipif(shutil.which("soffice") is None, reason="LibreOffice is not installed")
@pytest.mark.parametrize("name", [ENDS, "five readings", "two readings"])
def test_a_reading_typed_into_a_spare_row_counts(name: str, tmp_path: Path) -> None:
    job, style = CASES[name][0], Style.INCH_POUND
    written = book_of(job, style)
    workbook = opened(written)
    for of, value in (("height", 1.71), ("load", 212.0)):
        sheet, where = next(iter(workbook.defined_names[f"fit1_{of}"].destinations))
        rows = [cell for (cell,) in workbook[sheet][where.replace("$", "")] if cell.value is None]
        rows[0].value = value
    stream = io.BytesIO()
    workbook.save(stream)
    calculated: Calculated = by_office(stream.getvalue(), job, {}, style, tmp_path)[0]
    assert differences(analyse(with_reading_added(job, "1.71 in", "212 lbf")), calculated, written, style) == []


def test_a_wrong_formula_is_seen(tmp_path: Path) -> None:
    """The comparison itself: a figure of another job differs."""
    job, changes = CASES["two readings"]
    book = book_of(job, Style.INCH_POUND)
    assert differences(analyse(job), stored(book), book, Style.INCH_POUND) == []
    assert differences(analyse(changed_job(job, changes)), stored(book), book, Style.INCH_POUND) != []
