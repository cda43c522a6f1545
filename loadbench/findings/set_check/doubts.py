"""What is doubtful in the numbered springs of a job: those of one kind held against one another and their sheet."""

from __future__ import annotations

from loadbench.analysis import Analysis, LineAnalysis
from loadbench.analysis.springs import valve_line
from loadbench.findings.set_check.tested import springs_as_tested
from loadbench.job.model import Job
from loadbench.job.parts import Spring
from loadbench.readings.evidence import accuracy_of
from loadbench.readings.trust.check_readings import ORDER, flags_of
from loadbench.readings.trust.flag import Flag, TestedSpring

WHERE_IT_STANDS: dict[str, object] = {"bare_height": None, "shims": (), "installed_height": None, "seat_cup": None}
"""What a line may state of its own without its springs being others."""


def doubts_of(analysis: Analysis, tested: tuple[TestedSpring, ...] | None = None) -> tuple[Flag, ...]:
    """The flags of the numbered springs.

    Args:
        analysis: of the job.
        tested: its springs as `springs_as_tested` gives them; None: read from it.

    Returns:
        The flags, the most telling first; intake and exhaust apart where their springs differ.
    """
    tested = springs_as_tested(analysis.stated) if tested is None else tested
    found: list[Flag] = []
    for line, own in _kinds(analysis, tested):
        found += flags_of(own, accuracy=accuracy_of(line.stated), spec=sheet_of(line))
    return tuple(sorted(found, key=lambda flag: (flag.spring is not None, ORDER.index(flag.kind))))


def sheet_of(line: LineAnalysis) -> tuple[tuple[float, float], ...]:
    """The loads of a line's sheet at their heights, (m, N), without those that are faulty or not stated."""
    path, count = line.stated.rows("spring.spec")
    values = line.stated.stated.values
    pairs = ((values.get(f"{path}.{point}.height"), values.get(f"{path}.{point}.load")) for point in range(count))
    return tuple((height, load) for height, load in pairs if height is not None and load is not None)


def home_of(analysis: Analysis, spring: str) -> LineAnalysis:
    """The line of the valve that names a spring, else the first."""
    lines = {line.name: line for line in analysis.lines}
    for index, valve in enumerate(analysis.job.valves):
        if valve.spring == spring:
            return valve_line(analysis.stated, index, lines)
    return analysis.lines[0]


def _kinds(analysis: Analysis, tested: tuple[TestedSpring, ...]) -> list[tuple[LineAnalysis, tuple[TestedSpring, ...]]]:
    """The springs by kind, each with a line that it is for: one kind unless a line has springs of its own."""
    groups: dict[str, list[TestedSpring]] = {}
    homes = {line.name: line for line in analysis.lines}
    first = analysis.lines[0].name
    for spring in tested:
        home = home_of(analysis, spring.id).name
        kind = home if _own_spring(analysis.job, home) != _own_spring(analysis.job, first) else first
        groups.setdefault(kind, []).append(spring)
    return [(homes[name], tuple(own)) for name, own in groups.items()]


def _own_spring(job: Job, line: str) -> Spring:
    """What a line states of its springs alone, but for where they stand."""
    parts = getattr(job.lines, line, None)
    return Spring() if parts is None else parts.spring.model_copy(update=WHERE_IT_STANDS)
