"""The spring's waves under a lift that comes again each turn of the cam: the start of every dynamic run.

The modes are linear, so their answer to a prescribed lift is known at once, from the lift's own harmonics. A lightly
damped spring started from rest needs a dozen turns to come to it.
"""

from __future__ import annotations

import numpy as np

from loadbench.arrays import Floats
from loadbench.motion.gear import Gear
from loadbench.motion.lift import Lift

HARMONICS = 120
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


def strongest_order(gear: Gear, lift: Lift, lash: float, cam_speed: float) -> tuple[int, int, str]:
    """Which order of the cam swings which mode of the spring most.

    Args:
        gear: with a spring that surges.
        lift: of the lobe at the valve, m.
        lash: at the valve, m.
        cam_speed: w, rad/s.

    Returns:
        The order and the mode, both from 1, whose end load is the greatest of all, and the name of the mode's spring;
        orders far below a spring's first mode only carry its coils along and are left out.

    Source:
        own derivation: the modes' answer to each harmonic of the lift.
    """
    steps = 1440
    angles = -np.pi + 2 * np.pi * np.arange(steps) / steps
    held = np.maximum(np.asarray(lift(angles), dtype=np.float64) - lash, 0.0)
    orders = np.arange(1.0, HARMONICS + 1)
    amplitudes = 2 * np.fft.rfft(held)[1 : HARMONICS + 1] / steps
    turning, own = orders * cam_speed, gear.mode_speeds[:, None]
    answer = 2 * gear.shares[:, None] * turning**2 / (own**2 - turning**2 + 2j * gear.modal_damping * own * turning)
    swings = np.abs(gear.end_loads[:, None] * answer * amplitudes)
    counts = [len(each.shape.numbers) for each in gear.springs]
    starts = np.concatenate([[0], np.cumsum(counts)[:-1]])
    lowest = np.repeat([own[start, 0] for start in starts], counts)
    swings[turning < 0.5 * lowest[:, None]] = 0.0
    place, order = np.unravel_index(int(np.argmax(swings)), swings.shape)
    spring = int(np.searchsorted(starts, place, side="right")) - 1
    return int(order) + 1, int(place - starts[spring]) + 1, gear.springs[spring].name
