"""What the follower carries over the turn, from the force balance; without a lobe, the static load at full lift."""

from __future__ import annotations

import numpy as np

from loadbench.analysis.builder import Bench
from loadbench.analysis.coils.kept import kept
from loadbench.analysis.followers.result import Cycle
from loadbench.analysis.motion.held_lift import Same
from loadbench.analysis.motion.result import Balanced, LiftShown, MotionAnalysis
from loadbench.arrays import Floats
from loadbench.motion.geometry import flat_speeds, roller_speeds

BASE, ROLLER = "cam.base_radius", "follower.roller_diameter"


def cycles_of(bench: Bench, motion: MotionAnalysis) -> tuple[Cycle | None, Cycle | None]:
    """What the follower carries at idle and at the speed limit.

    Args:
        bench: the line, with its loads found.
        motion: of the line.

    Returns:
        The two; None where the speed is not stated, or no load can be had.
    """
    idle, limit = motion.idle, motion.limit
    shown = motion.shown
    if shown is None or (idle is None and limit is None):
        return tuple(_static(bench, field) for field in ("duty.idle_speed", "duty.speed_limit"))  # type: ignore[return-value]
    return _cycle(bench, shown, idle), _cycle(bench, shown, limit)


def _static(bench: Bench, field: str) -> Cycle | None:
    """One angle, the nose, with R times the open load: all that is known without a lobe."""
    speed, load = bench.line.value(field), bench.value("follower_open_load")
    if speed is None or load is None:
        return None
    at, force = np.zeros(1), np.array([load])
    return Cycle(speed=float(speed), angles=at, contact=force, axle=force, static=True)


def _cycle(bench: Bench, shown: LiftShown, balanced: Balanced | None) -> Cycle | None:
    if balanced is None:
        return None
    speeds = _speeds(bench, shown)
    turn = balanced.speed / 2  # of the cam
    entrainment, sliding, spin = (None, None, None) if speeds is None else (each * turn for each in speeds)
    return Cycle(
        speed=balanced.speed,
        angles=shown.angles,
        contact=np.maximum(balanced.contact, 0.0),
        axle=np.maximum(balanced.axle, 0.0),
        radius=shown.cam_radius,
        entrainment=entrainment,
        sliding=sliding,
        spin=spin if _rolls(bench) else None,
    )


def _rolls(bench: Bench) -> bool:
    family = str(bench.line.value("follower.family") or "")
    return family.startswith("roller") or (not family and bench.line.value("cam.kind") == "roller")


def _speeds(bench: Bench, shown: LiftShown) -> tuple[Floats, Floats, Floats] | None:
    """Entrainment, sliding and the roller's spin at one rad/s of the cam; None without the base circle and roller."""
    line = bench.line
    base, roller = line.value(BASE), line.value(ROLLER)
    rolls = _rolls(bench)
    if base is None or shown.cam_radius is None or (rolls and roller is None):
        return None
    token = (Same(shown.lobe), base, roller, rolls)
    return kept("contact speeds", line.name, token, lambda: _at_one(shown, base, roller if rolls else None))


def _at_one(shown: LiftShown, base: float, roller: float | None) -> tuple[Floats, Floats, Floats]:
    lift, first, second = shown.lobe[0], shown.lobe[1], shown.lobe[2]
    if roller is None:
        flat = flat_speeds(base, lift, second, 1.0)
        entrainment = np.abs(flat.over_cam + flat.over_face) / 2
        return entrainment, np.abs(flat.sliding), np.zeros_like(lift)
    rolling = roller_speeds(base + roller / 2, lift, first, second, roller / 2, 1.0)
    # Seen from the contact both surfaces of a roller that does not slide go by at one speed: that of the contact's
    # travel over the cam.
    return np.abs(rolling.over_cam), np.zeros_like(lift), rolling.spin
