"""A printout as a grid of cells, whatever file it came from: text or a sheet of a workbook."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum


class Separator(StrEnum):
    """What stands between the columns."""

    COMMA = "comma"
    SEMICOLON = "semicolon"
    TAB = "tab"
    BAR = "bar"
    BLANKS = "blanks"


class Decimal(StrEnum):
    """What stands before the decimals."""

    POINT = "point"
    COMMA = "comma"


@dataclass(frozen=True, slots=True, kw_only=True)
class Row:
    """One row that is not blank: where it stood (from 1), and its cells as text, stripped.

    `columns` is where each cell stood (from 1): the column of the table, or the character for columns of blanks.
    """

    number: int
    cells: tuple[str, ...]
    columns: tuple[int, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Grid:
    """The cells of one printout.

    `name` is the file's label. `text` is the original as it came (a workbook's cells with tabs between and a line a
    row), so that it can be kept and read again. `encoding` is a codec's name, "" for pasted text and workbooks.
    `separator` is None for a workbook. `sheets` names a workbook's sheets, `sheet` the one that was read.
    """

    rows: tuple[Row, ...]
    text: str
    name: str = ""
    encoding: str = ""
    separator: Separator | None = None
    sheet: str | None = None
    sheets: tuple[str, ...] = ()

    @property
    def width(self) -> int:
        """The most cells in a row."""
        return max((len(row.cells) for row in self.rows), default=0)
