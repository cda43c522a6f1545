"""The sheet Followers: the figures of each line's follower, chapter by chapter, as at export while all stands."""

from __future__ import annotations

from loadbench.analysis import Analysis, Figure, LineAnalysis
from loadbench.report.book.coils_sheet import KEPT, LIVE
from loadbench.report.book.figures import told_formula
from loadbench.report.book.follower_cells import FollowerCells, told_lines
from loadbench.report.book.inputs import words
from loadbench.report.book.match_sheet import places_of
from loadbench.report.book.paper import Book, Sheet
from loadbench.report.follower_words import CHAPTERS

COLUMNS = (
    ("Chapter", 13), ("Figure", 40), ("Value", 11), ("Unit", 10), ("Cell", 9.5), ("Formula", 34), ("From", 15),
    ("Note at export", 42), ("Source", 15), ("Name of the cell", 38),
)  # fmt: skip
CHAPTER, FIGURE, VALUE, UNIT, CELL, FORMULA, FROM, NOTE, SOURCE, NAME = range(10)
TAKEN = (
    "At export: no spreadsheet computes it; it turns into a dash once an entry or a load that it rests on is changed.",
    "Words that are typed freely (materials, oil grade and category) are not watched: export anew once one is changed.",
)


def write_followers(book: Book, analysis: Analysis) -> None:
    """Write the sheet of every line that has figures of a follower.

    Args:
        book: the workbook, its sheets Job, Figures and Motion written.
        analysis: of the job.
    """
    for line in told_lines(analysis):
        title = "Followers" if line.name == "common" else f"Followers {line.name}"
        sheet, of = book.sheet(title, COLUMNS), FollowerCells(book, line)
        for chapter, names in CHAPTERS.items():
            for name in names:
                if name in line.figures:
                    _write_figure(sheet, of, chapter, line.figures[name])
        _write_as_exported(sheet, of, line)


def _write_figure(sheet: Sheet, of: FollowerCells, chapter: str, figure: Figure) -> None:
    row, sheet.row, book = sheet.row, sheet.row + 1, sheet.book
    sheet.text(row, CHAPTER, chapter, "quiet")
    sheet.text(row, FIGURE, figure.label)
    value = book.shown(figure.value, figure.kind)
    places = places_of(book, figure.kind)
    if value is None:
        sheet.number(row, VALUE, None, places)
    else:
        sheet.formula(row, VALUE, of.kept(value), value, places)
        sheet.text(row, CELL, KEPT, "word")
    sheet.text(row, UNIT, book.unit(figure.kind), "unit")
    waits = f"Waits for: {', '.join(words(field) for field in figure.missing)}." if figure.missing else ""
    note = " ".join(part for part in (figure.note, waits) if part)
    sheet.texts(row, (told_formula(figure), figure.evidence, note, figure.source), FORMULA, "quiet")
    sheet.text(row, NAME, sheet.define(of.own(figure.name), row, VALUE), "quiet")


def _write_as_exported(sheet: Sheet, of: FollowerCells, line: LineAnalysis) -> None:
    for name, label, formula in of.as_exported():
        row, sheet.row = sheet.row, sheet.row + 1
        sheet.text(row, FIGURE, label)
        sheet.formula(row, VALUE, formula, 1.0, "0")
        sheet.text(row, CELL, LIVE, "word")
        sheet.text(row, NAME, sheet.define(of.own(name), row, VALUE), "quiet")
    typical = line.follower.typical
    told = (*TAKEN, *([f"Not stated, taken as is typical: {', '.join(typical)}."] if typical else []))
    for place, text in enumerate(told, 1):
        sheet.text(sheet.row + place, CHAPTER, text, "note")
    sheet.at.print_area(0, 0, sheet.row + len(told), NAME - 1)
