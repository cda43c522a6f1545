"""What the whole window shows at one moment: a job, its figures and its verdicts, always of one mind."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

from loadbench.analysis import Analysis, analyse
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


def state_of(job: Job, shop: Shop | None = None) -> State:
    """A job analysed and judged.

    Args:
        job: what is stated.
        shop: the shop's own limits; None for the program's.

    Returns:
        The state, quick parts only.
    """
    analysis = analyse(job)
    return State(job=job, analysis=analysis, verdicts=judge(analysis, shop))
