"""The sheet Printout: the text of each printout as it came, line by line; nothing in it becomes a formula."""

from __future__ import annotations

from collections.abc import Iterator

from loadbench.analysis import Analysis
from loadbench.job.kept_parts import Printout
from loadbench.job.parts import Record
from loadbench.report.book.letters import height_of
from loadbench.report.book.paper import Book, Sheet

NAME = "Printout"
PRINTOUT, LINE, TEXT = range(3)
MOST_ROWS = 200_000
"""Of all printouts together; what is longer is told, not written."""
WIDTH, CELL_WIDTH = 104.0, 14.0
MOST_CELLS = 16
"""Of a line that tabs divide; the last takes what is left."""
LETTERS_IN_A_WIDTH = 0.8
MOST_LETTERS = 500
"""Of a cell: a row with so much still prints whole, and a spreadsheet's limit on a cell is far."""
RECORDED = {
    "measured_by": "measured by", "date": "date", "tester": "tester", "tester_serial": "serial",
    "calibrated_on": "calibrated on", "engine": "engine", "hours": "hours", "passes": "passes",
}  # fmt: skip


def write_printouts(book: Book, analysis: Analysis) -> None:
    """Write the sheet, where the job keeps a printout.

    Args:
        book: the workbook.
        analysis: of the job.
    """
    kept = [printout for printout in analysis.job.printouts if printout.text]
    if not kept:
        return
    most = min(MOST_CELLS, max(line.count("\t") + 1 for each in kept for line in lines_of(each.text or "")))
    first = WIDTH if most == 1 else 2 * CELL_WIDTH
    cells = [(f"Cell {place}", CELL_WIDTH) for place in range(2, most + 1)]
    sheet = book.sheet(NAME, (("Printout", 18), ("Line", 7), ("Text as it came", first), *cells))
    for place, printout in enumerate(kept):
        name = printout.name or f"printout {place + 1}"
        sheet.text(sheet.row, PRINTOUT, name)
        sheet.text(sheet.row, TEXT, about(printout), "note")
        sheet.row += 1
        _write_lines(sheet, name, printout.text or "", most)


def about(printout: Printout) -> str:
    """What is known of a printout, in words."""
    named = (("sheet", printout.sheet), ("read by", printout.recipe))
    parts = [f"{label} {value}" for label, value in named if value]
    parts += [f"{label} {value}" for name, label in RECORDED.items() if (value := _entry(printout.record, name))]
    return "; ".join(parts) or "nothing recorded"


def _entry(record: Record, name: str) -> str:
    value = getattr(record, name)
    return f"{value:g}" if isinstance(value, float) else str(value or "")


def lines_of(text: str) -> list[str]:
    """The lines of a text, whatever ends them."""
    return text.replace("\r\n", "\n").replace("\r", "\n").removesuffix("\n").split("\n")


def _write_lines(sheet: Sheet, name: str, text: str, most: int) -> None:
    lines = lines_of(text)
    for number, line in enumerate(lines, 1):
        if sheet.row >= MOST_ROWS:
            sheet.text(sheet.row, TEXT, f"{len(lines) - number + 1} more lines of {name} stand in the job.", "aside")
            sheet.row += 1
            return
        cells = line.split("\t", most - 1)
        whole = all(len(cell) <= MOST_LETTERS for cell in cells)
        for piece in (cells,) if whole else ([piece] for piece in pieces(line)):
            row, sheet.row = sheet.row, sheet.row + 1
            sheet.number(row, LINE, float(number), "0")
            for column, cell in enumerate(piece, TEXT):
                _write_cell(sheet, row, column, cell)


def _write_cell(sheet: Sheet, row: int, column: int, text: str) -> None:
    sheet.text(row, column, text, "as it came")
    letters = int(LETTERS_IN_A_WIDTH * sheet.widths[column])
    if len(text) > letters:
        sheet.make_room(row, height_of(-(-len(text) // letters)))


def pieces(line: str) -> Iterator[str]:
    """A line in pieces that a cell holds; most lines are one.

    Args:
        line: any text.

    Yields:
        Its pieces in order; together they are the line.
    """
    yield from (line[start : start + MOST_LETTERS] for start in range(0, max(len(line), 1), MOST_LETTERS))
