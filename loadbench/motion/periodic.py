"""The spring's waves under a lift that comes again each turn of the cam: the start of every dynamic run.

The modes are linear, so their answer to a prescribed lift is known at once, from the lift's own harmonics. A lightly
damped spring started from rest needs a dozen turns to come to it.
"""

from __future__ import annotations

import numpy as np

from loadbench.arrays import Floats
from loadbench.motion.gear import Gear

HARMONICS = 240
"""How many orders of the lift are taken."""


def waves_at(gear: Gear, lift: Floats, cam_speed: Floats, places: Floats) -> tuple[Floats, Floats]:
    """The modes' amplitudes and their speeds, at places of the turn, when the valve follows a lift.

    Args:
        gear: with a spring that surges.
        lift: of the valve over one turn, at even steps, m, shape (steps,).
        cam_speed: w, rad/s, shape (speeds,).
        places: where in the turn, as shares of it from the first point of `lift`, shape (places,).

    Returns:
        Amplitudes, m, and their speeds, m/s; each of shape (modes, speeds, places).

    Source:
        own derivation: q'' + 2 z w_n q' + w_n^2 q = -2 c_n x'' for each harmonic of x.
    """
    count = min(HARMONICS, (lift.size - 1) // 2)
    orders = np.arange(1.0, count + 1)
    amplitudes = 2 * np.fft.rfft(lift)[1 : count + 1] / lift.size
    turning = orders * cam_speed[:, None]
    own, shares = gear.mode_speeds[:, None, None], gear.shares[:, None, None]
    answer = 2 * shares * turning**2 / (own**2 - turning**2 + 2j * gear.modal_damping * own * turning)
    waves = np.exp(2j * np.pi * orders[:, None] * places)
    swinging = answer * amplitudes
    return (swinging @ waves).real, ((1j * turning * swinging) @ waves).real


def surge_load(gear: Gear, amplitudes: Floats) -> Floats:
    """Load that the waves put on the moving end beside the spring's own.

    Args:
        gear: with a spring that surges.
        amplitudes: of the modes, m, shape (modes, ...).

    Returns:
        S, N, of shape (...).

    Source:
        own derivation: S = -k sum n pi (-1)^(n+1) q_n, the stress at the end.
    """
    return np.asarray(np.tensordot(gear.end_loads, amplitudes, axes=1))
