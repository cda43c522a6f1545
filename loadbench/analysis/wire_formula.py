"""The formulas of the wire with a coil's own sizes: its rate, its coils, its stress, its mass, by section and taper."""

from __future__ import annotations

from loadbench.analysis.figure import Input, Plain
from loadbench.readings.coil_geometry import CoilGeometry
from loadbench.spring.section import Section, Shape, rectangle_coefficients
from loadbench.units import Kind

Formula = tuple[str, tuple[Input, ...]]
LENGTH, NUMBER = Kind.LENGTH, Plain.NUMBER
TIMES, MINUS, CUBED, SQUARED, PI = "\u00d7", "\u2212", "\u00b3", "\u00b2", "\u03c0"


def number(symbol: str, label: str, value: float | None, field: str = "") -> Input:
    """An input without a dimension."""
    return Input(symbol=symbol, label=label, value=value or 0.0, kind=NUMBER, field=field)


def length(symbol: str, label: str, value: float | None, field: str = "") -> Input:
    """An input that is a length."""
    return Input(symbol=symbol, label=label, value=value or 0.0, kind=LENGTH, field=field)


def shear_modulus(geometry: CoilGeometry) -> Input:
    """G of the wire."""
    value = geometry.material.shear_modulus_Pa if geometry.material else 0.0
    field = f"{geometry.path}.material"
    return Input(symbol="G", label="shear modulus", value=value, kind=Kind.STRESS, field=field)


def coil_diameters(geometry: CoilGeometry) -> tuple[Input, ...]:
    """D, and the small mean diameter where the coil tapers."""
    large = length("D", "mean coil diameter", geometry.mean_diameter, f"{geometry.path}.mean_diameter")
    if not geometry.tapers:
        return (large,)
    small_field = f"{geometry.path}.small_mean_diameter"
    return large, length("D1", "small mean diameter", geometry.small_mean_diameter, small_field)


def coils(geometry: CoilGeometry) -> tuple[Input, ...]:
    """n, and the tapered ones of a beehive."""
    stated = "total_coils" if geometry.active_by_ends else "active_coils"
    field = "figures.active_coils" if geometry.active_inferred else f"{geometry.path}.{stated}"
    active = number("n", "active coils", geometry.active_coils, field)
    if not geometry.beehive:
        return (active,)
    return active, number("t", "tapered coils", geometry.tapered_coils, f"{geometry.path}.tapered_coils")


def twist(geometry: CoilGeometry) -> tuple[str, str, tuple[Input, ...]]:
    """4 G J / pi of the section: numerator, the factor below the line, and its inputs."""
    section = geometry.section
    shear = shear_modulus(geometry)
    if section is None or section.shape is Shape.ROUND:
        d = round_wire(geometry)
        return f"{{G}} {TIMES} ({{d}})\u2074", f"8 {TIMES} ", (shear, d)
    if section.shape is Shape.OVATE:
        a, b = across(geometry, section), along(geometry, section)
        both = f"(({{a}}){SQUARED} + ({{b}}){SQUARED})"
        return f"{{G}} {TIMES} ({{a}}){CUBED} {TIMES} ({{b}}){CUBED}", f"4 {TIMES} {both} {TIMES} ", (shear, a, b)
    long, short = sides(geometry, section)
    k1, _ = rectangle_coefficients(long.value / short.value)
    shape = number("k1", "torsion coefficient of the rectangle", float(k1))
    above = f"4 {TIMES} {{G}} {TIMES} {{k1}} {TIMES} {{{long.symbol}}} {TIMES} ({{{short.symbol}}}){CUBED}"
    return above, f"{PI} {TIMES} ", (shear, shape, long, short)


def round_wire(geometry: CoilGeometry) -> Input:
    """The diameter of round wire."""
    found = None if geometry.section is None else float(geometry.section.radial)
    return length("d", "wire diameter", found, f"{geometry.path}.wire.diameter")


def across(geometry: CoilGeometry, section: Section) -> Input:
    """The wire's size across the coil."""
    return length("a", "wire across the coil", float(section.radial), f"{geometry.path}.wire.width")


def along(geometry: CoilGeometry, section: Section | None) -> Input:
    """The wire's size along the axis."""
    return length(
        "b", "wire along the axis", None if section is None else float(section.axial), f"{geometry.path}.wire.thickness"
    )


def sides(geometry: CoilGeometry, section: Section) -> tuple[Input, Input]:
    """Long and short side of the section."""
    a, b = across(geometry, section), along(geometry, section)
    return (a, b) if a.value >= b.value else (b, a)


def _cubes(geometry: CoilGeometry, all_coils: bool = True) -> str:
    """The sum of D^3 over the coils; without `all_coils` over one."""
    n = f" {TIMES} {{n}}" if all_coils else ""
    if not geometry.tapers:
        return f"({{D}}){CUBED}{n}"
    cone = f"({{D}} + {{D1}}) {TIMES} (({{D}}){SQUARED} + ({{D1}}){SQUARED}) / 4"
    if not geometry.beehive or not all_coils:
        return f"{{n}} {TIMES} {cone}" if all_coils else cone
    return f"(({{n}} {MINUS} {{t}}) {TIMES} ({{D}}){CUBED} + {{t}} {TIMES} {cone})"


def rate_formula_of(geometry: CoilGeometry) -> Formula:
    """The rate of a coil from its geometry; G d^4 / (8 D^3 n) where it is a cylinder of round wire."""
    above, below, wire = twist(geometry)
    sizes = (*wire, *coil_diameters(geometry), *coils(geometry))
    return f"k = {above} / ({below}{_cubes(geometry)})", sizes


def coils_formula_of(geometry: CoilGeometry, rate: Input) -> Formula:
    """The active coils that a rate asks for."""
    above, below, wire = twist(geometry)
    sizes = (*wire, *coil_diameters(geometry))
    if not geometry.beehive:
        one = _cubes(geometry, all_coils=False)
        return f"n = {above} / ({below}{one} {TIMES} {{{rate.symbol}}})", (*sizes, rate)
    cone = f"({{D}} + {{D1}}) {TIMES} (({{D}}){SQUARED} + ({{D1}}){SQUARED}) / 4"
    inside = f"{above} / ({below}{{{rate.symbol}}}) {MINUS} {{t}} {TIMES} {cone}"
    tapered = coils(geometry)[-1]
    return f"n = {{t}} + ({inside}) / ({{D}}){CUBED}", (*sizes, tapered, rate)


def modulus(geometry: CoilGeometry) -> Formula:
    """D / (2 W) of the section, as it follows upon "factor x load x": the text and its inputs."""
    section, diameters = geometry.section, coil_diameters(geometry)[:1]
    if section is None or section.shape is Shape.ROUND:
        return f"8 {TIMES} {{D}} / ({PI} {TIMES} ({{d}}){CUBED})", (*diameters, round_wire(geometry))
    long, short = sides(geometry, section)
    sizes = f"{{{long.symbol}}} {TIMES} ({{{short.symbol}}}){SQUARED}"
    if section.shape is Shape.OVATE:
        return f"8 {TIMES} {{D}} / ({PI} {TIMES} {sizes})", (*diameters, long, short)
    _, k2 = rectangle_coefficients(long.value / short.value)
    shape = number("k2", "torsion coefficient of the rectangle", float(k2))
    return f"{{D}} / (2 {TIMES} {{k2}} {TIMES} {sizes})", (*diameters, shape, long, short)


def area(geometry: CoilGeometry) -> Formula:
    """The section's area: the text and its inputs."""
    section = geometry.section
    if section is None or section.shape is Shape.ROUND:
        return f"{PI} / 4 {TIMES} ({{d}}){SQUARED}", (round_wire(geometry),)
    a, b = across(geometry, section), along(geometry, section)
    quarter = f"{PI} / 4 {TIMES} " if section.shape is Shape.OVATE else ""
    return f"{quarter}{{a}} {TIMES} {{b}}", (a, b)
