"""The dynamic sweep: its time, how it grows, and the same equations through a general solver at equal accuracy.

The check case T-B of the two-contact dynamics: 71 speeds, two turns of 7,200 steps, six modes of the spring.
"""

from __future__ import annotations

import dataclasses
import math
import statistics
import sys
import time
from collections.abc import Callable
from pathlib import Path

import numpy as np

from loadbench.arrays import Floats
from loadbench.motion import sweep as sweeping
from loadbench.motion.gear import Gear
from loadbench.motion.sweep import Sweep, sweep

sys.path.insert(0, str(Path(__file__).resolve().parents[2]))

from tests.motion.lifts import FOUR_FIVE_SIX_SEVEN

RPM = math.pi / 30
LASH = 0.2e-3
GEAR = Gear(
    mass=0.133333,
    stiffness=6e6,
    damping=250.0,
    preload=700.0,
    spring_rate=70e3,
    seat_stiffness=5e7,
    seat_damping=2000.0,
    surging_mass=0.110,
)
SPEEDS = np.linspace(2000, 9000, 71) * RPM
LIMITS = {"sweep_two_turns_one_core_ms": 25.0, "sweep_over_general_solver_ratio": 1e-3, "drag_frame_ms": 33.0}


def median_ms(work: Callable[[], object], times: int = 15) -> float:
    """Median wall time of a call, ms."""
    work()
    spent = []
    for _ in range(times):
        before = time.perf_counter()
        work()
        spent.append(time.perf_counter() - before)
    return 1e3 * statistics.median(spent)


def two_turns(gear: Gear = GEAR, speeds: Floats = SPEEDS) -> Sweep:
    """Two turns at every speed, settled or not."""
    return sweep(gear, FOUR_FIVE_SIX_SEVEN, speeds, lash=LASH, turns=2)


def on_one_core(work: Callable[[], float]) -> float:
    """A measure with a single thread."""
    held, sweeping.os.cpu_count = sweeping.os.cpu_count, lambda: 1
    try:
        return work()
    finally:
        sweeping.os.cpu_count = held


def general_solver(speed: float, turns: int) -> tuple[float, float]:
    """Wall time, s, and peak force of the last turn through scipy's solve_ivp, from rest."""
    from scipy.integrate import solve_ivp

    g, own, shares = GEAR, GEAR.mode_speeds, GEAR.shares
    w, n = speed / 2, GEAR.modes

    def contact(t: float, x: float, v: float) -> float:
        angle = (t * w) % (2 * math.pi) - math.pi
        gap = float(FOUR_FIVE_SIX_SEVEN(angle)) - LASH - x
        closing = w * float(FOUR_FIVE_SIX_SEVEN(angle, 1)) - v
        return max(0.0, g.stiffness * gap + g.damping * closing) if gap > 0 else 0.0

    def change(t: float, state: Floats) -> Floats:
        x, v, q, p = state[0], state[1], state[2 : 2 + n], state[2 + n :]
        seat = max(0.0, -g.seat_stiffness * x - g.seat_damping * v) if x < 0 else 0.0
        back = 2 * g.modal_damping * own * p + own**2 * q
        net = contact(t, x, v) + seat - g.preload - g.spring_rate * x + g.surging_mass * float(shares @ back)
        a = net / g.moved_mass
        return np.concatenate([[v, a], p, -2 * shares * a - back])

    turn = 2 * math.pi / w
    start = np.zeros(2 + 2 * n)
    start[0] = -g.preload / g.seat_stiffness
    before = time.perf_counter()
    found = solve_ivp(change, (0.0, turns * turn), start, rtol=1e-6, atol=1e-9, max_step=turn / 720)
    spent = time.perf_counter() - before
    last = found.t > (turns - 1) * turn
    forces = [contact(t, x, v) for t, x, v in zip(found.t[last], found.y[0, last], found.y[1, last], strict=True)]
    return spent, max(forces)


def measure() -> dict[str, float]:
    """Medians of one run."""
    settled = sweep(GEAR, FOUR_FIVE_SIX_SEVEN, SPEEDS, lash=LASH)
    nudged = dataclasses.replace(GEAR, preload=703.0)
    one_core = on_one_core(lambda: median_ms(two_turns))
    slow, peak = general_solver(float(5000 * RPM), 2)
    ours = sweep(GEAR, FOUR_FIVE_SIX_SEVEN, 5000 * RPM, lash=LASH, turns=2, from_rest=True).peak_force[0]
    if abs(ours / peak - 1) > 0.005:
        raise RuntimeError(f"the two do not agree: {ours:.1f} N and {peak:.1f} N")
    half, double = SPEEDS[::2], np.linspace(2000, 9000, 141) * RPM
    return {
        "sweep_two_turns_one_core_ms": one_core,
        "sweep_two_turns_all_cores_ms": median_ms(two_turns),
        "sweep_settled_ms": median_ms(lambda: sweep(GEAR, FOUR_FIVE_SIX_SEVEN, SPEEDS, lash=LASH), times=5),
        "drag_frame_ms": median_ms(
            lambda: sweep(nudged, FOUR_FIVE_SIX_SEVEN, SPEEDS, lash=LASH, start=settled, turns=2)
        ),
        "general_solver_two_turns_all_speeds_s": slow * SPEEDS.size,
        "sweep_over_general_solver_ratio": one_core / (1e3 * slow * SPEEDS.size),
        "twice_the_speeds_ratio": on_one_core(lambda: median_ms(lambda: two_turns(speeds=double)) / one_core),
        "half_the_speeds_ratio": on_one_core(lambda: median_ms(lambda: two_turns(speeds=half)) / one_core),
        "twelve_modes_over_six_ratio": on_one_core(
            lambda: median_ms(lambda: two_turns(dataclasses.replace(GEAR, modes=12))) / one_core
        ),
    }
