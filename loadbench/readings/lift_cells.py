"""One cell of a lift table: the angle or the lift in it, with its unit, or why it cannot be read."""

from __future__ import annotations

from loadbench.errors import InputError
from loadbench.readings import lift_columns as c
from loadbench.readings.printout.cells import Decimal
from loadbench.readings.printout.numbers_in import is_missing, plain_number
from loadbench.units import Kind, parse

LONGEST = 40
NOUNS = {Kind.ANGLE: "angle", Kind.LENGTH: "lift"}


def quantity(text: str, decimal: Decimal, kind: Kind, unit: str | None) -> tuple[str, float]:
    """Read one cell.

    Args:
        text: the cell, stripped.
        decimal: what stands before the decimals.
        kind: angle or length.
        unit: of a bare number; None: a bare number is refused.

    Returns:
        The text with its unit as a job keeps it, and the value, rad or m.

    Raises:
        InputError: it cannot be read.
    """
    noun = NOUNS[kind]
    if is_missing(text):
        raise InputError(f"There is no {noun}.", expected="an angle and a lift in each row")
    found = plain_number(text, decimal) if len(text) <= LONGEST else None
    number, word = found or (text, "")
    if found is None and any(map(str.isalpha, text)):
        raise InputError(f'The {noun} "{short(text)}" is no number.', expected="a number, with or without its unit")
    if kind is Kind.ANGLE and word:
        word = c.angle_unit(c.words_in(word)) or word
    if not word and unit is None:
        raise InputError("There is no unit for the lifts.", expected="a unit, such as in or mm, over the lifts")
    written = f"{number} {word or unit}"
    try:
        return written, parse(written, kind, None).value
    except InputError as error:
        what = f'The {noun} "{short(text)}" cannot be read: {error.what}.'
        raise InputError(what, expected=error.expected) from error


def turn_in(cell: str) -> str | None:
    """Whether an angle's own cell says "cam" or "crank", as in "12 deg crank"; None for most."""
    words = c.words_in(cell)
    cam, crank = bool(words & c.CAM), bool(words & c.CRANK)
    return None if cam == crank else ("crank" if crank else "cam")


def short(text: str) -> str:
    """A text fit for a message: printable, and not long."""
    shown = "".join(sign if sign.isprintable() else "\ufffd" for sign in text)
    return shown if len(shown) <= LONGEST else f"{shown[: LONGEST - 1]}…"
