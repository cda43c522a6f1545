"""A plan in a narrow window by trying: the valve with fewest choices first, back where one is left without any."""

from __future__ import annotations

from dataclasses import dataclass

from loadbench.arrays import Indices
from loadbench.fitup.levels import Levels

Option = tuple[int, int, tuple[int, ...]]
"""A choice, what it takes that there is only once, as bits, and how many it takes of each counted size."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Tried:
    """What trying came to: a plan, the choice of each valve; `settled` without a plan: there is none."""

    plan: tuple[int, ...] | None
    settled: bool


def tried(levels: Levels, window: tuple[int, int], use: Indices, there: Indices, most_turns: int) -> Tried:
    """Try to find a plan within a window.

    Args:
        levels: the choices.
        window: the first level and the level after the last.
        use: how many of each counted size a stack takes, (K, N).
        there: how many there are, (N,).
        most_turns: choices tried before it is given up.

    Returns:
        The plan, that there is none, or neither.
    """
    search = _Search(most_turns)
    found = search.completed(_options(levels, window, use), tuple(there.tolist()))
    plan = None if found is None else tuple(choice for _, choice in sorted(found.items()))
    return Tried(plan=plan, settled=plan is not None or search.turns > 0)


def _options(levels: Levels, window: tuple[int, int], use: Indices) -> dict[int, list[Option]]:
    """The choices of each valve in the window."""
    options: dict[int, list[Option]] = {valve: [] for valve in range(levels.valves)}
    shifts = [sum(levels.kinds[:kind]) for kind in range(len(levels.kinds))]
    for choice in range(int(levels.start[window[0]]), int(levels.start[window[1]])):
        bits = 0
        for take, shift in zip(levels.takes, shifts, strict=True):
            bits |= 1 << (int(take[choice]) + shift)
        options[int(levels.valve[choice])].append((choice, bits, tuple(use[levels.stack[choice]].tolist())))
    return options


class _Search:
    """The turns left of one search."""

    def __init__(self, turns: int) -> None:
        self.turns = turns

    def completed(self, options: dict[int, list[Option]], left: tuple[int, ...]) -> dict[int, int] | None:
        """The choice of each of the valves; None where there is none or the turns are used up."""
        if not options:
            return {}
        valve = min(options, key=lambda each: len(options[each]))
        others = {each: own for each, own in options.items() if each != valve}
        for choice, bits, takes in options[valve]:
            self.turns -= 1
            if self.turns <= 0:
                return None
            after = tuple(have - take for have, take in zip(left, takes, strict=True))
            if min(after, default=0) < 0:
                continue
            fewer = {each: [one for one in own if not one[1] & bits] for each, own in others.items()}
            if all(fewer.values()) and (found := self.completed(fewer, after)) is not None:
                return {valve: choice, **found}
        return None
