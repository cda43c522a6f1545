"""Whether a printout's decimals stand after a point or a comma: decided once for the file, from all its numbers."""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from loadbench.readings.printout.cells import Decimal, Separator
from loadbench.readings.printout.numbers_in import limits, plain_number
from loadbench.units import Kind
from loadbench.units.entry import unit_of
from loadbench.units.table import PLAIN

_NUMBER = re.compile(r"[+-]?[ ]?([0-9.,][0-9., ']*)")
_USUAL = {Kind.LENGTH: (0.005, 0.2), Kind.FORCE: (20.0, 2e4), Kind.RATE: (1e3, 1e6)}
"""What springs of valves have, SI (common practice): it decides only where both readings are possible."""

_LEAST = {Kind.LENGTH: 0.002, Kind.FORCE: 0.0, Kind.RATE: 0.0}
"""A height below this, m, is none: the coils alone are thicker (common practice)."""

_WORDS = {Decimal.POINT: "a decimal point", Decimal.COMMA: "a decimal comma"}


@dataclass(frozen=True, slots=True, kw_only=True)
class Numbers:
    """The numbers of one column: its place, what they measure, the unit where one is known, the cells.

    `printed_over`: they are heights in a header, which are heard only where no cell is sure.
    """

    place: int
    kind: Kind
    unit: str | None
    cells: tuple[str, ...]
    printed_over: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Decided:
    """The decimal mark of a file. `doubts` says by column's place what is not sure, as a sentence."""

    decimal: Decimal
    doubts: dict[int, str]


def _vote(text: str) -> tuple[Decimal | None, bool]:
    """What one number says: the decimal mark it shows and whether that is sure; None where it has no mark."""
    match = _NUMBER.match(text.translate(PLAIN))
    number = match.group(1).rstrip(" '") if match else ""
    points, commas = number.count("."), number.count(",")
    if not points and not commas:
        return None, False
    if points and commas:
        return (Decimal.POINT if number.rfind(".") > number.rfind(",") else Decimal.COMMA), True
    own, other = (Decimal.POINT, Decimal.COMMA) if points else (Decimal.COMMA, Decimal.POINT)
    if points + commas > 1:
        return other, True
    before, _, after = number.replace(",", ".").partition(".")
    grouped = " " in before or "'" in before
    sure = grouped or len(after) != 3 or before[:1] in ("", "0") or len(before) > 3
    return own, sure


def decide(columns: Sequence[Numbers], separator: Separator | None) -> Decided:
    """Decide what stands before the decimals.

    Args:
        columns: the numbers of the columns that hold quantities, headers' heights among them.
        separator: of the file; semicolons go with decimal commas.

    Returns:
        The mark, and for each column that could also be read the other way why it was not.
    """
    for heard in ([each for each in columns if not each.printed_over], columns):
        points, commas = _sure(heard)
        if points and commas:
            return _mixed(heard, Decimal.POINT if points >= commas else Decimal.COMMA)
        if points or commas:
            return Decided(decimal=Decimal.POINT if points else Decimal.COMMA, doubts={})
    return _by_size(columns, separator)


def _sure(columns: Iterable[Numbers]) -> tuple[int, int]:
    """How many numbers can only have a decimal point, and how many only a comma."""
    marks = [mark for column in columns for mark, sure in map(_vote, column.cells) if sure]
    return marks.count(Decimal.POINT), marks.count(Decimal.COMMA)


def _mixed(columns: Sequence[Numbers], decimal: Decimal) -> Decided:
    doubts = {}
    for column in columns:
        for text in column.cells:
            mark, sure = _vote(text)
            if sure and mark is not decimal:
                doubts[column.place] = f'"{text}" is written otherwise than most numbers here, with {_WORDS[decimal]}.'
                break
    return Decided(decimal=decimal, doubts=doubts)


def _by_size(columns: Sequence[Numbers], separator: Separator | None) -> Decided:
    """No number is sure by its form: the separator says it, else what a valve spring can be."""
    points, commas = (
        {column.place: text for column in columns for text in column.cells if _vote(text)[0] is mark}
        for mark in (Decimal.POINT, Decimal.COMMA)
    )
    usual = Decimal.COMMA if separator is Separator.SEMICOLON and not points else Decimal.POINT
    if not commas and not points:
        return Decided(decimal=usual, doubts={})
    if usual is Decimal.COMMA:
        return Decided(decimal=usual, doubts={})
    impossible = {decimal: _count(columns, decimal, hard=True) for decimal in Decimal}
    best = min(Decimal, key=lambda decimal: impossible[decimal])
    if impossible[Decimal.POINT] != impossible[Decimal.COMMA] and impossible[best] == 0:
        return Decided(decimal=best, doubts={})
    unusual = {decimal: _count(columns, decimal, hard=False) for decimal in Decimal}
    if unusual[Decimal.POINT] == unusual[Decimal.COMMA]:
        best, because = usual, "nothing says which"
    else:
        best, because = min(Decimal, key=lambda decimal: unusual[decimal]), "the other would be no usual valve spring"
    if best is Decimal.POINT and not commas and unusual[best] < unusual[Decimal.COMMA]:
        return Decided(decimal=best, doubts={})  # "1.900" as everybody writes it
    doubts = {}
    for place, text in {**points, **commas}.items():
        one, other = (plain_number(text, decimal) for decimal in (best, _other(best)))
        if one and other:
            doubts[place] = f'"{text}" can be {one[0]} or {other[0]}; it is read as {one[0]}: {because}.'
    return Decided(decimal=best, doubts=doubts)


def _other(decimal: Decimal) -> Decimal:
    return Decimal.COMMA if decimal is Decimal.POINT else Decimal.POINT


def _count(columns: Iterable[Numbers], decimal: Decimal, *, hard: bool) -> int:
    """How many of the numbers could not be, or would not be usual, under a mark."""
    found = 0
    for column in columns:
        least, most = (_LEAST[column.kind], limits(column.kind).most) if hard else _USUAL[column.kind]
        units = [column.unit] if column.unit else _usual_units(column.kind)
        worth = [(unit.numerator / unit.denominator) for unit in (unit_of(column.kind, name) for name in units)]
        for text in column.cells:
            number = plain_number(text, decimal)
            if number is not None and _vote(text)[0] is not None:
                values = [float(number[0]) * each for each in worth]
                found += not any(least <= value <= most for value in values)
    return found


def _usual_units(kind: Kind) -> list[str]:
    return {Kind.LENGTH: ["in", "mm"], Kind.FORCE: ["lbf", "N"]}.get(kind, ["lbf/in", "N/mm"])
