"""What a header cell says: the meaning of its column, the part, the height that its loads are for, the units."""

from __future__ import annotations

import functools
import re
from dataclasses import dataclass, field

from loadbench.readings.printout import words as w
from loadbench.readings.printout.cells import Decimal
from loadbench.readings.printout.meaning import Meaning
from loadbench.readings.printout.numbers_in import is_missing, plain_number
from loadbench.units import Kind, unit_words
from loadbench.units.table import PLAIN, WORDS, note_on, unit_key

KINDS = (Kind.LENGTH, Kind.FORCE, Kind.RATE)
KIND_OF = {Meaning.HEIGHT: Kind.LENGTH, Meaning.LOAD: Kind.FORCE, Meaning.RATE: Kind.RATE}
LONGEST = 80
LARGEST_COUNT = 12
"""A whole number up to this, in a header, counts columns ("Load 2"); a larger one is a height ("F 48")."""


@dataclass(frozen=True, slots=True, kw_only=True)
class HeaderCell:
    """A header cell understood.

    `units` holds the canonical unit for each kind that is named; `number` is the height as printed, `number_unit` its
    unit. `order` is what pairs a load with its height: "1" of "F1", "seat", "open". `strong` says that a head word
    stands there, not only a unit, a part or a number. `unknown` are the words that mean nothing here. `derived`: a
    mean, a limit, a target or a count. `note` must be said beside the unit.
    """

    meaning: Meaning | None = None
    part: str = ""
    units: dict[Kind, str] = field(default_factory=dict)
    number: str = ""
    number_unit: str | None = None
    order: str = ""
    strong: bool = False
    derived: bool = False
    unknown: tuple[str, ...] = ()
    note: str = ""
    direction: str = ""


def unit_of_word(word: str) -> tuple[Kind, str] | None:
    """The unit that a word alone stands for.

    Args:
        word: such as "lbs", "(mm)" or "[N]".

    Returns:
        Its kind and its canonical text; None where it is no unit of length, load or rate.
    """
    key = unit_key(word.strip().strip("()[]{}<>").strip())
    for kind in KINDS:
        if key in WORDS[kind]:
            return kind, WORDS[kind][key].text
    return None


def kind_told(cell: str) -> Kind | None:
    """What a cell of a number and its unit measures; None for any other cell."""
    number = plain_number(cell, Decimal.POINT) or plain_number(cell, Decimal.COMMA)
    known = unit_of_word(number[1]) if number else None
    return None if known is None else known[0]


def note_of_word(word: str, kind: Kind) -> str:
    """What must be said beside a unit word: "kg read as kilogram-force"; "" for most."""
    return note_on(kind, unit_key(word.strip().strip("()[]{}<>").strip())) or ""


@functools.cache
def _token() -> re.Pattern[str]:
    spelled = {word.casefold() for kind in KINDS for word in unit_words(kind)} - {"#"}
    units = "|".join(re.escape(word) for word in sorted(spelled, key=len, reverse=True))
    return re.compile(
        rf"(?P<open>[(\[{{<])|(?P<close>[)\]}}>])|(?<![^\W\d_])(?P<unit>{units})(?![^\W\d_]|[°.º]?\d)"
        r"|(?P<number>[0-9]+(?:[.,][0-9]+)*|(?<![0-9])[.,][0-9]+)|(?P<word>[^\W\d_]+)|(?P<sign>[#@])",
        re.IGNORECASE,
    )


@dataclass(slots=True)
class _Number:
    text: str
    to_word: bool
    after_at: bool
    unit: tuple[Kind, str] | None = None


@dataclass(slots=True)
class _Scan:
    words: list[str] = field(default_factory=list)
    numbers: list[_Number] = field(default_factory=list)
    units: dict[Kind, str] = field(default_factory=dict)
    note: str = ""
    hashes: int = 0


@functools.lru_cache(maxsize=8192)
def read_header(text: str) -> HeaderCell:
    """Read one header cell.

    Args:
        text: the cell, or the cells of several header rows, a line each: a unit belongs to a number of its own line.

    Returns:
        What it says; `meaning` is None where no word of ours stands there.
    """
    if len(text) > LONGEST or (is_missing(text) and "#" not in text):
        return HeaderCell(unknown=(text,) if text.strip() else ())
    plain = re.sub(r" */ *| +per +", "/", text.translate(PLAIN).replace("_", " "))
    scan = _scanned(plain)
    return _understood(scan)


def _scanned(plain: str) -> _Scan:
    scan, depth, tokens = _Scan(), 0, list(_token().finditer(plain))
    at = False
    for place, token in enumerate(tokens):
        kind, said = token.lastgroup, token.group()
        depth += (kind == "open") - (kind == "close")
        before = tokens[place - 1] if place else None
        if kind == "unit" and not _is_preposition(tokens, place, depth) and _cased(said, plain[token.end() :]):
            _take_unit(scan, said, None if before is None or "\n" in plain[before.end() : token.start()] else before)
        elif kind in {"unit", "word"}:
            word = w.folded(said)
            at = at or word in w.AT
            scan.words.append(word)
        elif kind == "number":
            touching = before is not None and before.lastgroup in ("word", "unit") and before.end() == token.start()
            scan.numbers.append(_Number(said, touching, at))
        elif said == "@":
            at = True
            scan.words.append("@")
        elif said == "#":
            scan.hashes += 1
            if depth > 0:
                scan.units.setdefault(Kind.FORCE, "lbf")
    return scan


def _cased(said: str, after: str) -> bool:
    """Whether a single letter is written as its unit is: N for newton, m for metre; "N." and "N°" are a number."""
    if len(said) > 1 or not said.isalpha():
        return True
    return said in ("N", "m") and not (said == "N" and after[:1] in (".", "°", "º"))


def _is_preposition(tokens: list[re.Match[str]], place: int, depth: int) -> bool:
    """Whether "in" is the little word, not inches: a unit or another word follows, and no number stands before."""
    if tokens[place].group().casefold() != "in" or depth > 0:
        return False
    if place and tokens[place - 1].lastgroup == "number":
        return False
    return place + 1 < len(tokens) and tokens[place + 1].lastgroup in ("unit", "word")


def _take_unit(scan: _Scan, said: str, before: re.Match[str] | None) -> None:
    known = unit_of_word(said)
    if known is None:
        scan.words.append(w.folded(said))
    elif before is not None and before.lastgroup == "number" and not scan.numbers[-1].to_word:
        scan.numbers[-1].unit = known
    else:
        scan.units.setdefault(known[0], known[1])
        scan.note = scan.note or note_of_word(said, known[0])


def _understood(scan: _Scan) -> HeaderCell:
    said = set(scan.words)
    height, order, odd = _numbers(scan, said)
    if scan.hashes and not said - w.FILLERS - w.AT and not scan.units and height is not None:
        scan.units.setdefault(Kind.FORCE, "lbf")  # "# @ 1.900"
    elif scan.hashes and said & w.LOAD:
        scan.units.setdefault(Kind.FORCE, "lbf")
    elif scan.hashes:
        said.add("no")
    meaning, strong = _meaning(scan, said, has_height=height is not None)
    parts = [w.PARTS[word] for word in scan.words if word in w.PARTS]
    part = "pair" if {"outer", "inner"} <= set(parts) else (parts[0] if parts else "")
    for tag, group in (("seat", w.SEATS), ("open", w.OPENS)):
        order = order or (tag if said & group else "")
    number, number_unit = ("", None) if height is None else (height.text, height.unit and height.unit[1])
    if number and number_unit is None and meaning is not Meaning.HEIGHT:
        number_unit = scan.units.get(Kind.LENGTH)
    unknown = tuple(word for word in scan.words if not _known(word)) + odd
    return HeaderCell(
        meaning=meaning,
        part=part,
        units=scan.units,
        number=number,
        number_unit=number_unit,
        order=order,
        strong=strong,
        derived=bool(said & w.DERIVED) or (meaning is Meaning.LOAD and not said & w.LOAD and bool(said & w.READING)),
        unknown=unknown,
        note=scan.note,
        direction=_direction(said) if meaning is Meaning.LOAD else "",
    )


def _direction(said: set[str]) -> str:
    """The way of the loads in a column, by words that are no word for the load itself."""
    down, up = said & w.LOADING - w.LOAD, said & w.UNLOADING
    return "" if bool(down) == bool(up) else ("loading" if down else "unloading")


def _numbers(scan: _Scan, said: set[str]) -> tuple[_Number | None, str, tuple[str, ...]]:
    """The height among the numbers, the number that counts, and those that are neither."""
    height: _Number | None = None
    order, odd = "", []
    alone = not scan.words and not scan.units and not scan.hashes and len(scan.numbers) == 1
    for number in scan.numbers:
        whole = number.text.isdigit()
        if number.unit and number.unit[0] is not Kind.LENGTH:
            if whole and int(number.text[:9]) <= LARGEST_COUNT:
                order = order or number.text  # "Load 1 lbf"
                scan.units.setdefault(*number.unit)
            else:
                odd.append(number.text)
        elif said & w.LIFT or (number.to_word and whole and len(number.text) < 3):
            order = order or number.text
        elif alone or number.unit or not whole or number.after_at or int(number.text[:9]) > LARGEST_COUNT:
            odd += [number.text] if height else []
            height = height or number
        else:
            order = order or number.text
    return height, order, tuple(odd)


@functools.cache
def _all_words() -> frozenset[str]:
    groups = (w.SPRING, w.NUMBERING, w.HEIGHT, w.LOAD, w.RATE, w.DIRECTION, w.REPEAT, w.MARK, w.PART, w.UNIT)
    more = (w.READING, w.OTHER, w.ASIDE, w.DERIVED, w.SEATS, w.OPENS, w.AT, w.LIFT, w.FILLERS, w.LOADING, w.UNLOADING)
    return frozenset().union(*groups, *more, w.PARTS, w.LOAD_WITH_ORDER)


def _known(word: str) -> bool:
    return word in _all_words()


def _meaning(scan: _Scan, said: set[str], *, has_height: bool) -> tuple[Meaning | None, bool]:
    """The meaning, and whether a head word said it. The order of the questions is the order of precedence."""
    ordered = any(number.to_word for number in scan.numbers)
    loads = said & (w.LOAD | w.LOAD_WITH_ORDER if ordered else w.LOAD)
    numbered = said & w.SPRING or said & w.NUMBERING
    questions = (
        (said & w.OTHER or (said & w.PART and said & w.NUMBERING and not said & w.SPRING), Meaning.NOTHING),
        (said & w.UNIT, Meaning.UNIT),
        (said & w.RATE, Meaning.RATE),
        (said & w.DIRECTION, Meaning.DIRECTION),
        (loads and said & w.HEIGHT, _head(scan, said, loads, has_height=has_height)),
        (loads, Meaning.LOAD),
        (said & w.HEIGHT, Meaning.HEIGHT),
        (said & w.PART, Meaning.PART),
        (said & w.REPEAT and not said & w.SPRING, Meaning.LOAD if Kind.FORCE in scan.units else Meaning.REPEAT),
        (said & w.MARK, Meaning.MARK),
        (numbered and _is_load(scan, said, has_height=has_height), Meaning.LOAD),
        (numbered and said & w.READING, Meaning.REPEAT),
        (numbered, Meaning.SPRING),
    )
    found = next((meaning for holds, meaning in questions if holds), None)
    return (found, True) if found is not None else _by_unit(scan, said)


def _is_load(scan: _Scan, said: set[str], *, has_height: bool) -> bool:
    """Whether "outer spring 1.900" speaks of the loads of a part, not of a spring's number."""
    return (has_height or Kind.FORCE in scan.units) and bool(said & (w.PARTS.keys() | w.SEATS | w.OPENS))


def _head(scan: _Scan, said: set[str], loads: set[str], *, has_height: bool) -> Meaning:
    """Of "load at height 1.900" the load, of "load height" the last."""
    if has_height or said & w.AT:
        first = next((word for word in scan.words if word in loads or word in w.HEIGHT), "")
        return Meaning.LOAD if has_height or first in loads else Meaning.HEIGHT
    last = next((word for word in reversed(scan.words) if word in loads or word in w.HEIGHT), "")
    return Meaning.LOAD if last in loads else Meaning.HEIGHT


def _by_unit(scan: _Scan, said: set[str]) -> tuple[Meaning | None, bool]:
    """What a header without a head word means: by its unit, its part, "seat" or "open"."""
    named = bool(said & (w.SEATS | w.OPENS))
    alone = Kind.LENGTH in scan.units and not scan.numbers
    questions = (
        (Kind.RATE in scan.units, Meaning.RATE, named),
        (Kind.FORCE in scan.units, Meaning.LOAD, named),
        (alone, Meaning.HEIGHT, named),
        (named or said & w.READING, Meaning.LOAD, named),
        (said & w.PARTS.keys(), Meaning.LOAD, False),
        (said & (w.LOADING | w.UNLOADING), Meaning.DIRECTION, False),
        (said & (w.ASIDE | w.LIFT), Meaning.NOTHING, True),
    )
    return next(((meaning, strong) for holds, meaning, strong in questions if holds), (None, False))
