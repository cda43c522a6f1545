"""How long a job takes from the statement to the findings: analyse and judge, with the growth over a whole set."""

from __future__ import annotations

import statistics
import time
from collections.abc import Callable
from pathlib import Path

import loadbench
from loadbench.analysis import analyse
from loadbench.findings import judge
from loadbench.job.edits import replaced
from loadbench.job.files import open_job
from loadbench.job.model import Job

LIMITS = {"analyse_and_judge_ms": 3.0}
SAMPLES = Path(loadbench.__file__).parent.parent / "samples"


def median_ms(work: Callable[[], object], times: int = 60) -> float:
    """Median wall time of a call, ms."""
    work()
    spent = []
    for _ in range(times):
        before = time.perf_counter()
        work()
        spent.append(1e3 * (time.perf_counter() - before))
    return statistics.median(spent)


def edited(job: Job) -> Callable[[], object]:
    """One edit of a height, then everything computed and judged anew: each time another height, so nothing is kept."""
    count = iter(range(10_000))

    def work() -> object:
        return judge(analyse(replaced(job, "spring.installed_height", f"{1.8 + 1e-5 * next(count):.5f} in")))

    return work


def measure() -> dict[str, float]:
    """Medians of one run: a job without numbered springs, and the demo with sixteen springs on sixteen valves."""
    demo = open_job(SAMPLES / "short-travel-hydraulic-roller.loadbench.json")
    plain = demo.model_copy(update={"springs": (), "valves": ()})
    without, sixteen = median_ms(lambda: judge(analyse(plain))), median_ms(lambda: judge(analyse(demo)))
    return {
        "analyse_and_judge_ms": without,
        "edit_analyse_and_judge_ms": median_ms(edited(plain)),
        "with_sixteen_springs_ms": sixteen,
        "sixteen_springs_over_none_ratio": sixteen / without,
    }
