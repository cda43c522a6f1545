"""The sheet Before it goes in: the check list of the chosen family, with room for initials."""

from __future__ import annotations

from collections.abc import Sequence

from loadbench.findings.check_items import CheckItem
from loadbench.report.book.paper import Book

COLUMNS = (("Part", 15), ("What to do or look at", 55), ("What this job says", 40), ("Source", 16), ("Initials", 10),
         ("Date", 12))  # fmt: skip
FIRST = "The part maker's sheet comes first; where it differs, it holds."


def write_check_list(book: Book, items: Sequence[CheckItem]) -> None:
    """Write the sheet; nothing without items.

    Args:
        book: the workbook.
        items: of the chosen family.
    """
    if not items:
        return
    sheet = book.sheet("Before it goes in", COLUMNS)
    for item in items:
        row, sheet.row = sheet.row, sheet.row + 1
        found = "" if item.found is None else item.found.told(book.style)
        said = f"{item.level}: {found}" if item.level is not None and found else found
        sheet.texts(row, (item.group, item.sentence.told(book.style), said))
        sheet.text(row, 3, item.source, "quiet")
        sheet.text(row, 4, item.initials, "input")
        sheet.text(row, 5, item.date, "input")
        for column, text in ((4, item.initials), (5, item.date)):
            if not text:
                sheet.blanks(row, column, column, "input")
    sheet.row += 1
    sheet.text(sheet.row, 0, FIRST, "note")
