"""What heat does to a spring: its modulus falls, and its load with it; part of the load goes for good, by no known law.

Symbols: G shear modulus, T temperature, K.
"""

from __future__ import annotations

import numpy as np

from loadbench.arrays import Floats, Real
from loadbench.errors import InputError
from loadbench.spring.sizes import above

ROOM_TEMPERATURE = 293.15
"""20 degC, K, at which the moduli are stated."""

MODULUS_FALL_PER_K = 0.25e-3
"""EN 13906-1, from memory: share of G lost per kelvin, steel wire to EN 10270-1 and EN 10270-2."""

FIRST_HEAT_LOSS = 0.05
"""Common practice: load a new race spring loses in its first heat cycle, as a share. Its spread is not published."""

RELAXATION_NOTE = (
    "Relaxation: EN 13906-1 gives diagrams only, so no loss is computed. Common practice expects a new race spring to "
    "lose about 5 % of its load in the first heat cycle; how far that spreads is not published. Measure it again after "
    "the first run."
)


def modulus_share(temperature: Real) -> Floats:
    """Modulus of spring steel at a temperature over that at 20 degC; the rate goes with it.

    Args:
        temperature: T, K, above zero. Any shape.

    Returns:
        G(T)/G(20 degC) = 1 - 0.25e-3 (T - 293.15 K), dimensionless. Whether the wire may be so hot is not asked here:
        see the material's upper temperature.

    Raises:
        InputError: a temperature is at absolute zero or below.

    Source:
        en-13906-1, influence of the temperature on the modulus, for wire to en-10270-1 and en-10270-2; from memory.
    """
    (T,) = above("a temperature in kelvin", 0.0, temperature)
    return np.asarray(1 - MODULUS_FALL_PER_K * (T - ROOM_TEMPERATURE))


def hot_load_share(temperature: Real, relaxation: Real = 0.0) -> Floats:
    """Load left at a height when hot, over the load there at 20 degC when new.

    Args:
        temperature: T, K, above zero. Any shape; both broadcast together.
        relaxation: share of the load lost for good, from 0 up to 1; there is no published number to put here, see
            RELAXATION_NOTE.

    Returns:
        The modulus's share, less the part relaxed; dimensionless.

    Raises:
        InputError: a temperature is at absolute zero or below, or the relaxation is not a share.

    Source:
        own derivation: at one deflection the load goes with G (en-13906-1); relaxation takes its share of what is left.
    """
    loss = np.asarray(relaxation, dtype=np.float64)
    if np.any((loss < 0) | (loss >= 1)):
        raise InputError("a relaxation outside 0 to 1", expected="a share of the load, 0.05 for 5 %")
    return np.asarray(modulus_share(temperature) * (1 - loss))
