"""The words that stand over the columns of a printout: plain English and the trade's, and common foreign ones.

They stand in words.toml; they are compared without case and without accents.
"""

from __future__ import annotations

import functools
import re
import tomllib
import unicodedata
from importlib.resources import files
from typing import Any

_TABLE: dict[str, Any] = tomllib.loads((files("loadbench.readings.printout") / "words.toml").read_text("utf-8"))


def _set(name: str) -> frozenset[str]:
    return frozenset(_TABLE[name].split())


def _parts(name: str) -> dict[str, str]:
    return {word: part for part, words in _TABLE[name].items() for word in words.split()}


SPRING = _set("spring")
NUMBERING = _set("numbering")
HEIGHT = _set("height")
LOAD = _set("load")
LOAD_WITH_ORDER = _set("load_with_order")
RATE = _set("rate")
DIRECTION = _set("direction")
REPEAT = _set("repeat")
MARK = _set("mark")
PART = _set("part")
UNIT = _set("unit")
READING = _set("reading")
OTHER = _set("other")
ASIDE = _set("aside")
DERIVED = _set("derived")
SEATS = _set("seats")
OPENS = _set("opens")
AT = _set("at")
LIFT = _set("lift")
FILLERS = _set("fillers")
LOADING = _set("loading")
UNLOADING = _set("unloading")
SUMMARY = _set("summary")
SUMMARY_REST = _set("summary_rest")

PARTS = _parts("parts")
"""The part that a word names."""

SHORT_PARTS = _parts("short_parts")
"""Further words of a cell in a column of parts."""

WAYS = {"down": "loading", "up": "unloading"}
"""Words of a direction that another tester may mean the other way round."""

_BETWEEN_PARTS = re.compile(r"[\s+&/,]+(?:(?:and|und|et|y)\s+)?")


@functools.lru_cache(maxsize=8192)
def folded(word: str) -> str:
    """A word as it is compared: lower case, without accents.

    Args:
        word: as printed.

    Returns:
        "Höhe" as "hohe", "außen" as "aussen".
    """
    plain = word.casefold()
    if plain.isascii():
        return plain
    return "".join(ch for ch in unicodedata.normalize("NFKD", plain) if not unicodedata.combining(ch))


@functools.lru_cache(maxsize=8192)
def sums_up(text: str) -> bool:
    """Whether a cell names a row that sums up: "Average", "Std dev", "Spec min".

    Args:
        text: the cell.

    Returns:
        True for a word of SUMMARY, alone or among other such words and numbers.
    """
    words = folded(text.strip(" :=.()")).replace("-", " ").replace("/", " ").split()
    if not words or folded(text.strip(" :=.()")) in SUMMARY:
        return bool(words)
    known = SUMMARY | SUMMARY_REST
    rest = [word.strip(".:()") for word in words]
    return rest[0] in SUMMARY and all(word in known or not word or word.isdigit() for word in rest)


@functools.lru_cache(maxsize=1024)
def part_meant(text: str) -> str:
    """The part that a cell of a column of parts names.

    Args:
        text: the cell, not blank.

    Returns:
        "outer", "inner" or "pair" for the words that mean them, else the text itself in lower case.
    """
    plain = folded(text.strip())
    words = [word for word in _BETWEEN_PARTS.split(plain) if word]
    named = {PARTS.get(word) or SHORT_PARTS.get(word, "") for word in words} if len(words) > 1 else set()
    if {"outer", "inner"} <= named:
        return "pair"
    named = {PARTS[word] for word in words if word in PARTS}
    if len(named) == 1:
        return named.pop()
    return SHORT_PARTS.get(plain) or " ".join(text.lower().split())


@functools.lru_cache(maxsize=1024)
def direction_meant(text: str) -> tuple[str, bool] | None:
    """The direction that a cell names.

    Args:
        text: the cell, not blank.

    Returns:
        "loading" or "unloading", and whether that is sure; None for another word.
    """
    plain = folded(text.strip(" ."))
    if plain in LOADING or plain in UNLOADING:
        return ("loading" if plain in LOADING else "unloading"), True
    return (WAYS[plain], False) if plain in WAYS else None
