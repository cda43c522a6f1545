"""The kinds of quantity, the two styles of units, and the words in which messages speak of them."""

from __future__ import annotations

from enum import StrEnum


class Kind(StrEnum):
    """What a quantity measures; one closed list of units belongs to each."""

    LENGTH = "length"
    FORCE = "force"
    RATE = "rate"
    MASS = "mass"
    PRESSURE = "pressure"
    STRESS = "stress"
    SPEED = "speed"
    FREQUENCY = "frequency"
    ANGLE = "angle"
    TEMPERATURE = "temperature"
    INERTIA = "inertia"
    DAMPING = "damping"
    ENERGY = "energy"
    VELOCITY = "velocity"
    FILM = "film"
    TIME = "time"
    LIFE = "life"
    PV = "pressure times speed"
    VISCOSITY = "viscosity"
    POWER = "power"


class Style(StrEnum):
    """The family of everyday units that a job or a window uses."""

    INCH_POUND = "inch-pound"
    METRIC = "metric"


ONLY_COMPUTED = frozenset(
    {
        Kind.STRESS,
        Kind.FREQUENCY,
        Kind.ENERGY,
        Kind.VELOCITY,
        Kind.TIME,
        Kind.LIFE,
        Kind.PV,
        Kind.VISCOSITY,
        Kind.POWER,
    }
)
"""Kinds that no field of a job takes: messages about other fields do not speak of them."""

NOUN = {
    Kind.LENGTH: "a length",
    Kind.FORCE: "a load",
    Kind.RATE: "a rate",
    Kind.MASS: "a mass",
    Kind.PRESSURE: "a pressure",
    Kind.STRESS: "a stress",
    Kind.SPEED: "a speed",
    Kind.FREQUENCY: "a frequency",
    Kind.ANGLE: "an angle",
    Kind.TEMPERATURE: "a temperature",
    Kind.INERTIA: "a moment of inertia",
    Kind.DAMPING: "a damping",
    Kind.ENERGY: "an energy",
    Kind.VELOCITY: "a velocity",
    Kind.FILM: "a film thickness",
    Kind.TIME: "a time",
    Kind.LIFE: "a life",
    Kind.PV: "a pressure times a speed",
    Kind.VISCOSITY: "a viscosity",
    Kind.POWER: "a power",
}
"""How a message names what a field wants."""

_EXAMPLES = {
    Kind.LENGTH: ("1.900 in", "48.26 mm"),
    Kind.FORCE: ("150 lbf", "667 N"),
    Kind.RATE: ("420 lbf/in", "73.6 N/mm"),
    Kind.MASS: ("112 g", "0.247 lb"),
    Kind.PRESSURE: ("14.5 psi", "1 bar"),
    Kind.STRESS: ("120 kpsi", "827 MPa"),
    Kind.FREQUENCY: ("420 Hz", "0.42 kHz"),
    Kind.SPEED: ("6800 rpm", "712 rad/s"),
    Kind.ANGLE: ("230 deg", "4.014 rad"),
    Kind.TEMPERATURE: ("212 °F", "100 °C"),
    Kind.INERTIA: ("9.0e-5 kg·m²", "900 g·cm²"),
    Kind.DAMPING: ("120 N·s/m", "0.685 lbf·s/in"),
    Kind.ENERGY: ("7.2 in·lbf", "0.813 J"),
    Kind.VELOCITY: ("1.31 ft/s", "0.4 m/s"),
    Kind.FILM: ("6.3 µin", "0.16 µm"),
    Kind.TIME: ("12 s", "0.2 min"),
    Kind.LIFE: ("400 h", "16.7 days"),
    Kind.PV: ("50000 psi·ft/min", "1.75 MPa·m/s"),
    Kind.VISCOSITY: ("10 mPa·s", "0.01 Pa·s"),
    Kind.POWER: ("120 W", "0.12 kW"),
}
"""The same quantity said twice: inch-pound first where the styles differ, else the everyday unit first."""

_TURNED = {
    Kind.LENGTH,
    Kind.FORCE,
    Kind.RATE,
    Kind.PRESSURE,
    Kind.STRESS,
    Kind.TEMPERATURE,
    Kind.ENERGY,
    Kind.VELOCITY,
    Kind.FILM,
    Kind.PV,
}


def example(kind: Kind, style: Style | None) -> str:
    """Two ways of typing one quantity, for messages and hints.

    Args:
        kind: what the field wants.
        style: the units on show; they come first. None: inch-pound first.

    Returns:
        Text such as "1.900 in or 48.26 mm".
    """
    first, second = _EXAMPLES[kind]
    if style is Style.METRIC and kind in _TURNED:
        first, second = second, first
    return f"{first} or {second}"


def expected(kind: Kind, style: Style | None) -> str:
    """What a field of this kind accepts, as an error says it: "a length such as 1.900 in or 48.26 mm"."""
    return f"{NOUN[kind]} such as {example(kind, style)}"
