"""The springs against themselves: earlier checks, each spring before and now, and the trend of what was lost."""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterator, Mapping

import numpy as np

from loadbench.analysis import Analysis
from loadbench.analysis.springs import spring_load_line
from loadbench.findings.set_check.result import CheckPoint, Compared, Past
from loadbench.job.parts import Record
from loadbench.readings.load_line import LoadLine
from loadbench.readings.trust.trend import loss_trend

Lines = Mapping[str, LoadLine]


def past_of(analysis: Analysis) -> Past | None:
    """The history of a job's numbered springs.

    Args:
        analysis: of the job.

    Returns:
        Its checks by date (else in the order written), the present one last; None where there is no earlier check.
    """
    job = analysis.job
    if not job.history:
        return None
    order = sorted(range(len(job.history)), key=lambda index: (job.history[index].record.date or "", index))
    checks = [(job.history[index].record, _lines(analysis, f"history.{index}.springs")) for index in order]
    checks.append((job.record, _lines(analysis, "springs")))
    height = analysis.lines[0].value("installed_height")
    points = tuple(_point(place, record, lines, checks, height) for place, (record, lines) in enumerate(checks))
    unit, at = _axis([record for record, _ in checks])
    lost = [(x, point.mean_lost) for x, point in zip(at, points, strict=True) if x is not None]
    known = [(x, share) for x, share in lost if share is not None]
    left = np.array([1 - share for _, share in known])  # of the first load: the mean spring's load, as a share
    trend = loss_trend(np.array([x for x, _ in known]), left) if unit else None
    compared = tuple(_compared(checks[-2][1], checks[-1][1], height))
    return Past(checks=points, compared=compared, unit=unit if len(known) > 1 else None, trend=trend)


def _lines(analysis: Analysis, path: str) -> dict[str, LoadLine]:
    found = {}
    values = analysis.stated.values
    for index in range(values.get(f"{path}#", 0)):
        name = values.get(f"{path}.{index}.id")
        line, _ = spring_load_line(analysis.stated, f"{path}.{index}", analysis.lines[0])
        if name and line is not None:
            found[str(name)] = line
    return found


def _point(
    place: int, record: Record, lines: Lines, checks: list[tuple[Record, dict[str, LoadLine]]], height: float | None
) -> CheckPoint:
    """A check with the share its springs have lost since each was first tested."""
    lost: dict[str, float] = {}
    for name, line in lines.items():
        first = next(own[name] for _, own in checks if name in own)
        if height is not None and first.load_at(height) > 0:
            lost[name] = 1 - line.load_at(height) / first.load_at(height)
    worst = max(lost, key=lambda name: lost[name], default="")
    return CheckPoint(
        name=record.date or ("now" if place == len(checks) - 1 else f"check {place + 1}"),
        date=record.date,
        hours=record.hours,
        passes=record.passes,
        mean_lost=sum(lost.values()) / len(lost) if lost else None,
        worst_lost=lost.get(worst),
        worst_spring=worst,
    )


def _axis(records: list[Record]) -> tuple[str | None, list[float | None]]:
    """What the trend runs over: hours where two checks state them, else passes, else days between the dates."""
    for unit in ("hours", "passes"):
        at = [getattr(record, unit) for record in records]
        if sum(value is not None for value in at) > 1:
            return unit, at
    days = [_day(record.date) for record in records]
    known = [day for day in days if day is not None]
    if len(known) < 2:
        return None, [None] * len(records)
    return "days", [None if day is None else float(day - known[0]) for day in days]


def _day(text: str | None) -> int | None:
    try:
        return dt.date.fromisoformat(text or "").toordinal()
    except ValueError:
        return None


def _compared(before: Lines, now: Lines, height: float | None) -> Iterator[Compared]:
    """Every spring of both checks at the installed height."""
    if height is None:
        return
    for name in dict.fromkeys((*before, *now)):
        was, is_now = (own[name].load_at(height) if name in own else None for own in (before, now))
        yield Compared(spring=name, height=height, before=was, now=is_now)
