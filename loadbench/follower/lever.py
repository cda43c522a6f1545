"""The adjuster's lever: how far the pushrod's end goes while the adjuster turns and the valve stays shut.

The lever's tip is level with the pivot at zero lash and slides level on the valve stem's end; with a round nose read
the nose's centre for the tip. Lv valve arm, Lp pushrod arm, beta the angle at which the cup lies below the level line
through the pivot, gamma the pushrod's lean with its foot toward the pivot's side, x the screw's travel, theta the
lever's turn. A screw at the pushrod's end stands along the pushrod, one at the valve tip square to its arm.
"""

from __future__ import annotations

from typing import NamedTuple

import numpy as np

from loadbench.arrays import Floats, Real
from loadbench.errors import InputError, Place
from loadbench.follower.setting import Adjuster, depth_per_turn
from loadbench.spring.sizes import positive

Arms = tuple[float, float]
"""Valve arm and pushrod arm, m."""


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
        raise _beyond("an adjuster travel as long as the valve arm", "turns")
    # The pivot itself comes straight down; seen from above the cup swings in under it.
    return _cup(x, np.arcsin(x / Lv), Lp, cup_angle, lean)


def tip_advanced(by: Real, valve_arm: Real, pushrod_arm: Real, cup_angle: Real = 0.0, lean: Real = 0.0) -> CupMotion:
    """Where the cup goes when a screw at the valve tip is turned in, exactly.

    Args:
        by: how far the screw comes out of the lever, m; below zero in.
        valve_arm: Lv, m.
        pushrod_arm: Lp, m.
        cup_angle: beta, rad.
        lean: gamma, rad.

    Returns:
        The cup's motion, of the broadcast shape.

    Raises:
        InputError: an arm at zero or below.

    Source:
        own derivation: the screw's end stays at its height, Lv sin(theta) = x cos(theta); drop as for the pivot's.
    """
    Lv, Lp = positive("an arm of a rocker", valve_arm, pushrod_arm)
    return _cup(0.0, np.arctan2(np.asarray(by, dtype=np.float64), Lv), Lp, cup_angle, lean)


def _cup(pivot: Real, turn: Floats, arm: Floats, cup_angle: Real, lean: Real) -> CupMotion:
    """The cup's motion while the pivot sinks and the lever turns."""
    beta = np.asarray(cup_angle, dtype=np.float64)
    drop = np.asarray(pivot) + arm * (np.sin(beta + turn) - np.sin(beta))
    side = arm * (np.cos(beta) - np.cos(beta + turn))
    return CupMotion(np.asarray(drop), np.asarray(side), np.asarray(drop * np.cos(lean) + side * np.sin(lean)))


class TurnDepth(NamedTuple):
    """What turns do at the plunger, m: exactly, to first order, and by two shortcuts of the trade."""

    exact: float
    first_order: float
    straight: float
    """x (1 + 1/R) at the pivot, x at the pushrod's end, x/R at the valve tip: all parts in one line."""
    pitch_times_ratio: float

    @property
    def first_order_error(self) -> float:
        """Share by which the first order is off, above zero where it tells too much."""
        return self.first_order / self.exact - 1

    @property
    def straight_error(self) -> float:
        """Share by which the formula for parts in one line is off."""
        return self.straight / self.exact - 1

    @property
    def shortcut_error(self) -> float:
        """Share by which pitch times ratio is off."""
        return self.pitch_times_ratio / self.exact - 1


class TurnedDepth(NamedTuple):
    """The same for many turns at once, m, each of the turns' shape."""

    exact: Floats
    first_order: Floats
    straight: Floats
    pitch_times_ratio: Floats


def depth_of_turns(
    turns: Real,
    pitch: float,
    at: Adjuster,
    ratio: float,
    *,
    arms: Arms | None = None,
    cup_angle: float = 0.0,
    lean: float = 0.0,
) -> TurnedDepth:
    """How deep turns past zero lash set the plunger.

    Args:
        turns: past zero lash, zero or above, any shape.
        pitch: of the thread, m.
        at: where the adjuster sits.
        ratio: R.
        arms: valve arm and pushrod arm, m; None: the first order stands for the exact.
        cup_angle: beta, rad.
        lean: gamma, rad.

    Returns:
        The exact depth, its first order x (cos(gamma) + cos(beta - gamma)/R), what parts in one line would give, and
        pitch times ratio, which is right for none of them; m, of the turns' shape.

    Raises:
        InputError: turns below zero lash, arms that do not make the ratio (over 5 % apart), turns beyond the lever.

    Source:
        own derivation; the shortcuts: common practice.
    """
    n = np.asarray(turns, dtype=np.float64)
    if np.any(n < 0):
        what = "turns below zero lash, where the pushrod has play"
        raise InputError(what, expected="zero or more", place=Place(field="turns"))
    _checked(arms, ratio)
    x = n * pitch
    first, straight = x * _slope(at, ratio, cup_angle, lean), n * depth_per_turn(pitch, at, ratio)
    exact = first
    if at == "pushrod":
        exact = x  # along the pushrod: the lever does not turn
    elif arms is not None:
        moved = pivot_lowered if at == "pivot" else tip_advanced
        exact = moved(x, *arms, cup_angle, lean).along
    return TurnedDepth(np.asarray(exact), np.asarray(first), np.asarray(straight), np.asarray(x * ratio))


def turn_depth(
    pitch: float,
    at: Adjuster,
    ratio: float,
    *,
    arms: Arms | None = None,
    cup_angle: float = 0.0,
    lean: float = 0.0,
) -> TurnDepth:
    """What the first turn past zero lash does at the plunger.

    Args:
        pitch: of the thread, m.
        at: where the adjuster sits.
        ratio: R.
        arms: valve arm and pushrod arm, m; None: the first order stands for the exact.
        cup_angle: beta, rad.
        lean: gamma, rad.

    Returns:
        As `depth_of_turns` for one turn.

    Raises:
        InputError: arms that do not make the ratio (over 5 % apart).

    Source:
        own derivation; the shortcuts: common practice.
    """
    found = depth_of_turns(1.0, pitch, at, ratio, arms=arms, cup_angle=cup_angle, lean=lean)
    return TurnDepth(*(float(each) for each in found))


def turns_for(
    depth: Real,
    pitch: float,
    at: Adjuster,
    ratio: float,
    *,
    arms: Arms | None = None,
    cup_angle: float = 0.0,
    lean: float = 0.0,
) -> Floats:
    """Turns past zero lash that set a plunger to a depth, exactly.

    Args:
        depth: wanted, m, any shape; below zero backs off.
        pitch: of the thread, m.
        at: where the adjuster sits.
        ratio: R.
        arms: valve arm and pushrod arm, m; None: to first order.
        cup_angle: beta, rad.
        lean: gamma, rad.

    Returns:
        Turns, of the depth's shape.

    Raises:
        InputError: a depth that the lever cannot reach, arms that do not make the ratio.

    Source:
        own derivation: with phi = beta - gamma the motion along the pushrod is x cos(gamma) + Lp (sin(phi + theta)
        - sin(phi)); a sum of a sine and a cosine of theta, which turns round into one arc sine.
    """
    wanted = np.asarray(depth, dtype=np.float64)
    _checked(arms, ratio)
    if at == "pushrod" or arms is None:
        return np.asarray(wanted / (pitch * _slope(at, ratio, cup_angle, lean)))
    Lv, Lp = arms
    phi = cup_angle - lean
    sine, cosine = Lp * np.cos(phi), Lp * np.sin(phi)
    if at == "valve-tip":
        return np.asarray(Lv * np.tan(_turn_of(sine, cosine, wanted + cosine, "depth")) / pitch)
    theta = _turn_of(sine + Lv * np.cos(lean), cosine, wanted + cosine, "depth")
    return np.asarray(Lv * np.sin(theta) / pitch)


def turns_for_lash(
    lash: Real,
    pitch: float,
    at: Adjuster,
    ratio: float,
    *,
    arms: Arms | None = None,
    cup_angle: float = 0.0,
    lean: float = 0.0,
) -> Floats:
    """Turns back from zero lash that leave a lash at the valve tip, exactly.

    From lash found to lash wanted an adjuster is turned in by the difference of both.

    Args:
        lash: at the valve tip, m, zero or above, any shape.
        pitch: of the thread, m.
        at: where the adjuster sits.
        ratio: R.
        arms: valve arm and pushrod arm, m; None: to first order.
        cup_angle: beta, rad.
        lean: gamma, rad.

    Returns:
        Turns, of the lash's shape.

    Raises:
        InputError: a lash below zero or one that the lever cannot leave, arms that do not make the ratio.

    Source:
        own derivation: the pushrod stands still and the lever turns by theta about the cup. A pivot raised by x leaves
        x + Lv sin(theta); a screw at the pushrod's end drawn back by x, Lv sin(theta); one at the valve tip, x.
    """
    gap = np.asarray(lash, dtype=np.float64)
    if np.any(gap < 0):
        raise InputError("a lash below zero", expected="zero or more", place=Place(field="lash"))
    _checked(arms, ratio)
    if at == "valve-tip":
        return np.asarray(gap / pitch)
    phi = cup_angle - lean
    if arms is None:
        # Lash over the way of the screw: the cup's first order, times what one at the cup is at the tip.
        return np.asarray(gap * np.cos(phi) / ratio / (pitch * _slope(at, ratio, cup_angle, lean)))
    Lv, Lp = arms
    if at == "pushrod":
        if np.any(gap >= Lv):
            raise _beyond("a lash as large as the valve arm", "lash")
        theta = np.arcsin(gap / Lv)
        return np.asarray(Lp * (np.sin(phi + theta) - np.sin(phi)) / np.cos(theta) / pitch)
    reach = Lp / np.cos(lean)
    theta = _turn_of(Lv + reach * np.cos(phi), reach * np.sin(phi), gap + reach * np.sin(phi), "lash")
    return np.asarray((gap - Lv * np.sin(theta)) / pitch)


def _slope(at: Adjuster, ratio: float, cup_angle: float, lean: float) -> float:
    """First order of the motion along the pushrod for the screw's travel."""
    swing = np.cos(cup_angle - lean) / ratio
    return float({"pivot": np.cos(lean) + swing, "pushrod": 1.0, "valve-tip": swing}[at])


def _turn_of(sine: float, cosine: float, wanted: Floats, field: str) -> Floats:
    """The small angle with sine sin(angle) + cosine cos(angle) as wanted."""
    share = wanted / np.hypot(sine, cosine)
    if np.any(np.abs(share) > 1):
        raise _beyond(f"a {field} that this lever cannot reach", field)
    return np.asarray(np.arcsin(share) - np.arctan2(cosine, sine))


def _beyond(what: str, field: str) -> InputError:
    return InputError(what, expected="less", place=Place(field=field))


def _checked(arms: Arms | None, ratio: float) -> None:
    if arms is None:
        return
    positive("an arm of a rocker", *arms)
    made = arms[0] / arms[1]
    if abs(made / ratio - 1) > 0.05:
        what = f"arms that make a ratio of {made:.3g}, not {ratio:.3g}"
        raise InputError(what, expected="arms that agree with the ratio", place=Place(field="pushrod_arm"))
