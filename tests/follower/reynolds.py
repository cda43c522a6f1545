"""Reynolds' equation of a full journal bearing by finite differences: what the tables are held against.

Symbols as in the tables: e eccentricity over clearance, S, attitude, (r/c) f, mean over greatest pressure.
"""

from __future__ import annotations

from typing import Any, NamedTuple

import numpy as np

from loadbench.arrays import Floats, Indices


class Solved(NamedTuple):
    """What a bearing of one eccentricity and l/d has."""

    sommerfeld: float
    attitude: float
    friction: float
    pressure: float


def _equations(e: float, ratio: float, around: int, rows: int) -> tuple[Any, Floats]:
    """The matrix of the pressures, row after row from the middle outwards, and its right side."""
    from scipy.sparse import coo_matrix

    step = 2 * np.pi / around
    angle = np.arange(around) * step
    h, between = 1 + e * np.cos(angle), (1 + e * np.cos(angle + step / 2)) ** 3  # here, and towards the next angle
    index = np.arange(around * rows).reshape(rows, around)
    forth, back = np.broadcast_to(between, (rows, around)), np.broadcast_to(np.roll(between, 1), (rows, around))
    main = -(forth + back)
    entries = [(index, np.roll(index, -1, axis=1), forth), (index, np.roll(index, 1, axis=1), back)]
    if not np.isinf(ratio):
        cubed = np.broadcast_to(h**3, (rows, around)) * (step / (ratio / rows)) ** 2  # the half width in radii is l/d
        entries += [(index[:-1], index[1:], cubed[:-1]), (index[1:], index[:-1], cubed[1:])]
        main = main - cubed * 2
        main[0] += cubed[0]  # half a step from the middle, where it mirrors
        main[-1] -= cubed[-1]  # half a step from the open end
    entries.append((index, index, main))
    at, to, weight = (np.concatenate([each[place].ravel() for each in entries]) for place in range(3))
    matrix = coo_matrix((weight, (at, to)), shape=(index.size, index.size)).tocsr()
    right = np.broadcast_to(6 * (np.roll(h, -1) - np.roll(h, 1)) / 2 * step, (rows, around)).ravel()
    return matrix, right


def _pressures(matrix: Any, right: Floats, shut: Indices) -> Floats:
    """Pressures that are nowhere below zero: ruptured places are taken out, and taken in where they would rise."""
    from scipy.sparse.linalg import spsolve

    inside = np.ones(right.size, dtype=bool)
    inside[shut] = False
    pressure = np.zeros(right.size)
    for _ in range(60):
        places = np.flatnonzero(inside)
        pressure[:] = 0
        pressure[places] = spsolve(matrix[places][:, places], right[places])
        falls, rises = inside & (pressure < 0), ~inside & (matrix @ pressure - right > 1e-9)
        rises[shut] = False
        if not falls.any() and not rises.any():
            return pressure
        inside = (inside & ~falls) | rises
    raise AssertionError("the rupture of the film does not settle")


def solve(eccentricity: float, ratio: float, around: int = 240, along: int = 16) -> Solved:
    """Solve for the pressure with the oil's rupture where it would fall below that of the air.

    Half of the bearing's width is meshed; an infinite one has one row. Where the gap is widest there is no pressure.
    Source: Reynolds' equation, cavitation by complementarity.
    """
    e, rows = eccentricity, 1 if np.isinf(ratio) else along
    matrix, right = _equations(e, ratio, around, rows)
    field = _pressures(matrix, right, np.arange(rows) * around).reshape(rows, around)
    angle, mean = np.arange(around) * 2 * np.pi / around, field.mean(axis=0)
    inward, across = -float(np.sum(mean * np.cos(angle))), float(np.sum(mean * np.sin(angle)))
    load = float(np.hypot(inward, across)) * 2 * np.pi / around  # W/(eta w (r/c)^2 r l), and w = 2 pi N
    phi, number = float(np.arctan2(across, inward)), 1 / (np.pi * load)
    friction = 2 * np.pi**2 * number / np.sqrt(1 - e**2) + e / 2 * np.sin(phi)
    return Solved(number, float(np.degrees(phi)), float(friction), load / 2 / float(field.max()))
