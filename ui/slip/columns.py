"""The columns of the slip: one for each part, direction and height that a numbered spring was read at."""

from __future__ import annotations

import re
from collections import Counter
from dataclasses import dataclass, replace
from functools import lru_cache
from typing import TYPE_CHECKING

from loadbench.errors import InputError
from loadbench.job.checks import SAME_HEIGHT
from loadbench.units import Kind, Style, parse, tell

if TYPE_CHECKING:
    from loadbench.job.parts import Reading
    from loadbench.job.stated import Stated

MOST_HEIGHTS = 10
"""The most heights of one part: more than any bench takes."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Column:
    """Where a reading belongs; `entered` is the height as typed, `height` in m where it could be read."""

    part: str = ""
    direction: str = ""
    entered: str
    height: float | None = None
    repeat: int = 0

    def same(self, other: Column) -> bool:
        """Whether two columns are one."""
        alike = (self.part.lower(), self.direction, self.repeat) == (other.part.lower(), other.direction, other.repeat)
        if self.height is None or other.height is None:
            return alike and self.height is other.height and self.entered == other.entered
        return alike and abs(self.height - other.height) <= SAME_HEIGHT

    def head(self, style: Style) -> str:
        """The column's head, without the unit of its loads: part, height, direction, each on its line."""
        told = self.entered
        if self.height is not None:
            shown = tell(self.height, Kind.LENGTH, style)
            told = self.entered if self.entered.endswith(f" {shown.unit}") else f"{shown.number} {shown.unit}"
        again = f"({self.repeat + 1})" if self.repeat else ""
        return "\n".join(filter(None, [self.part, " ".join(filter(None, [told, again])), self.direction]))


def column_of(reading: Reading, style: Style | None) -> Column:
    """The column of a reading, as if it were the first of its height."""
    return _column(reading.part or "", reading.direction or "", reading.height or "", style)


@lru_cache(maxsize=1024)
def _column(part: str, direction: str, entered: str, style: Style | None) -> Column:
    return Column(part=part.strip(), direction=direction, entered=entered, height=height_of(entered, style))


def height_of(entered: str, style: Style | None) -> float | None:
    """A typed height in m; None where it cannot be read."""
    try:
        return parse(entered, Kind.LENGTH, style).value
    except InputError:
        return None


def places_of(readings: tuple[Reading, ...], style: Style | None) -> list[Column]:
    """The column of each reading of one spring, repeats at one height apart."""
    seen: list[Column] = []
    for reading in readings:
        column = column_of(reading, style)
        again = sum(column.same(other if not other.repeat else replace(other, repeat=0)) for other in seen)
        seen.append(replace(column, repeat=again) if again else column)
    return seen


def columns_of(stated: Stated, extra: tuple[Column, ...]) -> tuple[Column, ...]:
    """Every column of the slip.

    Args:
        stated: the job's values.
        extra: columns without a reading yet.

    Returns:
        By part in the order of their first reading, loading before unloading, tall before short.
    """
    found: list[Column] = []
    by_entry: set[tuple[str, str, str, int]] = set()
    for spring in stated.job.springs:
        for column in places_of(spring.readings, stated.style):
            key = (column.part.lower(), column.direction, column.entered, column.repeat)
            if key not in by_entry:
                by_entry.add(key)
                _add(found, column)
    for column in extra:
        _add(found, column)
    parts = list(dict.fromkeys(column.part.lower() for column in found))
    return tuple(sorted(found, key=lambda c: (parts.index(c.part.lower()), c.direction, -(c.height or 0.0), c.repeat)))


def _add(found: list[Column], column: Column) -> None:
    if not any(column.same(other) for other in found):
        found.append(column)


def room_for(columns: tuple[Column, ...], part: str) -> bool:
    """Whether a part may have another height."""
    return Counter(column.part.lower() for column in columns)[part.lower()] < MOST_HEIGHTS


_HEAD = re.compile(
    r"^(?:(?P<part>[^\W\d][^\d]*?)\s+)?(?P<height>[\d][\d.,/ ½¼¾-]*\s*(?P<unit>in|inch|inches|\"|mm|cm|thou)?)"
    r"(?:\s+(?P<way>loading|unloading))?(?:\s+\((?P<again>\d)\))?(?P<load>,?\s*\(?(?:lbf?|#|n|kgf?)\)?)?$",
    re.IGNORECASE,
)


def column_in(head: str, style: Style) -> Column | None:
    """The column that a head from a spreadsheet names, "outer 1.900 in" or "1.900"; None where it names no height."""
    found = _HEAD.match(head.strip())
    if found is None or (found["load"] and not found["unit"]):
        return None  # "1.900 kg" is a load
    entered = found["height"].strip()
    height = height_of(entered, style)
    if height is None:
        return None
    bare = parse(entered, Kind.LENGTH, style).bare
    unit = " in" if style is Style.INCH_POUND else " mm"
    part = (found["part"] or "").strip()
    part = "" if part.lower() in ("height", "load", "at", "load at") else part
    again = int(found["again"] or 1) - 1
    way = (found["way"] or "").lower()
    return Column(part=part, direction=way, entered=entered + (unit if bare else ""), height=height, repeat=again)
