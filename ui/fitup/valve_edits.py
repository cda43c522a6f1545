"""Changes to the valves: cells set, valves laid out or taken out, locks; each gives the whole new list."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING, Any

from ui.entries import stored
from ui.fitup.valve_columns import LENGTHS

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping

    from loadbench.job.model import Job
    from loadbench.units import Style

Valves = tuple[dict[str, Any], ...]
Cell = tuple[int, str]  # the valve's place in the job, and a stated column

BETWEEN = re.compile(r"\s*[+;]\s*")
YES = ("yes", "y", "x", "1", "true", "locked", "\u2713")
LINE_STARTS = {"i": "intake", "e": "exhaust"}
NO_SHIMS = ("", "0", "none", "no shims", "\u2013", "-")
SIDES = (("I", "intake"), ("E", "exhaust"))


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
        valves[place][column] = entry(column, text.strip(), style)
    return tuple(valves)


def entry(column: str, text: str, style: Style) -> Any:
    """What the job keeps of a typed cell."""
    if column == "shims":
        return tuple(stored("valves.0.bare_height", part, style) for part in parts_of(text))
    if column == "locked":
        return True if text.lower() in YES else None
    if column == "line":
        return LINE_STARTS.get(text[:1].lower(), text or None)
    return stored(f"valves.0.{column}", text, style) if column in LENGTHS else text or None


def parts_of(text: str) -> list[str]:
    """The shims of a typed stack; "2 x 0.015" is two, also with the sign that is shown; "none" and a dash are none."""
    parts: list[str] = []
    for part in BETWEEN.split(text):
        found = re.fullmatch(r"([1-9])\s*[x\u00d7*]\s*(.+)", part)
        parts += [found[2]] * int(found[1]) if found else [part] if part.lower() not in NO_SHIMS else []
    return parts


def next_valve(valves: list[dict[str, Any]]) -> dict[str, Any]:
    """The valve after the last: "3I" is followed by "3E", "3E" by "4I"; a plain number by the next."""
    last = next((valve["id"] for valve in reversed(valves) if valve["id"]), "")
    found = re.fullmatch(r"(\d+)([IE])", last.upper())
    if found is not None:
        side, cylinder = ("E", int(found[1])) if found[2] == "I" else ("I", int(found[1]) + 1)
        return {"id": f"{cylinder}{side}", "line": LINE_STARTS[side.lower()]}
    figures = re.fullmatch(r"(.*?)(\d+)", last)
    name = f"{figures[1]}{int(figures[2]) + 1:0{len(figures[2])}d}" if figures else str(len(valves) + 1)
    return {"id": name}


def names_of(cylinders: int, each: int) -> list[tuple[str, str]]:
    """The valves of an engine as (name, line): 1I 1E 2I 2E; with four to a cylinder 1I1 1I2 1E1 1E2."""
    numbers = [str(number) for number in range(1, each // 2 + 1)] if each > 2 else [""]
    return [
        (f"{cylinder}{side}{number}", line)
        for cylinder in range(1, cylinders + 1)
        for side, line in SIDES
        for number in numbers
    ]


def laid_out(job: Job, cylinders: int, each: int) -> Valves:
    """The valves with those added that the engine has and the job does not name yet."""
    valves = [valve.model_dump() for valve in job.valves]
    known = {str(valve["id"]).upper() for valve in valves if valve["id"]}
    valves += [{"id": name, "line": line} for name, line in names_of(cylinders, each) if name not in known]
    return tuple(valves)


def without(job: Job, places: Iterable[int]) -> Valves:
    """The valves less some."""
    out = set(places)
    return tuple(valve.model_dump() for place, valve in enumerate(job.valves) if place not in out)


def with_locks(job: Job, places: Iterable[int], *, locked: bool) -> Valves:
    """The valves with some locked or free."""
    chosen = set(places)
    return tuple(
        {**valve.model_dump(), "locked": (locked or None) if place in chosen else valve.locked}
        for place, valve in enumerate(job.valves)
    )


def lockable(job: Job) -> list[int]:
    """The valves that have something to lock: a spring, or shims."""
    return [place for place, valve in enumerate(job.valves) if valve.spring or valve.shims]
