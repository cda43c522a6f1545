"""A bush with oil under it: the full journal bearing of Raimondi and Boyd, by interpolation in their tables.

Symbols: S = (r/c)^2 eta N/P Sommerfeld number, N in turns a second, P = W/(2 r l); e eccentricity over the radial
clearance c; h0 = c (1 - e) least film; l/d length over diameter.
"""

from __future__ import annotations

import functools
from typing import TYPE_CHECKING, NamedTuple

import numpy as np

from loadbench.arrays import Floats, Real
from loadbench.follower.journal_table import ATTITUDE, ECCENTRICITIES, FRICTION, PRESSURE, RATIOS, SOMMERFELD, row_of
from loadbench.spring.sizes import not_negative, positive

if TYPE_CHECKING:
    from numpy.typing import NDArray

__all__ = [
    "ATTITUDE", "ECCENTRICITIES", "FRICTION", "LEAST_FILM", "PRESSURE", "RATIOS", "SOMMERFELD", "Journal",
    "interpolated", "journal", "least_film", "sommerfeld",
]  # fmt: skip

DENSE, TAIL = 400, 200
LEAST_FILM = float(1 - ECCENTRICITIES[-1])
"""Share of the clearance down to which the tables go."""

REACH = np.log(1e4)
"""How far below the tables' last S the film is followed, in its logarithm."""


class Journal(NamedTuple):
    """Film over clearance h0/c, attitude, rad, friction (r/c) f, and mean over greatest pressure, of one shape.

    All NaN where the Sommerfeld number is below the tables: less than 3 % of the clearance would be left.
    """

    film: Floats
    attitude: Floats
    friction: Floats
    pressure: Floats


def sommerfeld(viscosity: Real, turns: Real, load: Real, radius: Real, clearance: Real, length: Real) -> Floats:
    """Sommerfeld number.

    Args:
        viscosity: Pa s.
        turns: N, turns a second.
        load: W, N, above zero.
        radius: r, m.
        clearance: c, radial, m.
        length: l, m.

    Returns:
        S, of the broadcast shape.

    Raises:
        InputError: a load or size at zero or below.

    Source:
        raimondi-boyd.
    """
    W, r, c, long = positive("a load, radius, clearance or length of a bearing", load, radius, clearance, length)
    return np.asarray((r / c) ** 2 * np.asarray(viscosity) * np.asarray(turns) * 2 * r * long / W)


def _slopes(x: Floats, y: Floats) -> Floats:
    """Slopes of the monotone cubic through some points."""
    step, rise = np.diff(x), np.diff(y) / np.diff(x)
    inner = np.zeros(x.size)
    weights = 2 * step[1:] + step[:-1], step[1:] + 2 * step[:-1]
    same = rise[1:] * rise[:-1] > 0
    with np.errstate(divide="ignore", invalid="ignore"):
        mean = (weights[0] + weights[1]) / (weights[0] / rise[:-1] + weights[1] / rise[1:])
    inner[1:-1] = np.where(same, mean, 0.0)
    inner[0], inner[-1] = rise[0], rise[-1]
    return inner


@functools.lru_cache(maxsize=64)
def _dense(ratio: float) -> tuple[Floats, dict[str, Floats], float]:
    """The logarithm of S, rising, each quantity on many points of it, and the attitude of a centred shaft.

    Below the tables the film falls as S does, the rest as over the tables' last step: the film is no thicker than that,
    for as it thins its pressure gathers where the bearing's ends no longer matter.
    """
    row = row_of(ratio)
    x = np.log(row.sommerfeld)[::-1]
    at = np.linspace(x[0], x[-1], DENSE)
    place = np.clip(np.searchsorted(x, at, side="right") - 1, 0, x.size - 2)
    step = (x[1:] - x[:-1])[place]
    t = (at - x[place]) / step
    below = np.linspace(-REACH, 0.0, TAIL, endpoint=False)

    def through(y: Floats, ends: tuple[float, float] | None = None) -> Floats:
        """A cubic through the logarithms, and a straight line below them; slopes at both ends where they are known."""
        y = np.log(y[::-1])
        m = _slopes(x, y)
        falls = float(m[0]) if ends is None else ends[0]
        if ends is not None:
            m[-1] = ends[1]
        low, high, start, end = y[place], y[place + 1], m[place] * step, m[place + 1] * step
        made = (
            low * (1 + 2 * t) * (1 - t) ** 2
            + start * t * (1 - t) ** 2
            + high * t**2 * (3 - 2 * t)
            + end * t**2 * (t - 1)
        )
        return np.asarray(np.exp(np.concatenate([y[0] + below * falls, made])))

    tables = {
        "film": through(1 - ECCENTRICITIES, (1.0, float(ECCENTRICITIES[0] / (1 - ECCENTRICITIES[0])))),
        "attitude": through(np.radians(row.attitude)),
        "friction": through(row.friction),
        "pressure": through(row.pressure),
    }
    return np.concatenate([x[0] + below, at]), tables, float(np.radians(row.centred))


def _of_ratio(S: Floats, ratio: float, names: tuple[str, ...]) -> dict[str, Floats]:
    """Quantities for one of the tables; beyond its light end by the limit of a centred shaft."""
    at, tables, centred = _dense(ratio)
    x = np.log(S)
    found = {name: np.interp(x, at, tables[name]) for name in names}
    share = np.exp(np.minimum(at[-1] - x, 0.0))  # the eccentricity falls as 1/S
    if "film" in found:
        far = np.exp(np.minimum(x - at[0], 0.0))
        found["film"] = np.where(x > at[-1], 1 - ECCENTRICITIES[0] * share, found["film"] * far)
    if "friction" in found:
        found["friction"] = found["friction"] / share
    if "attitude" in found:
        found["attitude"] = np.where(
            x > at[-1], centred - (centred - tables["attitude"][-1]) * share, found["attitude"]
        )
    return found


def interpolated(ratio: Real, infinite: Real, one: Real, half: Real, quarter: Real) -> Floats:
    """A quantity for any l/d from 1/4 up from those of the four tables at the same S.

    Args:
        ratio: l/d.
        infinite: the quantity of a bearing without ends.
        one: at l/d = 1.
        half: at 1/2.
        quarter: at 1/4.

    Returns:
        The quantity, of the broadcast shape. Between 1/4 and 1/2 it tells a film up to 38 % thicker than
        reynolds-solution does; `journal` uses it above 1 only.

    Source:
        raimondi-boyd.
    """
    q = np.asarray(ratio, dtype=np.float64)
    with np.errstate(divide="ignore", invalid="ignore"):
        cubed = 1 / q**3
        terms = (
            -(1 - q) * (1 - 2 * q) * (1 - 4 * q) / 8 * infinite
            + (1 - 2 * q) * (1 - 4 * q) / 3 * one
            - (1 - q) * (1 - 4 * q) / 4 * half
            + (1 - q) * (1 - 2 * q) / 24 * quarter
        )
        return np.asarray(cubed * terms)


def _found(S: Floats, ratio: float, names: tuple[str, ...]) -> dict[str, Floats]:
    """Quantities for any l/d."""
    q = float(positive("a bearing's length over its diameter", ratio)[0])
    if q <= 1 or np.isinf(q):
        return _of_ratio(S, q, names)
    tables = [_of_ratio(S, each, names) for each in RATIOS]
    return {name: interpolated(q, *(each[name] for each in tables)) for name in names}


def journal(number: Real, ratio: float) -> Journal:
    """A full journal bearing at a Sommerfeld number.

    Args:
        number: S, above zero, any shape.
        ratio: l/d, above zero.

    Returns:
        Film, attitude, friction, pressure. Above l/d = 1 the formula's film is within 8 % of reynolds-solution, mostly
        thinner, and its greatest pressure up to 15 % too low where the load is light.

    Raises:
        InputError: a Sommerfeld number or a ratio at zero or below.

    Source:
        raimondi-boyd, interpolated; to l/d = 1 between the tables at one eccentricity (own derivation), above it by
        their formula; beyond S of e = 0.1 the film of a centred shaft (own derivation) and petroff.
    """
    (S,) = positive("a Sommerfeld number", number)
    made = _found(S, ratio, Journal._fields)
    inside = made["film"] >= LEAST_FILM * (1 - 1e-9)
    return Journal(**{name: np.asarray(np.where(inside, value, np.nan)) for name, value in made.items()})


def least_film(number: Real, ratio: float) -> tuple[Floats, NDArray[np.bool_]]:
    """Film over clearance also where the tables end, and whether it is inside them.

    Args:
        number: S, zero or above (nothing turns), infinite where nothing presses; any shape.
        ratio: l/d, above zero.

    Returns:
        h0/c, and False where it is below the tables. There it falls as S does: for l/d up to 1 no thicker than
        reynolds-solution, for longer ones at most 4 % thicker. Smooth surfaces and a stiff shaft are meant.

    Raises:
        InputError: a Sommerfeld number below zero or a ratio at zero or below.

    Source:
        raimondi-boyd inside the tables; own derivation below them, held against reynolds-solution.
    """
    S = np.asarray(number, dtype=np.float64)
    not_negative("a Sommerfeld number", S)
    bounded = np.clip(S, 1e-12, 1e12)
    film = np.where(S > 0, _found(bounded, ratio, ("film",))["film"], 0.0)
    return np.asarray(film), np.asarray(film >= LEAST_FILM * (1 - 1e-9))
