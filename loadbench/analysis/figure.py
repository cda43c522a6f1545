"""A figure: a value with its unit, uncertainty, evidence, and the formula that gave it with this job's numbers."""

from __future__ import annotations

import math
from dataclasses import dataclass
from enum import StrEnum

from loadbench.units import Kind, Style, Told, tell


class Plain(StrEnum):
    """Kinds of figure without a dimension."""

    NUMBER = "number"
    SHARE = "share"
    COUNT = "count"


FigureKind = Kind | Plain
RPM = math.pi / 30
"""rad/s of one turn a minute."""
HOUR = 3600.0
"""s."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Input:
    """One symbol of a formula: what it stands for, its value here, and the field or figure that it comes from."""

    symbol: str
    label: str
    value: float
    kind: FigureKind
    field: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Figure:
    """A computed value. `value` is None where it cannot be had; `missing` then names the fields it waits for.

    `formula` is a template whose braces name symbols of `inputs`; `expanded` is U with k = 2.
    """

    name: str
    label: str
    kind: FigureKind
    value: float | None = None
    expanded: float | None = None
    formula: str = ""
    inputs: tuple[Input, ...] = ()
    source: str = "own derivation"
    evidence: str = ""
    note: str = ""
    missing: tuple[str, ...] = ()

    @property
    def known(self) -> bool:
        """Whether there is a value."""
        return self.value is not None

    @property
    def key(self) -> str:
        """The figure's name with its unit, as in JSON and CSV: SI, but speeds of the engine in rpm, lives in hours."""
        return self.name + JSON_UNITS[self.kind]


JSON_UNITS: dict[FigureKind, str] = {
    Kind.LENGTH: "_m",
    Kind.FORCE: "_N",
    Kind.RATE: "_N_per_m",
    Kind.MASS: "_kg",
    Kind.PRESSURE: "_Pa",
    Kind.STRESS: "_Pa",
    Kind.FREQUENCY: "_Hz",
    Kind.SPEED: "_rpm",
    Kind.ANGLE: "_rad",
    Kind.TEMPERATURE: "_K",
    Kind.INERTIA: "_kg_m2",
    Kind.DAMPING: "_N_s_per_m",
    Kind.ENERGY: "_J",
    Kind.VELOCITY: "_m_per_s",
    Kind.FILM: "_m",
    Kind.TIME: "_s",
    Kind.LIFE: "_h",
    Kind.PV: "_W_per_m2",
    Kind.VISCOSITY: "_Pa_s",
    Kind.POWER: "_W",
    Plain.NUMBER: "",
    Plain.SHARE: "",
    Plain.COUNT: "",
}

SI_UNITS: dict[FigureKind, str] = {
    Kind.LENGTH: "m",
    Kind.FORCE: "N",
    Kind.RATE: "N/m",
    Kind.MASS: "kg",
    Kind.PRESSURE: "Pa",
    Kind.STRESS: "Pa",
    Kind.FREQUENCY: "Hz",
    Kind.SPEED: "rad/s",
    Kind.ANGLE: "rad",
    Kind.TEMPERATURE: "K",
    Kind.INERTIA: "kg m^2",
    Kind.DAMPING: "N s/m",
    Kind.ENERGY: "J",
    Kind.VELOCITY: "m/s",
    Kind.FILM: "m",
    Kind.TIME: "s",
    Kind.LIFE: "s",
    Kind.PV: "W/m^2",
    Kind.VISCOSITY: "Pa s",
    Kind.POWER: "W",
    Plain.NUMBER: "",
    Plain.SHARE: "",
    Plain.COUNT: "",
}


def keyed(value: float, kind: FigureKind) -> float:
    """A value in the unit that its key names.

    Args:
        value: SI.
        kind: what it measures.

    Returns:
        The same in SI; a speed of the engine in rpm, a life in hours.
    """
    if kind is Kind.LIFE:
        return value / HOUR
    return value / RPM if kind is Kind.SPEED else value


def keyed_unit(kind: FigureKind) -> str:
    """The unit of values beside a key; "1" without a dimension."""
    own = {Kind.SPEED: "rpm", Kind.LIFE: "h"}.get(kind) if isinstance(kind, Kind) else None
    return own or SI_UNITS[kind] or "1"


def told(value: float, kind: FigureKind, style: Style, expanded: float | None = None) -> Told:
    """A value of any figure's kind as number, unit and uncertainty for a person.

    Args:
        value: SI; a share as a fraction of one.
        kind: what it measures.
        style: inch-pound or metric.
        expanded: U, k = 2, in the value's unit.

    Returns:
        The texts; a share is told in percent.
    """
    if isinstance(kind, Kind):
        return tell(value, kind, style, expanded)
    if kind is Plain.SHARE:
        share = None if expanded is None else f"{100 * expanded:.2g}"
        return Told(number=f"{100 * value:.1f}".replace("-", "\u2212"), unit="%", uncertainty=share)
    number = f"{value:.0f}" if kind is Plain.COUNT else f"{value:.4g}"
    return Told(number=number.replace("-", "\u2212"), unit="", uncertainty=None)


def symbolic(figure: Figure) -> str:
    """The formula with its symbols."""
    return figure.formula.format_map({each.symbol: each.symbol for each in figure.inputs}) if figure.formula else ""


def worked(figure: Figure, style: Style) -> str:
    """The formula with this job's numbers, and the result; empty where the figure cannot be had."""
    if figure.value is None or not figure.formula:
        return ""
    numbers = {each.symbol: str(told(each.value, each.kind, style)) for each in figure.inputs}
    right = figure.formula.split("=", 1)[-1].strip().format_map(numbers)
    return f"{right} = {told(figure.value, figure.kind, style, figure.expanded)}"
