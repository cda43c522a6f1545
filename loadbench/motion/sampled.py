"""A lift through exact points, such as those of a law worked out elsewhere; a measured table is smoothed instead."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from loadbench.arrays import Floats, Real
from loadbench.errors import InputError

if TYPE_CHECKING:
    from scipy.interpolate import CubicSpline

FEWEST = 20
TURN = 2 * math.pi


@dataclass(frozen=True, slots=True, eq=False)
class SampledLift:
    """A cubic spline through the points; zero beyond them."""

    spline: CubicSpline
    first: float
    last: float

    def __call__(self, angle: Real, derivative: int = 0) -> Floats:
        """The lift or one of its derivatives, m per rad to that power; the third has steps."""
        at = np.asarray(angle, dtype=np.float64)
        inside = (at >= self.first) & (at <= self.last)
        return np.where(inside, self.spline(np.clip(at, self.first, self.last), derivative), 0.0)


def sampled_lift(angles: Floats, lifts: Floats) -> SampledLift:
    """A lift through points that have no noise.

    Args:
        angles: of the cam from the nose, rad, rising, at most one turn, shape (points,).
        lifts: m, likewise; over a whole turn the last is the first again, else both ends are zero.

    Returns:
        What `sweep` and all else take as a lift.

    Raises:
        InputError: shapes that differ, fewer than 20 points, no finite number, angles that do not rise, more than a
            turn, or ends that do not meet.

    Source:
        own derivation: a cubic spline, level at both ends or periodic.
    """
    from scipy.interpolate import CubicSpline

    x, y = np.asarray(angles, dtype=np.float64), np.asarray(lifts, dtype=np.float64)
    if x.ndim != 1 or x.shape != y.shape:
        raise InputError(f"angles of shape {x.shape} and lifts of shape {y.shape}", expected="two rows alike")
    if x.size < FEWEST:
        raise InputError(f"a lift of {x.size} points", expected=f"{FEWEST} or more")
    if not (np.isfinite(x).all() and np.isfinite(y).all()):
        raise InputError("a point of the lift is no finite number", expected="numbers")
    if np.any(np.diff(x) <= 0):
        row = int(np.argmax(np.diff(x) <= 0)) + 1
        raise InputError(f"the angle of point {row + 1} does not rise", expected="angles that rise")
    if x[-1] - x[0] > TURN * (1 + 1e-9) or x[0] < -math.pi * (1 + 1e-9) or x[-1] > math.pi * (1 + 1e-9):
        raise InputError("the lift is not within one turn", expected="angles from -pi to pi, rad")
    whole = x[-1] - x[0] > TURN * (1 - 1e-9)
    close = 1e-9 * float(np.abs(y).max())
    if whole and abs(y[-1] - y[0]) > close:
        raise InputError("the lift does not come back to where it began", expected="the first lift again at the end")
    if not whole and max(abs(y[0]), abs(y[-1])) > close:
        raise InputError("the lift is not zero at its ends", expected="points from zero to zero, or a whole turn")
    if whole:
        y = np.concatenate([y[:-1], y[:1]])
    return SampledLift(CubicSpline(x, y, bc_type="periodic" if whole else "clamped"), float(x[0]), float(x[-1]))
