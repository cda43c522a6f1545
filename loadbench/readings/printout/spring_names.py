"""Spring numbers that stand as a heading above their readings, and what cannot be a spring's number."""

from __future__ import annotations

import functools
import re

from loadbench.readings.printout.headers import read_header
from loadbench.readings.printout.meaning import Meaning
from loadbench.readings.printout.words import FILLERS, NUMBERING, PARTS, SPRING, folded

LONGEST = 24
_WORDS = re.compile(r"[^\s:,;#=()]+")
_BARE = re.compile(r"[a-z]{0,3}[-_ ]?[0-9]{1,4}[a-z]?", re.IGNORECASE)


@functools.lru_cache(maxsize=4096)
def heading(text: str, *, bare: bool = False) -> tuple[str, str] | None:
    """The spring that a heading row begins.

    Args:
        text: the row's cells, joined by blanks.
        bare: whether a number alone counts too.

    Returns:
        ("7", "outer") for "Spring no. 7, outer"; None for any other text.
    """
    if len(text) > 60:
        return None
    if bare and _BARE.fullmatch(text):
        return text, ""
    words = [(word, folded(word.strip("."))) for word in _WORDS.findall(text)]
    if len(words) < 2 or words[0][1] not in SPRING:
        return None
    parts = [PARTS[plain] for _, plain in words[1:] if plain in PARTS]
    skipped = NUMBERING | FILLERS | PARTS.keys() | {"-", "–"}  # noqa: RUF001
    rest = [word for word, plain in words[1:] if plain not in skipped or (len(words) == 2 and plain.isalpha())]
    if len(rest) != 1 or not (any(ch.isdigit() for ch in rest[0]) or len(rest[0]) == 1):
        return None
    return rest[0], parts[0] if parts else ""


def is_name(text: str) -> bool:
    """Whether a cell that stands alone in its row can be a spring's number: short, in one word."""
    return len(text) <= LONGEST and " " not in text and text[-1].isalnum()


def names_column(text: str) -> bool:
    """Whether a cell in the column of spring numbers is that column's header again."""
    if any(ch.isdigit() for ch in text) or len(text) < 2:
        return False
    read = read_header(text)
    return read.meaning is Meaning.SPRING and not read.unknown and read.strong
