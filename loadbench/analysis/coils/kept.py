"""Figures as they were the last time: most edits leave most of a coil as it was."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any, TypeVar

Made = TypeVar("Made")
MOST = 12
"""How many answers are kept for one place: the job before the edit, and the other followers of the match."""

_KEPT: dict[tuple[str, str], tuple[tuple[tuple[object, ...], Any], ...]] = {}
"""By what it is and where it stands: what each answer rests on, and the answer; the last made comes first."""


def known(what: str, where: str, rests_on: tuple[object, ...]) -> Any:
    """An answer that was kept; None where none rests on just this.

    Args:
        what: kind of answer, such as "basis".
        where: the coil's path.
        rests_on: everything that the answer rests on; parts without equality of their own are held by identity.

    Returns:
        The same object as the last time, or None.
    """
    for before, answer in _KEPT.get((what, where), ()):
        if before == rests_on:
            return answer
    return None


def keep(what: str, where: str, rests_on: tuple[object, ...], answer: Made) -> Made:
    """Keep an answer, in the place of the oldest; the answer again."""
    _KEPT[what, where] = ((rests_on, answer), *_KEPT.get((what, where), ())[: MOST - 1])
    return answer


def kept(what: str, where: str, rests_on: tuple[object, ...], make: Callable[[], Made]) -> Made:
    """An answer as it was, or made anew and kept."""
    answer: Made | None = known(what, where, rests_on)
    return keep(what, where, rests_on, make()) if answer is None else answer
