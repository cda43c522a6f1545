"""The valves in the order in which a head is laid out: by cylinder, intake before exhaust."""

from __future__ import annotations

import re
from collections.abc import Sequence

from loadbench.job.model import Valve

_FIGURES = re.compile(r"(\d+)")


def in_cylinder_order(valves: Sequence[Valve]) -> tuple[int, ...]:
    """The indices of the valves by the first number in their name, then intake before exhaust, then by name.

    Args:
        valves: of the job.

    Returns:
        Their indices; valves without a number stay at the end in the order of the job.
    """
    return tuple(sorted(range(len(valves)), key=lambda index: _key(valves[index], index)))


def _key(valve: Valve, index: int) -> tuple[int, int, str, int]:
    name = (valve.id or "").upper()
    number = _FIGURES.search(name)
    letters = "".join(character for character in name if character.isalpha())
    line = valve.line or {"I": "intake", "E": "exhaust"}.get(letters[:1], "")
    rank = {"intake": 0, "exhaust": 1}.get(line, 2)
    return (int(number.group(1)) if number else 10**9, rank, name, index)
