"""The sheets of followers, match, setting and check list: what stands there, and that nothing goes stale."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest

from loadbench.analysis import Analysis, analyse
from loadbench.findings import judge
from loadbench.findings.check_list import check_list
from loadbench.findings.match.match import match_of, with_match
from loadbench.findings.match.result import CRITERION_WORDS, Kit
from loadbench.job.model import Job
from loadbench.job.reading_in import job_from_text
from loadbench.report.book.match_sheet import NOTHING
from loadbench.report.follower_words import FOLLOWER_FIGURES
from loadbench.report.workbook import workbook_bytes
from loadbench.units import Kind, Style, to_display
from tests.report.recalculated import Calculated, by_formulas, cached_differences, opened, same, stored

ROOT = Path(__file__).parents[2]
QUIET = pytest.mark.filterwarnings("ignore::DeprecationWarning", "ignore::FutureWarning", "ignore::RuntimeWarning")
DASH = "\u2013"


def sample(name: str, **changes: Any) -> Job:
    tree = json.loads((ROOT / "samples" / f"{name}.loadbench.json").read_text(encoding="utf-8"))
    for part, keys in changes.items():
        tree[part] = {**tree.get(part, {}), **keys}
    return job_from_text(json.dumps(tree))


def book_of(job: Job, style: Style) -> tuple[Analysis, bytes]:
    analysis = analyse(job)
    return analysis, workbook_bytes(analysis, with_match(judge(analysis), match_of(analysis)), style)


def differences(analysis: Analysis, calculated: Calculated, book: bytes, style: Style) -> dict[str, Any]:
    """What stands in cells of the follower and is not the program's, by the figure."""
    names, wrong = opened(book).defined_names, {}
    for line in analysis.lines:
        for name in FOLLOWER_FIGURES:
            figure = line.figures.get(name)
            if figure is None:
                continue
            want = figure.value
            if want is not None and isinstance(figure.kind, Kind):
                want = to_display(want, figure.kind, style)
            got = calculated.at(*next(iter(names[f"{line.name}_{name}"].destinations)))
            if not same(want, got):
                wrong[name] = got
    return wrong


@pytest.mark.parametrize("style", list(Style))
def test_every_figure_of_the_follower_stands_there(style: Style) -> None:
    analysis, book = book_of(sample("short-travel-hydraulic-roller"), style)
    assert differences(analysis, stored(book), book, style) == {}
    sheets = opened(book).sheetnames
    assert [name for name in sheets if name.startswith("Followers")] == ["Followers intake", "Followers exhaust"]
    assert {"Match", "Match reasons", "Setting", "Before it goes in"} <= set(sheets)


def test_the_match_stands_there_cell_by_cell() -> None:
    analysis, book = book_of(sample("solid-roller-1000-lbf"), Style.INCH_POUND)
    match = match_of(analysis)
    rows = list(opened(book, values=True)["Match"].iter_rows(min_row=2, max_row=12, values_only=True))
    told = {(row[0], place): word for row in rows for place, word in enumerate(row[1:8])}
    for cell in match.cells:
        wanted = NOTHING if cell.level is None else str(cell.level)
        assert told[CRITERION_WORDS[cell.criterion], list(Kit).index(cell.kit)] == wanted
    reasons = list(opened(book, values=True)["Match reasons"].iter_rows(min_row=2, values_only=True))
    assert len(reasons) == sum(cell.level is not None for cell in match.cells)
    assert any("disagree" in str(row[7]) for row in reasons)


def test_without_a_match_there_is_no_such_sheet() -> None:
    analysis = analyse(sample("solid-roller-1000-lbf"))
    names = opened(workbook_bytes(analysis, judge(analysis), Style.METRIC)).sheetnames
    assert "Match" not in names


def test_the_worksheet_of_shims_is_live() -> None:
    _, book = book_of(sample("bucket-head-with-shims"), Style.METRIC)
    sheet = opened(book)["Setting"]
    row = next(row for row in sheet.iter_rows(min_row=2) if row[0].value == "1IB")
    assert str(row[5].value).startswith("=IF(COUNT(")
    values = opened(book, values=True)["Setting"]
    shown = next(row for row in values.iter_rows(min_row=2, values_only=True) if row[0] == "1IB")
    assert shown[5] == pytest.approx(shown[4] + shown[2] - shown[3])
    assert "Put in" in shown[7] or "Buy" in shown[7]


def test_a_column_that_fits_nothing_is_not_printed() -> None:
    hidden = {
        name: opened(workbook_bytes(analysis, judge(analysis), Style.METRIC))["Setting"].column_dimensions["F"].hidden
        for name in ("bucket-head-with-shims", "short-travel-hydraulic-roller")
        for analysis in (analyse(sample(name)),)
    }
    assert hidden == {"bucket-head-with-shims": False, "short-travel-hydraulic-roller": True}


def test_the_check_list_keeps_initials() -> None:
    first = check_list(analyse(sample("bucket-head-with-shims")))[0].id
    tree = json.loads((ROOT / "samples" / "bucket-head-with-shims.loadbench.json").read_text(encoding="utf-8"))
    tree["check_list"] = [{"item": first, "initials": "=AB", "date": "2026-09-06"}]
    _, book = book_of(job_from_text(json.dumps(tree)), Style.METRIC)
    row = next(opened(book)["Before it goes in"].iter_rows(min_row=2, max_row=2, values_only=True))
    assert (row[4], row[5]) == ("=AB", "2026-09-06")


@QUIET
@pytest.mark.strength
def test_another_roller_unsays_what_rests_on_it(tmp_path: Path) -> None:
    subject = sample("lobe-from-a-degree-wheel")
    before, book = book_of(subject, Style.METRIC)
    as_it_is, changed = by_formulas(book, subject, {"follower.roller_width": "0.440 in"}, Style.METRIC, tmp_path)
    assert cached_differences(as_it_is, book) == []
    assert differences(before, as_it_is, book, Style.METRIC) == {}
    wrong = differences(before, changed, book, Style.METRIC)
    assert set(wrong.values()) == {DASH}
    assert {"hertz_nose", "needle_life"} <= wrong.keys()
