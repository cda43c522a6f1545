"""Loss over time: mean and worst spring at every check, with the trend and the rule book's limits."""

from __future__ import annotations

import datetime as dt
from itertools import pairwise
from typing import TYPE_CHECKING

from loadbench.units import Style
from ui.trust import wording
from ui.trust.load_lost import limit_lines
from ui.trust.scene import Dot, Scene, Sign, Stroke, around
from ui.trust.wording import tr

if TYPE_CHECKING:
    from loadbench.findings.set_check.result import CheckPoint, Past, SetCheck


def over_time(check: SetCheck, style: Style) -> Scene:
    """The share lost since the first check, in percent, over hours, passes, days, or check by check."""
    del style  # shares have no unit
    past = check.past
    if past is None:
        return Scene(empty=tr("Needs an earlier check of the same springs: read their next printout into this job."))
    at = _times(past)
    known = [
        (x, point) for x, point in zip(at, past.checks, strict=True) if x is not None and point.mean_lost is not None
    ]
    if len(known) < 2:
        return Scene(empty=tr("Needs two checks with hours, passes or a date each, and the installed height."))
    words = {"hours": tr("Hours"), "passes": tr("Passes"), "days": tr("Days since the first check")}
    dots = [dot for x, point in known for dot in _dots(x, point)]
    limits = tuple(limit_lines(check.loss_limit, max(dot.y for dot in dots)))
    values = [dot.y for dot in dots] + [line.start[1] for line in limits] + [0.0]
    by_time = dict(known)
    return Scene(
        across=words.get(past.unit or "", tr("Check")),
        up=tr("Load lost since the first check, %"),
        x_range=around([x for x, _ in known], pad=0.06),
        y_range=around(values, pad=0.1),
        dots=tuple(dots),
        strokes=(*limits, *_joins(known), *_trend(past)),
        signs=(("within", tr("mean of the set")), ("watched", tr("worst spring")), ("trend", tr("trend"))),
        told=wording.trend_told(past, check.loss_limit),
        read=lambda dot: _read(by_time[dot.x], past.unit),
    )


def _times(past: Past) -> list[float | None]:
    if past.unit in ("hours", "passes"):
        return [getattr(point, past.unit) for point in past.checks]
    if past.unit == "days":
        days = [_day(point.date) for point in past.checks]
        first = next((day for day in days if day is not None), 0)
        return [None if day is None else float(day - first) for day in days]
    return [float(place + 1) for place in range(len(past.checks))]


def _day(text: str | None) -> int | None:
    """A date as a number of days; None where it is none."""
    try:
        return dt.date.fromisoformat(text or "").toordinal()
    except ValueError:
        return None


def _dots(x: float, point: CheckPoint) -> list[Dot]:
    """The worst spring stands under its own name, so that pressing it goes there."""
    mean = Dot(x=x, y=100 * (point.mean_lost or 0.0), spring="", sign=Sign.WITHIN)
    if point.worst_lost is None or not wording.any_lost(point):
        return [mean]
    return [mean, Dot(x=x, y=100 * point.worst_lost, spring=point.worst_spring, sign=Sign.WATCHED)]


def _joins(known: list[tuple[float, CheckPoint]]) -> list[Stroke]:
    found = []
    for (a, one), (b, other) in pairwise(known):
        pairs = ((one.mean_lost, other.mean_lost, "accent"), (one.worst_lost, other.worst_lost, "watch"))
        for was, now, role in pairs:
            if was is not None and now is not None:
                found.append(Stroke(start=(a, 100 * was), end=(b, 100 * now), role=role, width=1.2))
    return found


def _trend(past: Past) -> list[Stroke]:
    trend = past.trend
    if trend is None or past.unit is None:
        return []
    ends = [(at, 100 * (1 - trend.start_load * (1 - trend.share_lost(at)))) for at in (trend.start, trend.last)]
    return [Stroke(start=ends[0], end=ends[1], role="ink", pattern=(8.0, 3.0, 2.0, 3.0), width=1.2)]


def _read(point: CheckPoint, unit: str | None) -> str:
    text = tr("{when}: the set has lost {mean} on average, {worst} most, {share}.")
    if not wording.any_lost(point):
        text = tr("{when}: what the later checks are held against.")
    return text.format(
        when=wording.when(point, unit),
        mean=wording.share(point.mean_lost),
        worst=point.worst_spring,
        share=wording.share(point.worst_lost),
    )
