"""A picture as data, in the units on show: columns, marks, bands, strokes; what draws it knows no springs."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field
from enum import StrEnum


class Sign(StrEnum):
    """How a mark is drawn: by its shape first, its colour after."""

    PLAIN = "plain"  # nothing to hold it against
    WITHIN = "within"
    WATCHED = "watched"
    OUTSIDE = "outside"


@dataclass(frozen=True, slots=True, kw_only=True)
class Dot:
    """One mark of one spring. `place` is its column; `wide`, `tall` its U in the units of the axes, None where unknown.

    `doubted`: a doubt speaks of it.
    """

    x: float
    y: float
    spring: str
    place: int = 0
    sign: Sign = Sign.PLAIN
    doubted: bool = False
    wide: float | None = None
    tall: float | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Place:
    """A column: its name, a line of it a line beneath the axis, and the readings that it holds."""

    x: float
    name: str
    part: str = ""
    height: float | None = None
    note: str = ""  # beneath the name, quiet, where there is room


@dataclass(frozen=True, slots=True, kw_only=True)
class Band:
    """What is allowed: between two loads over a stretch; None leaves that side open."""

    left: float
    right: float
    low: float | None
    high: float | None
    upright: bool = False  # allowed are the places across, from `low` to `high`


@dataclass(frozen=True, slots=True, kw_only=True)
class Stroke:
    """A straight line from end to end, with words at its right end where it has any."""

    start: tuple[float, float]
    end: tuple[float, float]
    role: str = "lines"
    pattern: tuple[float, ...] = ()
    width: float = 0.8
    words: str = ""
    spring: str = ""  # of one spring: drawn stronger where that spring is chosen
    upright: bool = False  # goes from edge to edge, up
    level: bool = False  # goes from edge to edge, across


@dataclass(frozen=True, slots=True, kw_only=True)
class Note:
    """Words at a place."""

    at: tuple[float, float]
    words: str
    anchor: tuple[float, float]
    role: str = "quiet"
    roomy: bool = False  # only where its column has room for it


def _nothing(_dot: Dot) -> str:
    return ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Scene:
    """One picture. `empty` says what it needs where there is nothing to draw; `read` reads a mark out."""

    across: str = ""
    up: str = ""
    x_range: tuple[float, float] = (0.0, 1.0)
    y_range: tuple[float, float] = (0.0, 1.0)
    places: tuple[Place, ...] = ()
    dots: tuple[Dot, ...] = ()
    bands: tuple[Band, ...] = ()
    strokes: tuple[Stroke, ...] = ()
    notes: tuple[Note, ...] = ()
    swarm: bool = False  # marks of one column stand beside one another
    bars: bool = False  # a bar from zero to each mark
    joined: bool = False  # the marks of the chosen spring are joined from column to column
    signs: tuple[tuple[str, str], ...] = ()  # of the key, with their words
    empty: str = ""
    told: str = ""  # the whole picture in a sentence
    read: Callable[[Dot], str] = field(default=_nothing, compare=False)


def around(values: list[float], pad: float = 0.08, least: float = 1e-9) -> tuple[float, float]:
    """A range that holds values with some room.

    Args:
        values: in the units of the axis.
        pad: room at either end, as a share of their span.
        least: the smallest span.
    """
    low, high = (min(values), max(values)) if values else (0.0, 1.0)
    middle, span = (low + high) / 2, max(high - low, least)
    return middle - (0.5 + pad) * span, middle + (0.5 + pad) * span
