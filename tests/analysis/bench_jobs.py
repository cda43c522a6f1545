"""Small jobs for the tests of the analysis: a whole base, changed field by field; figures in inches and lbf."""

from __future__ import annotations

from typing import Any

from loadbench.analysis import Analysis, analyse
from loadbench.analysis.figure import Figure
from loadbench.job.edits import replaced_all
from loadbench.job.model import Job
from loadbench.units import Kind

INCH, LBF, PSI = 0.0254, 4.4482216152605, 6894.757293168361
SCALES: dict[object, float] = {Kind.LENGTH: INCH, Kind.FORCE: LBF, Kind.RATE: LBF / INCH}

# 150 lbf at 1.900 in and 420 lbf/in; 0.350 in of lobe at R 1.6 is 0.560 in: 1.340 in and 385.2 lbf at full lift.
BASE: dict[str, Any] = {
    "units": "inch-pound",
    "spring.installed_height": "1.900 in",
    "spring.bind_height": "1.080 in",
    "spring.readings": ({"height": "1.900 in", "load": "150 lbf"}, {"height": "1.300 in", "load": "402 lbf"}),
    "valve_gear.rocker_ratio": 1.6,
    "valve_gear.lobe_lift": "0.350 in",
    "valve_gear.retainer_to_seal": "0.640 in",
    "valve_gear.head_diameter": "2.02 in",
    "follower.family": "roller-hydraulic",
    "follower.preload.depth": "0.012 in",
}
SOLID: dict[str, Any] = {
    "follower.family": "roller-solid",
    "valve_gear.lash": "0.016 in",
    "follower.preload.depth": None,
}
# The outer at 1.900 in, the inner 0.060 + 0.040 in shorter: 150 + 40 lbf closed, 300 + 100 lbf/in.
COILS: tuple[dict[str, Any], ...] = (
    {
        "name": "outer",
        "seat_step": "0 in",
        "retainer_step": "0 in",
        "bind_height": "1.080 in",
        "readings": ({"height": "1.900 in", "load": "150 lbf"}, {"height": "1.300 in", "load": "330 lbf"}),
    },
    {
        "name": "inner",
        "seat_step": "0.060 in",
        "retainer_step": "0.040 in",
        "bind_height": "1.020 in",
        "readings": ({"height": "1.800 in", "load": "40 lbf"}, {"height": "1.200 in", "load": "100 lbf"}),
    },
)
PAIR: tuple[dict[str, Any], ...] = (
    {"part": "pair", "height": "1.900 in", "load": "195 lbf"},
    {"part": "pair", "height": "1.300 in", "load": "435 lbf"},
)


def job_with(*changes: dict[str, Any]) -> Job:
    """The base job with some fields changed."""
    fields: dict[str, Any] = dict(BASE)
    for each in changes:
        fields |= each
    return replaced_all(Job(title="invented"), fields)


def analysis_of(*changes: dict[str, Any]) -> Analysis:
    return analyse(job_with(*changes))


def bare_coil(place: int, **changes: Any) -> dict[str, Any]:
    """One of the coils without readings, changed."""
    return {**COILS[place], "readings": (), **changes}


def told(figure: Figure) -> float | None:
    """A figure's value in inches, lbf, lbf/in, or as it is."""
    return None if figure.value is None else figure.value / SCALES.get(figure.kind, 1.0)


def shown(analysis: Analysis, name: str, line: str | None = None) -> float | None:
    """A figure of the job, or of one of its lines, in inches and lbf; None where it cannot be had."""
    figures = analysis.figures if line is None else analysis.line(line).figures
    return told(figures[name])


def missing(analysis: Analysis, name: str) -> tuple[str, ...]:
    return analysis.figures[name].missing
