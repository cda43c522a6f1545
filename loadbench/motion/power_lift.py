"""Power polynomials of a whole lift: one curve from the nose to closing, at rest there in several derivatives.

Symbols: x angle from the nose over half the duration, 0 to 1; y lift over the greatest lift,
y = 1 + C2 x^2 + Cp x^p + Cq x^q + ...: with n exponents y and its first n - 1 derivatives are zero at x = 1.
"""

from __future__ import annotations

import functools
import math
from collections.abc import Callable
from fractions import Fraction
from typing import Any, NamedTuple

import numpy as np

from loadbench.arrays import Floats, Real
from loadbench.errors import InputError, Place

FEWEST, MOST = 3, 8
ROOT_ZERO = 1e-14
STEPS = (1.0, 60.0)
"""Distance between exponents that a fit may use: from 2-3-4-5-6, the most pointed, to nearly square."""
USUAL_STEP = 8.0
"""2-10-18-26-34."""
SAME = 1e-9
"""Halves of a lift are equal that differ by less than this share."""


@functools.cache
def _exact(powers: tuple[float, ...]) -> tuple[float, ...]:
    if not FEWEST <= len(powers) <= MOST:
        raise InputError(f"{len(powers)} exponents", expected=f"{FEWEST} to {MOST}")
    if not all(math.isfinite(power) and power >= 2 for power in powers) or 2 not in powers:
        raise InputError(f"exponents {_told(powers)}", expected="2 among them and none below 2")
    if len(set(powers)) < len(powers):
        raise InputError(f"exponents {_told(powers)}", expected="each once")
    # Whole exponents give coefficients that are exact; a fit's do not, and fractions of them are long and slow.
    exact: list[Any] = [Fraction(power) if power == int(power) else float(power) for power in powers]
    return tuple(
        float(-math.prod((other / (other - one) for other in exact if other != one), start=Fraction(1)))
        for one in exact
    )


def _told(powers: tuple[float, ...]) -> str:
    return "-".join(f"{power:g}" for power in powers)


def coefficients(powers: tuple[float, ...]) -> Floats:
    """Coefficients of a power polynomial.

    Args:
        powers: exponents, 2 among them, each 2 or more; five are usual, four leave the fourth derivative free.

    Returns:
        C of each exponent, exact fractions rounded once, shape (exponents,).

    Raises:
        InputError: exponents that are too few, twice the same, below 2, or without 2.

    Source:
        stoddart; own derivation: C_i = -prod p_j/(p_j - p_i) over j other than i, the value at zero of the polynomial
        through the exponents.
    """
    return np.array(_exact(tuple(powers)))


@functools.cache
def _derived(powers: tuple[float, ...], derivative: int) -> tuple[tuple[float, float], ...]:
    """Factor and exponent of each term of a derivative."""
    terms = zip(_exact(powers), powers, strict=True)
    all_ = [(1.0, 0.0), *terms] if derivative == 0 else list(terms)
    falling = ((c * math.prod(p - k for k in range(derivative)), p - derivative) for c, p in all_)
    return tuple((factor, power) for factor, power in falling if factor)


def power_rise(powers: tuple[float, ...], x: Real, derivative: int = 0) -> Floats:
    """Lift over the greatest lift against the angle from the nose.

    Args:
        powers: exponents.
        x: angle from the nose over half the duration, zero or more; from 1 on the valve is shut.
        derivative: zero or more.

    Returns:
        y or its derivative by x, of x's shape: 1 at x = 0, falling to 0 at x = 1.

    Raises:
        InputError: as in coefficients().

    Source:
        stoddart.
    """
    place = np.asarray(x, dtype=np.float64)
    inside = np.clip(place, 0.0, 1.0)
    terms = _derived(tuple(powers), derivative)
    if all(power == int(power) for _, power in terms):
        dense = np.zeros(1 + max((int(power) for _, power in terms), default=0))
        for factor, power in terms:
            dense[int(power)] += factor
        value = np.asarray(np.polynomial.polynomial.polyval(inside, dense))
    else:
        value = sum((factor * inside**power for factor, power in terms), start=np.zeros_like(inside))
    return np.where((place >= 0) & (place <= 1), value, 0.0)


def even_at_nose(
    half_opening: float, half_closing: float, step: float = USUAL_STEP, least: float = STEPS[0]
) -> tuple[tuple[float, ...], tuple[float, ...]]:
    """Exponents of two halves of a power lift, of unequal duration, that have one acceleration at the nose.

    Args:
        half_opening: rad, above zero.
        half_closing: rad, above zero.
        step: between the exponents of the shorter half.
        least: step that the longer half may come down to.

    Returns:
        Exponents of the opening and of the closing half; those of the longer half stand closer.

    Raises:
        InputError: a half not above zero, or one so much longer that no exponents do.

    Source:
        own derivation: the acceleration at the nose is 2 C2 over the half's square.
    """
    usual = family(step)
    short, long = sorted((half_opening, half_closing))
    if not (short > 0 and math.isfinite(long)):
        raise InputError(f"halves of {half_opening:g} and {half_closing:g} rad", expected="more than zero")
    if long - short < SAME * long:
        return usual, usual
    wanted, most = _pointed(step) * (long / short) ** 2, _pointed(least)
    if wanted > most:
        limit = math.sqrt(most / _pointed(step))
        raise InputError(
            f"one half of the lift is {long / short:.2f} times the other", expected=f"up to {limit:.2f}",
            place=Place(field="closing"),
        )  # fmt: skip
    other = family(_root(lambda each: _pointed(each) / wanted - 1, least, step))
    return (usual, other) if half_opening < half_closing else (other, usual)


def least_step(share: float) -> float:
    """The least step of the shorter half's exponents for which the longer half has any.

    Args:
        share: one half over the other, above zero.

    Returns:
        The step.

    Raises:
        InputError: one half so much longer that there is none.

    Source:
        own derivation: as in even_at_nose().
    """
    times = max(share, 1 / share)
    wanted = _pointed(STEPS[0]) / times**2
    if times - 1 < SAME:
        return STEPS[0]
    if wanted < _pointed(STEPS[1]):
        limit = math.sqrt(_pointed(STEPS[0]) / _pointed(STEPS[1]))
        raise InputError(f"one half of the lift is {times:.2f} times the other", expected=f"up to {limit:.2f}")
    return _root(lambda each: _pointed(each) / wanted - 1, *STEPS)


def _pointed(step: float) -> float:
    """|C2|: half the lift's bend at the nose, over the greatest lift and half the duration's square."""
    return math.prod(1 + 2 / (step * number) for number in range(1, 5))


class PowerFit(NamedTuple):
    """A power polynomial fitted to durations: half its duration, rad of the cam, and its exponents."""

    half_duration: float
    powers: tuple[float, ...]


def _root(function: Callable[[float], float], low: float, high: float) -> float:
    """Where a function of one sign at each end is zero: false position, the end that stays weighed less each time.

    At the program's start a lobe of durations is among the first things computed, and scipy's root finder would have to
    be loaded for it.
    """
    at_low, at_high = function(low), function(high)
    stayed = 0
    for _ in range(200):
        if at_low == at_high:
            break
        middle = (low * at_high - high * at_low) / (at_high - at_low)
        found = function(middle)
        if abs(found) < ROOT_ZERO or high - low < ROOT_ZERO:
            return middle
        if (found > 0) == (at_low > 0):
            low, at_low, at_high = middle, found, at_high / 2 if stayed < 0 else at_high
            stayed = -1
        else:
            high, at_high, at_low = middle, found, at_low / 2 if stayed > 0 else at_low
            stayed = 1
    return (low + high) / 2


def place_of(powers: tuple[float, ...], level: float) -> float:
    """Where a power polynomial passes a level.

    Args:
        powers: exponents.
        level: lift over the greatest lift, above 0 and below 1.

    Returns:
        x, 0 to 1; the lift falls all the way, so there is one.

    Source:
        own derivation: with n exponents Descartes' rule leaves no turn between nose and closing.
    """
    terms = _derived(tuple(powers), 0)
    return _root(lambda x: math.fsum(factor * x**power for factor, power in terms) - level, 0.0, 1.0)


def family(step: float) -> tuple[float, ...]:
    """Five exponents from 2 in equal steps: a step of 8 gives 2-10-18-26-34.

    Args:
        step: between exponents, above zero.

    Returns:
        The exponents.
    """
    return tuple(2 + step * number for number in range(5))


def fitted(lifts: tuple[float, float], durations: tuple[float, float], greatest_lift: float) -> PowerFit:
    """The power polynomial with exponents in equal steps that has two known durations and a known lift.

    Args:
        lifts: two lifts, m, the lower first.
        durations: at these lifts, rad of the cam, the longer first.
        greatest_lift: m, above both.

    Returns:
        Half the duration from opening to closing and the exponents, which need not be whole; both durations are met.

    Raises:
        InputError: lifts out of order, durations that do not shrink, or a shape that no such polynomial has.

    Source:
        own derivation: the ratio of the two durations fixes the step between exponents, either of them the duration.
    """
    (low, high), (long, short) = lifts, durations
    if not 0 < low < high < greatest_lift:
        raise InputError("the lifts of the two durations", expected="above zero, rising, below the greatest lift")
    if not 0 < short < long < 2 * math.pi:
        raise InputError("the two durations", expected="within a turn of the cam, the shorter one at the higher lift")

    def ratio(step: float) -> float:
        powers = family(step)
        return place_of(powers, low / greatest_lift) / place_of(powers, high / greatest_lift)

    full, gentle = ratio(STEPS[1]), ratio(STEPS[0])
    if not full <= long / short <= gentle:
        raise InputError(
            f"the duration at the lower lift is {long / short:.3f} times that at the higher one",
            expected=f"{full:.3f} to {gentle:.3f} times for a power polynomial of that lift",
        )
    step = _root(lambda step: ratio(step) - long / short, *STEPS)
    half = float(long / 2 / place_of(family(step), low / greatest_lift))
    if half > math.pi:
        raise InputError("the two durations", expected="a lift that is over within one turn of the cam")
    return PowerFit(half, family(step))
