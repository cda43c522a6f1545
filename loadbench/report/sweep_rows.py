"""A sweep speed by speed: the columns that table, JSON, CSV and workbook share."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

import numpy as np

from loadbench.analysis import Analysis, LineAnalysis
from loadbench.analysis.figure import keyed
from loadbench.analysis.motion.result import Dynamics
from loadbench.arrays import Floats
from loadbench.motion.bands import LossBand
from loadbench.motion.follower_run import Tip
from loadbench.motion.sweep import Sweep
from loadbench.report.json_out import problems_as_json
from loadbench.report.motion_json import bands_of, finite, slack_of
from loadbench.report.table import FULL_COLUMNS, FULL_SWEEP_HEAD, SWEEP_COLUMNS, SWEEP_HEAD, Cell, csv_text
from loadbench.units import Kind


@dataclass(frozen=True, slots=True)
class Column:
    """One quantity of a sweep: its two heads in a table, what it measures, and how it is had."""

    over: str
    head: str
    kind: Kind
    of: Callable[[Sweep], Floats]


def _of_waves(found: Sweep, values: Floats) -> Floats:
    return values if found.surging else np.full(found.speeds.shape, np.nan)


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
            Column("Surge", "load", Kind.FORCE, lambda found: _of_waves(found, found.surge_load)),
            Column("Open load", "loss", Kind.FORCE, lambda found: _of_waves(found, found.open_load_loss)),
        ),
        strict=True,
    )
)
"""By the key in JSON and CSV. Contact forces are at the valve; angles are of the cam from its nose."""


def _of_tip(quantity: Callable[[Tip], Floats]) -> Callable[[Sweep], Floats]:
    return lambda found: np.full(found.speeds.shape, np.nan) if found.tip is None else quantity(found.tip)


FULL: Mapping[str, Column] = dict(
    zip(
        FULL_COLUMNS,
        (
            Column("Greatest", "at tip", Kind.FORCE, _of_tip(lambda tip: tip.peak_force)),
            Column("Least", "at tip", Kind.FORCE, _of_tip(lambda tip: tip.least_force)),
            Column("Held", "open", Kind.LENGTH, _of_tip(lambda tip: tip.held_open)),
            Column("Plunger", "pumped", Kind.LENGTH, _of_tip(lambda tip: tip.plunger_high)),
        ),
        strict=True,
    )
)
"""More of them where the follower is a mass of its own. At the valve: how far the plunger has come out."""


def is_full(lines: Iterable[LineAnalysis]) -> bool:
    """Whether the follower of any line was swept as a mass of its own."""
    return any(line.dynamics is not None and line.dynamics.found.tip is not None for line in lines)


def columns_of(lines: Iterable[LineAnalysis]) -> Mapping[str, Column]:
    """The columns of a sweep of some lines."""
    return {**COLUMNS, **FULL} if is_full(lines) else COLUMNS


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
        job's problems. A line is None where the job has one common line. With the follower as a mass of its own the
        bands are of the lobe, and `slack_bands` of the linkage above it.
    """
    full = is_full(lines)
    slack = [{"line": line.name if analysis.has_lines else None, **band} for line in lines for band in slack_of(line)]
    names = {line.name: line.name if analysis.has_lines else None for line in lines}
    return {
        "sweep": [
            {"line": names[line.name], **row}
            for line in lines
            if line.dynamics is not None
            for row in _rows(line.dynamics, full=full)
        ],
        "loss_bands": [{"line": names[line.name], **band} for line in lines for band in bands_of(line)],
        **({"slack_bands": slack} if full else {}),
        "not_swept": [
            {"line": names[line.name], "missing": list(dict.fromkeys(line.motion.missing))}
            for line in lines
            if line.dynamics is None
        ],
        "problems": problems_as_json(analysis.problems),
    }


def _rows(dynamics: Dynamics, *, full: bool) -> Iterable[dict[str, Any]]:
    found = dynamics.found
    wanted = {**COLUMNS, **FULL} if full else COLUMNS
    columns = {key: column.of(found) for key, column in wanted.items()}
    slack = found.lost if found.tip is None else found.tip.lost
    for place, speed in enumerate(found.speeds):
        row = {key: finite(keyed(float(values[place]), wanted[key].kind)) for key, values in columns.items()}
        band = band_at(float(speed), dynamics.bands)
        yield {
            **row,
            "contact_lost": bool(found.lost[place]),
            "cause": None if band is None else str(band.cause),
            "turns": int(found.turns[place]),
            "periodic": bool(found.periodic[place]),
            **({"linkage_slack": bool(slack[place])} if full else {}),
        }


def sweep_csv(lines: Sequence[LineAnalysis]) -> str:
    """The sweeps of some lines as CSV: SI with units in the keys, speeds in rpm."""
    full = is_full(lines)
    rows = [
        (line.name, *(_cell(value) for value in row.values()))
        for line in lines
        if line.dynamics is not None
        for row in _rows(line.dynamics, full=full)
    ]
    return csv_text(FULL_SWEEP_HEAD if full else SWEEP_HEAD, rows)


def _cell(value: Any) -> Cell:
    if isinstance(value, bool):
        return "yes" if value else "no"
    return value if value is None or isinstance(value, str) else float(value)
