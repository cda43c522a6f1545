"""Plain text for a terminal: what it holds, in the job's units, and what a person typed stays as it is."""

from __future__ import annotations

import re
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
    text = sample("mild-street-flat-hydraulic", spring__bind_height=None)
    assert "waits for bind height" in text
    assert "Waits for: bind height." in text


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
    assert text.index("16 entries to mend; what depends on them is unknown:") < text.index("Figures")
    assert '  Lash: No number in "nan mm".' in text
    assert "  Reading 2, load: Readings at this height" in text


@pytest.mark.parametrize("name", ["deliberately-bad", "short-travel-hydraulic-roller"])
def test_no_text_names_a_field_by_its_path(name: str) -> None:
    text = sample(name, spring__bind_height=None, valve_gear__valve_lift=None, valve_gear__lobe_lift=None)
    assert not re.findall(r"\b(?:spring|springs|valve_gear|cam|follower|duty|tester|lines|rules)\.[a-z0-9_]+", text)


def test_entries_to_mend_are_counted_apart_from_the_findings() -> None:
    text = sample("deliberately-bad")
    assert "In sum: 16 entries to mend, and of the findings 0 stop, 0 watch, 14 unknown, 2 clear." in text
    assert "Not complete: a main figure is unknown." in text
    one = sample("mild-street-flat-hydraulic", duty__use="racing")
    assert "1 entry to mend; what depends on it is unknown:" in one
    assert "In sum: 1 entry to mend, and" in one


THICK = {"wire": {"shape": "round", "diameter": "0.600 in"}, "mean_diameter": "2.000 in", "material": "chrome-silicon"}


def test_a_wire_outside_its_table_counts_and_only_its_strength_is_unknown() -> None:
    text = sample("mild-street-flat-hydraulic", spring__coils=({"active_coils": 4, **THICK},))
    assert "1 entry to mend; it counts all the same, but for what is told to be unknown:" in text
    assert re.search(r"its strength is unknown\. Wanted: .*\. It counts for all else\.\n", text)
    assert "depends on" not in text
    both = sample("mild-street-flat-hydraulic", spring__coils=({"active_coils": 4, **THICK},), duty__use="racing")
    assert "2 entries to mend; what depends on them is unknown, unless it is told that it counts:" in both
    assert both.count("It counts for all else.") == 1
    two = sample("mild-street-flat-hydraulic", spring__coils=(THICK, THICK))
    assert "2 entries to mend; they count all the same, but for what is told to be unknown:" in two


def test_a_sound_job_has_no_entry_to_mend() -> None:
    text = sample("mild-street-flat-hydraulic")
    assert re.search(r"In sum: 0 stop, \d+ watch, \d+ unknown, \d+ clear; no entry to mend\.", text)
    assert "Not complete" not in text


def test_the_lines_stand_in_one_column() -> None:
    figures = sample("short-travel-hydraulic-roller").split("Figures")[1].split("Advice")[0].splitlines()
    assert len({line.index("[") for line in figures if line.endswith("]")}) == 1


def test_a_chance_says_what_it_is_of_without_false_certainty() -> None:
    assert "Chance of being past this limit: 65 %." in sample("short-travel-hydraulic-roller")
    assert "Chance of being past this limit: over 99 %." in sample("solid-roller-1000-lbf")


def test_advice_left_open_is_called_a_question() -> None:
    assert "axle: an open question. The load" in sample("deliberately-bad")


@pytest.mark.parametrize("title", ["=1+1", "<b>{x}</b>", "%s {0}"])
def test_a_title_stays_plain_text(title: str) -> None:
    assert text_of(Job(title=title)).startswith(title)


def test_an_empty_job_has_a_text() -> None:
    assert text_of(Job(title="")).startswith("Untitled job")
