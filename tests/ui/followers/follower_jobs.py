"""Samples for the tests of the Followers page's views, analysed."""

from __future__ import annotations

import functools
from pathlib import Path
from typing import TYPE_CHECKING

from loadbench.analysis import analyse
from loadbench.findings.match.match import match_of
from loadbench.job.edits import replaced_all
from loadbench.job.files import open_job
from loadbench.job.model import Job

if TYPE_CHECKING:
    from loadbench.analysis import LineAnalysis
    from loadbench.findings.match.result import Match

SAMPLES = Path(__file__).parents[3] / "samples"
SHORT, SOLID, FLAT, BUCKET = (
    "short-travel-hydraulic-roller", "solid-roller-1000-lbf", "mild-street-flat-hydraulic", "bucket-head-with-shims",
)  # fmt: skip


def sample(name: str, **edits: object) -> Job:
    """A sample; changes by path, its points as two underscores."""
    job = open_job(SAMPLES / f"{name}.loadbench.json")
    return replaced_all(job, {path.replace("__", "."): value for path, value in edits.items()}) if edits else job


@functools.cache
def line_of(name: str) -> LineAnalysis:
    """The first line of a sample."""
    return analyse(sample(name)).lines[0]


def line_with(name: str, **edits: object) -> LineAnalysis:
    """The first line of a sample with changes."""
    return analyse(sample(name, **edits)).lines[0]


@functools.cache
def match_of_sample(name: str) -> Match:
    """The match of a sample."""
    return match_of(analyse(sample(name)))


EMPTY = Job(title="", units="inch-pound")
