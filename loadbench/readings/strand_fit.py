"""From readings, or from a stated rate, to a strand."""

from __future__ import annotations

import functools

import numpy as np

from loadbench.arrays import Floats
from loadbench.readings.accuracy import Accuracy
from loadbench.readings.regression import fit_polynomial, student_factor
from loadbench.readings.strand import Evidence, Knots, Strand

PROGRESSIVE_SHARE = 0.05
"""A spring is progressive when its rate grows by more than this share of the mean over the readings, and by more than
their noise can do (common practice)."""

NO_READINGS: Floats = np.empty(0)


def fitted_strand(heights: Floats, loads: Floats, accuracy: Accuracy) -> Strand:
    """The load line through two or more readings of one spring.

    Args:
        heights: own heights of the spring, m, shape (n,), at least two of them different.
        loads: N, shape (n,).
        accuracy: of the tester.

    Returns:
        A straight line by weighted least squares; for a progressive spring of three or more heights the interpolant.

    Raises:
        InputError: all heights are the same.

    Source:
        gum H.3 for the line and its uncertainty; fritsch-butland for the interpolant.
    """
    return _fitted(tuple(heights.tolist()), tuple(loads.tolist()), accuracy)


@functools.lru_cache(maxsize=512)
def _fitted(at: tuple[float, ...], carried: tuple[float, ...], accuracy: Accuracy) -> Strand:
    """The same, kept for readings seen before: both lines, and every keystroke elsewhere, ask for the same fit."""
    heights, loads = np.array(at), np.array(carried)
    heights.setflags(write=False)
    loads.setflags(write=False)
    line = fit_polynomial(heights, loads, 1)
    rate = float(-line.coefficients[1])
    single = float(accuracy.of_reading(rate))
    mean = float(np.mean(heights))
    spread = float(np.sum((heights - mean) ** 2))
    coverage, deviation = _noise(line.residual_deviation, len(heights), accuracy, single)
    curvature, progressive = _curvature(heights, loads, rate, single if accuracy.drawn_anew else None)
    return Strand(
        evidence=Evidence.MEASURED,
        anchor_height=mean,
        anchor_load=float(line.at(mean)),
        rate=rate,
        heights=heights,
        loads=loads,
        residuals=line.residuals,
        knots=_knots(heights, loads, accuracy) if progressive else None,
        curvature=curvature,
        coverage=coverage if not progressive or accuracy.stated else None,
        anchor_variance=deviation**2 / len(heights),
        rate_variance=deviation**2 / spread,
    )


def _noise(
    residual_deviation: float | None, count: int, accuracy: Accuracy, single: float
) -> tuple[float | None, float]:
    """Coverage factor and standard deviation of one reading: as stated, else from the residuals of four or more."""
    if accuracy.drawn_anew:
        return 2.0, single
    if count >= 4 and residual_deviation is not None:
        return student_factor(count - 2), residual_deviation
    return (2.0, 0.0) if accuracy.stated else (None, 0.0)


def _curvature(heights: Floats, loads: Floats, rate: float, single: float | None) -> tuple[float | None, bool]:
    """Growth of the rate from the tallest reading to the shortest as a share of its mean, and whether it counts."""
    if len(set(np.round(heights, 7).tolist())) < 3 or rate <= 0:
        return None, False
    curve = fit_polynomial(heights, loads, 2)
    reach = float(np.max(heights) - np.min(heights))
    share = 2 * float(curve.coefficients[2]) * reach / rate
    if single is not None:
        noise = 2 * single * float(np.sqrt(curve.covariance[2, 2]))
    elif (errors := curve.standard_errors) is not None:
        noise = student_factor(curve.freedom) * float(errors[2])
    else:
        noise = 0.0
    return share, share > PROGRESSIVE_SHARE and bool(curve.coefficients[2] > noise)


def _knots(heights: Floats, loads: Floats, accuracy: Accuracy) -> Knots:
    """The monotone interpolant through the readings, repeats at one height taken together."""
    from scipy.interpolate import PchipInterpolator

    rounded = np.round(heights, 6)
    at = sorted(set(rounded.tolist()))
    same = [rounded == height for height in at]
    knot_heights = np.array([float(np.mean(heights[each])) for each in same])
    means = np.array([float(np.mean(loads[each])) for each in same])
    slopes = np.asarray(PchipInterpolator(knot_heights, means).derivative()(knot_heights), dtype=np.float64)
    counts = np.array([float(np.sum(each)) for each in same])
    return Knots(
        heights=knot_heights,
        loads=means,
        slopes=slopes,
        sensitivities=_sensitivities(knot_heights, means, slopes),
        deviations=accuracy.of_reading(slopes) / np.sqrt(counts),
    )


def _sensitivities(heights: Floats, loads: Floats, slopes: Floats) -> Floats:
    """How the slope at each knot follows the load at each: shape (knots, knots), 1/m.

    Source: own derivation, from the weighted harmonic mean between knots and the three-point slope at the ends.
    """
    width = np.diff(heights)
    secant = np.diff(loads) / width
    knots = len(heights)
    by_secant = np.zeros((knots, knots - 1))
    for i in range(1, knots - 1):
        before, after = 2 * width[i] + width[i - 1], width[i] + 2 * width[i - 1]
        share = slopes[i] ** 2 / (before + after)
        if slopes[i] != 0:
            by_secant[i, i - 1], by_secant[i, i] = share * before / secant[i - 1] ** 2, share * after / secant[i] ** 2
    for end, near, far in ((0, 0, 1), (knots - 1, knots - 2, knots - 3)):
        by_secant[end, near], by_secant[end, far] = end_shares(width[near], width[far], secant[near], secant[far])
    steps = (np.eye(knots)[1:] - np.eye(knots)[:-1]) / width[:, None]
    return np.asarray(by_secant @ steps, dtype=np.float64)


def end_shares(near: float, far: float, near_secant: float, far_secant: float) -> tuple[float, float]:
    """How the slope at an end knot follows its two nearest secants.

    Args:
        near: width of the nearest interval, any unit.
        far: width of the next, in the same.
        near_secant: rise over width of the nearest.
        far_secant: of the next.

    Returns:
        The slope's derivatives by the two secants; held where the slope is held monotone.

    Source:
        own derivation, from fritsch-butland's three-point slope.
    """
    slope = ((2 * near + far) * near_secant - near * far_secant) / (near + far)
    if slope * near_secant <= 0:
        return 0.0, 0.0
    if near_secant * far_secant < 0 and abs(slope) > 3 * abs(near_secant):
        return 3.0, 0.0
    return (2 * near + far) / (near + far), -near / (near + far)


def line_from_rate(rate: float, heights: Floats, loads: Floats, evidence: Evidence = Evidence.STATED) -> Strand:
    """The load line of a stated or geometric rate through known points.

    Args:
        rate: N/m.
        heights: of the known points, m, shape (n,), n at least one; the free height with a load of zero serves too.
        loads: there, N, shape (n,).
        evidence: what the rate is.

    Returns:
        A straight line through their mean, without uncertainty: a stated rate has none.

    Source:
        en-13906-1, linear characteristic F = R s.
    """
    return Strand(
        evidence=evidence,
        anchor_height=float(np.mean(heights)),
        anchor_load=float(np.mean(loads)),
        rate=rate,
        heights=heights if np.all(loads > 0) else NO_READINGS,
        loads=loads if np.all(loads > 0) else NO_READINGS,
    )
