"""Where needles must give way to a bush: both axles of one follower over spring load and share of idling.

Forces over the turn are straight in the spring's load: at a share f of the job's load the axle carries f x the static
part plus what inertia makes of it. All on a grid of loads (down) by idle shares (across).

The rule: of each axle every value over its limit is told as a margin, and the least of them counts; an axle holds where
that is 1 or more. Needles by life and static safety. A bush by pressure, by PV at the worse of the two speeds (it warms
within minutes, however long the engine idles between) and, where a film is asked for, by its film ratio: lists for
boundary lubrication already reckon without one, lists for oil-fed bushes do not. A speed with no share of time does not
count.
"""

from __future__ import annotations

from enum import IntEnum
from typing import TYPE_CHECKING, NamedTuple

import numpy as np

from loadbench.arrays import Floats, Indices
from loadbench.errors import InputError
from loadbench.follower.bush_film import Oiled, film_over_turn
from loadbench.follower.needle import P_ROLLER

if TYPE_CHECKING:
    from numpy.typing import NDArray


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


class BushOil(NamedTuple):
    """Radial clearance, m; viscosity, Pa s; roughness Rq of pin and bush together, m."""

    clearance: float
    viscosity: float
    roughness: float


class BushAxle(NamedTuple):
    """Bore and length of the bush, m; what its material is said to bear, Pa and W/m2, infinite where unsaid.

    Its oil, None where not known; the film ratio that is asked for, 0 for none.
    """

    bore: float
    length: float
    pressure: float
    pv: float
    oil: BushOil | None = None
    film_ratio: float = 0.0


class ChangeOver(NamedTuple):
    """The grid. `loads` N, shape (loads,); `shares`, shape (shares,); the rest of shape (loads, shares).

    `needle_life` s, `needle_safety`; `bush_pressure` Pa, `bush_pv` W/m2; margins are the least of value over limit, so
    that 1 is just held; `better` holds values of `Better`. `bush_film_ratio` is the thinnest film of a turn over
    roughness, NaN without oil; `bush_film_inside` False where it is below the tables.
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
    bush_film_ratio: Floats
    bush_film_inside: NDArray[np.bool_]


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
        iso-281 and iso-76 for the needles; pressure and PV (mott) and film (raimondi-boyd) for the bush; their least
        margin is an own derivation.
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
    shape = (loads.size, shares.size)
    greatest = _worse(parts, [load.max(axis=1) for load in carried])
    with np.errstate(divide="ignore"):
        safety = np.broadcast_to(needles.static / greatest, shape)
    area = bush.bore * bush.length
    pressure = np.broadcast_to(greatest / area, shape)
    works = [np.mean(load * spin, axis=1) * bush.bore / 2 / area for load, spin in zip(carried, spins, strict=True)]
    pv = _worse(parts, works)
    ratio, inside = _film(bush, parts, carried, spins)
    needle_margin = np.minimum(life / needles.life, safety / needles.safety)
    with np.errstate(divide="ignore"):
        bush_margin = np.minimum(bush.pressure / pressure, bush.pv / np.maximum(pv, 1e-12))
    if bush.film_ratio > 0:
        bush_margin = np.minimum(bush_margin, ratio / bush.film_ratio)
    better = 2 * (needle_margin >= 1).astype(np.intp) + (bush_margin >= 1).astype(np.intp)
    return ChangeOver(
        loads=loads, shares=shares, needle_life=np.asarray(life), needle_safety=safety, bush_pressure=pressure,
        bush_pv=pv, needle_margin=needle_margin, bush_margin=bush_margin, better=better, bush_film_ratio=ratio,
        bush_film_inside=inside,
    )  # fmt: skip


def _worse(parts: tuple[Floats, Floats], values: list[Floats]) -> Floats:
    """The greater of both speeds' values, of those that have a share of time; shape (loads, shares)."""
    return np.maximum(*(np.where(part > 0, each[:, None], 0.0) for part, each in zip(parts, values, strict=True)))


def _film(
    bush: BushAxle, parts: tuple[Floats, Floats], carried: list[Floats], spins: list[Floats]
) -> tuple[Floats, NDArray[np.bool_]]:
    """The film ratio of the worse speed, and whether the tables reach there."""
    shape = (carried[0].shape[0], parts[0].size)
    if bush.oil is None:
        return np.full(shape, np.nan), np.ones(shape, dtype=bool)
    oiled = Oiled(bush.bore, bush.length, *bush.oil)
    films = [film_over_turn(load, spin, oiled) for load, spin in zip(carried, spins, strict=True)]
    ratios = [np.where(part > 0, each.ratio[:, None], np.inf) for part, each in zip(parts, films, strict=True)]
    inside = [(part <= 0) | each.inside[:, None] for part, each in zip(parts, films, strict=True)]
    return np.minimum(*ratios), inside[0] & inside[1]


def crossing(values: Floats, loads: Floats, level: float = 1.0) -> Floats:
    """The load at which a margin first falls below a level, for each share.

    Args:
        values: margins, shape (loads, shares).
        loads: N, rising, shape (loads,).
        level: of the margin, above zero.

    Returns:
        N, shape (shares,); NaN where the level is not crossed on the grid.

    Source:
        own derivation: straight between the grid's points, in the logarithms.
    """
    held = values >= level
    row = np.argmin(held, axis=0)  # the first that is not held; 0 where none or all are
    found = held[0] & ~held.all(axis=0)
    upper = np.where(found, row, 1)
    columns = np.arange(values.shape[1])
    with np.errstate(divide="ignore", invalid="ignore"):
        high, low = (np.log(np.clip(values[at, columns], 1e-300, 1e300)) for at in (upper - 1, upper))
        share = np.clip(np.where(high > low, (high - np.log(level)) / (high - low), 0.0), 0.0, 1.0)
    x = np.log(loads)
    return np.where(found, np.exp(x[upper - 1] + share * (x[upper] - x[upper - 1])), np.nan)


def change_line(grid: ChangeOver) -> Floats:
    """The load from which on the bush is farther within its limits than the needles within theirs.

    Args:
        grid: of `change_over`.

    Returns:
        N, shape (shares,); NaN where the needles are ahead over the whole grid, or the bush from its least load.

    Source:
        own derivation: where both least margins are the same.
    """
    with np.errstate(divide="ignore", invalid="ignore"):
        ahead = np.nan_to_num(grid.needle_margin / grid.bush_margin, nan=1.0)
    return crossing(ahead, grid.loads)
