"""The lift over the turn of the cam with its derivatives as charts, what it reads out, and the data behind it."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

import numpy as np

from loadbench.units import Kind, to_display
from ui.motion import wording as words
from ui.motion.wording import tr
from ui.plots.ink import DASHES
from ui.spring.chart import Chart, Look, Mark, Shape, Stroke, Told, straight

if TYPE_CHECKING:
    from loadbench.analysis.motion.result import LiftShown
    from loadbench.arrays import Floats
    from loadbench.units import Style
    from ui.motion.seen import Seen

VALVE, LOBE = Look(role="accent", width=1.8), Look(series=0, pattern=DASHES[0], width=1.2)
ZERO = Look(role="lines", width=0.8)
BEFORE, MARGIN, AIR = 30.0, 12.0, 0.12  # deg before the lift (the titles stand there) and after; share above and below
PLAIN = {ord("/"): "_per_", ord("\u00b2"): "2", ord("\u00b3"): "3"}
MOST_POINTS = 200  # of a table that are marked; of more every so-manyth


def titles() -> tuple[str, ...]:
    """What the lift and its derivatives are called."""
    return tr("Lift"), tr("Velocity"), tr("Acceleration"), tr("Jerk")


def reach_of(shown: LiftShown) -> tuple[float, float]:
    """The angles with any lift, deg, and somewhat more."""
    places = np.flatnonzero(np.maximum(shown.lobe[0], shown.valve[0]) > 0)
    if not places.size:
        return -90.0, 90.0
    low, high = np.degrees(shown.angles[places[0]]), np.degrees(shown.angles[places[-1]])
    return max(float(low) - BEFORE, -180.0), min(float(high) + MARGIN, 180.0)


def scaled(values: Floats, order: int, style: Style) -> Floats:
    """A lift's derivative, m per rad to that power, per degree in the unit on show."""
    return np.asarray(to_display(values, Kind.LENGTH, style)) * math.radians(1) ** order


def lift_picture(seen: Seen, style: Style) -> Told:
    """The four charts.

    Args:
        seen: a line's motion.
        style: the units on show.
    """
    shown = seen.motion.shown
    if shown is None:
        return Told(empty=tr("No lift is known."))
    reach = reach_of(shown)
    first, *others = (curve_chart(shown, order, reach, style) for order in range(4))
    charts = (first, _residuals(shown, reach, style), *others)
    notes = [tr("The lift is {how}.").format(how=shown.how)] if shown.how else []
    notes.append(tr("Solid: valve. Dashed: follower on the lobe."))
    if shown.residuals is not None:
        notes.append(_residual_note(shown, style))
    top = words.length(float(shown.valve[0].max()), style)
    description = tr(
        "Lift, velocity, acceleration and jerk of valve and follower over the cam\u2019s angle; greatest valve "
        "lift {top}."
    ).format(top=top)
    return Told(charts=charts, notes=tuple(notes), description=description)


def _residual_note(shown: LiftShown, style: Style) -> str:
    off = np.zeros(0) if shown.residuals is None else shown.residuals
    rms = float(to_display(float(np.sqrt(np.mean(off**2))), Kind.LENGTH, style)) if off.size else 0.0
    most = float(to_display(float(np.abs(off).max()), Kind.LENGTH, style)) if off.size else 0.0
    text = tr(
        "Circles: points of the table; they lie {rms} {unit} (rms), at most {most} {unit}, off the smoothed lift."
    )
    return text.format(rms=words.small(rms), most=words.small(most), unit=words.per_degree(0, style))


def curve_chart(shown: LiftShown, order: int, reach: tuple[float, float], style: Style) -> Chart:
    """The lift of valve and follower, or a derivative of it.

    Args:
        shown: of the line.
        order: 0 the lift, 1 its velocity, and so on.
        reach: cam angles that must be seen, deg.
        style: the units on show.
    """
    degrees = np.degrees(shown.angles)
    valve, lobe = (scaled(each[order], order, style) for each in (shown.valve, shown.lobe))
    inside = (degrees >= reach[0]) & (degrees <= reach[1])
    both = np.concatenate([valve[inside], lobe[inside], [0.0]])
    low, high = float(np.nanmin(both)), float(np.nanmax(both))
    air = AIR * max(high - low, 1e-12)
    strokes = [straight((reach[0], 0.0), (reach[1], 0.0), ZERO), Stroke(xs=degrees, ys=lobe, look=LOBE)]
    strokes.append(Stroke(xs=degrees, ys=valve, look=VALVE))
    return Chart(
        across=tr("Cam from the nose, deg") if order == 3 else "",
        up=words.per_degree(order, style),
        x_range=reach,
        y_range=(low - air, high + 2.5 * air),
        strokes=tuple(strokes),
        marks=_points(shown, style) if order == 0 else (),
        title=titles()[order],
    )


def _points(shown: LiftShown, style: Style) -> tuple[Mark, ...]:
    """The points of the table, where a table was smoothed."""
    if shown.table_angles is None or shown.table_lifts is None:
        return ()
    every = max(1, -(-shown.table_angles.size // MOST_POINTS))
    xs = np.degrees(shown.table_angles[::every])
    ys = to_display(shown.table_lifts[::every], Kind.LENGTH, style)
    return tuple(
        Mark(x=float(x), y=float(y), shape=Shape.CIRCLE, look=Look(role="quiet"), small=True)
        for x, y in zip(xs, ys, strict=True)
    )


def _residuals(shown: LiftShown, reach: tuple[float, float], style: Style) -> Chart:
    """How far each point of the table lies off the smoothed lift."""
    if shown.residuals is None or shown.table_angles is None or not shown.residuals.size:
        return Chart(x_range=reach)
    xs, ys = np.degrees(shown.table_angles), to_display(shown.residuals, Kind.LENGTH, style)
    most = max(float(np.abs(ys).max()), 1e-9)
    every = max(1, -(-xs.size // MOST_POINTS))
    marks = tuple(
        Mark(x=float(x), y=float(y), shape=Shape.CIRCLE, look=Look(role="quiet"), small=True)
        for x, y in zip(xs[::every], ys[::every], strict=True)
    )
    return Chart(
        up=words.per_degree(0, style),
        x_range=reach,
        y_range=(-1.2 * most, 2.2 * most),  # the title stands above the points
        strokes=(straight((reach[0], 0.0), (reach[1], 0.0), ZERO),),
        marks=marks,
        title=tr("Table less lift"),
    )


def lift_read_out(seen: Seen, place: float, style: Style) -> str:
    """The read-out at a cam angle, deg: lift and its derivatives, and what they are at the slider's speed."""
    shown = seen.motion.shown
    if shown is None:
        return ""
    values = [float(np.interp(math.radians(place), shown.angles, row)) for row in shown.valve]
    net = float(np.interp(math.radians(place), shown.angles, shown.net))
    turn = seen.speed / 2
    parts = [
        tr("valve lift {lift}, net {net}").format(lift=words.length(values[0], style), net=words.length(net, style))
    ]
    parts += [
        f"{word.lower()} {words.small(words.in_degrees(value, order, style))}\u2009{words.per_degree(order, style)}"
        for order, (word, value) in enumerate(zip(titles()[1:], values[1:], strict=True), start=1)
    ]
    if turn:
        parts.append(
            tr("at {speed} {velocity} and {acceleration}").format(
                speed=words.speed(seen.speed, style),
                velocity=words.velocity(values[1] * turn, style),
                acceleration=words.acceleration(values[2] * turn**2, style),
            )
        )
    return f"{words.angle(place)}: {', '.join(parts)}."


def lift_rows(shown: LiftShown | None, style: Style) -> list[list[str]]:
    """The data behind the picture: valve and follower over the angle, then the table's points."""
    if shown is None:
        return []
    units = [words.per_degree(order, style).translate(PLAIN) for order in range(4)]
    names = ("lift", "velocity", "acceleration", "jerk")
    heads = [f"{who}_{name}_{unit}" for who in ("valve", "follower") for name, unit in zip(names, units, strict=True)]
    found = [["kind", "cam_deg", "crank_deg", *heads, f"residual_{units[0]}"]]
    columns = [scaled(each[order], order, style) for each in (shown.valve, shown.lobe) for order in range(4)]
    for place, radians in enumerate(shown.angles):
        degrees = math.degrees(radians)
        values = [f"{float(column[place]):.9g}" for column in columns]
        found.append(["lift", f"{degrees:.6g}", f"{2 * degrees:.6g}", *values, ""])
    if shown.table_angles is not None and shown.table_lifts is not None:
        off = np.full(shown.table_angles.size, np.nan) if shown.residuals is None else shown.residuals
        for radians, lift, residual in zip(shown.table_angles, shown.table_lifts, off, strict=True):
            degrees = math.degrees(radians)
            texts = [f"{float(to_display(float(each), Kind.LENGTH, style)):.9g}" for each in (lift, residual)]
            found.append(["table", f"{degrees:.6g}", f"{2 * degrees:.6g}", texts[0], *[""] * 7, texts[1]])
    return found
