"""The adjuster's lever: how far the pushrod's end goes while the adjuster turns and the valve stays shut.

The lever's tip slides level on the valve stem's end; Lv valve arm, Lp pushrod arm, beta the angle at which the cup
lies below the level line through the pivot, gamma the pushrod's lean with its foot toward the pivot's side.
"""

from __future__ import annotations

from typing import NamedTuple

import numpy as np

from loadbench.arrays import Floats, Real
from loadbench.errors import InputError, Place
from loadbench.follower.setting import Adjuster, depth_per_turn
from loadbench.spring.sizes import positive


class CupMotion(NamedTuple):
    """Motion of the pushrod's cup, m: down, sideways toward the pivot, and along the pushrod."""

    drop: Floats
    side: Floats
    along: Floats


def pivot_lowered(by: Real, valve_arm: Real, pushrod_arm: Real, cup_angle: Real = 0.0, lean: Real = 0.0) -> CupMotion:
    """Where the cup goes when the pivot is lowered, exactly.

    Args:
        by: how far the pivot comes down, m; below zero up.
        valve_arm: Lv, m.
        pushrod_arm: Lp, m.
        cup_angle: beta, rad.
        lean: gamma, rad.

    Returns:
        The cup's motion, of the broadcast shape.

    Raises:
        InputError: an arm at zero or below, or more travel than the valve arm allows.

    Source:
        own derivation: sin(theta) = x/Lv; drop x + Lp (sin(beta + theta) - sin(beta)).
    """
    Lv, Lp = positive("an arm of a rocker", valve_arm, pushrod_arm)
    x = np.asarray(by, dtype=np.float64)
    if np.any(np.abs(x) >= Lv):
        raise InputError("an adjuster travel as long as the valve arm", expected="less", place=Place(field="turns"))
    turn = np.arcsin(x / Lv)
    beta = np.asarray(cup_angle, dtype=np.float64)
    drop = x + Lp * (np.sin(beta + turn) - np.sin(beta))
    side = Lp * (np.cos(beta) - np.cos(beta + turn))
    # The pivot itself comes straight down; seen from above the cup swings in under it.
    return CupMotion(np.asarray(drop), np.asarray(side), np.asarray(drop * np.cos(lean) + side * np.sin(lean)))


class TurnDepth(NamedTuple):
    """What one turn does at the plunger, m: exactly, to first order, and by two shortcuts of the trade."""

    exact: float
    first_order: float
    straight: float
    pitch_times_ratio: float


def turn_depth(
    pitch: float,
    at: Adjuster,
    ratio: float,
    *,
    arms: tuple[float, float] | None = None,
    cup_angle: float = 0.0,
    lean: float = 0.0,
) -> TurnDepth:
    """What one turn of the adjuster does at the plunger.

    Args:
        pitch: of the thread, m.
        at: where the adjuster sits.
        ratio: R.
        arms: valve arm and pushrod arm, m; None: as long as the ratio asks for, in one line with tip and pivot.
        cup_angle: beta, rad.
        lean: gamma, rad.

    Returns:
        The exact depth of the first turn past zero lash; x (1 + cos(beta)/R); x (1 + 1/R), all three in one line; and
        pitch times ratio, which is right for none of them.

    Raises:
        InputError: arms that do not make the ratio (over 5 % apart).

    Source:
        own derivation; the shortcuts: common practice.
    """
    straight = float(depth_per_turn(pitch, at, ratio))
    if at != "pivot":
        return TurnDepth(straight, straight, straight, pitch * ratio)
    valve, pushrod = arms if arms is not None else (ratio, 1.0)
    if arms is not None and abs(valve / pushrod / ratio - 1) > 0.05:
        what = f"arms that make a ratio of {valve / pushrod:.3g}, not {ratio:.3g}"
        raise InputError(what, expected="arms that agree with the ratio", place=Place(field="pushrod_arm"))
    along = straight if arms is None else float(pivot_lowered(pitch, valve, pushrod, cup_angle, lean).along)
    first = pitch * (1 + np.cos(cup_angle) / ratio)
    return TurnDepth(along, float(first), straight, pitch * ratio)


def turns_for(
    depth: Real,
    pitch: float,
    at: Adjuster,
    ratio: float,
    *,
    arms: tuple[float, float] | None = None,
    cup_angle: float = 0.0,
    lean: float = 0.0,
) -> Floats:
    """Turns past zero lash that set a plunger to a depth, exactly.

    Args:
        depth: wanted, m, any shape; below zero backs off.
        pitch: of the thread, m.
        at: where the adjuster sits.
        ratio: R.
        arms: valve arm and pushrod arm, m; None: in one line.
        cup_angle: beta, rad.
        lean: gamma, rad.

    Returns:
        Turns, of the depth's shape.

    Raises:
        InputError: a depth that the lever cannot reach.

    Source:
        own derivation: Newton's method on the exact motion, which is nearly straight.
    """
    wanted = np.asarray(depth, dtype=np.float64)
    slope = float(depth_per_turn(pitch, at, ratio))
    turns = wanted / slope
    if at != "pivot" or arms is None:
        return np.asarray(turns)
    for _ in range(8):
        here = pivot_lowered(turns * pitch, *arms, cup_angle, lean).along
        ahead = pivot_lowered((turns + 1e-4) * pitch, *arms, cup_angle, lean).along
        turns = turns + (wanted - here) * 1e-4 / (ahead - here)
    return np.asarray(turns)
