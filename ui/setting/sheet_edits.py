"""Changes to the valves from the worksheet, each as the whole new list; and a pasted block read as such changes."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from ui.entries import stored
from ui.fitup.valve_edits import Valves, next_valve
from ui.setting.sheet_columns import MEASURED, STATED, column_named

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    from loadbench.job.model import Job
    from loadbench.units import Style

Cell = tuple[int, str]
"""The valve's place in the job, and a stated column."""


def with_cells(job: Job, cells: Mapping[Cell, str], style: Style) -> Valves:
    """The valves with some cells set.

    Args:
        job: the job before.
        cells: texts by place; "" clears; places past the end are added as further valves.
        style: the units on show; bare lengths get theirs from them.

    Returns:
        The list for the job's "valves". What cannot be read is kept as typed, and the job marks it.
    """
    valves = [valve.model_dump() for valve in job.valves]
    last = max((place for place, _ in cells), default=-1)
    while len(valves) <= last:
        valves.append(next_valve(valves))
    for (place, column), text in cells.items():
        plain = text.strip()
        measured = column in MEASURED
        valves[place][column] = stored(f"valves.0.{column}", plain, style) if measured else plain or None
    return tuple(valves)


@dataclass(frozen=True, slots=True)
class Pasted:
    """The cells of a block, and how many of its filled cells found no place."""

    cells: dict[Cell, str]
    left_out: int


def pasted(block: list[list[str]], across: Sequence[str], rows: Sequence[int], names: Sequence[str]) -> Pasted:
    """Read a block from a spreadsheet.

    Args:
        block: rows of text.
        across: the columns on show from the current one to the right.
        rows: the valves on show from the current one down, by their place in the job.
        names: the valves' names by place in the job; what lies past them becomes new ones.

    Returns:
        With heads, each row goes to the valve that it names; else to the rows as they stand.
    """
    heads = [column_named(cell) for cell in block[0]] if len(block) > 1 else []
    if any(heads):
        targets, lines = [column or "" for column in heads], block[1:]
    else:
        targets, lines = [column if column in STATED else "" for column in across], block
    places = _places(lines, targets, rows, names)
    cells: dict[Cell, str] = {}
    out = 0
    for place, line in zip(places, lines, strict=True):
        padded = [*targets, *([""] * len(line))]
        out += sum(bool(text) for target, text in zip(padded, line, strict=False) if not target)
        filled = {target: text for target, text in zip(targets, line, strict=False) if target}
        if any(filled.values()):  # a blank row changes nothing and makes no valve
            cells |= {(place, column): text for column, text in filled.items()}
    return Pasted(cells, out)


def _places(lines: list[list[str]], targets: list[str], rows: Sequence[int], names: Sequence[str]) -> list[int]:
    """The valve of each line: by its name where there is one, else the next on show; then new ones."""
    known = {name.upper(): place for place, name in enumerate(names) if name}
    column = targets.index("id") if "id" in targets and len(lines[0]) > targets.index("id") else None
    free, beyond, found = list(rows), len(names), list[int]()
    for line in lines:
        name = line[column].upper() if column is not None and column < len(line) else ""
        place = known.get(name) if name else free.pop(0) if column is None and free else None
        if place is None:
            place, beyond = beyond, beyond + any(line)
            known |= {name: place} if name else {}
        found.append(place)
    return found
