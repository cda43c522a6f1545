"""Small jobs for the judge's tests: a base that is clear, changed one field at a time."""

from __future__ import annotations

from typing import Any

from loadbench.analysis import analyse
from loadbench.findings import Finding, Verdicts, judge
from loadbench.job.edits import replaced_all
from loadbench.job.model import Job

BASE: dict[str, Any] = {
    "units": "inch-pound",
    "spring.installed_height": "1.900 in",
    "spring.bind_height": "1.100 in",
    "spring.readings": ({"height": "1.900 in", "load": "150 lbf"}, {"height": "1.300 in", "load": "390 lbf"}),
    "valve_gear.rocker_ratio": 1.6,
    "valve_gear.valve_lift": "0.600 in",
    "valve_gear.retainer_to_seal": "0.700 in",
    "follower.family": "roller-hydraulic",
    "follower.travel": "short",
    "follower.axle": "needle",
}


def job_with(changes: dict[str, Any] | None = None) -> Job:
    """The base job (rate 400 lbf/in, 150 lbf closed, 390 lbf open) with some fields changed."""
    return replaced_all(Job(title="test"), BASE | (changes or {}))


def verdicts(changes: dict[str, Any] | None = None, **more: Any) -> Verdicts:
    return judge(analyse(job_with(changes)), **more)


def told(rule: str, changes: dict[str, Any] | None = None) -> list[Finding]:
    """What a rule says of the base job with some fields changed."""
    return [finding for finding in verdicts(changes).findings if finding.id == rule]


def level(rule: str, changes: dict[str, Any] | None = None) -> str | None:
    """The level of a rule that says one thing; None where it says nothing."""
    findings = told(rule, changes)
    assert len(findings) <= 1, findings
    return findings[0].level.value if findings else None


def loaded(open_lbf: float, **more: Any) -> dict[str, Any]:
    """Changes that give an exact open load at the base's lift: 150 lbf closed at 1.900 in, so many open at 1.300 in."""
    readings = ({"height": "1.900 in", "load": "150 lbf"}, {"height": "1.300 in", "load": f"{open_lbf!r} lbf"})
    return {"spring.readings": readings, **{name.replace("__", "."): value for name, value in more.items()}}


def seated(seat_lbf: float, **more: Any) -> dict[str, Any]:
    """Changes that give an exact seat load at the base's installed height."""
    readings = ({"height": "1.900 in", "load": f"{seat_lbf!r} lbf"}, {"height": "1.300 in", "load": "390 lbf"})
    return {"spring.readings": readings, **{name.replace("__", "."): value for name, value in more.items()}}
