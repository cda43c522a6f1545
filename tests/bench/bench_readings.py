"""A printout and a set: reading 10,000 rows, the doubts and the check of 64 springs at ten heights."""

from __future__ import annotations

import statistics
import tempfile
import time
from collections.abc import Callable
from pathlib import Path

import numpy as np

from loadbench.analysis import analyse
from loadbench.findings.set_check.check_set import check_set
from loadbench.job.model import Job, NumberedSpring
from loadbench.job.parts import Reading, SpecPoint, Spring, Tester, ValveGear
from loadbench.readings.printout.opening import read_grid
from loadbench.readings.printout.reading import understood

LIMITS = {
    "read_10000_rows_a_spring_ms": 500.0,
    "read_10000_rows_a_reading_ms": 500.0,
    "check_64_springs_at_10_heights_ms": 50.0,
}


def median_ms(work: Callable[[], object], times: int) -> float:
    """Median wall time of a call, ms."""
    work()
    spent = []
    for _ in range(times):
        before = time.perf_counter()
        work()
        spent.append(1e3 * (time.perf_counter() - before))
    return statistics.median(spent)


def spring_rows(count: int) -> str:
    """A printout with one row a spring."""
    rows = (f"{n},{140 + n % 97 * 0.1:.1f},{410 + n % 89 * 0.1:.1f}" for n in range(count))
    return "\n".join(["Spring,Load at 1.900 in (lbf),Load at 1.250 in (lbf)", *rows])


def reading_rows(count: int) -> str:
    """A printout with one row a reading."""
    rows = (f"{n // 4},{1.9 - n % 4 * 0.1:.3f},{140 + n * 0.037:.2f},1" for n in range(count))
    return "\n".join(["Spring,Height (in),Load (lbf),Repeat", *rows])


def a_set(springs: int, heights: int) -> Job:
    """An invented set, its loads a little apart."""
    chance = np.random.default_rng(4)
    at = [1.9 - 0.07 * place for place in range(heights)]
    numbered = tuple(
        NumberedSpring(
            id=f"S{number:02}",
            readings=tuple(
                Reading(height=f"{height:.3f} in", load=f"{share * (150 + 400 * (1.9 - height)):.2f} lbf")
                for height in at
            ),
        )
        for number, share in enumerate(1 + 0.01 * chance.standard_normal(springs))
    )
    return Job(
        title="an invented set",
        units="inch-pound",
        spring=Spring(
            installed_height="1.900 in",
            spec=(SpecPoint(height="1.900 in", load="150 lbf", minus="8 lbf", plus="8 lbf"),),
        ),
        valve_gear=ValveGear(valve_lift="0.500 in", lash="0 in"),
        tester=Tester(load_accuracy_percent=1.0, load_repeatability="0.5 lbf"),
        springs=numbered,
    )


def read_ms(folder: Path, text: str) -> float:
    """Opening, splitting and understanding a file."""
    path = folder / "invented.csv"
    path.write_text(text, encoding="utf-8")
    return median_ms(lambda: understood(read_grid(path)), times=7)


def measure() -> dict[str, float]:
    """Medians of one run, with the growth from 1,000 to 10,000 rows and from 16 to 64 springs."""
    with tempfile.TemporaryDirectory() as home:
        folder = Path(home)
        few, many = read_ms(folder, spring_rows(1_000)), read_ms(folder, spring_rows(10_000))
        readings = read_ms(folder, reading_rows(10_000))
    small, large = analyse(a_set(16, 10)), analyse(a_set(64, 10))
    sixteen, sixty_four = (median_ms(lambda job=job: check_set(job), times=9) for job in (small, large))
    return {
        "read_10000_rows_a_spring_ms": many,
        "read_10000_rows_a_reading_ms": readings,
        "rows_10000_over_1000_ratio": many / few,
        "check_64_springs_at_10_heights_ms": sixty_four,
        "springs_64_over_16_ratio": sixty_four / sixteen,
    }
