"""The force balance at any speed, from those at idle and at the speed limit."""

from __future__ import annotations

import numpy as np

from loadbench.analysis.motion.result import Balanced, Dynamic, MotionAnalysis
from loadbench.arrays import Floats, Real

STATIONS = ("tip", "pushrod", "lobe", "contact", "axle")


def balanced_at(motion: MotionAnalysis, speed: float) -> Balanced | None:
    """The rigid stations over the turn at a speed.

    Args:
        motion: the line's, with idle speed and speed limit stated.
        speed: of the engine, rad/s.

    Returns:
        The stations; None where the two speeds are not stated or are the same.

    Source:
        own derivation: every station is a load plus a mass times an acceleration, which grows with the speed squared.
    """
    idle, limit = motion.idle, motion.limit
    if idle is None or limit is None or idle.speed == limit.speed:
        return None
    share = (speed**2 - idle.speed**2) / (limit.speed**2 - idle.speed**2)
    found = {name: getattr(idle, name) + share * (getattr(limit, name) - getattr(idle, name)) for name in STATIONS}
    return Balanced(speed=speed, **found)


def rigid_force(dynamic: Dynamic, angles: Real, speed: float) -> Floats:
    """The contact force of a rigid linkage at the valve.

    Args:
        dynamic: gear and lift.
        angles: of the cam from the nose, rad.
        speed: of the engine, rad/s.

    Returns:
        N; zero where the valve is on its seat, below zero where a rigid linkage would have to pull.

    Source:
        own derivation: load of spring and pressures plus referred mass times acceleration.
    """
    rigid = dynamic.as_rigid()
    gear, lift = rigid.gear, rigid.lift
    net = np.asarray(lift(angles)) - rigid.lash
    load = gear.preload + gear.spring_rate * net
    if dynamic.closing is not None:
        load = load + dynamic.closing(np.asarray(angles, dtype=np.float64))
    force = load + gear.referred_mass * (speed / 2) ** 2 * np.asarray(lift(angles, 2))
    return np.where(net > 0, force, 0.0)
