"""Fatigue of a coil under a repeated torsional stress: Zimmerli's strengths, the lines through them, the factors.

Symbols (Shigley ch. 10): tau_a amplitude and tau_m mean of the spring's own stress; Ssa, Ssm Zimmerli's strengths for
endless life; Sse endurance limit, fully reversed; Ssu ultimate shear strength; Ssy torsional yield; r = tau_a/tau_m.
Factors are along the load line from zero: both stresses grow alike. NaN stays NaN: unknown in, unknown out.
"""

from __future__ import annotations

import numpy as np

from loadbench.arrays import Floats, Real
from loadbench.spring.materials import Material
from loadbench.spring.sizes import above

_KPSI = 4448.2216152605 / 0.0254**2

ULTIMATE_SHEAR_SHARE = 0.67
"""Ultimate shear strength over tensile strength: shigley eq. 10-30, norton."""

ZIMMERLI_MOST_DIAMETER = 10e-3
"""Zimmerli's data hold for wire below this, m: shigley sec. 10-9 (3/8 in, printed as 10 mm)."""

EN_FATIGUE_NOTE = (
    "EN 13906-1 gives fatigue strengths as diagrams only, by wire, diameter and peening: its stress range is told, "
    "a factor is not."
)


def zimmerli(peened: bool) -> tuple[float, float]:
    """Zimmerli's torsional strengths for endless life: amplitude Ssa and the mean Ssm it was found at, Pa.

    Args:
        peened: whether the spring is shot-peened.

    Returns:
        Ssa and Ssm. Converted from kpsi, 35 and 55, peened 57.5 and 77.5: the metric print of 57.5 kpsi as 398 MPa
        is a slip of that book (it is 396.4).

    Source:
        shigley eq. 10-28 and 10-29.
    """
    return (57.5 * _KPSI, 77.5 * _KPSI) if peened else (35.0 * _KPSI, 55.0 * _KPSI)


def fatigue_known(material: Material, wire_diameter: Real) -> Floats:
    """One where the Zimmerli data hold for a wire, NaN where they do not.

    Args:
        material: of the wire.
        wire_diameter: d, m, of any shape; for another section the diameter of the same area.

    Returns:
        1 for a material of the data, in wire strictly below 10 mm; else NaN. Of the shape of the diameter.

    Source:
        shigley, the range of the Zimmerli data.
    """
    holds = np.asarray(material.zimmerli) & (np.asarray(wire_diameter) < ZIMMERLI_MOST_DIAMETER)
    return np.where(holds, 1.0, np.nan)


def ultimate_shear(tensile_strength: Real) -> Floats:
    """Ultimate shear strength of spring wire.

    Args:
        tensile_strength: Sut, Pa, of any shape.

    Returns:
        Ssu = 0.67 Sut, Pa, of the same shape.

    Source:
        shigley eq. 10-30.
    """
    return np.asarray(ULTIMATE_SHEAR_SHARE * np.asarray(tensile_strength))


def alternating_and_mean(low: Real, high: Real) -> tuple[Floats, Floats]:
    """Amplitude and mean of a stress, or of a load, that goes between two values.

    Args:
        low: the lower value. Any shape; both broadcast together.
        high: the higher value.

    Returns:
        (high - low)/2 and (high + low)/2, in the unit given.

    Source:
        shigley eq. 10-31 to 10-33.
    """
    low, high = np.asarray(low, dtype=np.float64), np.asarray(high, dtype=np.float64)
    return np.asarray((high - low) / 2), np.asarray((high + low) / 2)


def goodman_endurance(amplitude: Real, mean: Real, ultimate: Real) -> Floats:
    """Endurance limit, fully reversed, of the Goodman line through one known strength.

    Args:
        amplitude: Ssa, Pa. Any shape; all arguments broadcast together.
        mean: Ssm, Pa.
        ultimate: Ssu, Pa.

    Returns:
        Sse = Ssa / (1 - Ssm/Ssu), Pa; NaN where the wire is not stronger than the mean of the data.

    Source:
        shigley sec. 10-10, Goodman.
    """
    share = np.asarray(mean) / _known_above(ultimate, mean)
    return np.asarray(np.asarray(amplitude) / (1 - share))


def gerber_endurance(amplitude: Real, mean: Real, ultimate: Real) -> Floats:
    """Endurance limit, fully reversed, of the Gerber parabola through one known strength.

    Args:
        amplitude: Ssa, Pa. Any shape; all arguments broadcast together.
        mean: Ssm, Pa.
        ultimate: Ssu, Pa.

    Returns:
        Sse = Ssa / (1 - (Ssm/Ssu)^2), Pa; NaN where the wire is not stronger than the mean of the data.

    Source:
        shigley sec. 10-10, Gerber.
    """
    share = np.asarray(mean) / _known_above(ultimate, mean)
    return np.asarray(np.asarray(amplitude) / (1 - share**2))


def _known_above(value: Real, least: Real) -> Floats:
    """The value where it is above the least, elsewhere NaN: there the line through the data does not exist."""
    value = np.asarray(value, dtype=np.float64)
    return np.where(value > least, value, np.nan)


def _inverse(value: Floats) -> Floats:
    """One over a value that is zero or above; infinite at zero, which is what no stress at all means."""
    return np.asarray(np.divide(1.0, value, out=np.full(np.shape(value), np.inf), where=value != 0))


def factor_goodman(alternating: Real, mean: Real, endurance: Real, ultimate: Real) -> Floats:
    """Fatigue factor by Goodman, along the load line.

    Args:
        alternating: tau_a, Pa, zero or above. Any shape; all arguments broadcast together.
        mean: tau_m, Pa, zero or above.
        endurance: Sse of the Goodman line, Pa, above zero.
        ultimate: Ssu, Pa, above zero.

    Returns:
        1 / (tau_a/Sse + tau_m/Ssu), the same as Ssa/tau_a; Ssu/tau_m without a range, infinite without stress.

    Raises:
        InputError: a strength is zero or below.

    Source:
        shigley sec. 10-10: Ssa = r Sse Ssu / (r Ssu + Sse), over tau_a.
    """
    Sse, Ssu = above("a strength", 0.0, endurance, ultimate)
    return _inverse(np.asarray(np.asarray(alternating) / Sse + np.asarray(mean) / Ssu))


def factor_gerber(alternating: Real, mean: Real, endurance: Real, ultimate: Real) -> Floats:
    """Fatigue factor by Gerber, along the load line.

    Args:
        alternating: tau_a, Pa, zero or above. Any shape; all arguments broadcast together.
        mean: tau_m, Pa, zero or above.
        endurance: Sse of the Gerber parabola, Pa, above zero.
        ultimate: Ssu, Pa, above zero.

    Returns:
        The n of n tau_a/Sse + (n tau_m/Ssu)^2 = 1; Ssu/tau_m without a range, infinite without stress.

    Raises:
        InputError: a strength is zero or below.

    Source:
        shigley sec. 10-10 and eq. 6-47, written as 2/(x + sqrt(x^2 + 4y^2)), which holds at zero mean as well.
    """
    Sse, Ssu = above("a strength", 0.0, endurance, ultimate)
    x, y = np.asarray(alternating) / Sse, np.asarray(mean) / Ssu
    return 2 * _inverse(np.asarray(x + np.sqrt(x * x + 4 * y * y)))


def factor_sines(alternating: Real, amplitude: Real) -> Floats:
    """Fatigue factor by Sines: torsion's mean stress does not count.

    Args:
        alternating: tau_a, Pa, zero or above. Any shape; both broadcast together.
        amplitude: Ssa, Zimmerli's strength, Pa, above zero.

    Returns:
        Ssa / tau_a; infinite without a range.

    Raises:
        InputError: the strength is zero or below.

    Source:
        shigley sec. 10-9 and 10-10, Sines failure criterion.
    """
    (Ssa,) = above("a strength", 0.0, amplitude)
    return _inverse(np.asarray(np.asarray(alternating) / Ssa))


def goodman_line(mean: Real, endurance: Real, ultimate: Real) -> Floats:
    """Amplitude the Goodman line allows at a mean stress, for a Haigh picture.

    Args:
        mean: tau_m, Pa. Any shape; all arguments broadcast together.
        endurance: Sse, Pa.
        ultimate: Ssu, Pa, above zero.

    Returns:
        Sse (1 - tau_m/Ssu), Pa, zero beyond Ssu.

    Raises:
        InputError: the ultimate strength is zero or below.

    Source:
        shigley sec. 10-10, Goodman.
    """
    (Ssu,) = above("a strength", 0.0, ultimate)
    return np.maximum(np.asarray(endurance) * (1 - np.asarray(mean) / Ssu), 0.0)


def gerber_line(mean: Real, endurance: Real, ultimate: Real) -> Floats:
    """Amplitude the Gerber parabola allows at a mean stress, for a Haigh picture.

    Args:
        mean: tau_m, Pa. Any shape; all arguments broadcast together.
        endurance: Sse, Pa.
        ultimate: Ssu, Pa, above zero.

    Returns:
        Sse (1 - (tau_m/Ssu)^2), Pa, zero beyond Ssu.

    Raises:
        InputError: the ultimate strength is zero or below.

    Source:
        shigley sec. 10-10, Gerber.
    """
    (Ssu,) = above("a strength", 0.0, ultimate)
    return np.maximum(np.asarray(endurance) * (1 - (np.asarray(mean) / Ssu) ** 2), 0.0)


def strength_amplitude_goodman(ratio: Real, endurance: Real, ultimate: Real) -> Floats:
    """Amplitude at which a load line meets the Goodman line.

    Args:
        ratio: r = tau_a/tau_m, dimensionless, above zero. Any shape; all arguments broadcast together.
        endurance: Sse, Pa, above zero.
        ultimate: Ssu, Pa, above zero.

    Returns:
        Ssa = r Sse Ssu / (r Ssu + Sse), Pa, of the broadcast shape.

    Raises:
        InputError: an argument is zero or below.

    Source:
        shigley sec. 10-10, Goodman.
    """
    r, Sse, Ssu = above("load ratio or strength", 0.0, ratio, endurance, ultimate)
    return np.asarray(1 / (1 / Sse + 1 / (r * Ssu)))


def strength_amplitude_gerber(ratio: Real, endurance: Real, ultimate: Real) -> Floats:
    """Amplitude at which a load line meets the Gerber parabola.

    Args:
        ratio: r = tau_a/tau_m, dimensionless, above zero. Any shape; all arguments broadcast together.
        endurance: Sse, Pa, above zero.
        ultimate: Ssu, Pa, above zero.

    Returns:
        Ssa = r^2 Ssu^2/(2 Sse) (-1 + sqrt(1 + (2 Sse/(r Ssu))^2)), Pa, of the broadcast shape.

    Raises:
        InputError: an argument is zero or below.

    Source:
        shigley sec. 10-10, Gerber; written as in factor_gerber, which loses no digits at a small ratio.
    """
    r, Sse, Ssu = above("load ratio or strength", 0.0, ratio, endurance, ultimate)
    return np.asarray(2 / (1 / Sse + np.sqrt(1 / Sse**2 + (2 / (r * Ssu)) ** 2)))


def static_factor(stress: Real, allowed: Real) -> Floats:
    """Factor against yield under one load: the allowed torsional stress over the stress.

    Args:
        stress: tau, Pa, zero or above. Any shape; both broadcast together.
        allowed: Ssy, Pa, above zero: a static share of the tensile strength.

    Returns:
        Ssy / tau; infinite without stress.

    Raises:
        InputError: the allowed stress is zero or below.

    Source:
        shigley sec. 10-3, with the shares of Table 10-6.
    """
    (Ssy,) = above("an allowed stress", 0.0, allowed)
    return _inverse(np.asarray(np.asarray(stress) / Ssy))
