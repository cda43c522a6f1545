"""The dynamic run of one line: what it needs, and the figures that it gives at the speed limit."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import replace

import numpy as np

from loadbench.analysis.figure import Figure, Input
from loadbench.analysis.motion.result import Dynamic, Dynamics, MotionAnalysis
from loadbench.arrays import Floats
from loadbench.motion.bands import LossBand, loss_bands
from loadbench.motion.gear import Gear
from loadbench.motion.sweep import Sweep, sweep
from loadbench.units import Kind

RPM = math.pi / 30
SLOWEST, STEP = 2000 * RPM, 100 * RPM
OVER = 1.15
"""A sweep goes this far over the speed limit."""

FIGURES: dict[str, tuple[str, Kind]] = {
    "least_contact_force": ("Least contact force at the speed limit", Kind.FORCE),
    "greatest_contact_force": ("Greatest contact force at the speed limit", Kind.FORCE),
    "onset_speed": ("Lowest speed at which contact is lost", Kind.SPEED),
    "seating_speed": ("Seating speed at the speed limit", Kind.VELOCITY),
    "surge_load": ("Greatest surge load at the speed limit", Kind.FORCE),
    "open_load_loss": ("Open load that surge takes at the speed limit", Kind.FORCE),
    "lift_loss": ("Lift lost in the linkage at the speed limit", Kind.LENGTH),
    "loft": ("Loft over the lobe at the speed limit", Kind.LENGTH),
}
"""The figures of a dynamic run: label and kind. They are at the valve; the follower carries R times the force."""

AT_VALVE = "At the valve; along the follower's travel it is R times as much."
NOT_PERIODIC = "The motion does not come again from turn to turn: the extremes of the last turns."
OF_WAVES = frozenset({"surge_load", "open_load_loss"})
NO_WAVES = "The spring's own waves are not in the run: its wire is not stated."
NO_RAMPS = "The lobe has no ramps, which set how fast the valve meets its seat: a guess at most."
NONE_LOST = "Contact is held over the whole sweep."


def swept_speeds(limit: float | None) -> Floats:
    """The speeds of a sweep: from 2,000 rpm to over the speed limit in steps of 100, the limit itself among them.

    Args:
        limit: duty.speed_limit, rad/s; None where it is not stated.

    Returns:
        Engine speeds, rad/s, rising.
    """
    top = 9000 * RPM if limit is None else max(limit * OVER, SLOWEST + 10 * STEP)
    speeds = np.arange(SLOWEST, top + STEP / 2, STEP)
    if limit is None or limit < SLOWEST:
        return speeds
    return np.unique(np.concatenate([speeds[np.abs(speeds - limit) > STEP / 4], [limit]]))


def run_dynamics(
    motion: MotionAnalysis,
    speeds: Floats | None = None,
    *,
    start: Sweep | None = None,
    refine: bool = True,
    turns: int | None = None,
    progress: Callable[[float], None] | None = None,
) -> Dynamics | None:
    """Sweep a line's gear, find the bands of lost contact, and tell what is found at the speed limit.

    Args:
        motion: the line's.
        speeds: engine speeds, rad/s, rising; None for the usual ones.
        start: a sweep at the same speeds of nearly the same gear.
        refine: narrow the bands' edges and look for their causes.
        turns: most turns that are followed from `start`, for a picture that follows a hand: a speed that had settled
            there counts as settled; None, or without a start at these speeds: until each turn is like the one before.
        progress: told the share done; may raise to stop the work.

    Returns:
        The dynamics; None where something of the gear is not known.
    """
    dynamic = motion.dynamic
    if dynamic is None:
        return None
    at = swept_speeds(motion.speed_limit) if speeds is None else speeds
    tell = progress or (lambda _share: None)

    def again(gear: Gear, some: Floats) -> Sweep:
        return _sweep(dynamic, gear, some, None, lambda _share: tell(0.9))

    near = start if start is not None and np.array_equal(start.speeds, at) else None
    found = _sweep(
        dynamic, dynamic.gear, at, near, lambda share: tell(0.8 * share), None if near is None else turns
    )  # fmt: skip
    if near is not None and turns is not None:
        found = replace(found, periodic=found.periodic | near.periodic)

    def bands_of(*, at_tip: bool) -> tuple[LossBand, ...]:
        if not refine:
            return ()
        return loss_bands(
            dynamic.gear, dynamic.lift, found, again, lash=dynamic.lash, window=dynamic.window,
            closing=dynamic.closing, at_tip=at_tip,
        )  # fmt: skip

    bands = bands_of(at_tip=False)
    slack = () if found.tip is None else bands_of(at_tip=True)
    tell(1.0)
    return Dynamics(found=found, bands=bands, figures=figures_at_limit(motion, found, bands), slack_bands=slack)


def _sweep(
    dynamic: Dynamic,
    gear: Gear,
    speeds: Floats,
    start: Sweep | None,
    progress: Callable[[float], None],
    turns: int | None = None,
) -> Sweep:
    return sweep(
        gear, dynamic.lift, speeds, lash=dynamic.lash, window=dynamic.window, closing=dynamic.closing, start=start,
        turns=turns, progress=progress,
    )  # fmt: skip


def figures_at_limit(motion: MotionAnalysis, found: Sweep, bands: tuple[LossBand, ...]) -> dict[str, Figure]:
    """What a sweep tells of the speed limit, and the lowest speed at which contact is lost.

    Args:
        motion: the line's.
        found: its sweep.
        bands: of lost contact in it.

    Returns:
        Every figure of `FIGURES`; those at the limit wait for it where it is not stated or not swept.
    """
    limit, dynamic = motion.speed_limit, motion.dynamic
    figures = {"onset_speed": _onset(found, bands, dynamic)}
    place = None if limit is None else int(np.argmin(np.abs(found.speeds - limit)))
    if limit is None or place is None or abs(found.speeds[place] - limit) > 1e-6 * limit:
        for name, (label, kind) in FIGURES.items():
            figures.setdefault(name, Figure(name=name, label=label, kind=kind, missing=("duty.speed_limit",)))
        return figures
    values = {
        "least_contact_force": found.least_force[place],
        "greatest_contact_force": found.peak_force[place],
        "seating_speed": -found.seating_speed[place],
        "surge_load": found.surge_load[place],
        "open_load_loss": found.open_load_loss[place],
        "lift_loss": found.lift_loss[place],
        "loft": found.loft[place],
    }
    speed = Input(symbol="N", label="speed limit", value=limit, kind=Kind.SPEED, field="duty.speed_limit")
    notes = [] if found.periodic[place] else [NOT_PERIODIC]
    typical = _typical(dynamic)
    wire = () if dynamic is None else dynamic.waves_wait
    for name, value in values.items():
        label, kind = FIGURES[name]
        if wire and name in OF_WAVES:
            figures[name] = Figure(name=name, label=label, kind=kind, missing=wire, note=NO_WAVES)
            continue
        own = [AT_VALVE] if name.endswith("contact_force") else []
        bare = name == "seating_speed" and motion.shown is not None and not motion.shown.has_ramps
        own += [NO_RAMPS] if bare else []
        figures[name] = Figure(
            name=name, label=label, kind=kind, value=float(value), formula="from the dynamic run at {N}",
            inputs=(speed,), note=" ".join([*own, *notes, *typical]),
            evidence="dynamic run, lobe without ramps" if bare else "dynamic run",
        )  # fmt: skip
    return figures


def _typical(dynamic: Dynamic | None) -> list[str]:
    if dynamic is None or not dynamic.typical:
        return []
    return [f"Taken as is typical: {', '.join(dynamic.typical)}."]


def _onset(found: Sweep, bands: tuple[LossBand, ...], dynamic: Dynamic | None) -> Figure:
    label, kind = FIGURES["onset_speed"]
    typical = _typical(dynamic)
    low = bands[0].low if bands else float(found.speeds[found.lost][0]) if found.lost.any() else None
    note = " ".join([*([NONE_LOST] if low is None else []), *typical])
    return Figure(name="onset_speed", label=label, kind=kind, value=low, note=note, evidence="dynamic run")
