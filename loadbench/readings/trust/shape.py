"""The shape of a spring's readings: loads that do not rise as it is pressed, and a curve that the set has not."""

from __future__ import annotations

import math

import numpy as np

from loadbench.arrays import Floats
from loadbench.readings.accuracy import Accuracy
from loadbench.readings.strand_fit import PROGRESSIVE_SHARE
from loadbench.readings.trust.flag import Flag, FlagKind
from loadbench.readings.trust.moments import FEWEST, MODIFIED_Z, column_median, strays
from loadbench.readings.trust.outliers import CHANCES, RULE, Judged, percent
from loadbench.readings.trust.set_table import SetTable, floor_of, line_of
from loadbench.units import Kind

OWN_NOISE = 2.0
"""A growth of the rate counts from this many standard deviations of what the tester's noise does to it (k = 2)."""

CURVED_AT_MOST = 0.25
"""A growth of the rate over its readings by more than this beyond the set's is taken for a wrong reading."""

SURE_ALONE = 4.0
"""The same where too few springs stand beside it to tell by the set."""


def not_rising(table: SetTable, accuracy: Accuracy) -> dict[int, Flag]:
    """Springs whose load does not rise as the height falls.

    Args:
        table: of the set, repeats settled.
        accuracy: of the tester.

    Returns:
        A flag by row, of the worst pair of neighbouring heights of each spring.

    Source:
        own derivation: the load of a compression spring rises as it is pressed; the rise that the set's rate promises
        must be missed by more than two readings can differ.
    """
    rate = line_of(table).rate
    flags = {}
    for row, loads in enumerate(table.loads):
        known = np.flatnonzero(np.isfinite(loads))
        if len(known) < 2 or np.all(loads[known][:-1] > loads[known][1:]):
            continue
        rise, step = -np.diff(loads[known]), np.diff(table.heights[known])
        # a coil spring in use is pressed by less than its height: its rate is more than load over height
        least = max(0.0, float(np.max(loads[known] / table.heights[known])))
        missed = np.where(rise <= 0, (rate if rate > 0 else least) * step - rise, -np.inf)
        limits = 2 * floor_of(loads[known], rate, accuracy)
        limits = np.maximum(limits[:-1], limits[1:])
        worst = int(np.argmax(missed - limits))
        if missed[worst] > limits[worst]:
            low, high = int(known[worst]), int(known[worst + 1])
            flags[row] = _not_rising(table, row, (low, high), (float(missed[worst]), float(limits[worst])))
    return flags


def _not_rising(table: SetTable, row: int, pair: tuple[int, int], judged: tuple[float, float]) -> Flag:
    low, high = pair
    middle = column_median(table.loads[:, [low, high]])
    off = np.abs(table.loads[row, [low, high]] - middle)
    wrong = high if off[1] > off[0] else low
    return table.flag(
        FlagKind.NOT_RISING,
        row,
        table.in_cell(row, wrong)[0],
        ": {short_load} at {short} after {tall_load} at {tall}: the load must rise as the spring is pressed.",
        "no rise between neighbouring heights, and the rise missed is over twice the repeatability (0.5 % of the load "
        "where that is more)",
        {
            "short": (float(table.heights[low]), Kind.LENGTH),
            "short_load": (float(table.loads[row, low]), Kind.FORCE),
            "tall": (float(table.heights[high]), Kind.LENGTH),
            "tall_load": (float(table.loads[row, high]), Kind.FORCE),
        },
        judged,
    )


def curvatures(heights: Floats, loads: Floats) -> tuple[Floats, Floats]:
    """Growth of each spring's rate over its readings, as a share of its mean.

    Args:
        heights: m, shape (heights,).
        loads: N, shape (springs, heights); NaN where missing.

    Returns:
        The share for each spring, NaN under three heights; and the share's standard deviation for one of a reading,
        1/N. Shape (springs,) each.

    Source:
        gum H.3, least squares of a parabola; the share as for a load line.
    """
    known = np.isfinite(loads)
    shares, per_load = np.full(len(loads), np.nan), np.full(len(loads), np.nan)
    if loads.shape[1] < 3:
        return shares, per_load
    for pattern in np.unique(known, axis=0):
        if pattern.sum() < 3:
            continue
        rows = (known == pattern).all(axis=1)
        at = heights[pattern]
        reach = float(np.ptp(at))
        powers = np.vander((at - np.mean(at)) / reach, 3, increasing=True)
        solve = np.linalg.pinv(powers)
        _, slope, bend = solve @ loads[np.ix_(rows, pattern)].T
        with np.errstate(divide="ignore", invalid="ignore"):
            shares[rows] = np.where(slope < 0, 2 * bend / -slope, np.nan)
            per_load[rows] = np.where(slope < 0, 2 * math.sqrt(float(np.sum(solve[2] ** 2))) / -slope, np.nan)
    return shares, per_load


def curved(found: Judged, accuracy: Accuracy, share: float = 1.0) -> dict[int, Flag]:
    """Springs that bend where the rest of the set does not; a set that is progressive as a whole has none.

    Args:
        found: the table held against the set.
        accuracy: of the tester.
        share: of the chance of a false flag that this table may take.

    Returns:
        A flag by row.

    Source:
        iglewicz-hoaglin and rosner within the set; gum H.3 for what noise alone does to a parabola.
    """
    shares, per_load = curvatures(found.line.heights, found.loads)
    if np.sum(np.isfinite(shares)) < 3:
        return {}
    usual = float(column_median(shares[:, None])[0])
    noise = per_load * float(accuracy.of_reading(found.line.rate))
    floor = max(PROGRESSIVE_SHARE, 3**0.5 * found.table.resolution * float(np.nanmax(per_load)))
    z, out = strays(shares[:, None], floor, share * CHANCES["curve"])
    off = np.abs(shares - usual)
    if np.sum(np.isfinite(shares)) >= FEWEST:
        bent = out[:, 0] & (off > OWN_NOISE * noise)
    else:
        bent = (off > PROGRESSIVE_SHARE) & (off > SURE_ALONE * noise) & accuracy.drawn_anew
    return {
        int(row): _curved(found, int(row), (float(shares[row]), usual, abs(float(z[row, 0]))))
        for row in np.flatnonzero(bent)
    }


def _curved(found: Judged, row: int, judged: tuple[float, float, float]) -> Flag:
    own, usual, score = judged
    column = int(np.flatnonzero(np.isfinite(found.loads[row]))[0])
    grows = "grows" if own >= 0 else "falls"
    as_well = "grows" if usual >= 0 else "falls"
    return found.table.flag(
        FlagKind.CURVED,
        row,
        found.table.in_cell(row, int(found.columns[column]))[0],
        f": its rate {grows} by {percent(own)} as it is pressed, the set's middle one {as_well} by {percent(usual)}: "
        "is it another spring, or near coil bind?",
        f"{RULE}; nothing under {100 * PROGRESSIVE_SHARE:g} % or the noise of its own parabola",
        {},
        (score, MODIFIED_Z),
    )


def bends(found: Judged, row: int, column: int) -> bool:
    """Whether a curve explains a spring's readings better than one reading that is off.

    Args:
        found: the table held against the set.
        row: of the spring.
        column: of the reading that may be off.

    Returns:
        By the smaller sum of squares, both with as many figures to choose. With three heights the two can't be told
        apart by that: a curve that a valve spring can have, a rate that grows as it is pressed, is taken for one.

    Source:
        own derivation; how much a spring can be curved is common practice.
    """
    if np.isfinite(found.loads[row]).sum() < 4:
        shares = curvatures(found.line.heights, found.loads)[0]
        return bool(0 < shares[row] - column_median(shares[:, None])[0] < CURVED_AT_MOST)
    return found.left_curved(row) < found.left_without(row, column)
