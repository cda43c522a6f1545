"""The whole match: every follower family analysed over the cycle and judged, beside the job's own analysis.

Each time after an edit that moves the loads, so that nothing of it is kept from the time before.
"""

from __future__ import annotations

import statistics
import time
from collections.abc import Iterator
from pathlib import Path

import loadbench
from loadbench.analysis import Analysis, analyse
from loadbench.findings import judge
from loadbench.findings.match.match import match_of
from loadbench.findings.match.result import Criterion, Kit
from loadbench.job.edits import replaced_all
from loadbench.job.files import open_job

LIMITS = {"match_two_lines_ms": 20.0, "match_one_line_ms": 20.0, "match_after_a_solid_job_ms": 20.0}
SAMPLES = Path(loadbench.__file__).parent.parent / "samples"
JOBS = {
    "match_two_lines_ms": "short-travel-hydraulic-roller",
    "match_one_line_ms": "nest-of-three-with-damper",
    "match_after_a_solid_job_ms": "solid-roller-1000-lbf",
}
TIMES = 40


def edits(name: str) -> Iterator[Analysis]:
    """A sample with an edit of its ratio each time."""
    job = open_job(SAMPLES / f"{name}.loadbench.json")
    ratio = job.valve_gear.rocker_ratio or 1.6
    for count in range(TIMES):
        yield analyse(replaced_all(job, {"valve_gear.rocker_ratio": ratio + 1e-4 * (count + 1)}))


def match_ms(name: str) -> float:
    """Median processor time of a whole match, ms: other programs do not count. The first is left out."""
    spent = []
    for analysis in edits(name):
        before = time.process_time()
        match = match_of(analysis)
        spent.append(1e3 * (time.process_time() - before))
        if len(match.cells) != len(Kit) * len(Criterion) or match.family.choice is None:
            raise RuntimeError("the match of the benchmark has lost its sense")
    return statistics.median(spent[1:])


def own_ms(name: str) -> float:
    """Median processor time to analyse and judge the same job alone, ms."""
    job = open_job(SAMPLES / f"{name}.loadbench.json")
    ratio, spent = job.valve_gear.rocker_ratio or 1.6, []
    for count in range(TIMES):
        edited = replaced_all(job, {"valve_gear.rocker_ratio": ratio + 1e-4 * (count + 0.5)})
        before = time.process_time()
        judge(analyse(edited))
        spent.append(1e3 * (time.process_time() - before))
    return statistics.median(spent[1:])


def measure() -> dict[str, float]:
    """Medians of one run."""
    found = {figure: match_ms(name) for figure, name in JOBS.items()}
    two = JOBS["match_two_lines_ms"]
    own = own_ms(two)
    return {**found, "two_lines_analyse_and_judge_ms": own, "match_over_own_ratio": found["match_two_lines_ms"] / own}
