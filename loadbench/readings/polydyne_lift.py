"""A job's polydyne lobe: all that it is made for is stated, since a lobe once ground does not follow the spring."""

from __future__ import annotations

from typing import NamedTuple

from loadbench.errors import InputError
from loadbench.job.stated import LineStated
from loadbench.motion.polydyne import MadeFor, Polydyne, polydyne_of

DESIGN = "cam.law.design"
WANTED = ("speed", "mass", "spring_rate", "stiffness", "seat_load")

POINTED = {
    "closing": "cam.law.closing", "ramps": "cam.ramps.opening", "stiffness": f"{DESIGN}.stiffness",
    "speed": f"{DESIGN}.speed",
}  # fmt: skip
"""The entry to look at first, by what cannot be."""


def told(error: InputError) -> str:
    """What is wrong and what is wanted, without a place within the physics."""
    return f"{error.what} (expected: {error.expected})" if error.expected else error.what


class PolydyneFound(NamedTuple):
    """A job's polydyne lobe as felt at the valve, or the fields that it waits for and why they give none."""

    lobe: Polydyne | None = None
    missing: tuple[str, ...] = ()
    note: str = ""


def polydyne_found(line: LineStated, greatest: float | None) -> PolydyneFound:
    """The polydyne lobe of a line.

    Args:
        line: as stated, with that law.
        greatest: lift of the lobe as felt at the valve, m; None where it is not known.

    Returns:
        The lobe, or what it waits for. A closing half or ramp that is not stated is as the opening one; without a lash
        stated a hydraulic follower has none.
    """
    design = {name: line.value(f"{DESIGN}.{name}") for name in WANTED}
    opening, ramp = line.value("cam.law.opening"), line.value("cam.ramps.opening")
    lash = line.value(f"{DESIGN}.lash")
    if lash is None and str(line.value("follower.family") or "").endswith("hydraulic"):
        lash = 0.0
    wanted = {
        **{f"{DESIGN}.{name}": value for name, value in design.items()},
        f"{DESIGN}.lash": lash,
        "cam.law.opening": opening,
        "cam.ramps.opening": ramp,
        "valve_gear.lobe_lift": greatest,
    }
    faulty = [field for field in ("cam.law.closing", "cam.ramps.closing", f"{DESIGN}.lash") if line.faulty(field)]
    missing = dict.fromkeys(line.path(field) for field in (*(f for f, v in wanted.items() if v is None), *faulty))
    if missing or greatest is None:
        return PolydyneFound(missing=tuple(missing), note="A polydyne lobe wants all that it was made for.")
    closing, down = line.value("cam.law.closing"), line.value("cam.ramps.closing")
    try:
        made_for = MadeFor(
            mass=design["mass"], spring_rate=design["spring_rate"], stiffness=design["stiffness"],
            preload=design["seat_load"], cam_speed=design["speed"] / 2, lash=lash or 0.0,
        )  # fmt: skip
        # angles of a law and of ramps are crank degrees, as on a cam's sheet
        halves = opening / 2, (opening if closing is None else closing) / 2
        ramps = ramp / 2, (ramp if down is None else down) / 2
        return PolydyneFound(polydyne_of(greatest, halves, ramps, made_for))
    except InputError as error:
        field = POINTED.get(error.place.field or "", "cam.law.opening")
        return PolydyneFound(missing=(line.path(field),), note=f"The polydyne law gives no lift: {told(error)}.")
