"""A great many springs at once: rate, stresses, fatigue factor and surge, by the plain functions over short pieces.

The pieces fit the processor's own memory, so the cost stays in step with the number of springs.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, fields

import numpy as np

from loadbench.arrays import Floats, Real
from loadbench.spring.coil import rate, spring_index, wire_mass
from loadbench.spring.fatigue import (
    alternating_and_mean,
    factor_goodman,
    fatigue_known,
    goodman_endurance,
    ultimate_shear,
    zimmerli,
)
from loadbench.spring.materials import Material
from loadbench.spring.section import round_section
from loadbench.spring.stress import bergstraesser_factor, shear_stress, wahl_factor
from loadbench.spring.surge import first_mode

# Some twenty arrays of this many floats are alive at a time, 1.3 MB: half of a usual second-level cache.
PIECE = 8192


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class ManySprings:
    """What was computed of many springs, all arrays of one shape, SI.

    Stresses are corrected by Wahl. The fatigue factor is NaN where strength or fatigue data are not published.
    """

    rate: Floats
    shear_stress_seat: Floats
    shear_stress_open: Floats
    fatigue_factor_goodman: Floats
    surge_frequency: Floats


def judge_many(
    wire_diameter: Real,
    mean_diameter: Real,
    active_coils: Real,
    seat_load: Real,
    open_load: Real,
    material: Material,
    peened: bool = False,
) -> ManySprings:
    """Rate, stresses, fatigue factor and surge frequency of cylindrical springs of round wire.

    Args:
        wire_diameter: d, m, above zero. Any shape; all numbers broadcast together.
        mean_diameter: D, m, above d.
        active_coils: n, above zero.
        seat_load: load closed, N.
        open_load: load at full lift, N.
        material: of all the wire.
        peened: whether the Zimmerli data for peened springs are taken.

    Returns:
        The figures, each of the broadcast shape.

    Raises:
        InputError: a diameter or a coil count is zero or below, or an index 1 or below.

    Source:
        en-13906-1 for the rate; wahl; shigley ch. 10 for Goodman (Bergstraesser on both stresses) and surge.
    """
    given = [
        np.asarray(each, dtype=np.float64)
        for each in (wire_diameter, mean_diameter, active_coils, seat_load, open_load)
    ]
    shape = np.broadcast_shapes(*(each.shape for each in given))
    flat = [each if not each.shape else np.broadcast_to(each, shape).reshape(-1) for each in given]
    size = math.prod(shape)
    told = {field.name: np.empty(size) for field in fields(ManySprings)}
    for start in range(0, size, PIECE):
        piece = slice(start, start + PIECE)
        values = _piece([each[piece] if each.shape else each for each in flat], material, peened)
        for name, value in values.items():
            told[name][piece] = value
    return ManySprings(**{name: value.reshape(shape) for name, value in told.items()})


def _piece(springs: list[Floats], material: Material, peened: bool) -> dict[str, Floats]:
    """One piece, by the plain functions."""
    d, D, n, seat, open_load = springs
    section, index = round_section(d), spring_index(D, d)
    R = rate(material.shear_modulus_Pa, d, D, n)
    plain = shear_stress(1.0, D, section.torsion_modulus)
    corrected, fatigued = plain * wahl_factor(index), plain * bergstraesser_factor(index)
    amplitude, mean = alternating_and_mean(fatigued * seat, fatigued * open_load)
    Ssu = ultimate_shear(material.tensile_strength(d))
    factor = factor_goodman(amplitude, mean, goodman_endurance(*zimmerli(peened), Ssu), Ssu)
    return {
        "rate": R,
        "shear_stress_seat": corrected * seat,
        "shear_stress_open": corrected * open_load,
        "fatigue_factor_goodman": factor * fatigue_known(material, d),
        "surge_frequency": first_mode(R, wire_mass(section.area, D, n, material.density_kg_per_m3)),
    }
