"""What is said about a printout beforehand: by a recipe, or by the user's corrections; it overrides what is guessed."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass
from enum import Enum
from typing import Final, TypeAlias

from loadbench.errors import Problem
from loadbench.readings.printout.cells import Decimal
from loadbench.readings.printout.meaning import Layout, Meaning
from loadbench.readings.printout.words import folded


class _Found(Enum):
    FOUND = "found"


FOUND: Final = _Found.FOUND
"""In place of a row's number: it is to be found."""

RowNumber: TypeAlias = int | _Found | None

_HEIGHTS = re.compile(r"[0-9]*[.,][0-9]+|[0-9]{2,}")


@dataclass(frozen=True, slots=True, kw_only=True)
class ColumnGuide:
    """What a column is said to hold; found by its header, else by its place (from 0).

    `height` is the height of a load column, m, `height_text` the same as typed, "" where it was not typed.
    """

    place: int | None
    header: str
    meaning: Meaning
    part: str = ""
    height: float | None = None
    height_text: str = ""
    unit: str | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Guidance:
    """What is said of the whole printout. `problems` tells what of it could not be used.

    `by_header`: columns are looked for by their headers, and rows count from where the header stood.
    """

    layout: Layout | None = None
    decimal: Decimal | None = None
    header_row: RowNumber = FOUND
    unit_row: RowNumber = FOUND
    first_row: RowNumber = FOUND
    columns: tuple[ColumnGuide, ...] = ()
    by_header: bool = False
    problems: tuple[Problem, ...] = ()

    @property
    def headers(self) -> tuple[str, ...]:
        """The headers that must be there."""
        kept = [guide.header for guide in self.columns if guide.meaning is not Meaning.NOTHING]
        return tuple(header for header in kept if header) if self.by_header else ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Matched:
    """Which guide belongs to which column, by place.

    `exact` are those whose header said the same to the letter, `missing` the guides without a column. `by_header`: a
    recipe said it, not the user before this very printout.
    """

    guides: dict[int, ColumnGuide]
    exact: frozenset[int]
    missing: tuple[ColumnGuide, ...]
    by_header: bool = False


def header_key(header: str) -> str:
    """A header as it is compared: without case, accents and surplus blanks."""
    return " ".join(folded(header).split())


def _loose(header: str) -> str:
    """The same without the heights in it: "load @ 1.900" is "load @ #"."""
    return _HEIGHTS.sub("#", header_key(header))


def matched(guides: Sequence[ColumnGuide], headers: Sequence[str], *, by_header: bool) -> Matched:
    """Find each guide's column.

    Args:
        guides: what is said of the columns.
        headers: what stands over the columns, by place.
        by_header: look by header first; False: by place alone.

    Returns:
        The guides by place. A header that differs only in the height that it names is found too, but not as exact.
    """
    found: dict[int, ColumnGuide] = {}
    exact: set[int] = set()
    left = list(guides)
    for key in (header_key, _loose) if by_header else ():
        places: dict[str, list[int]] = {}
        for place, header in enumerate(headers):
            if place not in found:
                places.setdefault(key(header), []).append(place)
        for guide in tuple(left):
            if guide.header and places.get(key(guide.header)):
                place = places[key(guide.header)].pop(0)
                found[place] = guide
                left.remove(guide)
                exact |= {place} if key is header_key else set()
    for guide in tuple(left):
        free = guide.place is not None and guide.place < len(headers) and guide.place not in found
        if free and guide.place is not None and (not by_header or not guide.header):
            found[guide.place] = guide
            exact.add(guide.place)
            left.remove(guide)
    missing = tuple(guide for guide in left if guide.meaning is not Meaning.NOTHING)
    return Matched(guides=found, exact=frozenset(exact), missing=missing, by_header=by_header)
