"""The words of the Motion page: values with units, causes of lost contact, and what each input is called."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from PySide6.QtCore import QCoreApplication

from loadbench.analysis.motion.sensitivity import Quantity
from loadbench.motion.bands import Cause
from loadbench.units import Kind, Style, display_unit, tell, to_display

if TYPE_CHECKING:
    from loadbench.motion.bands import LossBand

CONTEXT = "MotionPage"
METRE = {Style.INCH_POUND: ("ft/s\u00b2", 1 / 0.3048), Style.METRIC: ("m/s\u00b2", 1.0)}
POWERS = ("", "\u00b2", "\u00b3")


def tr(text: str) -> str:
    """A text of the page in the user's language."""
    return QCoreApplication.translate(CONTEXT, text)


# Values


def speed(value: float, style: Style) -> str:
    """An engine speed with its unit."""
    return str(tell(value, Kind.SPEED, style))


def force(value: float, style: Style) -> str:
    """A force with its unit."""
    return str(tell(value, Kind.FORCE, style))


def length(value: float, style: Style) -> str:
    """A length with its unit."""
    return str(tell(value, Kind.LENGTH, style))


def velocity(value: float, style: Style) -> str:
    """A velocity with its unit."""
    return str(tell(value, Kind.VELOCITY, style))


def acceleration(value: float, style: Style) -> str:
    """An acceleration with its unit."""
    unit, worth = METRE[style]
    return f"{value * worth:,.0f}\u2009{unit}".replace("-", "\u2212").replace(",", "\u2009")


def angle(degrees: float) -> str:
    """A cam angle from the nose with the crank's beside it."""
    return tr("Cam {cam}\u2009deg, crank {crank}\u2009deg from the nose").format(
        cam=_plain(degrees), crank=_plain(2 * degrees)
    )


def _plain(value: float) -> str:
    return f"{value:.1f}".replace("-", "\u2212")


def axis(word: str, kind: Kind, style: Style) -> str:
    """What stands on an axis: quantity, comma, unit."""
    return f"{word}, {display_unit(kind, style)}"


def per_degree(order: int, style: Style) -> str:
    """The unit of a lift's derivative, as in/deg\u00b2."""
    unit = display_unit(Kind.LENGTH, style)
    return f"{unit}/deg{POWERS[order - 1]}" if order else unit


def in_degrees(value: float, order: int, style: Style) -> float:
    """A lift's derivative, m per rad to that power, in the unit on show."""
    return float(to_display(value, Kind.LENGTH, style)) * math.radians(1) ** order


def small(value: float) -> str:
    """A number of three digits, however small, without powers of ten."""
    if not value or not math.isfinite(value):
        return "0"
    places = min(max(2 - math.floor(math.log10(abs(value))), 0), 12)
    return f"{value:.{places}f}".replace("-", "\u2212")


# Bands


def cause(band: LossBand) -> str:
    """What takes the contact away, in words."""
    if band.cause is Cause.INERTIA:
        return tr("the moving mass wants more than the spring\u2019s load")
    if band.cause is Cause.LINKAGE:
        return tr("the linkage rings")
    if band.order is None or band.mode is None:
        return tr("the spring surges")
    if band.spring:
        return tr("the spring \u201c{spring}\u201d surges: order {order} of the cam swings its mode {mode}").format(
            spring=band.spring, order=band.order, mode=band.mode
        )
    return tr("the spring surges: order {order} of the cam swings its mode {mode}").format(
        order=band.order, mode=band.mode
    )


def cause_names(band: LossBand) -> tuple[str, ...]:
    """The same where there is little room, the longest first."""
    if band.cause is Cause.INERTIA:
        return tr("inertia over spring load"), tr("inertia")
    if band.cause is Cause.LINKAGE:
        return tr("linkage rings"), tr("linkage")
    if band.order is None or band.mode is None:
        return (tr("surge"),)
    return tr("surge, order {order}, mode {mode}").format(order=band.order, mode=band.mode), tr("surge")


def span(band: LossBand, style: Style) -> str:
    """From which speed to which contact is lost."""
    low = speed(band.low, style)
    if band.begins_below:
        low = tr("{speed} or below").format(speed=low)
    if band.high is None:
        return tr("from {low} up").format(low=low)
    return tr("from {low} to {high}").format(low=low, high=speed(band.high, style))


def band_sentence(band: LossBand, style: Style) -> str:
    """A band with its cause."""
    return tr("Contact is lost {span}: {cause}.").format(span=span(band, style), cause=cause(band))


# Inputs


def quantity(of: Quantity) -> str:
    """What an input is called."""
    words = {
        Quantity.VALVE: tr("Valve\u2019s mass"),
        Quantity.RETAINER: tr("Retainer\u2019s mass"),
        Quantity.LOCKS: tr("Locks\u2019 mass"),
        Quantity.SPRING: tr("Spring\u2019s mass"),
        Quantity.ROCKER: tr("Rocker\u2019s inertia"),
        Quantity.PUSHROD: tr("Pushrod\u2019s mass"),
        Quantity.FOLLOWER: tr("Follower\u2019s mass"),
        Quantity.MASS: tr("Moving mass"),
        Quantity.SEAT_LOAD: tr("Seat load"),
        Quantity.RATE: tr("Rate"),
        Quantity.LIFT: tr("Lift"),
        Quantity.RATIO: tr("Rocker ratio"),
        Quantity.STIFFNESS: tr("Gear\u2019s stiffness"),
    }
    return words[of]
