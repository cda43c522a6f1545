"""A sweep speed by speed: the columns that table, JSON, CSV and workbook share."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from loadbench.analysis import Analysis, LineAnalysis
from loadbench.analysis.figure import keyed
from loadbench.analysis.motion.result import Dynamics
from loadbench.arrays import Floats
from loadbench.motion.bands import LossBand
from loadbench.motion.sweep import Sweep
from loadbench.report.json_out import problems_as_json
from loadbench.report.motion_json import bands_of, finite
from loadbench.report.table import SWEEP_COLUMNS, SWEEP_HEAD, Cell, csv_text
from loadbench.units import Kind


@dataclass(frozen=True, slots=True)
class Column:
    """One quantity of a sweep: its two heads in a table, what it measures, and how it is had."""

    over: str
    head: str
    kind: Kind
    of: Callable[[Sweep], Floats]


COLUMNS: Mapping[str, Column] = dict(
    zip(
        SWEEP_COLUMNS,
        (
            Column("Engine", "speed", Kind.SPEED, lambda found: found.speeds),
            Column("Greatest", "contact", Kind.FORCE, lambda found: found.peak_force),
            Column("Greatest", "at cam", Kind.ANGLE, lambda found: found.peak_angle),
            Column("Least", "contact", Kind.FORCE, lambda found: found.least_force),
            Column("Least", "at cam", Kind.ANGLE, lambda found: found.least_angle),
            Column("Greatest", "lift", Kind.LENGTH, lambda found: found.greatest_lift),
            Column("Lift", "loss", Kind.LENGTH, lambda found: found.lift_loss),
            Column("Loft", "", Kind.LENGTH, lambda found: found.loft),
            Column("Seating", "speed", Kind.VELOCITY, lambda found: -found.seating_speed + 0.0),
            Column("Bounce", "", Kind.LENGTH, lambda found: found.bounce),
            Column("Surge", "load", Kind.FORCE, lambda found: found.surge_load),
            Column("Open load", "loss", Kind.FORCE, lambda found: found.open_load_loss),
        ),
        strict=True,
    )
)
"""By the key in JSON and CSV. Contact forces are at the valve; angles are of the cam from its nose."""


def band_at(speed: float, bands: Iterable[LossBand]) -> LossBand | None:
    """The band of lost contact that an engine speed, rad/s, lies in."""
    return next((band for band in bands if band.low <= speed <= (band.high or math.inf)), None)


def sweep_as_json(analysis: Analysis, lines: Sequence[LineAnalysis]) -> dict[str, Any]:
    """The sweeps of some lines, for scripts.

    Args:
        analysis: of the job.
        lines: those to tell of, with their dynamic runs.

    Returns:
        `sweep`, a row for each line and speed; `loss_bands`; `not_swept`, the lines that wait for something; the
        job's problems. A line is None where the job has one common line.
    """
    names = {line.name: line.name if analysis.has_lines else None for line in lines}
    return {
        "sweep": [
            {"line": names[line.name], **row}
            for line in lines
            if line.dynamics is not None
            for row in _rows(line.dynamics)
        ],
        "loss_bands": [{"line": names[line.name], **band} for line in lines for band in bands_of(line)],
        "not_swept": [
            {"line": names[line.name], "missing": list(dict.fromkeys(line.motion.missing))}
            for line in lines
            if line.dynamics is None
        ],
        "problems": problems_as_json(analysis.problems),
    }


def _rows(dynamics: Dynamics) -> Iterable[dict[str, Any]]:
    found = dynamics.found
    columns = {key: column.of(found) for key, column in COLUMNS.items()}
    for place, speed in enumerate(found.speeds):
        row = {key: finite(keyed(float(values[place]), COLUMNS[key].kind)) for key, values in columns.items()}
        band = band_at(float(speed), dynamics.bands)
        yield {
            **row,
            "contact_lost": bool(found.lost[place]),
            "cause": None if band is None else str(band.cause),
            "turns": int(found.turns[place]),
            "periodic": bool(found.periodic[place]),
        }


def sweep_csv(lines: Sequence[LineAnalysis]) -> str:
    """The sweeps of some lines as CSV: SI with units in the keys, speeds in rpm."""
    rows = [
        (line.name, *(_cell(value) for value in row.values()))
        for line in lines
        if line.dynamics is not None
        for row in _rows(line.dynamics)
    ]
    return csv_text(SWEEP_HEAD, rows)


def _cell(value: Any) -> Cell:
    if isinstance(value, bool):
        return "yes" if value else "no"
    return value if value is None or isinstance(value, str) else float(value)
