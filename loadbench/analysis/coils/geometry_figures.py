"""What a coil's geometry gives by itself: rate, turns, diameters, lengths, masses."""

from __future__ import annotations

import math
from collections.abc import Iterator
from typing import NamedTuple

from loadbench.analysis.coils.making import coil_figure, found, waits_for
from loadbench.analysis.figure import Figure, Input
from loadbench.analysis.wire_formula import (
    MINUS,
    PI,
    TIMES,
    along,
    area,
    coil_diameters,
    coils_formula_of,
    length,
    number,
    rate_formula_of,
    round_wire,
)
from loadbench.readings.coil_geometry import FOR_RATE, CoilGeometry
from loadbench.readings.coil_line import FOR_WINDING, GROUND
from loadbench.spring.buckling import stable_free_height
from loadbench.spring.coil import wire_mass
from loadbench.spring.ends import Ends, bind_height, dead_coils, pitch
from loadbench.spring.section import Shape
from loadbench.spring.stress import bergstraesser_factor, wahl_factor
from loadbench.spring.taper import stacked_height
from loadbench.spring.tolerances import length_tolerance
from loadbench.units import Kind

PITCHES = {
    Ends.PLAIN: f"p = ({{L0}} {MINUS} {{b}}) / {{n}}",
    Ends.PLAIN_GROUND: "p = {L0} / ({n} + 1)",
    Ends.CLOSED: f"p = ({{L0}} {MINUS} 3 {TIMES} {{b}}) / {{n}}",
    Ends.CLOSED_GROUND: f"p = ({{L0}} {MINUS} 2 {TIMES} {{b}}) / {{n}}",
}
ROUND_CYLINDERS = "The standard speaks of cylinders of round wire only."
OUT_OF_RANGE = "Outside the range of the standard: an index of 4 to 20, and two active coils at least."
SOURCES = {Shape.ROUND: "en-13906-1", Shape.OVATE: "timoshenko", Shape.RECTANGULAR: "timoshenko"}


class Counted(NamedTuple):
    """The rate that the active coils were counted from, and what kind of rate it is."""

    rate: float
    evidence: str
    field: str


def geometry_figures(geometry: CoilGeometry, counted: Counted | None) -> dict[str, Figure]:
    """The figures that rest on the coil alone.

    Args:
        geometry: of the coil, its active coils counted from a rate where they are not stated.
        counted: that rate; None where the coils are stated or cannot be had.

    Returns:
        The figures by name.
    """
    rate, active = _rate(geometry, counted), _active(geometry, counted)
    figures = [rate, active, _total(geometry, active), *_diameters(geometry), _pitch(geometry, active)]
    figures += [_free(geometry), _bind(geometry), *_masses(geometry)]
    figures += [_length_tolerance(geometry), _stable(geometry)]
    return {each.name: each for each in figures}


def rate_source(geometry: CoilGeometry) -> str:
    """Where the formula of the rate stands."""
    return "wahl" if geometry.tapers or geometry.section is None else SOURCES[geometry.section.shape]


def _rate(geometry: CoilGeometry, counted: Counted | None) -> Figure:
    if counted is not None:
        note = f"Its coils are counted from the {counted.evidence} rate: a rate from them would only say it again."
        return coil_figure("geometric_rate", note=note, missing=(f"{geometry.path}.active_coils",))
    if (rate := geometry.rate) is None:
        return coil_figure("geometric_rate", missing=geometry.wanting(*FOR_RATE))
    note = "With every coil free; it grows as they land." if geometry.tapers else ""
    if geometry.section is not None and geometry.section.shape is Shape.OVATE:
        note = f"Ovate wire is taken as the ellipse of its axes. {note}".strip()
    return coil_figure("geometric_rate", rate, *rate_formula_of(geometry), source=rate_source(geometry), note=note)


def _active(geometry: CoilGeometry, counted: Counted | None) -> Figure:
    name, value = "active_coils", geometry.active_coils
    if value is None:
        return coil_figure(name, missing=geometry.wanting(name))
    if counted is not None:
        rate = Input(
            symbol="k", label=f"{counted.evidence} rate", value=counted.rate, kind=Kind.RATE, field=counted.field
        )
        evidence = f"inferred from the {counted.evidence} rate"
        return coil_figure(
            name, value, *coils_formula_of(geometry, rate), source=rate_source(geometry), evidence=evidence
        )
    return _by_ends(geometry, name, "n", "total_coils", MINUS) if geometry.active_by_ends else _stated(geometry, name)


def _total(geometry: CoilGeometry, active: Figure) -> Figure:
    name = "total_coils"
    if geometry.total_coils is None:
        return coil_figure(name, missing=geometry.wanting(name) or active.missing)
    if geometry.total_by_ends:
        return _by_ends(geometry, name, "n_t", "active_coils", "+")
    return _stated(geometry, name)


def _stated(geometry: CoilGeometry, name: str) -> Figure:
    symbol, label = {"active_coils": ("n", "active coils"), "total_coils": ("n_t", "total coils")}[name]
    value = getattr(geometry, name)
    entry = number(symbol, label, value, f"{geometry.path}.{name}")
    return coil_figure(name, value, f"{symbol} = {{{symbol}}}", (entry,), evidence="as stated")


def _by_ends(geometry: CoilGeometry, name: str, symbol: str, other: str, sign: str) -> Figure:
    dead = dead_coils(geometry.ends) if geometry.ends else 0.0
    inferred = other == "active_coils" and geometry.active_inferred
    field = f"figures.{other}" if inferred else f"{geometry.path}.{other}"
    inputs = (
        number("n_other", other.replace("_", " "), getattr(geometry, other), field),
        number("dead", "coils that the ends take", dead, f"{geometry.path}.ends"),
    )
    formula = f"{symbol} = {{n_other}} {sign} {{dead}}"
    evidence = f"{other.replace('_', ' ')} and the ends"
    return coil_figure(name, getattr(geometry, name), formula, inputs, source="shigley", evidence=evidence)


def _diameters(geometry: CoilGeometry) -> Iterator[Figure]:
    """Index, outside and inside diameter, and both factors of the stress."""
    section, large, small = geometry.section, geometry.mean_diameter, geometry.small_mean_diameter
    missing = geometry.wanting("section", "mean_diameter")
    names = ("spring_index", "outer_diameter", "inner_diameter", "wahl_factor", "bergstraesser_factor")
    if section is None or large is None:
        yield from (coil_figure(name, missing=missing) for name in names)
        return
    radial, path = float(section.radial), geometry.path
    sizes = coil_diameters(geometry)
    wire = round_wire(geometry) if section.shape is Shape.ROUND else _wide(geometry)
    a = wire.symbol
    note = f"At the large end; {(small or large) / radial:.3g} at the small one." if geometry.tapers else ""
    index = coil_figure(names[0], large / radial, f"C = {{D}} / {{{a}}}", (sizes[0], wire), source="shigley", note=note)
    yield index
    yield coil_figure(names[1], large + radial, f"D_e = {{D}} + {{{a}}}", (sizes[0], wire))
    if small is None:
        yield coil_figure(names[2], missing=geometry.wanting("small_mean_diameter"))
    else:
        least, note = sizes[-1], "At the small end." if geometry.tapers else ""
        yield coil_figure(
            names[2], small - radial, f"D_i = {{{least.symbol}}} {MINUS} {{{a}}}", (least, wire), note=note
        )
    if large <= radial:  # no coil can be: the index is at fault, and its field says so
        yield from (coil_figure(name, missing=(f"{path}.mean_diameter",)) for name in names[3:])
        return
    own = found("C", index)
    wahl = f"K_W = (4 {TIMES} {{C}} {MINUS} 1) / (4 {TIMES} {{C}} {MINUS} 4) + 0.615 / {{C}}"
    yield coil_figure(names[3], float(wahl_factor(own.value)), wahl, (own,), source="wahl")
    bergs = f"K_B = (4 {TIMES} {{C}} + 2) / (4 {TIMES} {{C}} {MINUS} 3)"
    yield coil_figure(names[4], float(bergstraesser_factor(own.value)), bergs, (own,), source="shigley")


def _wide(geometry: CoilGeometry) -> Input:
    radial = 0.0 if geometry.section is None else float(geometry.section.radial)
    return length("a", "wire across the coil", radial, f"{geometry.path}.wire.width")


def _tall(geometry: CoilGeometry) -> Input:
    """What the wire takes up along the axis."""
    if geometry.section is None or geometry.section.shape is not Shape.ROUND:
        return along(geometry, geometry.section)
    wire = round_wire(geometry)
    return length("b", wire.label, wire.value, wire.field)


def _pitch(geometry: CoilGeometry, active: Figure) -> Figure:
    section, ends, n, free = geometry.section, geometry.ends, geometry.active_coils, geometry.free_height
    missing = geometry.wanting("section", "active_coils", "ends", "free_height")
    if missing or section is None or ends is None or n is None or free is None:
        return coil_figure("pitch", missing=missing)
    value = float(pitch(ends, float(section.axial), n, free))
    if value < float(section.axial):
        return coil_figure(
            "pitch", missing=(f"{geometry.path}.free_height",), note="Its coils would lie in each other."
        )
    free_height = length("L0", "free height", free, f"{geometry.path}.free_height")
    inputs = (free_height, _tall(geometry), found("n", active))
    return coil_figure("pitch", value, PITCHES[ends], inputs, source="shigley")


def _free(geometry: CoilGeometry) -> Figure:
    value = geometry.free_height
    if value is None:
        return coil_figure("free_height", missing=geometry.wanting("free_height"))
    entry = length("L0", "free height", value, f"{geometry.path}.free_height")
    return coil_figure("free_height", value, "L0 = {L0}", (entry,), evidence="as stated")


def _bind(geometry: CoilGeometry) -> Figure:
    """Height with every coil down, by the wire, the coils and the ends."""
    name, section, ends, total = "geometric_bind_height", geometry.section, geometry.ends, geometry.total_coils
    missing = geometry.wanting(*FOR_WINDING)
    if missing or section is None or ends is None or total is None:
        return coil_figure(name, missing=missing)
    tall, ground = _tall(geometry), ends in GROUND
    field = "figures.total_coils" if geometry.total_by_ends else f"{geometry.path}.total_coils"
    coils = number("n_t", "total coils", total, field)
    more = "" if ground else " + 1"
    note = "Grinding and coating change it: measure it where little room is left."
    if not geometry.tapers:
        formula = f"L_c = {{b}} {TIMES} {{n_t}}" if ground else f"L_c = {{b}} {TIMES} ({{n_t}} + 1)"
        value = float(bind_height(ends, float(section.axial), total))
        return coil_figure(name, value, formula, (tall, coils), source="shigley", note=note)
    active, large = geometry.active_coils or 0.0, geometry.mean_diameter or 0.0
    flat = section.shape is Shape.RECTANGULAR
    small, tapered = geometry.small_mean_diameter or large, geometry.tapered_coils
    sizes = (float(section.axial), float(section.radial), large, small, active, tapered)
    stacked = float(stacked_height(*sizes, flat=flat))
    dead = total - active
    value = stacked + (dead if ground else dead + 1) * float(section.axial)
    inputs = (
        length("stacked", "active coils lying in each other", stacked),
        tall,
        coils,
        number("n", "active coils", active, "figures.active_coils"),
    )
    formula = f"L_c = {{stacked}} + {{b}} {TIMES} ({{n_t}} {MINUS} {{n}}{more})"
    return coil_figure(name, value, formula, inputs, source="rodriguez", note=note)


def _masses(geometry: CoilGeometry) -> Iterator[Figure]:
    section, wire, large, small = (
        geometry.section, geometry.material, geometry.mean_diameter, geometry.small_mean_diameter,
    )  # fmt: skip
    active, total = geometry.active_coils, geometry.total_coils
    common = ("section", "mean_diameter", "small_mean_diameter", "material")
    for name, n in (("wire_mass", total), ("moving_mass", active)):
        which = "total_coils" if name == "wire_mass" else "active_coils"
        missing = geometry.wanting(*common, which, *(("active_coils", "tapered_coils") if geometry.tapers else ()))
        if missing or section is None or wire is None or large is None or small is None or n is None:
            yield coil_figure(name, missing=missing)
            continue
        # A tapered coil is as long as one of its mean diameter; half of the dead coils are wound at the small end.
        lost = (geometry.tapered_coils + (n - (active or n))) * (large - small) / 2 if geometry.tapers else 0.0
        mean = large - lost / n
        value = float(wire_mass(float(section.area), mean, n, wire.density_kg_per_m3))
        text, sizes = area(geometry)
        inputs = (
            *sizes,
            length("D_m", "mean diameter of its coils", mean, f"{geometry.path}.mean_diameter"),
            number("n", which.replace("_", " "), n, f"figures.{which}"),
            number("rho", "density, kg/m\u00b3", wire.density_kg_per_m3, f"{geometry.path}.material"),
        )
        formula = f"m = {text} {TIMES} {PI} {TIMES} {{D_m}} {TIMES} {{n}} {TIMES} {{rho}}"
        note = "The active coils; the dead ones stand with the seat and the retainer." if name == "moving_mass" else ""
        yield coil_figure(name, value, formula, inputs, source=wire.source, note=note)


def _length_tolerance(geometry: CoilGeometry) -> Figure:
    name, rate = "length_tolerance", geometry.rate
    section = geometry.section
    if section is not None and (section.shape is not Shape.ROUND or geometry.tapers):
        return coil_figure(name, note=ROUND_CYLINDERS, source="en-15800")
    if rate is None or section is None:
        return coil_figure(name, missing=geometry.wanting(*FOR_RATE), source="en-15800")
    large, active = geometry.mean_diameter or 0.0, geometry.active_coils or 0.0
    value = float(length_tolerance(float(section.radial), large, active, rate, 2))
    return coil_figure(name, value, *tolerance_inputs(geometry, "A_L0", rate), source="en-15800", note=_range(value))


def _range(value: float) -> str:
    return "To each side." if math.isfinite(value) else OUT_OF_RANGE


def tolerance_inputs(geometry: CoilGeometry, symbol: str, rate: float | None) -> tuple[str, tuple[Input, ...]]:
    """A tolerance in words, with the sizes it rests on."""
    given = (round_wire(geometry), *coil_diameters(geometry), number("n", "active coils", geometry.active_coils))
    if rate is None:
        return f"{symbol} = by the standard from {{d}}, {{D}}, {{n}}", given
    stiff = Input(symbol="k", label="rate", value=rate, kind=Kind.RATE, field="figures.geometric_rate")
    return f"{symbol} = by the standard from {{d}}, {{D}}, {{n}}, {{k}}", (*given, stiff)


def _stable(geometry: CoilGeometry) -> Figure:
    name, wire = "stable_free_height", geometry.material
    small = geometry.small_mean_diameter
    missing = waits_for(geometry.wanting("mean_diameter", "small_mean_diameter", "material"))
    if missing or small is None or wire is None:
        return coil_figure(name, missing=missing, source="shigley")
    elastic, shear = wire.elastic_modulus_Pa, wire.shear_modulus_Pa
    value = float(stable_free_height(small, elastic, shear))
    root = f"\u221a(2 {TIMES} ({{E}} {MINUS} {{G}}) / (2 {TIMES} {{G}} + {{E}}))"
    least = coil_diameters(geometry)[-1]
    inputs = (
        least,
        Input(symbol="E", label="elastic modulus", value=elastic, kind=Kind.STRESS, field=f"{geometry.path}.material"),
        Input(symbol="G", label="shear modulus", value=shear, kind=Kind.STRESS, field=f"{geometry.path}.material"),
    )
    note = "Both ends on flat parallel faces" + ("; by the small end, to be safe." if geometry.tapers else ".")
    formula = f"L0 = {PI} {TIMES} {{{least.symbol}}} / 0.5 {TIMES} {root}"
    return coil_figure(name, value, formula, inputs, source="shigley", note=note)
