"""The gauge as data in the units on show, upwards as it is drawn: plungers or gaps, bands, the adjuster's thread."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from loadbench.findings.finding import Level
from loadbench.units import Kind, to_display
from ui.level_words import level_word
from ui.setting import wording
from ui.setting.wording import tr

if TYPE_CHECKING:
    from collections.abc import Callable

    from loadbench.assembly.setting_gauge import Gauge, GaugeBand
    from loadbench.assembly.setting_ways import WayShown
    from loadbench.units import Style

    Place = Callable[[float], float]

ABOVE, BELOW = 0.22, 0.12
"""How much is seen beyond what matters, of its span."""
LASH_SEEN = 0.030 * 0.0254
"""A gap's scale reaches at least so far, m."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Band:
    """From one height to another, and what is written in it."""

    low: float
    high: float
    level: Level
    text: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Half:
    """One side of a centre line: where the plunger's shoulder or the gap's upper end stands; None: not known."""

    word: str
    at: float | None
    text: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Column:
    """One drawing in half section between two places across (0 to 100)."""

    left: float
    right: float
    title: str
    halves: tuple[Half, Half]
    bands: tuple[Band, ...] = ()
    room: str = ""
    chosen: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Drawn:
    """The whole picture. `depth`: plungers, below zero; else gaps above zero.

    `floor` is where a bottomed plunger's shoulder stands; `turn` the height of one turn of the thread, whose screw
    reaches down to `screw`; `names_at` is where the bands' names stand across, None: unnamed. `warm_least` is the least
    that is asked for of the right half.
    """

    depth: bool
    columns: tuple[Column, ...]
    low: float
    high: float
    floor: float | None = None
    turn: float | None = None
    screw: float | None = None
    screw_across: tuple[float, float] = (88.0, 96.0)
    names_at: float | None = None
    warm_least: float | None = None


def gauge_drawn(gauge: Gauge, style: Style) -> Drawn:
    """The gauge of one line.

    Args:
        gauge: depth or lash, SI.
        style: the units on show.
    """
    sign = -1.0 if gauge.depth else 1.0

    def at(value: float) -> float:
        return sign * to_display(value, Kind.LENGTH, style)

    low, high = _extent(gauge)
    bottom, top = sorted((at(low), at(high)))
    bands = tuple(_band(each, at, (bottom, top), style) for each in gauge.bands)
    halves = (_half(tr("Cold"), gauge.cold, at, style), _half(tr("Warm"), gauge.warm, at, style))
    left = None if gauge.travel is None or gauge.cold is None else gauge.travel - gauge.cold
    room = "" if left is None or left <= 0 else tr("{left} left").format(left=wording.length(left, style))
    column = Column(left=15, right=51, title="", halves=halves, bands=bands, room=room)
    shown = gauge.cold if gauge.cold is not None else gauge.warm
    return Drawn(
        depth=gauge.depth, columns=(column,), low=bottom, high=top,
        floor=None if gauge.travel is None else at(gauge.travel),
        turn=None if gauge.turn is None else abs(at(gauge.turn)),
        screw=None if gauge.turn is None or shown is None else at(shown), names_at=54,
        warm_least=None if gauge.warm_least is None or gauge.warm is None else at(gauge.warm_least),
    )  # fmt: skip


def _extent(gauge: Gauge) -> tuple[float, float]:
    """The least and the most depth or lash that are seen, m."""
    known = [each for each in (gauge.cold, gauge.warm) if each is not None]
    edges = [edge for band in gauge.bands for edge in (band.low, band.high) if edge is not None]
    if gauge.depth:
        most = max([gauge.travel or 0.0, *known, *([] if gauge.travel else edges), 1e-4])
        least = min([0.0, *known])
    else:
        most, least = max([LASH_SEEN, *known, *edges]), min([0.0, *known])
    span = most - least
    above, below = (ABOVE, BELOW) if gauge.depth else (BELOW, ABOVE)
    return least - above * span, most + below * span


def _band(band: GaugeBand, at: Place, seen: tuple[float, float], style: Style) -> Band:
    bottom, top = seen
    ends = [None if each is None else at(each) for each in (band.low, band.high)]
    rising = at(1.0) > at(0.0)
    low, high = ends if rising else ends[::-1]
    text = level_word(band.level)
    if band.low is not None and band.high is not None:
        span = wording.span((band.low, band.high), style)
        text = tr("{level}: {span}").format(level=text, span=span)
    return Band(
        low=bottom if low is None else max(low, bottom), high=top if high is None else min(high, top),
        level=band.level, text=text,
    )  # fmt: skip


def _half(word: str, value: float | None, at: Place, style: Style) -> Half:
    return Half(word=word, at=None if value is None else at(value), text=wording.length(value, style))


def ways_drawn(ways: tuple[WayShown, ...], travel: float | None, style: Style) -> Drawn:
    """The three ways side by side on one scale: left of each centre line the least depth, right of it the most.

    Args:
        ways: SI.
        travel: of the plunger, m; None where it is not stated.
        style: the units on show.
    """

    def at(value: float) -> float:
        return -to_display(value, Kind.LENGTH, style)

    depths = [each for way in ways if way.depth is not None for each in way.depth]
    most = max([travel or 0.0, *depths, 1e-4])
    columns = []
    for place, way in enumerate(ways):
        least, deepest = way.depth or (None, None)
        halves = (_half("", least, at, style), _half("", deepest, at, style))
        bands: tuple[Band, ...] = ()
        if way.depth is not None and way.level is not None:
            bands = (Band(low=at(way.depth[1]), high=at(way.depth[0]), level=way.level),)
        columns.append(
            Column(
                left=4 + 33 * place, right=27 + 33 * place, title=wording.way_short(way.way), halves=halves,
                bands=bands, chosen=way.chosen,
            )
        )  # fmt: skip
    return Drawn(
        depth=True, columns=tuple(columns), low=at(most * (1 + BELOW)), high=at(-ABOVE * most),
        floor=None if travel is None else at(travel),
    )  # fmt: skip
