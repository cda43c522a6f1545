"""What the whole window shows at one moment: a job, its figures and its verdicts, always of one mind."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

from loadbench.analysis import Analysis, LineAnalysis, analyse
from loadbench.analysis.dynamic_runs import with_dynamics
from loadbench.analysis.motion.result import Dynamics
from loadbench.findings import judge
from loadbench.findings.finding import Verdicts
from loadbench.findings.shop import Shop
from loadbench.job.model import Job


@dataclass(frozen=True, slots=True)
class Pending:
    """A slow part under way; `share` of it is done."""

    share: float = 0.0


@dataclass(frozen=True, slots=True)
class Ready:
    """A slow part that is there."""

    answer: object


@dataclass(frozen=True, slots=True)
class Failed:
    """A slow part that could not be had, and why."""

    why: str


Slow = Pending | Ready | Failed


@dataclass(frozen=True, slots=True, kw_only=True)
class State:
    """The job with everything that follows from it; replaced whole, never changed."""

    job: Job
    analysis: Analysis
    verdicts: Verdicts
    slow: Mapping[str, Slow] = field(default_factory=dict)


@dataclass(frozen=True, slots=True, kw_only=True)
class Pointing:
    """What the pointer or the focus lights up everywhere: fields by dotted path, figures by name, a rule."""

    fields: tuple[str, ...] = ()
    figures: tuple[str, ...] = ()
    rule: str | None = None
    line: str | None = None
    member: str | None = None


Runs = Mapping[str, tuple[object, Dynamics]]
"""Dynamic runs by the line's name, each with what it rests on."""


def run_key(line: LineAnalysis) -> tuple[object, ...] | None:
    """All that a dynamic run of a line rests on; None where none can be made."""
    dynamic = line.motion.dynamic
    return None if dynamic is None else (*dynamic.key, line.motion.speed_limit)


def state_of(job: Job, shop: Shop | None = None, runs: Runs | None = None) -> State:
    """A job analysed and judged.

    Args:
        job: what is stated.
        shop: the shop's own limits; None for the program's.
        runs: dynamic runs that were made; those that still hold join the analysis.

    Returns:
        The state; what is slow and not there is told as computing.
    """
    analysis = analyse(job)
    kept = {
        line.name: runs[line.name][1]
        for line in (analysis.lines if runs else ())
        if runs and line.name in runs and runs[line.name][0] == run_key(line)
    }
    if kept:
        analysis = with_dynamics(analysis, kept)
    return State(job=job, analysis=analysis, verdicts=judge(analysis, shop))
