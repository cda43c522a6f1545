"""The power lobe that has two known durations with its ramps in: a duration counts the whole lobe at its lift."""

from __future__ import annotations

import math

from loadbench.arrays import Floats
from loadbench.errors import InputError
from loadbench.motion.lobe import PowerLobe, Ramp
from loadbench.motion.power_lift import STEPS, family, fitted

MET = 1e-6
"""How near the lift at the end of a stated duration must come, m."""

START_STEP = 8.0
"""Where the search starts if the durations have no power lobe without ramps: 2-10-18-26-34."""


def duration_at(lobe: PowerLobe, lift: float) -> float:
    """How long a lobe is above a lift.

    Args:
        lobe: with or without ramps; each side rises all the way.
        lift: above zero and below the lobe's own, m.

    Returns:
        The duration, rad of the cam.
    """
    from scipy.optimize import brentq

    first, last = lobe.span
    up = brentq(lambda angle: float(lobe(angle)) - lift, first, -1e-12, xtol=1e-13)
    down = brentq(lambda angle: float(lobe(angle)) - lift, 0.0, last, xtol=1e-13)
    return float(down - up)


def fitted_with_ramps(
    lifts: tuple[float, float], durations: tuple[float, float], greatest_lift: float, opening: Ramp, closing: Ramp
) -> PowerLobe:
    """The lobe of two equal power flanks and two ramps that has two known durations and a known lift.

    Args:
        lifts: two lifts, m, the lower first; either may lie on the ramps.
        durations: of the whole lobe at these lifts, ramps included, rad of the cam, the longer first.
        greatest_lift: m, ramps included, above both.
        opening: ramp ahead of the opening flank.
        closing: ramp after the closing flank.

    Returns:
        The lobe; it meets both durations within MET of lift.

    Raises:
        InputError: lifts or durations out of order, ramps that leave the flanks no room, or durations that no such lobe
            has.

    Source:
        own derivation: half the flanks' duration and the step between exponents by least squares, to no residual.
    """
    from scipy.optimize import least_squares

    (low, high), (long, short) = lifts, durations
    if not 0 < low < high < greatest_lift:
        raise InputError("the lifts of the two durations", expected="above zero, rising, below the greatest lift")
    if not 0 < short < long < 2 * math.pi:
        raise InputError("the two durations", expected="within a turn of the cam, the shorter one at the higher lift")
    if max(opening.height, closing.height) >= greatest_lift:
        raise InputError("a ramp as high as the lobe", expected="a ramp lower than the lift")
    least, most = max(opening.blend, closing.blend), math.pi - max(opening.angle, closing.angle)
    if least >= most:
        raise InputError("ramps that leave the flanks no room", expected="shorter ramps")

    def lobe_of(unknown: Floats) -> PowerLobe:
        step, half = (float(each) for each in unknown)
        return PowerLobe(
            powers=family(step), lift=greatest_lift, half_opening=half, half_closing=half,
            opening_ramp=opening, closing_ramp=closing,
        )  # fmt: skip

    def off(unknown: Floats) -> list[float]:
        lobe = lobe_of(unknown)
        return [duration_at(lobe, low) - long, duration_at(lobe, high) - short]

    try:
        bare = fitted(lifts, durations, greatest_lift)
        start = ((bare.powers[1] - 2), bare.half_duration)
    except InputError:
        start = (START_STEP, long / 2)
    inside = least + 1e-3 * (most - least), most - 1e-3 * (most - least)
    first = [min(max(start[0], STEPS[0] + 0.01), STEPS[1] - 0.01), min(max(start[1], inside[0]), inside[1])]
    found = least_squares(
        off,
        first,
        bounds=([STEPS[0], least], [STEPS[1], most]),
        x_scale=(10.0, 1.0),
        xtol=1e-14,
        ftol=1e-14,
        gtol=1e-14,
    )
    lobe = lobe_of(found.x)
    for lift, wanted in zip(lifts, durations, strict=True):
        late = duration_at(lobe, lift) - wanted
        steep = max(abs(float(lobe(side * wanted / 2, 1))) for side in (-1, 1))
        if abs(late) * steep > MET or abs(late) > 1e-6:
            raise InputError(
                "no power lobe with these ramps has the two durations",
                expected="durations further apart or nearer, or lower or shorter ramps",
            )
    return lobe
