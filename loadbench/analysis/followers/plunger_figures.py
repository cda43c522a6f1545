"""The plunger of a hydraulic follower: its oil as a spring, leak-down, pump-up; and the two travels side by side."""

from __future__ import annotations

import numpy as np

from loadbench.analysis.builder import Bench
from loadbench.analysis.coils.kept import kept
from loadbench.analysis.figure import Figure, FigureKind
from loadbench.analysis.followers.adding import Chapter
from loadbench.analysis.followers.oil_stated import OilStated
from loadbench.analysis.followers.result import TravelShown
from loadbench.analysis.motion.held_lift import Same
from loadbench.analysis.motion.result import MotionAnalysis
from loadbench.arrays import Floats
from loadbench.errors import InputError
from loadbench.follower import plunger
from loadbench.units import Kind

LABELS: dict[str, tuple[str, FigureKind]] = {
    "plunger_stiffness": ("Stiffness of the oil under the plunger", Kind.RATE),
    "plunger_squeeze": ("Give of the oil from seat to full load", Kind.LENGTH),
    "leak_down_time": ("Leak-down time to the bottom, held at full lift", Kind.TIME),
    "leak_lift_loss": ("Valve lift lost to leakage over one event at the speed limit", Kind.LENGTH),
    "pump_up_lift": ("Valve held open when pumped up", Kind.LENGTH),
    "pump_up_recovery": ("Time to press a pump-up out again", Kind.TIME),
}
SIZES = tuple(f"follower.plunger.{name}" for name in ("diameter", "travel", "clearance", "length"))
MORE = ("follower.plunger.chamber", "follower.plunger.air_share", "follower.travel")
OTHER = {"standard": (0.140 * 0.0254, 0.040 * 0.0254), "short": (0.060 * 0.0254, 0.0125 * 0.0254)}
"""Travel and depth that are usual, m. Source: common practice."""


def add_plunger(bench: Bench, motion: MotionAnalysis, oil: OilStated) -> tuple[TravelShown, ...]:
    """The figures of the plunger, as they were where nothing that they rest on has changed.

    Args:
        bench: the line, with loads and depth found.
        motion: of the line.
        oil: of the job.

    Returns:
        The stated travel and the other one, at the same load and speed; none without a plunger.
    """
    line = bench.line
    if not str(line.value("follower.family") or "").endswith("hydraulic"):
        return ()
    names = ("follower_seat_load", "follower_open_load", "plunger_depth", "ratio")
    token = (
        Same(motion.limit), oil, bench.lacking(*names), *(bench.value(name) for name in names),
        *(line.value(field) for field in (*SIZES, *MORE)),
    )  # fmt: skip

    def make() -> tuple[tuple[TravelShown, ...], tuple[Figure, ...]]:
        chapter = Chapter(LABELS)
        return _plunger(bench, chapter, motion, oil), tuple(chapter.figures)

    shown, figures = kept("plunger", line.name, token, make)
    for figure in figures:
        bench.add(figure)
    return shown


def _plunger(bench: Bench, chapter: Chapter, motion: MotionAnalysis, oil: OilStated) -> tuple[TravelShown, ...]:
    line = bench.line
    diameter, travel, clearance, length = (line.value(field) for field in SIZES)
    seat, full = bench.value("follower_seat_load"), bench.value("follower_open_load")
    depth, ratio = bench.value("plunger_depth"), bench.value("ratio")
    names = ("follower_seat_load", "follower_open_load", "plunger_depth", "ratio")
    missing = (*bench.lacking(*SIZES, *names), *oil.missing)
    if missing or seat is None or full is None or depth is None or ratio is None or oil.dynamic is None:
        chapter.unknown(tuple(LABELS), missing)
        return ()
    typical, dead, air = [], line.value(MORE[0]), line.value(MORE[1])
    if dead is None:
        typical.append("the oil left under a bottomed plunger")
    if air is None:
        typical.append("2 % of air in the oil")
    more = (plunger.DEAD_HEIGHT if dead is None else dead, plunger.AIR_SHARE if air is None else air)
    event, static = _event(motion, full)
    try:
        sizes = plunger.Sizes(diameter, travel, clearance / 2, length, *more)
        found = plunger.behaviour(sizes, depth, seat, full, event, oil.dynamic)
    except InputError as error:
        told = f"{error.what[:1].upper()}{error.what[1:]}; wanted: {error.expected}."
        field = "follower.preload.depth" if error.place.field == "depth" else SIZES[1]
        chapter.unknown(tuple(LABELS), (line.path(field),), told)
        return ()
    _add(chapter, found, ratio, oil, (typical, static))
    return _travels(bench, (diameter, clearance / 2, length), more, (seat, full, ratio), (event, oil.dynamic), found)


def _event(motion: MotionAnalysis, full: float) -> tuple[tuple[Floats, Floats], bool]:
    """Load on the plunger and time while the valve is open, at the speed limit; nothing without a lobe."""
    limit, shown = motion.limit, motion.shown
    if limit is None or shown is None:
        return (np.array([full]), np.zeros(1)), True
    open_ = shown.net > 0
    return (np.maximum(limit.pushrod, 0.0)[open_], shown.angles[open_] / (limit.speed / 2)), False


def _add(
    chapter: Chapter, found: plunger.Behaviour, ratio: float, oil: OilStated, said: tuple[list[str], bool],
) -> None:  # fmt: skip
    typical, static = said
    told = f"Not stated, taken as is typical: {', '.join(typical)}." if typical else ""
    oily = {"source": "merritt", "note": told}
    leaks = {"source": "rabie", "evidence": oil.evidence}
    chapter.add("plunger_stiffness", found.stiffness, formula="B A / h", **oily)
    chapter.add("plunger_squeeze", found.squeeze, formula="h (\u0394V / V) of oil and air", **oily)
    centred = "A plunger against its bore's wall leaks 2.5 times as fast."
    chapter.add("leak_down_time", found.leak_down_time, formula="A x / Q, Q = \u03c0 d c\u00b3 \u0394p / (12 \u03b7 L)",
                note=f"{centred} {oil.note}".strip(), **leaks)  # fmt: skip
    lost = None if static else found.lift_loss * ratio
    chapter.add(
        "leak_lift_loss", lost, formula="R \u222b Q / A dt",
        note="It never widens a margin: net lift takes it as none.",
        missing=() if lost is not None else ("cam.durations",), **leaks,
    )  # fmt: skip
    chapter.add(
        "pump_up_lift", found.pump_up * ratio, formula="R \u00d7 depth", source="own derivation",
        note="A plunger can only rise by the depth that it was set to.",
    )  # fmt: skip
    chapter.add(
        "pump_up_recovery", found.recovery_time, formula="A depth / Q under the seat load", note=oil.note, **leaks,
    )  # fmt: skip


def _travels(
    bench: Bench, gap: tuple[float, float, float], more: tuple[float, float], loads: tuple[float, float, float],
    run: tuple[tuple[Floats, Floats], float], of_stated: plunger.Behaviour,
) -> tuple[TravelShown, ...]:  # fmt: skip
    """Standard and short travel side by side: the stated one with its own sizes, the other as is usual."""
    seat, full, ratio = loads
    event, viscosity = run
    stated, depth = bench.line.value("follower.plunger.travel"), bench.value("plunger_depth") or 0.0
    kind = bench.line.value("follower.travel") or ("short" if stated < 0.1 * 0.0254 else "standard")
    shown = []
    for name, usual in OTHER.items():
        own = name == kind
        travel, set_at = (stated, depth) if own else usual
        sizes = plunger.Sizes(gap[0], travel, gap[1], gap[2], *more)
        found = of_stated if own else plunger.behaviour(sizes, set_at, seat, full, event, viscosity)
        shown.append(
            TravelShown(
                name=name, travel=travel, depth=set_at, stiffness=found.stiffness, squeeze=found.squeeze,
                leak_down_time=found.leak_down_time, lift_loss=found.lift_loss * ratio, pump_up=found.pump_up * ratio,
                recovery_time=found.recovery_time, stated=own,
            )
        )  # fmt: skip
    return tuple(shown)
