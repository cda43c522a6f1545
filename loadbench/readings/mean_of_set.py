"""The mean spring of a tested set: the mean load at each height that every spring of a part was tested at."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from loadbench.readings.trust.flag import TestedSpring
from loadbench.readings.trust.set_table import UNLOADING, SetTable, tables_of


@dataclass(frozen=True, slots=True, kw_only=True)
class MeanPoint:
    """The mean load, N, of `springs` springs at one height, m; `spread` is the greatest less the least of them, N.

    `place` is the path of the first reading at this height, whose text says the height as it was typed.
    """

    part: str
    direction: str
    height: float
    load: float
    spread: float
    springs: int
    place: str


@dataclass(frozen=True, slots=True, kw_only=True)
class MeanOfSet:
    """The points by part, the closed height first; `left_out`: heights, (part, m), that a spring lacks."""

    points: tuple[MeanPoint, ...]
    left_out: tuple[tuple[str, float], ...]
    springs: int


def mean_of_set(springs: Sequence[TestedSpring]) -> MeanOfSet:
    """The mean of a set, height by height and part by part.

    A spring's repeats count once, as their mean. A height that some spring of the part was not tested at is left out:
    the means at two heights would be those of different springs, and the rate between them nobody's. Readings taken
    while unloading count only where a part has no others, as they do for a single spring.

    Args:
        springs: as tested; those without a complete reading are no part of the set.

    Returns:
        The points, what was left out, and how many springs have a reading at all.

    Source:
        common practice.
    """
    tables = tables_of(springs)
    loading = {table.part for table in tables if table.direction != UNLOADING}
    points: list[MeanPoint] = []
    left_out: list[tuple[str, float]] = []
    counted: set[str] = set()
    for table in tables:
        counted |= {spring.path or spring.id for spring in table.springs}
        if table.direction == UNLOADING and table.part in loading:
            continue
        for column in reversed(range(len(table.heights))):
            if np.all(np.isfinite(table.loads[:, column])):
                points.append(_point(table, column))
            else:
                left_out.append((table.part, float(table.heights[column])))
    return MeanOfSet(points=tuple(points), left_out=tuple(left_out), springs=len(counted))


def _point(table: SetTable, column: int) -> MeanPoint:
    loads = table.loads[:, column]
    return MeanPoint(
        part=table.part,
        direction=table.direction,
        height=float(table.heights[column]),
        load=float(np.mean(loads)),
        spread=float(np.ptp(loads)),
        springs=len(loads),
        place=table.in_cell(0, column)[0].path,
    )
