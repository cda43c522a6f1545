"""A job's polydyne lobe: all that it is made for is stated, since a lobe once ground does not follow the spring."""

from __future__ import annotations

import math
from typing import NamedTuple

from loadbench.errors import InputError
from loadbench.job.cam_checks import FLANK, RAMP
from loadbench.job.stated import LineStated
from loadbench.motion.polydyne import MadeFor, Polydyne, polydyne_of

DESIGN = "cam.law.design"
WANTED = ("speed", "mass", "spring_rate", "stiffness", "seat_load")
ANGLES = {"cam.law": FLANK, "cam.ramps": RAMP}
"""What the two angles of each may be."""

POINTED = {
    "closing": "cam.law.closing", "ramps": "cam.ramps.opening", "stiffness": f"{DESIGN}.stiffness",
    "speed": f"{DESIGN}.speed",
}  # fmt: skip
"""The entry to look at first, by what cannot be."""


def told(error: InputError) -> str:
    """What is wrong and what is wanted, without a place within the physics."""
    return f"{error.what} (expected: {error.expected})" if error.expected else error.what


class PolydyneFound(NamedTuple):
    """A job's polydyne lobe as felt at the valve and the ratio it was made for, or the fields that it waits for."""

    lobe: Polydyne | None = None
    ratio: float = 1.0
    missing: tuple[str, ...] = ()
    note: str = ""


def polydyne_found(line: LineStated) -> PolydyneFound:
    """The polydyne lobe of a line.

    Args:
        line: as stated, with that law.

    Returns:
        The lobe, or what it waits for and why. A closing half or ramp that is not stated is as the opening one; without
        a lash stated a hydraulic follower has none, and a bucket has no rocker.
    """
    family = str(line.value("follower.family") or "")
    design = {name: line.value(f"{DESIGN}.{name}") for name in (*WANTED, "ratio", "lash")}
    if design["lash"] is None and family.endswith("hydraulic") and not line.faulty(f"{DESIGN}.lash"):
        design["lash"] = 0.0
    if family == "bucket":
        design["ratio"] = 1.0
    angles = {name: line.value(name) for name in ("cam.law.opening", "cam.ramps.opening")}
    lift = _ground_lift(line, design["ratio"])
    wanted = {**{f"{DESIGN}.{name}": value for name, value in design.items()}, **angles, "valve_gear.lobe_lift": lift}
    faulty = [field for field in ("cam.law.closing", "cam.ramps.closing") if line.faulty(field)]
    missing = dict.fromkeys(line.path(field) for field in (*(f for f, v in wanted.items() if v is None), *faulty))
    if missing or lift is None:
        return PolydyneFound(missing=tuple(missing), note="A polydyne lobe wants all that it was made for.")
    # angles of a law and of ramps are crank degrees, as on a cam's sheet
    sides = []
    for above, (least, most) in ANGLES.items():
        opening, closing = (line.value(f"{above}.{side}") for side in ("opening", "closing"))
        pair = opening / 2, (opening if closing is None else closing) / 2
        for side, angle in zip(("opening", "closing"), pair, strict=True):
            if not least / 2 <= angle <= most / 2:
                field, limits = f"{above}.{side}", f"{math.degrees(least):g} to {math.degrees(most):g} deg"
                note = f"The polydyne law gives no lift: an angle of {math.degrees(2 * angle):.4g} deg of the crank"
                return PolydyneFound(missing=(line.path(field),), note=f"{note} (expected: {limits}).")
        sides.append(pair)
    try:
        made_for = MadeFor(
            mass=design["mass"], spring_rate=design["spring_rate"], stiffness=design["stiffness"],
            preload=design["seat_load"], cam_speed=design["speed"] / 2, lash=design["lash"],
        )  # fmt: skip
        return PolydyneFound(polydyne_of(lift * design["ratio"], sides[0], sides[1], made_for), design["ratio"])
    except InputError as error:
        field = POINTED.get(error.place.field or "", "cam.law.opening")
        return PolydyneFound(missing=(line.path(field),), note=f"The polydyne law gives no lift: {told(error)}.")


def _ground_lift(line: LineStated, ratio: float | None) -> float | None:
    """The lobe's own lift, m, so that it stays as ground; from the valve's by the ratio that it was made for."""
    lobe, valve = line.value("valve_gear.lobe_lift"), line.value("valve_gear.valve_lift")
    if lobe is None and valve is not None and ratio:
        return float(valve / ratio)
    return None if lobe is None else float(lobe)
