"""Speeds that are stepped together with the follower as a mass of its own, and what is found at its linkage."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np
from typing_extensions import override

from loadbench.arrays import Floats
from loadbench.motion import stepping, three_contacts
from loadbench.motion.compiled import compiled
from loadbench.motion.gear import Gear
from loadbench.motion.run import SETTLED, Extreme, Run

if TYPE_CHECKING:
    from numpy.typing import NDArray


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Tip:
    """What was found between follower and valve at each speed; shapes (speeds,) but `force`.

    `force` is the linkage's at the sweep's angles, N, at the valve, shape (speeds, angles). `held_open` is the least
    lift of the valve where it never came to its seat. The plunger's places are beyond where it was set, m: below zero
    it has sunk, above it has pumped up.
    """

    peak_force: Floats
    peak_angle: Floats
    least_force: Floats
    least_angle: Floats
    force: Floats
    held_open: Floats
    plunger_low: Floats
    plunger_high: Floats

    @property
    def lost(self) -> NDArray[np.bool_]:
        """At which speeds the linkage goes slack within the window."""
        return np.asarray(self.least_force <= 0)


def tip_of(noted: Floats, angles: Floats, force: Floats) -> Tip:
    """What was noted of the linkage.

    Args:
        noted: rows of `three_contacts`, shape (17, speeds).
        angles: of the steps, rad, shape (steps,).
        force: at the map's angles, N, shape (speeds, map's angles).

    Returns:
        The same by name.
    """
    least = noted[three_contacts.TIP_LEAST]
    return Tip(
        peak_force=noted[three_contacts.TIP_PEAK],
        peak_angle=angles[noted[three_contacts.TIP_PEAK_AT].astype(np.intp)],
        least_force=np.where(least > 1e299, np.nan, least),
        least_angle=angles[noted[three_contacts.TIP_LEAST_AT].astype(np.intp)],
        force=force,
        held_open=np.maximum(noted[stepping.DEEPEST], 0.0),
        plunger_low=noted[three_contacts.PLUNGER_LOW],
        plunger_high=noted[three_contacts.PLUNGER_HIGH],
    )


def follower_constants(gear: Gear, lash: float) -> tuple[float, ...]:
    """What the second loop wants beside the first one's constants.

    Args:
        gear: with a follower of its own mass.
        lash: at the valve, m.

    Returns:
        In the order of `three_contacts`.
    """
    deep, out = (gear.travel - gear.depth, gear.depth) if gear.oil_stiffness is not None else (0.0, 0.0)
    return (
        lash, 1 / gear.follower_mass, gear.lobe_stiffness, gear.lobe_damping, gear.hold, gear.friction,
        gear.leak, gear.refill, -deep, out,
    )  # fmt: skip


def follower_rate(gear: Gear) -> float:
    """How fast a follower of its own mass swings between lobe and linkage, rad/s; 0 without one."""
    if not gear.own_follower:
        return 0.0
    stiffness, damping = gear.linkage
    swing = math.sqrt((gear.lobe_stiffness + stiffness) / gear.follower_mass)
    return max(swing, (gear.lobe_damping + damping) / gear.follower_mass)


class FollowerRun(Run):
    """The same with the second loop."""

    states, noted_rows, maps = three_contacts.STATES, three_contacts.NOTED, 2
    like_forces = (*Run.like_forces, three_contacts.TIP_PEAK, three_contacts.TIP_LEAST)
    extremes: tuple[Extreme, ...] = (
        *Run.extremes,
        (three_contacts.TIP_PEAK, three_contacts.TIP_PEAK_AT, True),
        (three_contacts.TIP_LEAST, three_contacts.TIP_LEAST_AT, False),
        (three_contacts.PLUNGER_LOW, None, False),
        (three_contacts.PLUNGER_HIGH, None, True),
    )

    @override
    def _start(self, step: Floats, *, from_rest: bool) -> tuple[Floats, Floats]:
        state, waves = super()._start(step, from_rest=from_rest)
        if self.near is not None and not from_rest:
            # what was pumped up in another gear would want thousands of turns to leak down
            state[three_contacts.E] = np.minimum(state[three_contacts.E], 0.0)
            return state, waves
        gear, constants = self.gear, self.course.constants
        state[three_contacts.Z] = -gear.hold / gear.lobe_stiffness
        slack = state[stepping.X] + constants[three_contacts.LASH] - state[three_contacts.Z]
        low, high = constants[three_contacts.LOWEST], constants[three_contacts.HIGHEST]
        state[three_contacts.E] = np.clip(slack, low, high) if gear.leak > 0 or gear.refill > 0 else 0.0
        return state, waves

    @override
    def _turn(self, step: Floats, valve: Floats, waves: Floats) -> tuple[Floats, Floats]:
        course = self.course
        noted, force = self._blank(step)
        compiled(three_contacts.turn)(
            course.lift, course.slope, course.closing, step, course.constants, course.modes,
            valve, waves, noted, course.window, force[0], force[1], course.every,
        )  # fmt: skip
        return noted, force

    @override
    def _alike(self, before: Floats | None, noted: Floats, surged: Floats, now: Floats) -> NDArray[np.bool_]:
        like = super()._alike(before, noted, surged, now)
        if before is None:
            return like
        stiffness = self.gear.linkage[0]
        force = SETTLED * np.maximum(noted[stepping.PEAK], 1.0)
        for row in (three_contacts.PLUNGER_LOW, three_contacts.PLUNGER_HIGH):
            like &= stiffness * np.abs(noted[row] - before[row]) <= force
        return np.asarray(like)
