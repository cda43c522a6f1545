"""The page for the wall: what it says, that it stays one readable page, and that its texts stay texts."""

from __future__ import annotations

import dataclasses
from typing import Any

import pytest

from loadbench.analysis import Analysis, analyse
from loadbench.findings import judge
from loadbench.findings.finding import Level, Verdicts
from loadbench.report.book.letters import height_of, lines_of, text_pixels
from loadbench.report.book.paper import tidy
from loadbench.report.book.summary_figures import CHANGED_NAME, SAME
from loadbench.report.cautions import CAUTIONS
from loadbench.report.workbook import workbook_bytes
from loadbench.units import Style
from tests.report.cases import CASES, job, readings
from tests.report.recalculated import opened, page_cells

WATCHED = job(
    {"readings": readings((1.9, 150), (1.25, 423)), "bind_height": "1.24 in"},
    {"family": "roller-solid"},
    gear={"lobe_lift": "0.410 in"},
    duty={"use": "drag", "speed_limit": "8600 rpm", "boost": "8 psi"},
)


def page_of(subject: Any, verdicts: Verdicts | None = None, style: Style = Style.INCH_POUND) -> Any:
    return opened(bytes_of(subject, verdicts, style), values=True)["Summary"]


def bytes_of(subject: Any, verdicts: Verdicts | None = None, style: Style = Style.INCH_POUND) -> bytes:
    analysis = subject if isinstance(subject, Analysis) else analyse(subject)
    return workbook_bytes(analysis, verdicts or judge(analysis), style)


def texts(page: Any) -> list[str]:
    return [cell.value for row in page.iter_rows() for cell in row if isinstance(cell.value, str)]


def many(count: int) -> tuple[Analysis, Verdicts]:
    """A job with so many stops and as many watches."""
    analysis = analyse(WATCHED)
    verdicts = judge(analysis)
    stop = next(each for each in verdicts.findings if each.level is Level.STOP)
    watch = dataclasses.replace(stop, level=Level.WATCH)
    return analysis, dataclasses.replace(verdicts, findings=(*[stop] * count, *[watch] * count))


def test_the_book_opens_on_it() -> None:
    book = opened(bytes_of(WATCHED))
    assert book.sheetnames[0] == book.active.title == "Summary"


def test_it_says_title_duty_counts_findings_and_cautions() -> None:
    verdicts = judge(analyse(WATCHED))
    page = page_of(WATCHED)
    told = texts(page)
    assert page["A1"].value == WATCHED.title
    assert "drag, to 8600\u2009rpm, boost 8.0\u2009psi" in told
    assert [f"{verdicts.count(level)} {level}" in told for level in Level] == [True] * 4
    assert verdicts.count(Level.STOP) > 0
    for finding in verdicts.findings:
        if finding.level in (Level.STOP, Level.WATCH):
            assert finding.sentence.told(Style.INCH_POUND) in told
            assert finding.fix is None or any(finding.fix.told(Style.INCH_POUND) in text for text in told)
    assert set(CAUTIONS) <= set(told)
    assert SAME in told


def test_where_nothing_is_stop_or_watch_the_worst_is_told() -> None:
    analysis = analyse(WATCHED)
    verdicts = judge(analysis)
    unknown = tuple(each for each in verdicts.findings if each.level is Level.UNKNOWN)
    clear = tuple(each for each in verdicts.findings if each.level is Level.CLEAR)
    told = texts(page_of(analysis, dataclasses.replace(verdicts, findings=(*unknown, *clear))))
    assert unknown[0].sentence.told(Style.INCH_POUND) in told
    assert "Every finding is clear." in texts(page_of(analysis, dataclasses.replace(verdicts, findings=clear)))
    assert "Nothing could be judged." in texts(page_of(analysis, dataclasses.replace(verdicts, findings=())))


@pytest.mark.parametrize("count", [1, 4, 30])
def test_it_stays_one_readable_page_and_counts_what_it_leaves_out(count: int) -> None:
    analysis, verdicts = many(count)
    page = page_of(analysis, verdicts)
    last = int(page.print_area.split("$")[-1])
    heights = [page.row_dimensions[row].height or 13.5 for row in range(1, last + 1)]
    assert 10 * (11 - 0.6 - 0.7) * 72 / sum(heights) >= 7.95
    levels = [cell.value for cell in page["A"] if cell.value in ("stop", "watch")]
    left_out = [text for text in texts(page) if "more stop or watch" in text]
    assert levels[:count] == ["stop"] * min(count, len(levels))
    assert bool(left_out) == (count > 4)
    if left_out:
        assert left_out == [f"and {2 * count - len(levels)} more stop or watch, on the sheet Findings"]


def test_figures_have_their_unit_and_as_many_decimals_as_they_deserve() -> None:
    page = page_of(CASES["two readings"][0])
    row = next(row for row in page.iter_rows() if row[0].value == "Seat load")
    assert row[6].value == "lbf"
    figure = analyse(CASES["two readings"][0]).lines[0].figures["seat_load"]
    decimals = len(str(figure.expanded and "0.0").partition(".")[2])
    assert row[4].number_format == "0." + "0" * decimals
    assert row[5].number_format == f'"± "{row[4].number_format}'


def test_two_lines_stand_side_by_side() -> None:
    cells = page_cells(bytes_of(CASES["lines"][0]))
    for name in ("seat_load", "seat_load_U", "bind_margin"):
        (intake,), (exhaust,) = cells[f"intake_{name}"], cells[f"exhaust_{name}"]
        assert intake[1:] == exhaust[1:]
        assert intake[0] < exhaust[0]


def test_what_was_at_export_stands_beside_the_printed_page() -> None:
    book = opened(bytes_of(WATCHED))
    assert CHANGED_NAME in book.defined_names
    assert book["Summary"].print_area.startswith("'Summary'!$A$1:$H$")


def test_an_active_text_stays_text_when_it_is_typed_over() -> None:
    page = opened(bytes_of(WATCHED.model_copy(update={"title": "=1+1"})))["Summary"]
    assert (page["A1"].value, page["A1"].data_type, page["A1"].quotePrefix) == ("=1+1", "s", True)


def test_a_wrapped_text_gets_its_lines() -> None:
    assert lines_of("", 10) == lines_of("short", 10) == 1
    assert lines_of("a\nb\nc", 10) == 3
    assert lines_of("x" * 200, 10) >= 200 * 6 / 70
    assert lines_of("word " * 40, 20) > lines_of("word " * 40, 40) > 1
    assert text_pixels("mm") > text_pixels("ii")
    assert text_pixels("ab", bold=True) > text_pixels("ab")
    assert height_of(1000) == 409


@pytest.mark.parametrize(
    ("value", "pattern"),
    [
        (None, ""),
        (float("nan"), ""),
        (0.0, ""),
        (420.0, ""),
        (1.9, "0.0####"),
        (667.2332, "0.0##"),
        (1e-12, "0.0########"),
    ],
)
def test_idle_digits_are_not_shown(value: float | None, pattern: str) -> None:
    assert tidy(value) == pattern
