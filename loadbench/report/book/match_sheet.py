"""The sheet Match: every follower family under every criterion, the recommendation, and the reasons one by one."""

from __future__ import annotations

from loadbench.analysis.figure import FigureKind
from loadbench.findings.finding import Level
from loadbench.findings.match.result import CRITERION_WORDS, KIT_WORDS, Cell, Criterion, Kit, Match
from loadbench.report.book.looks import LEVEL_INKS
from loadbench.report.book.paper import Book, Sheet
from loadbench.units import Kind

COLUMNS = (("Criterion", 24), *((KIT_WORDS[kit], 13) for kit in Kit))
REASONS = (
    ("Family", 24), ("Criterion", 20), ("Level", 9), ("Why", 52), ("Value", 9), ("Limit", 9), ("Unit", 9),
    ("Trade and physics", 34), ("Source", 18),
)  # fmt: skip
NOTHING = "does not concern it"
DISAGREE = "The trade's rule and the physics disagree."


def write_match(book: Book, match: Match | None) -> None:
    """Write the sheets Match and Match reasons; nothing where there is no match.

    Args:
        book: the workbook.
        match: of the job.
    """
    if match is None:
        return
    sheet = book.sheet("Match", COLUMNS)
    for criterion in Criterion:
        sheet.text(sheet.row, 0, CRITERION_WORDS[criterion], "strong")
        for column, kit in enumerate(Kit, 1):
            sheet.text(sheet.row, column, _word(match.cell(kit, criterion)), "word")
        sheet.row += 1
    _coloured(sheet, 1, sheet.row - 1, 1, len(Kit))
    sheet.row += 1
    _write_advice(sheet, match)
    _write_reasons(book, match)


def _word(cell: Cell) -> str:
    return NOTHING if cell.level is None else str(cell.level)


def _write_advice(sheet: Sheet, match: Match) -> None:
    family, style = match.family, sheet.book.style
    lines = [f"The job states: {KIT_WORDS[match.stated]}."] if match.stated else []
    lines.append(family.reason.told(style))
    if family.runner_up:
        lines.append(f"Next best: {KIT_WORDS[Kit(family.runner_up)]}.")
    for kit, sentences in match.changes.items():
        if sentences:
            told = " ".join(sentence.told(style) for sentence in sentences)
            lines.append(f"For {_small(KIT_WORDS[kit])} to suit: {told}")
    lines.append("Judged at export. The part makers' sheets and a qualified engine builder come first.")
    for line in lines:
        sheet.text(sheet.row, 0, line, "note")
        sheet.row += 1


def _small(words: str) -> str:
    return words[:1].lower() + words[1:]


def _write_reasons(book: Book, match: Match) -> None:
    sheet = book.sheet("Match reasons", REASONS)
    for cell in match.cells:
        if cell.level is None:
            continue
        row, sheet.row = sheet.row, sheet.row + 1
        told = cell.sentence.told(book.style)
        sheet.texts(row, (KIT_WORDS[cell.kit], CRITERION_WORDS[cell.criterion], str(cell.level), told))
        for column, value in ((4, cell.value), (5, cell.limit)):
            if value is not None and cell.value_kind is not None:
                sheet.number(row, column, book.shown(value, cell.value_kind), places_of(book, cell.value_kind))
        sheet.text(row, 6, book.unit(cell.value_kind), "unit")
        sheet.text(row, 7, _sides(cell, book))
        sheet.text(row, 8, cell.source, "quiet")
    last = max(sheet.row - 1, 1)
    _coloured(sheet, 1, last, 2, 2)
    sheet.at.autofilter(0, 0, last, len(REASONS) - 1)


def _sides(cell: Cell, book: Book) -> str:
    sides = [("Trade", cell.practice), ("Physics", cell.physics)]
    told = [f"{who}: {sentence.told(book.style)}" for who, sentence in sides if sentence is not None]
    return " ".join([*([DISAGREE] if cell.disagree else []), *told])


def places_of(book: Book, kind: FigureKind) -> str:
    """The number pattern for a follower's figures: what the everyday patterns would round away is kept."""
    own = {Kind.FILM: "0.000", Kind.TIME: "0.00", Kind.LIFE: "0", Kind.PV: "0.00", Kind.VISCOSITY: "0.0"}
    return own.get(kind, book.places(kind)) if isinstance(kind, Kind) else book.places(kind)


def _coloured(sheet: Sheet, first: int, last: int, left: int, right: int) -> None:
    """Levels in their inks; the word says the same."""
    for level, ink in LEVEL_INKS.items():
        look = sheet.book.workbook.add_format({"font_color": ink, "bold": level != Level.CLEAR})
        rule = {"type": "cell", "criteria": "==", "value": f'"{level}"', "format": look}
        sheet.at.conditional_format(first, left, last, right, rule)
    quiet = sheet.book.workbook.add_format({"font_color": LEVEL_INKS["unknown"], "italic": True})
    rule = {"type": "cell", "criteria": "==", "value": f'"{NOTHING}"', "format": quiet}
    sheet.at.conditional_format(first, left, last, right, rule)
