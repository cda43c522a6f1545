"""A motion of known gear and lift for the tests of the views, and what a sweep of it gives."""

from __future__ import annotations

import functools
import math
from dataclasses import replace

import numpy as np

from loadbench.analysis.motion.dynamics import run_dynamics
from loadbench.analysis.motion.result import Balanced, Dynamic, Dynamics, LiftShown, MotionAnalysis
from loadbench.motion.gear import Gear
from tests.motion.lifts import FOUR_FIVE_SIX_SEVEN
from ui.motion.seen import Seen

RPM = math.pi / 30
ANGLES = np.linspace(-np.pi, np.pi, 721)
RATIO, LASH, WINDOW = 1.6, 0.2e-3, math.radians(50)
GEAR = Gear(
    mass=0.133333, stiffness=6e6, damping=250.0, preload=700.0, spring_rate=70e3, seat_stiffness=5e7,
    seat_damping=2000.0, surging_mass=0.110,
)  # fmt: skip
"""The two-contact case with waves: it loses contact within the sweep."""

SPEEDS = np.arange(3000.0, 7001.0, 500.0) * RPM


def shown(*, table: bool = False) -> LiftShown:
    """The lift of the two-contact cases, with points of a table that lie 0.01 mm off in turn where wanted."""
    valve = np.stack([FOUR_FIVE_SIX_SEVEN(ANGLES, order) for order in range(4)])
    points = ANGLES[240:481:4]
    off = 1e-5 * np.where(np.arange(points.size) % 2, 1.0, -1.0)
    return LiftShown(
        how="from the lift table, smoothed" if table else "from the lift law",
        angles=ANGLES,
        lobe=valve / RATIO,
        valve=valve,
        net=np.maximum(valve[0] - LASH, 0.0),
        table_angles=points if table else None,
        table_lifts=(FOUR_FIVE_SIX_SEVEN(points) / RATIO + off) if table else None,
        residuals=off if table else None,
    )


def balanced(speed: float) -> Balanced:
    """Rigid stations, each a load and a mass of its own."""
    lift = shown()
    inertia = (speed / 2) ** 2 * lift.valve[2]
    load = 700.0 + 70e3 * lift.net

    def station(ratio: float, mass: float) -> np.ndarray:
        return np.where(lift.net > 0, ratio * (load + mass * inertia), 0.0)

    contact = station(RATIO, 0.17) / math.cos(0.3)
    return Balanced(
        speed=speed, tip=station(1.0, 0.12), pushrod=station(RATIO, 0.15), lobe=station(RATIO, 0.17),
        contact=contact, axle=contact,
    )  # fmt: skip


def motion(*, limit: float | None = 6500 * RPM, table: bool = False, **gear: float) -> MotionAnalysis:
    """The whole of it; changes of the gear by name."""
    own = replace(GEAR, **gear)  # type: ignore[arg-type]
    dynamic = Dynamic(
        gear=own, lift=FOUR_FIVE_SIX_SEVEN, lash=LASH, window=WINDOW, closing=None, key=(own, LASH, WINDOW),
        typical=("the gear's stiffness",),
    )  # fmt: skip
    return MotionAnalysis(
        shown=shown(table=table), lobe=FOUR_FIVE_SIX_SEVEN, valve=FOUR_FIVE_SIX_SEVEN, dynamic=dynamic,
        idle=balanced(800 * RPM), limit=None if limit is None else balanced(limit), idle_speed=800 * RPM,
        speed_limit=limit,
    )  # fmt: skip


@functools.cache
def dynamics(*, refine: bool = True) -> Dynamics:
    """A sweep of it, worked out once for all tests."""
    found = run_dynamics(motion(), SPEEDS, refine=refine)
    assert found is not None
    return found


def seen(*, speed: float = 6000 * RPM, refine: bool = True, table: bool = False) -> Seen:
    """What a view is drawn from."""
    return Seen(motion=motion(table=table), dynamics=dynamics(refine=refine), speed=speed, refined=refine)
