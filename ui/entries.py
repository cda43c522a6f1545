"""From what was typed in a field to what the job stores there."""

from __future__ import annotations

import math
import re
from typing import Any

from loadbench.errors import AmbiguousEntry, InputError, Place, UnfinishedEntry
from loadbench.job.kinds import Number, Quantity
from loadbench.job.stated import mark_of
from loadbench.units import Style, with_unit


def stored(field: str, value: Any, style: Style) -> Any:
    """What the job keeps of an entry.

    Args:
        field: dotted path of the field.
        value: what was typed or chosen; anything but text is kept as it is.
        style: the units on show; a bare quantity gets its unit from them.

    Returns:
        Text with a unit, a number, or None for an empty entry. A wrong quantity is kept as typed: the field is then
        marked and told beside it.

    Raises:
        InputError: the field takes a number without a dimension and this text is none, or (AmbiguousEntry) may be
            read as two.
    """
    if not isinstance(value, str):
        return value
    text = value.strip()
    if not text:
        return "" if field == "title" else None  # every job has a title, be it empty
    try:
        mark = mark_of(field)
    except KeyError:
        return value  # no such field: whoever stores it says so
    if isinstance(mark, Quantity):
        return _quantity(text, mark, style)
    return _number(text, field) if isinstance(mark, Number) else value


def number_of(text: str, *, percent: bool = False) -> float | None:
    """A typed number without a dimension, comma or point.

    Args:
        text: what was typed.
        percent: whether the field is in percent, so that its sign may be typed.

    Returns:
        The number; None for an empty text.

    Raises:
        UnfinishedEntry: a sign or a point alone.
        AmbiguousEntry: "1,250" may be 1250 or 1.250.
        InputError: it is none.
    """
    plain = text.strip().replace("\u2212", "-").replace(",", ".").strip()
    plain = plain.removesuffix("%").strip() if percent else plain
    if not plain:
        return None
    if plain in ("-", "+", ".", "-.", "+."):
        raise UnfinishedEntry("The number is not finished.", expected="a number such as 1.6")
    if plain[-1] in "xXeE_" or not all(ch in "0123456789.eE+-" for ch in plain):
        raise InputError(f'"{text.strip()[:40]}" is not a number.', expected="a number without a unit, such as 1.6")
    if re.fullmatch(r"[+-]?[1-9]\d{0,2},\d{3}", text.strip()):
        choices = (text.strip().replace(",", ""), plain)
        what = f"{text.strip()} can be read in two ways: {choices[0]} or {choices[1]}."
        raise AmbiguousEntry(what, choices=choices, expected="a point for decimals")
    try:
        number = float(plain)
    except ValueError as error:
        raise InputError(f'"{text.strip()[:40]}" is not a number.', expected="a number such as 1.6") from error
    if not math.isfinite(number):
        raise InputError(f"{text.strip()[:40]} is too large.", expected="a number such as 1.6")
    return number


def _quantity(text: str, mark: Quantity, style: Style) -> str:
    try:
        return with_unit(text, mark.kind, style)
    except InputError:
        return text


def _number(text: str, field: str) -> float | None:
    try:
        return number_of(text, percent=field.endswith("percent"))
    except InputError as error:
        error.place = Place(field=field)
        raise
