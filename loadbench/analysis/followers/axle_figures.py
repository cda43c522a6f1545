"""The roller's axle: needles, bush and pin under what the follower carries over the cycle."""

from __future__ import annotations

import math
from typing import NamedTuple

import numpy as np

from loadbench.analysis.builder import Bench
from loadbench.analysis.coils.kept import kept
from loadbench.analysis.figure import Figure, FigureKind, Plain
from loadbench.analysis.followers.adding import Chapter
from loadbench.analysis.followers.contact_figures import rested, rolls
from loadbench.analysis.followers.oil_stated import OilStated
from loadbench.analysis.followers.result import Cycle
from loadbench.analysis.motion.held_lift import Same
from loadbench.analysis.motion.result import MotionAnalysis
from loadbench.arrays import Floats
from loadbench.errors import InputError
from loadbench.follower import axle_pin, bush, needle, needle_oil
from loadbench.follower.bush_film import Oiled, film_over_turn
from loadbench.units import Kind

LABELS: dict[str, tuple[str, FigureKind]] = {
    "needle_places": ("Needles that fit round the axle", Plain.COUNT),
    "needle_dynamic_rating": ("Needles, dynamic rating", Kind.FORCE),
    "needle_static_rating": ("Needles, static rating", Kind.FORCE),
    "needle_equivalent_load": ("Axle load that wears as the duty does", Kind.FORCE),
    "needle_life": ("Needle life, nine of ten reach it", Kind.LIFE),
    "needle_kappa": ("Oil's viscosity over what the needles ask for, idling", Plain.NUMBER),
    "needle_life_factor": ("Life factor of oil and cleanliness, idling", Plain.NUMBER),
    "needle_life_oil": ("Needle life with the oil's factor", Kind.LIFE),
    "needle_static_safety": ("Needles, static safety at the highest load", Plain.NUMBER),
    "axle_load": ("Highest load on the axle", Kind.FORCE),
    "bush_pressure": ("Bush pressure at the highest load", Kind.STRESS),
    "bush_speed": ("Bush sliding speed at the speed limit", Kind.VELOCITY),
    "bush_pv": ("Bush pressure times speed, mean over the turn", Kind.PV),
    "bush_film_idle": ("Least oil film in the bush, idling", Kind.FILM),
    "bush_film_ratio_idle": ("Bush film over roughness, idling", Plain.NUMBER),
    "bush_film_ratio_limit": ("Bush film over roughness at the speed limit", Plain.NUMBER),
    "pin_stress": ("Bending stress of the axle pin", Kind.STRESS),
    "pin_shear": ("Shear stress of the axle pin", Kind.STRESS),
    "pin_safety": ("Axle pin, yield over stress", Plain.NUMBER),
}
NEEDLES = ("needle_dynamic_rating", "needle_static_rating")
LIVES = ("needle_equivalent_load", "needle_life", "needle_kappa", "needle_life_factor", "needle_life_oil")
BUSH = tuple(name for name in LABELS if name.startswith("bush_"))
PIN = ("pin_stress", "pin_shear", "pin_safety")
FIELDS = (
    "follower.axle", "follower.oil_feed", "follower.roller_diameter", "cam.base_radius",
    *(f"follower.needles.{name}" for name in ("count", "diameter", "length", "axle_diameter")),
    *(f"follower.bush.{name}" for name in ("bore", "length", "clearance", "material")),
    *(f"follower.pin.{name}" for name in ("span", "bore", "material")),
    "duty.idle_share", "duty.idle_speed", "duty.speed_limit",
)  # fmt: skip

BUSH_ROUGHNESS = math.hypot(0.2e-6, 0.4e-6)
"""Of pin and bush together, Rq, m. Source: common practice, from memory."""


class Turning(NamedTuple):
    """Load on the axle, N, and spin of the roller, rad/s, at each angle of one cycle."""

    load: Floats
    spin: Floats


def add_axle(bench: Bench, idle: Cycle | None, limit: Cycle | None, motion: MotionAnalysis, oil: OilStated) -> None:
    """The figures of a roller's axle, as they were where nothing that they rest on has changed.

    Args:
        bench: the line.
        idle: what the follower carries at idle.
        limit: at the speed limit.
        motion: of the line.
        oil: of the job.
    """
    if not rolls(bench):
        return
    line = bench.line
    token = (
        Same(motion.idle), Same(motion.limit), Same(motion.shown), oil, *map(rested, (idle, limit)),
        bench.lacking("follower_open_load"),
        *(line.value(field) for field in FIELDS),
    )  # fmt: skip

    def make() -> tuple[Figure, ...]:
        chapter = Chapter(LABELS)
        _axle(bench, chapter, idle, limit, oil)
        return tuple(chapter.figures)

    for figure in kept("axle", line.name, token, make):
        bench.add(figure)


def _axle(bench: Bench, chapter: Chapter, idle: Cycle | None, limit: Cycle | None, oil: OilStated) -> None:
    greatest = max((float(each.axle.max()) for each in (idle, limit) if each is not None), default=None)
    static = any(each is not None and each.static for each in (idle, limit))
    note = "From the static load at full lift: the lobe's motion is not known." if static else ""
    waits = bench.lacking("duty.idle_speed", "duty.speed_limit", "follower_open_load") if greatest is None else ()
    chapter.add("axle_load", greatest, missing=waits, note=note, formula="contact less the roller's inertia")
    _needles(bench, chapter, (idle, limit), greatest, oil, note)
    _bush(bench, chapter, (idle, limit), greatest, oil, note)
    _pin(bench, chapter, greatest, note)


def turning(bench: Bench, cycle: Cycle | None) -> Turning | None:
    """Load and spin over a cycle; the spin on the base circle where the lobe's motion is not known."""
    if cycle is None:
        return None
    if cycle.spin is not None:
        return Turning(cycle.axle, np.abs(cycle.spin))
    base, roller = bench.line.value("cam.base_radius"), bench.line.value("follower.roller_diameter")
    if base is None or roller is None:
        return None
    return Turning(cycle.axle, np.full_like(cycle.axle, cycle.speed / 2 * base / (roller / 2)))


# Needles


def _needles(
    bench: Bench, chapter: Chapter, cycles: tuple[Cycle | None, Cycle | None], greatest: float | None, oil: OilStated,
    note: str,
) -> None:  # fmt: skip
    line = bench.line
    fields = tuple(f"follower.needles.{name}" for name in ("count", "diameter", "length", "axle_diameter"))
    count, diameter, length, axle = (line.value(field) for field in fields)
    source = "iso-281"
    missing = bench.lacking(*fields)
    if diameter is not None and axle is not None:
        chapter.add("needle_places", needle.most_needles(diameter, axle + diameter), formula="\u03c0 / arcsin(D / D_p)")
    if missing:
        chapter.unknown((*NEEDLES, *LIVES, "needle_static_safety"), missing)
        return
    pitch = axle + diameter
    try:
        needle.checked_count(count, diameter, pitch)
    except InputError as error:
        told = f"{error.what[:1].upper()}{error.what[1:]}; wanted: {error.expected}."
        chapter.unknown((*NEEDLES, *LIVES, "needle_static_safety"), (fields[0],), told)
        return
    rating = float(needle.dynamic_rating(count, diameter, length, pitch))
    static = float(needle.static_rating(count, diameter, length, pitch))
    table = "" if math.isfinite(rating) else "The needles are outside the standard's table for their circle."
    chapter.add(
        "needle_dynamic_rating", rating, source=source, formula="b_m f_c L^(7/9) Z^(3/4) D^(29/27)",
        note=table or "Without a cage, factor b_m of drawn cups.",
    )  # fmt: skip
    chapter.add("needle_static_rating", static, source="iso-76", formula="44 (1 \u2212 D / D_p) Z L D")
    safety = None if greatest is None else float(needle.static_safety(static, greatest))
    chapter.add(
        "needle_static_safety", safety, source="iso-76", formula="C_0 / F", note=note,
        missing=() if safety is not None else bench.lacking("duty.speed_limit", "follower_open_load"),
    )  # fmt: skip
    _lives(bench, chapter, cycles, (rating, static, pitch), oil, note)


def _lives(
    bench: Bench, chapter: Chapter, cycles: tuple[Cycle | None, Cycle | None], of: tuple[float, float, float],
    oil: OilStated, note: str,
) -> None:  # fmt: skip
    rating, static, pitch = of
    share = bench.line.value("duty.idle_share")
    idle, limit = (turning(bench, each) for each in cycles)
    if limit is None or (share and idle is None) or not math.isfinite(rating):
        wanting = bench.lacking("duty.speed_limit", "cam.base_radius", "follower.roller_diameter", "follower_open_load")
        wanting += bench.lacking("duty.idle_speed") if share else ()
        chapter.unknown(LIVES, wanting)
        return
    parts = [(limit, 1.0 - (share or 0.0))] + ([(idle, float(share))] if share and idle is not None else [])
    loads = np.concatenate([each.load for each, _ in parts])
    spins = np.concatenate([each.spin for each, _ in parts])
    shares = np.concatenate([np.full(each.load.size, part / each.load.size) for each, part in parts])
    load = float(needle.equivalent_load(loads, spins, shares))
    mean = float(np.sum(spins * shares))
    said = "All but the idle share at the speed limit." if share is not None else "No idle share: all at the limit."
    told = " ".join(each for each in (said, note) if each)
    rest = {"source": "iso-281", "note": told}
    chapter.add("needle_equivalent_load", load, formula="(\u03a3 P^p n q / \u03a3 n q)^(1/p), p = 10/3", **rest)
    life = float(needle.life_seconds(needle.rating_life(rating, load), mean))
    chapter.add("needle_life", life, formula="10\u2076 (C / P)^(10/3) turns", **rest)
    slow = idle or limit
    speed = float(np.mean(slow.spin))
    if oil.kinematic is None or not speed:
        chapter.unknown(LIVES[2:], oil.missing)
        return
    kappa = oil.kinematic / float(needle_oil.reference_viscosity(speed, pitch))
    limit_load = float(needle_oil.fatigue_limit_load(static))
    factor = float(needle_oil.life_factor(kappa, needle_oil.CONTAMINATION, limit_load, load))
    oils = {"source": "iso-281", "evidence": oil.evidence}
    chapter.add("needle_kappa", kappa, formula="\u03bd / \u03bd\u2081", note=oil.note, **oils)
    unclean = "Contamination factor 0.3: engine oil behind a full-flow filter (common practice)."
    none = "" if math.isfinite(factor) else " Below a viscosity ratio of 0.1 the standard gives no factor."
    chapter.add("needle_life_factor", factor, formula="a_ISO(\u03ba, e_C C_u / P)", note=unclean + none, **oils)
    chapter.add("needle_life_oil", factor * life, formula="a_ISO L", note=unclean + none, **oils)


# Bush


def _bush(
    bench: Bench, chapter: Chapter, cycles: tuple[Cycle | None, Cycle | None], greatest: float | None, oil: OilStated,
    note: str,
) -> None:  # fmt: skip
    line = bench.line
    fields = ("follower.bush.bore", "follower.bush.length")
    bore, length = (line.value(field) for field in fields)
    missing = bench.lacking(*fields)
    if missing:
        if line.value("follower.axle") == "bushed" or bore is not None or length is not None:
            chapter.unknown(BUSH, missing)
        return
    waits = () if greatest is not None else bench.lacking("duty.speed_limit", "follower_open_load")
    pressure = None if greatest is None else float(bush.bush_pressure(greatest, length, bore))
    chapter.add("bush_pressure", pressure, source="mott", formula="F / (L d)", note=note, missing=waits)
    idle, limit = (turning(bench, each) for each in cycles)
    unturned = bench.lacking("duty.speed_limit", "cam.base_radius", "follower.roller_diameter")
    speed = None if limit is None else float(bush.surface_speed(bore, float(np.mean(limit.spin))))
    chapter.add("bush_speed", speed, source="mott", formula="\u03c0 d n", note=note, missing=() if limit else unturned)
    works = [
        float(np.mean(bush.bush_pressure(each.load, length, bore) * bush.surface_speed(bore, each.spin)))
        for each in (idle, limit)
        if each is not None
    ]
    chapter.add(
        "bush_pv", max(works, default=None), source="mott", formula="mean of p v, idling or at the limit", note=note,
        missing=() if works else unturned,
    )  # fmt: skip
    _bush_films(bench, chapter, (idle, limit), (bore, length), oil)


def _bush_films(
    bench: Bench, chapter: Chapter, turnings: tuple[Turning | None, Turning | None], sizes: tuple[float, float],
    oil: OilStated,
) -> None:  # fmt: skip
    bore, length = sizes
    clearance = bench.line.value("follower.bush.clearance")
    missing = (*bench.lacking("follower.bush.clearance"), *oil.missing)
    names = (("bush_film_idle", "bush_film_ratio_idle"), (None, "bush_film_ratio_limit"))
    for each, (of_film, of_ratio), field in zip(turnings, names, ("duty.idle_speed", "duty.speed_limit"), strict=True):
        thick = None
        wanting = missing if each is not None else (*missing, *bench.lacking(field, "cam.base_radius"))
        note = oil.note
        if each is not None and clearance and oil.dynamic is not None:
            thick, note = _film(each, (bore, length, clearance / 2), oil)
        rest = {"source": "raimondi-boyd", "evidence": oil.evidence, "note": note, "missing": wanting}
        if of_film:
            chapter.add(of_film, thick, formula="c (1 \u2212 \u03b5) at S = (r/c)\u00b2 \u03b7 N / P", **rest)
        share = None if thick is None else thick / BUSH_ROUGHNESS
        chapter.add(of_ratio, share, formula="h / Rq of pin and bush, as is typical", **rest)


def _film(each: Turning, sizes: tuple[float, float, float], oil: OilStated) -> tuple[float, str]:
    """Thinnest film of the cycle, m, and what to say of it."""
    if not np.any(each.load > 0) or not np.any(each.spin) or oil.dynamic is None:
        return math.nan, "Nothing turns or nothing presses."
    found = film_over_turn(np.maximum(each.load, 0.0), each.spin, Oiled(*sizes, oil.dynamic, BUSH_ROUGHNESS))
    if bool(found.inside):
        return float(found.film), oil.note
    return float(
        found.film
    ), f"So thin that it lies below the tables; there it falls as fast as load rises. {oil.note}".strip()


# Pin


def _pin(bench: Bench, chapter: Chapter, greatest: float | None, note: str) -> None:
    line = bench.line
    bushed = line.value("follower.axle") == "bushed"
    sizes = ("follower.bush.bore", "follower.bush.length") if bushed else (
        "follower.needles.axle_diameter", "follower.needles.length"
    )  # fmt: skip
    diameter, loaded = (line.value(field) for field in sizes)
    span, hole = line.value("follower.pin.span"), line.value("follower.pin.bore") or 0.0
    missing = bench.lacking(*sizes, "follower.pin.span")
    if missing or greatest is None:
        chapter.unknown(PIN, missing or bench.lacking("duty.speed_limit", "follower_open_load"))
        return
    try:
        found = axle_pin.pin_stress(greatest, diameter, span, loaded, hole)
    except InputError as error:
        told = f"{error.what[:1].upper()}{error.what[1:]}; wanted: {error.expected}."
        chapter.unknown(PIN, (f"follower.pin.{error.place.field or 'span'}",), told)
        return
    rest = {"source": "shigley", "note": note}
    chapter.add("pin_stress", float(found.bending), formula="F/2 (l/2 \u2212 a/4) d/2 / I", **rest)
    chapter.add("pin_shear", float(found.shear), formula="peak of F/2 over the section", **rest)
    known = axle_pin.yield_of(line.value("follower.pin.material"))
    strength = None if known is None else known[1]
    safety = None if strength is None else strength / float(found.equivalent)
    said = "Its yield strength is not known." if known is None else f"Yield as of {known[0]}, from memory."
    chapter.add(
        "pin_safety", safety, source="common practice", formula="R_e / \u03c3", note=f"{said} {note}".strip(),
        missing=() if safety is not None else ("follower.pin.material",),
    )  # fmt: skip
