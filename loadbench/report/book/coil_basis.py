"""What the figures of a coil rest on, beside its entries: sizes in use, the section, heights, loads, strengths."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from loadbench.analysis.figure import Plain
from loadbench.job.coil_checks import SLACK
from loadbench.readings.strand import Evidence
from loadbench.report.book.coil_cells import CoilCells
from loadbench.report.book.coil_stress_formulas import unchanged
from loadbench.report.book.formulas import when
from loadbench.report.book.inputs import modulus_name, modulus_shown
from loadbench.report.book.paper import tidy
from loadbench.spring.fatigue import (
    ZIMMERLI_MOST_DIAMETER,
    gerber_endurance,
    goodman_endurance,
    ultimate_shear,
    zimmerli,
)
from loadbench.spring.materials import equal_area_diameter
from loadbench.units import Kind

LENGTH, FORCE, RATE, STRESS = Kind.LENGTH, Kind.FORCE, Kind.RATE, Kind.STRESS
SMALL, LEAST = "0.0000E+00", 1e-3
Values = dict[str, float | None]


@dataclass(frozen=True, slots=True, kw_only=True)
class Rest:
    """One row: what it is, its formula (None: a number as it was at export) and its value in the workbook's unit."""

    name: str
    label: str
    formula: str | None
    value: float | None
    unit: str
    places: str
    how: str = ""
    note: str = ""
    source: str = ""


def loads_of(of: CoilCells) -> Values:
    """The loads of a coil at export, in the workbook's unit, by the name of their cell."""
    strand, heights = of.member.evidence.strand, of.coil.heights
    found = {"bind_load": of.coil.value("bind_load")}
    for end in ("closed", "open"):
        height = heights.get(end)
        found[f"{end}_load"] = None if strand is None or height is None else float(strand.load(height))
    return {name: of.book.shown(load, FORCE) for name, load in found.items()}


def rests_on(of: CoilCells, formulas: Mapping[str, str]) -> Iterator[Rest]:
    """The rows below a coil's figures.

    Args:
        of: the coil.
        formulas: all of the coil's, by name.

    Yields:
        What its formulas rest on, in the order of the work.
    """
    yield from _sizes(of, formulas)
    yield from _wire(of)
    yield from _rates(of, formulas)
    yield from _standing(of, formulas)
    if not of.by_coil:
        yield from _fatigue(of, formulas)
    yield _as_exported(of)


def _row(of: CoilCells, formulas: Mapping[str, str], name: str, label: str, value: float | None, kind: Kind) -> Rest:
    book = of.book
    return Rest(
        name=name,
        label=label,
        formula=formulas[name],
        value=book.shown(value, kind),
        unit=book.unit(kind),
        places=book.places(kind),
    )


def _sizes(of: CoilCells, formulas: Mapping[str, str]) -> Iterator[Rest]:
    geometry, section = of.geometry, of.geometry.section
    round_wire = None if section is None else float(equal_area_diameter(section.area))
    sizes = [
        ("mean_diameter", "Mean diameter in use", geometry.mean_diameter),
        ("small_diameter", "Mean diameter at the small end", geometry.small_mean_diameter),
        ("across", "Wire across the coil", None if section is None else float(section.radial)),
        ("round_diameter", "Round wire of the same area", round_wire),
    ]
    for name, label, value in sizes:
        yield _row(of, formulas, name, label, value, LENGTH)
    if of.by_coil:
        known = geometry.active_coils is not None and not geometry.wanting("tapered_coils")
        value = geometry.tapered_coils if known else None
        yield _plain(formulas, "tapered_coils", "Coils that taper", value, "")
    per_metre, unit = of.book.per_metre(), of.book.unit(LENGTH)
    for name, label, power, sign in (
        ("area", "Area of the section", 2, "\u00b2"),
        ("torsion_constant", "Torsion constant", 4, "\u2074"),
        ("torsion_modulus", "Torsion modulus", 3, "\u00b3"),
    ):
        value = None if section is None else float(getattr(section, name)) * per_metre**power
        yield _plain(formulas, name, label, value, f"{unit}{sign}")


def _plain(formulas: Mapping[str, str], name: str, label: str, value: float | None, unit: str) -> Rest:
    return Rest(name=name, label=label, formula=formulas[name], value=value, unit=unit, places=_digits(value))


def _digits(value: float | None) -> str:
    """The pattern of a number that may be very small."""
    return SMALL if value is not None and 0 < abs(value) < LEAST else tidy(value)


def _wire(of: CoilCells) -> Iterator[Rest]:
    """The wire's moduli and density; the shear modulus is an entry of the sheet Job, the others stand as at export."""
    wire, book = of.geometry.material, of.book
    shear, unit = modulus_shown(book, 0.0 if wire is None else wire.shear_modulus_Pa)
    elastic, _ = modulus_shown(book, 0.0 if wire is None else wire.elastic_modulus_Pa)
    density = 0.0 if wire is None else (book.shown(wire.density_kg_per_m3, Kind.MASS) or 0.0) / book.per_metre() ** 3
    of_mass = f"{book.unit(Kind.MASS)}/{book.unit(LENGTH)}\u00b3"
    rows = (
        ("shear_modulus", "Shear modulus", shear, unit),
        ("elastic_modulus", "Elastic modulus", elastic, unit),
        ("density", "Density", density, of_mass),
    )
    for name, label, value, in_unit in rows:
        live = name == "shear_modulus" and wire is not None
        yield Rest(
            name=name,
            label=f"{label} of the wire",
            formula=modulus_name(of.geometry.path) if live else None,
            value=None if wire is None else value,
            unit=in_unit,
            places="0.0###" if name == "density" else "0",
            source="" if wire is None else wire.source,
        )


def _rates(of: CoilCells, formulas: Mapping[str, str]) -> Iterator[Rest]:
    rate = of.member.evidence.rate
    beside = None if rate is None or rate[1] is Evidence.GEOMETRIC else rate[0]
    yield _row(of, formulas, "evidence_rate", "Rate, measured or stated", beside, RATE)
    yield _row(of, formulas, "coil_rate", "Rate with its active coils", of.geometry.rate, RATE)


def _standing(of: CoilCells, formulas: Mapping[str, str]) -> Iterator[Rest]:
    heights, loads = of.coil.heights, loads_of(of)
    for end, label in (("closed", "Its own height, closed"), ("open", "Its own height, full lift"),
                       ("bind", "Its bind height")):  # fmt: skip
        yield _row(of, formulas, f"{end}_height", label, heights.get(end), LENGTH)
    for end, label in (("closed", "Its load, closed"), ("open", "Its load, full lift")):
        name = f"{end}_load"
        unit, places = of.book.unit(FORCE), of.book.places(FORCE)
        yield Rest(
            name=name, label=label, formula=formulas[name], value=loads[name], unit=unit, places=places,
            how="its own load line",
        )  # fmt: skip


def _fatigue(of: CoilCells, formulas: Mapping[str, str]) -> Iterator[Rest]:
    values = _strengths(of)
    low, high = of.coil.value("en_stress_seat"), of.coil.value("en_stress_open")
    if low is not None and high is not None:
        values |= {"amplitude": (high - low) / 2, "mean_stress": (high + low) / 2}
    for name, label in (
        ("amplitude", "Stress amplitude, Bergstr\u00e4sser"),
        ("mean_stress", "Mean stress, Bergstr\u00e4sser"),
        ("ultimate_shear", "Ultimate shear strength"),
        ("zimmerli_amplitude", "Zimmerli's amplitude"),
        ("goodman_endurance", "Endurance limit, Goodman"),
        ("gerber_endurance", "Endurance limit, Gerber"),
    ):
        yield _row(of, formulas, name, label, values.get(name), STRESS)


def _strengths(of: CoilCells) -> Values:
    """Strengths at export, Pa."""
    wire, section, tensile = of.geometry.material, of.geometry.section, of.coil.value("tensile_strength")
    values: Values = {"ultimate_shear": None if tensile is None else float(ultimate_shear(tensile))}
    if wire is None or section is None or not wire.zimmerli:
        return values
    if float(equal_area_diameter(section.area)) >= ZIMMERLI_MOST_DIAMETER * (1 - SLACK):
        return values
    amplitude, mean = zimmerli(bool(of.geometry.peened))
    values["zimmerli_amplitude"] = amplitude
    if tensile is not None:
        data = (amplitude, mean, float(ultimate_shear(tensile)))
        values |= {
            "goodman_endurance": float(goodman_endurance(*data)),
            "gerber_endurance": float(gerber_endurance(*data)),
        }
    return values


def _as_exported(of: CoilCells) -> Rest:
    """Whether all that the coil was worked out from stands as it did."""
    geometry, wire, section = of.geometry, of.geometry.material, of.geometry.section
    own, shown = of.own, of.book.shown
    sides = (None, None) if section is None else (float(section.radial), float(section.axial))
    cells: Values = {
        of.across: shown(sides[0], LENGTH),
        of.along: shown(sides[1], LENGTH),
        own("mean_diameter"): shown(geometry.mean_diameter, LENGTH),
        own("small_diameter"): shown(geometry.small_mean_diameter, LENGTH),
        own("active_coils"): shown(geometry.active_coils, Plain.NUMBER),
        own("total_coils"): shown(geometry.total_coils, Plain.NUMBER),
        of.entry("free_height"): shown(geometry.free_height, LENGTH),
        own("shear_modulus"): None if wire is None else modulus_shown(of.book, wire.shear_modulus_Pa)[0],
    }
    if of.by_coil:
        cells[own("tapered_coils")] = None if geometry.active_coils is None else geometry.tapered_coils
    known = {cell: value for cell, value in cells.items() if value is not None}
    empty = [f"COUNT({cell})=0" for cell in cells if cell not in known]
    same = [unchanged(cell, value) for cell, value in known.items()]
    formula = when(tuple(known), f"IF(AND({','.join((*same, *empty))}),1,0)", "0")
    label = "As at export (1 yes, 0 no)"
    return Rest(name="as_exported", label=label, formula=formula, value=1.0, unit="", places="")
