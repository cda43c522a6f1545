"""Where a value stands against a limit: the one place for slack, and for the chance of being past a stop."""

from __future__ import annotations

from dataclasses import dataclass

from loadbench.analysis.figure import FigureKind
from loadbench.findings.finding import Level
from loadbench.findings.rulebook import Limit, Sense
from loadbench.readings.accuracy import chance_below
from loadbench.units import Kind

CHANCE = 0.05
"""A clear with a larger chance than this of being past its stop becomes a watch."""

LEAST_SLACK: dict[FigureKind, float] = {Kind.LENGTH: 1e-12, Kind.FORCE: 1e-9}


@dataclass(frozen=True, slots=True, kw_only=True)
class Standing:
    """Level, the limit that says so, who set it, the margin to it, the chance of being on its wrong side."""

    level: Level
    limit: float | None
    house: str
    margin: float | None
    chance: float | None
    by_chance: bool = False


def slack(limit: float, kind: FigureKind) -> float:
    """How far past a limit rounding may put a value that stands on it."""
    return max(1e-9 * abs(limit), LEAST_SLACK.get(kind, 1e-12))


def past(limit: Limit, at: float | None, value: float, *, reached: bool = False) -> bool:
    """Whether a value is past one of a limit's two values."""
    if at is None:
        return False
    room = slack(at, limit.kind)
    over = at - value if limit.sense is Sense.AT_LEAST else value - at
    return over >= -room if reached else over > room


def chance_past(limit: Limit, at: float, value: float, expanded: float | None) -> float | None:
    """Chance that the true value is past one of a limit's two values; None without an uncertainty."""
    below = chance_below(at, value, expanded)
    return below if below is None or limit.sense is Sense.AT_LEAST else 1.0 - below


def standing(limit: Limit, value: float, expanded: float | None = None) -> Standing:
    """Judge a value by a limit.

    Args:
        limit: with watch, stop, or both.
        value: SI.
        expanded: U, k = 2, in the same unit.

    Returns:
        The standing; for a clear the nearest limit is told.
    """
    wrong = None if limit.stop is None else chance_past(limit, limit.stop, value, expanded)
    if past(limit, limit.stop, value, reached=limit.reached):
        return _told(limit, limit.stop, limit.stop_house, value, expanded, Level.STOP)
    if past(limit, limit.watch, value):
        return _told(limit, limit.watch, limit.watch_house, value, expanded, Level.WATCH)
    if wrong is not None and wrong > CHANCE:
        told = _told(limit, limit.stop, limit.stop_house, value, expanded, Level.WATCH)
        return Standing(
            level=told.level, limit=told.limit, house=told.house, margin=told.margin, chance=wrong, by_chance=True
        )
    nearest, house = (limit.stop, limit.stop_house) if limit.watch is None else (limit.watch, limit.watch_house)
    return _told(limit, nearest, house, value, expanded, Level.CLEAR)


def _told(limit: Limit, at: float | None, house: str, value: float, expanded: float | None, level: Level) -> Standing:
    if at is None:
        return Standing(level=level, limit=None, house=house, margin=None, chance=None)
    margin = value - at if limit.sense is Sense.AT_LEAST else at - value
    return Standing(level=level, limit=at, house=house, margin=margin, chance=chance_past(limit, at, value, expanded))


def worst_of(*standings: Standing) -> Standing:
    """The standing that governs: the worst level, then the least margin."""
    return max(
        standings, key=lambda each: (each.level.rank, -(each.margin if each.margin is not None else float("inf")))
    )
