"""The numbered springs as the readings of the one spring that a line is worked out for: their mean."""

from __future__ import annotations

from dataclasses import dataclass

from loadbench.analysis import Analysis
from loadbench.findings.set_check.doubts import WHERE_IT_STANDS, home_of
from loadbench.findings.set_check.tested import springs_as_tested
from loadbench.job.edits import value_at
from loadbench.job.model import Job
from loadbench.job.parts import Reading, Spring
from loadbench.readings.mean_of_set import MeanOfSet, mean_of_set
from loadbench.units import Kind, Style, display_unit, to_display

PLACES = 2
"""Of a mean load as it is written, in lbf or N: a mean has a place more than what it is made of."""


@dataclass(frozen=True, slots=True, kw_only=True)
class SetMean:
    """What a line could take: the mean, its readings as the job keeps them; `shared`: both lines have these springs."""

    mean: MeanOfSet
    readings: tuple[Reading, ...]
    shared: bool


def set_mean(analysis: Analysis, line: str, style: Style) -> SetMean | None:
    """The mean of the numbered springs, where a line has no readings of its own.

    Args:
        analysis: of the job.
        line: the name of the line.
        style: the units of new loads.

    Returns:
        The mean; without points where no height was tested on every spring. None: the line has readings, or no
        spring that it is for was tested.
    """
    if _has_readings(analysis, line):
        return None
    job, tested = analysis.job, springs_as_tested(analysis.stated)
    names = [each.name for each in analysis.lines]
    shared = all(_own_spring(job, name) == _own_spring(job, line) for name in names)
    if not shared:
        tested = tuple(spring for spring in tested if home_of(analysis, spring.id).name == line)
    mean = mean_of_set(tested)
    if not mean.springs:
        return None
    unit = display_unit(Kind.FORCE, style)
    readings = tuple(
        Reading(
            part=point.part or None,
            height=value_at(job, f"{point.place}.height"),
            load=f"{_written(to_display(point.load, Kind.FORCE, style))} {unit}",
            direction=point.direction or None,
        )
        for point in mean.points
    )
    return SetMean(mean=mean, readings=readings, shared=shared)


def _has_readings(analysis: Analysis, line: str) -> bool:
    stated = analysis.line(line).stated
    coils, count = stated.rows("spring.coils")
    own = (stated.stated.values.get(f"{coils}.{coil}.readings#", 0) for coil in range(count))
    return bool(stated.rows("spring.readings")[1] or any(own))


def _own_spring(job: Job, line: str) -> Spring:
    """What a line states of its springs alone, but for where they stand."""
    parts = getattr(job.lines, line, None)
    return Spring() if parts is None else parts.spring.model_copy(update=WHERE_IT_STANDS)


def _written(number: float) -> str:
    return f"{number:.{PLACES}f}".rstrip("0").rstrip(".")
