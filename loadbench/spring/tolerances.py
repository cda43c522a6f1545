"""Tolerances of cold-coiled compression springs by EN 15800 (formerly DIN 2095), grades 1 (close) to 3 (wide).

Symbols: d wire diameter, D mean coil diameter, De outside diameter, w = D/d index, n active coils, F load, R rate,
L0 free height, Q the grade's factor. The standard writes its load formulas in mm and N. All tolerances are to each
side. Outside the standard's range an answer is not a number.
"""

from __future__ import annotations

from types import MappingProxyType

import numpy as np

from loadbench.arrays import Floats, Real
from loadbench.errors import InputError
from loadbench.spring.coil import spring_index
from loadbench.spring.sizes import not_negative, positive

GRADES = (1, 2, 3)

DIAMETER_STEPS_mm = (6.3, 10.0, 16.0, 25.0, 31.5, 40.0, 50.0)
"""Mean diameters at which a row of the table ends and the next begins; a row takes in its upper end."""

INDEX_STEPS = (4.0, 8.0, 14.0, 20.0)
"""Indices at which a column begins and the last ends; a column takes in its upper end, the first its lower too."""

DIAMETER_TOLERANCES_mm = MappingProxyType(
    {
        1: (
            (0.15, 0.15, 0.20),
            (0.15, 0.20, 0.25),
            (0.20, 0.25, 0.30),
            (0.25, 0.30, 0.35),
            (0.25, 0.30, 0.35),
            (0.35, 0.40, 0.50),
        ),
        2: (
            (0.25, 0.30, 0.35),
            (0.30, 0.35, 0.40),
            (0.35, 0.45, 0.50),
            (0.40, 0.50, 0.60),
            (0.50, 0.60, 0.70),
            (0.60, 0.80, 0.90),
        ),
        3: (
            (0.50, 0.60, 0.70),
            (0.60, 0.70, 0.80),
            (0.70, 0.90, 1.00),
            (0.80, 1.00, 1.20),
            (1.00, 1.20, 1.50),
            (1.20, 1.50, 1.80),
        ),
    }
)
"""By grade, a row a diameter step, a column an index step. Source: en-15800; the rows over 25 to 31.5 and over 40 to
50 mm are from memory, the others were read."""

MEMORY_ROWS_mm = ((25.0, 31.5), (40.0, 50.0))
"""Diameter steps whose row was recalled, not read."""

_SQUARENESS = MappingProxyType({1: 0.03, 2: 0.05, 3: 0.08})
_PARALLELISM = MappingProxyType({1: 0.015, 2: 0.03, 3: 0.06})
_GRADE_FACTORS = MappingProxyType({1: 0.63, 2: 1.0, 3: 1.6})

LEAST_COILS = 2.0
"""Fewest active coils for which the load tolerance holds. Source: en-15800, from memory."""

_SLACK = 1e-9
"""A size converted from inches may stand this share past a step."""


def _graded(grade: int) -> int:
    if grade not in GRADES:
        raise InputError(f"no tolerance grade {grade}", expected="grade 1, 2 or 3")
    return grade


def diameter_tolerance(mean_diameter: Real, index: Real, grade: int) -> Floats:
    """Tolerance of the coil diameter: mean, inside or outside, whichever is stated.

    Args:
        mean_diameter: D, m, above zero.
        index: w = D/d, above zero; broadcasts with the diameter.
        grade: 1, 2 or 3.

    Returns:
        To each side, m, of the broadcast shape; not a number outside 6.3 to 50 mm or outside an index of 4 to 20.

    Raises:
        InputError: a size is zero or below, or there is no such grade.

    Source:
        en-15800, table of coil diameters; two rows from memory.
    """
    table = np.asarray(DIAMETER_TOLERANCES_mm[_graded(grade)]) / 1e3
    D, w = np.broadcast_arrays(*positive("a diameter or index", mean_diameter, index))
    diameters, indices = np.asarray(DIAMETER_STEPS_mm) / 1e3 * (1 + _SLACK), np.asarray(INDEX_STEPS) * (1 + _SLACK)
    row = np.searchsorted(diameters, D) - 1
    column = np.maximum(np.searchsorted(indices, w) - 1, 0)
    within = (row >= 0) & (row < table.shape[0]) & (column < table.shape[1]) & (w >= INDEX_STEPS[0] * (1 - _SLACK))
    found = table[np.clip(row, 0, table.shape[0] - 1), np.clip(column, 0, table.shape[1] - 1)]
    return np.asarray(np.where(within, found, np.nan))


def squareness(free_height: Real, grade: int) -> Floats:
    """How far the top of a spring with ground ends may stand out of square, free and upright.

    Args:
        free_height: L0, m, above zero.
        grade: 1, 2 or 3.

    Returns:
        e1, m, of the same shape.

    Raises:
        InputError: the height is zero or below, or there is no such grade.

    Source:
        en-15800, deviation e1 of ground springs.
    """
    (L0,) = positive("a free height", free_height)
    return np.asarray(_SQUARENESS[_graded(grade)] * L0)


def parallelism(outer_diameter: Real, grade: int) -> Floats:
    """How far the ground ends of a spring may be out of parallel.

    Args:
        outer_diameter: De, m, above zero.
        grade: 1, 2 or 3.

    Returns:
        e2, m, of the same shape.

    Raises:
        InputError: the diameter is zero or below, or there is no such grade.

    Source:
        en-15800, deviation e2 of ground springs.
    """
    (De,) = positive("an outside diameter", outer_diameter)
    return np.asarray(_PARALLELISM[_graded(grade)] * De)


def coil_count_factor(active_coils: Real) -> Floats:
    """The share of the load tolerance that stands for the turns.

    Two public codes differ in the sign of the first term; minus is taken, as also recalled. At 5 coils the other sign
    would give 0.027 more.

    Args:
        active_coils: n, above zero; any shape.

    Returns:
        k_F, dimensionless; not a number below 2 coils.

    Raises:
        InputError: the coils are zero or below.

    Source:
        en-15800, k_F = -1/(3 n^2) + 8/(5 n) + 0.803.
    """
    (n,) = positive("active coils", active_coils)
    return np.asarray(np.where(n >= LEAST_COILS, -1 / (3 * n**2) + 8 / (5 * n) + 0.803, np.nan))


def size_tolerance_load(wire_diameter: Real, mean_diameter: Real) -> Floats:
    """The part of the load tolerance that stands for wire and coil, before turns and grade.

    Args:
        wire_diameter: d, m, above zero.
        mean_diameter: D, m, above zero; broadcasts.

    Returns:
        a_F, N; not a number outside an index of 4 to 20.

    Raises:
        InputError: a size is zero or below.

    Source:
        en-15800, a_F = 65.92 d^3.3/D^1.6 [-0.84 (w/10)^3 + 3.781 (w/10)^2 - 4.244 (w/10) + 2.274], mm and N.
    """
    w = spring_index(mean_diameter, wire_diameter)
    d, D, tenth = np.asarray(wire_diameter) * 1e3, np.asarray(mean_diameter) * 1e3, w / 10
    load = 65.92 * d**3.3 / D**1.6 * (((-0.84 * tenth + 3.781) * tenth - 4.244) * tenth + 2.274)
    within = (w >= INDEX_STEPS[0] * (1 - _SLACK)) & (w <= INDEX_STEPS[-1] * (1 + _SLACK))
    return np.asarray(np.where(within, load, np.nan))


def load_tolerance(wire_diameter: Real, mean_diameter: Real, active_coils: Real, load: Real, grade: int) -> Floats:
    """Tolerance of the load at a stated height.

    Args:
        wire_diameter: d, m, above zero.
        mean_diameter: D, m, above zero.
        active_coils: n, above zero.
        load: F at that height, N, zero or above; all broadcast.
        grade: 1, 2 or 3.

    Returns:
        To each side, N; not a number outside an index of 4 to 20 or below 2 coils.

    Raises:
        InputError: an argument is out of its bounds, or there is no such grade.

    Source:
        en-15800, A_F = (a_F k_F + 1.5 F/100) Q.
    """
    (F,) = not_negative("a load", load)
    scatter = size_tolerance_load(wire_diameter, mean_diameter) * coil_count_factor(active_coils)
    return np.asarray((scatter + 0.015 * F) * _GRADE_FACTORS[_graded(grade)])


def length_tolerance(
    wire_diameter: Real, mean_diameter: Real, active_coils: Real, spring_rate: Real, grade: int
) -> Floats:
    """Tolerance of the free height, where no load and rate are fixed that would leave it to the maker.

    Args:
        wire_diameter: d, m, above zero.
        mean_diameter: D, m, above zero.
        active_coils: n, above zero.
        spring_rate: R, N/m, above zero; all broadcast.
        grade: 1, 2 or 3.

    Returns:
        To each side, m; not a number outside an index of 4 to 20 or below 2 coils.

    Raises:
        InputError: an argument is zero or below, or there is no such grade.

    Source:
        en-15800, A_L0 = a_F k_F Q/R.
    """
    (R,) = positive("a rate", spring_rate)
    scatter = size_tolerance_load(wire_diameter, mean_diameter) * coil_count_factor(active_coils)
    return np.asarray(scatter * _GRADE_FACTORS[_graded(grade)] / R)
