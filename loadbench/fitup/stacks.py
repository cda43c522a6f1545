"""The stacks of shims that stock gives: which thicknesses can lie under a spring, and of which shims.

Source: common practice for the limits of a stack.
"""

from __future__ import annotations

import itertools
from collections.abc import Mapping, Sequence

from loadbench.errors import InputError
from loadbench.fitup.inverse import MOST_SHIMS, SLACK, TALLEST_STACK

SAME_THICKNESS = 1e-9
"""Stacks whose thickness, m, differs by no more are the same height."""

Stack = tuple[float, ...]


def same_size(one: float, other: float) -> bool:
    """Whether two thicknesses, m, are one but for float rounding."""
    return abs(one - other) <= SAME_THICKNESS


def stacks_of(
    stock: Sequence[float],
    counts: Mapping[float, int] | None = None,
    most_shims: int = MOST_SHIMS,
    tallest_stack: float = TALLEST_STACK,
) -> tuple[Stack, ...]:
    """All stacks of stock shims, the empty one first, rising in thickness.

    Of equally thick stacks the one with fewest shims is kept. Where a size is counted, those are kept as well that
    need fewer of it.

    Args:
        stock: thicknesses, m, above zero; each may be used again.
        counts: how many there are of a size, m; one that is not named is there without end.
        most_shims: how many may lie under one spring.
        tallest_stack: how thick they may be together, m.

    Returns:
        The stacks, each thickest shim first.

    Raises:
        InputError: a shim at zero or below.
    """
    if any(not size > 0 for size in stock):
        raise InputError("A shim at zero or below.", expected="shims above zero")
    counts = counts or {}
    sizes = _distinct(stock)
    left = {size: count for size in sizes for own, count in counts.items() if same_size(own, size)}
    stacks = [
        stack
        for number in range(most_shims + 1)
        for stack in itertools.combinations_with_replacement(sizes, number)
        if sum(stack) <= tallest_stack * (1 + SLACK) and all(stack.count(size) <= left[size] for size in left)
    ]
    stacks.sort(key=sum)
    return tuple(stack for group in _equally_thick(stacks) for stack in _needed(group, list(left)))


def _distinct(stock: Sequence[float]) -> list[float]:
    """Each size once, thickest first."""
    sizes: list[float] = []
    for size in sorted(stock, reverse=True):
        if not sizes or sizes[-1] - size > SAME_THICKNESS:
            sizes.append(size)
    return sizes


def _equally_thick(stacks: Sequence[Stack]) -> list[list[Stack]]:
    groups: list[list[Stack]] = []
    for stack in stacks:
        if groups and sum(stack) - sum(groups[-1][0]) <= SAME_THICKNESS:
            groups[-1].append(stack)
        else:
            groups.append([stack])
    return groups


def _needed(group: Sequence[Stack], counted: Sequence[float]) -> list[Stack]:
    """Those to which no other is equal or better in the number of shims and in the need of every counted size."""
    kept: dict[Stack, tuple[int, ...]] = {}
    for stack in sorted(group, key=lambda each: (len(each), [-size for size in each])):
        need = (len(stack), *(stack.count(size) for size in counted))
        if not any(all(a <= b for a, b in zip(own, need, strict=True)) for own in kept.values()):
            kept[stack] = need
    return list(kept)
