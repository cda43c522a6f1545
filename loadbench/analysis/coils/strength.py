"""How strong a coil's wire is: tensile and shear strength, Zimmerli's data, the limits that follow from them."""

from __future__ import annotations

import math
from dataclasses import dataclass

from loadbench.analysis.coils.making import coil_figure, given
from loadbench.analysis.figure import Figure, Input
from loadbench.analysis.wire_formula import TIMES, area, round_wire
from loadbench.readings.coil_geometry import CoilGeometry
from loadbench.spring.fatigue import (
    ZIMMERLI_MOST_DIAMETER,
    gerber_endurance,
    goodman_endurance,
    ultimate_shear,
    zimmerli,
)
from loadbench.spring.materials import Material, equal_area_diameter
from loadbench.spring.section import Shape
from loadbench.spring.strength import PowerLaw
from loadbench.units import Kind

STRESS = Kind.STRESS
SEEN = {
    "memory": "This step of the table was recalled, not read again.",
    "bounded": "This step of the table was not seen: its neighbours bound it, and the lower bound is taken.",
}
BEYOND = "The strength table of this wire does not reach its size."
UNPEENED = "Shot peening is not stated: taken as not peened."
NOT_PRESET = "Presetting is not stated: taken as not preset."
TOO_THICK = "The published fatigue data hold for wire below 10 mm (3/8 in)."
TOO_WEAK = "The wire is no stronger than the mean stress of the published data: the line through them does not exist."


@dataclass(frozen=True, slots=True, kw_only=True)
class Fatigue:
    """Zimmerli's data for one wire and the lines through them, Pa; and the strengths as inputs of each factor."""

    amplitude: float
    mean: float
    endurance_goodman: float
    endurance_gerber: float
    peened: bool
    inputs: dict[str, tuple[Input, ...]]
    strengths: tuple[float, float, float, float]
    """Endurance by Goodman and by Gerber, amplitude, ultimate shear strength: in a row, to be put into arrays."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class WireStrength:
    """Of one coil's wire, Pa: `fatigue` is None where the published data do not hold, `why_not` says why."""

    tensile: float
    ultimate: float
    static_limit: float
    figure: Figure
    fatigue: Fatigue | None
    why_not: str = ""
    note: str = ""


def strength_of(geometry: CoilGeometry) -> tuple[WireStrength | None, Figure]:
    """The wire's strength and the figure that tells it.

    Args:
        geometry: of the coil.

    Returns:
        The strength, None where it cannot be had, and the figure either way.
    """
    section, wire = geometry.section, geometry.material
    if section is None or wire is None:
        return None, coil_figure("tensile_strength", missing=geometry.wanting("section", "material"))
    diameter = float(section.radial if section.shape is Shape.ROUND else equal_area_diameter(section.area))
    low, high = (float(end) for end in wire.tensile_band(diameter))
    if not math.isfinite(low):
        field = "wire.diameter" if section.shape is Shape.ROUND else "wire.thickness"
        missing = (f"{geometry.path}.{field}",)
        return None, coil_figure("tensile_strength", note=BEYOND, missing=missing, source=wire.strength_source)
    figure = _figure(geometry, wire, diameter, (low, high))
    ultimate = float(ultimate_shear(low))
    share = wire.static_share_preset_low if geometry.preset else wire.static_share
    fatigue, why_not = _fatigue(geometry, wire, diameter, ultimate)
    strength = WireStrength(
        tensile=low,
        ultimate=ultimate,
        static_limit=share * low,
        figure=figure,
        fatigue=fatigue,
        why_not=why_not,
        note=UNPEENED if geometry.peened is None else "",
    )
    return strength, figure


def _figure(geometry: CoilGeometry, wire: Material, diameter: float, band: tuple[float, float]) -> Figure:
    low, high = band
    field, notes = f"{geometry.path}.material", [SEEN.get(wire.strength_seen(diameter), "")]
    shape = Shape.ROUND if geometry.section is None else geometry.section.shape
    sizes: tuple[Input, ...] = (round_wire(geometry),)
    if shape is not Shape.ROUND:
        text, sizes = area(geometry)
        notes.insert(0, "Read at the diameter of round wire of the same area.")
        inside = f"\u221a(4 / \u03c0 {TIMES} {text})"
    else:
        inside = "{d}"
    if isinstance(wire.strength, PowerLaw):
        constants = (
            given("A", "strength of a wire of 1 mm", wire.strength.at_one_mm_Pa, STRESS, field),
            given("m", "exponent", wire.strength.exponent, field=field),
            given("mm", "one millimetre", 1e-3, Kind.LENGTH),
        )
        formula, evidence = f"R_m = {{A}} / ({inside} / {{mm}})^{{m}}", "by the wire's law of strength"
        inputs = (*constants, *sizes)
    else:
        formula, evidence = "R_m = {R_low}", "the lower end of the standard's band"
        inputs = (
            given("R_low", "lower end of the band", low, STRESS, field),
            given("R_high", "upper end of the band", high, STRESS, field),
            *sizes,
        )
    note = " ".join(each for each in notes if each)
    return coil_figure(
        "tensile_strength", low, formula, inputs, source=wire.strength_source, evidence=evidence, note=note
    )


def _fatigue(geometry: CoilGeometry, wire: Material, diameter: float, ultimate: float) -> tuple[Fatigue | None, str]:
    if not wire.zimmerli:
        return None, "No fatigue data are published for this wire."
    if diameter >= ZIMMERLI_MOST_DIAMETER * (1 - 1e-9):
        return None, TOO_THICK
    peened = bool(geometry.peened)
    amplitude, mean = zimmerli(peened)
    goodman, gerber = (float(line(amplitude, mean, ultimate)) for line in (goodman_endurance, gerber_endurance))
    if not math.isfinite(goodman):
        return None, TOO_WEAK
    shear = given("S_su", "ultimate shear strength, 0.67 of tensile", ultimate, STRESS)
    inputs: dict[str, tuple[Input, ...]] = {
        way: (given("S_se", "endurance limit through Zimmerli's data", endurance, STRESS), shear)
        for way, endurance in (("goodman", goodman), ("gerber", gerber))
    }
    inputs["sines"] = (given("S_sa", "Zimmerli's amplitude", amplitude, STRESS),)
    return Fatigue(
        amplitude=amplitude,
        mean=mean,
        endurance_goodman=goodman,
        endurance_gerber=gerber,
        peened=peened,
        inputs=inputs,
        strengths=(goodman, gerber, amplitude, ultimate),
    ), ""
