"""What a polydyne lobe would be made for on this bench, as edits of the job: speed, mass, spring, linkage and lash."""

from __future__ import annotations

import math
from typing import NamedTuple

import numpy as np

from loadbench.analysis.line import LineAnalysis
from loadbench.analysis.motion.motion import lash_of, linkage_stiffness
from loadbench.errors import InputError
from loadbench.job.cam_checks import FLANK, POLYDYNE
from loadbench.job.stated import LineStated
from loadbench.motion.polydyne import MadeFor, polydyne_of
from loadbench.motion.power_lift import USUAL_STEP, family, place_of
from loadbench.readings.polydyne_lift import DESIGN
from loadbench.units import Kind, Style, display_unit, to_display

DIGITS = 5
"""Significant digits that are taken over: the lobe is no better known than the masses."""

STEPS_DOWN = np.linspace(1.1, 0.7, 17)
"""Lengths of a half that are tried, over that of a plain lift."""
PLACES = 201
"""On either side of a lobe, where its duration is read."""

RAMP = 50.0
"""Of the crank, deg: common practice."""

KINDS = {
    "speed": Kind.SPEED, "mass": Kind.MASS, "spring_rate": Kind.RATE, "stiffness": Kind.RATE, "seat_load": Kind.FORCE,
    "lash": Kind.LENGTH,
}  # fmt: skip


class LobeDesign(NamedTuple):
    """The edits that make a line's law the polydyne lobe of its bench, or the fields that they wait for.

    `changes` are by paths in the common part; `clear` are the paths of entries that have to go; `typical` tells that
    the stiffness is not stated and was taken as is typical; `proposed` are the angles among the changes that nobody
    stated, to be looked at.
    """

    changes: dict[str, str | float]
    missing: tuple[str, ...] = ()
    clear: tuple[str, ...] = ()
    typical: bool = False
    proposed: tuple[str, ...] = ()


def lobe_design(line: LineAnalysis, style: Style) -> LobeDesign:
    """The polydyne lobe for a line as it stands.

    Args:
        line: analysed.
        style: in whose units the entries are written.

    Returns:
        The law's name and what it is made for; the design speed is the speed limit unless one is stated. The
        height of ramps goes, since the lobe has its own. Where durations stand, a flank and a ramp that are not stated
        are proposed: as long at the lowest lift, and RAMP.
    """
    stated = line.stated
    speed = stated.value(f"{DESIGN}.speed") or stated.value("duty.speed_limit")
    lash, unset = lash_of(stated)
    figures = {name: line.figures[name] for name in ("referred_mass", "seat_load", "open_load", "net_valve_lift")}
    mass, seat, full, lift = (each.value for each in figures.values())
    missing = [] if speed else [stated.path("duty.speed_limit")]
    missing += [*unset, *(field for each in figures.values() if not each.known for field in each.missing)]
    if missing or not (speed and mass and seat and full and lift):
        return LobeDesign({}, tuple(dict.fromkeys(missing)))
    values = {
        "speed": speed, "mass": mass, "spring_rate": max(full - seat, 0.0) / lift,
        "stiffness": linkage_stiffness(stated), "seat_load": seat, "lash": lash or 0.0,
    }  # fmt: skip
    changes: dict[str, str | float] = {"cam.law.name": POLYDYNE}
    if ratio := stated.value("valve_gear.rocker_ratio"):
        changes[f"{DESIGN}.ratio"] = float(ratio)
    for name, value in values.items():
        kind = KINDS[name]
        changes[f"{DESIGN}.{name}"] = f"{to_display(value, kind, style):.{DIGITS}g} {display_unit(kind, style)}"
    height = "cam.ramps.height"
    clear = (stated.path(height),) if stated.entered(height) else ()
    made_for = MadeFor(
        mass=mass, spring_rate=values["spring_rate"], stiffness=values["stiffness"], preload=seat, cam_speed=speed / 2,
        lash=values["lash"],
    )  # fmt: skip
    proposed = _angles(stated, made_for, line.value("ratio") or 1.0)
    changes |= proposed
    typical = stated.value("valve_gear.stiffness") is None
    return LobeDesign(changes, proposed=tuple(proposed), clear=clear, typical=typical)


def _angles(stated: LineStated, made_for: MadeFor, ratio: float) -> dict[str, str]:
    """A flank that makes the lobe as long at the lowest of its durations, and a usual ramp, where not stated."""
    path, count = stated.rows("cam.durations")
    values, lift = stated.stated.values, stated.value("valve_gear.lobe_lift")
    rows = [(values.get(f"{path}.{row}.lift"), values.get(f"{path}.{row}.crank")) for row in range(count)]
    known = sorted((low, crank) for low, crank in rows if low and crank and lift and low < lift)
    if not known:
        return {}
    found, ramp = {}, stated.value("cam.ramps.opening")
    if stated.value("cam.law.opening") is None:
        half = _half(known[0], lift * ratio, ratio, (ramp or math.radians(RAMP)) / 2, made_for)
        if half is not None:
            found["cam.law.opening"] = f"{math.degrees(2 * half):.0f} deg"
    if ramp is None:
        found["cam.ramps.opening"] = f"{RAMP:g} deg"
    return found


def _half(duration: tuple[float, float], greatest: float, ratio: float, ramp: float, made_for: MadeFor) -> float | None:
    """The half of the valve's lift, rad of the cam, with which the lobe has a duration; None where none has it.

    Args:
        duration: lobe lift, m, and crank angle, rad.
        greatest: of the lobe as felt at the valve, m.
        ratio: R.
        ramp: rad of the cam, on either side.
        made_for: what the lobe is made for.
    """
    low, crank = duration

    def late(half: float) -> float:
        lobe = polydyne_of(greatest, (half, half), (ramp, ramp), made_for)
        up, down = (np.linspace(end, 0.0, PLACES) for end in lobe.span)
        first, last = (float(np.interp(low * ratio, lobe(each), each)) for each in (up, down))
        return last - first - crank / 2

    # a plain lift of that duration first, then shorter ones: what gives makes the lobe longer than its valve's lift
    plain = crank / 4 / place_of(family(USUAL_STEP), low * ratio / greatest)
    tried = [half for half in plain * STEPS_DOWN if FLANK[0] / 2 <= half <= math.pi - ramp]
    try:
        before = None
        for half in tried:
            after = float(half), late(float(half))
            if before is not None and before[1] > 0 >= after[1]:
                share = before[1] / (before[1] - after[1])
                return before[0] + share * (after[0] - before[0])
            before = after
    except InputError:  # none so short can be ground
        pass
    return None
