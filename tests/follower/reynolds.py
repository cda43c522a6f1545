"""Reynolds' equation of a full journal bearing by finite differences: what the tables are held against.

Symbols as in the tables: e eccentricity over clearance, S, attitude, (r/c) f, mean over greatest pressure.
"""

from __future__ import annotations

from typing import NamedTuple

import numpy as np
from scipy.sparse import coo_matrix, csr_matrix
from scipy.sparse.linalg import spsolve

from loadbench.arrays import Floats


class Solved(NamedTuple):
    """What a bearing of one eccentricity and l/d has."""

    sommerfeld: float
    attitude: float
    friction: float
    pressure: float


def solve(eccentricity: float, ratio: float, around: int = 240, along: int = 16) -> Solved:
    """Solve for the pressure with the oil's rupture where it would fall below that of the air.

    Half of the bearing's width is meshed; an infinite one has one row. Source: Reynolds' equation, cavitation by
    complementarity (cells at zero pressure are taken out until those left are above zero).
    """
    e, infinite = eccentricity, np.isinf(ratio)
    rows = 1 if infinite else along
    step = 2 * np.pi / around
    angle = np.arange(around) * step
    h = 1 + e * np.cos(angle)
    between = (1 + e * np.cos(angle + step / 2)) ** 3  # towards the next angle
    wide = 0.0 if infinite else (step / (ratio / rows)) ** 2  # half width l/2 in radii is l/d
    index = np.arange(around * rows).reshape(rows, around)
    entries: list[tuple[Floats, Floats, Floats]] = []
    main = np.zeros((rows, around))

    def link(one: Floats, other: Floats, weight: Floats) -> None:
        entries.append((one.ravel(), other.ravel(), weight.ravel()))

    forth, back = np.broadcast_to(between, (rows, around)), np.broadcast_to(np.roll(between, 1), (rows, around))
    link(index, np.roll(index, -1, axis=1), forth)
    link(index, np.roll(index, 1, axis=1), back)
    main -= forth + back
    if not infinite:
        cubed = np.broadcast_to(h**3, (rows, around)) * wide
        # Row 0 lies half a step from the middle, where it mirrors; the last half a step from the open end.
        link(index[:-1], index[1:], cubed[:-1])
        link(index[1:], index[:-1], cubed[1:])
        main -= cubed * 2
        main[0] += cubed[0]
        main[-1] -= cubed[-1]
    entries.append((index.ravel(), index.ravel(), main.ravel()))
    at, to, weight = (np.concatenate([each[place] for each in entries]) for place in range(3))
    matrix: csr_matrix = coo_matrix((weight, (at, to)), shape=(index.size, index.size)).tocsr()
    # d/dtheta(h^3 dp) = dh/dtheta x 6, in units of eta w (r/c)^2
    right = np.broadcast_to(6 * (np.roll(h, -1) - np.roll(h, 1)) / 2 * step, (rows, around)).ravel()
    # The film is widest at angle 0: there the pressure is that of the air.
    open_ = np.ones(index.size, dtype=bool)
    open_[index[:, 0]] = False
    pressure = np.zeros(index.size)
    for _ in range(60):
        places = np.flatnonzero(open_)
        pressure[:] = 0
        pressure[places] = spsolve(matrix[places][:, places], right[places])
        falls = open_ & (pressure < 0)
        # Where the film has ruptured the equation would push the pressure up again only if it is not satisfied there.
        rest = matrix @ pressure - right
        rises = ~open_ & (rest > 1e-9)
        rises[index[:, 0]] = False
        if not falls.any() and not rises.any():
            break
        open_ = (open_ & ~falls) | rises
    field = pressure.reshape(rows, around)
    mean = field.mean(axis=0)
    along_line = -float(np.sum(mean * np.cos(angle)) * step)
    across = float(np.sum(mean * np.sin(angle)) * step)
    load = float(np.hypot(along_line, across))  # W/(eta w (r/c)^2 r l)
    phi = float(np.arctan2(across, along_line))
    # P = W/(2 r l) = load/2 eta w (r/c)^2, with w = 2 pi N: S = 1/(2 pi load/2)
    number = 1 / (np.pi * load)
    friction = 2 * np.pi**2 * number / np.sqrt(1 - e**2) + e / 2 * np.sin(phi)
    return Solved(number, float(np.degrees(phi)), float(friction), load / 2 / float(field.max()))
