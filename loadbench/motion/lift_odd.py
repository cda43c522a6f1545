"""What stands out in a lift table: its noise, spikes, holes, a second lobe, and a base circle that does not read zero.

Here angles x, rad of the cam, rise from row to row and lifts y are in m, both of shape (readings,); `limit`, m, is how
far from zero a base circle may be read. Places count from 0.
"""

from __future__ import annotations

import numpy as np

from loadbench.arrays import Floats

BASE_SHARE = 0.01
"""How far from zero a base circle may be read, over the greatest lift, common practice."""
MOST_BASE_SHARE = 0.025
"""And how far where the readings are noisy."""
NOISES = 4.0
"""Deviations of the noise by which a reading of the base circle may be off."""
LOW_SHARE = 0.05
ENOUGH = 8
CUBIC = 1.394
"""Deviation of a reading from its four neighbours' cubic over the noise of each, in equal steps: sqrt(35/18)."""
SPIKE_SHARE = 0.004
SPIKE = 8.0
"""A spike is further off its four neighbours' curve than this many times what is usual in the table."""
STEP_SHARE = 0.3
HOLE = 2.5
"""A step over the longer of those beside it from which rows are missing there."""
LEAST_HOLE = np.radians(2.0)
"""Cam angle that a smoothing spline bridges without harm, common practice."""
OMITTED = 1.8
RISE_SHARE = 0.05
"""What a lift may rise again on its way down, over the greatest: noise does less, common practice."""
FLAT = 4
"""Fewest readings that show a base circle."""
ZERO_SHARE = 5e-4
"""Reading of the base circle over the greatest lift that is left as it is."""


def off_neighbours(x: Floats, y: Floats) -> Floats:
    """How far each reading but two at each end is off the cubic through its four neighbours, m."""
    at = x[2:-2]
    beside = [(x[k : x.size - 4 + k], y[k : y.size - 4 + k]) for k in (0, 1, 3, 4)]
    foretold = np.zeros_like(at)
    for number, (one, lift) in enumerate(beside):
        others = [other for place, (other, _) in enumerate(beside) if place != number]
        share = np.prod([(at - other) / (one - other) for other in others], axis=0)
        foretold += share * lift
    return np.asarray(y[2:-2] - foretold)


def noise(x: Floats, y: Floats) -> float:
    """Deviation of the readings on and near the base circle, m; zero where there are too few of them."""
    off = np.abs(off_neighbours(x, y)[y[2:-2] < LOW_SHARE * y.max()])
    return 1.4826 * float(np.median(off)) / CUBIC if off.size >= ENOUGH else 0.0


def base_limit(x: Floats, y: Floats) -> float:
    """How far from zero the base circle of a table may be read, m."""
    greatest = float(y.max())
    return float(np.clip(NOISES * noise(x, y), BASE_SHARE * greatest, MOST_BASE_SHARE * greatest))


def spikes(x: Floats, y: Floats, limit: float, *, turn: float | None) -> list[tuple[int, float]]:
    """Readings that stand off their neighbours.

    Args:
        x: angles.
        y: lifts.
        limit: of the base circle.
        turn: length of the turn where the first reading follows on the last one, rad; None for a table with ends.

    Returns:
        Place of each and how far it stands off, m.

    Source:
        own derivation.
    """
    if turn is not None:
        x, y = np.concatenate((x[-2:] - turn, x, x[:2] + turn)), np.concatenate((y[-2:], y, y[:2]))
    off = np.abs(off_neighbours(x, y))
    lifted = y[2:-2] > BASE_SHARE * y.max()
    usual = 1.4826 * float(np.median(off[lifted])) if lifted.any() else 0.0
    # A coarse table shows a law whose acceleration steps as a slight spike; the bends around say how slight.
    bends = np.abs(np.diff(y, 2))[1:-1]
    bent = STEP_SHARE * float(np.quantile(bends[lifted], 0.9)) if lifted.any() else 0.0
    padded = np.pad(off, 2, mode="constant" if turn is None else "wrap")
    # A spike throws its neighbours off too, by two thirds of itself: the worst of five is the one.
    worst = np.lib.stride_tricks.sliding_window_view(padded, 5).max(axis=1)
    least = max(SPIKE * usual, SPIKE_SHARE * float(y.max()), bent)
    found = np.flatnonzero((off > least) & (off == worst))
    if turn is not None:
        return [(int(place), float(off[place])) for place in found]
    ends = [(place, _off_line(x, y, place)) for place in (1, y.size - 2)]
    # the ends' neighbours are thrown off by a spike there
    odd = [(place, far) for place, far in ends if far > max(limit, least)]
    inner = [(int(place) + 2, float(off[place])) for place in found]
    return sorted(odd + [each for each in inner if all(abs(each[0] - place) > 2 for place, _ in odd)])


def _off_line(x: Floats, y: Floats, place: int) -> float:
    """How far a reading is off the line between its neighbours, less what they differ by."""
    before, after = y[place - 1], y[place + 1]
    share = (x[place] - x[place - 1]) / (x[place + 1] - x[place - 1])
    return float(abs(y[place] - before - share * (after - before)) - abs(after - before))


def holes(x: Floats, y: Floats, *, longer_than: float = HOLE, least: float = LEAST_HOLE) -> list[int]:
    """Readings before which rows are missing: a step amid the lift that is far longer than both beside it.

    Args:
        x: angles.
        y: lifts.
        longer_than: times the longer one of the steps beside it.
        least: rad.

    Returns:
        Places. A table may go from fine to coarse; nothing is said of the base circle, which needs few readings.

    Source:
        common practice.
    """
    steps = np.diff(x)
    beside = np.maximum(steps[:-2], steps[2:])
    lifted = np.maximum(y[1:-2], y[2:-1]) > BASE_SHARE * y.max()
    found = np.flatnonzero((steps[1:-1] > longer_than * beside) & (steps[1:-1] > least) & lifted)
    return (found + 2).tolist()


def omitted(x: Floats, y: Floats) -> list[int]:
    """Readings before which a row or two seem to be left out of a table in equal steps; places."""
    steps = np.diff(x)
    usual = float(np.median(steps))
    alike = np.abs(steps - usual) < 0.02 * usual
    if alike.mean() < 0.9:
        return []
    told = set(holes(x, y))
    return [place for place in holes(x, y, longer_than=OMITTED, least=0.0) if place not in told]


def half_width(x: Floats, y: Floats) -> float:
    """Angle for which a table stands above half its greatest lift, rad; a turn may begin anywhere."""
    above = y > float(y.max()) / 2
    return float(np.diff(x)[above[:-1] & above[1:]].sum())


def calmed(y: Floats) -> Floats:
    """Of each reading and its neighbours the middle one, m: a reading that stands out alone is a spike, told as one."""
    return np.asarray(np.median(np.lib.stride_tricks.sliding_window_view(np.pad(y, 1, mode="edge"), 3), axis=1))


def second_lobe(y: Floats, limit: float) -> tuple[int, float] | None:
    """Where a lift rises again after its nose or before it: the place of the other top, and the rise to it, m.

    Args:
        y: lifts, the lobe in one piece.
        limit: of the base circle.

    Returns:
        None for a table of one lobe.

    Source:
        common practice.
    """
    calm = calmed(y)
    top = int(np.argmax(calm))
    least, found = max(RISE_SHARE * float(calm[top]), 2 * limit), None
    for places in (np.arange(top, -1, -1), np.arange(top, y.size)):
        rise = calm[places] - np.minimum.accumulate(calm[places])
        worst = int(np.argmax(rise))
        if rise[worst] > max(least, 0.0 if found is None else found[1]):
            found = int(places[worst]), float(rise[worst])
    return found


def flat_base(y: Floats, limit: float, sigma: float) -> tuple[int, float] | None:
    """The base circle at the beginning of a table: how many readings show it, and their mean, m.

    Args:
        y: lifts from the end inwards.
        limit: of the base circle.
        sigma: deviation of the noise.

    Returns:
        None where the table begins on a ramp, or too late to tell.

    Source:
        own derivation: the outer half of the readings within the limit, if its own halves agree.
    """
    off = np.abs(y) > limit
    count = (int(np.argmax(off)) if off.any() else y.size) // 2
    if count < FLAT:
        return None
    outer, inner = float(y[: count // 2].mean()), float(y[count // 2 : count].mean())
    if abs(outer - inner) > max(3 * sigma * (2 / (count // 2)) ** 0.5, ZERO_SHARE * float(y.max())):
        return None
    return count, float(y[:count].mean())
