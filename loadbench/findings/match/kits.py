"""A job as it would be with another follower: what changes with the family, and what of its sizes still holds."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

from loadbench.analysis import Analysis, LineAnalysis
from loadbench.analysis.line import analyse_line
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
TRAVEL = {Kit.ROLLER_HYDRAULIC_STANDARD: "standard", Kit.ROLLER_HYDRAULIC_SHORT: "short"}
AXLE = {Kit.ROLLER_SOLID_NEEDLE: "needle", Kit.ROLLER_SOLID_BUSHED: "bushed"}

OF_SHAPE = ("follower.material", "follower.crown_radius", "follower.roughness")
"""What belongs to a roller or to a face, and says nothing of the other."""

OF_SETTING = ("follower.preload.depth", "follower.preload.turns", "follower.plunger.travel")
"""What was set on one travel and says nothing of the other."""

OF_MAKER = tuple(
    f"follower.maker_limits.{name}"
    for name in ("open_load_max", "speed_max", "preload_min", "preload_max", "lash_min", "lash_max")
)


def stated_kit(stated: Stated) -> Kit | None:
    """The kit that a job states; unstated travel counts as standard, an unstated axle as needles."""
    family, travel, axle = (stated.values.get(f"follower.{name}") for name in ("family", "travel", "axle"))
    if family == "roller-hydraulic":
        return Kit.ROLLER_HYDRAULIC_SHORT if travel == "short" else Kit.ROLLER_HYDRAULIC_STANDARD
    if family == "roller-solid":
        return Kit.ROLLER_SOLID_BUSHED if axle == "bushed" else Kit.ROLLER_SOLID_NEEDLE
    return next((kit for kit, word in FAMILY.items() if word == family), None)


def overhead(stated: Stated) -> bool | None:
    """Whether the valves stand under their cam: True for buckets, False for rockers and pushrods, None where unsaid."""
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
        The same with family, travel and axle replaced; sizes that belong to another kind of follower are left out.
    """
    if kit is stated_kit(stated):
        return stated
    own = str(stated.values.get("follower.family") or "")
    changes: dict[str, Any] = {"follower.family": FAMILY[kit]}
    if kit in TRAVEL:
        changes["follower.travel"] = TRAVEL[kit]
    if kit in AXLE:
        changes["follower.axle"] = AXLE[kit]
    gone = set(OF_MAKER)
    if own and own.startswith("roller") != FAMILY[kit].startswith("roller"):
        gone |= set(OF_SHAPE)
    if kit in TRAVEL and stated.values.get("follower.travel") not in (None, TRAVEL[kit]):
        gone |= set(OF_SETTING)
    values = {path: value for path, value in stated.values.items() if path not in gone} | changes
    problems = {path: problem for path, problem in stated.problems.items() if path not in changes}
    return Stated(stated.job, stated.style, values, problems, stated.notes)


def analysed_as(kit: Kit, analysis: Analysis) -> tuple[LineAnalysis, ...]:
    """The lines of a job with another follower.

    Args:
        kit: the follower.
        analysis: of the job as it is.

    Returns:
        Its lines; those of the job itself where it is the kit that is stated. Dynamic runs are not made again.
    """
    stated = stated_as(kit, analysis.stated)
    if stated is analysis.stated:
        return tuple(replace(line, dynamics=None) for line in analysis.lines)
    return tuple(analyse_line(stated.line(name)) for name in stated.lines)
