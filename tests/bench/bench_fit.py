"""How long the proved fit takes: springs to valves on stacks of up to three shims, and its growth with the springs.

Invented heads: springs of about 150 lbf, every load and stack allowed, so that nothing but the search itself prunes.
"""

from __future__ import annotations

import statistics
import subprocess
import sys
import time
from collections.abc import Callable, Sequence
from functools import partial
from pathlib import Path

import numpy as np

from loadbench.fitup.best_fit import best_fit
from loadbench.fitup.choice_table import ChoiceTable
from loadbench.fitup.inverse import STOCK_SHIMS, THOU
from loadbench.fitup.stacks import stacks_of

LIMITS = {"32_valves_64_springs_ms": 300.0, "32_valves_64_springs_five_sizes_ms": 300.0}
FIVE_SIZES = tuple(size * THOU for size in (15, 20, 30, 45, 60))
LBF, IN = 4.4482216152605, 0.0254
HEADS = range(5)


def head(
    valves: int, springs: int, seed: int, stock: Sequence[float] = STOCK_SHIMS, counts: dict[float, int] | None = None
) -> ChoiceTable:
    """An invented head: half of the valves are exhaust ones, which stand 0.010 in shorter."""
    draw = np.random.default_rng(seed)
    load, rate = draw.normal(150, 4, springs), draw.normal(420, 8, springs)
    bare = 1.93 - 0.01 * (np.arange(valves) % 2) + draw.normal(0, 0.008, valves)
    stacks = stacks_of(stock, counts)
    height = bare[:, None] - np.array([sum(stack) for stack in stacks]) / IN
    seat = (load[:, None] + rate[:, None] * (1.9 - height[:, None, :])) * LBF
    return ChoiceTable(
        valves=tuple(f"valve {place}" for place in range(valves)),
        springs=tuple(f"spring {place}" for place in range(springs)),
        stacks=stacks,
        seat=seat,
        open=seat + 240 * LBF,
        deviation=np.abs(seat - 150 * LBF),
        refused={},
        counts=counts or {},
    )


def two_targets(valves: int, springs: int, seed: int) -> ChoiceTable:
    """The same head where the exhaust valves want half as much load again, within 5 %."""
    plain = head(valves, springs, seed)
    exhaust = (np.arange(valves) % 2 == 1)[:, None, None]
    seat, target = plain.seat * np.where(exhaust, 1.5, 1.0), np.where(exhaust, 225.0, 150.0) * LBF
    return ChoiceTable(
        valves=plain.valves,
        springs=plain.springs,
        stacks=plain.stacks,
        seat=seat,
        open=seat + 240 * LBF,
        deviation=np.abs(seat - target),
        refused={"seat-tolerance": np.abs(seat - target) > 0.05 * target},
        counts={},
    )


def fit_ms(made: Callable[[int], ChoiceTable], times: int = 5) -> float:
    """Median over several heads of the median time of a proved fit, ms."""
    medians = []
    for seed in HEADS:
        table = made(seed)
        spent = []
        for _ in range(times):
            before = time.perf_counter()
            chosen = best_fit(table)
            spent.append(1e3 * (time.perf_counter() - before))
            if chosen is None or not chosen.proved:
                raise RuntimeError("a fit of the benchmark is not proved")
        medians.append(statistics.median(spent))
    return statistics.median(medians)


def cold_ms() -> float:
    """The first fit of a process, which loads scipy's optimiser, ms."""
    code = (
        "import sys, time; sys.path.insert(0, sys.argv[1]); import bench_fit; table = bench_fit.head(32, 64, 0); "
        "before = time.perf_counter(); bench_fit.best_fit(table); print(1e3 * (time.perf_counter() - before))"
    )
    command = [sys.executable, "-c", code, str(Path(__file__).parent)]
    runs = [subprocess.run(command, check=True, capture_output=True, text=True, timeout=60) for _ in range(3)]
    return statistics.median(float(run.stdout) for run in runs)


def measure() -> dict[str, float]:
    """Medians of one run: the two limits, harder heads, the growth, twice as many springs as valves."""
    best_fit(head(2, 4, 0))
    few = {15 * THOU: 8, 30 * THOU: 10}
    figures = {
        "32_valves_64_springs_ms": fit_ms(lambda seed: head(32, 64, seed)),
        "32_valves_64_springs_five_sizes_ms": fit_ms(lambda seed: head(32, 64, seed, FIVE_SIZES)),
        "32_valves_32_springs_ms": fit_ms(lambda seed: head(32, 32, seed)),
        "two_targets_ms": fit_ms(lambda seed: two_targets(32, 64, seed)),
        "counted_shims_ms": fit_ms(lambda seed: head(32, 64, seed, counts=few), times=1),
        "first_fit_of_a_process_ms": cold_ms(),
    }
    growth = {
        f"growth_{springs}_springs_ms": fit_ms(partial(head, springs // 2, springs), times=3)
        for springs in (16, 32, 64, 128, 256)
    }
    return figures | growth
