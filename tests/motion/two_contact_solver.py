"""A second solver of the two-contact equations, written from their text alone: classic fourth-order steps from rest."""

from __future__ import annotations

import functools
import math
from collections.abc import Callable
from typing import Any

import numpy as np

from loadbench.arrays import Floats
from loadbench.motion.gear import Gear
from loadbench.motion.lift import Lift

PEAK, LEAST, TOP, SEATING, SURGE = range(5)


def _rates(state: Floats, out: Floats, y: float, speed: float, plain: Floats, modes: Floats) -> float:
    """x', x'', q', q'' of a state; returns the contact force."""
    K, C, S0, k, Ks, Cs, mass = plain[0], plain[1], plain[2], plain[3], plain[4], plain[5], plain[6]
    x, v, count = state[0], state[1], modes.shape[0]
    F = max(0.0, K * (y - x) + C * (speed - v)) if y > x else 0.0
    G = max(0.0, -Ks * x - Cs * v) if x < 0 else 0.0
    net = F + G - S0 - k * x
    for n in range(count):
        c, w, z, ms = modes[n, 0], modes[n, 1], modes[n, 2], modes[n, 3]
        net += ms * c * (2 * z * w * state[2 + count + n] + w * w * state[2 + n])
    a = net / mass
    out[0], out[1] = v, a
    for n in range(count):
        c, w, z = modes[n, 0], modes[n, 1], modes[n, 2]
        out[2 + n] = state[2 + count + n]
        out[2 + count + n] = -2 * c * a - 2 * z * w * state[2 + count + n] - w * w * state[2 + n]
    return F


def _loop(rates: Callable[..., float]) -> Callable[..., None]:
    def loop(  # noqa: PLR0917 - arrays of a compiled loop
        lift: Floats, speed: Floats, dt: float, turns: int, plain: Floats, modes: Floats, inside: Floats, noted: Floats
    ) -> None:
        count, size = modes.shape[0], 2 + 2 * modes.shape[0]
        state, k1, k2, k3, k4 = np.zeros(size), np.zeros(size), np.zeros(size), np.zeros(size), np.zeros(size)
        state[0] = -plain[2] / plain[4]
        for turn in range(turns):
            row = noted[turn]
            row[0], row[1], row[2], row[3], row[4] = 0.0, np.inf, -np.inf, 0.0, 0.0
            for i in range(inside.size):
                j = 2 * i
                rates(state, k1, lift[j], speed[j], plain, modes)
                rates(state + dt / 2 * k1, k2, lift[j + 1], speed[j + 1], plain, modes)
                rates(state + dt / 2 * k2, k3, lift[j + 1], speed[j + 1], plain, modes)
                rates(state + dt * k3, k4, lift[j + 2], speed[j + 2], plain, modes)
                x0, v0 = state[0], state[1]
                state += dt / 6 * (k1 + 2 * k2 + 2 * k3 + k4)
                F = rates(state, k1, lift[j + 2], speed[j + 2], plain, modes)
                row[0] = max(row[0], F)
                if inside[i] > 0:
                    row[1] = min(row[1], F)
                if state[0] > row[2]:
                    row[2], row[3] = state[0], 0.0
                if x0 > 0 and state[0] <= 0 and row[3] == 0.0:
                    row[3] = v0 + x0 / (x0 - state[0]) * (state[1] - v0)
                S = 0.0
                for n in range(count):
                    S -= modes[n, 1] ** 2 * modes[n, 3] * modes[n, 0] * state[2 + n]
                row[4] = max(row[4], abs(S))

    return loop


@functools.cache
def _compiled() -> Callable[..., None]:
    import numba

    jit: Any = numba.njit(nogil=True)
    done: Callable[..., None] = jit(_loop(jit(_rates)))
    return done


def solved(
    gear: Gear, lift: Lift, rpm: float, *, lash: float, window: float, steps: int = 72_000, turns: int = 15
) -> Floats:
    """What each turn from rest gives.

    Args:
        gear: with a uniform spring or with a rate alone.
        lift: of the lobe at the valve, m, before lash.
        rpm: of the engine.
        lash: m.
        window: in which the least force counts, rad.
        steps: a turn of the cam.
        turns: of the cam.

    Returns:
        Peak and least force, N, greatest lift, m, seating speed, m/s, surge load, N; shape (turns, 5).
    """
    cam = math.pi * rpm / 60
    at = -math.pi + math.pi * np.arange(2 * steps + 1) / steps
    n = np.arange(1.0, gear.modes + 1) if gear.surging_mass else np.zeros(0)
    c = (-1.0) ** (n + 1) / (n * math.pi) if n.size else n
    w = n * math.pi * math.sqrt(gear.spring_rate / gear.surging_mass) if n.size else n
    modes = np.stack([c, w, np.full(n.shape, gear.modal_damping), np.full(n.shape, gear.surging_mass)], axis=1)
    mass = gear.mass + gear.surging_mass / 3 - 2 * gear.surging_mass * float(c @ c)
    plain = np.array(
        [gear.stiffness, gear.damping, gear.preload, gear.spring_rate, gear.seat_stiffness, gear.seat_damping, mass]
    )
    inside = (np.abs(at[2::2]) <= window * (1 + 1e-12)).astype(float)
    noted = np.zeros((turns, 5))
    _compiled()(
        np.asarray(lift(at)) - lash, cam * np.asarray(lift(at, 1)), 2 * math.pi / (cam * steps), turns, plain, modes,
        inside, noted,
    )  # fmt: skip
    return noted
