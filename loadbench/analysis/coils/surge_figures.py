"""The surge modes of a coil, and its first mode against the cam's speed."""

from __future__ import annotations

import math
from collections.abc import Mapping

import numpy as np

from loadbench.analysis.coils.making import coil_figure, found, given, waits_for
from loadbench.analysis.figure import Figure, Input
from loadbench.analysis.wire_formula import MINUS, TIMES
from loadbench.arrays import Floats
from loadbench.readings.coil_geometry import FOR_RATE, CoilGeometry
from loadbench.spring.surge import first_mode, modes, surge_ratio
from loadbench.spring.surge_chain import tapered_modes
from loadbench.spring.taper import coil_turns
from loadbench.spring.temperature import RELAXATION_NOTE, hot_load_share
from loadbench.units import Kind

MODES = 5
"""How many modes are told and drawn."""

BOTH_HELD = "Both ends held, every coil free."
AS_FREE = "The coils of a cylinder land together, at bind: until then as with every coil free."
OF_LOWEST = "The cam turns at half speed. Judged by the lowest first mode that it has, every coil free."


def surge_figure(geometry: CoilGeometry, figures: Mapping[str, Figure]) -> tuple[Figure, Floats | None]:
    """The first mode of a coil with both ends held, and the first five, Hz.

    Args:
        geometry: of the coil.
        figures: of its geometry.

    Returns:
        The figure, and the modes where they can be had.
    """
    name, rate, mass = "surge_frequency", geometry.rate, figures["moving_mass"]
    if rate is None or mass.value is None:
        missing = waits_for(geometry.wanting(*FOR_RATE), mass.missing)
        return coil_figure(name, missing=missing, source="shigley"), None
    stiff = Input(symbol="k", label="rate", value=rate, kind=Kind.RATE, field="figures.geometric_rate")
    weight = found("m", mass)
    if not geometry.tapers:
        first = float(first_mode(rate, mass.value))
        formula = "f = \u221a({k} / {m}) / 2"
        return coil_figure(name, first, formula, (stiff, weight), source="shigley", note=BOTH_HELD), modes(first, MODES)
    along = _tapered(geometry)
    formula = "f = first mode of a chain of its coils, of {k} and {m} together"
    note = f"{BOTH_HELD} Coils that have landed swing no more: the modes rise as they land."
    return coil_figure(name, float(along[0]), formula, (stiff, weight), note=note), along


def unlanding_figure(first: Figure) -> Figure:
    """The first mode at full lift of a coil whose turns all land at bind: that with every coil free.

    Args:
        first: the figure of the first mode.

    Returns:
        The figure.
    """
    return coil_figure(
        "surge_frequency_open", first.value, first.formula, first.inputs, source=first.source, missing=first.missing,
        note=AS_FREE if first.known else "",
    )  # fmt: skip


def _tapered(geometry: CoilGeometry) -> Floats:
    """The modes of a taper of which everything is known."""
    section, wire, large = geometry.section, geometry.material, geometry.mean_diameter
    if section is None or wire is None or large is None:
        return np.full(MODES, np.nan)
    active = geometry.active_coils or 0.0
    diameters, turns = coil_turns(large, geometry.small_mean_diameter or large, active, geometry.tapered_coils)
    twist, area = float(section.torsion_constant), float(section.area)
    return tapered_modes(diameters, turns, twist, area, wire.shear_modulus_Pa, wire.density_kg_per_m3, MODES)


def ratio_figure(first: Figure, speed: float | None) -> Figure:
    """The first mode over the cam's own frequency at the speed limit.

    Args:
        first: the figure of the first mode.
        speed: duty.speed_limit, rad/s.

    Returns:
        The figure.
    """
    missing = waits_for(first.missing, () if speed is not None else ("duty.speed_limit",))
    if first.value is None or not speed:
        return coil_figure("surge_ratio", missing=missing, source="surge-rule")
    limit = Input(symbol="N", label="speed limit", value=speed, kind=Kind.SPEED, field="duty.speed_limit")
    turning = given("f_cam", "turns of the cam a second", speed / (4 * math.pi), Kind.FREQUENCY)
    value = float(surge_ratio(first.value, speed))
    inputs = (found("f", first), turning, limit)
    return coil_figure("surge_ratio", value, "ratio = {f} / {f_cam}", inputs, source="surge-rule", note=OF_LOWEST)


def hot_figure(geometry: CoilGeometry, temperature: float | None) -> Figure:
    """The share of the load that is left when the spring is as hot as the oil.

    Args:
        geometry: of the coil.
        temperature: duty.oil.temperature, K.

    Returns:
        The figure.
    """
    wire = geometry.material
    missing = waits_for(geometry.wanting("material"), () if temperature is not None else ("duty.oil.temperature",))
    if wire is None or temperature is None:
        return coil_figure("hot_load_share", missing=missing, source="en-13906-1")
    notes = ["The oil's temperature is taken as the spring's.", RELAXATION_NOTE]
    if wire.upper_temperature_K is not None and temperature > wire.upper_temperature_K:
        notes.insert(1, "That is above what this wire is made for.")
    kelvin = given("T", "oil temperature, K", temperature, field="duty.oil.temperature")
    formula = f"share = 1 {MINUS} 0.00025 {TIMES} ({{T}} {MINUS} 293.15)"
    value = float(hot_load_share(temperature))
    return coil_figure(
        "hot_load_share", value, formula, (kelvin,), source="en-13906-1", note=" ".join(notes), evidence="modulus alone"
    )
