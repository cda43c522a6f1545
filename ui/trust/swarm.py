"""Marks of one column set side by side, so that none hides another."""

from __future__ import annotations

from collections.abc import Sequence

CLOSER = 0.85
LEAST = 2.0  # px: closer marks could not be told apart anyway
ROUNDING = 0.98  # of a distance squared


def spread_out(heights: Sequence[float], apart: float, reach: float) -> tuple[list[float], float]:
    """How far each mark steps aside.

    Args:
        heights: of the marks, px, in any order.
        apart: least distance of two marks, px.
        reach: how far a mark may step to either side, px.

    Returns:
        The steps, px, and the distance that was kept: smaller than asked for where the column is too narrow.
    """
    rising = sorted(heights)
    while apart >= LEAST:
        if _has_room(rising, apart, reach):
            steps = _stepped(heights, apart, reach)
            if steps is not None:
                return steps, apart
        apart *= CLOSER
    return [0.0] * len(heights), apart


def _has_room(rising: list[float], apart: float, reach: float) -> bool:
    """Whether so many can be at all: marks less than half the distance apart in height must stand side by side."""
    most, first = int(2 * reach / (0.86 * apart)) + 1, 0
    for last, height in enumerate(rising):
        while height - rising[first] > apart / 2:
            first += 1
        if last - first + 1 > most:
            return False
    return True


def _stepped(heights: Sequence[float], apart: float, reach: float) -> list[float] | None:
    """None where there is no room."""
    steps = [0.0] * len(heights)
    placed: list[tuple[float, float]] = []
    tries = _tries(apart / 2, reach)
    for mark in sorted(range(len(heights)), key=lambda each: heights[each]):
        y = heights[mark]
        placed = [other for other in placed if y - other[1] < apart]  # only these can touch
        step = _free(tries, [(x, ROUNDING * apart**2 - (y - b) ** 2) for x, b in placed])
        if step is None:
            return None
        steps[mark] = step
        placed.append((step, y))
    return steps


def _free(tries: list[float], near: list[tuple[float, float]]) -> float | None:
    """The first place that is clear of all that are near, each with the square of its distance across."""
    for x in tries:  # plain loops: this runs for every mark of a picture
        for other, least in near:
            if (x - other) * (x - other) < least:
                break
        else:
            return x
    return None


def _tries(step: float, reach: float) -> list[float]:
    """0, then to the right and left, ever farther."""
    return [0.0, *(side * step * k for k in range(1, int(reach / step) + 1) for side in (1, -1))]
