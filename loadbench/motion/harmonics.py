"""What a lift curve holds of each order of the cam: the harmonics that can set a spring swinging.

The lift is taken as its table stands, in straight lines from point to point and zero outside, over one turn of the cam.
"""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from loadbench.arrays import Floats, Indices
from loadbench.errors import InputError

TURN_SLACK = 1e-9


def harmonics(angles: Floats, lift: Floats, orders: Sequence[int] | Indices) -> Floats:
    """Amplitude of each order in a lift curve.

    Straight lines between the points take from order k of a smooth curve about the share (k x spacing)^2/12: 1 % of
    order 20 in a table of whole degrees.

    Args:
        angles: of the cam, rad, rising, not over more than one turn, shape (points,).
        lift: at these angles, m, shape (..., points).
        orders: whole numbers from zero, shape (orders,).

    Returns:
        Amplitudes, m, shape (..., orders): half of what the order swings from peak to peak; order zero: the mean lift.

    Raises:
        InputError: fewer than two points, angles that do not rise or that pass a turn, an order below zero.

    Source:
        own derivation: Fourier series of a broken line, exact. Twice integrated by parts, only the changes of slope at
        the points and the steps at the two ends are left.
    """
    theta, y = np.asarray(angles, dtype=np.float64), np.asarray(lift, dtype=np.float64)
    k = np.asarray(orders, dtype=np.float64)
    if theta.ndim != 1 or theta.size < 2 or not np.all(np.diff(theta) > 0):
        raise InputError("a lift table whose angles do not rise", expected="two points or more, each after the last")
    if theta[-1] - theta[0] > 2 * np.pi * (1 + TURN_SLACK):
        raise InputError("a lift table longer than one turn of the cam", expected="angles of the cam within one turn")
    if np.any(k < 0):
        raise InputError("an order below zero", expected="whole numbers from zero")
    slopes = np.diff(y) / np.diff(theta)
    still = np.zeros((*y.shape[:-1], 1))
    bends = np.diff(slopes, axis=-1, prepend=still, append=still)
    turning = np.exp(-1j * np.outer(theta, k))
    mean = np.asarray(np.trapezoid(y, theta))[..., None] / (2 * np.pi)
    order = np.where(k > 0, k, 1.0)
    steps = 1j * order * (y[..., :1] * turning[0] - y[..., -1:] * turning[-1])
    amplitude = np.abs(bends @ turning + steps) / (np.pi * order**2)
    return np.where(k > 0, amplitude, mean)
