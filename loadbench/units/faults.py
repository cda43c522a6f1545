"""What is wrong with an entry, in a builder's words: unfinished, of another kind, two numbers, an unknown unit."""

from __future__ import annotations

import difflib
import re

from loadbench.errors import InputError, UnfinishedEntry
from loadbench.units.kinds import NOUN, ONLY_COMPUTED, Kind, Style, expected
from loadbench.units.number import VULGAR, read_fragment, read_number
from loadbench.units.table import WORDS, unit_key, unit_words

LONGEST = 40
"""The most characters an entry may have; a quantity needs fewer."""

_DIGITS = {*"0123456789", *VULGAR}
_TORQUES = {"ft lb", "lb ft", "ft lbf", "lbf ft", "ft lbs", "lbs ft", "in lb", "lb in", "in lbs", "n m", "nm", "kg m"}
_OPERATORS = re.compile(r"[0-9)] *[+*/^=<>±\u00d7\u2013\u2014-] *[0-9(.]|±|\*\*")
_PER_BEGUN = re.compile(r" p(?:er?)?$")  # "lb p" on its way to "lb per in"
_TAIL = " ^·*-"


def unquoted(text: str) -> str:
    """Typed text fit to stand in a message: what cannot be printed becomes a replacement mark."""
    return "".join(ch if ch.isprintable() else "\ufffd" for ch in text)


def diagnosis(plain: str, typed: str, kind: Kind, style: Style | None) -> InputError:
    """The error for an entry that is not a number and a unit of this kind.

    Args:
        plain: the entry in plain characters, as the grammar saw it.
        typed: the same as typed; what messages quote.
        kind: what the field wants.
        style: for the example in the message.

    Returns:
        An UnfinishedEntry where more typing can make it right, else an InputError.
    """
    number = read_number(plain)
    end = number.end if number else 0
    rest, key = typed[end:].strip(), unit_key(plain[end:])
    wanted = expected(kind, style)
    hidden = next((ch for ch in plain if not ch.isprintable()), None)
    if hidden is not None:
        return InputError(f"a character that cannot be seen, U+{ord(hidden):04X}", expected=wanted)
    if unfinished := _unfinished_number(plain, kind):
        return UnfinishedEntry(unfinished, expected=wanted)
    if number is None:
        return InputError(_no_number(plain, typed), expected=wanted)
    others = " or ".join(NOUN[known] for known in Kind if key in WORDS[known] and known not in ONLY_COMPUTED)
    what = f'"{unquoted(rest)}" measures {others}; this field wants {NOUN[kind]}' if others else ""
    if _begins_unit(plain[end:], kind):
        return UnfinishedEntry(what or f'the unit "{unquoted(rest)}" is not finished', expected=wanted)
    return InputError(what or _odd_rest(plain, typed, rest, kind), expected=wanted)


def _unfinished_number(plain: str, kind: Kind) -> str:
    """Why an entry is a number on its way; "" where it is not one."""
    end = read_fragment(plain)
    rest = plain[end:]
    if not plain:
        return "nothing is entered yet"
    if end == len(plain):
        return "the number is not finished"
    if end and not plain[:end].rstrip().endswith(("+", "-", ".", ",", "/", "e", "E")):
        return ""  # digits stand there: "1 7 in" is two numbers, not one on its way
    if unit_key(rest) in WORDS[kind] or _begins_unit(rest, kind):
        return "the number is not finished" if end else "a unit without a number"
    return ""


def _begins_unit(rest: str, kind: Kind) -> bool:
    key = unit_key(rest.strip().rstrip(_TAIL))
    key = _PER_BEGUN.sub("/", key)
    return bool(key) and any(word.startswith(key) for word in WORDS[kind])


def _no_number(plain: str, typed: str) -> str:
    if re.match(r"[\u2013\u2014]\s?[0-9.,]", plain):
        return "a dash stands where a minus sign should"
    if not any(ch in _DIGITS for ch in plain):
        return f'no number in "{unquoted(typed)}"'
    if plain[0] in _DIGITS or plain[0] in ".,+-":
        return f'the number in "{unquoted(typed)}" is not well formed'
    return f'"{unquoted(typed)}" does not begin with a number'


def _odd_rest(plain: str, typed: str, rest: str, kind: Kind) -> str:
    key = unit_key(rest)
    if key in _TORQUES:
        return f'"{unquoted(rest)}" measures a torque; this field wants {NOUN[kind]}'
    if _OPERATORS.search(plain):
        return f'"{unquoted(typed)}" is a sum, a range or a tolerance; one number should stand here'
    if re.search(r"(?:^|[^\W\d]|[ \"'])[ .]*[0-9]", rest):
        return "more than one number in one entry"
    near = difflib.get_close_matches(key, WORDS[kind], n=1, cutoff=0.6)
    offer = next((word for word in unit_words(kind) if near and unit_key(word) == near[0]), None)
    return f'the unit "{unquoted(rest)}" is not known' + (f"; did you mean {offer}?" if offer else "")
