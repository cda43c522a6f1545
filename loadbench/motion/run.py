"""Speeds that are stepped together, turn after turn until each turn of the cam is like the one before."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from loadbench.arrays import Floats, Indices
from loadbench.motion import stepping
from loadbench.motion.compiled import compiled
from loadbench.motion.gear import Gear
from loadbench.motion.periodic import surge_load, waves_at

if TYPE_CHECKING:
    from numpy.typing import NDArray

ENVELOPE_TURNS = 8
"""A speed that has not settled after the first is told by the extremes of its last few turns."""

SETTLED = 2e-4
"""A turn is like the one before when forces differ by no more than this share of the peak."""


SURGE_SETTLED = 1e-3
"""And the surge load no more than this share of itself, or the other where that is less."""


@dataclass(frozen=True, slots=True, eq=False)
class Course:
    """What is the same at all speeds: the lift at the end of every step, and the loop's constants.

    `lash` is what the valve's lift is less still: none where the lift is already without it.
    """

    lift: Floats
    slope: Floats
    closing: Floats
    constants: Floats
    modes: Floats
    window: tuple[int, int]
    every: int
    lash: float = 0.0


Extreme = tuple[int, int | None, bool]
"""A row of what is noted, the row of its place, and whether the greatest counts or the least."""


class Run:
    """Speeds that are stepped together."""

    states, noted_rows, maps = 4, stepping.NOTED, 1
    like_forces: tuple[int, ...] = (stepping.PEAK, stepping.LEAST, stepping.SURGE)
    extremes: tuple[Extreme, ...] = (
        (stepping.PEAK, stepping.PEAK_AT, True),
        (stepping.LEAST, stepping.LEAST_AT, False),
        (stepping.TOP, None, True),
        (stepping.SEATING, None, False),
        (stepping.SURGE, None, True),
        (stepping.DEEPEST, None, False),
        (stepping.LOFT, None, True),
        (stepping.BOUNCE, None, True),
        (stepping.SLACKEST, None, False),
    )

    def __init__(
        self, gear: Gear, course: Course, speeds: Floats, places: Indices, near: tuple[Floats, Floats] | None
    ) -> None:
        self.gear, self.course, self.speeds, self.places = gear, course, speeds, places
        self.noted = np.zeros((self.noted_rows, speeds.size))
        self.turns = np.zeros(speeds.size, dtype=np.intp)
        self.periodic = np.zeros(speeds.size, dtype=np.bool_)
        self.force = np.zeros((self.maps, course.lift.size // course.every, speeds.size))
        self.near = None if near is None else (near[0][:, places].copy(), near[1][:, :, places].copy())
        self.valve = np.zeros((self.states, speeds.size))
        self.waves = np.zeros((3, gear.mode_count, speeds.size))

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
            self.valve[:, left], self.waves[:, :, left] = valve, waves
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
        if self.near is not None and not from_rest:
            valve, waves = self.near
            return valve, waves
        valve = np.zeros((self.states, step.size))
        valve[stepping.X] = -course.closing[-1] / (gear.seat_stiffness + gear.spring_rate)
        waves = np.zeros((3, gear.mode_count, step.size))
        if gear.surging and not from_rest:
            # steps end at the points of the lift, so the turn begins where its last point is
            lift = np.maximum(np.roll(course.lift, 1) - course.lash, 0.0)
            amplitude, speed = waves_at(gear, lift, self.speeds / 2, np.zeros(1))
            own = gear.mode_speeds[:, None]
            waves[stepping.Q] = amplitude[..., 0]
            waves[stepping.R] = 2 * gear.modal_damping * own * speed[..., 0] + own**2 * amplitude[..., 0]
            waves[stepping.P] = speed[..., 0] + 0.5 * step * waves[stepping.R]
        return valve, waves

    def _turn(self, step: Floats, valve: Floats, waves: Floats) -> tuple[Floats, Floats]:
        course = self.course
        noted, force = self._blank(step)
        compiled(stepping.turn)(
            course.lift, course.slope, course.closing, step, course.constants, course.modes,
            valve, waves, noted, course.window, force[0], course.every,
        )  # fmt: skip
        return noted, force

    def _blank(self, step: Floats) -> tuple[Floats, Floats]:
        rows = self.course.lift.size // self.course.every
        return np.zeros((self.noted_rows, step.size)), np.zeros((self.maps, rows, step.size))

    def _end_load(self, waves: Floats) -> Floats:
        """What tells the waves of one turn's end from another's: load and its speed, in newtons, shape (2, speeds)."""
        own = np.maximum(self.gear.mode_speeds[:, None], 1.0)
        return np.stack([surge_load(self.gear, waves[stepping.Q]), surge_load(self.gear, waves[stepping.P] / own)])

    def _alike(self, before: Floats | None, noted: Floats, surged: Floats, now: Floats) -> NDArray[np.bool_]:
        """Which speeds' last turn was like the one before, in what was noted and in the waves at its end."""
        if before is None:
            return np.zeros(noted.shape[1], dtype=np.bool_)
        force = SETTLED * np.maximum(noted[stepping.PEAK], 1.0)
        # a small surge of a spring with hardly any damping is still growing when the peak no longer feels it
        small = np.minimum(force, SURGE_SETTLED * np.maximum(noted[stepping.SURGE], 1.0))
        like = np.all(np.abs(now - surged) <= force, axis=0)
        like &= np.abs(noted[stepping.SURGE] - before[stepping.SURGE]) <= small
        for row in self.like_forces:
            like &= np.abs(noted[row] - before[row]) <= force
        like &= np.abs(noted[stepping.TOP] - before[stepping.TOP]) <= SETTLED * np.abs(noted[stepping.TOP])
        return np.asarray(like)

    def _keep(self, left: Indices, noted: Floats, force: Floats, number: int, *, widen: NDArray[np.bool_]) -> None:
        """Take a turn's values, or what goes beyond those of the turns before where they are to be widened."""
        self.turns[left] = number
        self.force[:, :, left] = force
        held = np.where(widen, self.noted[:, left], noted)
        for value, at, more in self.extremes:
            newer = noted[value] > held[value] if more else noted[value] < held[value]
            held[value] = np.where(newer, noted[value], held[value])
            if at is not None:
                held[at] = np.where(newer, noted[at], held[at])
        self.noted[:, left] = held
