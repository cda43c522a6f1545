"""Shims over or under buckets: new = old + measured - wanted, from stock and crossed over between valves.

A valve whose lash is within its tolerance keeps its shim, unless all may be moved. For the others the fewest shims are
bought, then the greatest deviation from the wanted lash is made least, bought shims counted, then the sum of all.
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

    None there and not `buy`: from stock, at `stock` in the list. `kept`: the valve's own shim stays in. `within` is
    False where even the nearest shim that can be bought leaves lash outside its tolerance.
    """

    shim: float
    lash: float
    taken_from: int | None = None
    stock: int | None = None
    buy: bool = False
    kept: bool = False
    within: bool = True


def choose_shims(  # noqa: PLR0913 - three measurements a valve, what there is, and how near
    old: Floats,
    found: Floats,
    wanted: Floats,
    *,
    tolerance: float,
    stock: Floats,
    counts: tuple[int | None, ...] = (),
    grid: float = 5e-5,
    move_all: bool = False,
) -> tuple[ShimChoice, ...]:
    """A shim for every valve.

    Args:
        old: shims in place, m, shape (valves,).
        found: lash measured, m, likewise.
        wanted: lash wanted, m, likewise.
        tolerance: how far from it lash may be, m, zero or above.
        stock: sizes in stock, m, shape (sizes,).
        counts: how many of each; None or left out: as many as are wanted.
        grid: sizes that can be bought are whole multiples of it, m, one at least.
        move_all: whether a valve within its tolerance may give its shim to another; fewer are bought, more are moved.

    Returns:
        In the valves' order.

    Raises:
        InputError: values that are no numbers, a tolerance below zero, no grid, a count below zero.

    Source:
        own derivation: an assignment, solved for the shims bought, then by thresholds for the greatest deviation.
    """
    _checked(old, found, wanted, tolerance, counts, grid)
    ideal = shim_wanted(old, found, wanted)
    inside = np.abs(found - wanted) <= tolerance + SLACK
    moving = np.arange(old.size) if move_all else np.flatnonzero(~inside)
    choices: dict[int, ShimChoice] = {
        int(valve): ShimChoice(shim=float(old[valve]), lash=float(found[valve]), kept=True)
        for valve in np.setdiff1d(np.arange(old.size), moving)
    }
    if moving.size:
        sizes, origins = _pool(old, moving, ideal[moving], tolerance, (stock, counts))
        off = np.abs(sizes[None, :] - ideal[moving][:, None])
        bought = np.maximum(np.round(ideal[moving] / grid), 1) * grid
        placed = _assigned(off, np.abs(bought - ideal[moving]), tolerance)
        for row, valve in enumerate(moving):
            at = placed[row]
            size = float(bought[row] if at is None else sizes[at])
            taken, shelf = (None, None) if at is None else origins[at]
            choices[int(valve)] = ShimChoice(
                shim=size,
                lash=float(found[valve] + old[valve] - size),
                taken_from=None if taken == valve else taken,
                stock=shelf,
                buy=at is None,
                kept=at is not None and taken == valve,
                within=bool(abs(size - ideal[valve]) <= tolerance + SLACK),
            )
    return tuple(choices[valve] for valve in range(old.size))


def _checked(
    old: Floats, found: Floats, wanted: Floats, tolerance: float, counts: tuple[int | None, ...], grid: float
) -> None:
    if not tolerance >= 0 or not grid > 0:
        raise InputError("a tolerance below zero, or no grid", expected="zero or above", place=Place(field="tolerance"))
    if any(count is not None and count < 0 for count in counts):
        raise InputError("a count of shims below zero", expected="zero or more", place=Place(field="counts"))
    for name, values in (("old", old), ("found", found), ("wanted", wanted)):
        if not np.all(np.isfinite(values)):
            row = int(np.flatnonzero(~np.isfinite(values))[0]) + 1
            raise InputError("a valve without a number", expected="a length", place=Place(field=name, row=row))


Origin = tuple[int | None, int | None]


def _pool(
    old: Floats, moving: Indices, ideal: Floats, tolerance: float, shelf: tuple[Floats, tuple[int | None, ...]]
) -> tuple[Floats, list[Origin]]:
    """The shims there are: those taken out, then those in stock, each as often as it can be used."""
    stock, counts = shelf
    sizes = [float(old[valve]) for valve in moving]
    origins: list[Origin] = [(int(valve), None) for valve in moving]
    for place, size in enumerate(stock):
        count = counts[place] if place < len(counts) else None
        useful = int(np.count_nonzero(np.abs(ideal - size) <= tolerance + SLACK))
        often = useful if count is None else min(count, useful)
        sizes += [float(size)] * often
        origins += [(None, place)] * often
    return np.array(sizes), origins


def _assigned(off: Floats, bought: Floats, tolerance: float) -> list[int | None]:
    """For each valve the shim of the pool, or None where one has to be bought.

    `off` is how far each shim of the pool would leave each valve, (valves, shims); `bought` how far a bought one would.
    """
    from scipy.optimize import linear_sum_assignment

    valves, shims = off.shape
    near = off <= tolerance + SLACK
    steps = np.unique(np.concatenate([off[near], bought]))
    unit = float(steps[-1]) or 1.0
    price = valves + 1.0  # of buying: more than all deviations together, each at most one
    never = price * (valves + 1)

    def solved(most: float, *, by_sum: bool) -> tuple[bool, int, list[int | None]]:
        cost = np.where(near & (off <= most + SLACK), off / unit if by_sum else 0.0, never)
        buying = np.full((valves, valves), never)
        own = np.where(bought <= most + SLACK, price + (bought / unit if by_sum else 0.0), never)
        np.fill_diagonal(buying, own)
        rows, columns = linear_sum_assignment(np.hstack([cost, buying]))
        costs = np.hstack([cost, buying])[rows, columns]
        placed: list[int | None] = [int(column) if column < shims else None for column in columns]
        return bool(np.all(costs < never)), sum(each is None for each in placed), placed

    _, least, _ = solved(unit, by_sum=False)
    low, high = 0, steps.size - 1
    while low < high:  # the least greatest deviation that buys no more
        middle = (low + high) // 2
        holds, count, _ = solved(float(steps[middle]), by_sum=False)
        if holds and count <= least:
            high = middle
        else:
            low = middle + 1
    return solved(float(steps[low]), by_sum=True)[2]
