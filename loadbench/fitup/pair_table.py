"""Loose outer and inner springs, numbered apart: what could stand where, and a plan of pairs."""

from __future__ import annotations

from dataclasses import dataclass, field

import numpy as np

from loadbench.arrays import Floats, Indices
from loadbench.errors import InputError
from loadbench.fitup.choice_table import Bools

LIMIT_SLACK = 1e-9
"""Share of a limit on load: what float arithmetic leaves past it."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class PairTable:
    """The choices of a fit of pairs; each load is the outer's and the inner's together.

    Attributes:
        valves: names, V.
        outers: names, O.
        inners: names, I.
        stacks: each stack's shims, m, K, under outer and inner alike.
        seat_outer: load closed, N, (V, O, K); NaN where it can't be had or may not be.
        seat_inner: likewise, (V, I, K).
        open_outer: load at full lift, N, (V, O, K).
        open_inner: likewise, (V, I, K).
        seat_window: least and greatest load closed of a pair, N, (V, 2); infinite where there is no limit.
        open_window: likewise at full lift.
        target_seat: N, (V,); NaN where none is stated.
        target_open: N, (V,); counts where no seat load is stated.
        refused: True where a limit that does not depend on the springs forbids a stack, (V, K).
        locked: outer, inner and stack that a valve keeps, (V, 3); -1 where it is free. A locked spring stands
            nowhere else.
        counts: how many shims of a size, m, are there; a size that is not named is there without end.
    """

    valves: tuple[str, ...]
    outers: tuple[str, ...]
    inners: tuple[str, ...]
    stacks: tuple[tuple[float, ...], ...]
    seat_outer: Floats
    seat_inner: Floats
    open_outer: Floats
    open_inner: Floats
    seat_window: Floats
    open_window: Floats
    target_seat: Floats
    target_open: Floats
    refused: Bools
    locked: Indices
    counts: dict[float, int] = field(default_factory=dict)

    def __post_init__(self) -> None:
        v, k = len(self.valves), len(self.stacks)
        outer, inner = (v, len(self.outers), k), (v, len(self.inners), k)
        wanted = {
            **dict.fromkeys(("seat_outer", "open_outer"), outer),
            **dict.fromkeys(("seat_inner", "open_inner"), inner),
            **dict.fromkeys(("seat_window", "open_window"), (v, 2)),
            **dict.fromkeys(("target_seat", "target_open"), (v,)),
            "refused": (v, k),
            "locked": (v, 3),
        }
        for name, shape in wanted.items():
            if getattr(self, name).shape != shape:
                raise InputError(f"{name} of shape {getattr(self, name).shape}", expected=f"shape {shape}")

    def seat(self, outers: Indices, inners: Indices) -> Floats:
        """Load closed, N, (V, P, K), of P outers with as many inners: the same on every valve, (P,), or (V, P)."""
        pair: Floats = self._of(self.seat_outer, outers) + self._of(self.seat_inner, inners)
        return pair

    def open(self, outers: Indices, inners: Indices) -> Floats:
        """Load at full lift, N, likewise."""
        pair: Floats = self._of(self.open_outer, outers) + self._of(self.open_inner, inners)
        return pair

    def _of(self, loads: Floats, springs: Indices) -> Floats:
        own: Floats = loads[np.arange(len(self.valves))[:, None], springs]
        return own

    def allowed(self, outers: Indices, inners: Indices) -> Bools:
        """Where every hard limit holds for pairs, (V, P, K)."""
        seat, opened = self.seat(outers, inners), self.open(outers, inners)
        return (
            self._within(seat, self.seat_window) & self._within(opened, self.open_window) & self._free(outers, inners)
        )

    @staticmethod
    def _within(load: Floats, window: Floats) -> Bools:
        """Where a load is known and within its valve's window."""
        slack = LIMIT_SLACK * np.where(np.isfinite(window), np.abs(window), 0.0)
        least, most = (window + slack * (-1, 1)).T[:, :, None, None]
        within: Bools = np.isfinite(load) & (load >= least) & (load <= most)
        return within

    def _free(self, outers: Indices, inners: Indices) -> Bools:
        """Where no lock and no limit on the stack forbids a choice, (V, P, K)."""
        free = ~self.refused[:, None, :]
        for kind, springs in enumerate((outers, inners)):
            kept = self.locked[:, kind]
            mine = kept[:, None] == springs
            free = free & np.where(kept[:, None] >= 0, mine, ~np.isin(springs, kept[kept >= 0]))[:, :, None]
        stack = self.locked[:, 2, None]
        free &= ((stack < 0) | (stack == np.arange(len(self.stacks))))[:, None, :]
        return free

    def deviation(self, outers: Indices, inners: Indices) -> Floats:
        """From the valve's target, N, (V, P, K); zero where none is stated."""
        by_seat = np.abs(self.seat(outers, inners) - self.target_seat[:, None, None])
        by_open = np.abs(self.open(outers, inners) - self.target_open[:, None, None])
        return np.nan_to_num(np.where(np.isfinite(self.target_seat)[:, None, None], by_seat, by_open))


@dataclass(frozen=True, slots=True, kw_only=True)
class PairChosen:
    """A plan of pairs: for each valve, in order, the index of its outer, its inner and its stack.

    `spread` is the greatest less the least seat load, N; `deviation` the sum over the valves, N; `shims` how many.
    `proved`: no plan that keeps every hard limit has a smaller spread, none of that spread a smaller deviation, none
    of both fewer shims.
    """

    outers: tuple[int, ...]
    inners: tuple[int, ...]
    stacks: tuple[int, ...]
    spread: float
    deviation: float
    shims: int
    proved: bool
