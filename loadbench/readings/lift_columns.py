"""Which rows and columns of a lift table are angles and lifts, by header words and by the numbers themselves."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass

from loadbench.readings.printout.cells import Decimal, Grid, Row
from loadbench.readings.printout.headers import read_header
from loadbench.readings.printout.numbers_in import plain_number
from loadbench.readings.printout.words import folded
from loadbench.units import Kind
from loadbench.units.table import WORDS, unit_key

CRANK = frozenset(("crank", "crankshaft", "kurbel", "kurbelwelle", "kurbelwinkel"))
CAM = frozenset(("cam", "camshaft", "nocken", "nockenwelle", "nockenwinkel"))
ANGLE = frozenset(("angle", "winkel", "kurbelwinkel", "nockenwinkel", "rotation", "theta"))
DEGREES = frozenset(("deg", "degs", "degree", "degrees", "grad", "rad", "rads", "radian", "radians", "°"))
LIFT = frozenset(("lift", "rise", "hub", "ventilhub", "nockenhub", "erhebung", "displacement", "indicator", "gauge"))
LOBE = frozenset(("lobe", "tappet", "follower", "lifter", "nockenhub"))
VALVE = frozenset(("valve", "retainer", "ventil", "ventilhub"))
MOTION = frozenset(("velocity", "vel", "speed", "acceleration", "accel", "acc", "jerk", "radius", "curvature", "slope"))
NUMBERING = frozenset(("no", "nr", "number", "point", "index", "row", "#", "remark"))
OTHER = MOTION | {"error", "residual", "difference", "area", "load", "force", "per", "/"}
SIGN_OR_WORD = re.compile(r"[^\W\d_]+|[°#/]")
MOST_HEADERS = 3
"""Header rows next to the table that name its columns; those above are titles."""
SHARE = 0.6
"""Rows with a number from which a column is one of numbers."""
LONGEST_WORD = 16


@dataclass(frozen=True, slots=True, kw_only=True)
class Column:
    """A column of numbers: its place from 0, its header, what it holds by its header ("angle", "lift", "other", "")."""

    place: int
    header: str
    role: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Parts:
    """A grid parted: headers above the table, its rows, and rows without numbers amid and after it."""

    headers: tuple[Row, ...] = ()
    body: tuple[Row, ...] = ()
    aside: tuple[Row, ...] = ()


def words_in(text: str) -> frozenset[str]:
    """The words and the signs ° # / of a text, lower case, without accents."""
    return frozenset(folded(word) for word in SIGN_OR_WORD.findall(text.replace("_", " ")))


def is_number(cell: str) -> bool:
    """Whether a cell is a number with nothing but a unit after it."""
    found = plain_number(cell, Decimal.POINT) or plain_number(cell, Decimal.COMMA)
    return found is not None and len(found[1]) <= LONGEST_WORD and not any(sign.isdigit() for sign in found[1])


def cell_of(row: Row, place: int) -> str:
    """A row's cell, "" beyond its end."""
    return row.cells[place] if place < len(row.cells) else ""


def parted(grid: Grid) -> Parts:
    """Part a grid into headers, table and rows beside it.

    Args:
        grid: its cells.

    Returns:
        The parts; without a body where no row holds two numbers.
    """
    rows = grid.rows
    full = [sum(map(is_number, row.cells)) > 1 for row in rows]
    if not any(full):
        return Parts(headers=rows)
    pairs = (place for place in range(len(rows) - 1) if full[place] and full[place + 1])
    first = next(pairs, full.index(True))
    while first and _spoilt(rows[first - 1]):
        first -= 1
    last = max(place for place, several in enumerate(full) if several)
    kept = [any(map(is_number, row.cells)) and not (place > last and _sums_up(row)) for place, row in enumerate(rows)]
    body = tuple(row for place, row in enumerate(rows) if place >= first and kept[place])
    aside = tuple(row for place, row in enumerate(rows) if place >= first and not kept[place])
    return Parts(headers=rows[:first], body=body, aside=aside)


def _sums_up(row: Row) -> bool:
    """Whether a row beneath the table says something of it: it begins with words, not with an angle gone wrong."""
    return bool(row.cells[0]) and not any(map(str.isdigit, row.cells[0]))


def _spoilt(row: Row) -> bool:
    """Whether a row above the table is one of its own with a slip: it begins with a number, and digits follow."""
    return is_number(row.cells[0]) and any(any(map(str.isdigit, cell)) for cell in row.cells[1:])


def columns_of(parts: Parts) -> tuple[Column, ...]:
    """The columns of numbers.

    Args:
        parts: of the grid.

    Returns:
        Those of which most rows hold a number, from the left.
    """
    width = max((len(row.cells) for row in parts.body), default=0)
    found = []
    for place in range(width):
        count = sum(is_number(cell_of(row, place)) for row in parts.body)
        if count > SHARE * len(parts.body):
            header = _header(parts.headers, place)
            role = _role(header) or _role_of_cells([cell_of(row, place) for row in parts.body])
            found.append(Column(place=place, header=header.replace("\n", " "), role=role))
    return tuple(found)


def _naming(headers: Sequence[Row]) -> list[Row]:
    """The header rows next to the table that have several cells: one of names, and beneath it one of units."""
    named: list[Row] = []
    for row in reversed(headers[-MOST_HEADERS:]):
        if sum(map(bool, row.cells)) < 2:
            break
        named.insert(0, row)
        if not all(map(_is_unit, row.cells)):
            break
    return named


def _is_unit(cell: str) -> bool:
    words = words_in(cell) - DEGREES - CAM - CRANK
    return all(unit_key(word) in WORDS[Kind.LENGTH] for word in words)


def word_of(cell: str) -> str:
    """What follows a cell's number, "" where that is no unit or the cell no number."""
    found = plain_number(cell, Decimal.POINT) or plain_number(cell, Decimal.COMMA)
    if found is None:
        return ""
    known = unit_key(found[1]) in WORDS[Kind.LENGTH] or angle_unit(words_in(found[1]))
    return found[1] if known else ""


def _role_of_cells(cells: Sequence[str]) -> str:
    """What a column holds by the units in its cells."""
    words = [word_of(cell) for cell in cells]
    for role, kind in (("lift", Kind.LENGTH), ("angle", Kind.ANGLE)):
        count = sum(bool(word) and (unit_key(word) in WORDS[Kind.LENGTH]) == (kind is Kind.LENGTH) for word in words)
        if count > SHARE * len(words):
            return role
    return ""


def _header(headers: Sequence[Row], place: int) -> str:
    return "\n".join(filter(None, (cell_of(row, place) for row in _naming(headers))))


def titles_of(headers: Sequence[Row]) -> str:
    """What stands above the headers of the columns, a line a row."""
    naming = _naming(headers)
    return "\n".join(" ".join(row.cells) for row in headers if row not in naming)


def _role(header: str) -> str:
    said = words_in(header)
    if said & OTHER or (said & NUMBERING and not said & (ANGLE | LIFT | DEGREES)):
        return "other"
    if said & ANGLE:
        return "angle"
    if said & (LIFT | LOBE | VALVE):
        return "lift"
    if said & (DEGREES | CRANK | CAM):
        return "angle"
    return "lift" if length_unit(header) else ""


def length_unit(header: str) -> str | None:
    """The unit of length that a column's header names; None for none."""
    return read_header(header).units.get(Kind.LENGTH)


def angle_unit(words: frozenset[str]) -> str | None:
    """The unit of angle among words, "deg" or "rad"; None for none."""
    found = next((word for word in sorted(words) if unit_key(word) in WORDS[Kind.ANGLE]), None)
    if found is not None:
        return WORDS[Kind.ANGLE][unit_key(found)].text
    return "deg" if words & DEGREES else None


def turn_of(header: str, titles: str) -> str | None:
    """Whose angles they are by the header of the angles, else by a title that speaks of degrees or angles.

    Args:
        header: of the column of angles.
        titles: a line each.

    Returns:
        "cam" or "crank"; None where nothing or both is said.
    """
    said = words_in(header)
    for words in (said, *(w for w in map(words_in, titles.splitlines()) if w & (ANGLE | DEGREES))):
        cam, crank = bool(words & CAM), bool(words & CRANK)
        if cam and crank and words is said:
            return None
        if cam != crank:
            return "crank" if crank else "cam"
        if crank:
            return _nearest(titles)
    return None


def _nearest(titles: str) -> str | None:
    """Of a title with both words, such as "cam no. 4 in crank degrees", the one that stands before the degrees."""
    found = re.search(r"\b(cam|crank)(?:shaft)?[ -]+(?:deg|angle)", titles.casefold())
    return found[1] if found else None


def side_of(header: str, titles: str) -> str | None:
    """Which side the lifts were measured on, by the header of the lifts, else by the titles.

    Args:
        header: of the column of lifts.
        titles: a line each.

    Returns:
        "lobe" or "valve"; None where nothing or both is said.
    """
    for words, of_header in ((words_in(header), True), (words_in(titles), False)):
        lobe = bool(words & LOBE or (words & LIFT and words & CAM and of_header))
        valve = bool(words & VALVE)
        if lobe and valve:
            return None
        if lobe or valve:
            return "lobe" if lobe else "valve"
    return None
