"""SI floats to numbers and texts on show: conversion, sensible digits, uncertainty."""

from __future__ import annotations

import functools
import math
from dataclasses import dataclass
from decimal import ROUND_HALF_UP, Context, Decimal
from fractions import Fraction
from typing import TYPE_CHECKING, overload

from typing_extensions import override

from loadbench.units.entry import display_unit, unit_of
from loadbench.units.kinds import Kind, Style
from loadbench.units.table import Unit

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

THIN = "\u2009"
MINUS = "\u2212"
DASH = "\u2013"

# The place to which a figure without a known uncertainty is told, and the size of one Up or Down step,
# inch-pound and metric, in display units. Loads, lengths, rates: the project's look; the rest: common practice.
_PLACES = {
    Kind.LENGTH: ("0.001", "0.01"),
    Kind.FORCE: ("1", "5"),
    Kind.RATE: ("1", "0.1"),
    Kind.MASS: ("0.1", "0.1"),
    Kind.PRESSURE: ("0.1", "0.01"),
    Kind.STRESS: ("0.1", "1"),
    Kind.FREQUENCY: ("1", "1"),
    Kind.SPEED: ("1", "1"),
    Kind.ANGLE: ("0.1", "0.1"),
    Kind.TEMPERATURE: ("1", "1"),
    Kind.ENERGY: ("0.1", "0.01"),
    Kind.VELOCITY: ("0.01", "0.001"),
    Kind.FILM: ("0.1", "0.001"),
}
_STEPS = {
    Kind.LENGTH: ("0.001", "0.01"),
    Kind.FORCE: ("1", "5"),
    Kind.RATE: ("1", "0.1"),
    Kind.MASS: ("1", "1"),
    Kind.PRESSURE: ("1", "0.1"),
    Kind.STRESS: ("1", "5"),
    Kind.FREQUENCY: ("1", "1"),
    Kind.SPEED: ("50", "50"),
    Kind.ANGLE: ("1", "1"),
    Kind.TEMPERATURE: ("1", "1"),
    Kind.INERTIA: ("1e-6", "1e-6"),
    Kind.DAMPING: ("1", "1"),
    Kind.ENERGY: ("0.1", "0.01"),
    Kind.VELOCITY: ("0.01", "0.001"),
    Kind.FILM: ("0.1", "0.01"),
    Kind.TIME: ("1", "1"),
    Kind.LIFE: ("1", "1"),
    Kind.PV: ("1000", "0.1"),
    Kind.VISCOSITY: ("0.1", "0.1"),
    Kind.POWER: ("1", "1"),
}
_NOISE = Decimal("0.001")  # of a place: less is the rounding of floats, not a figure
_DIGITS = 12  # what float arithmetic leaves of a figure
_WIDE = Context(prec=700)  # the span of floats in digits: rounding never runs out of room
_FEW_DIGITS = 3  # inertia and damping have no usual place: three significant digits


@dataclass(frozen=True, slots=True, kw_only=True)
class Told:
    """A figure as it is shown; `uncertainty` is the expanded one (k = 2) to two digits, where known."""

    number: str
    unit: str
    uncertainty: str | None

    @override
    def __str__(self) -> str:
        shown = f"{self.number}{THIN}±{THIN}{self.uncertainty}" if self.uncertainty else self.number
        return f"{shown}{THIN}{self.unit}" if self.unit else shown


def _display(kind: Kind, style: Style) -> Unit:
    return unit_of(kind, display_unit(kind, style))


@overload
def to_display(value: float, kind: Kind, style: Style) -> float: ...
@overload
def to_display(value: NDArray[np.float64], kind: Kind, style: Style) -> NDArray[np.float64]: ...
def to_display(value: float | NDArray[np.float64], kind: Kind, style: Style) -> float | NDArray[np.float64]:
    """SI to the unit on show.

    Args:
        value: SI, any shape.
        kind: what it measures.
        style: the units on show.

    Returns:
        The same shape, in `display_unit(kind, style)`; temperatures take their zero into account.
    """
    unit = _display(kind, style)
    # a whole reciprocal (1000 for mm) is exact as a float where 0.001 is not
    scaled = value * float(unit.denominator) if unit.numerator == 1 else value / (unit.numerator / unit.denominator)
    return scaled - float(unit.offset) if unit.offset else scaled


@overload
def from_display(value: float, kind: Kind, style: Style) -> float: ...
@overload
def from_display(value: NDArray[np.float64], kind: Kind, style: Style) -> NDArray[np.float64]: ...
def from_display(value: float | NDArray[np.float64], kind: Kind, style: Style) -> float | NDArray[np.float64]:
    """The unit on show to SI; the inverse of `to_display` to 1e-15.

    Args:
        value: in `display_unit(kind, style)`, any shape.
        kind: what it measures.
        style: the units on show.

    Returns:
        SI, the same shape.
    """
    unit = _display(kind, style)
    above = value + float(unit.offset) if unit.offset else value
    return above / float(unit.denominator) if unit.numerator == 1 else above * (unit.numerator / unit.denominator)


def step_in(unit: Unit) -> Decimal:
    """One Up or Down step in a unit: the step of its own family, to the nearest 1, 2 or 5 of a decade."""
    shown, steps = _display(unit.kind, unit.style), _STEPS[unit.kind]
    own = Fraction(steps[unit.style is Style.METRIC])
    if unit == shown:
        return Decimal(steps[unit.style is Style.METRIC])
    size = float(own * Fraction(shown.numerator, shown.denominator) / Fraction(unit.numerator, unit.denominator))
    decade = math.floor(math.log10(size)) - 1
    tidy = (Decimal(digit).scaleb(decade + up) for up in (1, 2) for digit in (1, 2, 5))
    return min(tidy, key=lambda each: abs(math.log(float(each) / size)))


def step(kind: Kind, style: Style) -> float:
    """The SI size of one Up or Down step in a field: 0.001 in, 0.01 mm, 1 lbf, 5 N, 50 rpm."""
    unit = _display(kind, style)
    return float(Fraction(_STEPS[kind][style is Style.METRIC]) * Fraction(unit.numerator, unit.denominator))


@functools.lru_cache(maxsize=4096)
def tell(value: float, kind: Kind, style: Style, expanded: float | None = None) -> Told:
    """A figure with the digits it deserves.

    Args:
        value: SI. Not finite: told as a dash.
        kind: what it measures.
        style: the units on show.
        expanded: its expanded uncertainty U (k = 2), SI; None or zero where unknown.

    Returns:
        With U: U to two digits and the value to the same place (GUM, 7.2.6). Without: the usual place of the kind;
        what would vanish there but is no rounding noise gets two significant digits ("0.00020 in").
    """
    unit = display_unit(kind, style)
    seen = to_display(value, kind, style)
    if not math.isfinite(seen):
        return Told(number=DASH, unit=unit, uncertainty=None)
    shown = _tidy(seen)
    spread = _spread(expanded, shown, kind, style)
    if spread:
        return _told_with(shown, spread, kind, unit)
    return Told(number=_written(*_placed(shown, kind, style)), unit=unit, uncertainty=None)


def _spread(expanded: float | None, shown: Decimal, kind: Kind, style: Style) -> Decimal:
    """U in display units; zero where it is unknown or no more than the rounding of floats."""
    scale = _display(kind, style)
    wide = (expanded or 0.0) / (scale.numerator / scale.denominator)
    if not (math.isfinite(wide) and wide > 0):
        return Decimal(0)
    spread = _tidy(wide)
    finest = shown.adjusted() - _DIGITS if shown else -_DIGITS
    if kind in _PLACES:
        finest = max(finest, -_DIGITS + 2)
    return spread if spread and spread.adjusted() > finest else Decimal(0)


def _tidy(value: float) -> Decimal:
    """A float as it was meant: 12 digits, so that 0.0305 is no 0.030499999999999996 and rounds up."""
    return Decimal(f"{value:.{_DIGITS}g}")


def _rounded(value: Decimal, quantum: Decimal) -> Decimal:
    return _WIDE.multiply(_WIDE.divide(value, quantum).quantize(Decimal(1), ROUND_HALF_UP, _WIDE), quantum)


def _told_with(shown: Decimal, spread: Decimal, kind: Kind, unit: str) -> Told:
    quantum = Decimal(1).scaleb(spread.adjusted() - 1)
    spread = _rounded(spread, quantum)
    quantum = Decimal(1).scaleb(spread.adjusted() - 1)  # 0.996 became 1.0: one place up
    value = _rounded(shown, quantum)
    power = _power(max(value, spread, key=abs), kind)
    return Told(number=_written(value, quantum, power), unit=unit, uncertainty=_written(spread, quantum, power))


def _placed(shown: Decimal, kind: Kind, style: Style) -> tuple[Decimal, Decimal, int]:
    """The value rounded to the place it is told to without U, that place, and the power of ten it is written with."""
    if kind not in _PLACES:
        quantum = Decimal(1).scaleb(shown.adjusted() - _FEW_DIGITS + 1) if shown else Decimal(1)
    else:
        quantum = Decimal(_PLACES[kind][style is Style.METRIC])
        if quantum * _NOISE < abs(shown) < quantum / 2:
            quantum = Decimal(1).scaleb(shown.adjusted() - 1)
    quantum = max(quantum, Decimal(1).scaleb(shown.adjusted() - _DIGITS + 1)) if shown else quantum
    value = _rounded(shown, quantum)
    if kind not in _PLACES and value and value.adjusted() > shown.adjusted():
        quantum = quantum.scaleb(1)  # 9.995e5 became 1.000e6: one place up
    return value, quantum, _power(value, kind)


def _power(value: Decimal, kind: Kind) -> int:
    """The power of ten that a number is written with: none but for inertias, dampings and absurd sizes."""
    power = value.adjusted() if value else 0
    plain = power < 9 if kind in _PLACES else -3 <= power < 5
    return 0 if plain else power


def _written(value: Decimal, quantum: Decimal, power: int) -> str:
    size = abs(value).scaleb(-power)
    decimals = max(0, power - quantum.adjusted())
    digits = f"{size:.{decimals}f}" + (f"e{power}" if power else "")
    return f"{MINUS}{digits}" if value < 0 else digits
