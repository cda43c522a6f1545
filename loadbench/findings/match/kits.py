"""A job as it would be with another follower: what changes with the family, and what of its sizes still holds."""

from __future__ import annotations

from typing import Any

from loadbench.findings.match.result import Kit
from loadbench.job.stated import Stated

FAMILY = {
    Kit.FLAT_SOLID: "flat-tappet-solid",
    Kit.FLAT_HYDRAULIC: "flat-tappet-hydraulic",
    Kit.ROLLER_HYDRAULIC_STANDARD: "roller-hydraulic",
    Kit.ROLLER_HYDRAULIC_SHORT: "roller-hydraulic",
    Kit.ROLLER_SOLID_NEEDLE: "roller-solid",
    Kit.ROLLER_SOLID_BUSHED: "roller-solid",
    Kit.BUCKET: "bucket",
}
TRAVEL = {
    Kit.FLAT_HYDRAULIC: "standard",
    Kit.ROLLER_HYDRAULIC_STANDARD: "standard",
    Kit.ROLLER_HYDRAULIC_SHORT: "short",
}
AXLE = {Kit.ROLLER_SOLID_NEEDLE: "needle", Kit.ROLLER_SOLID_BUSHED: "bushed"}

ROLLERS = frozenset(kit for kit in Kit if "roller" in kit.value)
HYDRAULICS = frozenset(kit for kit in Kit if "hydraulic" in kit.value)
SOLIDS = frozenset(Kit) - HYDRAULICS
FLATS = frozenset({Kit.FLAT_SOLID, Kit.FLAT_HYDRAULIC})
SOLID_ROLLERS = frozenset(AXLE)

OF_SHAPE = ("follower.material", "follower.crown_radius", "follower.roughness")
"""What belongs to a roller or to a face, and says nothing of the other."""

OF_SETTING = ("follower.preload.depth", "follower.preload.turns", "follower.preload.way", "follower.plunger.travel")
"""What was set on one travel and says nothing of the other."""

OF_MAKER = tuple(
    f"follower.maker_limits.{name}"
    for name in ("sheet", "open_load_max", "speed_max", "preload_min", "preload_max", "lash_min", "lash_max")
)


def stated_kit(stated: Stated) -> Kit | None:
    """The kit that a job states; unstated travel counts as standard, an unstated axle as needles."""
    family, travel, axle = (stated.values.get(f"follower.{name}") for name in ("family", "travel", "axle"))
    if family == "roller-hydraulic":
        return Kit.ROLLER_HYDRAULIC_SHORT if travel == "short" else Kit.ROLLER_HYDRAULIC_STANDARD
    if family == "roller-solid":
        return Kit.ROLLER_SOLID_BUSHED if axle == "bushed" else Kit.ROLLER_SOLID_NEEDLE
    return next((kit for kit, word in FAMILY.items() if word == family), None)


def stated_kits(stated: Stated) -> tuple[Kit, ...]:
    """The kits that a job's entries leave open: one, or two where travel or axle is not stated."""
    kit = stated_kit(stated)
    if kit is None:
        return ()
    family = FAMILY[kit]
    chosen = {"roller-hydraulic": "follower.travel", "roller-solid": "follower.axle"}.get(family)
    if chosen is None or stated.values.get(chosen) is not None:
        return (kit,)
    return tuple(each for each in Kit if FAMILY[each] == family)


def overhead(stated: Stated) -> bool | None:
    """Whether the cam stands over the valves, on buckets; None where nothing says so."""
    family, kind = stated.values.get("follower.family"), stated.values.get("cam.kind")
    if family == "bucket" or kind == "bucket" or stated.values.get("valve_gear.adjuster.at") == "bucket-shim":
        return True
    ratio = stated.values.get("valve_gear.rocker_ratio")
    return False if family is not None or ratio not in (None, 1.0) else None


def fits_the_head(kit: Kit, stated: Stated) -> bool:
    """Whether a kit can stand in this head at all."""
    above = overhead(stated)
    return above is None or above == (kit is Kit.BUCKET)


def stated_as(kit: Kit, stated: Stated) -> Stated:
    """The job's entries with another follower in them: nothing is read again.

    Args:
        kit: the follower.
        stated: the job's entries.

    Returns:
        The same with family, travel and axle replaced; sizes that belong to another kind of follower are left out. The
        job's entries themselves where they state this kit whole.
    """
    gone = _gone(kit, stated)
    changes: dict[str, Any] = {"follower.family": FAMILY[kit]}
    if kit in TRAVEL and not (kit is Kit.FLAT_HYDRAULIC and kit is stated_kit(stated)):
        changes["follower.travel"] = TRAVEL[kit]
    if kit in AXLE:
        changes["follower.axle"] = AXLE[kit]
    if not gone and all(stated.values.get(path) == value for path, value in changes.items()):
        return stated
    values = {path: value for path, value in stated.values.items() if path not in gone} | changes
    return with_values(stated, values, gone | changes.keys())


def with_values(stated: Stated, values: dict[str, Any], mended: set[str]) -> Stated:
    """Entries with other values; what was faulty of the mended ones is no more."""
    problems = {path: problem for path, problem in stated.problems.items() if path not in mended}
    return Stated(stated.job, stated.style, values, problems, stated.notes)


def _gone(kit: Kit, stated: Stated) -> set[str]:
    """The entries that another kit leaves out."""
    own = stated_kit(stated)
    if own is None or kit in stated_kits(stated):
        return set()
    gone = set(OF_MAKER)
    if (own in ROLLERS) != (kit in ROLLERS):
        gone |= set(OF_SHAPE)
    if kit in TRAVEL and own in TRAVEL and TRAVEL[kit] != TRAVEL[own]:
        gone |= set(OF_SETTING)
    return {path for path in gone if path in stated.values or path in stated.problems}
