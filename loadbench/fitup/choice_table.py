"""What could stand where: the loads of every spring on every valve on every stack of shims, and what forbids it.

Plain arrays in SI; V valves, S springs, K stacks of shims, the same stacks for every valve.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from loadbench.arrays import Floats

Bools = NDArray[np.bool_]


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class ChoiceTable:
    """The choices of a fit.

    Attributes:
        valves: names, V.
        springs: names, S.
        stacks: each stack's shims, m, thickest first, K; the empty stack is one of them.
        seat: load closed, N, (V, S, K); NaN where it cannot be had.
        open: load at full lift, N, (V, S, K).
        deviation: from the valve's target, N, (V, S, K); zero where none is stated.
        refused: by the name of each hard limit, True where it forbids the choice, (V, S, K).
        counts: how many shims of a size, m, are there; a size that is not named is there without end.
    """

    valves: tuple[str, ...]
    springs: tuple[str, ...]
    stacks: tuple[tuple[float, ...], ...]
    seat: Floats
    open: Floats
    deviation: Floats
    refused: dict[str, Bools]
    counts: dict[float, int]

    @property
    def allowed(self) -> Bools:
        """Where every hard limit holds and the load is known."""
        allowed: Bools = np.isfinite(self.seat)
        for forbidden in self.refused.values():
            allowed = allowed & ~forbidden
        return allowed


@dataclass(frozen=True, slots=True, kw_only=True)
class Chosen:
    """A plan: for each valve, in order, the index of its spring and of its stack.

    `spread` is the greatest less the least seat load, N; `deviation` the sum over the valves, N; `shims` how many.
    `proved`: no plan that keeps every hard limit has a smaller spread, none of that spread a smaller deviation, none
    of both fewer shims.
    """

    springs: tuple[int, ...]
    stacks: tuple[int, ...]
    spread: float
    deviation: float
    shims: int
    proved: bool
