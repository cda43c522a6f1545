"""A lift table as it was measured or written: looked at row by row, put on the nose, and never repaired in silence."""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace

import numpy as np

from loadbench.arrays import Floats, Indices
from loadbench.errors import InputError, Place, Problem, UnreadableFileError
from loadbench.motion.lift_odd import (
    ZERO_SHARE,
    base_limit,
    calmed,
    flat_base,
    half_width,
    holes,
    noise,
    omitted,
    second_lobe,
    spikes,
)

FEWEST = 20
TURN = 2 * math.pi
TURN_SLACK = 1e-6
SEAM = 1.5
"""Steps between the last row of a whole turn and its first one: more is a table with ends."""
LIFT_IS_NO_LIFT = 1.0
"""m; no valve is lifted by that much."""
PLAUSIBLE = (1.2e-3, 0.05)
"""m; the greatest lift of a table should lie between, common practice: inches read as mm fall below, mm read as inches
above."""
USUAL_WIDTH = math.radians(38.0), math.radians(100.0)
"""Cam angle for which a lobe stands above half its lift, common practice: cam and crank degrees are twice apart."""
WIDTHS = math.radians(10.0), math.radians(110.0)
"""Outside there is no lobe: angles in rad read as degrees give far less, crank degrees read as the cam's more."""
MOST_ANGLES_TOLD = 20
MOST_STARTS = 3
SAME_ANGLE = 1e-9
"""rad; no two readings are so near."""
NOSE_SHARE = 0.8
"""Readings above this share of the greatest place the nose; a flat, noisy top alone would not."""
NOSE_DEGREE = 4

RowOf = Callable[[int], int]


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class LiftTable:
    """A lift table from the nose: `angles` rad of the cam, rising, within -pi to pi; `lifts` m, both (readings,).

    `places` are the readings' places in the table as it was stated, `nose` rad the stated angle of the nose, `base` m
    the mean reading of the base circle before and after the lift, zero where the table shows none. `lifts` are counted
    from it where it is not zero. `told` says what was turned round, counted on, taken off or left out.
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
        if x.size == 0:
            return (Problem(what="no rows of lift", expected=f"{FEWEST} or more"),)
        return (_at(f"the table ends after {x.size} rows of lift", f"{FEWEST} or more", row_of(x.size - 1)),)
    faults = [*_angle_faults(x, row_of), *_lift_faults(y, row_of)]
    return tuple(faults or _curve_faults(x, y, row_of))


def _at(what: str, expected: str, row: int) -> Problem:
    return Problem(what=what, expected=expected, place=Place(row=row))


def _degrees(angle: float) -> str:
    return f"{math.degrees(angle):.6g} deg"


def _falls(x: Floats) -> bool:
    return int(np.sum(np.diff(x) < 0)) > int(np.sum(np.diff(x) > 0))


def counted_on(angles: Floats) -> tuple[Floats, tuple[int, ...]]:
    """Angles of a wheel that starts again from zero, counted on past its full turn.

    Args:
        angles: rad of the cam as stated, shape (readings,).

    Returns:
        The angles without jumps, and the places of the first readings after a jump. A wheel on the crank starts again
        after half a turn of the cam. Angles that go back by anything else are returned as they are.

    Source:
        own derivation.
    """
    x = np.asarray(angles, dtype=np.float64)
    way = -1.0 if _falls(x) else 1.0
    steps = way * np.diff(x)
    back = np.flatnonzero(steps < 0)
    if not 0 < back.size <= MOST_STARTS or x.size < FEWEST:
        return x, ()
    usual = float(np.median(steps[steps > 0]))
    for wheel in (TURN, TURN / 2):
        mended = steps[back] + wheel
        jumps = np.zeros(x.size)
        jumps[back + 1] = way * wheel
        whole = x + np.cumsum(jumps)
        if (
            (mended >= -SAME_ANGLE).all()
            and (mended <= 2 * usual).all()
            and float(np.ptp(whole)) <= TURN * (1 + TURN_SLACK)
        ):
            return whole, tuple((back + 1).tolist())
    return x, ()


def _angle_faults(stated: Floats, row_of: RowOf) -> list[Problem]:
    x, _ = counted_on(stated)
    way = "falling" if _falls(x) else "rising"
    steps = -np.diff(x) if way == "falling" else np.diff(x)
    faults = []
    for place in (np.flatnonzero(steps <= SAME_ANGLE) + 1).tolist():
        what = "is there twice" if abs(steps[place - 1]) <= SAME_ANGLE else "goes back"
        faults.append(_at(f"the angle {_degrees(stated[place])} {what}", f"{way} angles, each once", row_of(place)))
    if len(faults) > MOST_ANGLES_TOLD:
        more = f"{len(faults) - MOST_ANGLES_TOLD} more angles from this one on are out of order"
        faults = [*faults[:MOST_ANGLES_TOLD], replace(faults[MOST_ANGLES_TOLD], what=more)]
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
    if -float(y.min()) > max(greatest, PLAUSIBLE[0]):
        low = int(np.argmin(y))
        what = f"a lift of {y[low] * 1e3:.4g} mm, below zero by more than any is above"
        return [_at(what, "lifts above zero; did the gauge turn backwards?", row_of(low))]
    if not PLAUSIBLE[0] <= greatest <= PLAUSIBLE[1]:
        least, most = (limit * 1e3 for limit in PLAUSIBLE)
        return [_at(told, f"{least:g} to {most:g} mm; is the unit right?", row_of(top))]
    return []


def _curve_faults(stated: Floats, lifts: Floats, row_of: RowOf) -> list[Problem]:
    """Faults of a table whose angles and whose greatest lift are in order."""
    places = np.arange(stated.size)[:: -1 if _falls(stated) else 1]
    x, y = counted_on(stated)[0][places], lifts[places]
    closed, limit = _closes(x), base_limit(x, y)

    def row(place: int) -> int:
        return row_of(int(places[place]))

    once = slice(None, -1) if closed and _comes_again(x) else slice(None)
    low = np.flatnonzero(np.maximum(y, calmed(y)) < -limit)
    if low.size:
        first = int(low[0])
        what, wanted = f"a lift of {y[first] * 1e3:.4g} mm", "zero on the base circle, above it elsewhere"
        found = [_at(what, wanted, row(first))]
    else:
        found = _base_faults(x, y, limit, row)
    ends = {row(place) for place in (0, 1, 2, y.size - 3, y.size - 2, y.size - 1)} if found and not closed else set()
    what = "a lift of {:.4g} mm stands {:.3g} mm off its neighbours"
    odd = spikes(x[once], y[once], limit, turn=TURN if closed and not found else None)
    wanted = "a smooth lift; a slip of the pen?"
    # An end that is told already throws its neighbours off.
    sharp = [_at(what.format(y[at] * 1e3, far * 1e3), wanted, row(at)) for at, far in odd if row(at) not in ends]
    # A lift that is broken off rises again too.
    again = [] if found else _second_lobe(y[once], limit, row, closed=closed)
    wide = [] if found or again else _width_faults(x[once], y[once], row)
    faults = [*sharp, *_holes(x, y, row), *again, *wide, *found]
    return faults or _nose_faults(x[once], y[once], row)


def _nose_faults(x: Floats, y: Floats, row: RowOf) -> list[Problem]:
    try:
        _nose(x, y)
    except InputError as error:
        return [_at(error.what, error.expected, row(int(np.argmax(y))))]
    return []


def _width_faults(x: Floats, y: Floats, row: RowOf) -> list[Problem]:
    width = half_width(x, y)
    if WIDTHS[0] <= width <= WIDTHS[1]:
        return []
    what = f"by its angles the table stands above half its lift for {_degrees(width)} of the cam"
    asked = "are the angles in rad?" if width < WIDTHS[0] else "are these crank degrees?"
    least, most = (f"{math.degrees(limit):g}" for limit in WIDTHS)
    return [_at(what, f"{least} to {most} deg; {asked}", row(int(np.argmax(y))))]


def _comes_again(x: Floats) -> bool:
    """Whether the last angle of a whole turn is the first one once more."""
    return abs(float(np.ptp(x)) - TURN) <= TURN * TURN_SLACK


def _closes(x: Floats) -> bool:
    """Whether rising angles make up a whole turn, its first row told again at the end or not."""
    return TURN - float(np.ptp(x)) <= SEAM * float(np.median(np.diff(x)))


def _holes(x: Floats, y: Floats, row: RowOf) -> list[Problem]:
    return [
        _at(
            f"no lift between the angles {_degrees(x[place - 1])} and {_degrees(x[place])}",
            f"steps like the one of {_degrees(x[place - 1] - x[place - 2])} before; are rows missing?",
            row(place),
        )
        for place in holes(x, y)
    ]


def _second_lobe(y: Floats, limit: float, row: RowOf, *, closed: bool) -> list[Problem]:
    turned = np.roll(np.arange(y.size), y.size // 2 - int(np.argmax(y))) if closed else np.arange(y.size)
    found = second_lobe(y[turned], limit)
    if found is None:
        return []
    what = f"the lift rises again by {found[1] * 1e3:.4g} mm, up to here"
    return [_at(what, "one lobe, its lift rising once and falling once", row(int(turned[found[0]])))]


def _base_faults(x: Floats, y: Floats, limit: float, row: RowOf) -> list[Problem]:
    if not _closes(x):
        ends = ((0, "begins"), (y.size - 1, "ends"))
        wanted = "the base circle, zero, at both ends"
        return [
            _at(f"the table {word} at {y[place] * 1e3:.4g} mm", wanted, row(place))
            for place, word in ends
            if abs(float(y[place])) > limit
        ]
    # Without the first row told again, the turn's last step may be one on the flank.
    flank = 0.0 if _comes_again(x) else 2 * float(max(abs(y[1] - y[0]), abs(y[-1] - y[-2])))
    if abs(float(y[-1] - y[0])) > math.sqrt(2) * limit + flank:
        what = f"the turn ends at {y[-1] * 1e3:.4g} mm and began at {y[0] * 1e3:.4g} mm"
        return [_at(what, "the same lift after one turn", row(y.size - 1))]
    lowest = int(np.argmin(calmed(y)))
    what = f"the lowest lift of the turn is {y[lowest] * 1e3:.4g} mm"
    return [_at(what, "zero on the base circle", row(lowest))] if abs(float(calmed(y)[lowest])) > limit else []


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

    Source:
        own derivation: the nose is the top of a polynomial of the fourth degree through the highest readings.
    """
    stated, y = np.asarray(angles, dtype=np.float64), np.asarray(lifts, dtype=np.float64)
    if faults := table_faults(stated, y, row_of):
        raise UnreadableFileError(faults)
    x, starts = counted_on(stated)
    places, told = np.arange(x.size), [_started_again(stated[at], row_of(at)) for at in starts]
    if _falls(x):
        places = places[::-1]
        told.append("The angles fall from row to row; the table is turned round.")
    told += [_omitted(row_of(int(places[at]))) for at in omitted(x[places], y[places])]
    if _comes_again(x):
        places = places[:-1]
        told.append("The last angle is the first one after a full turn; it is counted once.")
    nose = _nose(x[places], y[places])
    angle = (x[places] - nose + math.pi) % TURN - math.pi
    order = np.argsort(angle, kind="stable")
    angle, places = angle[order], places[order]
    base, zeroed = _from_base(angle, y[places], told)
    width = half_width(angle, zeroed)
    if not USUAL_WIDTH[0] <= width <= USUAL_WIDTH[1]:
        whose = "cam's and not the crank's" if width < USUAL_WIDTH[0] else "crank's and not the cam's"
        told.append(f"The lift is above its half for {_degrees(width)} of the cam: are the angles the {whose}?")
    return LiftTable(angles=angle, lifts=zeroed, places=places, nose=nose, base=base, told=tuple(told))


def _started_again(angle: float, row: int) -> str:
    return f"The angles start again at {_degrees(angle)} in row {row}; they are counted on from there."


def _omitted(row: int) -> str:
    return f"A row seems to be left out before row {row}; the lift is taken straight across."


def _from_base(angle: Floats, y: Floats, told: list[str]) -> tuple[tuple[float, float], Floats]:
    """The base circle's readings before the lift and after it, and the lifts above it; what is taken off is told."""
    limit, sigma = base_limit(angle, y), noise(angle, y)
    ends = [flat_base(each, limit, sigma) for each in (y, y[::-1])]
    before, after = (0.0 if end is None else end[1] for end in ends)
    seen = [end for end in ends if end is not None]
    if all(abs(mean) <= max(ZERO_SHARE * float(y.max()), 3 * sigma / count**0.5) for count, mean in seen):
        return (before, after), y
    one, other = (seen[0 if end is None else place][1] if end is None else end[1] for place, end in enumerate(ends))
    told.append(
        f"The base circle reads {one * 1e3:.3g} mm before the lift and {other * 1e3:.3g} mm after it; "
        "the lifts are counted from the line between."
    )
    inside = [0 if ends[0] is None else ends[0][0] // 2, y.size - 1 - (0 if ends[1] is None else ends[1][0] // 2)]
    return (before, after), y - np.interp(angle, angle[inside], (one, other))


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

    Source:
        own derivation: the cam turns at half the crank's speed.
    """
    return lift_table(np.radians(np.asarray(angles, dtype=np.float64)) / (2 if crank else 1), lifts, row_of)
