"""Stress of a coil closed, at full lift and at bind: corrected by Wahl, by EN 13906-1, over the tensile strength."""

from __future__ import annotations

import math
from typing import Any

from loadbench.analysis.coils.basis import BERGSTRAESSER, PLAIN, WAHL, CoilBasis
from loadbench.analysis.coils.geometry_figures import OUT_OF_RANGE, ROUND_CYLINDERS, tolerance_inputs
from loadbench.analysis.coils.making import coil_figure, found, given, waits_for
from loadbench.analysis.coils.standing_coil import StandingCoil
from loadbench.analysis.coils.strength import NOT_PRESET
from loadbench.analysis.figure import Figure
from loadbench.analysis.wire_formula import MINUS, TIMES
from loadbench.readings.strand import Evidence
from loadbench.spring.fatigue import EN_FATIGUE_NOTE
from loadbench.spring.section import Shape
from loadbench.spring.stress import EN_BIND_SHARE
from loadbench.units import Kind

FORCE, LENGTH, RATE, STRESS = Kind.FORCE, Kind.LENGTH, Kind.RATE, Kind.STRESS
FOR_STRESS = ("section", "mean_diameter", "small_mean_diameter")
FROM_MEMORY = "The standard's share of the tensile strength is from memory."
LOADS = {
    "seat": ("its load, closed", "figures.member_seat_load"),
    "open": ("its load, full lift", "figures.member_open_load"),
    "bind": ("its load at bind", "figures.bind_load"),
}
CAME_FROM = {
    Evidence.MEASURED: "from the readings",
    Evidence.STATED: "from the stated rate",
    Evidence.GEOMETRIC: "from the coil's geometry",
}
EN_SAYS = ("en-13906-1", EN_FATIGUE_NOTE)
Figures = dict[str, Figure]


def stresses_at(basis: CoilBasis, end: str, load: float | None, missing: tuple[str, ...], evidence: str) -> Figures:
    """The stress of a coil at one end of its travel, and that over the tensile strength.

    Args:
        basis: of the coil.
        end: "seat", "open" or "bind".
        load: of this coil there, N.
        missing: what the load waits for.
        evidence: what the load comes from.

    Returns:
        Figures by name: corrected by Wahl, its share, and the standard's; at bind the standard's share instead.
    """
    wahl = f"shear_stress_{end}"
    stressed = basis.stressed
    if stressed is None or load is None:
        missing = waits_for(missing, basis.geometry.wanting(*FOR_STRESS))
        figures = {wahl: coil_figure(wahl, missing=missing, source="wahl")}
        if end != "bind":
            name = f"en_stress_{end}"
            figures[name] = coil_figure(name, missing=missing, source="en-13906-1")
    else:
        said = (evidence, stressed.note_at(load))
        peaks = stressed.peaks(load)
        figures = {wahl: _of_load(basis, wahl, peaks[WAHL], (end, load), ("K_W", "wahl"), said)}
        if end != "bind":
            name = f"en_stress_{end}"
            figures[name] = _of_load(basis, name, peaks[BERGSTRAESSER], (end, load), ("k", "en-13906-1"), said)
    share = f"stress_share_{end}"
    figures[share] = _share(share, figures[wahl], basis)
    if end == "bind":
        figures["en_bind_share"] = _bind_share(basis, load, figures[wahl].missing)
    return figures


def _of_load(
    basis: CoilBasis,
    name: str,
    value: float,
    at: tuple[str, float],
    by: tuple[str, str],
    said: tuple[str, str],
) -> Figure:
    """Factor x load x D / (2 W) with this coil's sizes; of a taper its large end's, and words."""
    (label, field), (symbol, source), (evidence, note) = LOADS[at[0]], by, said
    factor, force = basis.inputs[symbol], given("F", label, at[1], FORCE, field)
    text, sizes = basis.modulus
    formula = f"\u03c4 = {{{symbol}}} {TIMES} {{F}} {TIMES} {text}"
    if basis.stressed is not None and basis.stressed.single is None:
        formula = f"\u03c4 = greatest of all coils under {{F}}; were they free {formula[4:]}"
    return coil_figure(name, value, formula, (factor, force, *sizes), source=source, evidence=evidence, note=note)


def range_figures(basis: CoilBasis, loads: tuple[float | None, float | None], low: Figures, high: Figures) -> Figures:
    """The stress between closed and full lift, corrected by Wahl and by the standard.

    Args:
        basis: of the coil.
        loads: closed and at full lift, N.
        low: the stresses closed.
        high: the stresses at full lift.

    Returns:
        Both ranges by name; along a taper the greatest of all coils.
    """
    figures, stressed = {}, basis.stressed
    ranges: tuple[float, ...] = ()
    if stressed is not None and stressed.single is None and loads[0] is not None and loads[1] is not None:
        ranges = stressed.ranges(loads[0], loads[1])
    rows = (
        ("stress_range", "shear_stress", WAHL, "own derivation", ""),
        ("en_stress_range", "en_stress", BERGSTRAESSER, *EN_SAYS),
    )
    for name, stem, by, source, note in rows:
        one, other = low[f"{stem}_seat"], high[f"{stem}_open"]
        if one.value is None or other.value is None or stressed is None:
            figures[name] = coil_figure(name, missing=waits_for(one.missing, other.missing), source=source, note=note)
            continue
        value, inputs = other.value - one.value, (found("tau_2", other), found("tau_1", one))
        evidence = other.evidence
        formula = f"\u0394\u03c4 = {{tau_2}} {MINUS} {{tau_1}}"
        if ranges:
            value = ranges[by]
            formula = "\u0394\u03c4 = greatest of all coils, between {tau_1} and {tau_2}"
        figures[name] = coil_figure(name, value, formula, inputs, source=source, evidence=evidence, note=note)
    return figures


def _share(name: str, stress: Figure, basis: CoilBasis) -> Figure:
    strength = basis.figures["tensile_strength"]
    if stress.value is None or strength.value is None:
        note = "" if strength.known else strength.note
        return coil_figure(name, missing=waits_for(stress.missing, strength.missing), note=note)
    inputs = (found("tau", stress), basis.inputs["R_m"])
    note = NOT_PRESET if basis.geometry.preset is None else ""
    return coil_figure(
        name, stress.value / strength.value, "share = {tau} / {R_m}", inputs, evidence=stress.evidence, note=note
    )


def _bind_share(basis: CoilBasis, load: float | None, missing: tuple[str, ...]) -> Figure:
    """Uncorrected stress at bind over the standard's share of the tensile strength."""
    name, strength, stressed = "en_bind_share", basis.figures["tensile_strength"], basis.stressed
    if strength.value is None or stressed is None or load is None:
        return coil_figure(name, missing=waits_for(missing, strength.missing), source="en-13906-1")
    stress = stressed.peaks(load)[PLAIN]
    inputs = (
        given("tau", "uncorrected stress at bind", stress, STRESS),
        given("z", "allowed share of the tensile strength", EN_BIND_SHARE),
        basis.inputs["R_m"],
    )
    value = stress / (EN_BIND_SHARE * strength.value)
    formula = f"share = {{tau}} / ({{z}} {TIMES} {{R_m}})"
    return coil_figure(name, value, formula, inputs, source="en-13906-1", note=FROM_MEMORY)


LANDED = "from the coils' landings"
LANDS = "By the coil's own curve, the pitch taken as even: no reading shows how its coils stiffen as they land."


def bind_load_figure(coil: StandingCoil) -> Figure:
    """The load that presses a coil to bind."""
    name, strand, bind = "bind_load", coil.strand, coil.bind
    if strand is None or bind is None:
        missing = waits_for(coil.strand_missing, () if bind is not None else (coil.bind_field,))
        return coil_figure(name, missing=missing, source="en-13906-1")
    stressed = coil.basis.stressed
    landed = strand.evidence is Evidence.GEOMETRIC or strand.extrapolated(bind)
    if landed and coil.basis.geometry.tapers and stressed is not None and math.isfinite(stressed.last):
        formula = "F_c = load at which the last of its coils lands"
        return coil_figure(name, stressed.last, formula, evidence=LANDED, note=LANDS)
    value = coil.load(bind)
    field = coil.bind_field if coil.bind_measured else "figures.geometric_bind_height"
    height = given("L_c", "bind height", bind, LENGTH, field)
    notes = [] if coil.bind_measured else ["Bind height from the wire and the coils."]
    if strand.extrapolated(bind):
        notes.append("Beyond the readings: the line goes straight on.")
    common: dict[str, Any] = {
        "source": "en-13906-1",
        "evidence": CAME_FROM[strand.evidence],
        "note": " ".join(notes),
    }
    if strand.knots is not None:
        of = "coils' own curve" if strand.evidence is Evidence.GEOMETRIC else "readings' interpolant"
        return coil_figure(name, value, f"F_c = load of the {of} at {{L_c}}", (height,), **common)
    inputs = (
        given("F0", "load at the middle of the readings", strand.anchor_load, FORCE),
        given("k", "rate", strand.rate, RATE),
        given("h0", "middle of the readings", strand.anchor_height, LENGTH),
        height,
    )
    formula = f"F_c = {{F0}} + {{k}} {TIMES} ({{h0}} {MINUS} {{L_c}})"
    return coil_figure(name, value, formula, inputs, **common)


def tolerance_figure(basis: CoilBasis, load: float | None, missing: tuple[str, ...]) -> Figure:
    """What the standard allows the load at the closed height to be off."""
    name, geometry, section = "load_tolerance", basis.geometry, basis.geometry.section
    if section is not None and (section.shape is not Shape.ROUND or geometry.tapers):
        return coil_figure(name, note=ROUND_CYLINDERS, source="en-15800")
    wanting = geometry.wanting("section", "mean_diameter", "small_mean_diameter", "active_coils")
    if section is None or load is None or wanting:
        return coil_figure(name, missing=waits_for(missing, wanting), source="en-15800")
    alone, each = basis.tolerance
    value = alone + each * load
    formula, inputs = tolerance_inputs(geometry, "A_F", None)
    force = given("F", LOADS["seat"][0], load, FORCE, LOADS["seat"][1])
    note = "To each side, at the closed height." if math.isfinite(value) else OUT_OF_RANGE
    return coil_figure(name, value, f"{formula}, {{F}}", (*inputs, force), source="en-15800", note=note)
