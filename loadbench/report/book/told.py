"""The sheets that say what the figures mean: Findings, Rules changed, Cautions, Sources."""

from __future__ import annotations

from loadbench.analysis import Analysis
from loadbench.analysis.figure import FigureKind, told
from loadbench.errors import Problem
from loadbench.findings.finding import Finding, Verdicts
from loadbench.findings.rulebook import Limit, program_rules, rule_book
from loadbench.report.book.inputs import words
from loadbench.report.book.looks import LEVEL_INKS
from loadbench.report.book.paper import Book, Sheet
from loadbench.report.cautions import CAUTIONS, NOT_COVERED
from loadbench.report.entries import fault
from loadbench.sources import COMMON_PRACTICE, OWN_DERIVATION, SOURCES
from loadbench.units import Style

FINDINGS = (
    ("Level", 9), ("Rule", 20), ("Where", 9), ("What it means", 43), ("Value", 8), ("Limit", 8), ("Margin", 8),
    ("Unit", 6), ("Chance past the limit", 8), ("Limit set by", 9.5), ("What would clear it", 23), ("Source", 12),
)  # fmt: skip
MEANS, VALUE, UNIT, CHANCE, HOUSE, FIX, SOURCE = 3, 4, 7, 8, 9, 10, 11


def write_findings(book: Book, verdicts: Verdicts) -> None:
    """Write the sheet Findings: worst first, as judged at export.

    Args:
        book: the workbook.
        verdicts: what was judged.
    """
    sheet = book.sheet("Findings", FINDINGS)
    for finding in verdicts.findings:
        _write_finding(sheet, finding)
    for problem in verdicts.problems:
        _write_problem(sheet, problem)
    last = max(sheet.row - 1, 1)
    for level, ink in LEVEL_INKS.items():
        look = book.workbook.add_format({"font_color": ink, "bold": level != "clear"})
        sheet.at.conditional_format(
            1, 0, last, 0, {"type": "cell", "criteria": "==", "value": f'"{level}"', "format": look}
        )
    sheet.at.autofilter(0, 0, last, len(FINDINGS) - 1)
    for name, choice in (("axle", verdicts.advice.axle), ("travel", verdicts.advice.travel)):
        if choice.choice:
            runner_up = f" Next best: {choice.runner_up}." if choice.runner_up else ""
            sheet.texts(sheet.row, ("advice", name))
            sheet.text(sheet.row, MEANS, f"{choice.choice.capitalize()}. {choice.reason.told(book.style)}{runner_up}")
            sheet.row += 1
    note = "Judged at export: a change in this workbook changes the figures, not the findings."
    sheet.text(sheet.row, MEANS, note, "aside")


def where_of(finding: Finding) -> str:
    """The line, the spring and the valve that a finding speaks of; "" for the whole job."""
    valve = f"valve {finding.valve}" if finding.valve else None
    return ", ".join(part for part in (finding.line, finding.member, valve) if part)


def cleared_by(finding: Finding, style: Style) -> str:
    """What would clear a finding: its advice, and the entries that it waits for."""
    fix = "" if finding.fix is None else finding.fix.told(style)
    waits = f"Waits for: {'; '.join(words(field) for field in finding.missing)}." if finding.missing else ""
    return " ".join(part for part in (fix, waits) if part)


def _write_finding(sheet: Sheet, finding: Finding) -> None:
    row, sheet.row, book = sheet.row, sheet.row + 1, sheet.book
    kind = finding.value_kind
    told = finding.sentence.told(book.style)
    sheet.texts(row, (str(finding.level), finding.title, where_of(finding), told))
    for column, value in enumerate((finding.value, finding.limit, finding.margin), VALUE):
        if value is not None and kind is not None:
            sheet.number(row, column, book.shown(value, kind), book.places(kind))
    sheet.text(row, UNIT, book.unit(kind), "unit")
    if finding.chance is not None:
        sheet.number(row, CHANCE, finding.chance, "0.0 %")
    sheet.text(row, HOUSE, finding.house if finding.limit is not None else "", "unit")
    sheet.text(row, FIX, cleared_by(finding, book.style))
    sheet.text(row, SOURCE, finding.source, "quiet")


def _write_problem(sheet: Sheet, problem: Problem) -> None:
    row, sheet.row = sheet.row, sheet.row + 1
    what, wanted = fault(problem)
    sheet.texts(row, ("entry", words(problem.place.field or ""), "", what))
    sheet.text(row, FIX, wanted if wanted.endswith("?") or not wanted else f"Wanted: {wanted}.")


def write_rules(book: Book, analysis: Analysis) -> None:
    """Write the sheet Rules changed: what this job asks for in place of the rule book's starting values.

    Args:
        book: the workbook.
        analysis: of the job.
    """
    head = (("Rule", 32), ("Limit", 20), ("Watch, here", 15), ("Stop, here", 15), ("Watch, rule book", 15),
            ("Stop, rule book", 15), ("Why", 42))  # fmt: skip
    sheet = book.sheet("Rules changed", head)
    rules = rule_book(None, analysis.job.rules, analysis.stated.style)
    for name in rules.changed:
        before = program_rules()[name]
        for title, limit in rules.rules[name].limits.items():
            if limit != before.limits[title]:
                here, there = _ends(book, limit), _ends(book, before.limits[title])
                sheet.texts(sheet.row, (before.title, title, *here, *there, limit.why))
                sheet.row += 1
    if sheet.row == 1:
        sheet.text(1, 0, "This job changes no rule.", "note")


def _ends(book: Book, limit: Limit) -> tuple[str, str]:
    def text(value: float | None, kind: FigureKind) -> str:
        return "" if value is None else str(told(value, kind, book.style))

    return text(limit.watch, limit.kind), text(limit.stop, limit.kind)


def write_cautions(book: Book) -> None:
    """Write the sheet Cautions."""
    sheet = book.sheet("Cautions", (("Kind", 15), ("What", 78)), upright=True)
    for kind, lines in (("caution", CAUTIONS), ("not covered", NOT_COVERED)):
        for line in lines:
            sheet.texts(sheet.row, (kind, line))
            sheet.row += 1


def write_sources(book: Book, analysis: Analysis, verdicts: Verdicts) -> None:
    """Write the sheet Sources: every source that a figure or a finding of this workbook names.

    Args:
        book: the workbook.
        analysis: of the job.
        verdicts: what was judged.
    """
    head = (("Id", 20), ("Source", 68), ("Consulted", 13))
    sheet = book.sheet("Sources", head, upright=True)
    used = {finding.source for finding in verdicts.findings}
    used |= {figure.source for line in analysis.lines for figure in line.figures.values()} | {"fritsch-butland", "gum"}
    own = {
        COMMON_PRACTICE: "A rule of the trade without a published source; each can be changed.",
        OWN_DERIVATION: "Derived for this program from the definitions; the formula stands beside the figure.",
    }
    for name in sorted(used):
        source = SOURCES.get(name)
        text = own.get(name, name) if source is None else source.text
        sheet.texts(sheet.row, (name, text, "" if source is None else source.seen))
        sheet.row += 1
