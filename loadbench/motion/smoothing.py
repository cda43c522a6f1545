"""A measured lift made smooth enough to differentiate: a cubic spline whose stiffness cross-validation chooses.

The spline s minimises sum (lift - s)^2 + penalty x integral s''^2, angles in rad. What it leaves of each reading is
kept and shown; readings that stand out, and places where the lobe itself has a kink, are named.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING, NamedTuple

import numpy as np

from loadbench.arrays import Floats, Indices, Real
from loadbench.errors import InputError
from loadbench.motion.penalty import cross_validated, spline_values

if TYPE_CHECKING:
    from scipy.interpolate import PPoly

FEWEST = 20
BASE_SHARE = 0.01
"""Smoothed lift under this share of the greatest counts as base circle when the ends are brought to zero."""
STILL = (1.5, 2e-4)
"""Smoothed lift counts as none up to this many deviations of the residuals, or this share of the greatest lift."""
FEWEST_BASE = 10
LEAST_BASE = math.radians(10.0)
"""Readings, and cam angle, of base circle in which a curve comes to rest; a table with less is led on by as much."""
SEEN_SLOPE = 6
"""Readings by which the slope at a table's end is told."""
LONGEST_RUN_OUT = math.radians(25.0)
"""Cam angle in which a lift that a table breaks off comes to zero at the most, common practice."""
OUTLIER = 4.0
"""Residual, over the readings' own spread, from which a row is named."""
BEND = 4.0
"""Step of the acceleration between two readings, over those around it, from which a row is named."""
LEAST_BEND = 0.12
"""And over the whole range of the acceleration."""
AROUND = 6
SEEN = 1e-4
"""Residual over the greatest lift under which nothing is named: 1 um of 10 mm."""
OFF_BASE = 0.002
MARGIN = 3


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class SmoothLift:
    """A Lift from readings: zero, at rest, at both ends of its span and outside it.

    `angles` rad and `lifts` m are the readings, `residuals` m reading less spline, all of shape (readings,); `rms` m is
    the residuals' root mean square; `kinks` are places in the table, counted from 0, where a residual stands out or the
    acceleration jumps; `penalty` rad3. `run_outs` rad is how far before and after the table a lift that is not zero
    there was led on to zero.
    """

    angles: Floats
    lifts: Floats
    residuals: Floats
    penalty: float
    kinks: tuple[int, ...]
    curve: PPoly
    run_outs: tuple[float, float] = (0.0, 0.0)

    @property
    def rms(self) -> float:
        """Root mean square of the residuals, m."""
        return float(np.sqrt(np.mean(self.residuals**2)))

    @property
    def span(self) -> tuple[float, float]:
        """First and last angle of the curve, rad: of the table, or further where it was led on to its base circle."""
        return float(self.curve.x[0]), float(self.curve.x[-1])

    def __call__(self, angle: Real, derivative: int = 0) -> Floats:
        """As in Lift; the third derivative is constant between two readings."""
        if not 0 <= derivative <= 3:
            raise InputError(f"derivative {derivative} of a smoothed lift", expected="0 to 3")
        place = np.asarray(angle, dtype=np.float64)
        first, last = self.span
        inside = (place >= first) & (place <= last)
        return np.where(inside, self.curve(np.clip(place, first, last), derivative), 0.0)


def smooth(angles: Floats, lifts: Floats, penalty: float | None = None) -> SmoothLift:
    """A lift curve through readings.

    Args:
        angles: of the cam from the nose, rad, rising, within -pi to pi, shape (readings,).
        lifts: m, base circle at both ends, of the same shape.
        penalty: of the spline's bending, zero or more; by generalised cross-validation where none is given.

    Returns:
        The curve with its residuals and kinks.

    Raises:
        InputError: fewer than twenty readings, angles that do not rise, readings that are not numbers, a penalty below
            zero.

    Source:
        reinsch, kim-gu for the spline and its penalty; own derivation for the ends and the kinks.
    """
    x, y = np.asarray(angles, dtype=np.float64), np.asarray(lifts, dtype=np.float64)
    _check(x, y, penalty)
    used = cross_validated(x, y) if penalty is None else penalty
    led = _led_on(x, y, used)
    curve = _through(led.x, _ends_at_zero(led.x, spline_values(led.x, led.y, used), led.still))
    residuals = y - np.asarray(curve(x))
    kinks = _kinks(x, residuals, curve, _lifted(y))
    return SmoothLift(
        angles=x, lifts=y, residuals=residuals, penalty=used, kinks=kinks, curve=curve, run_outs=led.run_outs
    )


def _check(x: Floats, y: Floats, penalty: float | None) -> None:
    if x.ndim != 1 or x.shape != y.shape or x.size < FEWEST:
        raise InputError("a lift table to be smoothed", expected=f"a lift for each angle, {FEWEST} or more")
    if not (np.isfinite(x).all() and np.isfinite(y).all()):
        raise InputError("a lift table with rows that are not numbers", expected="numbers")
    if np.any(np.diff(x) <= 0):
        raise InputError("a lift table whose angles do not rise", expected="each angle after the last")
    if penalty is not None and not (np.isfinite(penalty) and penalty >= 0):
        raise InputError(f"a smoothing penalty of {penalty:g}", expected="zero or more")


def _lifted(y: Floats) -> slice:
    """The readings of the lift with a few of the base circle: exact zeros there would pass for a quiet instrument."""
    off = np.flatnonzero(np.abs(y) > OFF_BASE * np.abs(y).max())
    if off.size == 0:
        return slice(None)
    first, last = max(int(off[0]) - MARGIN, 0), min(int(off[-1]) + MARGIN + 1, y.size)
    return slice(first, last) if last - first >= FEWEST else slice(None)


class _Led(NamedTuple):
    """Readings with what leads on from them at both ends, how far each ran out, and what counts as no lift."""

    x: Floats
    y: Floats
    run_outs: tuple[float, float]
    still: float


def _led_on(x: Floats, y: Floats, penalty: float) -> _Led:
    """The readings, led on along the base circle where a table begins or ends too near the lift to show it.

    Without that a curve brought to zero at the last reading would have to bend there as no lobe does.
    """
    fitted = spline_values(x, y, penalty)
    spread = float(np.sqrt(np.mean((y - fitted) ** 2)))
    still = max(STILL[0] * spread, STILL[1] * float(fitted.max()))
    step = float(np.median(np.diff(x)))
    ends: list[tuple[Floats, Floats, float]] = []
    for out, lifts in ((x, fitted), (-x[::-1], fitted[::-1])):
        lifted = np.flatnonzero(np.abs(lifts) > still)
        shown = float(out[lifted[0]] - out[0]) if lifted.size else math.inf
        wanted = max(LEAST_BASE, FEWEST_BASE * step)
        if shown >= wanted:
            ends.append((np.empty(0), np.empty(0), 0.0))
            continue
        run_out = float(_run_out(out, lifts)) if abs(lifts[0]) > still else 0.0
        room = max(out[0] + math.pi, 0.0)
        past = np.arange(1, int(min(run_out + wanted, room) / step + 1e-6) + 1, dtype=np.float64) * step
        left = np.clip(1 - past / run_out, 0.0, None) if run_out else np.zeros_like(past)
        ends.append((past, np.asarray(lifts[0] * left**3), min(run_out, float(past[-1])) if past.size else 0.0))
    (before, rising, first), (after, falling, last) = ends
    return _Led(
        np.concatenate(((x[0] - before)[::-1], x, x[-1] + after)),
        np.concatenate((rising[::-1], y, falling)),
        (first, last),
        still,
    )


def _run_out(x: Floats, lifts: Floats) -> float:
    """Angle in which a lift that a table breaks off comes to zero as a cube, with its own slope, rad."""
    near = np.polynomial.Polynomial.fit(x[:SEEN_SLOPE] - x[0], lifts[:SEEN_SLOPE], 2)
    slope = float(near.deriv()(0.0))
    if lifts[0] * slope <= 0:
        return LONGEST_RUN_OUT
    return float(np.clip(3 * lifts[0] / slope, x[1] - x[0], LONGEST_RUN_OUT))


def _ends_at_zero(x: Floats, fitted: Floats, still: float) -> Floats:
    """The spline's values with its ends brought to zero along the base circle, gently."""
    brought = fitted.copy()
    base = max(2 * still, BASE_SHARE * float(fitted.max()))
    for out, values in zip((x - x[0], x[-1] - x[::-1]), (brought, brought[::-1]), strict=True):
        lifted = np.flatnonzero(np.abs(values) > base)
        room = float(out[lifted[0]]) if lifted.size else math.inf
        # The last readings lie at rest, so that no bend is left at the end itself.
        share = np.clip((out - out[2]) / max(min(LEAST_BASE, room) - out[2], out[2]), 0.0, 1.0)
        values[:] = values * share**2 * (3 - 2 * share)
        values[0] = 0.0
    return brought


def _through(x: Floats, values: Floats) -> PPoly:
    from scipy.interpolate import CubicSpline

    return CubicSpline(x, values, bc_type="clamped")


def _kinks(x: Floats, residuals: Floats, curve: PPoly, lifted: slice) -> tuple[int, ...]:
    # Standard deviation of what is left, hardly touched by the outliers it is to find.
    spread = 1.4826 * float(np.median(np.abs(residuals[lifted])))
    outliers = np.abs(residuals) > max(OUTLIER * spread, SEEN * float(np.max(curve(x))))
    return tuple(np.flatnonzero(outliers | _bends(x, curve)).tolist())


def _bends(x: Floats, curve: PPoly) -> np.ndarray[tuple[int], np.dtype[np.bool_]]:
    """Readings before which the acceleration changes far more than around them."""
    bend = np.asarray(curve(x, 2))
    change = np.abs(np.diff(bend, prepend=bend[0]))
    padded = np.pad(change, AROUND, mode="reflect")
    around = np.lib.stride_tricks.sliding_window_view(padded, 2 * AROUND + 1)
    usual = np.median(around, axis=1)
    return np.asarray((change > BEND * usual) & (change > LEAST_BEND * np.ptp(bend)) & (change == around.max(axis=1)))


def rows_of(kinks: tuple[int, ...], rows: Indices) -> tuple[int, ...]:
    """Kinks by the row each reading was read from.

    Args:
        kinks: places in the smoothed table.
        rows: row of each reading, shape (readings,).

    Returns:
        The rows.
    """
    return tuple(int(rows[place]) for place in kinks)
