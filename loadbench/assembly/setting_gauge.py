"""What the travel gauge shows: plunger depth or lash cold and warm, and the rule book's limits as bands around it."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from loadbench.assembly.setting_ways import TRAVEL, hot_change, travel_kind
from loadbench.findings.finding import Level
from loadbench.findings.view import HYDRAULIC, SOLID
from loadbench.follower.setting import cold_lash, hot_depth

if TYPE_CHECKING:
    from loadbench.analysis import LineAnalysis
    from loadbench.findings.rulebook import Limit, RuleBook

Limits = tuple["Limit", "Limit"]


@dataclass(frozen=True, slots=True, kw_only=True)
class GaugeBand:
    """From one depth or lash to another, m, and how it stands there; None: without end.

    `reached`: its edges belong to it; else an edge belongs to the clearer side.
    """

    low: float | None
    high: float | None
    level: Level
    reached: bool = False

    def holds(self, value: float) -> bool:
        """Whether a value stands in it, its edges among it."""
        slack = max(1e-9 * abs(value), 1e-12)
        return (self.low is None or value >= self.low - slack) and (self.high is None or value <= self.high + slack)


@dataclass(frozen=True, slots=True, kw_only=True)
class Gauge:
    """A plunger in its travel, or the gap of a solid follower; SI.

    `depth` says which. `cold` and `warm` are what is set (by `warm_from`: "computed" or "custom"); `travel` the
    plunger's whole; `turn` how far one turn of the adjuster goes on this scale; `warm_least` the least depth that is
    asked for when warm. `missing` are the fields that the cold value waits for, `warm_missing` those of the warm one.
    """

    depth: bool
    cold: float | None
    warm: float | None
    warm_from: str
    travel: float | None
    turn: float | None
    bands: tuple[GaugeBand, ...]
    warm_least: float | None = None
    missing: tuple[str, ...] = ()
    warm_missing: tuple[str, ...] = ()

    def level_at(self, value: float | None) -> Level | None:
        """How a cold depth or lash stands; None where no limits are known."""
        if value is None:
            return None
        held = [band for band in self.bands if band.holds(value)]
        return min(held, key=lambda band: (not band.reached, band.level.rank)).level if held else None


def setting_gauge(line: LineAnalysis, book: RuleBook) -> Gauge | None:
    """The gauge of a line's follower; None where its family is not stated.

    Args:
        line: analysed.
        book: the limits in force.

    Returns:
        Depth for hydraulic followers, lash at the valve for solid ones and buckets.
    """
    family = line.stated.value("follower.family")
    if family in HYDRAULIC:
        return _plunger(line, book)
    return _lash(line, book) if family in SOLID else None


def _maker(line: LineAnalysis, limits: Limits, kind: str) -> Limits:
    least, most = (line.stated.value(f"follower.maker_limits.{kind}_{end}") for end in ("min", "max"))
    return limits[0].with_maker(least), limits[1].with_maker(most)


def _plunger(line: LineAnalysis, book: RuleBook) -> Gauge:
    figure, travel, ratio = line.figures["plunger_depth"], line.stated.value(TRAVEL), line.value("ratio")
    computed, custom = hot_change(line)
    change = custom if computed is None else computed
    warm = None
    if figure.value is not None and change is not None and ratio:
        warm = float(hot_depth(figure.value, change, ratio))
    waits = [line.stated.path(each) for each in ("valve_gear.head", "valve_gear.block")] if change is None else []
    return Gauge(
        depth=True, cold=figure.value, warm=warm, warm_from=_from(computed, custom), travel=travel,
        turn=line.value("depth_a_turn"), bands=_depth_bands(line, book, travel),
        warm_least=book.limit("preload-hot").watch, missing=figure.missing, warm_missing=tuple(waits),
    )  # fmt: skip


def _from(computed: float | None, custom: float | None) -> str:
    return "computed" if computed is not None else "custom" if custom is not None else ""


def _depth_bands(line: LineAnalysis, book: RuleBook, travel: float | None) -> tuple[GaugeBand, ...]:
    """By the rule of the stated travel and way; none while the travel is not stated."""
    kind = travel_kind(line)
    if kind == "standard":
        limits = book.limit("preload-standard", "least"), book.limit("preload-standard", "most")
        room = book.limit("preload-standard", "left").stop
        last = None if travel is None or room is None else travel - room
        return _bands(*_maker(line, limits, "preload"), last)
    if kind == "short" and line.stated.value("follower.preload.way") == "bottomed":
        if travel is None:
            return ()
        least, most = (book.limit("preload-short-bottom", end) for end in ("least", "most"))
        low = None if most.watch is None else travel - most.watch
        high = None if least.watch is None else travel - least.watch
        return _between(0.0, low, high, travel - (least.stop or 0.0), last_reached=least.reached)
    if kind == "short":
        limits = book.limit("preload-short-top", "least"), book.limit("preload-short-top", "most")
        return _bands(*_maker(line, limits, "preload"), travel)
    return ()


def _bands(least: Limit, most: Limit, last: float | None) -> tuple[GaugeBand, ...]:
    stops = [each for each in (most.stop, last) if each is not None]
    return _between(least.stop, least.watch, most.watch, min(stops) if stops else None)


def _between(
    stop: float | None, low: float | None, high: float | None, last: float | None, *, last_reached: bool = False
) -> tuple[GaugeBand, ...]:  # fmt: skip
    """Stop, watch, clear, watch, stop between these edges; without a stop at either end the watch has no end."""
    edges, levels = [stop, low, high, last], [Level.STOP, Level.WATCH, Level.CLEAR, Level.WATCH, Level.STOP]
    if last is None:
        edges, levels = edges[:-1], levels[:-1]
    if stop is None:
        edges, levels = edges[1:], levels[1:]
    below, bands = None, []
    for edge, level in zip([*edges, None], levels, strict=True):
        upper = edge if edge is None or last is None else min(edge, last)
        if upper is None or below is None or upper > below:
            reached = level is Level.STOP and (below is None or last_reached)
            bands.append(GaugeBand(low=below, high=upper, level=level, reached=reached))
            below = upper
    return tuple(bands)


def _lash(line: LineAnalysis, book: RuleBook) -> Gauge:
    stated, ratio = line.stated.value("valve_gear.lash"), line.value("ratio")
    bucket = line.stated.value("follower.family") == "bucket"
    hydraulic = line.stated.value("cam.lash_kind") == "hydraulic"
    prefix = "bucket_" if bucket else "hydraulic_lobe_" if hydraulic else ""
    limits = book.limit("solid-lash", f"{prefix}least"), book.limit("solid-lash", f"{prefix}most")
    computed, custom = hot_change(line)
    change = computed if bucket or computed is not None else custom
    at = line.stated.value("valve_gear.lash_at")
    cold = warm = None
    if stated is not None and at == "hot":
        warm, cold = stated, None if change is None else float(cold_lash(stated, change))
    elif stated is not None:
        cold, warm = stated, None if change is None or at is None else stated - change
    turn = line.value("depth_a_turn")
    missing = () if stated is not None else (line.stated.path("valve_gear.lash"),)
    waits = [] if at is not None else ["valve_gear.lash_at"]
    waits += [] if change is not None or bucket else ["valve_gear.head", "valve_gear.block"]
    waits += list(line.figures["hot_lash_change"].missing) if bucket and change is None else []
    return Gauge(
        depth=False, cold=cold, warm=warm, warm_from=_from(computed, None if bucket else custom), travel=None,
        turn=None if bucket or turn is None or not ratio else turn * ratio,
        bands=_bands(*_maker(line, limits, "lash"), None), missing=missing,
        warm_missing=tuple(line.stated.path(each) for each in waits),
    )  # fmt: skip
