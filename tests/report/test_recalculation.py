"""The workbook calculated anew, as it is and after a change, gives what the program gives: to 1e-9, U included."""

from __future__ import annotations

import shutil
from pathlib import Path

import pytest

from loadbench.analysis import analyse
from loadbench.units import Style
from tests.report.recalculated import (
    CASES,
    Engine,
    book_of,
    by_formulas,
    by_office,
    cached_differences,
    changed_job,
    differences,
    stored,
)

EVERYDAY = ("two readings", "five readings", "progressive", "nest", "stated rate", "lines")
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


@QUIET
@pytest.mark.parametrize("name", OFTEN)
def test_formulas_package_agrees(name: str, tmp_path: Path) -> None:
    style = Style.METRIC if name in ("progressive", "stated rate") else Style.INCH_POUND
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


def test_a_wrong_formula_is_seen(tmp_path: Path) -> None:
    """The comparison itself: a figure of another job differs."""
    job, changes = CASES["two readings"]
    book = book_of(job, Style.INCH_POUND)
    assert differences(analyse(job), stored(book), book, Style.INCH_POUND) == []
    assert differences(analyse(changed_job(job, changes)), stored(book), book, Style.INCH_POUND) != []
