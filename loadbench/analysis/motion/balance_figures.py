"""Figures of the force balance: speed of first separation, margin to the speed limit, least and greatest force."""

from __future__ import annotations

import math

import numpy as np

from loadbench.analysis.builder import Bench, inputs_of
from loadbench.analysis.coils.kept import kept
from loadbench.analysis.figure import Figure, FigureKind, Input, Plain
from loadbench.analysis.motion.held_lift import Same
from loadbench.analysis.motion.moving_masses import MovingMasses
from loadbench.analysis.motion.result import Balanced, Dynamic, LiftShown
from loadbench.job.stated import LineStated
from loadbench.motion.force_balance import separation_speed
from loadbench.motion.stations import stations
from loadbench.readings.cam_lift import CamLift, How
from loadbench.units import Kind

STEEL = 7850.0
"""Density of a roller, kg/m3: common practice."""

BORE_SHARE = 0.6
"""Of a roller's diameter its bore has, with needles or a bush: common practice, from memory."""

FIGURES: dict[str, tuple[str, FigureKind]] = {
    "separation_speed": ("Speed of first separation, force balance", Kind.SPEED),
    "float_margin": ("Speed in hand before the valve leaves its lobe", Plain.SHARE),
    "least_force_rigid": ("Least contact force at the speed limit, force balance", Kind.FORCE),
    "greatest_force_idle": ("Greatest contact force at idle, force balance", Kind.FORCE),
    "greatest_force_limit": ("Greatest contact force at the speed limit, force balance", Kind.FORCE),
}
"""Label and kind, in the order in which they are told."""

RIGID = "A rigid linkage and a spring without waves: the dynamic run says where contact is lost."
ALONG = "At the lobe, along the follower's travel."


def add_unknown_balance(bench: Bench, missing: tuple[str, ...], note: str = "") -> None:
    """The figures without values, and what they wait for."""
    for name, (label, kind) in FIGURES.items():
        bench.add(Figure(name=name, label=label, kind=kind, missing=missing, note=note))


def add_balance(
    bench: Bench, dynamic: Dynamic, masses: MovingMasses, shown: LiftShown, found: CamLift
) -> tuple[Balanced | None, Balanced | None]:
    """The figures of the force balance, as they were where nothing that they rest on has changed.

    Args:
        bench: the line.
        dynamic: its gear and lift.
        masses: its masses.
        shown: its lift over the turn.
        found: where the lift comes from.

    Returns:
        The stations over the turn at idle and at the speed limit, where these are stated.
    """
    line = bench.line
    speeds = tuple(line.value(field) for field in ("duty.idle_speed", "duty.speed_limit"))
    roller = _roller_mass(line, float(masses.referred.own_follower))
    token = (dynamic.key, Same(masses), Same(shown), Same(found), speeds, line.faulty("duty.speed_limit"), roller)

    def make() -> tuple[tuple[Balanced | None, Balanced | None], tuple[Figure, ...]]:
        own = Bench(line, dict(bench.figures))
        answer = _add_balance(own, dynamic, masses, shown, found)
        return answer, tuple(own.figures[name] for name in FIGURES)

    answer, figures = kept("balance", line.name, token, make)
    for figure in figures:
        bench.add(figure)
    return answer


def _add_balance(
    bench: Bench, dynamic: Dynamic, masses: MovingMasses, shown: LiftShown, found: CamLift
) -> tuple[Balanced | None, Balanced | None]:
    gear, rigid = dynamic.gear, dynamic.as_rigid()
    total = float(masses.referred.total)
    spring = (gear.preload, gear.spring_rate)
    closing, window = dynamic.closing, dynamic.window
    apart = separation_speed(rigid.lift, total, spring, lash=rigid.lash, closing=closing, window=window, zooms=0)
    speed = float(apart.speed)
    evidence = "estimated lobe" if found.how is How.DURATIONS else "force balance"
    note = " ".join(each for each in (RIGID, _from(found), masses.note, found.note) if each)
    inputs = inputs_of(bench.found("S_0", "seat_load"), bench.found("m", "referred_mass"), _rate(gear.spring_rate))
    label, kind = FIGURES["separation_speed"]
    bench.add(
        Figure(
            name="separation_speed", label=label, kind=kind, value=speed if np.isfinite(speed) else None,
            formula="least 2 \u221a(({S_0} + {k} y) / (\u2212{m} y\u2033)) over the turn", inputs=inputs,
            source="shigley-uicker", evidence=evidence, note=note,
        )
    )  # fmt: skip
    _add_margin(bench, speed, evidence, note)
    idle, limit = _balanced(bench, dynamic, masses, shown)
    inside = np.abs(shown.angles) <= dynamic.window
    for name, at, pick, where in (
        ("least_force_rigid", limit, np.min, inside),
        ("greatest_force_idle", idle, np.max, slice(None)),  # the flank may press most before the window begins
        ("greatest_force_limit", limit, np.max, slice(None)),
    ):
        label, kind = FIGURES[name]
        field = "duty.idle_speed" if name.endswith("idle") else "duty.speed_limit"
        if at is None:
            bench.add(Figure(name=name, label=label, kind=kind, missing=(field,)))
            continue
        turning = Input(symbol="N", label="engine speed", value=at.speed, kind=Kind.SPEED, field=field)
        bench.add(
            Figure(
                name=name, label=label, kind=kind, value=float(pick(at.lobe[where])),
                formula="R (S + m a) at {N}", inputs=(turning, *inputs), evidence=evidence,
                note=f"{ALONG} {note}",
            )
        )  # fmt: skip
    return idle, limit


def _rate(value: float) -> Input:
    return Input(symbol="k", label="rate over the lift", value=value, kind=Kind.RATE, field="figures.rate")


def _from(found: CamLift) -> str:
    return f"The lift is {found.how}." if found.how is How.DURATIONS else ""


def _add_margin(bench: Bench, speed: float, evidence: str, note: str) -> None:
    label, kind = FIGURES["float_margin"]
    limit = bench.stated("N", "speed limit", "duty.speed_limit", Kind.SPEED)
    apart = bench.found("N_s", "separation_speed")
    if limit is None or apart is None:
        missing = bench.lacking("duty.speed_limit")
        bench.add(Figure(name="float_margin", label=label, kind=kind, missing=missing, note=note))
        return
    bench.add(
        Figure(
            name="float_margin", label=label, kind=kind, value=speed / limit.value - 1,
            formula="{N_s} / {N} \u2212 1", inputs=(apart, limit), evidence=evidence, note=note,
        )
    )  # fmt: skip


def _roller_mass(line: LineStated, follower: float) -> float:
    """What a roller weighs by its sizes, kg, at most half its follower; 0 without one, or without its sizes."""
    family = str(line.value("follower.family") or "")
    diameter, width = (line.value(f"follower.roller_{size}") for size in ("diameter", "width"))
    if not family.startswith("roller") or not diameter or not width:
        return 0.0
    return float(min(STEEL * math.pi / 4 * diameter**2 * (1 - BORE_SHARE**2) * width, follower / 2))


def _balanced(
    bench: Bench, dynamic: Dynamic, masses: MovingMasses, shown: LiftShown
) -> tuple[Balanced | None, Balanced | None]:
    """The stations over the turn at idle and at the speed limit, if stated; zero where the valve is on its seat."""
    speeds = [bench.line.value(field) for field in ("duty.idle_speed", "duty.speed_limit")]
    gear, angles, rigid = dynamic.gear, shown.angles, dynamic.as_rigid()
    moved = shown.valve if rigid is dynamic else [rigid.lift(angles, order) for order in range(3)]
    squared = np.array([[(speed or 0.0) ** 2 / 4] for speed in speeds])  # of the cam
    load = gear.preload + gear.spring_rate * np.maximum(moved[0] - rigid.lash, 0.0)
    if dynamic.closing is not None:
        load = load + dynamic.closing(angles)
    found = stations(
        load,
        squared * moved[2],
        masses.referred,
        pressure_angle=0.0 if shown.pressure_angle is None else shown.pressure_angle,
        roller_mass=_roller_mass(bench.line, float(masses.referred.own_follower)),
        follower_acceleration=squared * shown.lobe[2],
    )
    opened = moved[0] > rigid.lash
    tip, pushrod, lobe, contact, axle = (
        np.where(opened, force, 0.0) for force in (found.tip, found.pushrod, found.lobe, found.contact, found.axle)
    )
    idle, limit = (
        None
        if speed is None
        else Balanced(
            speed=float(speed), tip=tip[row], pushrod=pushrod[row], lobe=lobe[row], contact=contact[row], axle=axle[row]
        )
        for row, speed in enumerate(speeds)
    )
    return idle, limit
