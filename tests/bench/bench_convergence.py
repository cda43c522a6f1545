"""How far step and modes are from where they go: peak force and onset of lost contact, coarse against fine.

The check case T-B of the two-contact dynamics; what the sweep takes by itself is 7,200 steps a turn and six modes.
"""

from __future__ import annotations

import dataclasses
import math
import sys
from pathlib import Path

import numpy as np

from loadbench.motion.gear import Gear
from loadbench.motion.sweep import sweep

sys.path.insert(0, str(Path(__file__).resolve().parents[2]))

from tests.bench.bench_sweep import GEAR, LASH
from tests.motion.lifts import FOUR_FIVE_SIX_SEVEN

RPM = math.pi / 30
HELD = np.array([2000.0, 3000.0, 4000.0, 5000.0]) * RPM
ONSET = 4800.0, 5600.0
STEPS, FINEST_STEPS = (3600, 7200, 14400), 57600
MODES, MOST_MODES = (3, 6, 12), 32
LIMITS = {
    "steps_7200_peak_percent": 0.5,
    "steps_7200_onset_percent": 1.0,
    "modes_6_peak_percent": 0.5,
    "modes_6_onset_percent": 1.0,
}


def found(gear: Gear, steps: int) -> tuple[np.ndarray, float]:
    """Peak force at speeds where contact is held, N, and the lowest speed at which it is lost, rad/s."""
    peak = sweep(gear, FOUR_FIVE_SIX_SEVEN, HELD, lash=LASH, steps=steps).peak_force
    low, high = (each * RPM for each in ONSET)
    while high - low > 0.2 * RPM:
        between = np.linspace(low, high, 10)
        lost = sweep(gear, FOUR_FIVE_SIX_SEVEN, between, lash=LASH, steps=steps).lost
        if lost[0] or not lost.any():
            raise RuntimeError(f"no onset between {low / RPM:.0f} and {high / RPM:.0f} rpm")
        first = int(np.argmax(lost))
        low, high = between[first - 1], between[first]
    return peak, (low + high) / 2


def apart(one: tuple[np.ndarray, float], other: tuple[np.ndarray, float]) -> tuple[float, float]:
    """By how much the peaks differ at most, and the onsets, percent."""
    return float(100 * np.abs(one[0] / other[0] - 1).max()), 100 * abs(one[1] / other[1] - 1)


def measure() -> dict[str, float]:
    """Errors against the finest."""
    out: dict[str, float] = {}
    fine = found(GEAR, FINEST_STEPS)
    for steps in STEPS:
        out[f"steps_{steps}_peak_percent"], out[f"steps_{steps}_onset_percent"] = apart(found(GEAR, steps), fine)
    whole = found(dataclasses.replace(GEAR, modes=MOST_MODES), 14400)
    for modes in MODES:
        told = apart(found(dataclasses.replace(GEAR, modes=modes), 14400), whole)
        out[f"modes_{modes}_peak_percent"], out[f"modes_{modes}_onset_percent"] = told
    return out
