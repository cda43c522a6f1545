"""The surge modes of a coil with the load closed or at full lift on it: those of a taper rise as its coils land."""

from __future__ import annotations

import numpy as np

from loadbench.analysis.coils.basis import CoilBasis
from loadbench.analysis.coils.kept import kept
from loadbench.analysis.coils.making import coil_figure, given, waits_for
from loadbench.analysis.figure import Figure
from loadbench.arrays import Floats
from loadbench.motion.waves import WaveShape, chain_shape, uniform_shape
from loadbench.readings.coil_line import FOR_WINDING
from loadbench.spring.landed_surge import LandingSpring, landing_spring
from loadbench.spring.surge_chain import element_masses
from loadbench.spring.taper import coil_turns, turn_compliance
from loadbench.units import Kind

NONE_DOWN = "No coil has landed by then: as with every coil free."
SOME_DOWN = "Both ends held; coils that have landed swing no more. The pitch is taken as even."
ALL_DOWN = "The load is as much as brings all coils down by an even pitch: which of them are free cannot be had."


def modes_at(basis: CoilBasis, load: float | None) -> Floats | None:
    """The modes with a load on the coil.

    Args:
        basis: of the coil.
        load: of this coil, N.

    Returns:
        Frequencies, Hz: a cylinder's as they are, a taper's without the coils that have landed; None where they cannot
        be had. The array of the basis itself where no coil has landed.
    """
    if not basis.geometry.tapers or basis.modes is None:
        return basis.modes
    if load is None or basis.elements is None or basis.stressed is None:
        return None
    if load < basis.stressed.landing[0]:
        return basis.modes
    spring = kept("landing_spring", basis.path, (basis,), lambda: _spring(basis))[0]
    found = None if spring is None else spring.modes(load)
    return found if found is not None and np.isfinite(found[0]) else None


def _spring(basis: CoilBasis) -> tuple[LandingSpring | None]:
    elements, section, wire = basis.elements, basis.geometry.section, basis.geometry.material
    if elements is None or section is None or wire is None or basis.modes is None:
        return (None,)
    masses = element_masses(elements.diameters, elements.turns, float(section.area), wire.density_kg_per_m3)
    return (landing_spring(elements.compliances, elements.gaps, masses, basis.modes),)


def wave_shape_of(basis: CoilBasis, load: float | None) -> WaveShape | None:
    """How a coil swings in a dynamic run: a taper without the coils that have landed at half its travel.

    Args:
        basis: of the coil.
        load: of this coil in the middle between closed and full lift, N; None takes every coil as free.

    Returns:
        The shape, the same object while no more coils land; None where its modes cannot be had.
    """
    if basis.modes is None or not basis.geometry.tapers:
        return None if basis.modes is None else UNIFORM
    down = 0
    if load is not None and basis.stressed is not None and basis.stressed.landing.size > 1:
        down = int(np.count_nonzero(load >= basis.stressed.landing))
    return kept("wave_shape", basis.path, (basis, down), lambda: (_chain_shape(basis, load if down else None),))[0]


UNIFORM = uniform_shape()


def _chain_shape(basis: CoilBasis, load: float | None) -> WaveShape | None:
    geometry = basis.geometry
    section, wire, large = geometry.section, geometry.material, geometry.mean_diameter
    if section is None or wire is None or large is None:
        return None
    elements, free = basis.elements, None
    if elements is None or basis.stressed is None:
        active = geometry.active_coils or 0.0
        diameters, turns = coil_turns(large, geometry.small_mean_diameter or large, active, geometry.tapered_coils)
        give = turn_compliance(wire.shear_modulus_Pa, float(section.torsion_constant), diameters) * turns
    else:
        diameters, turns, give = elements.diameters, elements.turns, elements.compliances
        if load is not None:
            free = np.flatnonzero(load < basis.stressed.landing)
    masses = element_masses(diameters, turns, float(section.area), wire.density_kg_per_m3)
    return chain_shape(give, masses, free)


def open_mode_figure(
    basis: CoilBasis, load: float | None, found: Floats | None, missing: tuple[str, ...], evidence: str
) -> Figure:
    """The first mode of a taper at full lift.

    Args:
        basis: of the coil.
        load: of this coil at full lift, N.
        found: its modes there, by modes_at().
        missing: what the load waits for.
        evidence: what the load comes from.

    Returns:
        The figure.
    """
    name, geometry = "surge_frequency_open", basis.geometry
    if basis.modes is None:
        return coil_figure(name, missing=basis.figures["surge_frequency"].missing)
    if load is None or basis.elements is None:
        lacking: tuple[str, ...] = ()
        if basis.elements is None:
            lacking = geometry.wanting(*FOR_WINDING, "free_height") or (f"{geometry.path}.free_height",)
        return coil_figure(name, missing=waits_for(lacking, missing))
    if found is None:
        return coil_figure(name, note=ALL_DOWN)
    force = given("F", "its load, full lift", load, Kind.FORCE, "figures.member_open_load")
    formula = "f = first mode of a chain of its coils, without those that have landed under {F}"
    note = NONE_DOWN if found is basis.modes else SOME_DOWN
    return coil_figure(name, float(found[0]), formula, (force,), note=note, evidence=evidence)
