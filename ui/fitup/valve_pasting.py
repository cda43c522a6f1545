"""A block from a spreadsheet read as valves: by its heads where it has some, else as it lies on the grid."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from ui.fitup.valve_columns import STATED, column_named

if TYPE_CHECKING:
    from collections.abc import Sequence

    from ui.fitup.valve_edits import Cell


@dataclass(frozen=True, slots=True)
class Pasted:
    """The cells of a block, and how many of its filled cells found no place."""

    cells: dict[Cell, str]
    left_out: int


def pasted(block: list[list[str]], left: int, rows: Sequence[int], names: Sequence[str], count: int) -> Pasted:
    """Read a block.

    Args:
        block: rows of text.
        left: the column of the current cell, in the grid.
        rows: the valves from the current one down, by their place in the job.
        names: the valves' names by place in the job.
        count: how many valves the job has; what lies past them becomes new ones.

    Returns:
        With heads, each row goes to the valve that it names; else to the rows as they stand.
    """
    heads = [column_named(cell) for cell in block[0]] if len(block) > 1 else []
    if not any(heads):
        across = [STATED[place] if place < len(STATED) else "" for place in range(left, left + max(map(len, block)))]
        return _placed(block, across, list(rows), count)
    targets = [column or "" for column in heads]
    return _placed(block[1:], targets, _rows_named(block[1:], targets, rows, names, count), count)


def _rows_named(
    lines: list[list[str]], targets: list[str], rows: Sequence[int], names: Sequence[str], count: int
) -> list[int]:
    if "id" not in targets:
        return list(rows)
    known = {name.upper(): place for place, name in enumerate(names)}
    column, found = targets.index("id"), list[int]()
    for line in lines:
        name = line[column].upper() if column < len(line) else ""
        place = known.get(name)
        if place is None:
            place, count = count, count + any(line)
            known |= {name: place} if name else {}
        found.append(place)
    return found


def _placed(lines: list[list[str]], targets: list[str], rows: list[int], count: int) -> Pasted:
    cells: dict[Cell, str] = {}
    out, beyond = 0, count
    for down, line in enumerate(lines):
        filled = {target: text for target, text in zip(targets, line, strict=False) if target}
        out += sum(bool(text) for target, text in zip(targets, line, strict=False) if not target)
        if not any(filled.values()):
            continue  # a blank row changes nothing and makes no valve
        if down < len(rows):
            place = rows[down]
        else:
            place, beyond = beyond, beyond + 1
        cells.update({(place, column): text for column, text in filled.items()})
    return Pasted(cells, out)
