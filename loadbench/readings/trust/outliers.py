"""Springs and single readings that stand out of their set, by a robust rule."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from loadbench.arrays import Floats, Indices
from loadbench.readings.accuracy import Accuracy
from loadbench.readings.trust.flag import Flag, FlagKind
from loadbench.readings.trust.moments import (
    FEWEST,
    MODIFIED_Z,
    Mask,
    column_median,
    robust_deviation,
    strays,
)
from loadbench.readings.trust.set_table import LOAD_FLOOR, SetLine, SetTable, floor_of, line_of
from loadbench.units import Kind

CHANCES = {"load": 0.005, "own line": 0.005, "rate": 0.003, "curve": 0.003, "repeats": 0.003}
"""Chance that a clean set is flagged at all, by what is looked at: together under 2 %."""

AGREES = 2.5
"""A reading whose modified z is under this agrees with the set (common practice)."""

AGREES_BESIDE = 1 / 3
"""Or under this share of the score of the one that stands out."""

RULE = f"modified z over {MODIFIED_Z} (median absolute deviation), and an extreme studentized deviate of the set"


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Judged:
    """The common heights of a table held against the set. All arrays have the shape (springs, common heights).

    `z` and `out` judge a reading against the set, `own_z` and `own_out` against the line that the spring's own other
    readings give in the set; `own` is the distance from that line, N. `floor`, N, is told of no reading.
    """

    table: SetTable
    columns: Indices
    line: SetLine
    loads: Floats
    floor: Floats
    z: Floats
    out: Mask
    own: Floats
    own_z: Floats
    own_out: Mask

    def is_single(self, row: int, column: int) -> bool:
        """Whether only this reading of a spring stands out: the others, one or more, agree with the set."""
        others = np.delete(self.z[row], column)
        others = np.abs(others[np.isfinite(others)])
        if not len(others) or np.any(np.delete(self.out[row], column)):
            return False
        if np.isfinite(self.loads[row]).sum() > 3 and self.own_out[row, column]:
            return True
        return bool(np.all(others < max(AGREES, AGREES_BESIDE * abs(float(self.z[row, column])))))

    def suspect(self, row: int) -> int | None:
        """The column of the reading of a spring that stands out most; None where none does."""
        if not (np.any(self.out[row]) or np.any(self.own_out[row])):
            return None
        known = np.flatnonzero(np.isfinite(self.loads[row]))
        if len(known) > 3 and np.any(self.own_out[row]):
            return min((int(column) for column in known), key=lambda column: self.left_without(row, column))
        return int(known[np.argmax(np.abs(self.z[row, known]))])

    def left_without(self, row: int, column: int) -> float:
        """Sum of squares, N^2, that a spring's readings but this one leave about a straight line beside the set's."""
        return self._left(row, np.arange(len(self.columns)) == column)

    def left_curved(self, row: int) -> float:
        """The same of all its readings about a parabola beside the set's."""
        return self._left(row, self._place**2)

    @property
    def _place(self) -> Floats:
        """The common heights between 0 and 1."""
        return np.asarray((self.line.heights - self.line.heights[0]) / np.ptp(self.line.heights))

    def _left(self, row: int, third: Floats | Mask) -> float:
        known = np.isfinite(self.loads[row])
        off = (self.loads[row] - self.line.loads)[known]
        model = np.column_stack((np.ones(len(off)), self._place[known], third[known]))
        return float(np.sum((off - model @ np.linalg.lstsq(model, off, rcond=None)[0]) ** 2))


def judged(table: SetTable, accuracy: Accuracy, share: float = 1.0, *, searched: bool = True) -> Judged:
    """Hold the readings of a table against the set.

    Args:
        table: of the set, repeats settled.
        accuracy: of the tester.
        share: of the chance of a false flag that this table may take.
        searched: False: only the distances are wanted, nothing is said to stand out.

    Returns:
        The judgement; sets of fewer than five springs have nothing that stands out.

    Source:
        iglewicz-hoaglin, rosner.
    """
    columns, line = table.common, line_of(table)
    loads = table.loads[:, columns]
    resolution = table.resolution
    floor = np.maximum(floor_of(line.loads, line.rate, accuracy), resolution)
    width = max(1, len(columns))
    own = own_distances(loads, line.loads)
    z = own_z = np.full(loads.shape, np.nan)
    out = own_out = np.zeros(loads.shape, dtype=np.bool_)
    if searched:
        z, out = strays(loads, floor, share * CHANCES["load"] / width)
        alike = own * own_scale(loads, line.loads)
        own_z, own_out = strays(alike, np.maximum(floor, 2 * resolution), share * CHANCES["own line"] / width)
    return Judged(
        table=table,
        columns=columns,
        line=line,
        loads=loads,
        floor=floor,
        z=z,
        out=out,
        own=own,
        own_z=own_z,
        own_out=own_out,
    )


def own_distances(loads: Floats, line: Floats) -> Floats:
    """How far each reading stands from the line that the spring's other readings give.

    With two or more others the spring's load is taken as a + b x the set's (its free height and its rate differ from
    the set's), by least squares without the reading itself. With one other it follows that one by whichever of three
    ways leaves the set the least spread: not at all, by the same load (free height), by the same share (rate); that
    takes five springs tested alike.

    Args:
        loads: N, shape (springs, heights); NaN where missing.
        line: the set's median load at each height, N, shape (heights,).

    Returns:
        Distances, N, of the loads' shape; NaN where a reading is alone.

    Source:
        own derivation, from the linear load of a spring.
    """
    known = np.isfinite(loads)
    x, y = np.where(known, line, 0.0), np.where(known, loads, 0.0)
    others = np.sum(known, axis=1, keepdims=True) - known
    with np.errstate(invalid="ignore", divide="ignore"):
        mean_x = (np.sum(x, axis=1, keepdims=True) - x) / others
        mean_y = (np.sum(y, axis=1, keepdims=True) - y) / others
        spread = np.sum(x * x, axis=1, keepdims=True) - x * x - others * mean_x**2
        along = np.sum(x * y, axis=1, keepdims=True) - x * y - others * mean_x * mean_y
        slope = np.where(spread > 1e-9 * others * mean_x**2, along / spread, 1.0)
        distance = np.where(known & (others > 1), y - mean_y - slope * (x - mean_x), np.nan)
    for row in np.flatnonzero(np.sum(known, axis=1) == 2):
        if np.isnan(distance[row]).all() and np.sum((known == known[row]).all(axis=1)) >= FEWEST:
            distance = np.where(np.isnan(distance), _from_one_other(loads, line, known[row], distance), distance)
    return np.asarray(distance)


def own_scale(loads: Floats, line: Floats) -> Floats:
    """What makes the distances of `own_distances` alike where some readings are missing.

    The fewer others a reading has and the further it stands from them, the more their noise moves the line it is held
    against. Distances times this scatter as the middle spring's at the same height do.

    Args:
        loads: N, shape (springs, heights); NaN where missing.
        line: the set's median load at each height, N, shape (heights,).

    Returns:
        Factors, 1 where nothing is missing, of the loads' shape.

    Source:
        own derivation: variance of a prediction by least squares, 1 + 1/n + (x - mean)^2/Sxx.
    """
    known = np.isfinite(loads)
    if known.all():
        return np.ones(loads.shape)
    x = np.where(known, line, 0.0)
    others = np.maximum(np.sum(known, axis=1, keepdims=True) - known, 1)
    mean = (np.sum(x, axis=1, keepdims=True) - x) / others
    spread = np.sum(x * x, axis=1, keepdims=True) - x * x - others * mean**2
    apart = spread > 1e-9 * others * mean**2
    variance = 1 + 1 / others + np.where(apart, (line - mean) ** 2 / np.where(apart, spread, 1.0), 0.0)
    blur = np.sqrt(np.where(known, variance, np.nan))
    return np.asarray(np.where(known, column_median(blur) / blur, 1.0))


def _from_one_other(loads: Floats, line: Floats, pair: Mask, distance: Floats) -> Floats:
    """Distances of the springs that were tested at this pair of heights alone."""
    result = np.full_like(distance, np.nan)
    rows = np.flatnonzero((np.isfinite(loads) == pair).all(axis=1))
    first, second = np.flatnonzero(pair)
    off = loads - line
    for here, other in ((first, second), (second, first)):
        shares = (0.0, 1.0, line[here] / line[other]) if line[other] > 0 else (0.0, 1.0)
        ways = [off[:, here] - follow * off[:, other] for follow in shares]
        best = min(ways, key=lambda way: float(robust_deviation(way[:, None])[0]))
        result[rows, here] = best[rows]
    return result


def stands_out(found: Judged, row: int, column: int, *, single: bool) -> Flag:
    """The flag of a spring that stands out of the set.

    Args:
        found: the table held against the set.
        row: of the spring.
        column: of the reading that stands out most, among the common heights.
        single: whether its other readings agree with the set.

    Returns:
        The flag.
    """
    load, usual = float(found.loads[row, column]), float(found.line.loads[column])
    height = float(found.line.heights[column])
    known = int(np.isfinite(found.loads[row]).sum())
    out = int(np.sum(np.abs(found.z[row][np.isfinite(found.z[row])]) > MODIFIED_Z))
    amounts = {"load": (load, Kind.FORCE), "height": (height, Kind.LENGTH), "usual": (usual, Kind.FORCE)}
    sentence = f": {{load}} at {{height}} is {apart(load, usual)} the set's middle, {{usual}}"
    if single and found.out[row, column]:
        sentence += "; its other readings fit: test it again."
    elif not found.out[row].any():
        distance = float(found.own[row, column])
        way = "over" if distance > 0 else "under"
        sentence = f": {{load}} at {{height}} is {{distance}} {way} what its other readings promise: test it again."
        amounts["distance"] = (abs(distance), Kind.FORCE)
    else:
        sentence += f", and it stands out at {out} of {known} heights." if known > 1 and out > 1 else "."
    score = found.z[row, column] if found.out[row, column] else found.own_z[row, column]
    return found.table.flag(
        FlagKind.OUTLIER,
        row,
        found.table.in_cell(row, int(found.columns[column]))[0],
        sentence,
        RULE + f"; nothing under {100 * LOAD_FLOOR:g} % or the tester's repeatability",
        amounts,
        (abs(float(score)), MODIFIED_Z),
    )


def rates_of(found: Judged) -> tuple[Floats, Floats]:
    """Rate of each spring over its common heights.

    Args:
        found: the table held against the set.

    Returns:
        Rates, N/m, shape (springs,), by least squares; NaN where fewer than two heights or less than half of the
        set's reach were tested. And the standard deviation of each for one of load, 1/m.

    Source:
        gum H.3.
    """
    known = np.isfinite(found.loads)
    count = np.sum(known, axis=1)
    heights = found.line.heights
    with np.errstate(invalid="ignore", divide="ignore"):
        middle = np.sum(np.where(known, heights, 0.0), axis=1) / count
        off = np.where(known, heights - middle[:, None], 0.0)
        spread = np.sum(off**2, axis=1)
        rates = -np.sum(off * np.where(known, found.loads, 0.0), axis=1) / spread
        reach = np.ptp(off, axis=1)
        fit = (count >= 2) & (reach >= np.ptp(heights) / 2) if len(heights) else count < 0
        return np.where(fit, rates, np.nan), np.where(fit, 1 / np.sqrt(spread), np.nan)


def odd_rates(found: Judged, accuracy: Accuracy, claimed: set[int], share: float = 1.0) -> tuple[Flag, ...]:
    """Springs whose rate stands out of the set while none of their loads does.

    Args:
        found: the table held against the set.
        accuracy: of the tester.
        claimed: rows that are told already.
        share: of the chance of a false flag that this table may take.

    Returns:
        A flag for each.

    Source:
        iglewicz-hoaglin, rosner.
    """
    if len(found.columns) < 2:
        return ()
    rates, per_load = rates_of(found)
    single = (accuracy.repeatability or 0.0) + abs(found.line.rate) * (accuracy.height or 0.0)
    single = max(single, 2**0.5 * found.table.resolution)
    blur = float(np.nanmax(per_load)) * single if np.any(np.isfinite(per_load)) else 0.0
    floor = max(blur, LOAD_FLOOR * abs(found.line.rate))
    z, out = strays(rates[:, None], floor, share * CHANCES["rate"])
    usual = float(column_median(rates[:, None])[0])
    return tuple(
        _odd_rate(found, int(row), float(rates[row]), usual, float(z[row, 0]))
        for row in np.flatnonzero(out[:, 0])
        if int(row) not in claimed
    )


def _odd_rate(found: Judged, row: int, rate: float, usual: float, score: float) -> Flag:
    column = int(np.flatnonzero(np.isfinite(found.loads[row]))[0])
    return found.table.flag(
        FlagKind.OUTLIER,
        row,
        found.table.in_cell(row, int(found.columns[column]))[0],
        f": its rate, {{rate}}, is {apart(rate, usual)} the set's middle, {{usual}}.",
        RULE + f"; nothing under {100 * LOAD_FLOOR:g} % or what the tester's repeatability does to a rate",
        {"rate": (rate, Kind.RATE), "usual": (usual, Kind.RATE)},
        (abs(score), MODIFIED_Z),
    )


def apart(value: float, usual: float) -> str:
    """How far a figure stands from the usual one: '3.1 % under', 'over' where the usual one is zero."""
    way = "over" if value > usual else "under"
    return f"{percent(value / usual - 1)} {way}" if usual > 0 else way


def percent(share: float) -> str:
    """The size of a share as a sentence tells it: '3.1 %'."""
    return f"{100 * abs(share):.1f} %"


def spread_of(values: Floats) -> Floats:
    """Robust deviation of each column where five or more are known, else 0: what the set itself scatters."""
    enough = np.sum(np.isfinite(values), axis=0) >= 5
    return np.where(enough, np.nan_to_num(robust_deviation(values)), 0.0)
