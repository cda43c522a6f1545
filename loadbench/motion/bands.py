"""Bands of engine speed in which the lobe loses the follower, with their edges and what takes it away.

Surge takes contact away and gives it back, so there is no one speed at which it is lost.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass
from enum import StrEnum
from typing import TYPE_CHECKING

import numpy as np

from loadbench.arrays import Floats
from loadbench.motion.force_balance import Closing, separation_speed
from loadbench.motion.gear import Gear
from loadbench.motion.lift import Lift
from loadbench.motion.periodic import strongest_order
from loadbench.motion.sweep import Sweep

if TYPE_CHECKING:
    from numpy.typing import NDArray

EDGE = math.pi / 30
"""Edges are found to one turn of the engine a minute."""

INSIDE = 10 * math.pi / 30
"""The cause is looked for this far inside a band's edge."""


class Cause(StrEnum):
    """What takes the contact away; the value is the key by which it is told."""

    INERTIA = "inertia"
    """The moving mass wants more than the spring's load, were the linkage rigid."""
    LINKAGE = "linkage"
    """The linkage rings, though a rigid one would hold."""
    SURGE = "surge"
    """The spring's own waves, though a spring without them would hold."""


@dataclass(frozen=True, slots=True, kw_only=True)
class LossBand:
    """Engine speeds, rad/s, from which to which contact is lost; None where the range looked at ends first.

    `order` of the cam and `mode` of the `spring` (its name in a set of several, else "") tell which swing is strongest
    at the onset where surge is the cause.
    """

    low: float
    high: float | None
    cause: Cause
    begins_below: bool = False
    order: int | None = None
    mode: int | None = None
    spring: str = ""


Again = Callable[[Gear, Floats], Sweep]
"""Sweeps another gear or other speeds with everything else the same."""

Lost = Callable[[Sweep], "NDArray[np.bool_]"]
"""At which speeds of a sweep contact is lost."""


def loss_bands(  # noqa: PLR0913 - each quantity by its name
    gear: Gear,
    lift: Lift,
    found: Sweep,
    again: Again,
    *,
    lash: float,
    window: float,
    closing: Closing | None = None,
    at_tip: bool = False,
) -> tuple[LossBand, ...]:
    """The bands of lost contact in a sweep.

    Args:
        gear: what was swept.
        lift: with this lift.
        found: the sweep, its speeds rising.
        again: sweeps with the same lift, lash and window.
        lash: at the valve, m.
        window: in which the least force counts, rad.
        closing: what closed the valve besides the spring in that sweep.
        at_tip: where the linkage goes slack, in a gear whose follower is a mass of its own; else where the lobe does.

    Returns:
        The bands, rising; empty where contact is held throughout. A band narrower than the speeds' step may be missed.

    Source:
        own derivation: edges by halving between neighbouring speeds; causes by leaving out the waves, then the linkage.
    """
    lost_in = _slack if at_tip else _off_lobe
    lost = lost_in(found)
    if not lost.any():
        return ()
    changes = np.flatnonzero(lost[1:] != lost[:-1])
    edges = _edges(gear, found, changes, again, lost_in)
    starts = [float(edge) for edge, at in zip(edges, changes, strict=True) if not lost[at]]
    ends: list[float | None] = [float(edge) for edge, at in zip(edges, changes, strict=True) if lost[at]]
    if lost[0]:
        starts.insert(0, float(found.speeds[0]))
    if lost[-1]:
        ends.append(None)
    spring = (gear.preload, gear.spring_rate)
    mass = gear.valve_mass if at_tip else gear.referred_mass
    apart = separation_speed(lift, mass, spring, lash=lash, closing=closing, window=window)
    rigid = float(apart.speed)
    held = _held_without_waves(gear, starts, ends, again, lost_in)
    return tuple(
        _band(gear, lift, (low, high, held_so), rigid, lash, begins_below=bool(lost[0]) and number == 0)
        for number, (low, high, held_so) in enumerate(zip(starts, ends, held, strict=True))
    )


def _off_lobe(found: Sweep) -> NDArray[np.bool_]:
    return found.lost


def _slack(found: Sweep) -> NDArray[np.bool_]:
    return found.lost if found.tip is None else found.tip.lost


def _edges(gear: Gear, found: Sweep, changes: np.ndarray, again: Again, lost_in: Lost) -> Floats:
    """Each change between two neighbouring speeds, narrowed by halving, rad/s."""
    below, above = found.speeds[changes].copy(), found.speeds[changes + 1].copy()
    state = lost_in(found)[changes]
    while changes.size and float((above - below).max()) > EDGE:
        middle = (below + above) / 2
        same = lost_in(again(gear, middle)) == state
        below, above = np.where(same, middle, below), np.where(same, above, middle)
    return np.asarray((below + above) / 2)


def _held_without_waves(
    gear: Gear, starts: list[float], ends: list[float | None], again: Again, lost_in: Lost
) -> list[bool]:
    if not gear.surging:
        return [False] * len(starts)
    plain = gear.as_rate()
    inside = [
        low + min(INSIDE, math.inf if high is None else (high - low) / 2)
        for low, high in zip(starts, ends, strict=True)
    ]
    return [not lost for lost in lost_in(again(plain, np.asarray(inside)))]


def _band(
    gear: Gear, lift: Lift, found: tuple[float, float | None, bool], rigid: float, lash: float, *, begins_below: bool
) -> LossBand:
    low, high, held = found
    if low >= rigid * (1 - 1e-3):
        return LossBand(low=low, high=high, cause=Cause.INERTIA, begins_below=begins_below)
    if not held:
        return LossBand(low=low, high=high, cause=Cause.LINKAGE, begins_below=begins_below)
    order, mode, spring = strongest_order(gear, lift, lash, low / 2)
    return LossBand(
        low=low, high=high, cause=Cause.SURGE, begins_below=begins_below, order=order, mode=mode, spring=spring
    )  # fmt: skip
