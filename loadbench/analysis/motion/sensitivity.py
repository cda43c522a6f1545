"""Which input moves the speed at which contact is first lost, and how far: one input at a time, a little each way."""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping
from dataclasses import dataclass, replace
from enum import StrEnum

import numpy as np

from loadbench.analysis.figure import Figure
from loadbench.analysis.motion.moving_masses import SYMBOLS
from loadbench.analysis.motion.result import Dynamic, MotionAnalysis
from loadbench.arrays import Floats
from loadbench.motion.bands import EDGE
from loadbench.motion.force_balance import separation_speed
from loadbench.motion.gear import Gear
from loadbench.motion.lift import Lift
from loadbench.motion.masses import SPRING_SHARE
from loadbench.motion.ratio import scaled
from loadbench.motion.sweep import sweep

SHARE = 0.05
"""Each input is changed by this share of itself, up and down."""


class Quantity(StrEnum):
    """What is changed; the value is the key by which it is told."""

    VALVE = "valve"
    RETAINER = "retainer"
    LOCKS = "locks"
    SPRING = "spring"
    ROCKER = "rocker"
    PUSHROD = "pushrod"
    FOLLOWER = "follower"
    MASS = "mass"
    SEAT_LOAD = "seat_load"
    RATE = "rate"
    LIFT = "lift"
    RATIO = "ratio"
    STIFFNESS = "stiffness"


PARTS = (
    Quantity.VALVE, Quantity.RETAINER, Quantity.LOCKS, Quantity.SPRING, Quantity.ROCKER, Quantity.PUSHROD,
    Quantity.FOLLOWER,
)  # fmt: skip
CAM_SIDE = (Quantity.PUSHROD, Quantity.FOLLOWER)
"""Parts that move with the lobe: the ratio decides how heavy they are at the valve."""

Case = tuple[Gear, Lift]

GEAR = {Quantity.SEAT_LOAD: "preload", Quantity.RATE: "spring_rate", Quantity.STIFFNESS: "stiffness"}


@dataclass(frozen=True, slots=True, kw_only=True)
class Moved:
    """What one input does: the speed with the input less, as it is, and more, rad/s; None where contact is held."""

    quantity: Quantity
    less: float | None
    base: float | None
    more: float | None

    @property
    def reach(self) -> float:
        """The larger of both changes of speed, rad/s; zero where none is known."""
        known = [abs(each - self.base) for each in (self.less, self.more) if each is not None and self.base is not None]
        return max(known, default=0.0)


def mass_parts(figure: Figure) -> dict[Quantity, float]:
    """Each part's mass as felt at the valve, from the figure of the referred mass.

    Args:
        figure: "referred_mass" of a line.

    Returns:
        kg by part, those of zero left out; empty where the figure cannot be had.
    """
    if figure.value is None:
        return {}
    given = {each.symbol: each.value for each in figure.inputs}
    ratio, arm = given.get("R", 1.0), given.get(SYMBOLS["valve_arm"], 0.0)
    found: dict[Quantity, float] = {
        part: given.get(SYMBOLS[part], 0.0) for part in PARTS if part is not Quantity.ROCKER
    }
    found[Quantity.SPRING] *= SPRING_SHARE
    for part in CAM_SIDE:
        found[part] /= ratio**2
    if arm > 0:
        found[Quantity.ROCKER] = given.get(SYMBOLS["rocker_inertia"], 0.0) / arm**2
    return {part: found[part] for part in PARTS if found.get(part, 0.0) > 0}


def quantities(dynamic: Dynamic, parts: Mapping[Quantity, float]) -> tuple[Quantity, ...]:
    """Which inputs can be changed.

    Args:
        dynamic: gear and lift.
        parts: of the mass at the valve; empty: the mass is changed as a whole.

    Returns:
        The inputs.
    """
    masses = tuple(part for part in PARTS if part in parts) or (Quantity.MASS,)
    ratio = (Quantity.RATIO,) if any(part in parts for part in CAM_SIDE) else ()
    load = (Quantity.SEAT_LOAD,) if dynamic.gear.preload > 0 else ()
    return (*masses, *load, Quantity.RATE, Quantity.LIFT, *ratio, Quantity.STIFFNESS)


def changed(dynamic: Dynamic, quantity: Quantity, factor: float, parts: Mapping[Quantity, float]) -> Case:
    """Gear and lift with one input multiplied; everything else stays as it is.

    Args:
        dynamic: gear and lift as they are.
        quantity: the input.
        factor: above zero.
        parts: of the mass at the valve, kg.

    Returns:
        The changed gear and lift.
    """
    gear, lift = dynamic.gear, dynamic.lift
    if quantity in GEAR:
        return replace(gear, **{GEAR[quantity]: getattr(gear, GEAR[quantity]) * factor}), lift
    if quantity is Quantity.LIFT:
        return gear, scaled(lift, factor)
    if quantity is Quantity.RATIO:
        moved = sum(parts.get(part, 0.0) for part in CAM_SIDE)
        return _heavier(gear, moved * (factor**-2 - 1)), scaled(lift, factor)
    if quantity is Quantity.MASS:
        return replace(gear.with_spring_mass(factor), mass=gear.mass * factor), lift
    if quantity is Quantity.SPRING and gear.surging:
        heavier = gear.with_spring_mass(factor)
        # the dead coils with the others: all of the spring's share grows alike
        rest = parts[quantity] - (gear.valve_mass - gear.mass)
        return _heavier(heavier, rest * (factor - 1)), lift
    return _heavier(gear, parts[quantity] * (factor - 1)), lift


def _heavier(gear: Gear, by: float) -> Gear:
    return replace(gear, mass=max(gear.mass + by, 1e-6))


def rigid_sensitivity(
    motion: MotionAnalysis, parts: Mapping[Quantity, float] | None = None, share: float = SHARE
) -> tuple[Moved, ...]:
    """What each input does to the speed at which a rigid linkage first loses contact.

    Args:
        motion: the line's.
        parts: of the mass at the valve, kg, from `mass_parts`.
        share: by which each input is changed.

    Returns:
        One row for each input, in the order of `quantities`; empty where the gear is not known. The stiffness has none.
    """
    dynamic = motion.dynamic
    if dynamic is None:
        return ()
    dynamic = dynamic.as_rigid()
    wanted: list[Quantity] = [each for each in quantities(dynamic, parts or {}) if each is not Quantity.STIFFNESS]
    cases = _cases(dynamic, wanted, parts or {}, share)
    return _rows(wanted, _rigid_speeds(dynamic, cases))


def _rigid_speeds(dynamic: Dynamic, cases: list[Case]) -> list[float | None]:
    """Speed of first separation of each case; those that differ by the mass alone take one search together."""
    alike: dict[tuple[float, float, int], list[int]] = {}
    for place, (gear, lift) in enumerate(cases):
        alike.setdefault((gear.preload, gear.spring_rate, id(lift)), []).append(place)
    found: list[float | None] = [None] * len(cases)
    for (preload, rate, _), places in alike.items():
        masses = np.array([cases[place][0].referred_mass for place in places])
        apart = separation_speed(
            cases[places[0]][1], masses, (preload, rate), lash=dynamic.lash, closing=dynamic.closing,
            window=dynamic.window,
        )  # fmt: skip
        for place, speed in zip(places, apart.speed, strict=True):
            found[place] = float(speed) if math.isfinite(speed) else None
    return found


def onset_sensitivity(
    motion: MotionAnalysis,
    speeds: Floats,
    parts: Mapping[Quantity, float] | None = None,
    share: float = SHARE,
    progress: Callable[[float], None] | None = None,
) -> tuple[Moved, ...]:
    """What each input does to the lowest speed at which the dynamic run loses contact.

    Args:
        motion: the line's.
        speeds: of the engine that are swept, rad/s, rising.
        parts: of the mass at the valve, kg, from `mass_parts`.
        share: by which each input is changed.
        progress: told the share done; may raise to stop the work.

    Returns:
        One row for each input, in the order of `quantities`; empty where the gear is not known.
    """
    dynamic = motion.dynamic
    if dynamic is None:
        return ()
    wanted = list(quantities(dynamic, parts or {}))
    cases = _cases(dynamic, wanted, parts or {}, share)
    found = []
    for done, (gear, lift) in enumerate(cases, start=1):
        found.append(lowest_onset(dynamic, gear, lift, speeds))
        if progress is not None:
            progress(done / len(cases))
    return _rows(wanted, found)


def _cases(dynamic: Dynamic, wanted: list[Quantity], parts: Mapping[Quantity, float], share: float) -> list[Case]:
    """Gear and lift as they are, then with each input less and more."""
    moved = [changed(dynamic, each, factor, parts) for each in wanted for factor in (1 - share, 1 + share)]
    return [(dynamic.gear, dynamic.lift), *moved]


def _rows(wanted: list[Quantity], speeds: list[float | None]) -> tuple[Moved, ...]:
    base, less, more = speeds[0], speeds[1::2], speeds[2::2]
    return tuple(
        Moved(quantity=each, less=low, base=base, more=high) for each, low, high in zip(wanted, less, more, strict=True)
    )


def lowest_onset(dynamic: Dynamic, gear: Gear, lift: Lift, speeds: Floats) -> float | None:
    """The lowest speed of a sweep at which contact is lost, narrowed by halving.

    Args:
        dynamic: lash, window and closing load of the line.
        gear: that is swept.
        lift: with this lift.
        speeds: of the engine, rad/s, rising.

    Returns:
        rad/s; the first speed where contact is lost there already, None where it is held throughout.
    """

    def lost(at: Floats) -> list[bool]:
        found = sweep(gear, lift, at, lash=dynamic.lash, window=dynamic.window, closing=dynamic.closing)
        return [bool(each) for each in found.lost]

    states = lost(speeds)
    if True not in states:
        return None
    first = states.index(True)
    if first == 0:
        return float(speeds[0])
    below, above = float(speeds[first - 1]), float(speeds[first])
    # a few speeds at once: one alone leaves the vector units idle
    while above - below > EDGE:
        between = np.linspace(below, above, 10)[1:-1]
        inner = [*lost(between), True]
        place = inner.index(True)
        above = above if place == len(between) else float(between[place])
        below = below if place == 0 else float(between[place - 1])
    return (below + above) / 2
