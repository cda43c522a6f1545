"""What the oil does for the life of needles: reference viscosity, viscosity ratio and the life factor aISO."""

from __future__ import annotations

import numpy as np

from loadbench.arrays import Floats, Real
from loadbench.errors import InputError
from loadbench.spring.sizes import positive

RELIABILITY = {90: 1.0, 95: 0.64, 96: 0.55, 97: 0.47, 98: 0.37, 99: 0.25}
"""Life factor a1 by reliability in percent. Source: iso-281 (2007; the edition of 1990 had lower ones), from memory."""

LEAST_KAPPA, MOST_KAPPA, MOST_FACTOR, MOST_WITH_ADDITIVE = 0.1, 4.0, 50.0, 3.0
FATIGUE_SHARE = 8.2
"""C0 over the fatigue limit load Cu of a roller bearing, simple form. Source: iso-281, annex B (memory)."""

CONTAMINATION = 0.3
"""Factor eC of engine oil behind a full-flow filter: slight to typical contamination. Source: common practice."""


def reference_viscosity(speed: Real, pitch_diameter: Real) -> Floats:
    """Kinematic viscosity that a bearing asks for.

    Args:
        speed: of turning, rad/s, above zero.
        pitch_diameter: Dpw, m, above zero.

    Returns:
        v1, m2/s, of the broadcast shape. Its two branches differ by 2.3 % where they meet, at 1000 turns a minute.

    Raises:
        InputError: a speed or size at zero or below.

    Source:
        iso-281, 9.3.3: 45000 n^-0.83 Dpw^-0.5 below 1000 turns a minute, 4500 n^-0.5 Dpw^-0.5 from there.
    """
    w, D = positive("a speed or pitch diameter", speed, pitch_diameter)
    n, mm = w * 30 / np.pi, D * 1e3
    slow = n < 1000 * (1 - 1e-12)
    return np.asarray(np.where(slow, 45000 * n**-0.83, 4500 * n**-0.5) * mm**-0.5 * 1e-6)


def life_factor(kappa: Real, contamination: Real, fatigue_limit: Real, load: Real) -> Floats:
    """Life factor aISO of a radial roller bearing.

    Args:
        kappa: viscosity over the reference viscosity; above 4 counts as 4.
        contamination: eC, 0 to 1.
        fatigue_limit: Cu, N.
        load: P, N, above zero.

    Returns:
        aISO, at most 50, of the broadcast shape; NaN for kappa below 0.1, where the standard gives none.

    Raises:
        InputError: a load at zero or below.

    Source:
        iso-281, 9.3.3.
    """
    (P,) = positive("a load", load)
    k = np.minimum(np.asarray(kappa, dtype=np.float64), MOST_KAPPA)
    safe = np.maximum(k, LEAST_KAPPA)
    middle = 1.5859 - 1.2348 / safe**0.19087
    A = np.where(safe < 0.4, 1.5859 - 1.3993 / safe**0.054381, middle)
    A = np.where(safe >= 1, 1.5859 - 1.2348 / safe**0.071739, A)
    inner = 1 - A * (np.asarray(contamination) * fatigue_limit / P) ** 0.4
    # Where the load is so small that nothing is left, the bearing would last for ever: the cap holds.
    factor = np.where(inner > 0, 0.1 * np.maximum(inner, 1e-9) ** -9.185, MOST_FACTOR)
    return np.asarray(np.where(k >= LEAST_KAPPA, np.minimum(factor, MOST_FACTOR), np.nan))


def additive_factor(kappa: Real, contamination: Real, fatigue_limit: Real, load: Real) -> Floats:
    """Life factor aISO with a proven extreme-pressure additive: kappa below 1 may count as 1.

    Args:
        kappa: viscosity ratio.
        contamination: eC, 0.2 or above.
        fatigue_limit: Cu, N.
        load: P, N.

    Returns:
        aISO: at most 3 by the additive, and never less than without it.

    Raises:
        InputError: a contamination factor under 0.2, where the standard does not allow it.

    Source:
        iso-281, 9.3.3.
    """
    k = np.asarray(kappa, dtype=np.float64)
    if np.any(np.asarray(contamination) < 0.2):
        raise InputError("an additive counted in dirty oil", expected="a contamination factor of 0.2 or above")
    plain = life_factor(k, contamination, fatigue_limit, load)
    raised = np.minimum(life_factor(np.ones_like(k), contamination, fatigue_limit, load), MOST_WITH_ADDITIVE)
    return np.asarray(np.where(k < 1, np.fmax(plain, raised), plain))


def fatigue_limit_load(static_rating: Real) -> Floats:
    """Fatigue limit load of a roller bearing, simple form.

    Args:
        static_rating: C0, N.

    Returns:
        Cu, N; for pitch diameters up to 100 mm.

    Source:
        iso-281, annex B (memory): C0/8.2.
    """
    return np.asarray(np.asarray(static_rating) / FATIGUE_SHARE)
