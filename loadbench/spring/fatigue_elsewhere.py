"""Fatigue of a coil as two other textbooks reckon it, to set beside the factors the program judges by.

Both put the curvature factor (Wahl) on the amplitude and only the direct shear factor on the mean. Symbols as in
`fatigue`.
"""

from __future__ import annotations

import numpy as np

from loadbench.arrays import Floats, Real
from loadbench.spring.fatigue import factor_goodman
from loadbench.spring.sizes import above

BHANDARI_OIL_TEMPERED = (0.22, 0.45)
"""Bhandari ch. 10, oil-hardened and tempered wire: pulsating endurance limit and torsional yield over Sut."""


def factor_bhandari(alternating: Real, mean: Real, pulsating: Real, torsional_yield: Real) -> Floats:
    """Bhandari's fatigue factor: a Soderberg line through the strength under a stress pulsating from zero.

    Args:
        alternating: tau_a, Pa, corrected by Wahl, zero or above. Any shape; all arguments broadcast together.
        mean: tau_m, Pa, corrected for direct shear, zero or above.
        pulsating: Se', Pa, the endurance limit for a stress from zero to Se'; above zero.
        torsional_yield: Ssy, Pa, above Se'/2.

    Returns:
        The n of 1/n = [tau_a (Ssy - Se'/2)/(Se'/2) + tau_m] / Ssy; infinite without stress.

    Raises:
        InputError: a strength is zero or below, or the yield is not above half the endurance limit.

    Source:
        bhandari ch. 10, design against fluctuating load.
    """
    (Se,) = above("a strength", 0.0, pulsating)
    above("yield less half the endurance limit", 0.0, np.asarray(torsional_yield) - Se / 2)
    Ssy = np.asarray(torsional_yield, dtype=np.float64)
    # The line meets the axis of the amplitude where 1/n = 1 at no mean.
    return factor_goodman(alternating, mean, Ssy * (Se / 2) / (Ssy - Se / 2), Ssy)


def norton_reversed_endurance(wire_endurance: Real, ultimate: Real) -> Floats:
    """Norton's fully reversed endurance limit from a limit for a stress pulsating from zero.

    Args:
        wire_endurance: Sew, Pa, pulsating (465 MPa peened, 310 MPa not, in that book). Any shape; both broadcast.
        ultimate: Sus, Pa, above Sew/2.

    Returns:
        Ses = 0.5 Sew Sus / (Sus - 0.5 Sew), Pa, of the broadcast shape.

    Raises:
        InputError: the ultimate strength is not above half the endurance limit.

    Source:
        norton, helical springs in fatigue.
    """
    half = np.asarray(wire_endurance, dtype=np.float64) / 2
    above("ultimate strength less half the endurance limit", 0.0, np.asarray(ultimate) - half)
    return np.asarray(half * ultimate / (np.asarray(ultimate) - half))


def factor_norton(alternating: Real, mean: Real, initial: Real, endurance: Real, ultimate: Real) -> Floats:
    """Norton's fatigue factor: the amplitude grows from the seated stress, along its own load line.

    Args:
        alternating: tau_a, Pa, corrected by Wahl, zero or above. Any shape; all arguments broadcast together.
        mean: tau_m, Pa, corrected for direct shear, at least tau_i.
        initial: tau_i, Pa, at the lowest load, corrected for direct shear, below Sus.
        endurance: Ses, Pa, above zero.
        ultimate: Sus, Pa, above zero.

    Returns:
        Ses (Sus - tau_i) / (Ses (tau_m - tau_i) + Sus tau_a); infinite without a range.

    Raises:
        InputError: a strength is zero or below, or the initial stress is not below the ultimate.

    Source:
        norton, helical springs in fatigue.
    """
    Ses, Sus = above("a strength", 0.0, endurance, ultimate)
    (room,) = above("ultimate strength less initial stress", 0.0, Sus - np.asarray(initial))
    # Seen from the initial stress it is a Goodman line: its amplitude there and what is left of the mean.
    return factor_goodman(alternating, np.asarray(mean) - initial, Ses * room / Sus, room)
