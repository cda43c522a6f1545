"""A million springs from the wire up, with the growth to ten million; and the design search over stock wire.

Both on one core: numpy's own loops use no second one.
"""

from __future__ import annotations

import statistics
import time
from collections.abc import Callable

import numpy as np

from loadbench.spring.design import Wanted, search
from loadbench.spring.many import judge_many
from loadbench.spring.materials import Material, materials
from loadbench.spring.wires import stock_wires

LIMITS = {"one_million_springs_s": 0.5, "design_search_ms": 1000.0, "design_search_nothing_fits_ms": 1000.0}


def median_s(work: Callable[[], object], times: int) -> float:
    """Median wall time of a call, s."""
    work()
    spent = []
    for _ in range(times):
        before = time.perf_counter()
        work()
        spent.append(time.perf_counter() - before)
    return statistics.median(spent)


def many_springs(count: int, material: Material) -> Callable[[], object]:
    """Invented springs of every size, each with its own wire, coil, turns and loads."""
    draw = np.random.default_rng(7)
    wire = draw.uniform(2.5e-3, 5.5e-3, count)
    mean, turns = wire * draw.uniform(4, 10, count), draw.uniform(3, 8, count)
    seat = draw.uniform(300, 900, count)
    full = seat + draw.uniform(300, 1200, count)
    return lambda: judge_many(wire, mean, turns, seat, full, material)


def wants(surge: float) -> Wanted:
    """An invented single spring: 380 N closed, 980 N at full lift."""
    return Wanted(
        installed_height=0.046,
        seat_load=380.0,
        open_load=980.0,
        travel=0.0115,
        bind_margin=0.0015,
        outer_diameter_max=0.037,
        inner_diameter_min=0.0175,
        surge_frequency_min=surge,
        stress_share_open_max=0.55,
        stress_share_bind_max=0.62,
        peened=True,
    )


def search_ms(surge: float, material: Material) -> float:
    """A search over all stock sizes, ms."""
    wires, wanted = stock_wires("all"), wants(surge)
    if bool(search(wanted, material, wires).candidates) != (surge < 1000.0):
        raise RuntimeError("the search of the benchmark has lost its sense")
    return 1e3 * median_s(lambda: search(wanted, material, wires), times=15)


def measure() -> dict[str, float]:
    """Medians of one run."""
    material = materials()["chrome-silicon"]
    few, one, ten = (median_s(many_springs(count, material), times) for count, times in FEW_TO_MANY)
    return {
        "hundred_thousand_springs_s": few,
        "one_million_springs_s": one,
        "ten_million_springs_s": ten,
        "springs_10e6_over_1e6_ratio": ten / one,
        "design_search_ms": search_ms(400.0, material),
        "design_search_nothing_fits_ms": search_ms(3000.0, material),
        "design_search_wires": float(stock_wires("all").size),
    }


FEW_TO_MANY = ((100_000, 9), (1_000_000, 7), (10_000_000, 3))
