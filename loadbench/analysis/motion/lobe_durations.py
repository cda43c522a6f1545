"""How long a line's lift stays open at each of a few lifts, with and without its lash, and the area under the curve."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from loadbench.arrays import Floats
from loadbench.motion.durations import area, open_close
from loadbench.motion.lift import Lift
from loadbench.units import Style

INCH, MM = 0.0254, 1e-3

LEVELS: dict[Style, tuple[float, ...]] = {
    Style.INCH_POUND: tuple(each * INCH for each in (0.0, 0.006, 0.020, 0.050, 0.100, 0.200)),
    Style.METRIC: tuple(each * MM for each in (0.0, 0.15, 0.5, 1.0, 2.5, 5.0)),
}
"""Lifts at which durations are told, m, the seat first: common practice."""

LASH_STEP: dict[Style, float] = {Style.INCH_POUND: 0.002 * INCH, Style.METRIC: 0.05 * MM}
"""How far a lash may be off, m: common practice."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Durations:
    """Durations of one lift, at each level (rows) and with each lash (columns).

    `levels` m, net, and `lashes` m; `opens` and `closes` rad of the cam from the nose, NaN where the level is never
    reached; `durations` rad of the cam, zero there; `areas` m rad of the cam, shape (lashes,), under the net lift.
    """

    levels: tuple[float, ...]
    lashes: tuple[float, ...]
    opens: Floats
    closes: Floats
    durations: Floats
    areas: Floats


def lashes_of(lash: float | None, step: float) -> tuple[float, ...]:
    """The lashes that are compared.

    Args:
        lash: at the valve, m; None or zero where there is none.
        step: how far it may be off, m.

    Returns:
        No lash; then, where there is any, the lash itself, less and more, none of them below zero.
    """
    if not lash:
        return (0.0,)
    return (0.0, lash, *(each for each in (lash - step, lash + step) if each > 0))


def durations_of(lift: Lift, levels: Sequence[float], lashes: Sequence[float] = (0.0,)) -> Durations:
    """Durations of a lift.

    Args:
        lift: of valve or lobe, gross, m.
        levels: net lifts at which they are counted, m.
        lashes: what is taken up before the valve moves, m.

    Returns:
        Durations and areas.

    Source:
        own derivation: see loadbench.motion.durations.
    """
    at = np.asarray(levels, dtype=np.float64)[:, None] + np.asarray(lashes, dtype=np.float64)[None, :]
    opens, closes = open_close(lift, at)
    return Durations(
        levels=tuple(levels),
        lashes=tuple(lashes),
        opens=opens,
        closes=closes,
        durations=np.asarray(np.nan_to_num(closes - opens)),
        areas=area(lift, np.asarray(lashes, dtype=np.float64)),
    )
