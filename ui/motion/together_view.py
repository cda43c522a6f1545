"""Lift, velocity, acceleration, force and map one above the other over one angle: what holds at it is read in all."""

from __future__ import annotations

import math
from dataclasses import replace
from typing import TYPE_CHECKING

import numpy as np
from typing_extensions import override

from loadbench.analysis.motion.balance_at import rigid_force
from loadbench.units import Kind, display_unit, to_display
from ui.motion import band_marks
from ui.motion import wording as words
from ui.motion.force_view import DYNAMIC, RIGID, ZERO
from ui.motion.heat_scale import NO_HEAT, HeatScale, number
from ui.motion.lift_curves import BEFORE, PLAIN, curve_chart, scaled, titles
from ui.motion.map_view import AFTER, HALO, edges_of, heat_of, outline_of
from ui.motion.motion_picture import MotionPicture, lifted
from ui.motion.wording import tr
from ui.plots.ink import DASHES
from ui.spring.chart import Chart, Look, Name, Stroke, Told, straight

if TYPE_CHECKING:
    from PySide6.QtWidgets import QWidget

    from loadbench.arrays import Floats
    from loadbench.units import Style
    from ui.motion.seen import Seen
    from ui.session import Session

AIR, HEAD = 0.08, 0.3
SLIDER, LIMIT = Look(role="accent", width=1.6), Look(role="ink", pattern=DASHES[0], width=1.2)


class TogetherScale(HeatScale):
    """Five charts over one angle, the map the tallest."""

    shares, spare = (1.0, 1.0, 1.0, 1.4, 2.2), (2, 1, 3)

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__("together_picture", parent, count=5)


class TogetherView(MotionPicture):
    """How valve and force go over the turn at the slider's speed, and above and below it."""

    scale: TogetherScale

    def __init__(self, session: Session, parent: QWidget | None = None) -> None:
        super().__init__(session, TogetherScale(), "together", parent)
        self._heat_for: object = None
        self._heat = NO_HEAT
        self._outline: tuple[Stroke, ...] = ()

    @override
    def build_seen(self, seen: Seen, style: Style) -> Told:
        key = (seen.dynamics, seen.motion.shown, style)
        if key != self._heat_for:
            self._heat_for = key
            self._heat, self._outline = heat_of(seen, style), outline_of(seen, style)
        self.scale.show_heat(self._heat)
        return together_picture(seen, style, self._outline, self._heat.top)

    @override
    def read_seen(self, seen: Seen, place: float, style: Style) -> str:
        return together_read_out(seen, place, style)

    @override
    def rows_seen(self, seen: Seen, style: Style) -> list[list[str]]:
        return together_rows(seen, style)

    @override
    def title(self) -> str:
        return self.tr("Lift, velocity, acceleration, contact force and its map over the cam\u2019s angle")


def together_picture(seen: Seen, style: Style, outline: tuple[Stroke, ...], top: float) -> Told:
    """The five charts.

    Args:
        seen: a line's motion, its sweep and the slider's speed.
        style: the units on show.
        outline: of the region where contact is lost.
        top: the force of the map's brightest colour, in the unit on show.
    """
    shown = seen.motion.shown
    if shown is None or seen.motion.dynamic is None:
        return Told(empty=tr("No force is known."))
    low, high = lifted(seen)
    reach = (low - BEFORE, high + AFTER)
    lifts = [replace(curve_chart(shown, order, reach, style), across="", marks=()) for order in range(3)]
    notes = [tr("Solid: valve, dynamic run. Dashed: follower, rigid linkage.")]
    if seen.dynamics is None:
        notes.append(tr("The dynamic run is being worked out."))
    else:
        notes.append(
            tr(
                "Map: from 0, dark, to {top}\u2009{unit}, bright; outlined where the lobe has lost the follower."
            ).format(top=number(top), unit=display_unit(Kind.FORCE, style))
        )
    description = tr("Over the cam\u2019s angle at {speed}: {title}.").format(
        speed=words.speed(seen.speed, style), title=tr("lift, velocity, acceleration, contact force, and its map")
    )
    charts = (*lifts, _force(seen, style, reach), _map(seen, style, reach, outline))
    return Told(
        charts=charts, notes=tuple(notes), description=" ".join([description, *band_marks.notes(seen, style)])
    )  # fmt: skip


def _angles(seen: Seen) -> Floats:
    shown = seen.motion.shown
    return np.linspace(-np.pi, np.pi, 721) if shown is None else shown.angles


def _force(seen: Seen, style: Style, reach: tuple[float, float]) -> Chart:
    """The contact force at the slider's speed."""
    dynamic, angles = seen.motion.dynamic, _angles(seen)
    if dynamic is None:
        return Chart(x_range=reach)
    lines = [(np.degrees(angles), rigid_force(dynamic, angles, seen.speed), RIGID)]
    if seen.dynamics is not None:
        found = seen.dynamics.found
        lines.append((np.degrees(found.angles), found.force[seen.place], DYNAMIC))
    strokes = [
        Stroke(xs=xs, ys=np.asarray(to_display(force, Kind.FORCE, style)), look=look) for xs, force, look in lines
    ]
    inside = [each.ys[(each.xs >= reach[0]) & (each.xs <= reach[1])] for each in strokes]
    values = np.concatenate([*inside, [0.0, 1.0]])
    low, high = float(np.nanmin(values)), float(np.nanmax(values))
    return Chart(
        up=display_unit(Kind.FORCE, style),
        x_range=reach,
        y_range=(low - AIR * (high - low), high + HEAD * (high - low)),
        strokes=(straight((reach[0], 0.0), (reach[1], 0.0), ZERO), *strokes),
        title=tr("Contact force"),
    )


def _map(seen: Seen, style: Style, reach: tuple[float, float], outline: tuple[Stroke, ...]) -> Chart:
    """What lies over the heat picture: where contact is lost, the slider's speed and the limit."""
    speeds = np.asarray(to_display(seen.speeds, Kind.SPEED, style))
    up, strokes = edges_of(speeds), list(outline)
    limit = seen.motion.speed_limit
    rows = [(seen.speed, tr("slider"), SLIDER)]
    if limit is not None and abs(limit - seen.speed) > 1e-6 * limit:
        rows.append((limit, tr("limit"), LIMIT))
    for at, text, look in rows:
        y = float(to_display(at, Kind.SPEED, style))
        name = Name(texts=(text,), role="ink", along=(1.0, 0.85), rank=2, must=True)
        strokes += [straight((reach[0], y), (reach[1], y), HALO), straight((reach[0], y), (reach[1], y), look, name)]
    return Chart(
        across=tr("Cam from the nose, deg"),
        up=display_unit(Kind.SPEED, style),
        x_range=reach,
        y_range=(float(up[0]), float(up[-1])),
        strokes=tuple(strokes),
        title=tr("Speed"),
    )


def together_read_out(seen: Seen, place: float, style: Style) -> str:
    """The read-out of all charts at a cam angle, deg, at the slider's speed."""
    shown, dynamic = seen.motion.shown, seen.motion.dynamic
    if shown is None or dynamic is None:
        return ""
    at, turn = math.radians(place), seen.speed / 2
    lift, velocity, acceleration = (float(np.interp(at, shown.angles, row)) for row in shown.valve[:3])
    parts = [
        tr("lift {lift}").format(lift=words.length(lift, style)),
        tr("velocity {velocity}").format(velocity=words.velocity(velocity * turn, style)),
        tr("acceleration {acceleration}").format(acceleration=words.acceleration(acceleration * turn**2, style)),
    ]
    if seen.dynamics is not None:
        found = seen.dynamics.found
        force = float(np.interp(at, found.angles, found.force[seen.place]))
        told = tr("contact force at the valve {force}").format(force=words.force(force, style))
        parts.append(told if force > 0 else tr("no contact"))
    rigid = float(rigid_force(dynamic, np.array([at]), seen.speed)[0])
    parts.append(tr("rigid {force}").format(force=words.force(rigid, style)))
    return f"{words.speed(seen.speed, style)}, {words.angle(place).lower()}: {', '.join(parts)}."


def together_rows(seen: Seen, style: Style) -> list[list[str]]:
    """The data behind the charts of one speed, over the angle."""
    shown, dynamic = seen.motion.shown, seen.motion.dynamic
    if shown is None or dynamic is None:
        return []
    unit, columns = display_unit(Kind.FORCE, style), {}
    for order, title in enumerate(titles()[:3]):
        columns[f"valve_{title.lower()}_{words.per_degree(order, style).translate(PLAIN)}"] = scaled(
            shown.valve[order], order, style
        )
    rigid = rigid_force(dynamic, shown.angles, seen.speed)
    columns[f"rigid_at_valve_{unit}"] = np.asarray(to_display(rigid, Kind.FORCE, style))
    if seen.dynamics is not None:
        found = seen.dynamics.found
        force = np.interp(shown.angles, found.angles, found.force[seen.place])
        columns[f"dynamic_at_valve_{unit}"] = np.asarray(to_display(force, Kind.FORCE, style))
    rows = [["cam_deg", "crank_deg", *columns]]
    for place, radians in enumerate(shown.angles):
        degrees = math.degrees(radians)
        values = (f"{float(each[place]):.9g}" for each in columns.values())
        rows.append([f"{degrees:.6g}", f"{2 * degrees:.6g}", *values])
    return rows
