"""A measured lift made smooth enough to differentiate: a cubic spline whose stiffness cross-validation chooses.

The spline s minimises sum (lift - s)^2 + penalty x integral s''^2, angles in rad. What it leaves of each reading is
kept and shown; readings that stand out, and places where the lobe itself has a kink, are named.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from loadbench.arrays import Floats, Indices, Real
from loadbench.errors import InputError
from loadbench.motion.penalty import cross_validated, spline_values

if TYPE_CHECKING:
    from scipy.interpolate import PPoly

FEWEST = 20
BASE_SHARE = 0.002
"""Smoothed lift under this share of the greatest counts as base circle when the ends are brought to zero."""
MOST_BASE = 10
"""Readings at each end that are brought to zero at the most."""
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
    """A Lift from readings: zero, at rest, at both ends of the table and outside it.

    `angles` rad and `lifts` m are the readings, `residuals` m reading less spline, all of shape (readings,); `rms` m is
    the residuals' root mean square; `kinks` are places in the table, counted from 0, where a residual stands out or the
    acceleration jumps; `penalty` rad3.
    """

    angles: Floats
    lifts: Floats
    residuals: Floats
    penalty: float
    kinks: tuple[int, ...]
    curve: PPoly

    @property
    def rms(self) -> float:
        """Root mean square of the residuals, m."""
        return float(np.sqrt(np.mean(self.residuals**2)))

    @property
    def span(self) -> tuple[float, float]:
        """First and last angle of the table, rad."""
        return float(self.angles[0]), float(self.angles[-1])

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
    curve = _through(x, _ends_at_zero(spline_values(x, y, used)))
    residuals = y - np.asarray(curve(x))
    kinks = _kinks(x, residuals, curve, _lifted(y))
    return SmoothLift(angles=x, lifts=y, residuals=residuals, penalty=used, kinks=kinks, curve=curve)


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


def _ends_at_zero(fitted: Floats) -> Floats:
    """The spline's values with its ends brought to zero along the base circle, gently where there is room for it."""
    brought = fitted.copy()
    for values in (brought, brought[::-1]):
        base = np.abs(values[: MOST_BASE + 1]) < BASE_SHARE * fitted.max()
        count = int(np.argmin(base)) if not base.all() else MOST_BASE
        share = np.clip((np.arange(count) - 2) / max(count - 2, 1), 0.0, 1.0)
        values[:count] *= share**2 * (3 - 2 * share)
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
