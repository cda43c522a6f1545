"""The sheets of one line's motion: its figures and bands, the sweep speed by speed, the lift degree by degree."""

from __future__ import annotations

from collections.abc import Mapping

from loadbench.analysis import Analysis, Figure, LineAnalysis
from loadbench.analysis.figure import Plain
from loadbench.report.book.coils_sheet import KEPT, LIVE
from loadbench.report.book.figures import told_formula
from loadbench.report.book.inputs import words
from loadbench.report.book.motion_cells import MotionCells, moving_lines
from loadbench.report.book.motion_tables import write_lift, write_sweep
from loadbench.report.book.paper import Book, Sheet
from loadbench.report.motion_words import HELD, MOTION_FIGURES, cause_told
from loadbench.units import Kind

COLUMNS = (
    ("Figure", 43), ("Value", 10), ("Unit", 7), ("Cell", 9.5), ("Formula", 30), ("From", 15), ("Note at export", 38),
    ("Source", 13), ("Name of the cell", 42),
)  # fmt: skip
FIGURE, VALUE, UNIT, CELL, FORMULA, FROM, NOTE, SOURCE, NAME = range(9)
TAKEN = (
    "Live: the figure follows the numbers on the sheet Job and the readings.",
    "At export: no spreadsheet computes it; it turns into a dash once an entry or a load that it rests on is changed.",
    "Bands, sweep and the shape of the lift are numbers as at export; export anew once anything of the job is changed.",
)


def write_motion(book: Book, analysis: Analysis) -> None:
    """Write the sheets of every line that has a lift.

    Args:
        book: the workbook, its sheets Job and Figures written.
        analysis: of the job; with its dynamic runs where sweep and bands are wanted.
    """
    for line in moving_lines(analysis):
        title = "Motion" if line.name == "common" else f"Motion {line.name}"
        _write_figures(book, line, title)
        write_sweep(book, line, f"{title} sweep")
        write_lift(book, line, f"{title} lift")


def _write_figures(book: Book, line: LineAnalysis, title: str) -> None:
    sheet, of = book.sheet(title, COLUMNS), MotionCells(book, line)
    live = of.live()
    for name in MOTION_FIGURES:
        if name in line.figures:
            _write_figure(sheet, of, line.figures[name], live)
    for part in of.masses():
        row = _begin(sheet, of, part.label, part.name)
        sheet.formula(row, VALUE, part.formula, book.shown(part.value, part.kind), _places(book, part.kind))
        sheet.text(row, UNIT, book.unit(part.kind), "unit")
        sheet.text(row, CELL, LIVE, "word")
        sheet.text(row, FROM, part.came, "quiet")
    for name, label, formula in of.as_exported():
        row = _begin(sheet, of, label, name)
        sheet.formula(row, VALUE, formula, 1.0)
        sheet.text(row, CELL, LIVE, "word")
    _write_bands(sheet, line)
    for place, told in enumerate(TAKEN, 1):
        sheet.text(sheet.row + place, 0, told, "note")
    sheet.at.print_area(0, 0, sheet.row + len(TAKEN), NAME - 1)
    sheet.at.freeze_panes(1, FIGURE + 1)


def _places(book: Book, kind: Kind) -> str:
    return "0.00E+00" if kind is Kind.INERTIA else book.places(kind)


def _write_figure(sheet: Sheet, of: MotionCells, figure: Figure, live: Mapping[str, str]) -> None:
    row, book = _begin(sheet, of, figure.label, figure.name), sheet.book
    value = book.shown(figure.value, figure.kind)
    places = "0.000" if figure.kind is Plain.NUMBER else "0" if figure.kind is Kind.SPEED else book.places(figure.kind)
    formula = live.get(figure.name)
    kept = formula is None and value is not None
    if formula is None and value is not None:
        formula = of.kept(figure.name, value)
    if formula is None:
        sheet.number(row, VALUE, value, places)
    else:
        sheet.formula(row, VALUE, formula, value, places)
    sheet.text(row, UNIT, book.unit(figure.kind), "unit")
    sheet.text(row, CELL, "" if formula is None else KEPT if kept else LIVE, "word")
    waits = f"Waits for: {', '.join(words(field) for field in figure.missing)}." if figure.missing else ""
    note = " ".join(part for part in (figure.note, waits) if part)
    sheet.texts(row, (told_formula(figure), figure.evidence, note, figure.source), FORMULA, "quiet")


def _write_bands(sheet: Sheet, line: LineAnalysis) -> None:
    """Each band of lost contact in two rows: from and to."""
    if line.dynamics is None:
        return
    unit = sheet.book.unit(Kind.SPEED)
    if not line.dynamics.bands:
        sheet.text(sheet.row, FIGURE, HELD)
        sheet.text(sheet.row, CELL, KEPT, "word")
        sheet.row += 1
    for place, band in enumerate(line.dynamics.bands, 1):
        below = "The sweep began in this band. " if band.begins_below else ""
        beyond = "The sweep ended in this band." if band.high is None else ""
        for word, speed, note in (("from", band.low, f"{below}{cause_told(band)}"), ("to", band.high, beyond)):
            sheet.text(sheet.row, FIGURE, f"Contact lost, band {place}: {word}")
            sheet.number(sheet.row, VALUE, sheet.book.shown(speed, Kind.SPEED), "0", look="at export")
            sheet.text(sheet.row, UNIT, unit, "unit")
            sheet.text(sheet.row, CELL, KEPT, "word")
            sheet.texts(sheet.row, ("dynamic run", f"{note[:1].upper()}{note[1:]}"), FROM, "quiet")
            sheet.row += 1


def _begin(sheet: Sheet, of: MotionCells, label: str, name: str) -> int:
    row, sheet.row = sheet.row, sheet.row + 1
    sheet.text(row, FIGURE, label)
    sheet.text(row, NAME, sheet.define(of.own(name), row, VALUE), "quiet")
    return row
