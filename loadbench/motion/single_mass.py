"""One mass on a spring whose foot makes one rise: what a stepped solution is checked against.

x'' + 2 z wn (x' - y') + wn^2 (x - y) = 0 from rest; y rises by h in the time T; tau = T wn/(2 pi) is how many swings
fit into the rise, z the share of critical damping. Amplitudes are in h, accelerations in h/T^2, times in T.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np

from loadbench.arrays import Floats, Real
from loadbench.errors import InputError

PANELS = 4000
"""Of the quadrature in a rise; a multiple of eight, so that the joints of all usual laws lie between panels."""

NODES = 5


# Residual swing, undamped


def residual_cycloidal(swings: Real) -> Floats:
    """Amplitude that is left after a cycloidal rise.

    Args:
        swings: tau, zero or above.

    Returns:
        In h, of the swings' shape.

    Source:
        own derivation: |sin pi tau|/(pi tau |1 - tau^2|), 1/2 at tau = 1.
    """
    tau = np.asarray(swings, dtype=np.float64)
    # Two forms of one formula, each where it divides by nothing small.
    slow, fast = np.minimum(tau, 0.5), np.maximum(tau, 0.5)
    early = np.abs(np.sinc(slow) / (1 - slow**2))
    return np.asarray(np.where(tau < 0.5, early, np.abs(np.sinc(fast - 1)) / (fast * (1 + fast))))


def residual_harmonic(swings: Real) -> Floats:
    """Amplitude that is left after a harmonic rise.

    Args:
        swings: tau, zero or above.

    Returns:
        In h, of the swings' shape.

    Source:
        own derivation: |cos pi tau|/|4 tau^2 - 1|, pi/4 at tau = 1/2.
    """
    tau = np.asarray(swings, dtype=np.float64)
    return np.asarray(np.pi / 2 * np.abs(np.sinc(tau - 0.5)) / (2 * tau + 1))


def residual_constant_acceleration(swings: Real) -> Floats:
    """Amplitude that is left after a rise of constant acceleration.

    Args:
        swings: tau, zero or above.

    Returns:
        In h, of the swings' shape.

    Source:
        own derivation: 4 sin^2(pi tau/2)/(pi tau)^2.
    """
    return np.asarray(np.sinc(np.asarray(swings, dtype=np.float64) / 2) ** 2)


def residual_345(swings: Real) -> Floats:
    """Amplitude that is left after a 3-4-5 rise.

    Args:
        swings: tau, zero or above.

    Returns:
        In h, of the swings' shape.

    Source:
        own derivation: transform of 30 x^2 (1 - x)^2, 15 |j2(q)|/q^2, q = pi tau, j2 the spherical Bessel function.
    """
    return _residual_of_power(2, 15.0, swings)


def residual_4567(swings: Real) -> Floats:
    """Amplitude that is left after a 4-5-6-7 rise.

    Args:
        swings: tau, zero or above.

    Returns:
        In h, of the swings' shape.

    Source:
        own derivation: transform of 140 x^3 (1 - x)^3, 105 |j3(q)|/q^3, q = pi tau, j3 the spherical Bessel function.
    """
    return _residual_of_power(3, 105.0, swings)


def _residual_of_power(order: int, scale: float, swings: Real) -> Floats:
    from scipy.special import spherical_jn

    q = np.pi * np.asarray(swings, dtype=np.float64)
    safe = np.where(q > 1e-3, q, 1.0)
    found = scale * np.abs(spherical_jn(order, safe)) / safe**order
    # Below, 1 - q^2/(4 order + 6) to within 1e-13.
    return np.asarray(np.where(q > 1e-3, found, 1 - q**2 / (4 * order + 6)))


RESIDUALS = {
    "constant-acceleration": residual_constant_acceleration,
    "harmonic": residual_harmonic,
    "cycloidal": residual_cycloidal,
    "3-4-5": residual_345,
    "4-5-6-7": residual_4567,
}
"""By the name of the law."""


# The whole answer to any rise


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Response:
    """Answer of the mass while its foot rises, at the times `times`, in T, shape (times,).

    `deflection` is x - y in h, `acceleration` x'' in h/T^2; `residual` the amplitude at the end of the rise, which then
    dies out with the damping.
    """

    times: Floats
    deflection: Floats
    acceleration: Floats
    residual: float

    @property
    def greatest_deflection(self) -> float:
        """Greatest |x - y| during the rise, in h."""
        return _peak(np.abs(self.deflection))

    @property
    def greatest_acceleration(self) -> float:
        """Greatest |x''| during the rise, in h/T^2."""
        return _peak(np.abs(self.acceleration))


def response(acceleration: Callable[[Floats], Floats], swings: float, damping: float = 0.0) -> Response:
    """Answer to a rise of any law.

    Args:
        acceleration: of the foot, in h/T^2, against the share of the rise, 0 to 1.
        swings: tau, above zero.
        damping: z, zero to below 1.

    Returns:
        The answer during the rise, and what is left after it.

    Raises:
        InputError: tau not above zero, a damping below zero or critical.

    Source:
        own derivation: Duhamel's integral by Gauss-Legendre quadrature in panels.
    """
    if not swings > 0:
        raise InputError("a rise that takes no time", expected="swings in the rise above zero")
    if not 0 <= damping < 1:
        raise InputError(f"a damping of {damping:g}", expected="zero to below 1 of the critical")
    W = 2 * np.pi * swings
    damped = W * np.sqrt(1 - damping**2)
    root = -damping * W + 1j * damped
    edges = np.linspace(0.0, 1.0, PANELS + 1)
    nodes, weights = np.polynomial.legendre.leggauss(NODES)
    inside = edges[:-1, None] + (nodes + 1) / (2 * PANELS)
    driven = np.asarray(acceleration(inside)) * weights / (2 * PANELS)
    panels = (driven * np.exp(root * (edges[1:, None] - inside))).sum(axis=1)
    phasor = _carried(panels, np.exp(root / PANELS))
    deflection = -phasor.imag / damped
    speed = -(root * phasor).imag / damped
    return Response(
        times=edges,
        deflection=deflection,
        acceleration=-2 * damping * W * speed - W**2 * deflection,
        residual=float(np.abs(phasor[-1]) / damped),
    )


def _carried(panels: np.ndarray, turn: complex) -> np.ndarray:
    """Sum up to each edge, everything so far turned and damped on over each panel."""
    from scipy.signal import lfilter

    return np.concatenate(([0.0], np.asarray(lfilter([1.0], [1.0, -turn], panels))))


def _peak(values: Floats) -> float:
    """The greatest of some samples of a smooth curve, by a parabola through the three about it."""
    at = int(values.argmax())
    if at in {0, values.size - 1}:
        return float(values[at])
    before, top, after = (float(value) for value in values[at - 1 : at + 2])
    bend = before - 2 * top + after
    return top if bend == 0 else top - (after - before) ** 2 / (8 * bend)


# A pulse instead of a rise


def half_sine_peak(swings: Real) -> Floats:
    """Greatest acceleration of an undamped mass whose foot is accelerated by one half of a sine.

    Args:
        swings: own frequency times the pulse's length, above zero, shape (...).

    Returns:
        Over the pulse's greatest, of the swings' shape: during the pulse or after it.

    Raises:
        InputError: swings at zero or below.

    Source:
        own derivation: Duhamel's integral; within the pulse it peaks where (2 r + 1) x is an even number.
    """
    r = np.asarray(swings, dtype=np.float64)
    if not np.all(r > 0):
        raise InputError("a pulse that takes no time", expected="swings in the pulse above zero")
    after = 2 * np.pi * r * np.abs(np.sinc(r - 0.5)) / (r + 0.5) / 2
    long = np.where(r > 0.5, r, 1.0)[..., None]
    x = 2 * np.arange(1, int(np.ceil(r.max())) + 1) / (2 * long + 1)
    within = (np.sin(np.pi * x) - np.sin(2 * np.pi * long * x) / (2 * long)) / (1 - 1 / (4 * long**2))
    within = np.where((x <= 1) & (r[..., None] > 0.5), np.abs(within), 0.0).max(axis=-1)
    return np.asarray(np.maximum(after, within))
