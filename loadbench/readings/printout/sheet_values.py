"""What a workbook's cells hold, as text; run as a program of its own, which can be stopped at any moment.

    python -m loadbench.readings.printout.sheet_values FILE [SHEET]

writes lines of JSON: {"share": 0.1} as it goes, and at the end {"sheets", "sheet", "rows"} or {"refused", "sheets"}.
"""

from __future__ import annotations

import json
import re
import sys
import warnings
import zipfile
from collections.abc import Iterator
from datetime import date, datetime, time
from decimal import Decimal
from html import unescape
from typing import TYPE_CHECKING, Any

from loadbench.readings.printout.sniffing import is_number

if TYPE_CHECKING:
    from openpyxl.workbook import Workbook

MOST_ROWS = 100_000
MOST_COLUMNS = 200
ROWS_A_STEP = 2000
MOST_LOOKED_AT = 1000
LAST_ROW = 1_048_576
UNREADABLE = re.compile(r"[\x00-\x08\x0b\x0c\x0e-\x1f\x7f\ud800-\udfff]")
# A formula whose result was never worked out: no value after it. An empty text for a result is <v></v>.
FORMULA = re.compile(rb"<c\b([^<>]*)>\s*<f\b[^<>]*?(?:/>|>([^<]*)</f>)\s*(?:<v\s*/>)?\s*</c>")
CELL = re.compile(rb'\br="([A-Z]{1,3})([0-9]{1,7})"')

Table = list[tuple[int, list[str]]]


def text_of(value: object) -> str:
    """A cell's value as its shortest text: numbers with 15 digits at most, days and times as ISO 8601 has them."""
    if value is None or isinstance(value, bool):
        return "" if value is None else str(value).upper()
    if isinstance(value, float):
        short = f"{value:.15g}"
        return format(Decimal(short), "f") if 1e-9 < abs(value) < 1e15 else short
    if isinstance(value, datetime):
        return value.date().isoformat() if value.time() == time(0) else value.isoformat(timespec="seconds")
    told = value.isoformat() if isinstance(value, date | time) else str(value)
    return " ".join(UNREADABLE.sub("", told).split())


def sheet_values(path: str, wanted: str | None) -> dict[str, Any]:
    """The cells of one sheet of a workbook that was looked over before.

    Args:
        path: the workbook.
        wanted: the sheet's name; None: the first that holds a row with two numbers, else one with a number, else
            with anything; hidden sheets last.

    Returns:
        `sheets`, `sheet` and `rows` (number from 1, texts), or `refused` with what is wrong: "sheet", "rows",
        "columns", with `row` where.
    """
    import openpyxl

    book = openpyxl.load_workbook(path, read_only=True, data_only=True, keep_links=False)
    names = [sheet.title for sheet in book.worksheets]
    if wanted is not None and wanted not in names:
        return {"refused": "sheet", "sheets": names}
    best: tuple[int, str, Table] = (-1, "", [])
    try:
        for name in [wanted] if wanted is not None else _by_sight(book):
            table = list(_table(book, path, name))
            rank = _rank(table)
            best = max(best, (rank, name, table), key=lambda one: one[0])
            if rank == 3:
                break
    except _TooManyError as error:
        return {"refused": error.args[0], "row": error.args[1], "sheet": error.args[2], "sheets": names}
    return {"sheets": names, "sheet": best[1], "rows": best[2]}


class _TooManyError(Exception):
    """More rows or columns than any printout has: which, the row, the sheet."""


def _by_sight(book: Workbook) -> list[str]:
    return [sheet.title for sheet in sorted(book.worksheets, key=lambda sheet: sheet.sheet_state != "visible")]


def _rank(table: Table) -> int:
    """3 for a sheet with a row of two numbers, 2 for one with a number, 1 for one with anything, 0 for a blank one."""
    counts = [sum(map(is_number, cells[:MOST_COLUMNS])) for _, cells in table[:MOST_LOOKED_AT]]
    return min(max(counts, default=-1), 2) + 1


def _table(book: Workbook, path: str, name: str) -> Iterator[tuple[int, list[str]]]:
    sheet: Any = book[name]
    # What the sheet states of its size may be wrong, or huge.
    sheet.reset_dimensions()
    unsolved = _unsolved(path, sheet)
    for number, values in enumerate(sheet.iter_rows(values_only=True), 1):
        if number % ROWS_A_STEP == 0:
            _say({"share": min(0.95, number / MOST_ROWS)})
        cells = [text_of(value) for value in values]
        for column in unsolved.get(number, ()):
            cells += [""] * (column + 1 - len(cells))
            cells[column] = cells[column] or unsolved[number][column]
        while cells and not cells[-1]:
            cells.pop()
        if (cells and (number > MOST_ROWS or len(cells) > MOST_COLUMNS)) or number > LAST_ROW:
            raise _TooManyError("rows" if number > MOST_ROWS else "columns", number, name)
        if cells:
            yield number, cells


def _unsolved(path: str, sheet: Any) -> dict[int, dict[int, str]]:
    """Formulas without a stored result, so that none is lost unseen: by row, from 1, and column, from 0."""
    from openpyxl.utils import column_index_from_string

    found: dict[int, dict[int, str]] = {}
    with zipfile.ZipFile(path) as archive:
        source = archive.read(sheet._worksheet_path)  # noqa: SLF001
    for attributes, formula in FORMULA.findall(source) if b"<f" in source else ():
        place = CELL.search(attributes)
        if place is not None and b't="str"' not in attributes:
            column = column_index_from_string(place[1].decode()) - 1
            found.setdefault(int(place[2]), {})[column] = f"={unescape(formula.decode('utf-8', 'replace'))}"
    return found


def _say(message: dict[str, Any]) -> None:
    sys.stdout.write(json.dumps(message) + "\n")
    sys.stdout.flush()


if __name__ == "__main__":
    warnings.simplefilter("ignore")
    # Without it the workbook reader starts 0.1 s sooner, and reads the same.
    sys.modules["numpy"] = None  # type: ignore[assignment]
    _say(sheet_values(sys.argv[1], sys.argv[2] if len(sys.argv) > 2 else None))
