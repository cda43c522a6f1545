"""Lines split at a sign, with cells in quotes that may hold the sign and line ends."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from itertools import chain

# No line of a text holds it: its coming back as the last row shows that every quoted cell was closed.
END = "\x1e"

Cells = tuple[int, list[str]]


def delimited(lines: Sequence[str], sign: str) -> Iterable[Cells]:
    """Split lines at a sign, with quoted cells as comma-separated values have them.

    Quotes that don't close, or a cell over several lines in a text whose quotes are not as they should be, are taken
    for letters (an inch mark, a ditto).

    Args:
        lines: without line ends, none left out.
        sign: one character.

    Returns:
        The number of the line that each row begins on, from 1, and its cells, stripped.
    """
    if '"' not in "".join(lines):
        return ((number, [cell.strip() for cell in line.split(sign)]) for number, line in enumerate(lines, 1))
    for strict in (True, False):
        found = _quoted(lines, sign, strict=strict)
        # A cell that runs over lines is believed only where all quotes are as they should be.
        if found is not None and (strict or all("\n" not in cell for _, cells in found for cell in cells)):
            return ((number, [_one_line(cell) for cell in cells]) for number, cells in found)
    return ((number, [_unquoted(cell) for cell in line.split(sign)]) for number, line in enumerate(lines, 1))


def _quoted(lines: Sequence[str], sign: str, *, strict: bool) -> list[Cells] | None:
    """The rows with quoted cells joined; None where a quote is left open or, if strict, stands within a cell."""
    import csv

    source = chain((f"{line}\n" for line in lines), (END,))
    reader = csv.reader(source, delimiter=sign, skipinitialspace=True, strict=strict)
    found: list[Cells] = []
    number = 1
    try:
        for cells in reader:
            found.append((number, cells))
            number = reader.line_num + 1
    except csv.Error:
        return None
    return found[:-1] if found[-1][1] == [END] else None


def _one_line(cell: str) -> str:
    return cell.strip() if "\n" not in cell else " ".join(part.strip() for part in cell.split("\n") if part.strip())


def _unquoted(cell: str) -> str:
    cell = cell.strip()
    inner = cell[1:-1]
    return inner.strip() if len(cell) > 1 and cell[0] == cell[-1] == '"' and '"' not in inner else cell
