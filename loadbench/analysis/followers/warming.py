"""The setting in turns, and what becomes of it as the engine warms."""

from __future__ import annotations

from typing import Any

from loadbench.analysis.builder import Bench
from loadbench.analysis.figure import FigureKind, Plain
from loadbench.analysis.followers.adding import Chapter
from loadbench.analysis.setting import TURNING
from loadbench.errors import InputError
from loadbench.follower import expansion, lever
from loadbench.units import Kind, parse_thread

LABELS: dict[str, tuple[str, FigureKind]] = {
    "depth_a_turn": ("Plunger depth a turn, by the lever's geometry", Kind.LENGTH),
    "adjuster_turns": ("Turns of the adjuster past zero lash", Plain.NUMBER),
    "hot_lash_change": ("Change of lash as it warms, from lengths and materials", Kind.LENGTH),
    "plunger_depth_hot": ("Plunger depth, warm, from lengths and materials", Kind.LENGTH),
}
WARMING = "valve_gear.warming."
STEEL = ("carbon steel", 11.7e-6)
VALVE_STEEL = 12.3e-6
"""Expansion of a valve's stem, 1/K. Source: callister, alloy steel (memory)."""


def add_setting(bench: Bench) -> None:
    """The figures of the setting that a family has.

    Args:
        bench: the line, with ratio and depth found.
    """
    chapter = Chapter(LABELS)
    family = str(bench.line.value("follower.family") or "")
    if family != "bucket":
        _turns(bench, chapter, hydraulic=family.endswith("hydraulic"))
    change = _change(bench, chapter, bucket=family == "bucket")
    if family.endswith("hydraulic"):
        _hot(bench, chapter, change)
    chapter.into(bench)


def lever_of(bench: Bench) -> tuple[float, str, float, dict[str, Any]] | None:
    """Pitch, place, ratio and geometry of the adjuster; None where it cannot be had or turns nothing."""
    line = bench.line
    at, thread, ratio = (
        line.value("valve_gear.adjuster.at"), line.value("valve_gear.adjuster.thread"), bench.value("ratio"),
    )  # fmt: skip
    if at not in TURNING or thread is None or ratio is None:
        return None
    try:
        pitch = parse_thread(thread)
    except InputError:
        return None
    valve, pushrod = line.value("valve_gear.masses.rocker_valve_arm"), line.value("valve_gear.adjuster.pushrod_arm")
    more = {
        "arms": (valve, pushrod) if valve and pushrod else None,
        "cup_angle": line.value("valve_gear.adjuster.cup_angle") or 0.0,
        "lean": line.value("valve_gear.adjuster.pushrod_lean") or 0.0,
    }
    return pitch, at, ratio, more


def _turns(bench: Bench, chapter: Chapter, *, hydraulic: bool) -> None:
    line = bench.line
    found = lever_of(bench)
    missing = bench.lacking("valve_gear.adjuster.at", "valve_gear.adjuster.thread", "ratio")
    names = ("depth_a_turn", "adjuster_turns") if hydraulic else ("depth_a_turn",)
    if found is None:
        note = "" if missing else "There is no adjuster that turns, or its thread cannot be read."
        chapter.unknown(names, missing, note)
        return
    pitch, at, ratio, more = found
    try:
        turn = lever.turn_depth(pitch, at, ratio, **more)  # type: ignore[arg-type]
    except InputError as error:
        field = f"valve_gear.adjuster.{error.place.field or 'pushrod_arm'}"
        chapter.unknown(names, (line.path(field),), f"{error.what[:1].upper()}{error.what[1:]}.")
        return
    off = turn.pitch_times_ratio / turn.exact - 1
    note = f"Pitch times ratio would tell {100 * off:+.0f} %.".replace("-", "\u2212")
    chapter.add("depth_a_turn", turn.exact, formula="exact motion of the cup for one pitch", note=note)
    if not hydraulic:
        return
    stated, depth = line.value("follower.preload.turns"), bench.value("plunger_depth")
    if stated is not None and line.value("follower.preload.depth") is None:
        chapter.add("adjuster_turns", float(stated), evidence="as stated")
        return
    if depth is None:
        chapter.add("adjuster_turns", None, missing=bench.lacking("plunger_depth"))
        return
    try:
        turns = float(lever.turns_for(depth, pitch, at, ratio, **more))  # type: ignore[arg-type]
    except InputError as error:
        told = f"{error.what[:1].upper()}{error.what[1:]}; wanted: {error.expected}."
        chapter.unknown(("adjuster_turns",), (line.path("follower.preload.depth"),), told)
        return
    chapter.add("adjuster_turns", turns, formula="turns whose exact motion makes the depth", evidence="from the depth")


def _change(bench: Bench, chapter: Chapter, *, bucket: bool) -> float | None:
    """How lash at the valve changes from cold to warm, m; above zero it opens."""
    line = bench.line
    cold, warm = line.value(f"{WARMING}cold"), line.value(f"{WARMING}warm")
    if bucket:
        return _stem(bench, chapter, cold, warm)
    fields = (f"{WARMING}head_height", f"{WARMING}block_height", "valve_gear.pushrod.length")
    head, block, rod = (line.value(field) for field in fields)
    materials = ("valve_gear.head", "valve_gear.block")
    missing = bench.lacking(f"{WARMING}cold", f"{WARMING}warm", *fields, *materials, "ratio")
    if missing:
        chapter.add("hot_lash_change", None, missing=missing)
        return None
    of_head, of_block = (expansion.coefficient(line.value(field)) or STEEL for field in materials)
    of_rod = expansion.coefficient(line.value("valve_gear.pushrod.material")) or STEEL
    follower = max(head + block - rod, 0.0)
    at_rod = float(
        expansion.pushrod_change(
            (head, of_head[1]), (block, of_block[1]), (rod, of_rod[1]), (follower, STEEL[1]), warm - cold
        )
    )
    change = at_rod * (bench.value("ratio") or 1.0)
    note = f"Head as {of_head[0]}, block as {of_block[0]}, pushrod as {of_rod[0]}, follower as steel, all equally warm."
    return chapter.add(
        "hot_lash_change", change, source="callister", note=note,
        formula="R \u0394T (\u03b1_h H + \u03b1_b B \u2212 \u03b1_p L \u2212 \u03b1_f F)",
    )  # fmt: skip


def _stem(bench: Bench, chapter: Chapter, cold: float | None, warm: float | None) -> float | None:
    line = bench.line
    fields = (f"{WARMING}stem_length", f"{WARMING}stem_warm")
    length, hot = (line.value(field) for field in fields)
    missing = bench.lacking(f"{WARMING}cold", f"{WARMING}warm", *fields, "valve_gear.head")
    if missing or cold is None or warm is None or length is None or hot is None:
        chapter.add("hot_lash_change", None, missing=missing)
        return None
    head = expansion.coefficient(line.value("valve_gear.head")) or STEEL
    change = float(expansion.stem_change((length, VALVE_STEEL), hot - cold, (length, head[1]), warm - cold))
    return chapter.add(
        "hot_lash_change", change, source="callister", formula="\u03b1_h L \u0394T_h \u2212 \u03b1_v L \u0394T_v",
        note=f"Head as {head[0]}, stem as alloy steel at its mean temperature.",
    )  # fmt: skip


def _hot(bench: Bench, chapter: Chapter, change: float | None) -> None:
    depth, ratio = bench.value("plunger_depth"), bench.value("ratio")
    if change is None or depth is None or ratio is None:
        missing = (*bench.lacking("plunger_depth", "ratio"), *chapter.figures[-1].missing)
        chapter.add("plunger_depth_hot", None, missing=missing)
        return
    value = depth + float(expansion.depth_change(change, ratio))
    chapter.add("plunger_depth_hot", value, formula="depth \u2212 \u0394 / R", source="callister")
