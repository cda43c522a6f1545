"""The contact force over the cam's angle at the slider's speed: rigid, from the dynamic run, and at every station."""

from __future__ import annotations

import math
from dataclasses import replace
from typing import TYPE_CHECKING

import numpy as np
from typing_extensions import override

from loadbench.analysis.motion.balance_at import balanced_at, rigid_force
from loadbench.units import Kind, display_unit, to_display
from ui.motion import wording as words
from ui.motion.legend import legend
from ui.motion.motion_picture import MotionPicture, lifted
from ui.motion.stacked import StackedScale
from ui.motion.wording import tr
from ui.plots.ink import DASHES
from ui.spring.chart import Chart, Look, Mark, Name, Shape, Stroke, Told, straight

if TYPE_CHECKING:
    from PySide6.QtWidgets import QWidget

    from loadbench.analysis.motion.result import Balanced
    from loadbench.arrays import Floats
    from loadbench.units import Style
    from ui.motion.seen import Seen
    from ui.session import Session

BESIDE, AFTER, AIR = 6.0, 16.0, 0.08  # deg before and after; share beneath
HEAD, HEADS = 0.26, 0.42  # shares above: room for the title; for a row of names beneath it too
ZERO = Look(role="lines", width=0.8)
DYNAMIC, RIGID = Look(role="accent", width=1.8), Look(series=0, pattern=DASHES[0], width=1.4)
LIMITS = Look(role="quiet", pattern=DASHES[1], width=0.8)
SAME = 1e-6
"""Stations that differ by less than this share are drawn once."""

STATION_LOOKS = {
    "tip": Look(series=1, width=1.4),
    "pushrod": Look(series=2, pattern=DASHES[0], width=1.4),
    "lobe": Look(series=3, pattern=DASHES[1], width=1.4),
    "contact": Look(role="accent", width=1.6),
    "axle": Look(series=4, pattern=DASHES[2], width=1.4),
}


def station_words() -> dict[str, str]:
    """What the stations are called."""
    return {
        "tip": tr("valve tip"),
        "pushrod": tr("pushrod"),
        "lobe": tr("lobe, along the travel"),
        "contact": tr("lobe, normal to the flank"),
        "axle": tr("axle"),
    }


class ForceView(MotionPicture):
    """How hard the lobe presses over the turn at one speed."""

    def __init__(self, session: Session, parent: QWidget | None = None) -> None:
        super().__init__(session, StackedScale("force_picture", 2, crank=True), "force", parent)

    @override
    def build_seen(self, seen: Seen, style: Style) -> Told:
        return force_picture(seen, style)

    @override
    def read_seen(self, seen: Seen, place: float, style: Style) -> str:
        return force_read_out(seen, place, style)

    @override
    def rows_seen(self, seen: Seen, style: Style) -> list[list[str]]:
        return force_rows(seen, style)

    @override
    def title(self) -> str:
        return self.tr("Contact force over the cam\u2019s angle")


def _reach(seen: Seen) -> tuple[float, float]:
    low, high = lifted(seen)
    return low - BESIDE, high + AFTER


def _angles(seen: Seen) -> Floats:
    shown = seen.motion.shown
    return np.linspace(-np.pi, np.pi, 721) if shown is None else shown.angles


def _stations(seen: Seen) -> dict[str, Floats]:
    """The stations at the slider's speed, each once: without a roller or a slanted flank some are the same."""
    found = balanced_at(seen.motion, seen.speed)
    if found is None:
        return {}
    kept: dict[str, Floats] = {}
    for name in ("contact", "tip", "pushrod", "lobe", "axle"):
        values = _of(found, name)
        scale = SAME * max(float(np.abs(values).max()), 1e-9)
        if not any(np.abs(values - other).max() <= scale for other in kept.values()):
            kept[name] = values
    return kept


def _of(found: Balanced, name: str) -> Floats:
    values: Floats = getattr(found, name)
    return values


def force_picture(seen: Seen, style: Style) -> Told:
    """Two charts: at the valve, rigid and from the dynamic run; and the rigid stations.

    Args:
        seen: a line's motion, its sweep and the slider's speed.
        style: the units on show.
    """
    if seen.motion.dynamic is None:
        return Told(empty=tr("No force is known."))
    charts = (_at_valve(seen, style), _at_stations(seen, style))
    notes = [tr("Solid: dynamic run. Dashed: rigid linkage; below zero it would have to pull.")]
    if seen.dynamics is None:
        notes = [tr("Dashed: rigid linkage. The dynamic run is being worked out.")]
    elif not seen.dynamics.found.periodic[seen.place]:
        notes.append(tr("Not periodic at this speed: the last turn is shown."))
    if not charts[1].strokes[1:]:
        notes.append(tr("The stations want idle speed and speed limit."))
    return Told(charts=charts, notes=tuple(notes), description=_description(seen, style))


def _description(seen: Seen, style: Style) -> str:
    text = tr("Contact force at the valve over the cam\u2019s angle at {speed}").format(
        speed=words.speed(seen.speed, style)
    )
    if seen.dynamics is None:
        return text + "."
    found, place = seen.dynamics.found, seen.place
    return text + tr("; greatest {most}, least within the window {least}.").format(
        most=words.force(float(found.peak_force[place]), style),
        least=words.force(float(found.least_force[place]), style),
    )


def _chart(lines: list[Stroke], seen: Seen, style: Style, title: str, *, last: bool) -> Chart:
    reach = _reach(seen)
    seen_parts = [each.ys[(each.xs >= reach[0]) & (each.xs <= reach[1])] for each in lines]
    values = np.concatenate([*seen_parts, [0.0, 1.0]])
    low, high = float(np.nanmin(values)), float(np.nanmax(values))
    air = AIR * (high - low)
    ends = (low - air, high + (HEADS if last else HEAD) * (high - low))
    strokes = [straight((reach[0], 0.0), (reach[1], 0.0), ZERO)]
    dynamic = seen.motion.dynamic
    if dynamic is not None and not last:
        window = math.degrees(dynamic.window)
        name = Name(texts=(tr("the least counts between these"), tr("window")), along=(0.2, 0.9), rank=4)
        strokes.append(straight((-window, ends[0]), (-window, ends[1]), LIMITS))
        strokes.append(straight((window, ends[0]), (window, ends[1]), LIMITS, name))
    return Chart(
        across=tr("Cam from the nose, deg") if last else "",
        up=display_unit(Kind.FORCE, style),
        x_range=reach,
        y_range=ends,
        strokes=(*strokes, *lines),
        title=title,
    )


def _at_valve(seen: Seen, style: Style) -> Chart:
    dynamic = seen.motion.dynamic
    if dynamic is None:
        return Chart()
    angles = _angles(seen)
    rigid = np.asarray(to_display(rigid_force(dynamic, angles, seen.speed), Kind.FORCE, style))
    name = Name(texts=(tr("rigid linkage"), tr("rigid")), along=(0.45, 0.75), rank=2)
    lines = [Stroke(xs=np.degrees(angles), ys=rigid, look=RIGID, name=name)]
    marks: tuple[Mark, ...] = ()
    if seen.dynamics is not None:
        found, place = seen.dynamics.found, seen.place
        force = np.asarray(to_display(found.force[place], Kind.FORCE, style))
        name = Name(texts=(tr("dynamic run"), tr("dynamic")), along=(0.4, 0.7), role="accent", rank=1, bold=True)
        lines.append(Stroke(xs=np.degrees(found.angles), ys=force, look=DYNAMIC, name=name))
        marks = _extremes(seen, style)
    return replace(_chart(lines, seen, style, tr("Contact force at the valve"), last=False), marks=marks)


def _extremes(seen: Seen, style: Style) -> tuple[Mark, ...]:
    """The greatest force and the least within the window."""
    if seen.dynamics is None:
        return ()
    found, place = seen.dynamics.found, seen.place
    rows = (
        (found.peak_angle, found.peak_force, Shape.TRIANGLE, tr("greatest {force}")),
        (found.least_angle, found.least_force, Shape.DIAMOND, tr("least {force}")),
    )
    made = []
    for at, value, shape, text in rows:
        force, x = float(value[place]), math.degrees(float(at[place]))
        if np.isfinite(force):
            name = Name(texts=(text.format(force=words.force(force, style)),), role="ink", rank=1, must=True)
            y = float(to_display(force, Kind.FORCE, style))
            made.append(Mark(x=x, y=y, shape=shape, look=Look(role="accent", width=1.4), name=name))
    return tuple(made)


def _at_stations(seen: Seen, style: Style) -> Chart:
    """They lie so close about the nose that their names stand in a row above them."""
    told, short = station_words(), {"lobe": tr("lobe, along"), "contact": tr("lobe, normal")}
    degrees, found = np.degrees(_angles(seen)), _stations(seen)
    lines = [
        Stroke(xs=degrees, ys=np.asarray(to_display(values, Kind.FORCE, style)), look=STATION_LOOKS[name])
        for name, values in found.items()
    ]
    made = _chart(lines, seen, style, tr("Stations, rigid linkage"), last=True)
    entries = [(STATION_LOOKS[name], (told[name], *filter(None, (short.get(name),)))) for name in found]
    samples, names = legend(entries, made.x_range, made.y_range)
    return replace(made, strokes=(*made.strokes, *samples), marks=names)


def force_read_out(seen: Seen, place: float, style: Style) -> str:
    """The read-out at a cam angle, deg."""
    dynamic, parts = seen.motion.dynamic, []
    if dynamic is None:
        return ""
    if seen.dynamics is not None:
        found = seen.dynamics.found
        value = float(np.interp(place, np.degrees(found.angles), found.force[seen.place]))
        parts.append(tr("dynamic {force} at the valve").format(force=words.force(value, style)))
    rigid = float(rigid_force(dynamic, np.array([math.radians(place)]), seen.speed)[0])
    parts.append(tr("rigid {force}").format(force=words.force(rigid, style)))
    told = station_words()
    for name, values in _stations(seen).items():
        value = float(np.interp(math.radians(place), _angles(seen), values))
        parts.append(f"{told[name]} {words.force(value, style)}")
    return f"{words.speed(seen.speed, style)}, {words.angle(place).lower()}: {', '.join(parts)}."


def force_rows(seen: Seen, style: Style) -> list[list[str]]:
    """The data behind the picture."""
    dynamic = seen.motion.dynamic
    if dynamic is None:
        return []
    unit, angles = display_unit(Kind.FORCE, style), _angles(seen)
    columns = {"rigid_at_valve": rigid_force(dynamic, angles, seen.speed), **_stations(seen)}
    if seen.dynamics is not None:
        found = seen.dynamics.found
        columns["dynamic_at_valve"] = np.interp(angles, found.angles, found.force[seen.place])
    rows = [["cam_deg", "crank_deg", *(f"{name}_{unit}" for name in columns)]]
    shown = [np.asarray(to_display(values, Kind.FORCE, style)) for values in columns.values()]
    for place, radians in enumerate(angles):
        degrees = math.degrees(radians)
        rows.append([f"{degrees:.6g}", f"{2 * degrees:.6g}", *(f"{float(each[place]):.9g}" for each in shown)])
    return rows
