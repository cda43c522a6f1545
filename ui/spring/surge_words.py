"""The words of the surge picture: its names, what each crossing says, what stands beneath it."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

import numpy as np

from loadbench.analysis.figure import Plain, told
from loadbench.spring.surge import LEAST_RATIO, order_frequency, surge_ratio
from loadbench.units import Kind, Style, display_unit, tell, to_display
from ui.spring.mode_strip import tr
from ui.spring.surge_reach import Band, bands_of, widens
from ui.spring.waiting import waited_for

if TYPE_CHECKING:
    from loadbench.analysis.coils.result import CoilAnalysis
    from loadbench.arrays import Floats
    from ui.spring.surge_reach import Crossing


def speed(value: float, style: Style) -> str:
    """An engine speed with its unit."""
    return str(tell(value, Kind.SPEED, style))


def frequency(value: float, style: Style) -> str:
    """A frequency with its unit."""
    return str(tell(value, Kind.FREQUENCY, style))


def ratio(value: float, style: Style) -> str:
    """A ratio."""
    return str(told(value, Plain.NUMBER, style))


def span(low: str, high: str) -> str:
    """A band from its lower to its upper end; one where both are told alike. The unit stands once."""
    if low == high:
        return low
    number, _, unit = low.partition("\u2009")
    return tr("{low} to {high}").format(low=number if high.endswith(f"\u2009{unit}") else low, high=high)


def band_told(band: Band, style: Style) -> str:
    """A mode from closed to full lift."""
    return span(frequency(band[0], style), frequency(band[1], style))


def mode_names(coil: CoilAnalysis, mode: int, band: Band, style: Style, *, within: bool = True) -> tuple[str, ...]:
    """What stands at a mode's line, the longest first; both ends of a band that is not `within` the picture."""
    values = {"mode": mode, "frequency": frequency(band[0], style), "full": frequency(band[1], style)}
    if not widens(band):
        long = tr("mode {mode}  {frequency}").format(**values)
    elif within:
        long = tr("mode {mode}  closed {frequency}").format(**values)
    else:
        long = tr("mode {mode}  closed {frequency}, full lift {full}").format(**values)
    short = tr("mode {mode}").format(mode=mode)
    return (f"{coil.name} {long}", f"{coil.name} {short}", f"{coil.name} {mode}") if coil.name else (long, short)


def full_lift_names(coil: CoilAnalysis, band: Band, style: Style) -> tuple[str, ...]:
    """What stands at the upper end of a band, the longest first."""
    long = tr("full lift {frequency}").format(frequency=frequency(band[1], style))
    return (*([f"{coil.name} {long}"] if coil.name else []), long, tr("full lift"))


def crossing_names(order: int, speeds: Band, style: Style) -> tuple[str, ...]:
    """What stands at a crossing, the longest first."""
    told = span(speed(speeds[0], style), speed(speeds[1], style))
    return (
        tr("order {order}, {speed}").format(order=order, speed=told),
        tr("{order}: {speed}").format(order=order, speed=told),
        str(order),
    )


def crossing_says(coil: CoilAnalysis, each: Crossing, harmonics: Floats | None, style: Style) -> str:
    """What the read-out says at a crossing: coil, mode, order, frequency, speed, and the lift's harmonic."""
    low, high = (speed(at, style) for at in each.speeds)
    if widens(each.band):
        text = tr("mode {mode} ({frequency}, closed to full lift) meets order {order} of the cam from {speed}")
    else:
        text = tr("mode {mode} ({frequency}) meets order {order} of the cam at {speed}")
    values = {"mode": each.mode, "order": each.order}
    text = text.format(frequency=band_told(each.band, style), speed=span(low, high), **values)
    text = f"{coil.name}: {text}" if coil.name else text
    text = text[:1].upper() + text[1:]
    if harmonics is None or each.order > harmonics.size:
        return f"{text}."
    harmonic = amplitude(float(harmonics[each.order - 1]), style)
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
        value = span(*(ratio(float(surge_ratio(each, at)), style) for each in bands_of(coil)[0]))
        name = tr("{name} {ratio}").format(name=coil.name, ratio=value) if coil.name else value
        parts.append(name)
    text = tr("At {speed} the cam turns at {cam}; first mode over that: {ratios}.")
    if any(widens(bands_of(coil)[0]) for coil in coils):
        text = tr("At {speed} the cam turns at {cam}; first mode over that, closed to full lift: {ratios}.")
    return text.format(speed=speed(at, style), cam=cam, ratios=", ".join(parts))


def _first(coil: CoilAnalysis) -> float:
    return float(np.asarray(coil.modes).flat[0])


def rule_words(coils: list[CoilAnalysis], limit: float, style: Style) -> str:
    """The textbook ratio rule against this nest, at the speed limit: it looks at the lowest that each first mode is."""
    low, high = LEAST_RATIO
    parts = []
    for coil in coils:
        value = ratio(float(surge_ratio(_first(coil), limit)), style)
        parts.append(f"{coil.name} {value}" if coil.name else value)
    text = tr("Textbook rule: first mode {low:.0f} to {high:.0f} times the cam's speed; at the limit: {ratios}.")
    if any(widens(band) for coil in coils for band in bands_of(coil)):
        text = tr(
            "Textbook rule: first mode {low:.0f} to {high:.0f} times the cam's speed; "
            "the lowest that it is, at the limit: {ratios}."
        )
    return text.format(low=low, high=high, ratios=", ".join(parts))


def harmonics_words(harmonics: Floats | None) -> str:
    """Whether the rays follow a lift curve."""
    if harmonics is None:
        return tr("No lift curve is stated: all orders are drawn alike.")
    return tr("The weight of a ray follows the lift's harmonic of that order, over three decades.")


def taper_words(coil: CoilAnalysis) -> str:
    """Whether the modes of a taper rise from closed to full lift, or where that is not known."""
    if coil.modes_closed is None or coil.modes_open is None:
        text = tr(
            "How far the modes of this taper{name} rise as its coils land is not known: drawn as far as they are."
        )
    elif any(widens(band) for band in bands_of(coil)):
        text = tr("Bands: the modes of the taper{name} rise from closed to full lift as its coils land.")
    else:
        text = tr("No coil of the taper{name} lands between closed and full lift: its modes stay as they are.")
    return text.format(name=f" {coil.name}" if coil.name else "")


def beside_words(coils: list[CoilAnalysis], friction: float | None, style: Style) -> list[str]:
    """What the lines leave out: coils of a taper that have landed, and the damper."""
    found = [taper_words(coil) for coil in coils if coil.geometry is not None and coil.geometry.tapers]
    if found:
        found.append(tr("Shapes are of an even coil."))
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
    firsts = ", ".join(f"{coil.name} {band_told(bands_of(coil)[0], style)}".strip() for coil in coils)
    text = tr(
        "Interference picture: engine speed from {idle} to {limit} across, frequency up; first modes: {firsts}; "
        "{count} crossings with orders of the cam."
    )
    return text.format(
        idle=speed(idle, style), limit=speed(limit, style), firsts=firsts, count=count
    )  # fmt: skip
