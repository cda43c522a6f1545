"""A chart as data, in the units on show: lines, fields, marks and their names; what draws it knows no springs."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field
from enum import StrEnum

import numpy as np

from loadbench.arrays import Floats

Point = tuple[float, float]

AROUND = ((0.0, 0.5), (1.0, 0.5), (0.5, 1.0), (0.0, 1.0), (0.0, 0.0), (1.0, 1.0), (1.0, 0.0), (0.5, 0.0))
"""The sides of a mark, right of it first."""
CENTRED = ((0.5, 1.0), (0.5, 0.0))
"""Above and below only, where marks stand close in a row."""
ENDING = ((0.0, 0.5), (0.5, 1.0))
"""Beyond a line's end: right of it or above."""


class Shape(StrEnum):
    """The form of a mark: series differ by it before they differ by colour."""

    CIRCLE = "circle"
    SQUARE = "square"
    TRIANGLE = "triangle"
    DIAMOND = "diamond"
    CROSS = "cross"
    BAR = "bar"
    NONE = ""  # only its name is seen


SHAPES = (Shape.CIRCLE, Shape.SQUARE, Shape.TRIANGLE)
"""Of the members of a nest, in their order."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Look:
    """How something is drawn: a role of the palette, or a place among its series; dash and width."""

    role: str = "ink"
    series: int | None = None
    pattern: tuple[float, ...] = ()
    width: float = 1.0
    faint: bool = False  # mixed half into the ground


@dataclass(frozen=True, slots=True, kw_only=True)
class Name:
    """Words that look for a free place at a line or a mark; the longest that fits is written.

    `along` is the stretch of the line that is tried, 0 its start to 1 its end, from the first to the second. Names of
    a lower `rank` choose first. `must`: written even over a line, with the ground behind it. `sides` are tried at a
    mark: which point of the words' box lies at it, (0, 0) its upper left.
    """

    texts: tuple[str, ...]
    role: str = "quiet"
    along: tuple[float, float] = (1.0, 0.0)
    bold: bool = False
    must: bool = False
    rank: int = 2
    sides: tuple[tuple[float, float], ...] = AROUND


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Stroke:
    """A line through points; those that are not finite break it."""

    xs: Floats
    ys: Floats
    look: Look = Look()
    name: Name | None = None


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Shade:
    """A field filled with a role mixed into the ground."""

    xs: Floats
    ys: Floats
    role: str = "lines"
    share: float = 0.1


@dataclass(frozen=True, slots=True, kw_only=True)
class Mark:
    """A mark. `key` is what the read-out knows it by; without one it is passed over by pointer and keys."""

    x: float
    y: float
    shape: Shape = Shape.CIRCLE
    look: Look = Look()
    key: str = ""
    filled: bool = False
    small: bool = False
    name: Name | None = None


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Chart:
    """One plot: what stands on its axes, how far they must reach, and what is drawn."""

    across: str = ""
    up: str = ""
    x_range: tuple[float, float] = (0.0, 1.0)
    y_range: tuple[float, float] = (0.0, 1.0)
    shades: tuple[Shade, ...] = ()
    strokes: tuple[Stroke, ...] = ()
    marks: tuple[Mark, ...] = ()
    title: str = ""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Told:
    """A picture: its charts, what each mark says, what stands beneath it, and itself in a sentence.

    `says` is made only when it is read; `empty` says what it waits for where there is nothing to draw.
    """

    charts: tuple[Chart, ...] = ()
    says: dict[str, Callable[[], str]] = field(default_factory=dict)
    notes: tuple[str, ...] = ()
    description: str = ""
    empty: str = ""


def straight(start: Point, end: Point, look: Look, name: Name | None = None) -> Stroke:
    """A straight line."""
    return Stroke(xs=np.array([start[0], end[0]]), ys=np.array([start[1], end[1]]), look=look, name=name)
