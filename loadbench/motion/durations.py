"""How long a lift stays open: duration at any lift, area under the curve, what lash takes, and two lobes side by side.

Angles are of the cam, rad; crank degrees are twice as many. A lift has one nose: it is open at a lift from the first
angle that passes it to the last.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import NamedTuple

import numpy as np

from loadbench.arrays import Floats, Real
from loadbench.motion.lift import Lift

SEARCHED = 7201
HALVINGS = 44
"""From the 0.05 deg between two angles down to the last digit."""


class OpenClose(NamedTuple):
    """Angles from the nose at which a lift opens and closes, rad, NaN where the lift is never reached."""

    opens: Floats
    closes: Floats


def _turn() -> Floats:
    return np.linspace(-math.pi, math.pi, SEARCHED)


def open_close(lift: Lift, at_lift: Real = 0.0) -> OpenClose:
    """Where a lift opens and closes.

    Args:
        lift: of valve or lobe.
        at_lift: m, any shape; zero for where it leaves its base circle.

    Returns:
        Both angles, of at_lift's shape.

    Source:
        own derivation: bracketed along the turn and halved.
    """
    wanted = np.asarray(at_lift, dtype=np.float64)
    turn = _turn()
    above = lift(turn) > wanted[..., None]
    reached = above.any(axis=-1)
    first = np.maximum(np.argmax(above, axis=-1), 1)
    last = np.minimum(SEARCHED - 1 - np.argmax(above[..., ::-1], axis=-1), SEARCHED - 2)
    opens = _crossing(lift, wanted, turn[first - 1], turn[first])
    closes = _crossing(lift, wanted, turn[last + 1], turn[last])
    return OpenClose(np.where(reached, opens, np.nan), np.where(reached, closes, np.nan))


def _crossing(lift: Lift, wanted: Floats, below: Floats, above: Floats) -> Floats:
    for _ in range(HALVINGS):
        middle = (below + above) / 2
        over = lift(middle) > wanted
        below, above = np.where(over, below, middle), np.where(over, middle, above)
    return np.asarray((below + above) / 2)


def duration(lift: Lift, at_lift: Real = 0.0) -> Floats:
    """How long a lift stays above a level.

    Args:
        lift: of valve or lobe.
        at_lift: m, any shape.

    Returns:
        rad of the cam, of at_lift's shape; zero where the lift is never reached.

    Source:
        own derivation: open_close().
    """
    opens, closes = open_close(lift, at_lift)
    return np.asarray(np.nan_to_num(closes - opens))


def area(lift: Lift, at_lift: Real = 0.0) -> Floats:
    """Area under the lift curve above a level.

    Args:
        lift: of valve or lobe.
        at_lift: m, any shape: the lash for a valve that hangs on a solid follower.

    Returns:
        m rad of the cam, of at_lift's shape.

    Source:
        own derivation: the trapezium rule over a whole turn, each 0.05 deg.
    """
    turn = _turn()
    over = np.maximum(lift(turn) - np.asarray(at_lift, dtype=np.float64)[..., None], 0.0)
    return np.asarray(np.trapezoid(over, turn, axis=-1))


def lash_effect(valve_lift: Lift, lash: Real, at_lift: Real = 0.0) -> Floats:
    """Duration that lash takes.

    Args:
        valve_lift: gross, at zero lash.
        lash: at the valve tip, m, any shape.
        at_lift: net valve lift at which the duration is counted, m.

    Returns:
        rad of the cam, of the broadcast shape: duration without lash less that with it.

    Source:
        own derivation: the lash is taken up before the valve moves.
    """
    level = np.asarray(at_lift, dtype=np.float64)
    return np.asarray(duration(valve_lift, level) - duration(valve_lift, level + lash))


class Compared(NamedTuple):
    """One line of a comparison: what it is, in which SI unit, for both lobes. `at_lift` m for a duration."""

    what: str
    unit: str
    one: float
    other: float
    at_lift: float | None = None


def compare(one: Lift, other: Lift, at_lifts: Sequence[float]) -> tuple[Compared, ...]:
    """Two lobes, or two valve lifts, side by side.

    Args:
        one: a lift.
        other: another.
        at_lifts: lifts at which durations are compared, m.

    Returns:
        Greatest lift, area, durations, and the extremes of speed, acceleration and jerk per radian.

    Source:
        own derivation.
    """
    first, second = _figures(one), _figures(other)
    rows = [Compared(what, unit, first[what, unit], second[what, unit]) for what, unit in first]
    levels = np.asarray(at_lifts, dtype=np.float64)
    durations = zip(levels.tolist(), duration(one, levels).tolist(), duration(other, levels).tolist(), strict=True)
    rows[2:2] = [Compared("duration", "rad", a, b, level) for level, a, b in durations]
    return tuple(rows)


def _figures(lift: Lift) -> dict[tuple[str, str], float]:
    speed, acceleration, jerk = (lift(_turn(), order) for order in (1, 2, 3))
    return {
        ("greatest lift", "m"): float(lift(_turn()).max()),
        ("area", "m*rad"): float(area(lift)),
        ("greatest speed", "m/rad"): float(np.abs(speed).max()),
        ("greatest acceleration", "m/rad^2"): float(acceleration.max()),
        ("least acceleration", "m/rad^2"): float(acceleration.min()),
        ("greatest jerk", "m/rad^3"): float(np.abs(jerk).max()),
    }
