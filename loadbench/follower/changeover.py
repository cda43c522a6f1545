"""Where needles must give way to a bush: both axles of one follower over spring load and share of idling.

Forces over the turn are straight in the spring's load: at a share f of the job's load the axle carries f x the static
part plus what inertia makes of it. All on a grid of loads (down) by idle shares (across).
"""

from __future__ import annotations

from enum import IntEnum
from typing import NamedTuple

import numpy as np

from loadbench.arrays import Floats, Indices
from loadbench.errors import InputError
from loadbench.follower.needle import P_ROLLER


class Better(IntEnum):
    """Which axle holds its limits at a place of the grid."""

    NEITHER = 0
    BUSH = 1
    NEEDLE = 2
    BOTH = 3


class Turn(NamedTuple):
    """One speed: static axle load at the job's spring load, and that of inertia, N, shapes (angles,); spin, rad/s."""

    static: Floats
    inertia: Floats
    spin: Floats


class NeedleAxle(NamedTuple):
    """Ratings of the needles, N; life that is wanted, s; static safety that is asked for."""

    dynamic: float
    static: float
    life: float
    safety: float


class BushAxle(NamedTuple):
    """Bore and length of the bush, m; what its material is said to bear, Pa and W/m2, infinite where unsaid."""

    bore: float
    length: float
    pressure: float
    pv: float


class ChangeOver(NamedTuple):
    """The grid. `loads` N, shape (loads,); `shares`, shape (shares,); the rest of shape (loads, shares).

    `needle_life` s, `needle_safety`; `bush_pressure` Pa, `bush_pv` W/m2; margins are the least of value over limit, so
    that 1 is just held; `better` holds values of `Better`.
    """

    loads: Floats
    shares: Floats
    needle_life: Floats
    needle_safety: Floats
    bush_pressure: Floats
    bush_pv: Floats
    needle_margin: Floats
    bush_margin: Floats
    better: Indices


def change_over(
    loads: Floats, shares: Floats, job_load: float, turns: tuple[Turn, Turn], needles: NeedleAxle, bush: BushAxle
) -> ChangeOver:
    """Both axles over spring load and share of idling.

    Args:
        loads: open loads of the spring, N, shape (loads,).
        shares: of time idling, 0 to 1, shape (shares,).
        job_load: the open load that `turns` belong to, N, above zero.
        turns: idling, and at the speed limit.
        needles: their ratings and what is asked of them.
        bush: its sizes and limits.

    Returns:
        The grid.

    Raises:
        InputError: a load at zero or below, a share outside 0 to 1.

    Source:
        iso-281 and iso-76 for the needles; pressure and PV (mott) for the bush; own derivation: by their least margin.
    """
    if job_load <= 0 or np.any(loads <= 0):
        raise InputError("a spring load at zero or below", expected="loads above zero")
    if np.any((shares < 0) | (shares > 1)):
        raise InputError("an idle share outside 0 to 1", expected="0 to 1")
    factor = (loads / job_load)[:, None]
    parts = (shares[None, :], 1.0 - shares[None, :])
    carried = [np.maximum(factor * each.static + each.inertia, 0.0) for each in turns]
    spins = [np.abs(each.spin) for each in turns]
    worn = [np.mean(load**P_ROLLER * spin, axis=1)[:, None] for load, spin in zip(carried, spins, strict=True)]
    damage = sum(part * each for part, each in zip(parts, worn, strict=True))
    # L10 turns over turns a second: 1e6 C^p 2 pi / sum of P^p n q
    with np.errstate(divide="ignore"):
        life = 1e6 * needles.dynamic**P_ROLLER * 2 * np.pi / damage
    peaks = [load.max(axis=1)[:, None] for load in carried]
    # Whatever share of time it idles, the highest load of the two counts; a share of 0 or 1 leaves one out.
    shape = (loads.size, shares.size)
    greatest = np.maximum(np.where(parts[0] > 0, peaks[0], 0.0), np.where(parts[1] > 0, peaks[1], 0.0))
    with np.errstate(divide="ignore"):
        safety = np.broadcast_to(needles.static / greatest, shape)
    area = bush.bore * bush.length
    pressure = np.broadcast_to(greatest / area, shape)
    works = [
        np.mean(load * spin, axis=1)[:, None] * bush.bore / 2 / area for load, spin in zip(carried, spins, strict=True)
    ]
    pv = sum(part * each for part, each in zip(parts, works, strict=True))
    needle_margin = np.minimum(life / needles.life, safety / needles.safety)
    with np.errstate(divide="ignore"):
        bush_margin = np.minimum(bush.pressure / pressure, bush.pv / np.maximum(pv, 1e-12))
    better = 2 * (needle_margin >= 1).astype(np.intp) + (bush_margin >= 1).astype(np.intp)
    return ChangeOver(
        loads=loads, shares=shares, needle_life=np.asarray(life), needle_safety=safety, bush_pressure=pressure,
        bush_pv=np.broadcast_to(np.asarray(pv), shape), needle_margin=needle_margin, bush_margin=bush_margin,
        better=better,
    )  # fmt: skip


def crossing(values: Floats, loads: Floats, level: float = 1.0) -> Floats:
    """The load at which a margin that falls with load comes to a level, for each share.

    Args:
        values: margins, shape (loads, shares).
        loads: N, rising, shape (loads,).
        level: of the margin.

    Returns:
        N, shape (shares,); NaN where the level is not crossed on the grid.

    Source:
        own derivation: straight between the grid's points, in the logarithms.
    """
    held = values >= level
    last = held.sum(axis=0) - 1  # the margins fall with load
    found = np.full(values.shape[1], np.nan)
    for place, row in enumerate(last):
        if 0 <= row < loads.size - 1:
            high, low = np.log(values[row, place]), np.log(max(values[row + 1, place], 1e-300))
            share = (high - np.log(level)) / (high - low) if high > low else 0.0
            found[place] = np.exp(np.log(loads[row]) + share * (np.log(loads[row + 1]) - np.log(loads[row])))
    return found
