"""Against the speed: greatest and least force, seating speed, surge load; with the bands of lost contact."""

from __future__ import annotations

from functools import partial
from typing import TYPE_CHECKING

import numpy as np
from typing_extensions import override

from loadbench.units import Kind, display_unit, to_display
from ui.motion import band_marks
from ui.motion import wording as words
from ui.motion.motion_picture import MotionPicture, speed_stride
from ui.motion.seen import nearest
from ui.motion.stacked import StackedScale
from ui.motion.wording import tr
from ui.plots.ink import DASHES
from ui.spring.chart import Chart, Look, Mark, Name, Shade, Shape, Stroke, Told, straight

if TYPE_CHECKING:
    from collections.abc import Callable

    from PySide6.QtWidgets import QWidget

    from loadbench.arrays import Floats
    from loadbench.motion.sweep import Sweep
    from loadbench.units import Style
    from ui.motion.seen import Seen
    from ui.session import Session

AIR = 0.1
SAME = 1e-6
ZERO, SLIDER, LIMIT = (
    Look(role="lines", width=0.8),
    Look(role="accent", width=1.4),
    Look(role="quiet", pattern=DASHES[0], width=1.0),
)
GREATEST, LEAST = Look(role="ink", width=1.6), Look(series=0, pattern=DASHES[0], width=1.6)


class SpeedsView(MotionPicture):
    """What the sweep found at each speed."""

    def __init__(self, session: Session, parent: QWidget | None = None) -> None:
        super().__init__(session, StackedScale("speeds_picture", 3), "speeds", parent)

    @override
    def build_seen(self, seen: Seen, style: Style) -> Told:
        return speeds_picture(seen, style)

    @override
    def read_seen(self, seen: Seen, place: float, style: Style) -> str:
        return speeds_read_out(seen, place, style)

    @override
    def stride(self) -> float:
        return speed_stride(self.session.style)

    @override
    def rows_seen(self, seen: Seen, style: Style) -> list[list[str]]:
        return speeds_rows(seen, style)

    @override
    def title(self) -> str:
        return self.tr("Forces, seating speed and surge against the speed")


def speeds_picture(seen: Seen, style: Style) -> Told:
    """Three charts over the speed.

    Args:
        seen: a line's motion and its sweep.
        style: the units on show.
    """
    if seen.dynamics is None:
        return Told(empty=tr("The sweep is not there yet."))
    found = seen.dynamics.found
    greatest, least = tr("greatest"), tr("least")
    forces = [(found.peak_force, GREATEST, greatest), (found.least_force, LEAST, least)]
    first = _chart(seen, style, forces, Kind.FORCE, tr("Contact force at the valve"))
    seating = _chart(seen, style, [(-found.seating_speed, GREATEST, "")], Kind.VELOCITY, tr("Seating speed"))
    surge = [(found.surge_load, GREATEST, tr("surge load")), (found.open_load_loss, LEAST, tr("open load lost"))]
    last = _chart(seen, style, surge, Kind.FORCE, tr("Surge"), last=True)
    marks, says = _bands(seen, style, first)
    charts = (_with_marks(first, (*marks, *_unsettled(seen, style))), seating, last)
    description = " ".join([
        tr("Greatest and least contact force, seating speed and surge load from {low} to {high}.").format(
            low=words.speed(float(found.speeds[0]), style), high=words.speed(float(found.speeds[-1]), style)
        ),
        *band_marks.notes(seen, style),
    ])  # fmt: skip
    key = tr("Dashed: least force, open load lost.")
    return Told(charts=charts, says=says, notes=(*band_marks.notes(seen, style), key), description=description)


def _with_marks(chart: Chart, marks: tuple[Mark, ...]) -> Chart:
    return Chart(
        across=chart.across, up=chart.up, x_range=chart.x_range, y_range=chart.y_range, shades=chart.shades,
        strokes=chart.strokes, title=chart.title, marks=marks,
    )  # fmt: skip


def _xs(found: Sweep, style: Style) -> Floats:
    return np.asarray(to_display(found.speeds, Kind.SPEED, style))


def _chart(
    seen: Seen, style: Style, rows: list[tuple[Floats, Look, str]], kind: Kind, title: str, *, last: bool = False
) -> Chart:
    if seen.dynamics is None:
        return Chart()
    found = seen.dynamics.found
    xs = _xs(found, style)
    values = [np.asarray(to_display(each, kind, style)) for each, _, _ in rows]
    finite = np.concatenate([*(each[np.isfinite(each)] for each in values), [0.0]])
    high, low = float(finite.max()), float(finite.min())
    air = AIR * max(high - low, 1e-9)
    ends = (low - (air if low < 0 else 0.4 * air), high + 2.4 * air)
    reach = (float(xs[0]), float(xs[-1]))
    fields = [
        Shade(
            xs=np.array([each.low, each.high, each.high, each.low]), ys=np.array([ends[0], ends[0], ends[1], ends[1]]),
            role="stop", share=0.16,
        )
        for each in band_marks.stretches(seen, style)
    ]  # fmt: skip
    edges = [
        straight((x, ends[0]), (x, ends[1]), Look(role="stop", width=0.8, pattern=DASHES[1]))
        for each in band_marks.stretches(seen, style)
        for x in (each.low, each.high)
    ]
    lines = [
        Stroke(xs=xs, ys=each, look=look, name=Name(texts=(word,), along=(0.1, 0.9), role="ink") if word else None)
        for each, (_, look, word) in zip(values, rows, strict=True)
    ]
    unit = words.axis("", kind, style).lstrip(", ")
    return Chart(
        across=words.axis(tr("Speed"), Kind.SPEED, style) if last else "",
        up=unit,
        x_range=reach,
        y_range=ends,
        shades=tuple(fields),
        strokes=(
            straight((reach[0], 0.0), (reach[1], 0.0), ZERO),
            *edges,
            *lines,
            *_levels(seen, style, ends, last=last),
        ),
        title=title,
    )


def _levels(seen: Seen, style: Style, ends: tuple[float, float], *, last: bool) -> list[Stroke]:
    """The slider's speed and the speed limit; their names stand in the lowest chart."""
    limit, strokes = seen.motion.speed_limit, []
    same = limit is not None and abs(limit - seen.speed) < SAME * limit
    rows = [(seen.speed, tr("slider at limit {speed}") if same else tr("slider {speed}"), SLIDER)]
    if limit is not None and not same:
        rows.append((limit, tr("limit {speed}"), LIMIT))
    for at, text, look in rows:
        x, told = float(to_display(at, Kind.SPEED, style)), words.speed(at, style)
        name = Name(texts=(text.format(speed=told), told), along=(0.9, 0.3), rank=2, must=True, role="ink")
        strokes.append(straight((x, ends[0]), (x, ends[1]), look, name if last else None))
    return strokes


def _bands(seen: Seen, style: Style, chart: Chart) -> tuple[tuple[Mark, ...], dict[str, Callable[[], str]]]:
    """A mark for each band whose cause is known, with its cause, at the top of the first chart."""
    marks: list[Mark] = []
    says: dict[str, Callable[[], str]] = {}
    low, high = chart.y_range
    for place, each in enumerate(band_marks.stretches(seen, style)):
        if each.band is None:
            continue
        key = f"band {place}"
        says[key] = partial(words.band_sentence, each.band, style)
        marks.append(
            Mark(
                x=(each.low + each.high) / 2, y=low + 0.93 * (high - low), shape=band_marks.SHAPES[each.band.cause],
                look=Look(role="stop", width=1.4), key=key, filled=True,
                name=Name(
                    texts=words.cause_names(each.band), role="ink", must=True, rank=1,
                    sides=((1.0, 0.5), (0.0, 0.5), (0.5, 0.0), (1.0, 0.0)),
                ),
            )
        )  # fmt: skip
    return tuple(marks), says


def _unsettled(seen: Seen, style: Style) -> tuple[Mark, ...]:
    """Where the motion never came again from turn to turn."""
    if seen.dynamics is None:
        return ()
    found = seen.dynamics.found
    xs, ys = _xs(found, style), np.asarray(to_display(found.peak_force, Kind.FORCE, style))
    return tuple(
        Mark(x=float(xs[place]), y=float(ys[place]), shape=Shape.CROSS, look=Look(role="ink"), small=True)
        for place in np.flatnonzero(~found.periodic)
    )


def speeds_read_out(seen: Seen, place: float, style: Style) -> str:
    """The read-out at the swept speed nearest to a place, in the unit on show."""
    if seen.dynamics is None:
        return ""
    found = seen.dynamics.found
    at = nearest(_xs(found, style), place)
    least = float(found.least_force[at])
    parts = [
        tr("greatest force {force}").format(force=words.force(float(found.peak_force[at]), style)),
        tr("least {force}").format(force=words.force(least, style)) if least > 0 else tr("contact lost"),
        tr("seats at {velocity}").format(velocity=words.velocity(-float(found.seating_speed[at]), style)),
        tr("surge {force}").format(force=words.force(float(found.surge_load[at]), style)),
        tr("open load lost {force}").format(force=words.force(float(found.open_load_loss[at]), style)),
        tr("lift lost {length}").format(length=words.length(float(found.lift_loss[at]), style)),
        tr("loft {length}").format(length=words.length(float(found.loft[at]), style)),
        tr("bounce {length}").format(length=words.length(float(found.bounce[at]), style)),
    ]
    if not found.periodic[at]:
        parts.append(tr("not periodic"))
    return f"{words.speed(float(found.speeds[at]), style)}: {', '.join(parts)}."


def speeds_rows(seen: Seen, style: Style) -> list[list[str]]:
    """The data behind the picture, speed by speed."""
    if seen.dynamics is None:
        return []
    found = seen.dynamics.found
    columns: list[tuple[str, Floats, Kind]] = [
        ("speed", found.speeds, Kind.SPEED),
        ("greatest_force", found.peak_force, Kind.FORCE),
        ("least_force", found.least_force, Kind.FORCE),
        ("seating_speed", -found.seating_speed, Kind.VELOCITY),
        ("surge_load", found.surge_load, Kind.FORCE),
        ("open_load_loss", found.open_load_loss, Kind.FORCE),
        ("greatest_lift", found.greatest_lift, Kind.LENGTH),
        ("lift_loss", found.lift_loss, Kind.LENGTH),
        ("loft", found.loft, Kind.LENGTH),
        ("bounce", found.bounce, Kind.LENGTH),
    ]
    heads = [f"{name}_{display_unit(kind, style).replace('/', '_per_')}" for name, _, kind in columns]
    shown = [np.asarray(to_display(values, kind, style)) for _, values, kind in columns]
    rows = [[*heads, "contact_lost", "periodic"]]
    for place in range(found.speeds.size):
        flags = ["yes" if each[place] else "no" for each in (found.lost, found.periodic)]
        rows.append([*(f"{float(each[place]):.9g}" for each in shown), *flags])
    return rows
