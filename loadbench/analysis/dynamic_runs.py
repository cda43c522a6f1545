"""Dynamic runs joined to an analysis: their figures stand among the line's own."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import replace

from loadbench.analysis.motion.dynamics import run_dynamics
from loadbench.analysis.motion.result import Dynamics
from loadbench.analysis.result import Analysis, worst_figures


def with_dynamics(analysis: Analysis, dynamics: Mapping[str, Dynamics]) -> Analysis:
    """An analysis with the dynamic runs of its lines.

    Args:
        analysis: of the job.
        dynamics: by the line's name; lines without one stay as they are.

    Returns:
        The same with their figures.
    """
    lines = tuple(
        replace(line, dynamics=dynamics[line.name], figures={**line.figures, **dynamics[line.name].figures})
        if line.name in dynamics
        else line
        for line in analysis.lines
    )
    figures, worst = worst_figures(lines)
    return replace(analysis, lines=lines, figures=figures, worst=worst)


def fully_analysed(analysis: Analysis, progress: Callable[[float], None] | None = None) -> Analysis:
    """An analysis with a dynamic run of every line that has what it takes.

    Args:
        analysis: of the job.
        progress: told the share done; may raise to stop the work.

    Returns:
        The same with what the runs found.
    """
    moving = [line for line in analysis.lines if line.motion.dynamic is not None]
    found: dict[str, Dynamics] = {}
    tell = progress or (lambda _share: None)
    for number, line in enumerate(moving):

        def along(share: float, done: int = number) -> None:
            tell((done + share) / len(moving))

        run = run_dynamics(line.motion, progress=along)
        if run is not None:
            found[line.name] = run
    return with_dynamics(analysis, found) if found else analysis
