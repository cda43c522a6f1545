"""The closed table of unit words: what each is worth in SI, as exact fractions.

pint defines these units: `tests/units/test_table.py` compares every entry with it to 1e-12. The table stands here
because pint takes 0.2 s to load and must never see typed text.

Symbols: a typed x means (x + offset) * numerator / denominator in SI.

Sources: international yard and pound agreement of 1959 (inch, pound, ounce, exact); 3rd CGPM 1901 (standard
acceleration of free fall, exact); SI brochure, 9th edition (bar, degree, minute, degree Celsius); conventional density
of mercury, 13595.1 kg/m3 (ISO 80000-4). The words are common practice.
"""

from __future__ import annotations

import math
import re
import unicodedata
from dataclasses import dataclass
from fractions import Fraction

from loadbench.units.kinds import Kind, Style


@dataclass(frozen=True, slots=True, kw_only=True)
class Unit:
    """One unit: its canonical text, its kind and its worth in SI; `style` is the family it comes from."""

    text: str
    kind: Kind
    numerator: int
    denominator: int
    offset: Fraction
    style: Style


INCH = Fraction(254, 10000)
POUND = Fraction(45359237, 100000000)
GRAVITY = Fraction(980665, 100000)
POUND_FORCE = POUND * GRAVITY
MERCURY = Fraction(135951, 10) * GRAVITY
PI = Fraction(math.pi)

_IP, _M = Style.INCH_POUND, Style.METRIC

# canonical text, worth in SI, family, accepted words besides the canonical text (apart by |)
_LENGTHS = (
    ("in", INCH, _IP, "inch|inches|\"|''"),
    ("thou", INCH / 1000, _IP, "thous|mil|mils"),
    ("ft", 12 * INCH, _IP, "foot|feet"),
    ("mm", Fraction(1, 1000), _M, "millimetre|millimetres|millimeter|millimeters"),
    ("cm", Fraction(1, 100), _M, "centimetre|centimetres|centimeter|centimeters"),
    ("m", Fraction(1), _M, "metre|metres|meter|meters"),
    ("µm", Fraction(1, 10**6), _M, "um|micron|microns|micrometre|micrometres|micrometer|micrometers"),
)
_FORCES = (
    ("lbf", POUND_FORCE, _IP, "lb|lbs|#|lbsf|pound|pounds|pound-force"),
    ("ozf", POUND_FORCE / 16, _IP, "oz|ounce|ounces"),
    ("N", Fraction(1), _M, "newton|newtons"),
    ("daN", Fraction(10), _M, ""),
    ("kN", Fraction(1000), _M, ""),
    ("kgf", GRAVITY, _M, "kp|kg|kgs"),
    ("gf", GRAVITY / 1000, _M, ""),
)
_MASSES = (
    ("g", Fraction(1, 1000), _M, "gram|grams|gramme|grammes|gm|gms"),
    ("kg", Fraction(1), _M, "kgs|kilogram|kilograms"),
    ("mg", Fraction(1, 10**6), _M, ""),
    ("lb", POUND, _IP, "lbs|lbm|pound|pounds"),
    ("oz", POUND / 16, _IP, "ounce|ounces"),
)
_PRESSURES = (
    ("psi", POUND_FORCE / INCH**2, _IP, "psig|lb/in^2|lbf/in^2|lbs/in^2|lb/sq in|lbf/sq in"),
    ("bar", Fraction(10**5), _M, "bars"),
    ("mbar", Fraction(100), _M, "hPa"),
    ("Pa", Fraction(1), _M, "N/m^2"),
    ("kPa", Fraction(1000), _M, ""),
    ("MPa", Fraction(10**6), _M, "N/mm^2"),
    ("kgf/cm²", GRAVITY * 10**4, _M, "kg/cm^2|kp/cm^2"),
    ("atm", Fraction(101325), _M, ""),
    ("inHg", MERCURY * INCH, _IP, "in Hg"),
    ("mmHg", MERCURY / 1000, _M, "mm Hg"),
)
_STRESSES = (
    ("kpsi", 1000 * POUND_FORCE / INCH**2, _IP, "ksi"),
    ("psi", POUND_FORCE / INCH**2, _IP, "lb/in^2|lbf/in^2"),
    ("MPa", Fraction(10**6), _M, "N/mm^2"),
    ("GPa", Fraction(10**9), _M, ""),
    ("Pa", Fraction(1), _M, "N/m^2"),
)
_FREQUENCIES = (("Hz", Fraction(1), _M, "1/s"), ("kHz", Fraction(1000), _M, ""))
_SPEEDS = (
    ("rpm", PI / 30, _IP, "r/min|rev/min|revs/min|1/min|/min|min-1|min^-1"),
    ("rad/s", Fraction(1), _M, "rad/sec"),
    ("Hz", 2 * PI, _M, "rev/s|rev/sec|revs/s|rps|r/s"),
)
_ANGLES = (("deg", PI / 180, _M, "degs|degree|degrees|°"), ("rad", Fraction(1), _M, "rads|radian|radians"))
_DAMPINGS = (
    ("N·s/m", Fraction(1), _M, "Ns/m|N/(m/s)|kg/s"),
    ("N·s/mm", Fraction(1000), _M, "Ns/mm|N/(mm/s)"),
    ("lbf·s/in", POUND_FORCE / INCH, _IP, "lb s/in|lbs s/in|lbf/(in/s)|lb/(in/s)"),
)
_ENERGIES = (
    ("J", Fraction(1), _M, "joule|joules|N·m|Nm"),
    ("in·lbf", INCH * POUND_FORCE, _IP, "in·lb|inlbf|inlb|lbf·in|lb·in|inch-pound|inch-pounds"),
    ("ft·lbf", 12 * INCH * POUND_FORCE, _IP, "ft·lb|ftlbf|ftlb|lbf·ft|lb·ft|foot-pound|foot-pounds"),
)
_VELOCITIES = (
    ("m/s", Fraction(1), _M, "mps|m per s"),
    ("ft/s", 12 * INCH, _IP, "fps|ft per s"),
    ("in/s", INCH, _IP, "ips|in per s"),
)
_FILMS = (
    ("µm", Fraction(1, 10**6), _M, "um|micron|microns|micrometre|micrometres|micrometer|micrometers"),
    ("µin", INCH / 10**6, _IP, "uin|microinch|microinches"),
)
_TIMES = (
    ("s", Fraction(1), _M, "sec|secs|second|seconds"),
    ("ms", Fraction(1, 1000), _M, "millisecond|milliseconds"),
    ("min", Fraction(60), _M, "minute|minutes"),
)
_LIVES = (
    ("h", Fraction(3600), _M, "hr|hrs|hour|hours"),
    ("days", Fraction(86400), _M, "day|d"),
)
_PVS = (
    ("MPa·m/s", Fraction(10**6), _M, "N/mm^2·m/s|W/mm^2"),
    ("psi·ft/min", POUND_FORCE / INCH**2 * 12 * INCH / 60, _IP, "psi·fpm"),
)
_VISCOSITIES = (("mPa·s", Fraction(1, 1000), _M, "cP|centipoise"), ("Pa·s", Fraction(1), _M, ""))
_POWERS = (("W", Fraction(1), _M, "watt|watts"), ("kW", Fraction(1000), _M, ""))
_TEMPERATURES = (
    ("°F", Fraction(5, 9), Fraction(45967, 100), _IP, "degF|deg F|F|fahrenheit"),
    ("°C", Fraction(1), Fraction(27315, 100), _M, "degC|deg C|C|celsius"),
    ("K", Fraction(1), Fraction(0), _M, "kelvin"),
)
_PER_LENGTH = (
    ("in", INCH, 'in|inch|"'),
    *((text, worth, text) for text, worth, _, _ in _LENGTHS if text in {"mm", "cm", "m"}),
)
_SQUARES = (("m", Fraction(1)), ("cm", Fraction(1, 100)), ("mm", Fraction(1, 1000)), ("in", INCH))

_KILOGRAM = "kg read as kilogram-force"
_NOTES = {
    (Kind.FORCE, "kg"): _KILOGRAM,
    (Kind.FORCE, "kgs"): _KILOGRAM,
    (Kind.FORCE, "kp"): "kp read as kilogram-force",
    (Kind.LENGTH, "mil"): "mil is 0.001 in",
    (Kind.LENGTH, "mils"): "mil is 0.001 in",
    (Kind.SPEED, "hz"): "Hz read as turns a second",
}

_BLANKS_AND_SIGNS = {ord(ch): " " for ch in "\u00a0\u2007\u2009\u202f\u3000"}
_LOOKALIKES = {ord(old): new for old, new in zip("″”“’‘′−⁄∕º⋅•", "\"\"\"'''-//°··", strict=True)}  # noqa: RUF001
_FULL_WIDTH = {code: chr(code - 0xFEE0) for code in range(0xFF01, 0xFF5F)}
PLAIN = {**_FULL_WIDTH, **_BLANKS_AND_SIGNS, **_LOOKALIKES}
"""For str.translate: one character for one, so that places in the plain text are places in what was typed."""

_PER = re.compile(r" *\bper\b *| */ *")
_BETWEEN = re.compile(r"(?<=\w) ?[·*] ?(?=\w)|(?<=\w)-(?=[a-z])")
_STOP = re.compile(r"(?<=[^\W\d])\.(?=[ /]|$)")


def unit_key(word: str) -> str:
    """A unit word as the table holds it: case, dots, powers and separators made alike.

    Args:
        word: what stands after the number, plain (see PLAIN) or as typed.

    Returns:
        The key; "" for a blank word.
    """
    if word.isascii() and word.isalpha():
        return word.casefold()
    folded = unicodedata.normalize("NFKC", word.translate(PLAIN)).casefold().replace("\u2212", "-").strip()
    folded = _PER.sub("/", _STOP.sub("", folded)).replace("° ", "°")
    return " ".join(_BETWEEN.sub(" ", folded).replace("^", "").split())


def _unit(kind: Kind, text: str, worth: Fraction, style: Style, offset: Fraction = Fraction(0)) -> Unit:
    return Unit(
        text=text, kind=kind, numerator=worth.numerator, denominator=worth.denominator, offset=offset, style=style
    )


def _rates() -> list[tuple[Unit, list[str]]]:
    """Every force word over every length word: 'lb/in', '#/inch', 'kg/mm'."""
    return [
        (
            _unit(Kind.RATE, f"{force}/{length}", worth / per, style),
            [f"{word}/{below}" for word in [force, *filter(None, words.split("|"))] for below in belows.split("|")],
        )
        for force, worth, style, words in _FORCES
        for length, per, belows in _PER_LENGTH
    ]


def _inertias() -> list[tuple[Unit, list[str]]]:
    """Every mass unit by every square: 'kg·m²', 'g cm^2', 'lbin2'."""
    return [
        (
            _unit(Kind.INERTIA, f"{mass}·{length}²", worth * square**2, style),
            [f"{mass} {length}^2", f"{mass}·{length}²", f"{mass}{length}^2"],
        )
        for mass, worth, style, _ in _MASSES
        for length, square in _SQUARES
    ]


def _all() -> list[tuple[Unit, list[str]]]:
    plain = (
        (Kind.LENGTH, _LENGTHS),
        (Kind.FORCE, _FORCES),
        (Kind.MASS, _MASSES),
        (Kind.PRESSURE, _PRESSURES),
        (Kind.STRESS, _STRESSES),
        (Kind.SPEED, _SPEEDS),
        (Kind.FREQUENCY, _FREQUENCIES),
        (Kind.ANGLE, _ANGLES),
        (Kind.DAMPING, _DAMPINGS),
        (Kind.ENERGY, _ENERGIES),
        (Kind.VELOCITY, _VELOCITIES),
        (Kind.FILM, _FILMS),
        (Kind.TIME, _TIMES),
        (Kind.LIFE, _LIVES),
        (Kind.PV, _PVS),
        (Kind.VISCOSITY, _VISCOSITIES),
        (Kind.POWER, _POWERS),
    )
    rows = [
        (_unit(kind, text, worth, style), [text, *filter(None, words.split("|"))])
        for kind, units in plain
        for text, worth, style, words in units
    ]
    warm = [
        (_unit(Kind.TEMPERATURE, text, worth, style, offset), [text, *words.split("|")])
        for text, worth, offset, style, words in _TEMPERATURES
    ]
    return [*rows, *warm, *_rates(), *_inertias()]


_ROWS = _all()

WORDS: dict[Kind, dict[str, Unit]] = {
    kind: {unit_key(word): unit for unit, words in _ROWS if unit.kind is kind for word in words} for kind in Kind
}
"""Key of a word (see unit_key) -> unit, for each kind."""

UNITS: tuple[Unit, ...] = tuple(unit for unit, _ in _ROWS)

_SPELLED = {
    kind: tuple(dict.fromkeys(word for unit, words in _ROWS if unit.kind is kind for word in words)) for kind in Kind
}


def unit_words(kind: Kind) -> tuple[str, ...]:
    """The accepted unit words of a kind, for help and completion; case does not matter in them."""
    return _SPELLED[kind]


def note_on(kind: Kind, key: str) -> str | None:
    """What must be said beside a field when this word was typed; None for nearly all words."""
    if kind is Kind.RATE:
        return _NOTES.get((Kind.FORCE, key.partition("/")[0]))
    return _NOTES.get((kind, key))
