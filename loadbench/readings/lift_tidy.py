"""What people put into lift tables besides numbers: dashes for minus, remarks among the rows, shares of a unit."""

from __future__ import annotations

import decimal
import re
from dataclasses import replace

from loadbench.readings import lift_columns as c
from loadbench.readings.printout.cells import Decimal, Grid
from loadbench.readings.printout.numbers_in import plain_number

DASHED = re.compile(r"[\u2010-\u2015]\s*(?=[\d.,])")
REMARK = re.compile(r"//|[%!;]|#(?!REF|N/A|VALUE|DIV|NAME|NULL|NUM)")
WORD = re.compile(r"[^\W\d_]{3,}")
UNIT = r"(?P<{}>inches|inch|in\b|\"|''|mm\b|cm\b|m\b)"
SHARE = r"(?:0?[.,](?P<zeros>0*)1|1\s?/\s?(?P<over>10+)|(?P<words>hundredths?|thousandths?)(?:\s+of(?:\s+an?)?)?)"
SHARES = (
    re.compile(rf"(?<![\d.,/]){SHARE}\s*{UNIT.format('unit')}", re.IGNORECASE),
    re.compile(rf"{UNIT.format('unit')}\s*[x\u00d7*/]\s*(?P<over>10+)\b", re.IGNORECASE),
)
OWN = {("in", 3): "thou", ("mm", 3): "\u00b5m"}
"""Shares of a unit that have a name of their own."""


def with_minus(grid: Grid) -> Grid:
    """A grid in which a dash that a program put before a number is the minus that it means.

    Args:
        grid: its cells.

    Returns:
        The same grid where there is none.
    """
    if not any(DASHED.match(cell) for row in grid.rows for cell in row.cells):
        return grid
    rows = tuple(
        replace(row, cells=tuple(DASHED.sub("-", cell, count=1) if DASHED.match(cell) else cell for cell in row.cells))
        for row in grid.rows
    )
    return replace(grid, rows=rows)


def without_remarks(parts: c.Parts) -> c.Parts:
    """The parts of a grid with the rows that are remarks set aside: behind a sign for remarks, or beneath the table.

    Args:
        parts: of the grid.

    Returns:
        Its rows without them; a row beneath the table is one where it begins with a word.
    """
    body = list(parts.body)
    remarks = [row for row in body if REMARK.match(next(filter(None, row.cells), ""))]
    body = [row for row in body if row not in remarks]
    while body and WORD.match(next(filter(None, body[-1].cells), "")):
        remarks.append(body.pop())
    aside = sorted((*parts.aside, *remarks), key=lambda row: row.number)
    return replace(parts, body=tuple(body), aside=tuple(aside)) if remarks and body else parts


def share_of(header: str) -> tuple[str, int] | None:
    """A share of a unit that a header names, such as 0.001 in, 1/100 mm or in x 1000.

    Args:
        header: of the column of lifts.

    Returns:
        The unit, and by how many decimal places a number is to be moved to be in it; None for none. A header that
        names a plain unit besides means something else by it, such as what the gauge can tell.
    """
    for form in SHARES:
        if (found := form.search(header)) is None:
            continue
        if c.length_unit(header.replace(found[0], " ")):
            return None
        said = found.groupdict()
        if said.get("words"):
            places = 3 if said["words"].casefold().startswith("t") else 2
        else:
            places = len(said["over"]) - 1 if said.get("over") else len(said["zeros"]) + 1
        unit = said["unit"].casefold()
        unit = "in" if unit in ("inches", "inch", '"', "''") else unit
        own = OWN.get((unit, places))
        return (own, 0) if own else (unit, places)
    return None


def moved(text: str, mark: Decimal, places: int) -> str:
    """A bare number with its decimal point moved to the left; anything else as it is.

    Args:
        text: the cell.
        mark: what stands before its decimals.
        places: how far.

    Returns:
        The number with a point, or with a comma where that is the mark.
    """
    found = plain_number(text, mark)
    if not places or found is None or found[1]:
        return text
    shifted = format(decimal.Decimal(found[0]).scaleb(-places), "f")
    return shifted.replace(".", ",") if mark is Decimal.COMMA else shifted
