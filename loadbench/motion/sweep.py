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
from loadbench.motion.follower_run import FollowerRun, Tip, follower_constants, follower_rate, tip_of
from loadbench.motion.gear import Gear
from loadbench.motion.lift import Lift
from loadbench.motion.run import SETTLED, Course, Run

if TYPE_CHECKING:
    from numpy.typing import NDArray

STEPS = 7200
"""Steps a turn of the cam: the loads of the check cases come out within 0.1 %."""

FINEST = 0.35
"""The stiffest spring of the gear may turn its circle by this angle in a step, rad; else steps are added."""

PHASE, RINGS_ON = 0.02, 8
"""What rings in linkage, seat or spring may be off by this phase once it has died away, rad; a spring's modes, of which
higher ones weigh less, are followed for so many turns at most."""

MAP_COLUMNS = 360

MOST_TURNS = 40
MOST_TURNS_WITH_OIL = 120
MOST_TURNS_OF_ALL = 200
"""A plunger that pumps up a little each turn takes so long to come to its stop."""

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
    last turns. Where the follower is a mass of its own, `force` and its extremes are the lobe's, and `tip` tells of the
    linkage between follower and valve.
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
    end: tuple[Floats, Floats]
    """State of valve and waves at the end of the last turn, from which a sweep of nearly the same gear may start."""
    tip: Tip | None = None

    @property
    def surging(self) -> bool:
        """Whether the springs' waves are in it; without them surge is not zero but not known."""
        return bool(self.end[1].shape[1] > 0)

    @property
    def lost(self) -> NDArray[np.bool_]:
        """At which speeds the lobe loses the follower within the window."""
        return np.asarray(self.least_force <= 0)


def steps_for(gear: Gear, slowest: float) -> int:
    """Steps a turn that are fine enough for the stiffest contact and the highest mode, and for what rings on.

    Args:
        gear: the gear.
        slowest: engine speed, rad/s.

    Returns:
        A whole number of times the usual steps.

    Source:
        own derivation: the leapfrog's frequency is off by (w h)^2/24, which adds up over the time that something rings.
    """
    turn, mass = 4 * math.pi / slowest, gear.moved_mass
    contact = math.sqrt((gear.stiffness + gear.seat_stiffness + gear.spring_rate) / mass)
    damped = max(gear.damping, gear.seat_damping) / mass
    own = float(gear.mode_speeds.max()) if gear.surging else 0.0
    fastest = max(contact, damped, own, follower_rate(gear))
    wanted = fastest * turn / FINEST
    for stiffness, damping in ((gear.stiffness, gear.damping), (gear.seat_stiffness, gear.seat_damping)):
        rings = min(turn, 2 * mass / damping) if damping > 0 else turn
        wanted = max(wanted, _for_ringing(math.sqrt(stiffness / mass), rings, turn, PHASE))
    for spring in gear.springs:
        for number, speed in enumerate(spring.speeds(gear.spring_rate).tolist(), 1):
            decay = gear.modal_damping * speed
            rings = min(RINGS_ON * turn, 1 / decay) if decay > 0 else RINGS_ON * turn
            wanted = max(wanted, _for_ringing(speed, rings, turn, PHASE * number))
    return STEPS * max(1, math.ceil(wanted / STEPS))


def _for_ringing(speed: float, rings: float, turn: float, phase: float) -> float:
    """Steps a turn with which something that rings for so long is off by no more than a phase at the end, rad."""
    return turn * speed * math.sqrt(speed * rings / (24 * phase))


def sweep(  # noqa: PLR0913 - each quantity by its name
    gear: Gear,
    lift: Lift,
    speeds: Real,
    *,
    lash: float = 0.0,
    window: float = WINDOW,
    closing: Callable[[Floats], Floats] | None = None,
    steps: int | None = None,
    turns: int | None = None,
    from_rest: bool = False,
    start: Sweep | None = None,
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
        turns: most turns of the cam that are followed; None: 40, with oil in the follower 120, up to 200 where the
            spring's waves die away slowly.
        from_rest: start with the spring at rest, and follow all `turns`.
        start: a sweep at the same speeds of nearly the same gear, to start from its end; dragging lives on this.
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
    near = start if start is not None and np.array_equal(start.speeds, at) else None
    kind = FollowerRun if gear.own_follower else Run
    if near is not None and (near.end[1].shape[1] != gear.mode_count or near.end[0].shape[0] != kind.states):
        near = None
    runs = [kind(gear, course, at[places], places, None if near is None else near.end) for places in _chunks(at)]
    most = turns or most_turns(gear, float(at.max()))
    done = [0]
    tell = progress or (lambda _share: None)

    def follow(run: Run) -> None:
        run.follow(most, from_rest=from_rest)
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


def most_turns(gear: Gear, fastest: float) -> int:
    """How many turns of the cam are followed: as many as a start takes to die away in the spring's lowest mode.

    Args:
        gear: the gear.
        fastest: engine speed, rad/s.

    Returns:
        Turns; more with oil in the follower.
    """
    most = MOST_TURNS if gear.oil_stiffness is None else MOST_TURNS_WITH_OIL
    if not gear.surging:
        return most
    a_turn = gear.modal_damping * float(gear.mode_speeds.min()) * 4 * math.pi / fastest
    return most if a_turn <= 0 else max(most, min(MOST_TURNS_OF_ALL, math.ceil(-math.log(SETTLED) / a_turn) + 10))


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
) -> Course:
    angles = angles_of(steps)
    number = gear.mode_speeds
    shares = gear.shares
    inside = np.flatnonzero(np.abs(angles) <= window * (1 + 1e-12))
    extra = np.zeros(steps) if closing is None else np.asarray(closing(angles), dtype=np.float64)
    # a follower of its own stays on the lobe while there is lash
    return Course(
        lift=np.asarray(lift(angles), dtype=np.float64) - (0.0 if gear.own_follower else lash),
        slope=np.asarray(lift(angles, 1), dtype=np.float64) * (2 * np.pi / steps),
        closing=gear.preload + extra,
        constants=np.array(
            [
                *gear.linkage,
                gear.spring_rate,
                gear.seat_stiffness,
                gear.seat_damping,
                1 / gear.moved_mass,
                *(follower_constants(gear, lash) if gear.own_follower else ()),
            ]
        ),
        modes=np.stack(
            [
                shares,
                number**2,
                2 * gear.modal_damping * number,
                gear.mode_pushes,
                gear.end_loads,
            ],
            axis=1,
        ),
        window=(int(inside[0]), int(inside[-1])) if inside.size else (0, -1),
        every=max(1, steps // MAP_COLUMNS),
        lash=lash if gear.own_follower else 0.0,
    )


def angles_of(steps: int) -> Floats:
    """The cam's angle from the nose at the end of every step of a turn, which begins opposite the nose, rad."""
    return np.asarray(-np.pi + 2 * np.pi * np.arange(1, steps + 1) / steps)


def _gathered(course: Course, speeds: Floats, runs: list[Run]) -> Sweep:
    kind = runs[0]
    noted = np.zeros((kind.noted_rows, speeds.size))
    turns, periodic = np.zeros(speeds.size, dtype=np.intp), np.zeros(speeds.size, dtype=np.bool_)
    angles = angles_of(course.lift.size)
    maps = np.zeros((kind.maps, speeds.size, course.lift.size // course.every))
    end = np.zeros((kind.states, speeds.size)), np.zeros((3, course.modes.shape[0], speeds.size))
    for run in runs:
        end[0][:, run.places], end[1][:, :, run.places] = run.valve, run.waves
        noted[:, run.places] = run.noted
        turns[run.places], periodic[run.places] = run.turns, run.periodic
        maps[:, run.places] = run.force.transpose(0, 2, 1)
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
        lift_loss=course.lift.max() - course.lash - noted[stepping.TOP],
        loft=noted[stepping.LOFT],
        bounce=noted[stepping.BOUNCE],
        turns=turns,
        periodic=periodic,
        angles=angles[:: course.every][: maps.shape[2]],
        force=maps[0],
        end=end,
        tip=tip_of(noted, angles, maps[1]) if kind.maps > 1 else None,
    )
