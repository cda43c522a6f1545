"""Changes to the numbered springs: cells set, springs and heights added or taken out; each gives the whole new list."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING, Any

from loadbench.errors import InputError
from loadbench.units import Kind, Style, with_unit
from ui.slip.columns import Column, places_of

if TYPE_CHECKING:
    from collections.abc import Mapping

    from loadbench.job.model import Job

Place = tuple[int, Column | str]  # row, and "id", "mark" or a column of loads
Springs = tuple[dict[str, Any], ...]


def with_cells(job: Job, cells: Mapping[Place, str], shown: Style, read: Style | None) -> Springs:
    """The springs with some cells set.

    Args:
        job: the job before.
        cells: texts by place; "" clears; rows past the end are added.
        shown: the units on show; bare loads get theirs from them.
        read: the units of the job's file, in which its bare numbers are read.

    Returns:
        The list for the job's "springs".
    """
    springs = [spring.model_dump() for spring in job.springs]
    last = max((row for row, _ in cells), default=-1)
    while len(springs) <= last:
        springs.append({"id": next_id([spring["id"] for spring in springs]), "readings": ()})
    columns = [places_of(spring.readings, read) for spring in job.springs]
    for row, where in cells:
        text = cells[row, where].strip()
        if isinstance(where, str):
            springs[row][where] = text or None
            continue
        known = columns[row] if row < len(columns) else []
        _set_load(springs[row], known, where, _stored(text, shown))
    for spring in springs:
        spring["readings"] = tuple(reading for reading in spring["readings"] if reading is not None)
    return tuple(springs)


def _stored(text: str, style: Style) -> str:
    try:
        return with_unit(text, Kind.FORCE, style)
    except InputError:
        return text  # kept as typed; the job marks it


def _set_load(spring: dict[str, Any], known: list[Column], column: Column, text: str) -> None:
    readings = list(spring["readings"])
    place = next((place for place, other in enumerate(known) if column.same(other)), None)
    if place is not None:
        readings[place] = {**readings[place], "load": text} if text else None
    elif text:
        reading = {"part": column.part or None, "height": column.entered, "load": text}
        readings.append({**reading, "direction": column.direction or None})
    spring["readings"] = tuple(readings)


def next_id(names: list[str | None]) -> str:
    """The number of the next spring: one more than the last, written alike ("S08": "S09")."""
    last = next((name for name in reversed(names) if name), None)
    if last is None:
        return str(len(names) + 1)
    found = re.fullmatch(r"(.*?)(\d+)", last)
    if found is None:
        return str(len(names) + 1)
    return f"{found[1]}{int(found[2]) + 1:0{len(found[2])}d}"


def without_springs(job: Job, rows: set[int]) -> Springs:
    """The springs less some."""
    return tuple(spring.model_dump() for row, spring in enumerate(job.springs) if row not in rows)


def without_column(job: Job, column: Column, read: Style | None) -> Springs:
    """The springs less their readings in one column; `read` as in `with_cells`."""
    springs = []
    for spring in job.springs:
        places = places_of(spring.readings, read)
        kept = tuple(r.model_dump() for r, place in zip(spring.readings, places, strict=True) if not place.same(column))
        springs.append({**spring.model_dump(), "readings": kept})
    return tuple(springs)
