"""From a printout's text to a grid of cells, by the separator that its lines agree on."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator

from loadbench.errors import Place, Problem, UnreadableFileError
from loadbench.readings.printout.blanks import blank_columns
from loadbench.readings.printout.cells import Grid, Row, Separator
from loadbench.readings.printout.quoting import Cells, delimited
from loadbench.readings.printout.sniffing import SIGNS, likely_separator
from loadbench.readings.printout.tokens import is_rule

MOST_ROWS = 100_000
MOST_COLUMNS = 200
MOST_LETTERS = 50_000
MOST_BLANK_LINES = 1_000_000
LINE_END = re.compile(r"\r\n?")
CONTROLS = re.compile(r"[\x00-\x08\x0b\x0e-\x1f\x7f\ud800-\udfff]")
STATED = re.compile(r"\s*\"?sep=(.)\"?\s*", re.IGNORECASE)


def grid_of_text(text: str, *, name: str = "", encoding: str = "", separator: Separator | None = None) -> Grid:
    """Split a printout's text into cells.

    Blank rows and rows of dashes are left out, and counted. A column that is empty to the last row and stands at the
    right edge is left out. A line end within a quoted cell becomes a blank.

    Args:
        text: as it was decoded or pasted, any line ends.
        name: the file's label.
        encoding: the codec's name.
        separator: None: the one that the lines agree on.

    Returns:
        The grid; without rows where the text holds nothing.

    Raises:
        UnreadableFileError: more rows or columns than any printout has.
    """
    whole = LINE_END.sub("\n", text).replace("\x0c", "\n")
    whole = CONTROLS.sub("", whole) if CONTROLS.search(whole) else whole
    if whole.count("\n") > MOST_BLANK_LINES:
        raise too_many(f"{whole.count(chr(10)):,} lines", name)
    lines = whole.split("\n")
    if max(map(len, lines)) > MOST_LETTERS:
        row = next(row for row, line in enumerate(lines, 1) if len(line) > MOST_LETTERS)
        raise too_many(f"{len(lines[row - 1]):,} characters in one line", name, row)
    stated = STATED.fullmatch(lines[0]) if separator is None else None
    if stated and (found := next((one for one, sign in SIGNS.items() if sign == stated[1]), None)):
        separator, lines[0] = found, ""
    if separator is None:
        separator = likely_separator([line for line in lines if line and not line.isspace()])
    rows = tuple(_limited(_rows(lines, separator), name))
    return Grid(rows=rows, text=text, name=name, encoding=encoding, separator=separator)


def rows_of_cells(numbered: Iterable[Cells], *, edged: bool = False) -> Iterator[Row]:
    """The rows of a table whose cells are known, without the blank rows, the rules and empty columns at the right.

    Args:
        numbered: number of each row, from 1, and its cells, stripped.
        edged: whether an empty first column is the table's frame.

    Yields:
        The rows; the columns count from 1.
    """
    kept = [(number, cells) for number, cells in numbered if any(cells) and not is_rule(cells)]
    left = int(edged and len(kept) > 0 and all(not cells[0] for _, cells in kept if len(cells) > 1))
    right = max((len(cells) if cells[-1] else _used(cells) for _, cells in kept), default=0)
    places: dict[int, tuple[int, ...]] = {}
    for number, cells in kept:
        start = left if len(cells) > 1 else 0
        shown = tuple(cells[start:right])
        columns = places.setdefault(len(shown), tuple(range(1, len(shown) + 1)))
        yield Row(number=number, cells=shown, columns=columns)


def too_many(what: str, name: str, row: int | None = None) -> UnreadableFileError:
    """The refusal of a table that is larger than any printout.

    Args:
        what: how many of what there are.
        name: the file's label.
        row: where.
    """
    expected = f"a printout of at most {MOST_ROWS:,} rows and {MOST_COLUMNS} columns"
    return UnreadableFileError(
        (Problem(what=f"There are {what}.", expected=expected, place=Place(file=name or None, row=row)),)
    )


def _limited(rows: Iterable[Row], name: str) -> Iterator[Row]:
    for count, row in enumerate(rows):
        if len(row.cells) > MOST_COLUMNS:
            raise too_many(f"{len(row.cells):,} columns", name, row.number)
        if count == MOST_ROWS:
            raise too_many(f"more than {MOST_ROWS:,} rows", name)
        yield row


def _rows(lines: list[str], separator: Separator) -> Iterable[Row]:
    if separator is Separator.BLANKS:
        kept = [(number, line) for number, line in enumerate(lines, 1) if line and not line.isspace()]
        return blank_columns([one for one in kept if not is_rule([one[1].strip()])])
    return rows_of_cells(delimited(lines, SIGNS[separator]), edged=separator is Separator.BAR)


def _used(cells: list[str]) -> int:
    return next(place for place in range(len(cells), 0, -1) if cells[place - 1])
