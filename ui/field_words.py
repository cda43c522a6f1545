"""The words that a text field knows, by its path in the document; anything else may be typed all the same."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache

from loadbench.job.cam_checks import KNOWN_LAWS
from loadbench.spring.ends import Ends
from loadbench.spring.materials import materials
from ui.labels import pattern_of


@dataclass(frozen=True, slots=True, kw_only=True)
class KnownWord:
    """A word that the job understands; `meaning` is what it stands for, "" where the word says it."""

    text: str
    meaning: str = ""


@cache
def _wires() -> tuple[KnownWord, ...]:
    """The names first, then what else they are called."""
    rows = list(materials().values())
    names = [KnownWord(text=each.name, meaning=each.label) for each in rows]
    others = [KnownWord(text=alias, meaning=each.label) for each in rows for alias in each.aliases]
    return (*names, *others)


@cache
def _ends() -> tuple[KnownWord, ...]:
    return tuple(KnownWord(text=str(each)) for each in Ends)


@cache
def _laws() -> tuple[KnownWord, ...]:
    return tuple(KnownWord(text=each) for each in KNOWN_LAWS)


_WORDS = {"spring.coils.*.material": _wires, "spring.coils.*.ends": _ends, "cam.law.name": _laws}


def words_known(field: str) -> tuple[KnownWord, ...]:
    """The words of a text field.

    Args:
        field: dotted path; a line's own counts as the common one.

    Returns:
        In the order in which they are offered; none where the field is free text alone.
    """
    known = _WORDS.get(pattern_of(field))
    return () if known is None else known()
