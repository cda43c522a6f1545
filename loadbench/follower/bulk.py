"""Stiffness of oil with air in it."""

from __future__ import annotations

import numpy as np

from loadbench.arrays import Floats, Real
from loadbench.errors import InputError
from loadbench.spring.sizes import positive

OIL = 1.5e9
"""Bulk modulus of engine oil without air, Pa. Source: common practice, from memory (merritt gives 1.4e9 to 1.7e9)."""

AIR = 101325.0
"""Pressure of the air, Pa, at which the share of air is told."""

ISOTHERMAL, ADIABATIC = 1.0, 1.4
"""Exponents of the gas: slow, and as fast as a valve opens."""


def bulk_modulus(pressure: Real, air_share: Real, exponent: float = ADIABATIC, oil: float = OIL) -> Floats:
    """Effective bulk modulus of oil with entrained air that shrinks under pressure.

    Args:
        pressure: absolute, Pa, above zero.
        air_share: of the volume at the pressure of the air, 0 up to but not 1.
        exponent: n of p V^n, 1 where heat has time to leave, 1.4 where it has none.
        oil: bulk modulus of the oil alone, Pa.

    Returns:
        Pa, of the broadcast shape.

    Raises:
        InputError: a pressure at zero or below, a share outside 0 to 1.

    Source:
        merritt, two springs in series: (Vl + Vg)/(Vl/B + Vg/(n p)), Vg = x/(1 - x) (pa/p)^(1/n), Vl = 1 - (p - pa)/B.
    """
    (p,) = positive("a pressure", pressure)
    x = np.asarray(air_share, dtype=np.float64)
    if not np.all((x >= 0) & (x < 1)):
        raise InputError("a share of air outside 0 to 1", expected="0 up to but not 1")
    gas = x / (1 - x) * (AIR / p) ** (1 / exponent)
    liquid = 1 - (p - AIR) / oil
    return np.asarray((liquid + gas) / (liquid / oil + gas / (exponent * p)))
