"""Heights that were typed wrong: a load fits the set at another height, while the spring's other readings agree."""

from __future__ import annotations

import itertools
from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np

from loadbench.arrays import Floats
from loadbench.readings.accuracy import Accuracy
from loadbench.readings.trust.flag import Flag, FlagKind, TestedReading
from loadbench.readings.trust.moments import MODIFIED_Z, Mask
from loadbench.readings.trust.outliers import RULE, Judged, judged, spread_of
from loadbench.readings.trust.set_table import LEAST_LOAD, SAME_HEIGHT, SetTable, floor_of
from loadbench.units import Kind

ODD_SHARE = 0.2
"""A height that no more than this share of the springs was tested at is odd among common ones."""

RATE_UNSURE = 0.1
"""Between and beyond the common heights the set's rate may differ from the straight line's by this share."""

UNKNOWN_SPREAD = 0.02
"""The scatter of a set too small to tell its own, as a share of the load (common practice)."""

REPEATS_AGREE = 0.2
"""Repeats within this share of the set's load belong to the height they are told at."""

GRADUATIONS = {0.0254: (0.1, 0.05), 0.001: (10.0, 1.0)}
"""What a height is misread or mistyped by where nobody else was tested: inches and mm, coarse to fine (common
practice). Finer ones fit any load."""

TELLING = 3
"""A height that is off by one of them is taken for one where that is so many times what the height may miss by."""

AGREED = 2.5
"""How many of the set's own deviations a height may miss by (common practice)."""

ODD_RULE = (
    f"off the set's median line, scaled to the spring's other readings, by over the set's scatter (modified z "
    f"{MODIFIED_Z}), the tester's repeatability and {100 * RATE_UNSURE:g} % of the rate to the next common height"
)

INCH = 0.0254


@dataclass(frozen=True, slots=True, kw_only=True)
class Guess:
    """The height that a load fits. `known` where others were tested at it, `swapped` where two digits were."""

    height: float
    known: bool = False
    swapped: bool = False

    @property
    def strong(self) -> bool:
        """Whether the height itself says so, not the load alone."""
        return self.known or self.swapped


def digits_of(height: float, heights: Floats) -> tuple[str, float]:
    """A height as it was probably typed, and the size of its unit in m.

    Args:
        height: m.
        heights: all of the set, m: inches where each is a whole number of thousandths, else millimetres.

    Returns:
        "1.250" and 0.0254, or "31.75" and 0.001.
    """
    thousandths = np.append(heights, height) / INCH * 1000
    if np.all(np.abs(thousandths - np.round(thousandths)) < 0.01):
        return f"{height / INCH:.3f}", INCH
    return f"{height * 1000:.2f}", 0.001


def slips(text: str, *, swaps: bool) -> Iterator[str]:
    """What might have been meant by a number: two neighbouring digits swapped, or one digit another.

    Args:
        text: the number, such as "1.520".
        swaps: True: neighbours swapped; False: one digit changed, the last place or two left out, where it says
            nothing (a thousandth of an inch, a tenth of a millimetre).

    Yields:
        Other numbers of the same form.
    """
    places = [place for place, sign in enumerate(text) if sign.isdigit()]
    if swaps:
        for one, two in itertools.pairwise(places):
            if text[one] != text[two]:
                signs = list(text)
                signs[one], signs[two] = signs[two], signs[one]
                yield "".join(signs)
        return
    last = 1 if len(text.partition(".")[2]) > 2 else 2
    for place in places[: len(places) - last]:
        for digit in "0123456789":
            if digit != text[place]:
                yield f"{text[:place]}{digit}{text[place + 1 :]}"


def guessed(height: float, fits: float, tolerance: float, heights: Floats, common: Floats) -> Guess | None:
    """The height that was probably meant.

    Args:
        height: as typed, m.
        fits: the height the load fits, m.
        tolerance: of that, m.
        heights: all of the set, m.
        common: those that a reading of this spring may have been meant for, m.

    Returns:
        A height that others were tested at, else two digits swapped, else one digit changed by whole graduations; None
        where none is near.
    """
    text, unit = digits_of(height, heights)
    swapped = [float(each) * unit for each in slips(text, swaps=True)]
    near = [float(each) for each in common if abs(each - fits) <= tolerance and abs(each - height) > SAME_HEIGHT]
    if near:
        best = min(near, key=lambda each: abs(each - fits))
        return Guess(height=best, known=True, swapped=any(abs(each - best) < SAME_HEIGHT for each in swapped))
    swapped = [each for each in swapped if abs(each - fits) <= tolerance]
    if swapped:
        return Guess(height=min(swapped, key=lambda each: abs(each - fits)), swapped=True)
    changed = [float(each) * unit for each in slips(text, swaps=False)]
    changed = [each for each in changed if abs(each - fits) <= tolerance and _telling(each - height, unit, tolerance)]
    if changed:
        return Guess(height=min(changed, key=lambda each: abs(each - fits)))
    return None


def _telling(change: float, unit: float, tolerance: float) -> bool:
    """Whether a change of a digit says more than that a load is off: whole graduations, far coarser than the blur."""
    steps = abs(change) / unit
    whole = (each for each in GRADUATIONS[unit] if abs(steps / each - round(steps / each)) < 1e-6)
    return TELLING * tolerance / unit <= next(whole, 0.0)


def typed_height(found: Judged, row: int, column: int) -> tuple[Flag, Guess] | None:
    """A height typed wrong at one of the common heights.

    Args:
        found: the table held against the set.
        row: of a spring whose only doubtful reading is this.
        column: of the reading, among the common heights.

    Returns:
        The flag and the height that fits; None where the load fits no height that could have been meant, or where
        heights stand in the header of the printout and so can't be typed wrong for one spring.

    Source:
        own derivation: the set's median line, scaled to the spring's own other readings.
    """
    own = _own_line(found, np.where(np.arange(len(found.columns)) == column, np.nan, found.loads[row]))
    reading = found.table.in_cell(row, int(found.columns[column]))[0]
    blur = float(found.floor[column] + AGREED * spread_of(found.own)[column])
    fits = None if own is None else _fitting(found, own, float(found.loads[row, column]))
    if fits is None or abs(fits - reading.height) * found.line.rate <= found.floor[column]:
        return None
    guess = guessed(reading.height, fits, blur / found.line.rate, found.table.heights, found.line.heights)
    if guess is None or (not guess.known and in_header(found.table, row)):
        return None
    score = found.z[row, column] if found.out[row, column] else found.own_z[row, column]
    flag = _flag(found.table, row, reading, guess, RULE, (abs(float(score)), MODIFIED_Z))
    return flag, guess


def in_header(table: SetTable, row: int) -> bool:
    """Whether the heights of a spring stand over its columns: all its readings are in one row of the printout."""
    own = [table.readings[each] for each in np.flatnonzero(table.row == row)]
    rows, columns = {reading.row for reading in own}, {reading.column for reading in own}
    return len(own) > 1 and None not in rows and len(rows) == 1 and len(columns) > 1


def _own_line(found: Judged, loads: Floats) -> tuple[float, float] | None:
    """Find a and b of load = a + b x the set's, by loads at the common heights; None where there are none."""
    known = np.isfinite(loads)
    x, y = found.line.loads[known], loads[known]
    if not np.any(x > LEAST_LOAD):
        return None
    if len(x) < 3:
        return 0.0, float(np.sum(x * y) / np.sum(x * x))
    off = x - np.mean(x)
    slope = float(np.sum(off * y) / np.sum(off**2))
    return float(np.mean(y)) - slope * float(np.mean(x)), slope


def _beside(found: Judged, row: int, column: int, reading: TestedReading) -> tuple[float, float] | None:
    """The same with the other repeats of a reading for its height, where they agree with the set."""
    within = found.table.in_cell(row, int(found.columns[column]))
    rest = [each.load for each in within if each is not reading]
    loads, usual = found.loads[row].copy(), float(found.line.loads[column])
    loads[column] = float(np.median(rest))
    return _own_line(found, loads) if abs(loads[column] - usual) < REPEATS_AGREE * usual else None


def _fitting(found: Judged, own: tuple[float, float], load: float) -> float | None:
    """The height at which the spring's own line carries a load; None beyond half the set's reach outside it."""
    if not found.line.falls or own[1] <= 0:
        return None
    fits = found.line.height_for((load - own[0]) / own[1])
    low, high = float(found.line.heights[0]), float(found.line.heights[-1])
    return fits if low - (high - low) / 2 <= fits <= high + (high - low) / 2 else None


def _flag(
    table: SetTable, row: int, reading: TestedReading, guess: Guess, rule: str, judged: tuple[float, float]
) -> Flag:
    why = ", two digits swapped" if guess.swapped else ""
    where = ", where the others were tested" if guess.known else ""
    return table.flag(
        FlagKind.HEIGHT_TYPED_WRONG,
        row,
        reading,
        f": {{load}} at {{height}} fits a height of {{fits}}{where}: was the height typed wrong{why}?",
        rule,
        {
            "load": (reading.load, Kind.FORCE),
            "height": (reading.height, Kind.LENGTH),
            "fits": (guess.height, Kind.LENGTH),
        },
        judged,
    )


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class OddHeights:
    """Heights typed wrong that no other spring was tested at, or that fall upon another reading of the same spring.

    `cells` are the table's cells that hold one: what is left of the table is judged without them.
    """

    flags: tuple[Flag, ...]
    cells: Mask


def odd_heights(table: SetTable, disagree: Mask, accuracy: Accuracy) -> OddHeights:
    """Look for heights typed wrong among those that are not the set's own.

    Args:
        table: of the set, repeats settled.
        disagree: its cells whose repeats disagree: one of them may belong to another height.
        accuracy: of the tester.

    Returns:
        The flags and their cells.

    Source:
        own derivation: the set's median line, scaled to the spring's own other readings.
    """
    cells = np.zeros(table.loads.shape, dtype=np.bool_)
    count = np.bincount(table.column[np.unique(table.row * table.loads.shape[1] + table.column, return_index=True)[1]])
    odd = np.setdiff1d(np.flatnonzero(count <= max(1, ODD_SHARE * len(table.springs))), table.common)
    suspects = [(row, column) for column in odd for row in np.flatnonzero(np.isfinite(table.loads[:, column]))]
    suspects += [(row, column) for row, column in np.argwhere(disagree)]
    if not suspects:
        return OddHeights(flags=(), cells=cells)
    found = judged(table, accuracy, searched=False)
    flags: list[Flag] = []
    for row, column in suspects:
        for reading in table.in_cell(int(row), int(column)):
            flag = _odd_height(found, int(row), int(column), reading, accuracy)
            if flag is not None and not cells[row, column]:
                flags.append(flag)
                cells[row, column] = True
    return OddHeights(flags=tuple(flags), cells=cells)


def _odd_height(found: Judged, row: int, column: int, reading: TestedReading, accuracy: Accuracy) -> Flag | None:
    line, at = found.line, np.flatnonzero(found.columns == column)
    own = None
    if line.falls:
        own = _beside(found, row, int(at[0]), reading) if len(at) else _own_line(found, found.loads[row])
    if own is None:
        return None
    expected = own[0] + own[1] * line.at(reading.height)
    scatter = float(np.max(spread_of(found.own)))
    scatter = scatter or UNKNOWN_SPREAD * abs(reading.load) / MODIFIED_Z
    floor = float(floor_of(np.array(reading.load), line.rate, accuracy))
    away = float(np.min(np.abs(line.heights - reading.height)))
    limit = floor + MODIFIED_Z * scatter + RATE_UNSURE * line.rate * away
    fits = _fitting(found, own, reading.load)
    if fits is None or abs(reading.load - expected) <= limit:
        return None
    lacking = line.heights[~np.isfinite(found.loads[row])]
    tolerance = (floor + MODIFIED_Z * scatter) / line.rate
    guess = guessed(reading.height, fits, tolerance, found.table.heights, lacking)
    if len(at) and not (guess and guess.known):
        return None  # a repeat that disagrees, and fits no height the spring lacks
    judged = (abs(reading.load - expected), limit)
    return _flag(found.table, row, reading, guess or Guess(height=fits), ODD_RULE, judged)
