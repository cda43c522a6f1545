"""The dynamics of a valve gear at many speeds, each followed until one turn of the cam is like the one before.

x      valve lift (m), x < 0 is seat compression       w = pi N / 60   cam speed for engine speed N in rpm
y      lift of the lobe at the valve less lash
F      = max(0, K (y - x) + C (y' - x')) while y > x, else 0
G      = max(0, -K_s x - C_s x') while x < 0, else 0
q_n'' + 2 z w_n q_n' + w_n^2 q_n = -2 c_n x''
(m + m_s/3) x'' + m_s sum(c_n q_n'') = F + G - S0 - k x
S      = -k sum(n pi (-1)^(n+1) q_n), the load at the spring's moving end beside S0 + k x
"""

from __future__ import annotations

import math
import os
from collections.abc import Callable
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from loadbench.arrays import Floats, Indices, Real
from loadbench.errors import InputError
from loadbench.motion import stepping
from loadbench.motion.compiled import compiled
from loadbench.motion.gear import Gear
from loadbench.motion.lift import Lift
from loadbench.motion.periodic import surge_load, waves_at

if TYPE_CHECKING:
    from numpy.typing import NDArray

STEPS = 7200
"""Steps a turn of the cam: the loads of the check cases come out within 0.1 %."""

FINEST = 0.35
"""The stiffest spring of the gear may turn its circle by this angle in a step, rad; else steps are added."""

MAP_COLUMNS = 360

MOST_TURNS = 40
ENVELOPE_TURNS = 8
"""A speed that has not settled after the first is told by the extremes of its last few turns."""

SETTLED = 2e-4
"""A turn is like the one before when forces differ by no more than this share of the peak."""

CHUNK = 24
"""Speeds that are stepped together: fewer leave vector units idle, more leave a core idle."""

WINDOW = math.radians(50)


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Sweep:
    """What was found at each speed; all arrays have shape (speeds,) but `force`.

    `speeds` are the engine's, rad/s; angles are of the cam from its nose, rad. `force` is the contact force of the last
    turn at `angles`, N, shape (speeds, angles). `open_load_loss` is what the waves take most from the spring's load
    within the window; `lift_loss` is the lobe's greatest lift at the valve, less lash, less the valve's; `loft` how far
    the valve flies above the lobe within the window; `bounce` how high it rises again once it has landed. `periodic` is
    False where the motion never came again within the turns that were followed: then the values are the extremes of the
    last turns.
    """

    speeds: Floats
    peak_force: Floats
    peak_angle: Floats
    least_force: Floats
    least_angle: Floats
    greatest_lift: Floats
    seating_speed: Floats
    seat_depth: Floats
    surge_load: Floats
    open_load_loss: Floats
    lift_loss: Floats
    loft: Floats
    bounce: Floats
    turns: Indices
    periodic: NDArray[np.bool_]
    angles: Floats
    force: Floats

    @property
    def lost(self) -> NDArray[np.bool_]:
        """At which speeds the lobe loses the follower within the window."""
        return np.asarray(self.least_force <= 0)


@dataclass(frozen=True, slots=True, eq=False)
class _Course:
    """What is the same at all speeds: the lift at the end of every step, and the loop's constants."""

    lift: Floats
    slope: Floats
    closing: Floats
    constants: Floats
    modes: Floats
    window: tuple[int, int]
    every: int


def steps_for(gear: Gear, slowest: float) -> int:
    """Steps a turn that are fine enough for the stiffest contact and the highest mode.

    Args:
        gear: the gear.
        slowest: engine speed, rad/s.

    Returns:
        A whole number of times the usual steps.

    Source:
        own derivation: the leapfrog's error grows with (w h)^2/24.
    """
    contact = math.sqrt((gear.stiffness + gear.seat_stiffness + gear.spring_rate) / gear.moved_mass)
    damped = max(gear.damping, gear.seat_damping) / gear.moved_mass
    own = gear.mode_speeds
    fastest = max(contact, damped, float(own[-1]) if gear.surging else 0.0)
    wanted = fastest * 2 * math.pi / (slowest / 2) / FINEST
    return STEPS * max(1, math.ceil(wanted / STEPS))


def sweep(  # noqa: PLR0913 - each quantity by its name
    gear: Gear,
    lift: Lift,
    speeds: Real,
    *,
    lash: float = 0.0,
    window: float = WINDOW,
    closing: Callable[[Floats], Floats] | None = None,
    steps: int | None = None,
    turns: int = MOST_TURNS,
    from_rest: bool = False,
    progress: Callable[[float], None] | None = None,
) -> Sweep:
    """Peak and least force, greatest lift, seating speed and surge load of a valve gear at each speed.

    Args:
        gear: masses, stiffnesses, spring.
        lift: of the lobe at the valve, m, before lash.
        speeds: of the engine, rad/s, shape (speeds,).
        lash: at the valve, m.
        window: the least force counts this far from the nose, rad.
        closing: load that closes the valve besides the spring, against the angle, N; may be below zero.
        steps: a turn; None takes as many as the stiffest contact wants.
        turns: most turns of the cam that are followed.
        from_rest: start with the spring at rest, and follow all `turns`.
        progress: told the share done, 0 to 1; may raise to stop the work.

    Returns:
        What was found.

    Raises:
        InputError: a speed not above zero, or no speed.

    Source:
        own derivation: equations as above; check values of two-contact valve dynamics.
    """
    at = np.atleast_1d(np.asarray(speeds, dtype=np.float64))
    if not at.size or not np.all(at > 0) or not np.all(np.isfinite(at)):
        raise InputError("no speed to follow", expected="speeds above zero")
    course = _course(gear, lift, lash, window, closing, steps or steps_for(gear, float(at.min())))
    runs = [_Run(gear, course, at[places], places) for places in _chunks(at)]
    done = [0]
    tell = progress or (lambda _share: None)

    def follow(run: _Run) -> None:
        run.follow(turns, from_rest=from_rest)
        done[0] += 1
        tell(done[0] / len(runs))

    workers = min(len(runs), os.cpu_count() or 1)
    if workers == 1:
        for run in runs:
            follow(run)
    else:
        with ThreadPoolExecutor(workers) as pool:
            list(pool.map(follow, runs))
    return _gathered(course, at, runs)


def _chunks(speeds: Floats) -> list[Indices]:
    """Places of the speeds that go together; every so-manyth, since neighbours settle alike."""
    count = max(min(os.cpu_count() or 1, math.ceil(speeds.size / 8)), math.ceil(speeds.size / (2 * CHUNK)))
    return [np.arange(first, speeds.size, count) for first in range(count)]


def _course(
    gear: Gear,
    lift: Lift,
    lash: float,
    window: float,
    closing: Callable[[Floats], Floats] | None,
    steps: int,
) -> _Course:
    angles = angles_of(steps)
    number = gear.mode_speeds
    shares = gear.shares
    inside = np.flatnonzero(np.abs(angles) <= window * (1 + 1e-12))
    extra = np.zeros(steps) if closing is None else np.asarray(closing(angles), dtype=np.float64)
    return _Course(
        lift=np.asarray(lift(angles), dtype=np.float64) - lash,
        slope=np.asarray(lift(angles, 1), dtype=np.float64) * (2 * np.pi / steps),
        closing=gear.preload + extra,
        constants=np.array(
            [
                gear.stiffness,
                gear.damping,
                gear.spring_rate,
                gear.seat_stiffness,
                gear.seat_damping,
                1 / gear.moved_mass,
            ]
        ),
        modes=np.stack(
            [
                shares,
                number**2,
                2 * gear.modal_damping * number,
                gear.surging_mass * shares,
                gear.end_loads,
            ],
            axis=1,
        ),
        window=(int(inside[0]), int(inside[-1])) if inside.size else (0, -1),
        every=max(1, steps // MAP_COLUMNS),
    )


def angles_of(steps: int) -> Floats:
    """The cam's angle from the nose at the end of every step of a turn, which begins opposite the nose, rad."""
    return np.asarray(-np.pi + 2 * np.pi * np.arange(1, steps + 1) / steps)


class _Run:
    """Speeds that are stepped together."""

    def __init__(self, gear: Gear, course: _Course, speeds: Floats, places: Indices) -> None:
        self.gear, self.course, self.speeds, self.places = gear, course, speeds, places
        self.noted = np.zeros((stepping.NOTED, speeds.size))
        self.turns = np.zeros(speeds.size, dtype=np.intp)
        self.periodic = np.zeros(speeds.size, dtype=np.bool_)
        self.force = np.zeros((course.lift.size // course.every, speeds.size))

    def follow(self, turns: int, *, from_rest: bool) -> None:
        """Turn after turn; speeds that have settled are left behind."""
        step = 4 * np.pi / (self.speeds * self.course.lift.size)
        valve, waves = self._start(step, from_rest=from_rest)
        left = np.arange(self.speeds.size)
        before: Floats | None = None
        surged = self._end_load(waves)
        for number in range(1, turns + 1):
            noted, force = self._turn(step, valve, waves)
            now = self._end_load(waves)
            like = self._alike(before, noted, surged, now)
            late = number > turns - ENVELOPE_TURNS + 1 and not from_rest
            self._keep(left, noted, force, number, widen=~like & late)
            self.periodic[left] = like
            before, surged = noted, now
            if from_rest:
                continue
            going = ~like
            if not going.any():
                return
            if not going.all():
                left, step, before, surged = left[going], step[going], before[:, going], surged[:, going]
                valve, waves = valve[:, going].copy(), waves[:, :, going].copy()

    def _start(self, step: Floats, *, from_rest: bool) -> tuple[Floats, Floats]:
        gear, course = self.gear, self.course
        valve = np.zeros((4, step.size))
        valve[stepping.X] = -course.closing[-1] / (gear.seat_stiffness + gear.spring_rate)
        waves = np.zeros((3, gear.numbers.size, step.size))
        if gear.surging and not from_rest:
            # steps end at the points of the lift, so the turn begins where its last point is
            lift = np.maximum(np.roll(course.lift, 1), 0.0)
            amplitude, speed = waves_at(gear, lift, self.speeds / 2, np.zeros(1))
            own = gear.mode_speeds[:, None]
            waves[stepping.Q] = amplitude[..., 0]
            waves[stepping.R] = 2 * gear.modal_damping * own * speed[..., 0] + own**2 * amplitude[..., 0]
            waves[stepping.P] = speed[..., 0] + 0.5 * step * waves[stepping.R]
        return valve, waves

    def _turn(self, step: Floats, valve: Floats, waves: Floats) -> tuple[Floats, Floats]:
        course = self.course
        noted = np.zeros((stepping.NOTED, step.size))
        force = np.zeros((course.lift.size // course.every, step.size))
        compiled(stepping.turn)(
            course.lift, course.slope, course.closing, step, course.constants, course.modes,
            valve, waves, noted, course.window, force, course.every,
        )  # fmt: skip
        return noted, force

    def _end_load(self, waves: Floats) -> Floats:
        """What tells the waves of one turn's end from another's: load and its speed, in newtons, shape (2, speeds)."""
        own = np.maximum(self.gear.mode_speeds[:, None], 1.0)
        return np.stack([surge_load(self.gear, waves[stepping.Q]), surge_load(self.gear, waves[stepping.P] / own)])

    def _alike(self, before: Floats | None, noted: Floats, surged: Floats, now: Floats) -> NDArray[np.bool_]:
        """Which speeds' last turn was like the one before, in what was noted and in the waves at its end."""
        if before is None:
            return np.zeros(noted.shape[1], dtype=np.bool_)
        force = SETTLED * np.maximum(noted[stepping.PEAK], 1.0)
        rows = (stepping.PEAK, stepping.LEAST, stepping.SURGE)
        like = np.all(np.abs(now - surged) <= force, axis=0)
        for row in rows:
            like &= np.abs(noted[row] - before[row]) <= force
        like &= np.abs(noted[stepping.TOP] - before[stepping.TOP]) <= SETTLED * np.abs(noted[stepping.TOP])
        return np.asarray(like)

    def _keep(self, left: Indices, noted: Floats, force: Floats, number: int, *, widen: NDArray[np.bool_]) -> None:
        """Take a turn's values, or what goes beyond those of the turns before where they are to be widened."""
        self.turns[left] = number
        self.force[:, left] = force
        held = np.where(widen, self.noted[:, left], noted)
        for value, at, more in (
            (stepping.PEAK, stepping.PEAK_AT, True),
            (stepping.LEAST, stepping.LEAST_AT, False),
            (stepping.TOP, None, True),
            (stepping.SEATING, None, False),
            (stepping.SURGE, None, True),
            (stepping.DEEPEST, None, False),
            (stepping.LOFT, None, True),
            (stepping.BOUNCE, None, True),
            (stepping.SLACKEST, None, False),
        ):
            newer = noted[value] > held[value] if more else noted[value] < held[value]
            held[value] = np.where(newer, noted[value], held[value])
            if at is not None:
                held[at] = np.where(newer, noted[at], held[at])
        self.noted[:, left] = held


def _gathered(course: _Course, speeds: Floats, runs: list[_Run]) -> Sweep:
    noted = np.zeros((stepping.NOTED, speeds.size))
    turns, periodic = np.zeros(speeds.size, dtype=np.intp), np.zeros(speeds.size, dtype=np.bool_)
    angles = angles_of(course.lift.size)
    force = np.zeros((speeds.size, course.lift.size // course.every))
    for run in runs:
        noted[:, run.places] = run.noted
        turns[run.places], periodic[run.places] = run.turns, run.periodic
        force[run.places] = run.force.T
    return Sweep(
        speeds=speeds,
        peak_force=noted[stepping.PEAK],
        peak_angle=angles[noted[stepping.PEAK_AT].astype(np.intp)],
        least_force=np.where(noted[stepping.LEAST] > 1e299, np.nan, noted[stepping.LEAST]),
        least_angle=angles[noted[stepping.LEAST_AT].astype(np.intp)],
        greatest_lift=noted[stepping.TOP],
        seating_speed=noted[stepping.SEATING],
        seat_depth=np.maximum(-noted[stepping.DEEPEST], 0.0),
        surge_load=noted[stepping.SURGE],
        open_load_loss=np.where(noted[stepping.SLACKEST] < 0, -noted[stepping.SLACKEST], 0.0),
        lift_loss=course.lift.max() - noted[stepping.TOP],
        loft=noted[stepping.LOFT],
        bounce=noted[stepping.BOUNCE],
        turns=turns,
        periodic=periodic,
        angles=angles[:: course.every][: force.shape[1]],
        force=force,
    )
