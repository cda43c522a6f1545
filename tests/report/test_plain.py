"""Plain text for a terminal: what it holds, in the job's units, and what a person typed stays as it is."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest

import loadbench
from loadbench.analysis import analyse
from loadbench.findings import judge
from loadbench.job.edits import replaced
from loadbench.job.files import open_job
from loadbench.job.model import Job
from loadbench.report.plain import as_text

SAMPLES = Path(loadbench.__file__).parent.parent / "samples"


def text_of(job: Job) -> str:
    analysis = analyse(job)
    return as_text(analysis, judge(analysis)).replace("\u2009", " ")


def sample(name: str, **changes: Any) -> str:
    job = open_job(SAMPLES / f"{name}.loadbench.json")
    for field, value in changes.items():
        job = replaced(job, field.replace("__", "."), value)
    return text_of(job)


def test_figures_are_told_in_the_jobs_units_with_their_uncertainty() -> None:
    text = sample("mild-street-flat-hydraulic")
    assert "103.9 ± 2.0 lbf" in text
    assert "462.3 ± 9.1 N" in sample("mild-street-flat-hydraulic", units="metric")


def test_an_unknown_figure_names_what_it_waits_for() -> None:
    assert "waits for spring.bind_height" in sample("mild-street-flat-hydraulic", spring__bind_height=None)


def test_findings_come_worst_first_with_what_clears_them() -> None:
    lines = sample("short-travel-hydraulic-roller").split("Findings, worst first:")[1].splitlines()
    levels = [line.split()[0] for line in lines if line.startswith("  ")]
    order = ["STOP", "WATCH", "UNKNOWN", "CLEAR"]
    assert levels == sorted(levels, key=order.index)
    assert "To clear it:" in lines[1]


def test_lines_name_where_a_figure_is_worst() -> None:
    assert "[exhaust]" in sample("short-travel-hydraulic-roller")
    assert "[common]" not in sample("mild-street-flat-hydraulic")


def test_problems_stand_first() -> None:
    text = sample("deliberately-bad")
    assert text.index("Entries to mend:") < text.index("Figures")
    assert "valve_gear.lash" in text


@pytest.mark.parametrize("title", ["=1+1", "<b>{x}</b>", "%s {0}"])
def test_a_title_stays_plain_text(title: str) -> None:
    assert text_of(Job(title=title)).startswith(title)


def test_an_empty_job_has_a_text() -> None:
    assert text_of(Job(title="")).startswith("Untitled job")
