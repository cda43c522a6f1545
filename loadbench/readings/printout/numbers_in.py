"""Numbers as printed, under one decimal mark: their SI value, and the text that a job can keep.

Whole numbers and decimals are converted here, because a printout holds tens of thousands of them; everything else goes
through `loadbench.units.parse`. Both give the same float for the same text.
"""

from __future__ import annotations

import re
from typing import NamedTuple

from loadbench.errors import InputError
from loadbench.job.kinds import Quantity, Sense
from loadbench.job.stated import mark_of
from loadbench.readings.printout.cells import Decimal
from loadbench.units import Kind, example, parse
from loadbench.units.entry import unit_of
from loadbench.units.table import PLAIN

_MISSING = re.compile(
    r"[-\u2010-\u2015\u2212*.?_/\s]*|n/?a|n\.a\.?|nan|null|none|nil|nt|n/t|not tested|missing|k\.\s?a\.|fehlt",
    re.IGNORECASE,
)
_EXPONENT = re.compile(r"e[+-]?[0-9]{1,3}(?![0-9.,])", re.IGNORECASE)
_MARKS = {Decimal.POINT: (r"\.", "[ ',]"), Decimal.COMMA: (",", r"[ '.]")}
_PATTERNS = {
    decimal: re.compile(
        rf"(?P<sign>[+-]?)[ ]?(?:(?P<groups>[0-9]{{1,3}}(?P<gap>{gap})[0-9]{{3}}(?:(?P=gap)[0-9]{{3}})*)"
        rf"|(?P<whole>[0-9]*))(?:{mark}(?P<after>[0-9]*))?(?![0-9.,'/]|[ ][0-9])"
    )
    for decimal, (mark, gap) in _MARKS.items()
}
_UNDOUBTED = {
    Decimal.POINT: re.compile(r"[0-9]+(?:\.[0-9]+)?|\.[0-9]+"),
    Decimal.COMMA: re.compile(r"[0-9]+(?:,(?:[0-9]{1,2}|[0-9]{4,}))?|0[0-9]*,[0-9]+"),
}
"""Digits that the grammar reads as they are meant here, with no second reading."""

LONGEST = 40

_FIELDS = {
    Kind.LENGTH: "springs.0.readings.0.height",
    Kind.FORCE: "springs.0.readings.0.load",
    Kind.RATE: "spring.rate",
}
NOUNS = {Kind.LENGTH: "height", Kind.FORCE: "load", Kind.RATE: "rate"}


class Cell(NamedTuple):
    """A cell that holds a quantity: its SI value, and its text with a unit as a job keeps it."""

    value: float
    text: str


class NoUnit(InputError):  # noqa: N818 - named as the errors of the tree are
    """A number stands there, but nothing says in which unit."""


def is_missing(text: str) -> bool:
    """Whether a cell says that there is nothing: blank, dashes, stars, "n/a"."""
    return not text or _MISSING.fullmatch(text) is not None


def plain_number(text: str, decimal: Decimal) -> tuple[str, str] | None:
    """The number that a cell begins with, written as the grammar reads it without doubt, and what follows it.

    Args:
        text: the cell, stripped.
        decimal: the mark before decimals; the other one groups thousands.

    Returns:
        ("1250.5", "lbf") for "1,250.5 lbf" and a point; None where the cell does not begin with such a number.
    """
    plain = text.translate(PLAIN)
    match = _PATTERNS[decimal].match(plain)
    if match is None:
        return None
    whole = match["whole"] if match["groups"] is None else "".join(ch for ch in match["groups"] if ch.isdigit())
    after, end = match["after"] or "", match.end()
    if not whole and not after:
        return None
    power = _EXPONENT.match(plain, end)
    end = power.end() if power else end
    number = f"{whole or '0'}.{after}" if after else whole
    sign = "-" if match["sign"] == "-" else ""
    return f"{sign}{number}{power.group() if power else ''}", plain[end:].strip()


def limits(kind: Kind) -> Quantity:
    """Which values a job takes for a height, a load or a rate."""
    mark = mark_of(_FIELDS[kind])
    assert isinstance(mark, Quantity)  # noqa: S101 - the document's own marks
    return mark


class Converter:
    """Turns the cells of one column into quantities; each distinct text once."""

    def __init__(self, kind: Kind, unit: str | None, decimal: Decimal) -> None:
        self.kind = kind
        self.unit = unit
        self.decimal = decimal
        self._kept: dict[str, Cell | InputError | None] = {"": None}
        self._limits = limits(kind)
        known = None if unit is None else unit_of(kind, unit)
        self._worth = None if known is None else (known.numerator, known.denominator)

    def read(self, text: str) -> Cell | InputError | None:
        """Read one cell.

        Args:
            text: as printed, stripped.

        Returns:
            The quantity; None where the cell is missing; the error, not raised, where it cannot be read.
        """
        try:
            return self._kept[text]
        except KeyError:
            answer = self._kept[text] = self._read(text)
            return answer

    def _read(self, text: str) -> Cell | InputError | None:
        plain = _UNDOUBTED[self.decimal].fullmatch(text) if self._worth is not None else None
        if plain is None and is_missing(text):
            return None
        try:
            if plain is not None and len(text) <= LONGEST:
                return Cell(self._value(text.replace(",", "."), text), f"{text} {self.unit}")
            return self._converted(text)
        except InputError as error:
            return error

    def _converted(self, text: str) -> Cell:
        found = plain_number(text, self.decimal)
        if found is None or len(text) > LONGEST:
            bare = self.unit is not None and not any(ch.isalpha() or ch in "\"'#" for ch in text)
            return self._by_grammar(text, f"{text} {self.unit}" if bare else text)
        number, word = found
        if word:
            return self._by_grammar(text, f"{number} {word}")
        if self._worth is None:
            raise NoUnit("a number without a unit", expected=self._expected)
        if not number.lstrip("-").replace(".", "", 1).isdigit():
            return self._by_grammar(text, f"{number} {self.unit}")
        return Cell(self._value(number, text), f"{number} {self.unit}")

    def _value(self, number: str, text: str) -> float:
        """A plain decimal in SI, within what a job takes."""
        whole, _, after = number.lstrip("-").partition(".")
        above, below = self._worth or (1, 1)
        # Of ints: rounded once, as the grammar does.
        scale: int = 10 ** len(after) * below
        value = (int(whole + after) * above) / scale
        value = -value if number.startswith("-") else value
        self._check(value, text)
        return value

    def _by_grammar(self, text: str, written: str) -> Cell:
        """What the fast way does not take: an own unit, a fraction, an exponent, a fault."""
        try:
            value = parse(written, self.kind, None).value
        except InputError as error:
            if error.what == "a number without a unit":
                raise NoUnit(error.what, expected=self._expected) from error
            what = f'The {NOUNS[self.kind]} "{_short(text)}" cannot be read: {error.what}.'
            raise InputError(what, expected=self._expected) from error
        self._check(value, text)
        return Cell(value, text if self._same(text, value) else written)

    def _same(self, text: str, value: float) -> bool:
        """Whether the grammar reads the cell as printed the same way."""
        try:
            return parse(text, self.kind, None).value == value
        except InputError:
            return False

    @property
    def _expected(self) -> str:
        return f"a {NOUNS[self.kind]} such as {example(self.kind, None)}"

    def _check(self, value: float, text: str) -> None:
        held, noun = self._limits, NOUNS[self.kind]
        low = value <= 0 if held.sense is Sense.POSITIVE else value < 0
        if low or value > held.most:
            shown = _short(text) if self.unit is None else f"{_short(text)} {self.unit}"
            why = f"a {noun} is {held.sense}" if low else f"no {noun} is so large"
            raise InputError(f"The {noun} {shown} cannot be: {why}.", expected=self._expected)


def _short(text: str) -> str:
    shown = "".join(ch if ch.isprintable() else "\ufffd" for ch in text)
    return shown if len(shown) <= LONGEST else shown[: LONGEST - 1] + "…"
