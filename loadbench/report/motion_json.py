"""What a dynamic run found, as data: the figures that are always there, and the bands of lost contact."""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping
from typing import Any

from loadbench.analysis import Figure, LineAnalysis
from loadbench.analysis.figure import RPM
from loadbench.analysis.motion.dynamics import FIGURES
from loadbench.motion.bands import LossBand
from loadbench.units import Kind

ALWAYS = {
    "referred_mass": Kind.MASS,
    "separation_speed": Kind.SPEED,
    **{name: kind for name, (_, kind) in FIGURES.items()},
}
"""The figures that a script finds in every output, null where they cannot be had."""

BANDS = "loss_bands_rpm"


def finite(value: float | None) -> float | None:
    """A number as a plain float; None for what is no number."""
    return float(value) if value is not None and math.isfinite(value) else None


def motion_as_json(figures: Mapping[str, Figure], lines: Iterable[LineAnalysis]) -> dict[str, Any]:
    """What is added to the figures: those of the motion that are not among them, and the bands of lost contact.

    Args:
        figures: of one line, or from the lines where they are worst.
        lines: the line or lines that they are of.

    Returns:
        None for what cannot be had. `loss_bands_rpm` holds pairs of the line with the lowest onset, rpm, rising; the
        second of a pair is None where the sweep ended first; empty where contact is held throughout.
    """
    keys = [Figure(name=name, label="", kind=kind).key for name, kind in ALWAYS.items() if name not in figures]
    lacking = {key: None for each in keys for key in (each, f"{each}_U")}
    return {**lacking, BANDS: _pairs(lines)}


def _pairs(lines: Iterable[LineAnalysis]) -> list[list[float | None]] | None:
    swept = [line.dynamics.bands for line in lines if line.dynamics is not None]
    if not swept:
        return None
    worst = min(swept, key=lambda bands: bands[0].low if bands else math.inf)
    return [[band.low / RPM, None if band.high is None else band.high / RPM] for band in worst]


def bands_of(line: LineAnalysis) -> list[dict[str, Any]]:
    """The bands of one line with their causes.

    Args:
        line: analysed, with its dynamic run.

    Returns:
        A dict for each band, rising: edges in rpm, the cause, and where surge is the cause the order of the cam and the
        mode of the spring that swing most; `from_rpm` is where the sweep began where `begins_below` is true.
    """
    return [] if line.dynamics is None else [_band(each) for each in line.dynamics.bands]


def slack_of(line: LineAnalysis) -> list[dict[str, Any]]:
    """Likewise the bands in which the linkage above a follower of its own mass goes slack."""
    return [] if line.dynamics is None else [_band(each) for each in line.dynamics.slack_bands]


def _band(band: LossBand) -> dict[str, Any]:
    return {
        "from_rpm": band.low / RPM,
        "to_rpm": None if band.high is None else band.high / RPM,
        "cause": str(band.cause),
        "order": band.order,
        "mode": band.mode,
        "spring": band.spring or None,
        "begins_below": band.begins_below,
    }
