"""A set of springs as a table: a row a spring, a column a height they share, repeats of a reading taken together."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np

from loadbench.arrays import Floats, Indices
from loadbench.readings.accuracy import Accuracy
from loadbench.readings.evidence import part_named
from loadbench.readings.trust.flag import Flag, FlagKind, TestedReading, TestedSpring
from loadbench.readings.trust.moments import Mask, column_median
from loadbench.units import Kind

SAME_HEIGHT = 2e-5
"""Heights closer than this, m, are one height (common practice)."""

COMMON_SHARE = 0.3
"""A height is common to the set where this share of its springs, and at least three, were tested at it."""

LOAD_FLOOR = 0.005
"""A deviation of no more than this share of the load is never told (common practice)."""

LEAST_LOAD = 1e-9
"""N; and the least height, m. What is less is none."""

MOST = 1e9
"""No load, N, is more: it would only drown the sums."""

UNLOADING = "unloading"


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class SetTable:
    """The springs of a set by one part and direction.

    `loads`, N, shape (springs, heights), are the means of a cell's readings, NaN where there are none; `heights`, m,
    rise. `readings` stand in the order of the springs; `row` and `column` say where each of them belongs.
    """

    part: str
    direction: str
    springs: tuple[TestedSpring, ...]
    heights: Floats
    loads: Floats
    readings: tuple[TestedReading, ...]
    row: Indices
    column: Indices

    @property
    def common(self) -> Indices:
        """The columns whose height most of the set was tested at."""
        tested = np.sum(np.isfinite(self.loads), axis=0)
        return np.flatnonzero(tested >= max(3, math.ceil(COMMON_SHARE * len(self.springs))))

    @property
    def resolution(self) -> float:
        """The least step between two loads of the table, N: no finer did the tester show them; 0 where all are one."""
        steps = np.diff(np.unique([reading.load for reading in self.readings]))
        steps = steps[steps > 1e-6]  # less is the rounding of a conversion
        return float(np.min(steps)) * (1 + 1e-9) if len(steps) else 0.0

    def in_cell(self, row: int, column: int) -> tuple[TestedReading, ...]:
        """The readings of one spring at one height."""
        return tuple(self.readings[each] for each in np.flatnonzero((self.row == row) & (self.column == column)))

    def without(self, cells: Mask) -> SetTable:
        """The table with the loads of some cells taken away."""
        return replace(self, loads=np.where(cells, np.nan, self.loads))

    def named(self, row: int) -> str:
        """How a sentence begins: 'Spring 7', 'Spring 7, inner'. Braces are doubled: sentences are templates."""
        name = f"Spring {self.springs[row].id}" + (f", {self.part}" if self.part else "")
        return name.replace("{", "{{").replace("}", "}}")

    def flag(
        self,
        kind: FlagKind,
        row: int,
        reading: TestedReading,
        sentence: str,
        rule: str,
        amounts: dict[str, tuple[float, Kind]],
        judged: tuple[float | None, float | None],
    ) -> Flag:
        """A doubt of one reading of one spring, with the place it stands at.

        Args:
            kind: of the doubt.
            row: of the spring.
            reading: the one that is doubtful.
            sentence: what follows the spring's name, with {names} of amounts.
            rule: how it was found.
            amounts: the figures of the sentence, SI with their kind.
            judged: the figure that was judged, and its threshold.

        Returns:
            The flag.
        """
        return Flag(
            kind=kind,
            template=f"{self.named(row)}{sentence}",
            rule=rule,
            amounts=amounts,
            spring=self.springs[row].id,
            part=reading.part,
            height=reading.height,
            value=judged[0],
            limit=judged[1],
            row=reading.row,
            column=reading.column,
            path=reading.path or self.springs[row].path,
        )


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class SetLine:
    """The median load of the set at each common height: the line a clean spring of it follows."""

    heights: Floats
    loads: Floats

    @property
    def rate(self) -> float:
        """Rate, N/m, by least squares over the heights; 0 with a single one."""
        if len(self.heights) < 2:
            return 0.0
        off = self.heights - np.mean(self.heights)
        return float(-np.sum(off * self.loads) / np.sum(off**2))

    @property
    def falls(self) -> bool:
        """Whether the load falls all the way as the height grows, so that a height can be had from a load."""
        return len(self.heights) >= 2 and bool(np.all(np.diff(self.loads) < 0))

    def at(self, height: float) -> float:
        """Load, N, at a height, m: straight between the heights and straight on beyond them."""
        return _along(self.heights, self.loads, height)

    def height_for(self, load: float) -> float:
        """Height, m, at which the line carries a load, N."""
        return _along(self.loads[::-1], self.heights[::-1], load)


def _along(xs: Floats, ys: Floats, x: float) -> float:
    i = int(np.clip(np.searchsorted(xs, x) - 1, 0, len(xs) - 2))
    return float(ys[i] + (x - xs[i]) * (ys[i + 1] - ys[i]) / (xs[i + 1] - xs[i]))


def line_of(table: SetTable) -> SetLine:
    """The median line of a table over its common heights."""
    common = table.common
    return SetLine(heights=table.heights[common], loads=column_median(table.loads[:, common]))


def floor_of(loads: Floats, rate: float, accuracy: Accuracy) -> Floats:
    """The deviation in load below which nothing is told.

    Args:
        loads: N, any shape.
        rate: of the springs, N/m.
        accuracy: of the tester.

    Returns:
        The larger of repeatability + rate x height accuracy, and 0.5 % of the load, N, of the same shape.

    Source:
        common practice.
    """
    stated = (accuracy.repeatability or 0.0) + abs(rate) * (accuracy.height or 0.0)
    return np.maximum(stated, LOAD_FLOOR * np.abs(loads))


def tables_of(springs: Sequence[TestedSpring]) -> tuple[SetTable, ...]:
    """The set sorted into tables, one for each part and direction, in the order they first appear.

    Args:
        springs: as tested; readings of no height or beyond all sense are left out.

    Returns:
        The tables. A reading without a direction counts as taken on loading, "pair" as the whole.
    """
    parts: dict[str, str] = {}
    sorted_in: dict[tuple[str, str], list[tuple[int, TestedReading]]] = {}
    for index, spring in enumerate(springs):
        for reading in spring.readings:
            if reading.part not in parts:
                parts[reading.part] = part_named(reading.part)
            if LEAST_LOAD < reading.height < MOST and abs(reading.load) < MOST:
                way = UNLOADING if reading.direction == UNLOADING else ""
                sorted_in.setdefault((parts[reading.part], way), []).append((index, reading))
    return tuple(_table(springs, part, way, within) for (part, way), within in sorted_in.items())


def _table(
    springs: Sequence[TestedSpring], part: str, direction: str, within: list[tuple[int, TestedReading]]
) -> SetTable:
    kept, row = np.unique(np.array([index for index, _ in within], dtype=np.intp), return_inverse=True)
    readings = tuple(reading for _, reading in within)
    height = np.array([reading.height for reading in readings])
    load = np.array([reading.load for reading in readings])
    order = np.argsort(height, kind="stable")
    column = np.empty(len(readings), dtype=np.intp)
    column[order] = np.concatenate(([0], np.cumsum(np.diff(height[order]) > SAME_HEIGHT)))
    shape = (len(kept), int(column.max()) + 1)
    cell = row * shape[1] + column
    count = np.bincount(cell, minlength=shape[0] * shape[1])
    with np.errstate(invalid="ignore"):
        loads = np.bincount(cell, load, minlength=len(count)) / count
    return SetTable(
        part=part,
        direction=direction,
        springs=tuple(springs[index] for index in kept),
        heights=np.bincount(column, height) / np.bincount(column),
        loads=loads.reshape(shape),
        readings=readings,
        row=row,
        column=column,
    )
