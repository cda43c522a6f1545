"""Figures of the lobe: what its shape asks of the follower that runs on it."""

from __future__ import annotations

from dataclasses import replace

import numpy as np

from loadbench.analysis.builder import Bench
from loadbench.analysis.coils.kept import kept
from loadbench.analysis.figure import Figure, FigureKind, Input
from loadbench.analysis.motion.held_lift import Same
from loadbench.analysis.motion.result import LiftShown
from loadbench.motion import geometry
from loadbench.motion.lift import Lift
from loadbench.motion.lobe_shape import flat_shape, turn
from loadbench.motion.polydyne import Polydyne
from loadbench.units import Kind

FIGURES: dict[str, tuple[str, FigureKind]] = {
    "greatest_pressure_angle": ("Greatest pressure angle", Kind.ANGLE),
    "least_cam_radius": ("Least radius of the lobe", Kind.LENGTH),
    "hollow_radius": ("Sharpest hollow of the lobe's flanks", Kind.LENGTH),
    "face_needed": ("Face that a flat follower needs", Kind.LENGTH),
}
"""Label and kind, in the order in which they are told."""

BASE, ROLLER = "cam.base_radius", "follower.roller_diameter"
NO_HOLLOW = "No flank is hollow."


def add_lobe(bench: Bench, shown: LiftShown, lobe: Lift | None = None) -> LiftShown:
    """The figures of the lobe under the follower that is stated, as they were where neither has changed.

    Args:
        bench: the line.
        shown: the lift over the turn.
        lobe: the lift itself, whose extremes lie between the angles that are shown; None takes those angles alone.

    Returns:
        The same with the pressure angle and the radius of the lobe over the turn, where they can be had.
    """
    line = bench.line
    fields = (BASE, ROLLER)
    token = (
        Same(shown), Same(lobe), _rolls(bench), *(line.value(field) for field in fields),
        *(line.path(field) for field in (BASE, ROLLER)),
    )  # fmt: skip

    def make() -> tuple[LiftShown, tuple[Figure, ...]]:
        own = Bench(line)
        found = _add_lobe(own, shown, lobe)
        return found, tuple(own.figures.values())

    found, figures = kept("lobe figures", line.name, token, make)
    for figure in figures:
        bench.add(figure)
    return found


DESIGN: dict[str, tuple[str, str, Kind]] = {
    "stiffness": ("k_r", "design stiffness", Kind.RATE),
    "spring_rate": ("k_s", "design spring rate", Kind.RATE),
    "seat_load": ("F_0", "design seat load", Kind.FORCE),
    "mass": ("m", "design mass at the valve", Kind.MASS),
    "speed": ("n", "design speed", Kind.SPEED),
    "lash": ("l", "design lash", Kind.LENGTH),
}
"""Symbol, label and kind of what a polydyne lobe was made for."""


def add_design(bench: Bench, lobe: Polydyne, own: Lift) -> None:
    """What a polydyne lobe makes of the valve at the speed that it was made for, and how high its ramps are.

    Args:
        bench: the line.
        lobe: as felt at the valve.
        own: the same at the follower.
    """
    bench.add(
        Figure(
            name="design_ramp_height", label="Height of the lobe's ramps", kind=Kind.LENGTH,
            value=float(own(lobe.valve.span[0])), formula="lobe lift where the valve leaves its seat",
            source="stoddart", evidence="as the lobe was made",
            note="Lash and what the linkage gives under the seat load, as the follower feels it.",
        )
    )  # fmt: skip
    inputs = [
        Input(symbol="s", label="lobe lift as felt at the valve", value=float(lobe(0.0)), kind=Kind.LENGTH),
        Input(
            symbol="y\u2033",
            label="acceleration at the nose by rad\u00b2",
            value=float(lobe.valve(0.0, 2)),
            kind=Kind.LENGTH,
        ),
    ]
    for name, (symbol, label, kind) in DESIGN.items():
        stated = bench.stated(symbol, label, f"cam.law.design.{name}", kind)
        inputs.append(stated or Input(symbol=symbol, label=label, value=0.0, kind=kind))
    bench.add(
        Figure(
            name="design_valve_lift", label="Valve lift at the design speed", kind=Kind.LENGTH,
            value=float(lobe.valve(0.0)), inputs=tuple(inputs), source="stoddart", evidence="as the lobe was made",
            formula="({s} \u2212 {l} \u2212 {F_0} / {k_r} \u2212 {m} / {k_r} \u00d7 ({n} / 2)\u00b2 \u00d7 {y\u2033})"
            " / (1 + {k_s} / {k_r})",
            note="With the mass, ratio, linkage and spring for which the lobe was made; the linkage's damping and the "
            "spring's waves are not in it. What is here now may differ: the dynamic run tells its lift.",
        )
    )  # fmt: skip


def _add_lobe(bench: Bench, shown: LiftShown, lobe: Lift | None) -> LiftShown:
    rolls = _rolls(bench)
    base = bench.stated("R_b", "base radius", BASE, Kind.LENGTH)
    roller = bench.stated("d_r", "roller diameter", ROLLER, Kind.LENGTH)
    if rolls:
        wanting = bench.lacking(BASE, ROLLER)
        if base is None or roller is None:
            return _unknown(bench, shown, wanting, rolls=True)
        return _of_roller(bench, shown, lobe, base, roller)
    _face(bench, shown, lobe)
    if base is None:
        return _unknown(bench, shown, bench.lacking(BASE), rolls=False)
    return _of_face(bench, shown, lobe, base)


def _rolls(bench: Bench) -> bool:
    """Whether the follower has a roller; by the lobe's kind where no family is stated."""
    family = str(bench.line.value("follower.family") or "")
    return family.startswith("roller") or (not family and bench.line.value("cam.kind") == "roller")


def _add(bench: Bench, name: str, value: float | None, inputs: tuple[Input, ...], formula: str, note: str = "") -> None:
    label, kind = FIGURES[name]
    bench.add(
        Figure(
            name=name, label=label, kind=kind, value=value, inputs=inputs, formula=formula, note=note,
            source="shigley-uicker",
        )
    )  # fmt: skip


def _unknown(bench: Bench, shown: LiftShown, missing: tuple[str, ...], *, rolls: bool) -> LiftShown:
    for name in ("greatest_pressure_angle", "least_cam_radius", "hollow_radius") if rolls else ("least_cam_radius",):
        label, kind = FIGURES[name]
        bench.add(Figure(name=name, label=label, kind=kind, missing=missing))
    return shown


def _face(bench: Bench, shown: LiftShown, lobe: Lift | None) -> None:
    reach = shown.lobe[1] if lobe is None else lobe(turn(), 1)
    value = float(geometry.face_width_needed(reach))
    note = "Twice the farthest reach of the contact; room beside it comes on top."
    _add(bench, "face_needed", value, (), "2 |s\u2032| at its greatest", note)


def _of_face(bench: Bench, shown: LiftShown, lobe: Lift | None, base: Input) -> LiftShown:
    radius = geometry.cam_radius_flat(base.value, shown.lobe[0], shown.lobe[2])
    least = float(radius.min()) if lobe is None else flat_shape(lobe, base.value).least_radius.value
    note = "At zero or less the lobe is undercut: a flat face cannot follow it."
    _add(bench, "least_cam_radius", least, (base,), "least of {R_b} + s + s\u2033", note)
    return replace(shown, cam_radius=radius)


def _of_roller(bench: Bench, shown: LiftShown, lobe: Lift | None, base: Input, roller: Input) -> LiftShown:
    # on the cam's axis: follower.offset is that of the pushrod's seat in the follower
    half = roller.value / 2
    pitch_base = base.value + half
    slant = geometry.pressure_angle(pitch_base, shown.lobe[0], shown.lobe[1])
    pitch = geometry.pitch_radius(pitch_base, shown.lobe[0], shown.lobe[1], shown.lobe[2])
    if lobe is not None:
        at = turn()
        lifts = [lobe(at, order) for order in range(3)]
        fine_slant = geometry.pressure_angle(pitch_base, lifts[0], lifts[1])
        fine = geometry.pitch_radius(pitch_base, *lifts)
    else:
        fine_slant, fine = slant, pitch
    inputs = (base, roller)
    steepest = float(np.abs(fine_slant).max())
    _add(bench, "greatest_pressure_angle", steepest, inputs, "greatest |\u03c6| with {R_b} + {d_r} / 2")
    convex = np.where(fine > 0, fine - half, np.inf)
    note = "At zero or less the lobe is undercut: the roller cannot follow it."
    _add(bench, "least_cam_radius", float(convex.min()), inputs, "least of \u03c1 \u2212 {d_r} / 2", note)
    hollow = float(geometry.hollow_radius(fine, half).min())
    known = hollow if np.isfinite(hollow) else None
    _add(
        bench, "hollow_radius", known, inputs, "least of |\u03c1| + {d_r} / 2 where hollow",
        "The roller and the grinding wheel have to be smaller." if known is not None else NO_HOLLOW,
    )  # fmt: skip
    return replace(shown, pressure_angle=slant, cam_radius=geometry.cam_radius_roller(pitch, half))
