"""The equations of lobe, follower, plunger, valve and seat through a general solver: slow, and written apart.

The oil and the linkage stand here one behind the other, with a place between them that has no mass, and the damper's
friction is a steep smooth curve of the speed; the compiled loop does neither.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from loadbench.arrays import Floats
from loadbench.motion.gear import Gear
from loadbench.motion.lift import Lift

SOFT = 2e-4
"""Speed over which the friction turns round, m/s."""


@dataclass(frozen=True, slots=True)
class Found:
    """Of the last turn: peaks, N; greatest lift, m; lowest place of the plunger, m; leasts within the window, N."""

    lobe_peak: float
    tip_peak: float
    lobe_least: float
    tip_least: float
    lift: float
    plunger: float


def general_follower(gear: Gear, lift: Lift, speed: float, lash: float, turns: int, window: float) -> Found:
    """Follow a gear whose spring has no waves, at one engine speed, rad/s."""
    from scipy.integrate import solve_ivp

    w, turn, oil = speed / 2, 4 * math.pi / speed, gear.oil_stiffness
    rest = -gear.preload / (gear.seat_stiffness + gear.spring_rate), -gear.hold / gear.lobe_stiffness

    def forces(t: float, y: Floats) -> tuple[float, float]:
        x, v, z, u, e, squeezed = y
        angle = (t * w) % (2 * math.pi) - math.pi
        gap, bend = float(lift(angle)) - z, z + e - lash - x
        pressed = gear.lobe_stiffness * gap + gear.lobe_damping * (w * float(lift(angle, 1)) - u)
        through = gear.stiffness * bend + gear.damping * (u - v) if oil is None else oil * squeezed
        return max(0.0, pressed) if gap > 0 else 0.0, max(0.0, through) if bend > 0 else 0.0

    def change(t: float, y: Floats) -> list[float]:
        x, v, z, u, e, squeezed = y
        lobe, tip = forces(t, y)
        seat = max(0.0, -gear.seat_stiffness * x - gear.seat_damping * v) if x < 0 else 0.0
        rub = gear.friction * math.tanh(v / SOFT)
        bend = z + e - lash - x
        fill = min(gear.refill, -bend * 1e5) if bend < 0 else 0.0
        sinking = fill - gear.leak * tip
        rates = [
            v, (tip + seat - gear.preload - gear.spring_rate * x - rub) / gear.mass,
            u, (lobe - tip - gear.hold) / gear.follower_mass, sinking,
        ]  # fmt: skip
        if oil is None:
            return [*rates, 0.0]
        # oil and linkage carry the same force: what one gives less, the other gives more
        linkage = (oil * squeezed - gear.stiffness * (bend - squeezed)) / gear.damping
        return [*rates, u + sinking - v - linkage if bend > 0 else -squeezed * 1e5]

    start = rest[0] - rest[1] if gear.refill > 0 else 0.0
    found = solve_ivp(
        change, (0.0, turns * turn), [rest[0], 0.0, rest[1], 0.0, start, 0.0], method="LSODA", rtol=1e-6, atol=1e-9,
        max_step=turn / 720,
    )  # fmt: skip
    last = found.t > (turns - 1) * turn
    each = np.array([forces(t, y) for t, y in zip(found.t[last], found.y[:, last].T, strict=True)])
    inside = np.abs((found.t[last] * w) % (2 * math.pi) - math.pi) <= window
    return Found(*each.max(axis=0), *each[inside].min(axis=0), found.y[0, last].max(), found.y[4, last].min())
