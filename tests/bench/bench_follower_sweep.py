"""The sweep with the follower as a mass of its own, beside the one-mass loop in the same run, and how it grows."""

from __future__ import annotations

import dataclasses
import math
import sys
import time
from collections.abc import Callable
from pathlib import Path

import numpy as np

from loadbench.arrays import Floats
from loadbench.motion import sweep as sweeping
from loadbench.motion.gear import Gear
from loadbench.motion.sweep import sweep

sys.path.insert(0, str(Path(__file__).resolve().parents[2]))

from tests.motion.lifts import FOUR_FIVE_SIX_SEVEN

RPM = math.pi / 30
LASH = 0.2e-3
ONE = Gear(
    mass=0.133333, stiffness=6e6, damping=250.0, preload=700.0, spring_rate=70e3, seat_stiffness=5e7,
    seat_damping=2000.0, surging_mass=0.110,
)  # fmt: skip
OWN = dataclasses.replace(
    ONE, mass=ONE.mass - 0.055, stiffness=7.06e6, follower_mass=0.055, lobe_stiffness=4e7, lobe_damping=300.0, hold=1.0
)
OILED = dataclasses.replace(
    OWN, oil_stiffness=3e7, leak=3e-7, refill=0.2, travel=2e-3, depth=1e-3, friction=40.0, hold=10.0
)
SPEEDS = np.linspace(2000, 9000, 71) * RPM
TWICE = np.linspace(2000, 9000, 142) * RPM
LIMITS = {"own_follower_over_one_mass_ratio": 3.0, "oil_and_friction_over_one_mass_ratio": 3.0}


ROUNDS = 40


def least_ms(cases: dict[str, tuple[Gear, Floats]]) -> dict[str, float]:
    """Least time of two turns at every speed on one thread, ms; turn about, for the machine is not always as fast."""
    spent = dict.fromkeys(cases, math.inf)
    for _ in range(ROUNDS):
        for name, (gear, speeds) in cases.items():
            before = time.perf_counter()
            sweep(gear, FOUR_FIVE_SIX_SEVEN, speeds, lash=LASH, turns=2)
            spent[name] = min(spent[name], 1e3 * (time.perf_counter() - before))
    return spent


def on_one_core(work: Callable[[], dict[str, float]]) -> dict[str, float]:
    """Measures with a single thread."""
    held, sweeping.os.cpu_count = sweeping.os.cpu_count, lambda: 1
    try:
        return work()
    finally:
        sweeping.os.cpu_count = held


def measure() -> dict[str, float]:
    """Of one run."""
    return on_one_core(_measured)


def _measured() -> dict[str, float]:
    spent = least_ms(
        {
            "one": (ONE, SPEEDS),
            "own": (OWN, SPEEDS),
            "oiled": (OILED, SPEEDS),
            "twice": (OWN, TWICE),
            "twelve": (dataclasses.replace(OWN, modes=12), SPEEDS),
        }
    )
    return {
        "own_follower_two_turns_one_core_ms": spent["own"],
        "own_follower_over_one_mass_ratio": spent["own"] / spent["one"],
        "oil_and_friction_over_one_mass_ratio": spent["oiled"] / spent["one"],
        "own_follower_twice_the_speeds_ratio": spent["twice"] / spent["own"],
        "own_follower_twelve_modes_ratio": spent["twelve"] / spent["own"],
    }
