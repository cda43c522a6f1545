"""The sheet Summary: one page for the wall; its figures are live, its verdicts those at export, and it says so."""

from __future__ import annotations

from collections.abc import Iterator

from loadbench.analysis import Analysis
from loadbench.analysis.figure import told
from loadbench.findings.finding import RANKS, Choice, Finding, Level, Verdicts
from loadbench.report.book.inputs import words
from loadbench.report.book.paper import Book, Sheet
from loadbench.report.book.summary_figures import AIR, LAST, SLIT, WIDTHS, missing_here, write_key_figures
from loadbench.report.book.told import cleared_by, where_of
from loadbench.report.cautions import CAUTIONS, NOT_COVERED
from loadbench.report.entries import entries_counted
from loadbench.report.plain_text import cell_text
from loadbench.units import Kind

LEVEL, RULE, MEANS, FIX = 0, 1, 2, 6
MOST_POINTS, HEADS = 870.0, 40.0
"""So tall, the page still prints at 8 points; what the head of the findings and their count take of it."""
TITLE, NOTHING = "Untitled job", "not stated"


def write_summary(book: Book, analysis: Analysis, verdicts: Verdicts) -> None:
    """Write the sheet Summary.

    Args:
        book: the workbook.
        analysis: of the job.
        verdicts: what was judged.
    """
    sheet = book.page("Summary", WIDTHS)
    _line(sheet, cell_text(analysis.job.title).strip() or TITLE, "title")
    for label, text in _facts(book, analysis):
        sheet.text(sheet.row, LEVEL, label, "aside")
        sheet.across(sheet.row, RULE, LAST, text)
        sheet.row += 1
    _write_counts(sheet, verdicts)
    write_key_figures(sheet, analysis)
    below = _below(analysis, verdicts, book)
    room = MOST_POINTS - HEADS - sheet.height - sum(_height(sheet, text, look) for text, look in below)
    _write_findings(sheet, verdicts, room)
    for text, look in below:
        _line(sheet, text, look)
    sheet.at.print_area(0, 0, sheet.row - 1, LAST)


def _line(sheet: Sheet, text: str, look: str = "text") -> None:
    """A text across the page; a section with air around it."""
    if look == "section":
        sheet.gap(AIR)
    sheet.across(sheet.row, 0, LAST, text, look)
    sheet.row += 1
    if look == "section":
        sheet.gap(SLIT)


def _height(sheet: Sheet, text: str, look: str) -> float:
    own = sheet.height_for(text, sheet.width_of(0, LAST), look)
    return own + AIR + SLIT if look == "section" else own


def _facts(book: Book, analysis: Analysis) -> Iterator[tuple[str, str]]:
    """What the job is about, a label and a text each."""
    job, line = analysis.job, analysis.lines[0].stated
    who = (job.customer, job.record.engine, job.record.date, job.record.measured_by)
    yield "Job", "; ".join(str(each) for each in who if each) or NOTHING
    duty = [str(job.duty.use or "")]
    for field, label, kind in (
        ("duty.speed_limit", "to", Kind.SPEED),
        ("duty.boost", "boost", Kind.PRESSURE),
        ("duty.exhaust_back_pressure", "exhaust back pressure", Kind.PRESSURE),
    ):
        value = line.value(field)
        duty.append(f"{label} {told(value, kind, book.style)}" if value else "")
    yield "Duty", ", ".join(each for each in duty if each) or NOTHING
    names = " + ".join(str(coil.name) for coil in job.spring.coils if coil.name)
    yield "Spring", ": ".join(str(each) for each in (job.spring.name, names) if each) or NOTHING
    yield "Follower", str(job.follower.family or NOTHING).replace("-", ", ")
    yield "Lines", "intake and exhaust apart" if analysis.has_lines else "one for all valves"


def _write_counts(sheet: Sheet, verdicts: Verdicts) -> None:
    _line(sheet, "Verdict at export", "section")
    for level, (first, last) in zip(reversed(RANKS), ((0, 0), (1, 1), (2, 3), (4, 5)), strict=True):
        count = verdicts.count(level)
        sheet.across(sheet.row, first, last, f"{count} {level}", str(level) if count else "aside")
    sheet.row += 1
    mend = entries_counted(verdicts.problems)
    if mend:
        rest = "what depends on them is unknown, unless it is told that it counts"
        _line(sheet, f"{mend}: they stand last on the sheet Findings; {rest}.", "strong")
    if not verdicts.complete:
        _line(sheet, "Not complete: a main figure is unknown.", "strong")


def told_here(verdicts: Verdicts) -> tuple[Finding, ...]:
    """The findings that the page names: every stop and watch; the worst, where there is none and not all is clear."""
    found = tuple(each for each in verdicts.findings if each.level in (Level.STOP, Level.WATCH))
    return found or tuple(each for each in verdicts.findings[:1] if each.level is not Level.CLEAR)


def _write_findings(sheet: Sheet, verdicts: Verdicts, room: float) -> None:
    """One line each, worst first, as far as the page stays readable; the rest is counted."""
    findings = told_here(verdicts)
    sheet.gap(AIR)
    heads = ("Worst first", "Rule", "What it means", "What would clear it")
    for (first, last), head in zip(((0, 0), (1, 1), (2, 5), (6, LAST)), heads, strict=True):
        sheet.across(sheet.row, first, last, head, "head")
    sheet.row += 1
    sheet.gap(SLIT)
    if not findings:
        _line(sheet, "Every finding is clear." if verdicts.findings else "Nothing could be judged.")
    for place, finding in enumerate(findings):
        parts = _parts(finding, sheet.book)
        room -= max(sheet.height_for(text, sheet.width_of(*ends)) for text, ends in parts)
        if room < 0 and place:
            _line(sheet, f"and {len(findings) - place} more stop or watch, on the sheet Findings", "strong")
            break
        sheet.text(sheet.row, LEVEL, str(finding.level), str(finding.level))
        for text, (first, last) in parts:
            sheet.across(sheet.row, first, last, text)
        sheet.row += 1


def _parts(finding: Finding, book: Book) -> tuple[tuple[str, tuple[int, int]], ...]:
    where = where_of(finding)
    rule = f"{finding.title} ({where})" if where else finding.title
    fix = cleared_by(finding, book.style)
    return (rule, (RULE, RULE)), (finding.sentence.told(book.style), (MEANS, FIX - 1)), (fix, (FIX, LAST))


def _below(analysis: Analysis, verdicts: Verdicts, book: Book) -> list[tuple[str, str]]:
    """Advice, what nobody judged, and the cautions, each with its look."""
    advice = [("Axle", verdicts.advice.axle), ("Travel", verdicts.advice.travel)]
    told_advice = [_advice(name, choice, book) for name, choice in advice if choice.choice]
    lines = [("Advice", "section"), *((text, "text") for text in told_advice)] if told_advice else []
    missing = "; ".join(words(field) for field in missing_here(analysis))
    lines += [(f"Where a dash stood at export, it waited for: {missing}.", "aside")] if missing else []
    lines += [("Cautions", "section"), *((text, "text") for text in CAUTIONS)]
    return [*lines, (" ".join(NOT_COVERED), "aside")]


def _advice(name: str, choice: Choice, book: Book) -> str:
    chosen = "an open question" if choice.choice == "open" else choice.choice
    runner_up = f" Next best: {choice.runner_up}." if choice.runner_up else ""
    return f"{name}: {chosen}. {choice.reason.told(book.style)}{runner_up}"
