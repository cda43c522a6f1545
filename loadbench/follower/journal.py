"""A bush with oil under it: the full journal bearing of Raimondi and Boyd, by interpolation in their tables.

Symbols: S = (r/c)^2 eta N/P Sommerfeld number, N in turns a second, P = W/(2 r l); e eccentricity over the radial
clearance c; h0 = c (1 - e) least film; l/d length over diameter.
"""

from __future__ import annotations

import functools
from typing import NamedTuple

import numpy as np

from loadbench.arrays import Floats, Real
from loadbench.spring.sizes import positive

ECCENTRICITIES = np.array([0.1, 0.2, 0.4, 0.6, 0.8, 0.9, 0.97])
RATIOS = (np.inf, 1.0, 0.5, 0.25)

SOMMERFELD = {
    np.inf: np.array([0.240, 0.123, 0.0626, 0.0389, 0.0210, 0.0115, 0.003745]),
    1.0: np.array([1.33, 0.631, 0.264, 0.121, 0.0446, 0.0188, 0.00474]),
    0.5: np.array([4.31, 2.03, 0.779, 0.319, 0.0923, 0.0313, 0.00609]),
    0.25: np.array([16.2, 7.57, 2.83, 1.07, 0.261, 0.0736, 0.0101]),
}
ATTITUDE = {
    np.inf: np.array([69.10, 67.26, 61.94, 54.31, 42.22, 31.62, 18.22]),
    1.0: np.array([79.5, 74.02, 63.10, 50.58, 36.24, 26.45, 15.47]),
    0.5: np.array([81.62, 74.94, 61.45, 48.14, 33.31, 23.66, 13.75]),
    0.25: np.array([82.31, 75.18, 60.86, 46.72, 31.04, 21.85, 12.22]),
}
FRICTION = {
    np.inf: np.array([4.80, 2.57, 1.52, 1.20, 0.961, 0.756, 0.4557]),
    1.0: np.array([26.4, 12.8, 5.79, 3.22, 1.70, 1.05, 0.514]),
    0.5: np.array([85.6, 40.9, 17.0, 8.10, 3.26, 1.60, 0.610]),
    0.25: np.array([322.0, 153.0, 61.1, 26.7, 8.80, 3.50, 0.922]),
}
PRESSURE = {
    np.inf: np.array([0.826, 0.814, 0.764, 0.667, 0.495, 0.358, 0.197]),
    1.0: np.array([0.540, 0.529, 0.484, 0.415, 0.313, 0.247, 0.152]),
    0.5: np.array([0.523, 0.506, 0.441, 0.365, 0.267, 0.206, 0.126]),
    0.25: np.array([0.515, 0.489, 0.415, 0.334, 0.240, 0.180, 0.108]),
}
"""By l/d, against the eccentricities above. Source: raimondi-boyd (memory), each held against reynolds-solution;
an infinite bearing at 0.97 is from that solution."""

DENSE = 400


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


@functools.cache
def _dense(ratio: float) -> tuple[Floats, dict[str, Floats]]:
    """The logarithm of S, rising, and each quantity on many points of it."""
    x = np.log(SOMMERFELD[ratio])[::-1]
    at = np.linspace(x[0], x[-1], DENSE)
    place = np.clip(np.searchsorted(x, at, side="right") - 1, 0, x.size - 2)
    step = (x[1:] - x[:-1])[place]
    t = (at - x[place]) / step

    def through(y: Floats) -> Floats:
        m = _slopes(x, y)
        low, high, start, end = y[place], y[place + 1], m[place] * step, m[place + 1] * step
        made = (
            low * (1 + 2 * t) * (1 - t) ** 2
            + start * t * (1 - t) ** 2
            + high * t**2 * (3 - 2 * t)
            + end * t**2 * (t - 1)
        )
        return np.asarray(made)

    tables = {
        "film": through((1 - ECCENTRICITIES)[::-1]),
        "attitude": through(np.radians(ATTITUDE[ratio])[::-1]),
        "friction": np.exp(through(np.log(FRICTION[ratio])[::-1])),
        "pressure": through(PRESSURE[ratio][::-1]),
    }
    return at, tables


def _of_ratio(S: Floats, ratio: float) -> dict[str, Floats]:
    """Each quantity for one of the tables' l/d; beyond its light end by the limit of a centred shaft."""
    at, tables = _dense(ratio)
    x = np.log(S)
    found = {name: np.interp(x, at, table, left=np.nan) for name, table in tables.items()}
    light = x > at[-1]
    share = np.exp(np.minimum(at[-1] - x, 0.0))  # the eccentricity falls as 1/S
    found["film"] = np.where(light, 1 - 0.1 * share, found["film"])
    found["friction"] = np.where(light, found["friction"] / share, found["friction"])
    return found


def interpolated(ratio: Real, infinite: Real, one: Real, half: Real, quarter: Real) -> Floats:
    """A quantity for any l/d from 1/4 up from those of the four tables.

    Args:
        ratio: l/d.
        infinite: the quantity of a bearing without ends.
        one: at l/d = 1.
        half: at 1/2.
        quarter: at 1/4.

    Returns:
        The quantity, of the broadcast shape.

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


def journal(number: Real, ratio: float) -> Journal:
    """A full journal bearing at a Sommerfeld number.

    Args:
        number: S, above zero, any shape.
        ratio: l/d; below 1/4 the shortest table is taken, which tells a thicker film than there is.

    Returns:
        Film, attitude, friction, pressure.

    Raises:
        InputError: a Sommerfeld number at zero or below.

    Source:
        raimondi-boyd, interpolated; beyond S of e = 0.1 the film of a centred shaft (own derivation) and petroff.
    """
    (S,) = positive("a Sommerfeld number", number)
    found = {each: _of_ratio(S, each) for each in RATIOS}
    q = max(float(ratio), 0.25)
    exact = next((each for each in RATIOS if q == each), None)
    made = {
        name: found[exact][name] if exact is not None else interpolated(q, *(found[each][name] for each in RATIOS))
        for name in ("film", "attitude", "friction", "pressure")
    }
    return Journal(**{name: np.asarray(value) for name, value in made.items()})
