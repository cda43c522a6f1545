"""The dynamic run turned round: which seat load holds the lobe up to a wanted speed, the spring's waves and all."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass, replace

import numpy as np

from loadbench.analysis.motion.dynamics import SLOWEST, STEP
from loadbench.analysis.motion.result import Dynamic
from loadbench.analysis.motion.sensitivity import lowest_onset
from loadbench.arrays import Floats
from loadbench.errors import InputError
from loadbench.motion.sweep import Sweep, sweep

FINE = STEP / 4
"""Bands of lost contact are narrow: speeds are closer together than in the usual sweep."""

HOLDS = 1.0
"""Where no force is asked to be left, this much is, N: at zero the contact is lost."""

CLOSE = 5e-4
"""The load is found to this share of the open load."""

MOST = 6.0
"""No seat load above so many times the open load of now is looked for."""

LEAST_SLOPE = 0.2
"""What a newton of seat load leaves at least, N: a whole one while the least stays at its place."""

MOST_SWEEPS = 24


@dataclass(frozen=True, slots=True, kw_only=True)
class HeldByRun:
    """What holds the lobe at every speed up to the wanted one, the rate as it is. Loads N, speeds rad/s.

    `least_force` is what is left now, least of all at `weakest`; zero where contact is lost, from `weakest` on.
    `seat_load` and `open_load` do, and `needed_at` is the speed that needs them; all None where no seat load was found.
    """

    speed: float
    margin: float
    least_force: float
    weakest: float
    seat_load: float | None
    open_load: float | None
    needed_at: float | None
    seat_now: float
    open_now: float

    @property
    def held(self) -> bool:
        """Whether what is there does."""
        return self.least_force >= max(self.margin, HOLDS)


def for_ringing(run: HeldByRun, rigid_seat_load: float) -> bool:
    """Whether most of a load that is wanting is for surge and the linkage, where load is the wrong cure.

    Args:
        run: the dynamic run's answer.
        rigid_seat_load: what the force balance asks for at the same speed and margin, N.

    Returns:
        True where no load was found, or where it is more than now and over half of what is above the force balance's.
    """
    if run.held:
        return False
    if run.seat_load is None:
        return True
    more = run.seat_load - run.seat_now
    return more > 0 and run.seat_load - max(rigid_seat_load, run.seat_now) > more / 2


def speeds_up_to(speed: float) -> Floats:
    """Engine speeds from the slowest of a sweep to a wanted one, that one among them.

    Args:
        speed: rad/s, above zero.

    Returns:
        rad/s, rising.
    """
    below = np.arange(min(SLOWEST, speed), speed - FINE / 4, FINE)
    return np.concatenate([below, [speed]])


def held_by_run(
    dynamic: Dynamic,
    lift: float,
    speed: float,
    margin: float = 0.0,
    progress: Callable[[float], None] | None = None,
) -> HeldByRun:
    """The seat load that holds the lobe at every speed up to a wanted one, in the dynamic run.

    Args:
        dynamic: gear and lift.
        lift: net valve lift, m.
        speed: engine speed, rad/s.
        margin: force that must be left where contact is least, N at the valve.
        progress: told the share done, 0 to 1; may raise to stop the work.

    Returns:
        What is left now, and the load that does. While contact is held the gear is linear, and a seat load more leaves
        as much more force: so few sweeps find it.

    Raises:
        InputError: a speed not above zero, or a margin below it.

    Source:
        own derivation: the dynamic run, solved for the preload.
    """
    if not (math.isfinite(speed) and speed > 0):
        raise InputError(f"a wanted speed of {speed:g} rad/s", expected="more than zero")
    if not (math.isfinite(margin) and margin >= 0):
        raise InputError(f"a margin of {margin:g} N", expected="zero or more")
    wanted, search = max(margin, HOLDS), _Search(dynamic, speeds_up_to(speed), progress)
    gear = dynamic.gear
    open_now = gear.preload + gear.spring_rate * lift
    force, weakest = search.least(gear.preload)
    if force <= 0:
        # not the next of the speeds that were looked at but where it begins, as the bands tell it
        weakest = lowest_onset(dynamic, gear, dynamic.lift, search.speeds) or weakest
    found = search.needed(gear.preload, force, wanted, MOST * open_now, CLOSE * open_now)
    seat, at = (None, None) if found is None else found
    return HeldByRun(
        speed=speed, margin=margin, least_force=force, weakest=weakest, seat_load=seat,
        open_load=None if seat is None else seat + gear.spring_rate * lift, needed_at=at,
        seat_now=gear.preload, open_now=open_now,
    )  # fmt: skip


class _Search:
    def __init__(self, dynamic: Dynamic, speeds: Floats, progress: Callable[[float], None] | None) -> None:
        self.dynamic, self.speeds, self.progress = dynamic, speeds, progress
        self.sweeps, self.near = 0, None

    near: Sweep | None

    def least(self, preload: float) -> tuple[float, float]:
        """The least force over all speeds, N, and the speed where it is least; the slowest of several that lose it."""
        dynamic = self.dynamic

        def tell(share: float) -> None:
            if self.progress is not None:
                self.progress(min((self.sweeps + share) / (self.sweeps + 4), 1.0))

        found = sweep(
            replace(dynamic.gear, preload=preload), dynamic.lift, self.speeds, lash=dynamic.lash,
            window=dynamic.window, closing=dynamic.closing, start=self.near, progress=tell,
        )  # fmt: skip
        self.sweeps += 1
        # only what has settled may begin the next: a state of bouncing would bounce on
        self.near = found if found.periodic.all() and not found.lost.any() else self.near
        place = int(np.nanargmin(found.least_force))
        return float(found.least_force[place]), float(found.speeds[place])

    def needed(self, now: float, force: float, wanted: float, most: float, close: float) -> tuple[float, float] | None:
        """The least seat load that leaves the wanted force, and the speed that needs it; None above `most`."""
        aim, slope = wanted + close / 2, 1.0
        short, enough, at, before = 0.0, math.inf, 0.0, (now, 0.0)
        load, left = now, force
        while self.sweeps < MOST_SWEEPS:
            if left > 0 < before[1] and load != before[0]:
                slope = min(max((left - before[1]) / (load - before[0]), LEAST_SLOPE), 1.0)
            before = load, left
            if left >= wanted:
                enough = load
                if left - wanted <= close or enough - short <= close or enough == 0:
                    return enough, at or self.least(enough)[1]
            else:
                short = load
            # where contact is lost, how much is wanting is not known: by steps that grow
            unknown = max(0.1 * load, 0.02 * most) * 2.0 ** min(self.sweeps - 1, 3)
            load += (aim - left) / slope if left > 0 else unknown
            if load > most and math.isinf(enough):
                return None
            load = max(load, 0.0)
            if not short < load < enough and not (load == 0 == short):
                load = (short + enough) / 2
            left, at = self.least(load)
        return None if math.isinf(enough) else (enough, at)
