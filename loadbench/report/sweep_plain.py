"""A sweep speed by speed as plain text for a terminal."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

import numpy as np

from loadbench.analysis import Analysis, LineAnalysis
from loadbench.analysis.motion.dynamics import AT_VALVE
from loadbench.analysis.motion.result import Dynamics
from loadbench.report.motion_words import bands_told, slack_told, typical_told, waits_for
from loadbench.report.sweep_rows import Column, columns_of, is_full
from loadbench.units import Kind, Style, display_unit, to_display

PLACES = {
    Kind.SPEED: (0, 0), Kind.FORCE: (1, 0), Kind.ANGLE: (1, 1), Kind.LENGTH: (4, 3), Kind.VELOCITY: (2, 3),
}  # fmt: skip
"""Decimals, inch-pound and metric: finer than a figure is told, so that one speed can be held against the next."""

ENVELOPE = (
    "Not periodic: the motion does not come again from turn to turn; the row holds the extremes of the last turns."
)
LOBE_AND_TIP = "The follower is a mass of its own: contact is at its lobe, tip is the linkage between it and the valve."
ANGLES = (
    "Angles are of the cam from its nose, below zero before it. A lift loss below zero: the valve goes further than "
    "the lobe lifts it."
)


def sweep_as_text(analysis: Analysis, lines: Sequence[LineAnalysis], style: Style) -> str:
    """The sweeps of some lines as tables, each with its bands of lost contact.

    Args:
        analysis: of the job.
        lines: those to tell of, with their dynamic runs.
        style: unit style.

    Returns:
        Lines of text.
    """
    told = [analysis.job.title or "Untitled job"]
    columns = columns_of(lines)
    for line in lines:
        told += ["", f"Sweep{f' ({line.name})' if analysis.has_lines else ''}:"]
        if line.dynamics is None:
            told.append(f"  {waits_told(analysis, line)}")
            continue
        told += _table(line.dynamics, columns, style)
        told += ["", f"  Contact lost{f' ({line.name})' if analysis.has_lines else ''}:"]
        told += [f"    {text}" for text in bands_told(line, style)]
        told += [f"    {text}" for text in slack_told(line, style)]
        notes = (typical_told(line), "" if line.dynamics.found.periodic.all() else ENVELOPE)
        told += [f"  {note}" for note in notes if note]
    if any(line.dynamics is not None for line in lines):
        told += ["", f"Contact forces: {AT_VALVE[0].lower()}{AT_VALVE[1:]} {ANGLES}"]
    if is_full(lines):
        told.append(LOBE_AND_TIP)
    return "\n".join(told)


def waits_told(analysis: Analysis, line: LineAnalysis) -> str:
    """Why a line cannot be swept."""
    return f"The {line.name} line cannot be swept. It waits for: {waits_for(line, analysis.job)}."


def _table(dynamics: Dynamics, wanted: Mapping[str, Column], style: Style) -> Iterator[str]:
    found = dynamics.found
    columns = [
        [column.over, column.head, display_unit(column.kind, style), *_numbers(column.of(found), column.kind, style)]
        for column in wanted.values()
    ]
    columns.append(["Turns", "", "", *(str(each) for each in found.turns)])
    columns.append(["", "", "", *("" if each else "not periodic" for each in found.periodic)])
    widths = [max(map(len, column)) for column in columns]
    for row in zip(*columns, strict=True):
        yield "  ".join(["", *(cell.rjust(width) for cell, width in zip(row, widths, strict=True))]).rstrip()


def _numbers(values: np.ndarray, kind: Kind, style: Style) -> list[str]:
    decimals = PLACES[kind][style is Style.METRIC]
    seen = np.round(to_display(values, kind, style), decimals) + 0.0  # no minus before a zero
    return [f"{each:.{decimals}f}".replace("-", "\u2212") if np.isfinite(each) else "\u2013" for each in seen]
