"""One typed entry to an SI float: number, then unit word, nothing else."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from functools import lru_cache

from loadbench.errors import AmbiguousEntry, InputError, UnfinishedEntry
from loadbench.units.faults import LONGEST, diagnosis, unquoted
from loadbench.units.kinds import Kind, Style, expected
from loadbench.units.number import Number, read_number
from loadbench.units.table import PLAIN, WORDS, Unit, note_on, unit_key

_EVERYDAY = {
    Kind.LENGTH: ("in", "mm"),
    Kind.FORCE: ("lbf", "N"),
    Kind.RATE: ("lbf/in", "N/mm"),
    Kind.MASS: ("lb", "g"),
    Kind.PRESSURE: ("psi", "bar"),
    Kind.STRESS: ("kpsi", "MPa"),
    Kind.SPEED: ("rpm", "rpm"),
    Kind.FREQUENCY: ("Hz", "Hz"),
    Kind.ANGLE: ("deg", "deg"),
    Kind.TEMPERATURE: ("°F", "°C"),
    Kind.INERTIA: ("kg·m²", "kg·m²"),
    Kind.DAMPING: ("N·s/m", "N·s/m"),
    Kind.ENERGY: ("in·lbf", "J"),
    Kind.VELOCITY: ("ft/s", "m/s"),
    Kind.FILM: ("µin", "µm"),
    Kind.TIME: ("s", "s"),
    Kind.LIFE: ("h", "h"),
    Kind.PV: ("psi·ft/min", "MPa·m/s"),
    Kind.VISCOSITY: ("mPa·s", "mPa·s"),
    Kind.POWER: ("W", "W"),
}
_SHOWN = {**_EVERYDAY, Kind.MASS: ("g", "g")}  # valves and locks are weighed in grams in every shop


@dataclass(frozen=True, slots=True, kw_only=True)
class Parsed:
    """An entry understood: its SI value, the unit it was typed in, and what must be said beside the field."""

    value: float
    unit: str
    bare: bool
    note: str | None


def everyday_unit(kind: Kind, style: Style) -> str:
    """The unit that a bare number takes in a file of this style."""
    return _EVERYDAY[kind][style is Style.METRIC]


def display_unit(kind: Kind, style: Style) -> str:
    """The unit on show; the same as everyday_unit but for masses, which both styles show in grams."""
    return _SHOWN[kind][style is Style.METRIC]


def unit_of(kind: Kind, text: str) -> Unit:
    """The unit behind a known unit word; KeyError is a defect of ours, never of an entry."""
    return WORDS[kind][unit_key(text)]


def parse(text: str, kind: Kind, style: Style | None) -> Parsed:
    """Read one typed quantity.

    Args:
        text: what was typed, such as "1.900", "48,26 mm", "1 7/8 in" or "160#".
        kind: what the field wants.
        style: the family of units of the file; a bare number takes its everyday unit. None: a bare number is refused.

    Returns:
        The quantity in SI (m, N, N/m, kg, Pa, rad/s, rad, K, kg m2, N s/m, J, m/s).

    Raises:
        UnfinishedEntry: more typing may make it right.
        AmbiguousEntry: "1,250" may be 1250 or 1.250.
        InputError: it is wrong in any other way.
    """
    return _parse(text, kind, style)


@lru_cache(maxsize=8192)
def _parse(text: str, kind: Kind, style: Style | None) -> Parsed:
    typed = text.strip()
    number, key = split_entry(typed, kind, style)
    _refuse_doubt(number, typed, kind, style)
    note = note_on(kind, key)
    if key:
        unit = WORDS[kind][key]
    elif style is None:
        raise InputError("a number without a unit", expected=expected(kind, style))
    else:
        unit = unit_of(kind, everyday_unit(kind, style))
        if kind is Kind.MASS and style is Style.INCH_POUND:
            note = "read as pounds of mass"
    return Parsed(value=_to_si(number, unit, kind, style), unit=unit.text, bare=not key, note=note)


def split_entry(typed: str, kind: Kind, style: Style | None) -> tuple[Number, str]:
    """An entry's number and the key of its unit word, "" for a bare number.

    Args:
        typed: the entry without outer blanks.
        kind: what the field wants.
        style: for the examples in messages.

    Raises:
        InputError: as `parse`, but for doubtful commas and missing units.
    """
    if len(typed) > LONGEST:
        raise InputError(f"longer than {LONGEST} characters", expected=expected(kind, style))
    plain = typed.translate(PLAIN)
    number = read_number(plain)
    if number is None or not plain.isprintable():
        raise diagnosis(plain, typed, kind, style)
    key = unit_key(plain[number.end :])
    if key not in WORDS[kind] and (key or number.end < len(plain)):
        raise diagnosis(plain, typed, kind, style)
    if number.fault:
        below = plain.rpartition("/")[2]  # "1 9/1" is on its way to "1 9/16"; "1/0" can't become anything
        on_its_way = number.fraction and number.end == len(plain) and below.strip("0") != ""
        raise (UnfinishedEntry if on_its_way else InputError)(number.fault, expected=expected(kind, style))
    return number, key


def _refuse_doubt(number: Number, typed: str, kind: Kind, style: Style | None) -> None:
    if number.doubt < 0:
        return
    before, after = typed[: number.doubt], typed[number.doubt + 1 :]
    choices = (f"{before}{after}", f"{before}.{after}")
    raise AmbiguousEntry(
        f"{unquoted(typed)} can be read in two ways: {unquoted(choices[0])} or {unquoted(choices[1])}",
        choices=choices,
        expected=expected(kind, style),
    )


def _to_si(number: Number, unit: Unit, kind: Kind, style: Style | None) -> float:
    above, below = number.numerator, number.denominator
    if unit.offset:
        shifted = Fraction(above, below) + unit.offset
        above, below = shifted.numerator, shifted.denominator
    try:
        value = (above * unit.numerator) / (below * unit.denominator)  # of ints: rounded once, correctly
    except OverflowError:
        value = float("inf")
    if value == float("inf") or (value == 0 and above != 0):
        raise InputError("a number too large or too small to work with", expected=expected(kind, style))
    return value


def with_unit(text: str, kind: Kind, style: Style) -> str:
    """What is stored when an entry is committed in the window: a bare number gets the unit on show.

    The unit on show is `display_unit`: a bare mass typed in the window is in grams in both styles, while a bare mass in
    an inch-pound file is in pounds (`parse`). A window therefore previews `parse(with_unit(text, ...), ...)`.

    Args:
        text: what was typed.
        kind: what the field wants.
        style: the units on show.

    Returns:
        "1.900" -> "1.900 in"; a text that has a unit comes back as typed, without outer blanks; a blank text as "".

    Raises:
        InputError: as `parse` does.
    """
    typed = text.strip()
    if not typed or not parse(typed, kind, style).bare:
        return typed
    whole = f"{typed} {display_unit(kind, style)}"
    parse(whole, kind, style)
    return whole
