"""The words of the surge picture: its names, what each crossing says, what stands beneath it."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

import numpy as np

from loadbench.analysis.figure import Plain, told
from loadbench.spring.surge import LEAST_RATIO, order_frequency, surge_ratio
from loadbench.units import Kind, Style, display_unit, tell, to_display
from ui.spring.mode_strip import tr
from ui.spring.waiting import waited_for

if TYPE_CHECKING:
    from loadbench.analysis.coils.result import CoilAnalysis
    from loadbench.arrays import Floats


def speed(value: float, style: Style) -> str:
    """An engine speed with its unit."""
    return str(tell(value, Kind.SPEED, style))


def frequency(value: float, style: Style) -> str:
    """A frequency with its unit."""
    return str(tell(value, Kind.FREQUENCY, style))


def ratio(value: float, style: Style) -> str:
    """A ratio."""
    return str(told(value, Plain.NUMBER, style))


def mode_names(coil: CoilAnalysis, mode: int, value: float, style: Style) -> tuple[str, ...]:
    """What stands at a mode's line, the longest first."""
    long = tr("mode {mode}  {frequency}").format(mode=mode, frequency=frequency(value, style))
    short = tr("mode {mode}").format(mode=mode)
    return (f"{coil.name} {long}", f"{coil.name} {short}", f"{coil.name} {mode}") if coil.name else (long, short)


def crossing_names(order: int, at: float, style: Style) -> tuple[str, ...]:
    """What stands at a crossing, the longest first."""
    return (
        tr("order {order}, {speed}").format(order=order, speed=speed(at, style)),
        tr("{order}: {speed}").format(order=order, speed=speed(at, style)),
        str(order),
    )


def crossing_says(
    coil: CoilAnalysis, mode: int, order: int, at: float, harmonics: Floats | None, style: Style
) -> str:  # fmt: skip
    """What the read-out says at a crossing: coil, mode, order, frequency, speed, and the lift's harmonic."""
    text = tr("mode {mode} ({frequency}) meets order {order} of the cam at {speed}").format(
        mode=mode,
        frequency=frequency(float(order_frequency(float(order), at)), style),
        order=order,
        speed=speed(at, style),
    )
    text = f"{coil.name}: {text}" if coil.name else text
    text = text[:1].upper() + text[1:]
    if harmonics is None or order > harmonics.size:
        return f"{text}."
    harmonic = amplitude(float(harmonics[order - 1]), style)
    return tr("{text}; that order holds {harmonic} of the lift.").format(text=text, harmonic=harmonic)


def amplitude(value: float, style: Style) -> str:
    """A harmonic of the lift with its unit, to two digits: a bench's thousandths would hide most of them."""
    shown = to_display(value, Kind.LENGTH, style)
    places = 1 - math.floor(math.log10(shown)) if shown > 0 else 0
    return f"{shown:.{max(0, places)}f}\u2009{display_unit(Kind.LENGTH, style)}"


def at_speed(at: float, coils: list[CoilAnalysis], style: Style) -> str:
    """What the read-out says at an engine speed, rad/s: how many turns of the cam each first mode is."""
    cam = frequency(float(order_frequency(1.0, at)), style)
    if at <= 0:
        return tr("The engine stands.")
    parts = []
    for coil in coils:
        value = ratio(float(surge_ratio(_first(coil), at)), style)
        name = tr("{name} {ratio}").format(name=coil.name, ratio=value) if coil.name else value
        parts.append(name)
    text = tr("At {speed} the cam turns at {cam}; first mode over that: {ratios}.")
    return text.format(speed=speed(at, style), cam=cam, ratios=", ".join(parts))


def _first(coil: CoilAnalysis) -> float:
    return float(np.asarray(coil.modes).flat[0])


def rule_words(coils: list[CoilAnalysis], limit: float, style: Style) -> str:
    """The textbook ratio rule against this nest, at the speed limit."""
    low, high = LEAST_RATIO
    parts = []
    for coil in coils:
        value = ratio(float(surge_ratio(_first(coil), limit)), style)
        parts.append(f"{coil.name} {value}" if coil.name else value)
    text = tr("Textbook rule: first mode {low:.0f} to {high:.0f} times the cam's speed; at the limit: {ratios}.")
    return text.format(low=low, high=high, ratios=", ".join(parts))


def harmonics_words(harmonics: Floats | None) -> str:
    """Whether the rays follow a lift curve."""
    if harmonics is None:
        return tr("No lift curve is stated: all orders are drawn alike.")
    return tr("The weight of a ray follows the lift's harmonic of that order, over three decades.")


def beside_words(coils: list[CoilAnalysis], friction: float | None, style: Style) -> list[str]:
    """What the lines leave out: coils of a taper that have landed, and the damper."""
    found = []
    if any(coil.geometry is not None and coil.geometry.tapers for coil in coils):
        text = tr("Modes with all coils free; those of a taper rise as its coils land. Shapes are of an even coil.")
        found.append(text)
    if friction:
        force = str(tell(friction, Kind.FORCE, style))
        found.append(tr("The damper's friction of {force} calms surge; how far is not computed.").format(force=force))
    return found


def unknown_words(coil: CoilAnalysis) -> str:
    """That a coil is not drawn, and what it waits for."""
    fields = waited_for(coil, "surge_frequency")
    if not coil.name:
        return tr("Not drawn; it waits for: {fields}.").format(fields=fields)
    text = tr("{name} is not drawn; it waits for: {fields}.").format(name=coil.name, fields=fields)
    return text[:1].upper() + text[1:]


def description(coils: list[CoilAnalysis], idle: float, limit: float, count: int, style: Style) -> str:
    """The whole picture in a sentence."""
    firsts = ", ".join(f"{coil.name} {frequency(_first(coil), style)}".strip() for coil in coils)
    text = tr(
        "Interference picture: engine speed from {idle} to {limit} across, frequency up; first modes: {firsts}; "
        "{count} crossings with orders of the cam."
    )
    return text.format(
        idle=speed(idle, style), limit=speed(limit, style), firsts=firsts, count=count
    )  # fmt: skip
