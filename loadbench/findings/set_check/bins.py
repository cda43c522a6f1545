"""Springs put into bins of nearly equal load, so that those of one bin suit each other."""

from __future__ import annotations

import string
from collections.abc import Mapping


def bins_of(loads: Mapping[str, float], width: float) -> dict[str, str]:
    """The fewest bins of a width that hold all loads, named A, B, C from the lightest.

    Args:
        loads: load of each spring by name, N.
        width: greatest less least load allowed inside a bin, N, above zero.

    Returns:
        The bin of each spring by name.

    Source:
        own derivation: covering points on a line by intervals of one length, from the left, takes the fewest.
    """
    placed: dict[str, str] = {}
    number, start = -1, float("-inf")
    for name, load in sorted(loads.items(), key=lambda item: (item[1], item[0])):
        if load > start + width * (1 + 1e-9):
            number, start = number + 1, load
        placed[name] = bin_name(number)
    return placed


def bin_name(number: int) -> str:
    """A, B ... Z, AA, AB ... for 0, 1 ..."""
    letters = string.ascii_uppercase
    more, own = divmod(number, len(letters))
    return (bin_name(more - 1) if more else "") + letters[own]
