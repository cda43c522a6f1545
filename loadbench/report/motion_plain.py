"""The motion of each line that has a lift as plain text for a terminal."""

from __future__ import annotations

from collections.abc import Iterator

from loadbench.analysis import Analysis, Figure, LineAnalysis
from loadbench.analysis.figure import told
from loadbench.job.labels import names_of
from loadbench.report.motion_words import bands_told, typical_told, waits_for
from loadbench.units import Style

FIGURES = (
    "referred_mass",
    "separation_speed",
    "float_margin",
    "least_contact_force",
    "greatest_contact_force",
    "seating_speed",
    "surge_load",
    "open_load_loss",
    "pushrod_factor",
    "design_valve_lift",
    "design_ramp_height",
)
"""Told in this order; the bands of lost contact stand behind them."""


def motion_told(analysis: Analysis, style: Style) -> list[str]:
    """The motion of every line with a lift as lines of text.

    Args:
        analysis: what was computed, with the dynamic runs.
        style: unit style.

    Returns:
        Lines of text; none where no line has a lift.
    """
    lines: list[str] = []
    for line in analysis.lines:
        if line.motion.shown is not None:
            lines += ["", f"Motion{f' ({line.name})' if analysis.has_lines else ''}, forces at the valve:"]
            lines += _line(analysis, line, style)
    return lines


def _line(analysis: Analysis, line: LineAnalysis, style: Style) -> Iterator[str]:
    shown = [line.figures[name] for name in FIGURES if name in line.figures]
    if line.motion.shown is not None and line.motion.shown.how:
        yield f"  The lift is {line.motion.shown.how}."
    yield from (_figure(analysis, figure, style) for figure in shown)
    if line.dynamics is None:
        yield f"  {'Contact lost':<52} \u2013  waits for {waits_for(line, analysis.job)}"
        return
    for place, text in enumerate(bands_told(line, style)):
        yield f"  {'Contact lost' if place == 0 else '':<52} {text}"
    if note := typical_told(line):
        yield f"  {note}"


def _figure(analysis: Analysis, figure: Figure, style: Style) -> str:
    if figure.value is None:
        waits = names_of(figure.missing, analysis.job)
        why = f"waits for {waits}" if waits else figure.note or "cannot be had"
        return f"  {figure.label:<52} \u2013  {why}"
    return f"  {figure.label:<52} {told(figure.value, figure.kind, style)!s:<16} {figure.evidence}".rstrip()
