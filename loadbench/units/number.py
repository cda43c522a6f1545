"""The grammar of typed numbers: decimals with point or comma, groups of thousands, exponents, fractions.

A regular grammar of our own: nothing that was typed is ever evaluated. Values stay exact
fractions until the unit is known.
"""

from __future__ import annotations

import re
import unicodedata
from typing import NamedTuple

VULGAR = {ch: unicodedata.normalize("NFKC", ch).split("\u2044") for ch in "½⅓⅔¼¾⅕⅖⅗⅘⅙⅚⅐⅛⅜⅝⅞⅑⅒"}
_V = "".join(VULGAR)
_HEAD = r"[1-9][0-9]{0,2}"

_NUMBER = re.compile(
    rf"""
    (?P<sign>[+-]?)[ ]?
    (?:
        (?:(?P<whole>[0-9]+)(?:[ ]+|-))? (?P<over>[0-9]+)/(?P<under>[0-9]+)
      | (?:(?P<whole_v>[0-9]+)(?:[ ]+|-)?)? (?P<vulgar>[{_V}])
      | (?:
            (?P<grouped>{_HEAD}
              (?: (?P<gap>[ '])[0-9]{{3}}(?:(?P=gap)[0-9]{{3}})* (?:[.,][0-9]+)?
                | (?:,[0-9]{{3}})+\.[0-9]+ | (?:,[0-9]{{3}}){{2,}}
                | (?:\.[0-9]{{3}})+,[0-9]+ | (?:\.[0-9]{{3}}){{2,}} ))
          | (?P<plain>[0-9]+(?:[.,][0-9]+)?|[.,][0-9]+)
        )
        (?P<exponent>e[+-]?[0-9]+)?
    )
    (?![0-9.,{_V}])
    """,
    re.VERBOSE | re.IGNORECASE,
)

# What could still become a number with more typing; the alternatives go from long to short.
_FRAGMENT = re.compile(
    rf"""
    [+-]?[ ]?
    (?: (?:[0-9]+(?:[ ]+|-))? [0-9]+/
      | (?:[0-9]+|{_HEAD}(?P<gap>[ ',.])[0-9]{{3}}(?:(?P=gap)[0-9]{{3}})*)? [.,] (?![0-9])
      | (?:[0-9]+(?:[.,][0-9]+)?|[.,][0-9]+) e[+-]? (?![0-9])
      | {_HEAD}(?P<sep>[ ',.])(?:[0-9]{{3}}(?P=sep))*[0-9]{{0,2}} (?![0-9])
      | [0-9]+(?:[ ]+|-)[0-9]*
    )?
    """,
    re.VERBOSE | re.IGNORECASE,
)

EXPONENT_LIMIT = 400
"""Beyond this power of ten no float can hold the number; it is refused before it is computed."""


class Number(NamedTuple):
    """A number read from the start of a text: its exact value, and how it was typed."""

    numerator: int
    denominator: int
    end: int  # where the unit begins
    decimals: int = 0  # typed after the point or comma, before the exponent
    exponent: int = 0
    exponent_text: str = ""
    comma: bool = False
    fraction: bool = False
    doubt: int = -1  # place of a comma that may be a point or a group mark; -1: none
    fault: str = ""  # why the number is refused though its form is right


def read_number(text: str) -> Number | None:
    """Read the number that a text begins with.

    Args:
        text: plain text (see `table.PLAIN`), without outer blanks.

    Returns:
        The number, or None where the text does not begin with a whole one.
    """
    match = _NUMBER.match(text)
    if match is None:
        return None
    sign = -1 if match["sign"] == "-" else 1
    if match["plain"] is None and match["grouped"] is None:
        return _fraction(match, sign)
    return _decimal(match, sign)


def _fraction(match: re.Match[str], sign: int) -> Number:
    over, under = VULGAR[match["vulgar"]] if match["vulgar"] else (match["over"], match["under"])
    whole, above, below = match["whole"] or match["whole_v"], int(over), int(under)
    fault = ""
    if below == 0:
        fault, below = "a fraction with nothing below the line", 1
    elif whole and not 0 < above < below:
        fault = f"the fraction {over}/{under} after a whole number is not between nothing and one"
    return Number(
        numerator=sign * (int(whole or 0) * below + above),
        denominator=below,
        end=match.end(),
        fraction=True,
        fault=fault,
    )


def _decimal(match: re.Match[str], sign: int) -> Number:
    plain: str | None = match["plain"]
    digits, comma, doubt = (plain, "," in plain, -1) if plain is not None else (*_ungrouped(match["grouped"]), -1)
    before, _, after = digits.replace(",", ".").partition(".")
    if plain is not None and comma and len(after) == 3 and 1 <= len(before) <= 3 and before[0] != "0":
        doubt = match.start("plain") + len(before)
    exponent_text: str = match["exponent"] or ""
    exponent = int(exponent_text[1:]) if exponent_text else 0
    power = exponent - len(after)
    fault = "a number too large or too small to work with" if abs(exponent) > EXPONENT_LIMIT else ""
    value = sign * int(before + after)
    return Number(
        numerator=value * 10**power if power > 0 and not fault else value,
        denominator=10**-power if power < 0 and not fault else 1,
        end=match.end(),
        decimals=len(after),
        exponent=exponent,
        exponent_text=exponent_text,
        comma=comma,
        doubt=doubt,
        fault=fault,
    )


def _ungrouped(text: str) -> tuple[str, bool]:
    """Digits with at most one decimal mark, and whether that mark is a comma."""
    last = max(text.rfind("."), text.rfind(","))
    mark = text[last] if last >= 0 and text.count(text[last]) == 1 else ""
    whole, _, after = text.partition(mark) if mark else (text, "", "")
    bare = "".join(ch for ch in whole if ch in "0123456789")
    return (f"{bare}{mark}{after}", mark == ",")


def read_fragment(text: str) -> int:
    """How much of a text is a number on its way: the length of "1." or "1 7/" or "-"; 0 where there is none."""
    match = _FRAGMENT.match(text)
    return match.end() if match else 0
