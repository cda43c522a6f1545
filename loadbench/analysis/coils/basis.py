"""What of a coil does not follow heights and lifts: geometry, strength, stress per load, modes; kept between edits."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from loadbench.analysis.coils.geometry_figures import Counted, geometry_figures
from loadbench.analysis.coils.kept import kept
from loadbench.analysis.coils.landings import curve_of_wire
from loadbench.analysis.coils.making import NOT_STATED, found
from loadbench.analysis.coils.result import LoadCurve
from loadbench.analysis.coils.strength import WireStrength, strength_of
from loadbench.analysis.coils.surge_figures import surge_figure, unlanding_figure
from loadbench.analysis.figure import Figure, Input
from loadbench.analysis.nest import MemberStated
from loadbench.analysis.wire_formula import Formula, modulus
from loadbench.arrays import Floats
from loadbench.job.stated import LineStated
from loadbench.readings.coil_geometry import CoilGeometry, coil_geometry, with_coils_of_rate
from loadbench.readings.coil_line import elements_of_coil, winding_of
from loadbench.readings.strand import Evidence
from loadbench.spring.landing import closing_loads
from loadbench.spring.stress import bergstraesser_factor, shear_stress, wahl_factor
from loadbench.spring.tolerances import load_tolerance
from loadbench.spring.winding import Elements

NO_COIL = CoilGeometry(
    path=f"{NOT_STATED}.0",
    concerned=False,
    lacking=dict.fromkeys(
        ("section", "mean_diameter", "active_coils", "total_coils", "ends", "free_height", "material"),
        (NOT_STATED,),
    ),
    missing=(NOT_STATED,),
)
"""What is known of a spring without coil data."""

INPUTS = {"K_W": "wahl_factor", "k": "bergstraesser_factor", "R_m": "tensile_strength"}
ALL_FREE = "Every coil is taken as free: where they land cannot be had."
EVEN_PITCH = "The greatest of all its coils; one that has landed keeps its own. The pitch is taken as even."
PAST_LANDING = "The load is more than brings all coils down by an even pitch: every coil is taken as free."


PLAIN, WAHL, BERGSTRAESSER = range(3)


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Stressed:
    """Stress for each newton in every element of a coil, and the load at which each lands, N.

    `per_load` is in Pa/N, of shape (3, elements): uncorrected, by Wahl, by Bergstraesser. A cylinder is one element
    that never lands; `single` then holds its three as numbers. `last` is the greatest landing load, `note` what was
    taken.
    """

    per_load: Floats
    landing: Floats
    last: float
    single: tuple[float, ...] | None
    note: str = ""

    def loads(self, load: float) -> Floats:
        """What each element carries under a load, N: no more than its landing load, unless all would be down."""
        past = load > self.last * (1 + 1e-6)
        return np.full(self.landing.shape, load) if past else np.minimum(load, self.landing)

    def peaks(self, load: float) -> tuple[float, ...]:
        """The greatest stress along the coil under a load, Pa: uncorrected, by Wahl, by Bergstraesser."""
        if self.single is not None:
            return tuple(each * load for each in self.single)
        return tuple((self.per_load * self.loads(load)).max(axis=1).tolist())

    def ranges(self, low: float, high: float) -> tuple[float, ...]:
        """The greatest change of stress in a coil between two loads, Pa: likewise."""
        if self.single is not None:
            return tuple(each * (high - low) for each in self.single)
        return tuple((self.per_load * (self.loads(high) - self.loads(low))).max(axis=1).tolist())

    def note_at(self, load: float) -> str:
        """What was taken at a load."""
        return PAST_LANDING if load > self.last * (1 + 1e-6) else self.note


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class CoilBasis:
    """One coil without its heights. `figures` are those that need none."""

    path: str
    geometry: CoilGeometry
    figures: dict[str, Figure]
    elements: Elements | None
    from_wire: LoadCurve | None
    stressed: Stressed | None
    strength: WireStrength | None
    modes: Floats | None
    bind: float | None
    modulus: Formula
    """D / (2 W), as text and inputs."""
    inputs: dict[str, Input]
    """Figures of the coil that are inputs of others at every edit, by their symbols."""
    tolerance: tuple[float, float]
    """What the standard allows the load to be off, N: without a load, and for each newton of it."""


def basis_of(line: LineStated, member: MemberStated) -> CoilBasis:
    """The basis of one member, as it was where neither the coil nor the rate it is counted from has changed."""
    geometry = coil_geometry(line, member.path) if member.path else NO_COIL
    counted = _counted(geometry, member)
    return kept("basis", member.path, (geometry, counted), lambda: _basis(geometry, counted))


def _counted(geometry: CoilGeometry, member: MemberStated) -> Counted | None:
    """The rate that the active coils are to be counted from; None where they are stated, faulty or no rate is there."""
    if geometry.active_coils is not None or f"{geometry.path}.active_coils" in geometry.faulty:
        return None
    rate = member.evidence.rate
    if rate is None or rate[1] is Evidence.GEOMETRIC or not member.path:
        return None
    return Counted(rate[0], str(rate[1]), f"{member.path}.rate")


def _basis(geometry: CoilGeometry, counted: Counted | None) -> CoilBasis:
    whole = None if counted is None else with_coils_of_rate(geometry, counted.rate)
    counted = None if whole is None else counted
    geometry = whole or geometry
    figures = geometry_figures(geometry, counted)
    winding = winding_of(geometry)
    elements = None if winding is None else elements_of_coil(geometry, winding)
    strength, figures["tensile_strength"] = strength_of(geometry)
    figures["surge_frequency"], modes = surge_figure(geometry, figures)
    if not geometry.tapers:
        figures["surge_frequency_open"] = unlanding_figure(figures["surge_frequency"])
    return CoilBasis(
        path=geometry.path,
        geometry=geometry,
        figures=figures,
        elements=elements,
        from_wire=None if elements is None else curve_of_wire(geometry, elements),
        stressed=_stressed(geometry, elements),
        strength=strength,
        modes=modes,
        bind=figures["geometric_bind_height"].value,
        modulus=modulus(geometry),
        inputs={symbol: found(symbol, figures[name]) for symbol, name in INPUTS.items()},
        tolerance=_tolerance(geometry),
    )


def _tolerance(geometry: CoilGeometry) -> tuple[float, float]:
    section, large, active = geometry.section, geometry.mean_diameter, geometry.active_coils
    if section is None or large is None or active is None:
        return math.nan, math.nan
    none, one = load_tolerance(float(section.radial), large, active, np.array([0.0, 1.0]), 2)
    return float(none), float(one - none)


def _stressed(geometry: CoilGeometry, elements: Elements | None) -> Stressed | None:
    section, large = geometry.section, geometry.mean_diameter
    if section is None or large is None or geometry.small_mean_diameter is None or large <= section.radial:
        return None
    tapers = geometry.tapers
    diameters = elements.diameters if tapers and elements is not None else np.array([large])
    landing = np.array([np.inf])
    if tapers and elements is not None:
        landing = closing_loads(elements.compliances, elements.gaps)

    index = diameters / section.radial
    factors = np.stack([np.ones_like(index), wahl_factor(index), bergstraesser_factor(index)])
    per_load = shear_stress(1.0, diameters, section.torsion_modulus, factors)
    return Stressed(
        per_load=per_load,
        landing=landing,
        last=float(landing.max()),
        single=tuple(per_load[:, 0].tolist()) if landing.size == 1 else None,
        note="" if not tapers else ALL_FREE if elements is None else EVEN_PITCH,
    )
