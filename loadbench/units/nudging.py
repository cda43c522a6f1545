"""Up and Down on a typed entry: a step fit for its unit, its decimals and its unit kept as typed."""

from __future__ import annotations

from decimal import ROUND_HALF_UP, Context, Decimal

from loadbench.units.entry import display_unit, parse, split_entry, unit_of
from loadbench.units.kinds import Kind, Style
from loadbench.units.number import Number
from loadbench.units.table import WORDS
from loadbench.units.telling import step_in

_WIDE = Context(prec=1000)  # more digits than any exponent the grammar lets through
_MOST_DECIMALS = 6  # a fraction turned decimal: 7/64 is 0.109375; what goes on for ever stops here


def nudged(text: str, kind: Kind, style: Style, steps: int) -> str:
    """A typed entry, some steps further.

    Args:
        text: what was typed.
        kind: what the field wants.
        style: the units on show; they matter to a bare number only.
        steps: how many, negative for down.

    Returns:
        "1.900 in" and 1: "1.901 in". The typed unit, comma and decimals stay; groups of thousands go; a fraction turns
        decimal; a comma that would read two ways gets one more decimal ("0,999 mm": "1,0090 mm").

    Raises:
        InputError: as `parse` does.
    """
    typed = text.strip()
    parse(typed, kind, style)
    number, key = split_entry(typed, kind, style)
    unit = WORDS[kind][key] if key else unit_of(kind, display_unit(kind, style))
    result = _number_text(number, step_in(unit), steps) + typed[number.end :]
    parse(result, kind, style)
    return result


def _number_text(number: Number, size: Decimal, steps: int) -> str:
    size = size.scaleb(-number.exponent, _WIDE)
    start = _WIDE.divide(Decimal(number.numerator), Decimal(number.denominator)).scaleb(-number.exponent, _WIDE)
    decimals = max(_decimals(number, start), -int(size.normalize().as_tuple().exponent))
    quantum = Decimal(1).scaleb(-decimals)
    value = (_WIDE.add(start, _WIDE.multiply(size, Decimal(steps)))).quantize(quantum, ROUND_HALF_UP, _WIDE)
    digits = f"{value.copy_abs():f}"  # abs() would round to the default context
    if number.comma:
        whole, _, after = digits.partition(".")
        digits = f"{digits}0" if len(after) == 3 and len(whole) <= 3 and whole != "0" else digits
    sign = "-" if value < 0 else ""
    return f"{sign}{digits.replace('.', ',') if number.comma else digits}{number.exponent_text}"


def _decimals(number: Number, start: Decimal) -> int:
    if not number.fraction:
        return number.decimals
    return min(_MOST_DECIMALS, max(0, -int(start.normalize().as_tuple().exponent)))
