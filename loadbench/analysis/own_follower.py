"""A line's motion with the follower as a mass of its own: for the full sweep, where what that takes is stated.

The one rule: the follower's mass is stated; a hydraulic one also has its plunger's sizes, its depth and its oil. A
bucket rides on the valve itself, so that its full sweep is the usual one. Everything else is as in the quick sweep:
stiffness and damping of the whole gear are shared out between lobe and linkage, so that slowly both give alike.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from typing import NamedTuple

from loadbench.analysis.line import LineAnalysis
from loadbench.analysis.motion.result import MotionAnalysis
from loadbench.analysis.motion.sensitivity import Quantity, mass_parts
from loadbench.follower import plunger
from loadbench.motion.gear import Gear

MASS = "valve_gear.masses.follower"
FRICTION = "spring.damper.load"
SIZES = tuple(f"follower.plunger.{name}" for name in ("diameter", "travel", "clearance", "length"))
STIFFNESS = "plunger_stiffness"
"""The figure that is there where all of the plunger is known, its oil and its depth too."""

LOBE_STIFFNESS = 1e8
"""Of cam, its bearings and the contact, along the follower, N/m: common practice, from memory."""

LEAST_SHARE = 3.0
"""The lobe is at least so many times as stiff as the whole gear, whatever is stated of that."""

LOBE_DAMPING = 0.1
"""Of critical damping between lobe and follower: common practice."""

PUSHROD_SHARE = 0.5
"""Half of a pushrod moves with either end. Source: common practice."""

PLUNGER_SPRING = 25.0
"""Load of the spring under a plunger, N: common practice, from memory."""

REFILL = 0.2
"""How fast a plunger takes up slack, m/s. Source: own derivation: oil at 3 bar through a check valve of 3 mm2 under a
plunger of 1.3 cm2 gives 0.3 to 0.4 m/s; half of it at the pressure of a warm idle."""

GRAVITY = 9.81

BUCKET = "A bucket rides on the valve: it has no linkage above it, and the full sweep is the usual one."


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class FullMotion:
    """The motion with its own follower; None with the fields that it waits for. `note` says what is special in it."""

    motion: MotionAnalysis | None = None
    missing: tuple[str, ...] = ()
    note: str = ""


class Oil(NamedTuple):
    """The oil of a hydraulic follower as felt at the valve: N/m, m/(N s), m, m."""

    stiffness: float
    leak: float
    travel: float
    depth: float


def full_motion(line: LineAnalysis) -> FullMotion:
    """The motion of a line with the follower as a mass of its own.

    Args:
        line: analysed.

    Returns:
        What `run_dynamics` takes in place of the line's own motion, or why there is none.
    """
    stated, dynamic = line.stated, line.motion.dynamic
    family = str(stated.value("follower.family") or "")
    if family == "bucket":
        return FullMotion(motion=line.motion if dynamic is not None else None, missing=line.motion.missing, note=BUCKET)
    hydraulic = family.endswith("hydraulic")
    missing = [] if stated.value(MASS) else [stated.path(MASS)]
    if hydraulic and not line.value(STIFFNESS):
        missing += line.figures[STIFFNESS].missing or [stated.path(SIZES[1])]
    if dynamic is None or missing:
        return FullMotion(missing=tuple(dict.fromkeys((*line.motion.missing, *missing))))
    gear, typical = _gear(line, dynamic.gear, _oil(line) if hydraulic else None)
    words = (*dynamic.typical, *typical)
    own = replace(dynamic, gear=gear, typical=words, key=(gear, *dynamic.key[1:]))
    return FullMotion(motion=replace(line.motion, dynamic=own))


def with_own_follower(line: LineAnalysis) -> LineAnalysis:
    """A line that a dynamic run takes with the follower as a mass of its own; without a gear where it cannot be had."""
    found = full_motion(line)
    return replace(line, motion=found.motion or replace(line.motion, dynamic=None, missing=found.missing))


def _gear(line: LineAnalysis, gear: Gear, oil: Oil | None) -> tuple[Gear, tuple[str, ...]]:
    ratio = line.value("ratio") or 1.0
    parts = mass_parts(line.figures["referred_mass"])
    pushrod, follower = parts.get(Quantity.PUSHROD, 0.0), parts[Quantity.FOLLOWER]
    own = follower + PUSHROD_SHARE * pushrod
    lobe = max(LOBE_STIFFNESS / ratio**2, LEAST_SHARE * gear.stiffness)
    rubbed = 2 * LOBE_DAMPING * math.sqrt(lobe * own)
    # of the whole gear's give, the lobe has this share
    share = gear.stiffness / lobe
    damping = max(gear.damping - rubbed * share**2, 0.0) / (1 - share) ** 2
    weight = GRAVITY * (follower + pushrod) * ratio
    typical = ["the stiffness and damping at the lobe"]
    if oil is not None:
        weight += PLUNGER_SPRING / ratio
        typical.append("the spring under the plunger and how fast it fills")
    full = replace(
        gear, mass=max(gear.mass - own, 1e-4), stiffness=gear.stiffness / (1 - share), damping=damping,
        follower_mass=own, lobe_stiffness=lobe, lobe_damping=rubbed, hold=weight,
        friction=line.stated.value(FRICTION) or 0.0,
    )  # fmt: skip
    if oil is not None:
        full = replace(
            full, oil_stiffness=oil.stiffness, leak=oil.leak, refill=REFILL * ratio, travel=oil.travel,
            depth=oil.depth,
        )  # fmt: skip
    return full, tuple(typical)


def _oil(line: LineAnalysis) -> Oil:
    """The oil of a hydraulic follower as felt at the valve, where the stiffness of it is known."""
    ratio = line.value("ratio") or 1.0
    diameter, travel, clearance, length = (float(line.stated.value(name)) for name in SIZES)
    sinking = plunger.sink_speed(1.0, diameter, clearance / 2, length, line.value("oil_viscosity") or 0.0)
    return Oil(
        stiffness=(line.value(STIFFNESS) or 0.0) / ratio**2,
        leak=float(sinking) * ratio**2,
        travel=travel * ratio,
        depth=(line.value("plunger_depth") or 0.0) * ratio,
    )
