"""What a polydyne lobe would be made for on this bench, as edits of the job: speed, mass, spring, linkage and lash."""

from __future__ import annotations

from typing import NamedTuple

from loadbench.analysis.line import LineAnalysis
from loadbench.analysis.motion.motion import lash_of, linkage_stiffness
from loadbench.job.cam_checks import POLYDYNE
from loadbench.readings.polydyne_lift import DESIGN
from loadbench.units import Kind, Style, display_unit, to_display

DIGITS = 5
"""Significant digits that are taken over: the lobe is no better known than the masses."""

KINDS = {
    "speed": Kind.SPEED, "mass": Kind.MASS, "spring_rate": Kind.RATE, "stiffness": Kind.RATE, "seat_load": Kind.FORCE,
    "lash": Kind.LENGTH,
}  # fmt: skip


class LobeDesign(NamedTuple):
    """The edits that make a line's law the polydyne lobe of its bench, or the fields that they wait for.

    `changes` are by paths in the common part; `clear` are the paths of entries that have to go; `typical` tells that
    the stiffness is not stated and was taken as is typical.
    """

    changes: dict[str, str | float]
    missing: tuple[str, ...] = ()
    clear: tuple[str, ...] = ()
    typical: bool = False


def lobe_design(line: LineAnalysis, style: Style) -> LobeDesign:
    """The polydyne lobe for a line as it stands.

    Args:
        line: analysed.
        style: in whose units the entries are written.

    Returns:
        The law's name and what it is made for; the design speed is the speed limit unless one is stated. The
        height of ramps goes, since the lobe has its own; flanks and the ramps' angles are left to the user.
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
    return LobeDesign(changes, clear=clear, typical=stated.value("valve_gear.stiffness") is None)
