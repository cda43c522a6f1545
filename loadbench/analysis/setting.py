"""Plunger depth and lash of one line, as set and as they become when the engine is warm."""

from __future__ import annotations

from typing import Any

from loadbench.analysis.builder import Bench
from loadbench.analysis.figure import Figure, Input, Plain
from loadbench.errors import InputError
from loadbench.follower.setting import Adjuster, depth_per_turn
from loadbench.units import Kind, parse_thread

TURNING: tuple[Adjuster, ...] = ("pivot", "pushrod", "valve-tip")


def turn_depth(bench: Bench) -> tuple[Input | None, tuple[str, ...]]:
    """How far one turn of the adjuster moves the plunger, and what is missing for it."""
    line = bench.line
    at, thread = line.value("valve_gear.adjuster.at"), line.value("valve_gear.adjuster.thread")
    ratio = bench.found("R", "ratio")
    missing = bench.lacking("valve_gear.adjuster.at", "valve_gear.adjuster.thread", "ratio")
    if missing or ratio is None or at not in TURNING:
        return None, missing or (line.path("valve_gear.adjuster.at"),)
    try:
        pitch = parse_thread(thread)
    except InputError:
        return None, (line.path("valve_gear.adjuster.thread"),)
    value = float(depth_per_turn(pitch, at, ratio.value))
    return Input(
        symbol="turn", label="depth a turn", value=value, kind=Kind.LENGTH, field="valve_gear.adjuster.thread"
    ), ()


def depth_from_turns(bench: Bench) -> Figure:
    """Plunger depth as set cold: as stated, else turns times the depth of a turn."""
    common: dict[str, Any] = {"name": "plunger_depth", "label": "Plunger depth, cold", "kind": Kind.LENGTH}
    depth = bench.stated("depth", "plunger depth", "follower.preload.depth", Kind.LENGTH)
    if depth:
        return Figure(**common, value=depth.value, formula="depth = {depth}", inputs=(depth,), evidence="as stated")
    if bench.line.faulty("follower.preload.depth"):
        return Figure(**common, missing=(bench.line.path("follower.preload.depth"),))
    turns = bench.stated("turns", "turns past zero lash", "follower.preload.turns", Plain.NUMBER)
    if not turns:
        return Figure(**common, missing=(bench.line.path("follower.preload.depth"),))
    turn, missing = turn_depth(bench)
    if turn is None:
        return Figure(**common, missing=missing)
    value = turns.value * turn.value
    return Figure(
        **common, value=value, formula="depth = {turns} \u00d7 {turn}", inputs=(turns, turn), evidence="from the turns"
    )
