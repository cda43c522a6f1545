"""Pushrods as columns, and what check rows of plungers and levers say beside their first value, the id in each name."""

# ruff: noqa: E501 - a published value a line

from __future__ import annotations

import math
from collections.abc import Callable
from typing import Any

import numpy as np
import pytest

from loadbench.follower import lever, plunger
from loadbench.motion import pushrod

MM, UM, MPA, KN = 1e-3, 1e-6, 1e6, 1e3
Found = Callable[[], Any]


def case(
    row: str, source: str, found: Found, expected: Any, rel: float | None = None, abs_: float | None = None
) -> Any:
    """A published value: what gives it here, and how near it must be."""
    return pytest.param(found, expected, {"rel": rel, "abs": abs_}, marks=pytest.mark.reference(source), id=row)


# Plunger


def leak(d: float, c: float, L: float, F: float, eta: float, e: float = 0.0) -> float:
    pressure = F / float(plunger.plunger_area(d * MM))
    return float(plunger.leak_flow(d * MM, c * UM, L * MM, pressure, eta, e)) * 1e9


PLUNGER = [
    case("F117-Q-wall", "merritt", lambda: leak(14, 3, 12, 400, 0.05, 1.0), 1.071, rel=0.001),
    case("F118-dp", "rabie", lambda: 600 / plunger.plunger_area(11 * MM) / MPA, 6.314, rel=0.001),
    case("F118-Q", "rabie", lambda: leak(11, 4, 10, 600, 0.012), 9.697, rel=0.001),
    case("F118-Q-wall", "merritt", lambda: leak(11, 4, 10, 600, 0.012, 1.0), 24.24, rel=0.001),
    case("F120-wall", "merritt", lambda: leak(14, 3, 12, 400, 0.05, 1.0) / leak(14, 3, 12, 400, 0.05), 2.5, rel=1e-12),
]

# Lever


def turned(x: float, beta: float) -> lever.TurnedDepth:
    """One turn of a screw of pitch x at the pivot; arms of 36 and 24 mm."""
    return lever.depth_of_turns(1.0, x * MM, "pivot", 1.5, arms=(36 * MM, 24 * MM), cup_angle=math.radians(beta))


LEVER = [
    case("F144-array", "own-form", lambda: lever.depth_of_turns(np.array([0.5, 2]), MM, "pushrod", 1.6).exact / MM,
         np.array([0.5, 2.0]), rel=1e-12),
    case("F149-exact", "own-form", lambda: turned(0.5, 0).exact / MM, 0.833333, abs_=1e-6),
    case("F149-first", "own-form", lambda: turned(0.5, 0).first_order / MM, 0.833333, abs_=1e-6),
    case("F149-plain", "own-form", lambda: turned(0.5, 0).straight / MM, 0.833333, abs_=1e-6),
    case("F150-exact", "own-form", lambda: turned(0.5, 12).exact / MM, 0.825568, abs_=1e-6),
    case("F150-plain", "own-form", lambda: turned(0.5, 12).straight / MM, 0.833333, abs_=1e-6),
    case("F151-exact", "own-form", lambda: turned(1.0, 12).exact / MM, 1.650173, abs_=1e-6),
    case("F151-first", "own-form", lambda: turned(1.0, 12).first_order / MM, 1.652098, abs_=1e-6),
    case("F151-plain", "own-form", lambda: turned(1.0, 12).straight / MM, 1.666667, abs_=1e-6),
    case("F152-inverse", "own-form", lambda: lever.turns_for(1.656763 * MM, MM, "pivot", 1.5, arms=(36 * MM, 24 * MM),
         cup_angle=math.radians(12), lean=math.radians(5)), 1.0, abs_=1e-6),
]  # fmt: skip

# Columns. A solid rod has a wall of half its diameter; the formulas for a diameter are solved for it by bisection.

E_STEEL = 207e9


def limit(D: float, wall: float, Sy: float, E: float = E_STEEL, C: float = 1.0) -> float:
    """Slenderness at which both curves meet: the length at which Euler's stress is half the yield strength."""
    length = bisected(lambda L: Sy / 2 - pushrod.euler_load(D, wall, L, E, C) / pushrod.section(D, wall)[0], 0.01, 50)
    return float(pushrod.slenderness(D, wall, length))


def bisected(rises: Callable[[float], Any], low: float, high: float) -> float:
    for _ in range(200):
        middle = (low + high) / 2
        low, high = (low, middle) if float(rises(middle)) > 0 else (middle, high)
    return (low + high) / 2


def tube(D: float, wall: float, length: float, Sy: float) -> tuple[float, ...]:
    """A, I, k, l/k, its limit, Euler's load and the one that governs; in mm, N."""
    sizes = (D * MM, wall * MM)
    area, moment = (float(each) for each in pushrod.section(*sizes))
    return (
        area * 1e6, moment * 1e12, math.sqrt(moment / area) * 1e3, float(pushrod.slenderness(*sizes, length * MM)),
        limit(*sizes, Sy * MPA), float(pushrod.euler_load(*sizes, length * MM, E_STEEL)),
        float(pushrod.column_load(*sizes, length * MM, Sy * MPA, E_STEEL)),
    )  # fmt: skip


TUBES = {
    155: ((7.94, 2.03, 190, 650), (37.691, 183.97, 2.209, 86, 79.29, 10412, 10412)),
    156: ((9.525, 2.03, 240, 900), (47.799, 360.26, 2.745, 87.42, 67.38, 12778, 12778)),
    157: ((7.94, 1.27, 220, 350), (26.612, 153.36, 2.401, 91.64, 108, 6473.4, 5963.8)),
    158: ((11.11, 3.0, 260, 900), (76.435, 714.4, 3.057, 85.04, 67.38, 21591, 21591)),
}
COLUMNS = [
    case("F153-d", "shigley-columns", lambda: bisected(
        lambda d: pushrod.euler_load(d, d / 2, 1.5, E_STEEL) - 4 * 22 * KN, 0.01, 0.1) / MM, 37.48, rel=0.001),
    case("F153-slender", "shigley-columns", lambda: pushrod.slenderness(0.040, 0.020, 1.5), 150, rel=0.001),
    case("F153-limit", "shigley-columns", lambda: limit(0.040, 0.020, 500e6), 90.4, rel=0.001),
    case("F154-d", "shigley-columns", lambda: bisected(
        lambda d: pushrod.column_load(d, d / 2, 0.375, 500e6, E_STEEL) - 4 * 22 * KN, 0.01, 0.1) / MM, 19.02, rel=0.002),
    case("F154-slender", "shigley-columns", lambda: pushrod.slenderness(0.020, 0.010, 0.375), 75, rel=0.001),
    *(case(f"F{row}", "shigley-columns", lambda s=sizes: tube(*s), values, rel=0.001)
      for row, (sizes, values) in TUBES.items()),
    case("F160", "own-form", lambda: E_STEEL * pushrod.section(7.94 * MM, 2.03 * MM)[0] / 0.190 / 1e6, 41.06, rel=0.001),
    case("F161", "hibbeler", lambda: pushrod.euler_load(0.150, 0.005, 7.2, 200e9) / KN, 228.2, rel=0.001),
    case("F162-d", "shigley-column-answers", lambda: bisected(
        lambda D: pushrod.column_load(D, 0.2 * D, 0.240, 600e6, E_STEEL) - 20 * KN, 0.005, 0.03) / MM, 10.7735, rel=1e-4),
    case("F162-load", "shigley-column-answers",
         lambda: pushrod.column_load(10.7735 * MM, 0.2 * 10.7735 * MM, 0.240, 600e6, E_STEEL), 20000, rel=1e-4),
    case("F163", "norton-columns", lambda: (
        pushrod.section(0.020, 0.003)[0] * 1e6, pushrod.section(0.020, 0.003)[1] * 1e12,
        float(pushrod.slenderness(0.020, 0.003, 1.5)), limit(0.020, 0.003, 300e6),
        float(pushrod.column_load(0.020, 0.003, 1.5, 300e6, E_STEEL))), (160.22, 5968.2, 245.77, 116.7, 5419), rel=0.001),
]  # fmt: skip


@pytest.mark.parametrize(("found", "expected", "tolerance"), [*PLUNGER, *LEVER, *COLUMNS])
def test_published_value(found: Found, expected: Any, tolerance: dict[str, float | None]) -> None:
    assert found() == pytest.approx(expected, rel=tolerance["rel"], abs=tolerance["abs"] or 0.0)


@pytest.mark.reference("shigley-columns")
def test_f159_both_curves_meet_at_half_the_yield_strength_with_one_slope() -> None:
    sizes, Sy = (7.94 * MM, 2.03 * MM), 650e6
    area, moment = (float(each) for each in pushrod.section(*sizes))
    joint = math.sqrt(2 * math.pi**2 * E_STEEL / Sy) * math.sqrt(moment / area)
    assert float(pushrod.column_load(*sizes, joint, Sy, E_STEEL)) / area == pytest.approx(Sy / 2, rel=1e-12)
    below, above = joint * (1 - 1e-4), joint * (1 + 1e-4)
    load = [float(pushrod.column_load(*sizes, L, Sy, E_STEEL)) for L in (below, joint, above)]
    assert (load[1] - load[0]) / (load[2] - load[1]) == pytest.approx(1.0, rel=1e-3)
    slope = -2 * load[1] / joint  # of Euler's curve
    assert (load[1] - load[0]) / (joint - below) == pytest.approx(slope, rel=1e-3)
