"""The workbook: the whole job as a spreadsheet whose figures are live formulas, written whole or not at all."""

from __future__ import annotations

import io
import os
import re
import zipfile
from collections.abc import Callable
from pathlib import Path

from loadbench.analysis import Analysis, LineAnalysis
from loadbench.assembly.setting_sheet import setting_sheet
from loadbench.findings.check_list import check_list
from loadbench.findings.finding import Verdicts
from loadbench.findings.shop import Shop
from loadbench.job.files import write_atomically
from loadbench.readings.evidence import accuracy_of
from loadbench.report.book.blocks import Plan, plan_of
from loadbench.report.book.check_sheet import write_check_list
from loadbench.report.book.coil_cells import coil_entries
from loadbench.report.book.coils_sheet import write_coils
from loadbench.report.book.figures import write_figures
from loadbench.report.book.fit import write_fit
from loadbench.report.book.follower_cells import follower_entries
from loadbench.report.book.followers_sheet import write_followers
from loadbench.report.book.inputs import write_inputs
from loadbench.report.book.interpolation import write_interpolation
from loadbench.report.book.load_line import write_load_line
from loadbench.report.book.match_sheet import write_match
from loadbench.report.book.motion_cells import motion_entries
from loadbench.report.book.motion_sheet import write_motion
from loadbench.report.book.paper import MARK, Book
from loadbench.report.book.readings import Sums, write_readings
from loadbench.report.book.set_sheets import SetSheets
from loadbench.report.book.setting_sheet import write_setting
from loadbench.report.book.slopes import write_slopes
from loadbench.report.book.summary import write_summary
from loadbench.report.book.told import write_cautions, write_findings, write_rules, write_sources
from loadbench.report.json_out import style_of
from loadbench.units import Style

MOST_BYTES = 64_000_000
MOST_ENTRIES = 500
MOST_RATIO = 200
LARGE_ENTRY = 1_000_000
PROPERTIES = "docProps/custom.xml"
MARKED = re.compile(rf'<property\b[^<>]*\bname="{MARK[0]}"[^<>]*>\s*<vt:lpwstr>{MARK[1]}</vt:lpwstr>'.encode())


def write_workbook(
    analysis: Analysis,
    verdicts: Verdicts,
    path: str | os.PathLike[str],
    *,
    style: Style | None = None,
    shop: Shop | None = None,
    progress: Callable[[float], None] | None = None,
) -> None:
    """Write the workbook of a job: to a temporary file beside, then moved over.

    Args:
        analysis: what was computed.
        verdicts: what was judged.
        path: the file; what stands there is replaced.
        style: units of the workbook; None: the job's own, else inch-pound.
        shop: the shop's changes to the rule book.
        progress: told the share done between the sheets; it may raise Cancelled, and nothing is left behind.

    Raises:
        SaveError: the file cannot be written; what stood there is untouched.
        Cancelled: by `progress`.
    """
    content = workbook_bytes(analysis, verdicts, style or style_of(analysis), progress, shop)
    write_atomically(Path(path), content)


def workbook_bytes(
    analysis: Analysis,
    verdicts: Verdicts,
    style: Style,
    progress: Callable[[float], None] | None = None,
    shop: Shop | None = None,
) -> bytes:
    """The workbook as the bytes of its file.

    Args:
        analysis: what was computed.
        verdicts: what was judged.
        style: units of the workbook.
        progress: told the share done between the sheets.
        shop: the shop's changes to the rule book.

    Returns:
        All of it.
    """
    stream = io.BytesIO()
    job = analysis.job
    book = Book(stream, style, title=str(job.title or ""), date=str(job.record.date or ""))
    lines = plan_of(analysis)
    of_set = SetSheets(book, analysis, lines, shop)
    plan = of_set.plan
    sums: dict[str, Sums] = {}
    tops: dict[str, int] = {}
    steps: list[Callable[[], object]] = [
        lambda: write_summary(book, analysis, verdicts),
        lambda: write_inputs(
            book,
            analysis,
            of_set.entries,
            (*of_set.wanted, *coil_entries(analysis), *motion_entries(analysis), *follower_entries(analysis)),
        ),
        lambda: write_figures(book, analysis, plan),
        lambda: sums.update(write_readings(book, analysis, plan)),
        lambda: write_fit(book, analysis, plan, sums),
        *(_load_line_step(book, line, plan, sums) for line in analysis.lines),
        lambda: write_coils(book, analysis, plan),
        lambda: write_motion(book, analysis),
        lambda: write_followers(book, analysis),
        lambda: write_match(book, verdicts.match),
        lambda: write_setting(book, setting_sheet(analysis)),
        lambda: write_check_list(book, check_list(analysis, verdicts)),
        lambda: tops.update(write_interpolation(book, plan, sums)),
        lambda: write_slopes(book, plan, sums, tops, accuracy_of(analysis.lines[0].stated)),
        *of_set.steps(sums),
        lambda: write_findings(book, verdicts),
        lambda: write_rules(book, analysis),
        lambda: write_cautions(book),
        lambda: write_sources(book, analysis, verdicts),
    ]
    for place, step in enumerate(steps):
        if progress is not None:
            progress(place / (len(steps) + 1))
        step()
    book.workbook.close()
    if progress is not None:
        progress(1.0)
    return stream.getvalue()


def _load_line_step(book: Book, line: LineAnalysis, plan: Plan, sums: dict[str, Sums]) -> Callable[[], None]:
    return lambda: write_load_line(book, line, plan, sums)


def is_ours(path: str | os.PathLike[str]) -> bool:
    """Whether a file is a workbook that this program wrote; reads no more than its table of contents and properties.

    Args:
        path: any file.

    Returns:
        True for a workbook with our mark; False for anything else, unreadable and oversized files too.
    """
    try:
        with zipfile.ZipFile(path) as archive:
            entries = archive.infolist()
            if len(entries) > MOST_ENTRIES or sum(entry.file_size for entry in entries) > MOST_BYTES:
                return False
            if any(entry.file_size > LARGE_ENTRY and _ratio(entry) > MOST_RATIO for entry in entries):
                return False
            found = next((entry for entry in entries if entry.filename == PROPERTIES), None)
            if found is None or found.file_size > LARGE_ENTRY:
                return False
            return MARKED.search(archive.read(found)) is not None
    except (OSError, zipfile.BadZipFile, NotImplementedError, RuntimeError, ValueError, EOFError):
        return False


def _ratio(entry: zipfile.ZipInfo) -> float:
    return entry.file_size / max(entry.compress_size, 1)
