"""What is taken for another follower where the job states it of its own one only; each told where it counts."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field
from typing import Any

from loadbench.analysis.followers.plunger_figures import OTHER
from loadbench.findings.finding import Amount, Sentence
from loadbench.findings.match.kits import (
    FLATS,
    HYDRAULICS,
    ROLLERS,
    SOLIDS,
    TRAVEL,
    stated_kit,
    stated_kits,
    with_values,
)
from loadbench.findings.match.result import Criterion, Kit
from loadbench.job.stated import Stated
from loadbench.units import Kind

LASH = "valve_gear.lash"
MASS = "valve_gear.masses.follower"
METAL, USUAL_METAL = "follower.bush.material", "tin bronze"
"""Of a bush that is not stated: what the picture of needles against bush takes too. Source: common practice."""

DEPTH, TURNS = "follower.preload.depth", "follower.preload.turns"

CARRYING = frozenset({Criterion.OPEN_LOAD, Criterion.SPEED, Criterion.CONTACT, Criterion.AXLE_LIFE})


@dataclass(frozen=True, slots=True, kw_only=True)
class Taken:
    """One thing that was taken: the entry, the criteria where it counts, and how it is told."""

    field: str
    criteria: frozenset[Criterion]
    sentence: Sentence


@dataclass(slots=True)
class _Filling:
    """Entries being filled in."""

    values: dict[str, Any]
    taken: list[Taken] = field(default_factory=list)

    def take(self, path: str, value: Any, criteria: Iterable[Criterion], sentence: Sentence) -> None:
        self.values[path] = value
        self.taken.append(Taken(field=path, criteria=frozenset(criteria), sentence=sentence))


def filled(kit: Kit, own: Stated, other: Stated) -> tuple[Stated, tuple[Taken, ...]]:
    """Entries of another follower with what it needs and the job cannot state of it.

    Args:
        kit: the follower.
        own: the job's entries, of its own follower.
        other: the same as the kit has them.

    Returns:
        The entries, and what was taken. The job's own follower is asked for what is missing, so nothing is taken.
    """
    mine = stated_kits(own)
    if mine == (kit,):
        return other, ()
    filling, entered = _Filling(dict(other.values)), {*other.values, *other.problems}
    if kit in mine:  # its own sizes are asked for; a bush in place of needles is only tried
        if "follower.bush.bore" not in entered:
            _bush(kit, filling)
        return _mended(other, filling, ())
    if kit in SOLIDS and not any(path == LASH or path.endswith(f".{LASH}") for path in entered):
        filling.take(LASH, 0.0, CARRYING, Sentence("Lash is taken as none, which lifts and loads the most."))
    if kit in HYDRAULICS:
        _plunger(kit, filling, other)
    if kit in ROLLERS:
        _axle(kit, filling, own)
    if kit in FLATS and own.values.get("duty.first_running") is not True:
        filling.values["duty.first_running"] = True  # tappets of another family are new ones
    return _mended(other, filling, _weight(kit, own, entered))


def _mended(other: Stated, filling: _Filling, more: tuple[Taken, ...]) -> tuple[Stated, tuple[Taken, ...]]:
    taken = (*filling.taken, *more)
    if filling.values == other.values:
        return other, taken
    mended = {each.field for each in filling.taken}
    return with_values(other, filling.values, mended), taken


def _weight(kit: Kit, own: Stated, entered: set[str]) -> tuple[Taken, ...]:
    """A follower of another shape weighs something else; what is stated serves until it is weighed."""
    stated = stated_kit(own)
    if stated is None or (stated in ROLLERS) == (kit in ROLLERS) or not any(path.endswith(MASS) for path in entered):
        return ()
    said = Sentence("The follower's mass is that of the stated one.")
    return (Taken(field=MASS, criteria=frozenset({Criterion.SPEED}), sentence=said),)


def _plunger(kit: Kit, filling: _Filling, other: Stated) -> None:
    values = filling.values
    usual_travel, usual_depth = OTHER[TRAVEL[kit]]
    sizes = ("diameter", "clearance", "length")
    if "follower.plunger.travel" not in values and any(f"follower.plunger.{name}" in values for name in sizes):
        amounts = {"taken_travel": Amount(usual_travel, Kind.LENGTH)}
        said = Sentence("A plunger travel of {taken_travel} is taken, as is usual.", amounts)
        filling.take("follower.plunger.travel", usual_travel, {Criterion.TRAVEL}, said)
    if DEPTH in values or TURNS in values or other.faulty(DEPTH) or other.faulty(TURNS):
        return
    amounts = {"taken_depth": Amount(usual_depth, Kind.LENGTH)}
    said = Sentence("It is taken as set {taken_depth} deep, as is usual.", amounts)
    filling.take(DEPTH, usual_depth, {Criterion.TRAVEL, Criterion.HEAD_MATERIAL}, said)


def _axle(kit: Kit, filling: _Filling, own: Stated) -> None:
    values = filling.values
    if kit in HYDRAULICS and "follower.axle" not in values and not _rolls(own):
        said = Sentence("It is taken as running on needles, as is usual.")
        filling.take("follower.axle", "needle", {Criterion.AXLE_LIFE, Criterion.OIL_TO_AXLE}, said)
    _bush(kit, filling)


def _bush(kit: Kit, filling: _Filling) -> None:
    """A bush in place of needles: on their circle, as long, of the usual metal, as in the picture of both."""
    if kit is not Kit.ROLLER_SOLID_BUSHED:
        return
    values = filling.values
    pin, needle, long = (values.get(f"follower.needles.{name}") for name in ("axle_diameter", "diameter", "length"))
    if pin is not None and needle is not None and "follower.bush.bore" not in values:
        said = Sentence("The bush is taken on an axle of the needles' circle, and as long as they are.")
        filling.take("follower.bush.bore", pin + needle, {Criterion.AXLE_LIFE, Criterion.FILM_AT_IDLE}, said)
        if long is not None and "follower.bush.length" not in values:
            values["follower.bush.length"] = long
    if "follower.bush.bore" in values and METAL not in values:
        said = Sentence(f"Its metal is taken as {USUAL_METAL}, as is usual.")
        filling.take(METAL, USUAL_METAL, {Criterion.AXLE_LIFE}, said)


def _rolls(own: Stated) -> bool:
    return stated_kit(own) in ROLLERS
