"""Shims over or under buckets: new = old + measured - wanted, from stock and crossed over between valves.

A valve whose lash is within its tolerance keeps its shim. For the others the fewest shims are bought, then the greatest
deviation from the wanted lash is made least, then the sum of all.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from loadbench.arrays import Floats, Indices
from loadbench.errors import InputError, Place

SLACK = 1e-9
"""m: far below any gauge."""


def shim_wanted(old: Floats, found: Floats, wanted: Floats) -> Floats:
    """The shim that gives a valve its lash.

    Args:
        old: shim in place, m, shape (valves,).
        found: lash measured with it, m, likewise.
        wanted: lash, m, likewise.

    Returns:
        Shim, m, likewise.

    Source:
        own derivation: what is too much of lash goes into the shim.
    """
    return np.asarray(old + found - wanted)


@dataclass(frozen=True, slots=True, kw_only=True)
class ShimChoice:
    """One valve's new shim, m, and the lash it leaves; `taken_from` is the place of the valve it comes from.

    None there and not `buy`: from stock, at `stock` in the list. `kept`: the valve's own shim stays in.
    """

    shim: float
    lash: float
    taken_from: int | None = None
    stock: int | None = None
    buy: bool = False
    kept: bool = False


def choose_shims(
    old: Floats,
    found: Floats,
    wanted: Floats,
    *,
    tolerance: float,
    stock: Floats,
    counts: tuple[int | None, ...] = (),
    grid: float = 5e-5,
) -> tuple[ShimChoice, ...]:
    """A shim for every valve.

    Args:
        old: shims in place, m, shape (valves,).
        found: lash measured, m, likewise.
        wanted: lash wanted, m, likewise.
        tolerance: how far from it lash may be, m, zero or above.
        stock: sizes in stock, m, shape (sizes,).
        counts: how many of each; None or left out: as many as are wanted.
        grid: sizes that can be bought are whole multiples of it, m.

    Returns:
        In the valves' order.

    Raises:
        InputError: a tolerance below zero or finer than half the grid where something has to be bought, a grid at zero.

    Source:
        own derivation: an assignment, solved for the shims bought, then by thresholds for the greatest deviation.
    """
    if tolerance < 0 or grid <= 0:
        raise InputError("a tolerance below zero, or no grid", expected="zero or above", place=Place(field="tolerance"))
    ideal = shim_wanted(old, found, wanted)
    inside = np.abs(found - wanted) <= tolerance + SLACK
    to_change = np.flatnonzero(~inside)
    choices: dict[int, ShimChoice] = {
        int(valve): ShimChoice(shim=float(old[valve]), lash=float(found[valve]), kept=True)
        for valve in np.flatnonzero(inside)
    }
    if to_change.size:
        sizes, origins = _pool(old, to_change, stock, counts)
        off = np.abs(sizes[None, :] - ideal[to_change][:, None])
        placed = _assigned(off, tolerance)
        for row, valve in enumerate(to_change):
            at = placed[row]
            size = float(sizes[at]) if at is not None else round(float(ideal[valve]) / grid) * grid
            lash = float(found[valve] + old[valve] - size)
            taken, kept_stock = origins[at] if at is not None else (None, None)
            choices[int(valve)] = ShimChoice(shim=size, lash=lash, taken_from=taken, stock=kept_stock, buy=at is None)
    return tuple(choices[valve] for valve in range(old.size))


Origin = tuple[int | None, int | None]


def _pool(
    old: Floats, to_change: Indices, stock: Floats, counts: tuple[int | None, ...]
) -> tuple[Floats, list[Origin]]:
    """The shims there are: those taken out, then those in stock, each as often as it can be used."""
    sizes = [float(old[valve]) for valve in to_change]
    origins: list[Origin] = [(int(valve), None) for valve in to_change]
    for place, size in enumerate(stock):
        count = counts[place] if place < len(counts) else None
        often = to_change.size if count is None else min(count, to_change.size)
        sizes += [float(size)] * often
        origins += [(None, place)] * often
    return np.array(sizes), origins


def _assigned(off: Floats, tolerance: float) -> list[int | None]:
    """For each valve the shim of the pool, or None where one has to be bought."""
    from scipy.optimize import linear_sum_assignment

    valves, shims = off.shape
    worst = float(np.max(off)) + 1.0

    def solved(most: float, *, by_sum: bool) -> tuple[int, list[int | None]]:
        allowed = off <= most + SLACK
        price = valves * worst * 10  # of buying: more than all deviations together
        cost = np.where(allowed, off if by_sum else 0.0, price * 4)
        bought = np.full((valves, valves), price * 4)
        np.fill_diagonal(bought, price)
        rows, columns = linear_sum_assignment(np.hstack([cost, bought]))
        found: list[int | None] = [None] * valves
        for row, column in zip(rows, columns, strict=True):
            found[int(row)] = int(column) if column < shims and allowed[row, column] else None
        return sum(each is None for each in found), found

    least, _ = solved(tolerance, by_sum=False)
    steps = np.unique(off[off <= tolerance + SLACK])
    low, high = 0, steps.size - 1
    while low < high:  # the least greatest deviation that buys no more
        middle = (low + high) // 2
        if solved(float(steps[middle]), by_sum=False)[0] <= least:
            high = middle
        else:
            low = middle + 1
    most = float(steps[low]) if steps.size else tolerance
    return solved(most, by_sum=True)[1]
