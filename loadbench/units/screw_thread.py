"""Threads of adjusters as they are named: "7/16-20", "3/8-24 UNF", "M10x1.25"."""

from __future__ import annotations

import re

from loadbench.errors import InputError, UnfinishedEntry
from loadbench.units.faults import LONGEST, unquoted
from loadbench.units.table import INCH, PLAIN

_EXPECTED = "a thread such as 7/16-20 or M10x1.25"
# A class of fit, both of a pair where they are named so, and a left hand: neither changes the pitch.
_FIT = r"[1-6][a-h]{1,2}(?:[1-6][a-h])?"
_CLASS = rf"(?: ?-? ?{_FIT}(?:/{_FIT})?)?(?: ?-? ?(?:lh|rh))?"

_INCH = re.compile(
    r"(?:(?:(?P<whole>[1-9]) ?[ -] ?)?(?P<over>[0-9]{1,2})/(?P<under>[0-9]{1,2})"
    r"|(?P<decimal>[0-9]?\.[0-9]{1,4})|#?(?P<gauge>[0-9]{1,2}))"
    r"(?: ?(?:in\.?|inch|\"))? ?- ?(?P<turns>[0-9]{1,3})(?: ?tpi)?"
    r"(?: ?(?:un[jr]?(?:c|f|ef|s)?|n(?:c|f|ef)))?" + _CLASS,
    re.IGNORECASE,
)
_METRIC = re.compile(
    r"mj? ?(?P<size>[0-9]{1,3}(?:[.,][0-9]{1,2})?) ?[x\u00d7] ?(?P<pitch>[0-9](?:[.,][0-9]{1,3})?|[.,][0-9]{1,3})"
    r"(?: ?mm)?" + _CLASS,
    re.IGNORECASE,
)
_COARSE = re.compile(r"mj? ?[0-9]{1,3}(?:[.,][0-9]{0,2})?(?: ?[x\u00d7] ?[0-9]?[.,]?)?", re.IGNORECASE)
_BEGUN = re.compile(r"mj?|#|#?[0-9]{1,2}(?:[ -][0-9]{0,2})?(?:/[0-9]{0,2})?(?: ?(?:in?|inch|\"))? ?-? ?", re.IGNORECASE)


def parse_thread(text: str) -> float:
    """The pitch of a named thread.

    Args:
        text: what was typed: diameter and turns per inch, or M, diameter and pitch in mm.

    Returns:
        Pitch, m.

    Raises:
        UnfinishedEntry: more typing may make it right; also a bare "M8", whose pitch is not guessed.
        InputError: it is no thread, or one that cannot be (no turns, a pitch over the diameter).

    Source:
        Designations of ASME B1.1 (inch) and ISO 965-1 (metric).
    """
    typed = text.strip()
    if len(typed) > LONGEST:
        raise InputError(f"longer than {LONGEST} characters", expected=_EXPECTED)
    plain = " ".join(typed.translate(PLAIN).split(" "))
    if match := _INCH.fullmatch(plain):
        return _inch_pitch(match, typed)
    if match := _METRIC.fullmatch(plain):
        return _metric_pitch(match, typed)
    if _COARSE.fullmatch(plain):
        raise UnfinishedEntry(f"{unquoted(typed)} without its pitch", expected="the pitch too, such as M8x1.25 or M8x1")
    if not plain or _BEGUN.fullmatch(plain):
        raise UnfinishedEntry("the thread is not finished" if plain else "nothing is entered yet", expected=_EXPECTED)
    raise InputError(f'"{unquoted(typed)}" is not a thread', expected=_EXPECTED)


def _inch_pitch(match: re.Match[str], typed: str) -> float:
    turns = int(match["turns"])
    nothing_below = match["under"] is not None and int(match["under"]) == 0
    if turns == 0 or nothing_below:
        raise InputError(f"{unquoted(typed)} has nothing where a number should stand", expected=_EXPECTED)
    diameter = _inch_diameter(match)
    if diameter * turns <= 1:
        raise InputError(f"{unquoted(typed)} has a pitch as large as its diameter", expected=_EXPECTED)
    return float(INCH / turns)


def _inch_diameter(match: re.Match[str]) -> float:
    """Major diameter, in; numbered sizes are 0.060 in and 0.013 in for each number (ASME B1.1)."""
    if match["over"]:
        return int(match["whole"] or 0) + int(match["over"]) / int(match["under"])
    if match["decimal"]:
        return float(match["decimal"])
    return 0.060 + 0.013 * int(match["gauge"])


def _metric_pitch(match: re.Match[str], typed: str) -> float:
    size, pitch = (float(match[name].replace(",", ".")) for name in ("size", "pitch"))
    if not 0 < pitch < size:
        raise InputError(f"{unquoted(typed)} has a pitch that cannot be cut on that diameter", expected=_EXPECTED)
    return pitch / 1000
