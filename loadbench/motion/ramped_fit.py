"""The power lobe that has two known durations, with its ramps in and with unequal flanks: a search.

A duration counts the whole lobe at its lift. Equal flanks without ramps are had directly: power_lift.fitted().
"""

from __future__ import annotations

import math

from loadbench.arrays import Floats
from loadbench.errors import InputError
from loadbench.motion.lobe import PowerLobe, Ramp
from loadbench.motion.power_lift import STEPS, even_at_nose, fitted, least_step

MET = 1e-6
"""How near the lift at the end of a stated duration must come, m."""

NEAR = 1e-3
"""How near to a bound a search may start, as a share of the way between both."""

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


def _check(lifts: tuple[float, float], durations: tuple[float, float], greatest_lift: float, share: float) -> None:
    if not 0 < lifts[0] < lifts[1] < greatest_lift:
        raise InputError("the lifts of the two durations", expected="above zero, rising, below the greatest lift")
    if not 0 < durations[1] < durations[0] < 2 * math.pi:
        raise InputError("the two durations", expected="within a turn of the cam, the shorter one at the higher lift")
    if not (math.isfinite(share) and share > 0):
        raise InputError(f"a closing flank of {share:g} times the opening one", expected="more than zero")


def fitted_lobe(
    lifts: tuple[float, float], durations: tuple[float, float], greatest_lift: float,
    ramps: tuple[Ramp, Ramp] | None = None, share: float = 1.0,
) -> PowerLobe:  # fmt: skip
    """The lobe of two power flanks, with ramps or without, that has two known durations and a known lift.

    Args:
        lifts: two lifts, m, the lower first; either may lie on the ramps.
        durations: of the whole lobe at these lifts, ramps included, rad of the cam, the longer first.
        greatest_lift: m, ramps included, above both.
        ramps: ahead of the opening flank and after the closing one.
        share: duration of the closing flank over the opening one's, above zero.

    Returns:
        The lobe; it meets both durations within MET of lift, and with ramps of one height has one acceleration at the
        nose.

    Raises:
        InputError: lifts or durations out of order, flanks too unequal, ramps that leave them no room, or durations
            that no such lobe has.

    Source:
        own derivation: the flanks' duration and the step between exponents by least squares, to no residual.
    """
    from scipy.optimize import least_squares

    _check(lifts, durations, greatest_lift, share)
    (low, high), (long, short) = lifts, durations
    opening, closing = ramps or (None, None)
    if max((each.height for each in ramps or ()), default=0.0) >= greatest_lift:
        raise InputError("a ramp as high as the lobe", expected="a ramp lower than the lift")
    parts = 2 / (1 + share), 2 * share / (1 + share)  # of half the flanks' duration
    sides = tuple(zip(parts, (opening, closing), strict=True))
    least = max((ramp.blend / part if ramp else short / 4) for part, ramp in sides)
    most = min((math.pi - (ramp.angle if ramp else 0.0)) / part for part, ramp in sides)
    if least >= most:
        raise InputError("ramps that leave the flanks no room", expected="shorter ramps")
    steps = least_step(share), STEPS[1]

    def lobe_of(unknown: Floats) -> PowerLobe:
        step, half = (float(each) for each in unknown)
        halves = half * parts[0], half * parts[1]
        up, down = even_at_nose(*halves, step=step)
        return PowerLobe(
            powers=up, closing_powers=down, lift=greatest_lift, half_opening=halves[0], half_closing=halves[1],
            opening_ramp=opening, closing_ramp=closing,
        )  # fmt: skip

    def off(unknown: Floats) -> list[float]:
        lobe = lobe_of(unknown)
        return [duration_at(lobe, low) - long, duration_at(lobe, high) - short]

    try:
        bare = fitted(lifts, durations, greatest_lift)
        start = bare.powers[1] - 2, bare.half_duration
    except InputError:
        start = START_STEP, long / 2
    inside = [(low + NEAR * (high - low), high - NEAR * (high - low)) for low, high in (steps, (least, most))]
    found = least_squares(
        off, [min(max(each, bounds[0]), bounds[1]) for each, bounds in zip(start, inside, strict=True)],
        bounds=([steps[0], least], [steps[1], most]), x_scale=(10.0, 1.0), xtol=1e-14, ftol=1e-14, gtol=1e-14,
    )  # fmt: skip
    lobe = lobe_of(found.x)
    _check_met(lobe, lifts, durations)
    return lobe


def _check_met(lobe: PowerLobe, lifts: tuple[float, float], durations: tuple[float, float]) -> None:
    for lift, wanted in zip(lifts, durations, strict=True):
        late = duration_at(lobe, lift) - wanted
        steep = max(abs(float(lobe(side * wanted / 2, 1))) for side in (-1, 1))
        if abs(late) * steep > MET or abs(late) > 1e-6:
            ramped = lobe.opening_ramp is not None
            raise InputError(
                f"no power lobe{' with these ramps' if ramped else ''} has the two durations",
                expected=f"durations further apart or nearer{', or lower or shorter ramps' if ramped else ''}",
            )
