"""A lift table as it was measured or written: looked at row by row, put on the nose, and never repaired in silence."""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass

import numpy as np

from loadbench.arrays import Floats, Indices
from loadbench.errors import InputError, Place, Problem, UnreadableFileError

FEWEST = 20
TURN = 2 * math.pi
TURN_SLACK = 1e-6
LIFT_IS_NO_LIFT = 1.0
"""m; no valve is lifted by that much."""
PLAUSIBLE = (0.5e-3, 0.1)
"""m; the greatest lift of a table should lie between, common practice."""
BASE_SHARE = 0.01
"""How far from zero a base circle may be read, over the greatest lift, common practice."""
SPIKE_SHARE = 0.004
SPIKE = 12.0
"""A spike is further off its four neighbours' curve than this many times what is usual in the table."""
STEP_SHARE = 0.3
NOSE_SHARE = 0.8
"""Readings above this share of the greatest place the nose; a flat, noisy top alone would not."""
NOSE_DEGREE = 4

RowOf = Callable[[int], int]


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class LiftTable:
    """A lift table from the nose: `angles` rad of the cam, rising, within -pi to pi; `lifts` m, both (readings,).

    `places` are the readings' places in the table as it was stated, `nose` rad the stated angle of the nose, `base` m
    the mean reading of the base circle before and after the lift. `told` says what was turned round or left out.
    """

    angles: Floats
    lifts: Floats
    places: Indices
    nose: float
    base: tuple[float, float]
    told: tuple[str, ...] = ()


def next_row(place: int) -> int:
    """The row of a reading in a table without header lines.

    Args:
        place: counted from 0.

    Returns:
        The row, counted from 1.
    """
    return place + 1


def table_faults(angles: Floats, lifts: Floats, row_of: RowOf = next_row) -> tuple[Problem, ...]:
    """All that is wrong with a lift table.

    Args:
        angles: rad of the cam as stated, either end first, shape (readings,).
        lifts: m, of the same shape.
        row_of: the row of a reading by its place.

    Returns:
        The faults, each with its row where it has one; none for a table that can be used.

    Source:
        common practice for the limits; own derivation for the spikes.
    """
    x, y = np.asarray(angles, dtype=np.float64), np.asarray(lifts, dtype=np.float64)
    if x.ndim != 1 or x.shape != y.shape:
        return (Problem(what="angles and lifts of different number", expected="a lift for each angle"),)
    odd = np.flatnonzero(~(np.isfinite(x) & np.isfinite(y)))
    if odd.size:
        return tuple(_at("a row without a number", "an angle and a lift", row_of(int(place))) for place in odd)
    if x.size < FEWEST:
        return (Problem(what=f"{x.size} rows of lift", expected=f"{FEWEST} or more"),)
    faults = [*_angle_faults(x, row_of), *_lift_faults(y, row_of)]
    return tuple(faults or [*_spikes(x, y, row_of), *_base_faults(x, y, row_of)])


def _at(what: str, expected: str, row: int) -> Problem:
    return Problem(what=what, expected=expected, place=Place(row=row))


def _degrees(angle: float) -> str:
    return f"{math.degrees(angle):.6g} deg"


def _falls(x: Floats) -> bool:
    return int(np.sum(np.diff(x) < 0)) > int(np.sum(np.diff(x) > 0))


def _angle_faults(x: Floats, row_of: RowOf) -> list[Problem]:
    way = "falling" if _falls(x) else "rising"
    steps = -np.diff(x) if way == "falling" else np.diff(x)
    faults = []
    for place in (np.flatnonzero(steps <= 0) + 1).tolist():
        what = "is there twice" if steps[place - 1] == 0 else "goes back"
        faults.append(_at(f"the angle {_degrees(x[place])} {what}", f"{way} angles, each once", row_of(place)))
    turned = float(np.ptp(x))
    if turned > TURN * (1 + TURN_SLACK):
        over = int(np.argmax(np.abs(x - x[0]) > TURN * (1 + TURN_SLACK)))
        what = f"the table covers {_degrees(turned)} of the cam"
        faults.append(_at(what, "360 deg at most; are these crank degrees?", row_of(over)))
    return faults


def _lift_faults(y: Floats, row_of: RowOf) -> list[Problem]:
    top = int(np.argmax(y))
    greatest = float(y[top])
    told = f"a greatest lift of {greatest * 1e3:.4g} mm"
    if greatest > LIFT_IS_NO_LIFT:
        first = int(np.argmax(y > LIFT_IS_NO_LIFT))
        return [_at(f"a lift of {y[first]:.4g} m", "less than 1 m; is the unit right?", row_of(first))]
    if not PLAUSIBLE[0] <= greatest <= PLAUSIBLE[1]:
        least, most = (limit * 1e3 for limit in PLAUSIBLE)
        return [_at(told, f"{least:g} to {most:g} mm; is the unit right?", row_of(top))]
    low = np.flatnonzero(y < -BASE_SHARE * greatest)
    if low.size:
        first = int(low[0])
        return [_at(f"a lift of {y[first] * 1e3:.4g} mm", "zero on the base circle, above it elsewhere", row_of(first))]
    return []


def _off_neighbours(x: Floats, y: Floats) -> Floats:
    """How far each reading but two at each end is off the cubic through its four neighbours."""
    at = x[2:-2]
    beside = [(x[k : x.size - 4 + k], y[k : y.size - 4 + k]) for k in (0, 1, 3, 4)]
    foretold = np.zeros_like(at)
    for number, (one, lift) in enumerate(beside):
        others = [other for place, (other, _) in enumerate(beside) if place != number]
        share = np.prod([(at - other) / (one - other) for other in others], axis=0)
        foretold += share * lift
    return np.asarray(y[2:-2] - foretold)


def _spikes(x: Floats, y: Floats, row_of: RowOf) -> list[Problem]:
    off = np.abs(_off_neighbours(x, y))
    lifted = y[2:-2] > BASE_SHARE * y.max()
    usual = 1.4826 * float(np.median(off[lifted])) if lifted.any() else 0.0
    # A coarse table shows a law whose acceleration steps as a slight spike; the bends around say how slight.
    bends = np.abs(np.diff(y, 2))[1:-1]
    bent = STEP_SHARE * float(np.quantile(bends[lifted], 0.9)) if lifted.any() else 0.0
    padded = np.pad(off, 2)
    # A spike throws its neighbours off too, by two thirds of itself: the worst of five is the one.
    worst = np.lib.stride_tricks.sliding_window_view(padded, 5).max(axis=1)
    spiky = (off > max(SPIKE * usual, SPIKE_SHARE * float(y.max()), bent)) & (off == worst)
    places = (np.flatnonzero(spiky) + 2).tolist()
    what = "a lift of {:.4g} mm stands {:.3g} mm off its neighbours"
    return [
        _at(what.format(y[place] * 1e3, off[place - 2] * 1e3), "a smooth lift; a slip of the pen?", row_of(place))
        for place in places
    ]


def _base_faults(x: Floats, y: Floats, row_of: RowOf) -> list[Problem]:
    limit = BASE_SHARE * float(y.max())
    if abs(float(np.ptp(x)) - TURN) <= TURN * TURN_SLACK and abs(float(y[-1] - y[0])) > limit:
        what = f"the turn ends at {y[-1] * 1e3:.4g} mm and began at {y[0] * 1e3:.4g} mm"
        return [_at(what, "the same lift after one turn", row_of(y.size - 1))]
    if abs(float(np.ptp(x)) - TURN) <= TURN * TURN_SLACK:
        lowest = int(np.argmin(y))
        what = f"the lowest lift of the turn is {y[lowest] * 1e3:.4g} mm"
        return [_at(what, "zero on the base circle", row_of(lowest))] if abs(float(y[lowest])) > limit else []
    ends = ((0, "begins"), (y.size - 1, "ends"))
    return [
        _at(f"the table {word} at {y[place] * 1e3:.4g} mm", "the base circle, zero, at both ends", row_of(place))
        for place, word in ends
        if abs(float(y[place])) > limit
    ]


def lift_table(angles: Floats, lifts: Floats, row_of: RowOf = next_row) -> LiftTable:
    """A lift table that can be used.

    Args:
        angles: rad of the cam as stated, either end first, shape (readings,).
        lifts: m, of the same shape.
        row_of: the row of a reading by its place.

    Returns:
        The table from its nose, within half a turn each side.

    Raises:
        UnreadableFileError: the table has faults; all of them are told.
        InputError: a table without a nose.

    Source:
        own derivation: the nose is the top of a polynomial of the fourth degree through the highest readings.
    """
    x, y = np.asarray(angles, dtype=np.float64), np.asarray(lifts, dtype=np.float64)
    if faults := table_faults(x, y, row_of):
        raise UnreadableFileError(faults)
    places, told = np.arange(x.size), []
    if _falls(x):
        places = places[::-1]
        told.append("The angles fall from row to row; the table is turned round.")
    if abs(float(np.ptp(x)) - TURN) <= TURN * TURN_SLACK:
        places = places[:-1]
        told.append("The last angle is the first one after a full turn; it is counted once.")
    nose = _nose(x[places], y[places])
    angle = (x[places] - nose + math.pi) % TURN - math.pi
    order = np.argsort(angle, kind="stable")
    angle, places = angle[order], places[order]
    return LiftTable(
        angles=angle, lifts=y[places], places=places, nose=nose, base=_base(angle, y[places]), told=tuple(told)
    )


def _nose(x: Floats, y: Floats) -> float:
    """Middle of the lift's top; a turn that starts on the nose is looked at across its ends."""
    from_top = (x - x[int(np.argmax(y))] + math.pi) % TURN - math.pi
    near = np.argsort(np.abs(from_top))[: 2 * NOSE_DEGREE + 1]
    chosen = np.union1d(np.flatnonzero(y > NOSE_SHARE * y.max()), near)
    curve = np.polynomial.Polynomial.fit(from_top[chosen], y[chosen], NOSE_DEGREE)
    turns = curve.deriv().roots()
    real = np.real(turns[np.abs(np.imag(turns)) < 1e-9 * curve.domain[1]])
    inside = real[(real > from_top[chosen].min()) & (real < from_top[chosen].max())]
    if inside.size == 0:
        raise InputError("a lift table without a nose", expected="a lift that rises to its greatest and falls again")
    return float(x[int(np.argmax(y))] + inside[int(np.argmax(curve(inside)))])


def _base(angle: Floats, y: Floats) -> tuple[float, float]:
    """Mean reading before the lift and after it."""
    off = np.flatnonzero(y > BASE_SHARE * y.max())
    before, after = y[: int(off[0])], y[int(off[-1]) + 1 :]
    return float(before.mean()) if before.size else 0.0, float(after.mean()) if after.size else 0.0


def from_degrees(
    angles: Sequence[float] | Floats, lifts: Floats, row_of: RowOf = next_row, *, crank: bool = False
) -> LiftTable:
    """A lift table whose angles are in degrees.

    Args:
        angles: deg of the cam or of the crank, shape (readings,).
        lifts: m, of the same shape.
        row_of: the row of a reading by its place.
        crank: whether they are of the crank, which turns twice as fast.

    Returns:
        The table, as lift_table().

    Raises:
        UnreadableFileError: the table has faults; all of them are told.
        InputError: a table without a nose.

    Source:
        own derivation: the cam turns at half the crank's speed.
    """
    return lift_table(np.radians(np.asarray(angles, dtype=np.float64)) / (2 if crank else 1), lifts, row_of)
