"""Everything that is known of the springs of a design search, as arrays that run over wires and mean diameters."""

from __future__ import annotations

from dataclasses import dataclass, fields

import numpy as np

from loadbench.arrays import Floats
from loadbench.spring.coil import active_coils, load_at_height, spring_index, wire_mass
from loadbench.spring.ends import bind_height, total_coils
from loadbench.spring.fatigue import (
    alternating_and_mean,
    factor_gerber,
    factor_goodman,
    factor_sines,
    fatigue_known,
    gerber_endurance,
    goodman_endurance,
    ultimate_shear,
    zimmerli,
)
from loadbench.spring.materials import Material
from loadbench.spring.section import round_section
from loadbench.spring.stress import bergstraesser_factor, direct_shear_factor, shear_stress, wahl_factor
from loadbench.spring.surge import first_mode
from loadbench.spring.wanted import Wanted


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Springs:
    """Springs that all carry the wanted loads; each field broadcasts with `mean_diameter`.

    The load at bind is zero where the coils would bind above the free height. Fatigue factors are NaN where the
    published data do not hold.
    """

    wire_diameter: Floats
    mean_diameter: Floats
    active_coils: Floats
    total_coils: Floats
    bind_height: Floats
    bind_load: Floats
    spring_index: Floats
    wahl_factor: Floats
    bergstraesser_factor: Floats
    tensile_strength: Floats
    shear_stress_seat: Floats
    shear_stress_open: Floats
    shear_stress_bind: Floats
    stress_share_open_limit: Floats
    stress_share_bind_limit: Floats
    fatigue_factor_goodman: Floats
    fatigue_factor_gerber: Floats
    fatigue_factor_sines: Floats
    surge_frequency: Floats
    wire_mass: Floats
    moving_mass: Floats

    def at(self, *place: int) -> dict[str, float]:
        """The figures of one spring, by name."""
        shape = self.mean_diameter.shape
        return {each.name: float(np.broadcast_to(getattr(self, each.name), shape)[place]) for each in fields(self)}


def springs_of(wanted: Wanted, material: Material, wire_diameter: Floats, mean_diameter: Floats) -> Springs:
    """Springs that carry the wanted loads at the wanted heights, whatever their limits.

    Args:
        wanted: the loads, heights and ends.
        material: of the wire.
        wire_diameter: d, m, in which the material's strength is known.
        mean_diameter: D, m; broadcasts with the wire.

    Returns:
        Their figures, each of a shape that broadcasts with D.

    Source:
        en-13906-1 for rate and lengths; shigley ch. 10 for the fatigue factors (Bergstraesser on both stresses).
    """
    d, D, k = wire_diameter, mean_diameter, wanted.rate
    section = round_section(d)
    active = active_coils(material.shear_modulus_Pa, d, D, k)
    total = total_coils(wanted.ends, active)
    bind = bind_height(wanted.ends, d, total)
    # A bind height over the free height is no spring; its margin turns it away, not a load below zero.
    bind_load = np.maximum(load_at_height(k, bind, wanted.installed_height, wanted.seat_load), 0.0)
    index = spring_index(D, d)
    wahl, bergstraesser = wahl_factor(index), bergstraesser_factor(index)
    plain = shear_stress(1.0, D, section.torsion_modulus)
    tensile = material.tensile_strength(d)
    fatigue = _fatigue(wanted, plain * bergstraesser, tensile, fatigue_known(material, d))
    static = _static_share(wanted, material, wahl, index)
    moving = wire_mass(section.area, D, active, material.density_kg_per_m3)
    return Springs(
        wire_diameter=d,
        mean_diameter=D,
        active_coils=active,
        total_coils=total,
        bind_height=bind,
        bind_load=bind_load,
        spring_index=index,
        wahl_factor=wahl,
        bergstraesser_factor=bergstraesser,
        tensile_strength=tensile,
        shear_stress_seat=plain * wahl * wanted.seat_load,
        shear_stress_open=plain * wahl * wanted.open_load,
        shear_stress_bind=plain * wahl * bind_load,
        stress_share_open_limit=_share(wanted.stress_share_open_max, static),
        stress_share_bind_limit=_share(wanted.stress_share_bind_max, static),
        fatigue_factor_goodman=fatigue[0],
        fatigue_factor_gerber=fatigue[1],
        fatigue_factor_sines=fatigue[2],
        surge_frequency=first_mode(k, moving),
        wire_mass=wire_mass(section.area, D, total, material.density_kg_per_m3),
        moving_mass=moving,
    )


def _share(own: float | None, static: Floats) -> Floats:
    return static if own is None else np.full_like(static, own)


def _static_share(wanted: Wanted, material: Material, wahl: Floats, index: Floats) -> Floats:
    """The published static share, told for the stress corrected by Wahl (shigley Table 10-6)."""
    if wanted.preset:
        return material.static_share_preset_low * wahl / direct_shear_factor(index)
    return np.full_like(wahl, material.static_share)


def _fatigue(wanted: Wanted, per_load: Floats, tensile: Floats, known: Floats) -> tuple[Floats, Floats, Floats]:
    """Factors by Goodman, Gerber and Sines from the stress per newton of load."""
    amplitude, middle = alternating_and_mean(per_load * wanted.seat_load, per_load * wanted.open_load)
    Ssa, Ssm = zimmerli(wanted.peened)
    Ssu = ultimate_shear(tensile)
    return (
        known * factor_goodman(amplitude, middle, goodman_endurance(Ssa, Ssm, Ssu), Ssu),
        known * factor_gerber(amplitude, middle, gerber_endurance(Ssa, Ssm, Ssu), Ssu),
        known * factor_sines(amplitude, Ssa),
    )
