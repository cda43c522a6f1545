"""Tables on the clipboard: text from a spreadsheet to rows of cells, and back."""

from __future__ import annotations

import csv
import io
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

MOST_CELLS = 20_000
"""More than any slip has; the rest of a larger clipboard is left."""


def _delimiter(text: str) -> str:
    """The sign between the cells: tab, else semicolon, else a comma where commas cannot be decimal ones."""
    if "\t" in text:
        return "\t"
    if ";" in text:
        return ";"
    quoted = '","' in text
    return "," if "," in text and (quoted or "." in text or ", " in text) else "\t"


def cells_of(text: str) -> list[list[str]]:
    """Rows of cells from tab, semicolon or comma separated text.

    Args:
        text: from the clipboard; quotes hold tabs and line ends, a trailing newline adds no row.

    Returns:
        The cells without outer blanks; rows may differ in length; blank rows within the block are kept.
    """
    plain = text.replace("\r\n", "\n").replace("\r", "\n").strip("\n").replace("\0", "")
    if not plain:
        return []
    rows: list[list[str]] = []
    count = 0
    for row in csv.reader(io.StringIO(plain), delimiter=_delimiter(plain), skipinitialspace=True):
        count += len(row)
        if count > MOST_CELLS:
            break
        rows.append([" ".join(cell.split()) for cell in row])
    return rows


def text_of(rows: Iterable[Sequence[str]]) -> str:
    """Rows of cells as tab separated text, quoted where a cell needs it."""
    out = io.StringIO()
    csv.writer(out, dialect="excel-tab", lineterminator="\n").writerows(rows)
    return out.getvalue()
