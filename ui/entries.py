"""From what was typed in a field to what the job stores there."""

from __future__ import annotations

from typing import Any

from loadbench.errors import InputError, Place
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
        InputError: the field takes a number without a dimension and this text is none.
    """
    if not isinstance(value, str):
        return value
    text = value.strip()
    if not text:
        return None
    try:
        mark = mark_of(field)
    except KeyError:
        return value  # no such field: whoever stores it says so
    if isinstance(mark, Quantity):
        return _quantity(text, mark, style)
    return _number(text, field) if isinstance(mark, Number) else value


def _quantity(text: str, mark: Quantity, style: Style) -> str:
    try:
        return with_unit(text, mark.kind, style)
    except InputError:
        return text


def _number(text: str, field: str) -> float:
    plain = text.replace("\u2212", "-").replace(",", ".")
    try:
        return float(plain)
    except ValueError as error:
        raise InputError(
            f'"{text}" is not a number.', expected="a number such as 1.6", place=Place(field=field)
        ) from error
