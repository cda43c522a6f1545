"""Edits of the job's variants: add from the job's spring, remove, take over."""

from __future__ import annotations

from loadbench.analysis.variants import taken_over
from loadbench.job.model import Job, Variant
from loadbench.job.parts import Spring

MOST = 3
OF_THE_HEAD = frozenset({"name", "bare_height", "shims", "installed_height"})


def added(job: Job, name: str) -> Job:
    """The job with a variant that starts as a copy of the job's own spring, without the head's heights.

    Args:
        job: the job before.
        name: of the variant.

    Returns:
        The job after; its heights follow the job's until the variant states its own.
    """
    spring = Spring(**{field: getattr(job.spring, field) for field in Spring.model_fields if field not in OF_THE_HEAD})
    return job.model_copy(update={"variants": (*job.variants, Variant(name=name, spring=spring))})


def dropped(job: Job, index: int) -> Job:
    """The job without one of its variants."""
    return job.model_copy(update={"variants": job.variants[:index] + job.variants[index + 1 :]})


def made_own(job: Job, index: int) -> Job:
    """The job with a variant as its own spring; the variant has done its work and goes."""
    return dropped(taken_over(job, index), index)
