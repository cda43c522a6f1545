"""The oil film in a roller's bush over load and speed: how thick, and what keeps pin and bush apart.

Each load stands as if it lasted: what a film still holds while the load passes (squeeze) comes on top and is not
counted, nor do pin and bush bend. The pin stands, the roller turns, the load stays in its direction.
"""

from __future__ import annotations

from enum import IntEnum
from typing import TYPE_CHECKING, NamedTuple

import numpy as np

from loadbench.arrays import Floats, Indices, Real
from loadbench.follower.film import FULL_FROM, MIXED_FROM
from loadbench.follower.journal import least_film
from loadbench.spring.sizes import not_negative, positive

if TYPE_CHECKING:
    from numpy.typing import NDArray


class Wear(IntEnum):
    """Regime at a film ratio: metal on metal, part of it, or none."""

    BOUNDARY = 0
    MIXED = 1
    FULL = 2


class Oiled(NamedTuple):
    """A bush and its oil: bore and length, m; radial clearance, m; viscosity, Pa s; Rq of pin and bush together, m."""

    bore: float
    length: float
    clearance: float
    viscosity: float
    roughness: float


class FilmInBush(NamedTuple):
    """Least film, m, and over roughness; whether the tables reach there; values of `Wear`. All of one shape."""

    film: Floats
    ratio: Floats
    inside: NDArray[np.bool_]
    wear: Indices


def bush_film(load: Real, spin: Real, bush: Oiled) -> FilmInBush:
    """Least oil film in a bush.

    Args:
        load: on the axle, N, zero or above.
        spin: of the roller, rad/s, either way.
        bush: its sizes and oil.

    Returns:
        Film, ratio, whether inside the tables, regime, of the broadcast shape. Where nothing presses the shaft is
        centred; where it presses and nothing turns there is no film.

    Raises:
        InputError: a load below zero, a size, clearance, viscosity or roughness at zero or below.

    Source:
        raimondi-boyd; below its tables own derivation (see `least_film`); regimes: hamrock-machine.
    """
    (F,) = not_negative("a load on a bush", load)
    bore, long, c, eta, rough = (float(each) for each in positive("a bush's size, clearance, oil or roughness", *bush))
    turns = np.abs(np.asarray(spin, dtype=np.float64)) / (2 * np.pi)
    with np.errstate(divide="ignore", invalid="ignore"):
        number = np.where(F > 0, (bore / 2 / c) ** 2 * eta * turns * bore * long / F, np.inf)
    share, inside = least_film(number, long / bore)
    film = np.asarray(share * c)
    ratio = np.asarray(film / rough)
    return FilmInBush(film, ratio, inside, regimes(ratio))


def regimes(ratio: Real) -> Indices:
    """Regimes of film ratios.

    Args:
        ratio: film over roughness.

    Returns:
        Values of `Wear`, of its shape.

    Source:
        hamrock-machine, common simple form: boundary below 1, full film from 3 (memory).
    """
    return np.asarray(np.digitize(np.asarray(ratio), (MIXED_FROM, FULL_FROM)), dtype=np.intp)


def film_over_turn(load: Floats, spin: Floats, bush: Oiled) -> FilmInBush:
    """The thinnest film of a turn, where load over speed is greatest.

    Args:
        load: on the axle, N, shape (..., angles).
        spin: of the roller, rad/s, of a shape that broadcasts with it.
        bush: its sizes and oil.

    Returns:
        As `bush_film`, of the shape without its last axis: one speed, or a whole sweep of speeds, idle among them.

    Raises:
        InputError: as `bush_film`.

    Source:
        own derivation: the film grows with speed over load alone.
    """
    (F,) = not_negative("a load on a bush", load)
    with np.errstate(divide="ignore", invalid="ignore"):
        pressing = np.where(F > 0, F / np.abs(spin), 0.0)
    hardest = np.max(pressing, axis=-1)
    stuck = np.isinf(hardest)
    return bush_film(np.where(stuck, 1.0, hardest), np.where(stuck, 0.0, 1.0), bush)
