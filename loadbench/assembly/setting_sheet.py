"""The worksheet of the setting: for every valve of a job what was found, what is wanted, and what to do about it."""

from __future__ import annotations

import contextlib
import math
from dataclasses import dataclass, replace
from typing import Any, Literal, cast

import numpy as np

from loadbench.analysis import Analysis, LineAnalysis
from loadbench.analysis.builder import Bench
from loadbench.analysis.figure import Plain
from loadbench.analysis.followers.warming import lever_of
from loadbench.assembly.bucket_sheet import bucket_rows
from loadbench.assembly.setting_result import LeverShown, SettingSheet, ValveSetting, Way
from loadbench.assembly.setting_valve import ValveAt, cylinder_of, started
from loadbench.errors import InputError, Place, Problem
from loadbench.findings.finding import Amount, Level, Sentence
from loadbench.findings.set_check.cylinder_order import in_cylinder_order
from loadbench.findings.setting import corrections
from loadbench.follower import lever
from loadbench.follower.setting import Adjuster, depth_with_pushrod, pushrod_length
from loadbench.units import Kind

Order = Literal["cylinder", "firing"]

TOLERANCE = 0.001 * 0.0254
"""How near lash or depth set by an adjuster comes, m. Source: common practice."""

BACKED_OFF = 0.015 * 0.0254
"""How far a bottomed plunger is backed off, m. Source: common practice, the middle of the usual range."""

WAYS = {"custom": Way.PRELOAD_CUSTOM, "minimal": Way.PRELOAD_MINIMAL, "bottomed": Way.PRELOAD_BOTTOMED}
STEPS: dict[Way, tuple[str, ...]] = {
    Way.LASH: (
        "Turn the engine until the valve's follower stands on the base circle.",
        "Measure the lash with a gauge, then turn the adjuster as the row says and lock it.",
        "Measure again after locking: the lock nut moves it.",
    ),
    Way.BUCKET_SHIM: (
        "Measure every lash on the base circle, and every shim that comes out, before anything is moved.",
        "New shim = old shim + lash found \u2212 lash wanted; shims that come out serve other valves.",
        "Turn the engine twice by hand and measure again.",
    ),
    Way.PRELOAD_CUSTOM: (
        "On the base circle turn in until the pushrod just has no play: zero lash.",
        "From there turn in as the row says: half to one turn, judged by the plunger's depth.",
    ),
    Way.PRELOAD_MINIMAL: (
        "Let the plunger come up against its stop, on the base circle.",
        "Turn in to zero lash, then as the row says: just below the stop.",
    ),
    Way.PRELOAD_BOTTOMED: (
        "Bleed the follower down until its plunger is on its bottom; measure its whole travel, valve by valve.",
        "From the bottom back off as the row says.",
    ),
    Way.PUSHROD_LENGTH: (
        "With a checking pushrod measure how deep the plunger stands on the base circle.",
        "New length = old length + (depth wanted \u2212 depth found), along the pushrod.",
    ),
}


def setting_sheet(analysis: Analysis, order: Order = "cylinder") -> SettingSheet:
    """The worksheet of a job.

    Args:
        analysis: of the job.
        order: rows by cylinder, or as the cylinders fire.

    Returns:
        A row a valve; one row for the whole line where no valves are stated; faults at their fields.
    """
    way = way_of(analysis)
    if way is None:
        missing = ("follower.family",)
        return SettingSheet(way=None, rows=(), missing=missing)
    at = [
        ValveAt(analysis=analysis, index=index, line=_line_of(analysis, index)) for index in _ordered(analysis, order)
    ]
    problems: list[Problem] = []
    rows = bucket_rows(at, analysis, problems) if way is Way.BUCKET_SHIM else [_row(way, each, problems) for each in at]
    first = analysis.lines[0]
    change = first.figures.get("hot_lash_change")
    return SettingSheet(
        way=way,
        rows=tuple(rows),
        steps=tuple(Sentence(step) for step in STEPS[way]),
        lever=_lever(first),
        hot_change_computed=None if change is None else change.value,
        hot_change_custom=_custom(first),
        to_buy=tuple(sorted({row.new_shim for row in rows if row.buy and row.new_shim is not None})),
        problems=tuple(problems),
        missing=() if at else ("valves",),
    )


def way_of(analysis: Analysis) -> Way | None:
    """How the job's followers are set; None without a family."""
    values = analysis.stated.values
    family = str(values.get("follower.family") or "")
    at = values.get("valve_gear.adjuster.at")
    if not family:
        return None
    if family == "bucket" or at == "bucket-shim":
        return Way.BUCKET_SHIM
    if not family.endswith("hydraulic"):
        return Way.LASH
    if at == "none":
        return Way.PUSHROD_LENGTH
    return WAYS.get(str(values.get("follower.preload.way") or "custom"), Way.PRELOAD_CUSTOM)


def _line_of(analysis: Analysis, index: int) -> LineAnalysis:
    return analysis.line(analysis.job.valves[index].line)


def _ordered(analysis: Analysis, order: Order) -> list[int]:
    valves = analysis.job.valves
    places = list(in_cylinder_order(valves))
    firing = {cylinder: place for place, cylinder in enumerate(analysis.job.engine.firing_order)}
    if order == "firing" and firing:
        places.sort(key=lambda index: firing.get(cylinder_of(valves[index].id) or -1, len(firing)))
    return places


def _custom(line: LineAnalysis) -> float | None:
    """Cold less hot lash by the trade, turned round: what lash opens as it warms, m at the valve."""
    block, head = line.stated.value("valve_gear.block"), line.stated.value("valve_gear.head")
    found = corrections().get((str(block), str(head)))
    return None if found is None or line.stated.value("follower.family") == "bucket" else -found


def _lever(line: LineAnalysis) -> LeverShown | None:
    found = lever_of(Bench(line.stated, dict(line.figures)))
    if found is None:
        return None
    pitch, where, ratio, more = found
    try:
        turn = lever.turn_depth(pitch, where, ratio, **more)  # type: ignore[arg-type]
    except InputError:
        return None
    return LeverShown(
        exact=turn.exact, first_order=turn.first_order, pitch_times_ratio=turn.pitch_times_ratio,
        straight=turn.straight,
    )  # fmt: skip


def _row(way: Way, at: ValveAt, problems: list[Problem]) -> ValveSetting:
    if way is Way.LASH:
        return _lash_row(at)
    if way is Way.PUSHROD_LENGTH:
        return _pushrod_row(at)
    return _preload_row(way, at, problems)


# Lash by an adjuster


def _lash_row(at: ValveAt) -> ValveSetting:
    row = started(at)
    wanted = at.own("lash") if at.own("lash") is not None else at.value("valve_gear.lash")
    found, turner, missing = at.own("lash_found"), _turner(at.line), []
    if wanted is None:
        missing.append(at.line.stated.path("valve_gear.lash"))
    if turner is None:
        missing.append(at.line.stated.path("valve_gear.adjuster.thread"))
    if found is None:
        missing.append(at.path("lash_found"))
    row = replace(row, found=found, wanted=wanted, missing=tuple(missing))
    if found is None or wanted is None:
        return replace(
            row, level=Level.UNKNOWN, do=Sentence("Measure the lash." if found is None else "State the lash.")
        )
    if found <= 0:
        said = "No lash: the valve may be held open. Back off first, then measure."
        return replace(row, level=Level.STOP, do=Sentence(said))
    if abs(found - wanted) <= TOLERANCE:
        return replace(row, level=Level.CLEAR, after=found, turns=0.0, do=Sentence("Leave it."))
    turns = None if turner is None else turner.for_lash(found, wanted)
    if turns is None:
        return replace(row, level=Level.WATCH, do=_by_hand(found - wanted))
    return replace(row, level=Level.WATCH, after=wanted, turns=turns, do=turn_words(turns))


def _by_hand(off: float) -> Sentence:
    way = "Close the lash by {by}." if off > 0 else "Open the lash by {by}."
    return Sentence(way, {"by": Amount(abs(off), Kind.LENGTH)})


def turn_words(turns: float) -> Sentence:
    """An instruction such as "Turn in by 112.3 deg (0.312 turn)."."""
    way = "in" if turns > 0 else "out"
    amounts = {
        "angle": Amount(math.radians(360 * abs(turns)), Kind.ANGLE),
        "turns": Amount(round(abs(turns), 3), Plain.NUMBER),
    }
    return Sentence(f"Turn {way} by {{angle}} ({{turns}} turn).", amounts)


@dataclass(frozen=True, slots=True)
class _Turner:
    """The adjuster of a line: turns for depths and lashes, None where its lever cannot reach them."""

    pitch: float
    where: Adjuster
    ratio: float
    more: dict[str, Any]

    def for_depth(self, depth: float) -> float | None:
        """Turns past zero lash for a depth; below zero backs off."""
        with contextlib.suppress(InputError):
            return float(lever.turns_for(depth, self.pitch, self.where, self.ratio, **self.more))
        return None

    def for_lash(self, found: float, wanted: float) -> float | None:
        """Turns in from one lash to another."""
        with contextlib.suppress(InputError):
            both = lever.turns_for_lash(np.array([found, wanted]), self.pitch, self.where, self.ratio, **self.more)
            return float(both[0] - both[1])
        return None


def _turner(line: LineAnalysis) -> _Turner | None:
    """The adjuster; None without a thread that turns, or with arms that do not make its ratio."""
    found = lever_of(Bench(line.stated, dict(line.figures)))
    if found is None:
        return None
    pitch, where, ratio, more = found
    with contextlib.suppress(InputError):
        lever.turn_depth(pitch, cast("Adjuster", where), ratio, **more)
        return _Turner(pitch, cast("Adjuster", where), ratio, more)
    return None


# Preload


def _preload_row(way: Way, at: ValveAt, problems: list[Problem]) -> ValveSetting:
    row = started(at)
    travel = at.own("plunger_travel") or at.value("follower.plunger.travel")
    depth, found, turner = at.line.value("plunger_depth"), at.own("depth_found"), _turner(at.line)
    if way is Way.PRELOAD_BOTTOMED:
        return _bottomed_row(at, row)
    row = replace(row, travel=travel, wanted=depth, found=found)
    missing = [] if depth is not None else [at.line.stated.path("follower.preload.depth")]
    missing += [] if turner is not None else [at.line.stated.path("valve_gear.adjuster.thread")]
    missing += [] if found is not None else [at.path("depth_found")]
    if depth is None:
        return replace(row, level=Level.UNKNOWN, missing=tuple(missing), do=Sentence("State the depth that is wanted."))
    if found is not None and travel is not None and found > travel * (1 + 1e-9):
        where = Place(field=at.path("depth_found"))
        problems.append(
            Problem(what="The plunger stands deeper than its travel.", expected="its travel at most", place=where)
        )
        return replace(row, level=Level.STOP, do=Sentence("Measure again: deeper than the travel there is nothing."))
    if found is not None and abs(found - depth) <= TOLERANCE:
        return replace(row, level=Level.CLEAR, after=found, turns=0.0, do=Sentence("Leave it."))
    level = Level.UNKNOWN if found is None else Level.WATCH
    ends = (None, None) if turner is None else (turner.for_depth(depth), turner.for_depth(found or 0.0))
    if ends[0] is None or ends[1] is None:
        said = "Set the plunger {depth} deep."
        return replace(
            row, level=level, missing=tuple(missing), do=Sentence(said, {"depth": Amount(depth, Kind.LENGTH)})
        )
    turns = ends[0] - ends[1]
    words = turn_words(turns)
    words = _from("zero lash", words) if found is None else words
    return replace(row, level=level, after=depth, turns=turns, do=words, missing=tuple(missing))


def _bottomed_row(at: ValveAt, row: ValveSetting) -> ValveSetting:
    """Backed off from the bottom: every plunger has its own travel."""
    own, common = at.own("plunger_travel"), at.value("follower.plunger.travel")
    depth, turner = at.line.value("plunger_depth"), _turner(at.line)
    left = BACKED_OFF if common is None or depth is None else max(common - depth, 0.0)
    wanted = None if own is None else own - left
    row = replace(row, travel=own, wanted=wanted, found=at.own("depth_found"))
    if own is None:
        said = "Bleed it down and measure this plunger's own travel."
        return replace(row, level=Level.UNKNOWN, missing=(at.path("plunger_travel"),), do=Sentence(said))
    out = None if turner is None else turner.for_depth(left)
    if out is None:
        words = Sentence("Back off from the bottom by {left}.", {"left": Amount(left, Kind.LENGTH)})
        return replace(row, level=Level.WATCH, after=wanted, do=words)
    return replace(row, level=Level.WATCH, after=wanted, turns=-out, do=_from("the bottom", turn_words(-out)))


def _from(where: str, words: Sentence) -> Sentence:
    return Sentence(f"From {where}: {words.template[:1].lower()}{words.template[1:]}", words.amounts)


def _pushrod_row(at: ValveAt) -> ValveSetting:
    row = started(at)
    depth, found, old = at.line.value("plunger_depth"), at.own("depth_found"), at.value("valve_gear.pushrod.length")
    row = replace(
        row, found=found, wanted=depth, travel=at.own("plunger_travel") or at.value("follower.plunger.travel")
    )
    missing = [] if found is not None else [at.path("depth_found")]
    missing += [] if depth is not None else [at.line.stated.path("follower.preload.depth")]
    missing += [] if old is not None else [at.line.stated.path("valve_gear.pushrod.length")]
    if found is None or depth is None or old is None:
        said = "Measure the plunger's depth with a checking pushrod." if found is None else "State depth and length."
        return replace(row, level=Level.UNKNOWN, missing=tuple(missing), do=Sentence(said))
    if abs(found - depth) <= TOLERANCE:
        return replace(row, level=Level.CLEAR, after=found, pushrod=old, do=Sentence("Leave it."))
    lean = at.value("valve_gear.adjuster.pushrod_lean") or 0.0
    count = len(at.analysis.job.pushrods_in_stock)
    stock = [at.analysis.stated.values.get(f"pushrods_in_stock.{place}") for place in range(count)]
    known = np.array([each for each in stock if each is not None], dtype=np.float64)
    try:
        ideal = float(pushrod_length(old, found, depth, lean))
        nearest = known[np.argmin(np.abs(known - ideal))] if known.size else ideal
        best, after = float(nearest), float(depth_with_pushrod(nearest, old, found, lean))
    except InputError as error:
        why = f"{error.what[:1].upper()}{error.what[1:]}.".replace("{", "{{").replace("}", "}}")
        return replace(row, level=Level.UNKNOWN, do=Sentence(why))
    amounts = {
        "length": Amount(best, Kind.LENGTH),
        "depth": Amount(after, Kind.LENGTH),
        "ideal": Amount(ideal, Kind.LENGTH),
    }
    said = "A pushrod of {length}: the plunger then stands {depth} deep."
    said += " Best would be {ideal}." if known.size else ""
    return replace(row, level=Level.WATCH, after=after, pushrod=best, buy=not known.size, do=Sentence(said, amounts))
