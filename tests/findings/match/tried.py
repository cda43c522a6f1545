"""Jobs for the tests of the match: a base or a sample with some fields changed, and the cells that come of them."""

from __future__ import annotations

from functools import cache
from pathlib import Path
from typing import Any

from loadbench.analysis import Analysis, analyse
from loadbench.findings.match.match import match_of
from loadbench.findings.match.result import Cell, Criterion, Kit, Match
from loadbench.job.edits import replaced_all
from loadbench.job.files import open_job
from loadbench.job.model import Job, RuleChange
from tests.findings.jobs import job_with

SAMPLES = Path(__file__).parents[3] / "samples"
STREET = "mild-street-flat-hydraulic"
SHORT = "short-travel-hydraulic-roller"
DRAG = "solid-roller-1000-lbf"
WHEEL = "lobe-from-a-degree-wheel"
BUCKETS = "bucket-head-with-shims"
Changes = dict[str, Any]


@cache
def sample_job(name: str) -> Job:
    return open_job(SAMPLES / f"{name}.loadbench.json")


def sample(name: str, changes: Changes | None = None) -> Analysis:
    job = sample_job(name)
    return analyse(replaced_all(job, changes) if changes else job)


def base(changes: Changes | None = None) -> Analysis:
    """The judge's base job: 150 lbf closed, 390 lbf open, a hydraulic roller of short travel on needles, R 1.6."""
    return analyse(job_with(changes))


def matched(analysis: Analysis, shop: dict[str, Any] | None = None) -> Match:
    changes = {rule: RuleChange.model_validate(each) for rule, each in (shop or {}).items()}
    return match_of(analysis, changes or None)


def cell(analysis: Analysis, kit: Kit, criterion: Criterion, shop: dict[str, Any] | None = None) -> Cell:
    return matched(analysis, shop).cell(kit, criterion)


def level(analysis: Analysis, kit: Kit, criterion: Criterion, shop: dict[str, Any] | None = None) -> str | None:
    found = cell(analysis, kit, criterion, shop).level
    return None if found is None else found.value
