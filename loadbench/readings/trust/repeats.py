"""Repeated readings: how well the tester repeats, and the repeats that differ by more than that."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np

from loadbench.arrays import Floats, Indices
from loadbench.readings.accuracy import Accuracy
from loadbench.readings.trust.flag import Flag, FlagKind, TestedReading, TestedSpring
from loadbench.readings.trust.moments import FEWEST, Mask
from loadbench.readings.trust.set_table import LOAD_FLOOR, SetTable, line_of, tables_of
from loadbench.units import Kind

MEDIAN_FREEDOM = 0.37
"""A median tells as much of a spread as this share of the values would by their deviation (iglewicz-hoaglin)."""

WORSE_THAN_STATED = 1.5
"""The tester is told to repeat worse than stated from this ratio of standard deviations on (common practice)."""

GROSS = 0.05
"""Repeats further apart than this share of their mean disagree, whatever the tester (common practice)."""

SURE = 0.001
"""Chance of telling so of a tester that is as good as stated."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Repeatability:
    """The tester's repeatability from repeats: the pooled standard deviation, N, without the groups that disagree."""

    deviation: float
    freedom: int
    groups: int
    left_out: int


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Repeats:
    """The cells with repeats of all tables; `table`, `row`, `column` say where each belongs, the rest is theirs."""

    table: Indices
    row: Indices
    column: Indices
    count: Indices
    squares: Floats
    range: Floats
    mean: Floats
    rate: Floats


def repeats_of(tables: Sequence[SetTable]) -> Repeats:
    """The cells that hold more than one reading.

    Args:
        tables: of the set.

    Returns:
        Their counts, sums of squares about the mean (N^2), ranges and means (N), and the set's rate (N/m) for each.
    """
    found = [_repeats(index, table) for index, table in enumerate(tables)]
    return Repeats(**{name: np.concatenate([each[name] for each in found]) for name in found[0]})


def _repeats(index: int, table: SetTable) -> dict[str, np.ndarray]:
    width = len(table.heights)
    load = np.array([reading.load for reading in table.readings])
    cell = table.row * width + table.column
    count = np.bincount(cell, minlength=table.loads.size)
    off = load - table.loads.ravel()[cell]
    low, high = np.zeros(len(count)), np.zeros(len(count))
    np.minimum.at(low, cell, off)
    np.maximum.at(high, cell, off)
    kept = np.flatnonzero(count > 1)
    return {
        "table": np.full(len(kept), index, dtype=np.intp),
        "row": kept // width,
        "column": kept % width,
        "count": count[kept],
        "squares": np.bincount(cell, off**2, minlength=len(count))[kept],
        "range": (high - low)[kept],
        "mean": table.loads.ravel()[kept],
        "rate": np.full(len(kept), line_of(table).rate),
    }


def repeatability(springs: Sequence[TestedSpring]) -> Repeatability | None:
    """How well the tester repeats, from the repeats of a whole set.

    Args:
        springs: as tested.

    Returns:
        The pooled standard deviation; None without a repeat. Groups that disagree with the rest are left out.

    Source:
        gum, 4.2.4, pooled estimate; shown against nist-anova.
    """
    tables = tables_of(springs)
    return _pooled(repeats_of(tables), 0.003) if tables else None


def _pooled(groups: Repeats, chance: float) -> Repeatability | None:
    if not len(groups.count):
        return None
    from scipy.special import chdtri

    free = groups.count - 1
    typical = math.sqrt(float(np.median(groups.squares / chdtri(free, 0.5))))
    limit = _range_limit(groups.count, typical, MEDIAN_FREEDOM * float(np.sum(free)), chance)
    kept = groups.range <= np.maximum(limit, LOAD_FLOOR * np.abs(groups.mean))
    if not np.any(kept):
        return None
    freedom = int(np.sum(free[kept]))
    return Repeatability(
        deviation=math.sqrt(float(np.sum(groups.squares[kept])) / freedom),
        freedom=freedom,
        groups=int(np.sum(kept)),
        left_out=int(np.sum(~kept)),
    )


def _range_limit(count: Indices, deviation: Floats | float, freedom: float, chance: float) -> Floats:
    """The range that a group passes with this chance in all groups: of its pairs, none further apart by Student's t."""
    from scipy.special import stdtrit

    pairs = count * (count - 1) / 2
    t = stdtrit(freedom, 1 - chance / (2 * pairs * max(1, len(count))))
    return np.asarray(math.sqrt(2.0) * np.asarray(deviation) * t, dtype=np.float64)


def disagreeing(
    tables: Sequence[SetTable], accuracy: Accuracy, chance: float
) -> tuple[tuple[Mask, ...], tuple[Flag, ...]]:
    """The cells whose repeats differ by more than the tester's repeatability allows.

    Args:
        tables: of the set.
        accuracy: of the tester; without a stated repeatability the repeats of the rest of the set give it.
        chance: of flagging any group of a clean set.

    Returns:
        For each table a mask of its cells, and the flags.

    Source:
        gum, 4.3.7 for a stated half-width, 4.2.4 for the pooled one; annex G for Student's t, shared among all pairs
        (Bonferroni).
    """
    masks = tuple(np.zeros(table.loads.shape, dtype=np.bool_) for table in tables)
    groups = repeats_of(tables) if tables else None
    if groups is None or not len(groups.count):
        return masks, ()
    limits, rule, flags = _limits(groups, accuracy, chance)
    for each in np.flatnonzero(groups.range > limits):
        row, column = int(groups.row[each]), int(groups.column[each])
        masks[groups.table[each]][row, column] = True
        flags.append(_flag(tables[groups.table[each]], row, column, (groups.range[each], limits[each]), rule))
    return masks, tuple(flags)


def _limits(groups: Repeats, accuracy: Accuracy, chance: float) -> tuple[Floats, str, list[Flag]]:
    """The range allowed to each group, the rule, and a flag where the tester as a whole repeats worse than stated."""
    pooled = _pooled(groups, chance)
    least = LOAD_FLOOR * np.abs(groups.mean)
    rates_known = accuracy.height is None or bool(np.all(groups.rate > 0))
    if accuracy.repeatability is not None and rates_known:
        stated = accuracy.of_reading(groups.rate)
        if pooled is None or pooled.groups < FEWEST or not _worse(pooled, float(np.median(stated))):
            limits = np.maximum(_range_limit(groups.count, stated, math.inf, chance), 2 * math.sqrt(3.0) * stated)
            rule = "range over what the stated repeatability allows (normal, shared among all pairs of repeats)"
            return np.maximum(limits, least), rule, []
        flags = [_worse_than_stated(pooled, accuracy, pooled.deviation / max(float(np.median(stated)), 1e-12))]
    elif pooled is None or pooled.groups < 2:
        limits = GROSS * np.abs(groups.mean)
        return limits, f"range over {100 * GROSS:g} % of the load (common practice; no other repeat to go by)", []
    else:
        flags = []
    limits = _range_limit(groups.count, pooled.deviation, pooled.freedom, chance)
    if pooled.groups < FEWEST:  # they are most of what they are judged by
        limits = np.minimum(limits, GROSS * np.abs(groups.mean))
    rule = "range over what the repeats of the rest of the set allow (Student's t, shared among all pairs of repeats)"
    return np.maximum(limits, least), rule, flags


def _worse(pooled: Repeatability, stated: float) -> bool:
    from scipy.special import chdtri

    ratio = (pooled.deviation / stated) ** 2 if stated > 0 else math.inf
    return ratio > max(WORSE_THAN_STATED**2, float(chdtri(pooled.freedom, SURE)) / pooled.freedom)


def _worse_than_stated(pooled: Repeatability, accuracy: Accuracy, times: float) -> Flag:
    half = math.sqrt(3.0) * pooled.deviation
    told = f"{times:.1f} times what its stated accuracy allows" if times < 1000 else "none of which is stated"
    return Flag(
        kind=FlagKind.REPEAT_DISAGREES,
        template=f"The tester repeats to about {{found}}, {told}: set it up anew, or state what it does.",
        rule=f"pooled standard deviation of the repeats over {WORSE_THAN_STATED} times the stated one (chi-squared, "
        f"{100 * SURE:g} %)",
        amounts={"found": (half, Kind.FORCE)},
        value=half,
        limit=accuracy.repeatability,
    )


def _flag(table: SetTable, row: int, column: int, judged: tuple[float, float], rule: str) -> Flag:
    within = table.in_cell(row, column)
    loads = [reading.load for reading in within]
    return table.flag(
        FlagKind.REPEAT_DISAGREES,
        row,
        _furthest(table, column, within),
        ": repeats at {height} run from {low} to {high}, more than {limit} apart: test it again.",
        rule,
        {
            "height": (float(table.heights[column]), Kind.LENGTH),
            "low": (min(loads), Kind.FORCE),
            "high": (max(loads), Kind.FORCE),
            "limit": (float(judged[1]), Kind.FORCE),
        },
        (float(judged[0]), float(judged[1])),
    )


def _furthest(table: SetTable, column: int, within: Sequence[TestedReading]) -> TestedReading:
    """The reading that disagrees: with the other repeats, or of two with the set."""
    middle = float(np.median([reading.load for reading in within]))
    if len(within) == 2 and np.sum(np.isfinite(table.loads[:, column])) > 2:
        middle = float(np.nanmedian(table.loads[:, column]))
    return max(within, key=lambda reading: abs(reading.load - middle))


def settled(table: SetTable, disagree: Mask) -> SetTable:
    """The table with the cells that disagree told apart.

    Args:
        table: of the set.
        disagree: its cells, True where the repeats disagree.

    Returns:
        The table to judge on: of three or more repeats the mean of those that agree, nothing of two.
    """
    loads = table.loads.copy()
    for row, column in np.argwhere(disagree):
        within = np.array([reading.load for reading in table.in_cell(int(row), int(column))])
        rest = np.delete(within, np.argmax(np.abs(within - np.median(within))))
        agree = len(rest) > 1 and np.ptp(rest) < np.ptp(within) / 2
        loads[row, column] = float(np.mean(rest)) if agree else np.nan
    return replace(table, loads=loads)
