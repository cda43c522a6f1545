"""The map: contact force over speed and cam angle, with the region where contact is lost and its bands."""

from __future__ import annotations

import math
from functools import partial
from typing import TYPE_CHECKING

import numpy as np
from typing_extensions import override

from loadbench.units import Kind, display_unit, to_display
from ui.motion import band_marks
from ui.motion import wording as words
from ui.motion.heat_scale import NO_HEAT, Heat, HeatScale
from ui.motion.motion_picture import MotionPicture, lifted
from ui.motion.seen import nearest
from ui.motion.wording import tr
from ui.plots.ink import DASHES
from ui.spring.chart import Chart, Look, Mark, Name, Shade, Shape, Stroke, Told, straight

if TYPE_CHECKING:
    from collections.abc import Callable

    from numpy.typing import NDArray
    from PySide6.QtWidgets import QWidget

    from loadbench.arrays import Floats, Indices
    from loadbench.motion.sweep import Sweep
    from loadbench.units import Style
    from ui.motion.seen import Seen
    from ui.session import Session

BESIDE, AFTER = 4.0, 14.0  # deg shown before the valve opens and after it closes
ROOM = 0.42  # of the map's width: room beside it for the bands and their causes
HALO, EDGE = Look(role="panel", width=3.4), Look(role="stop", width=1.6)
SMALL_STEP = 0.25  # of the smallest step between two speeds: rows of the picture where steps differ
NICE = (1.0, 1.2, 1.5, 2.0, 2.5, 3.0, 4.0, 5.0, 6.0, 8.0, 10.0)


class MapView(MotionPicture):
    """Where over speed and angle the lobe presses how hard."""

    scale: HeatScale

    def __init__(self, session: Session, parent: QWidget | None = None) -> None:
        super().__init__(session, HeatScale("map_picture"), "map", parent)
        self._heat_for: object = None
        self._heat = NO_HEAT
        self._outline: tuple[Stroke, ...] = ()

    @override
    def build_seen(self, seen: Seen, style: Style) -> Told:
        key = (seen.dynamics, seen.motion.shown, style)
        if key != self._heat_for:
            self._heat_for = key
            self._heat = heat_of(seen, style)
            self._outline = outline_of(seen, style)
        self.scale.show_heat(self._heat)
        return map_picture(seen, style, self._outline)

    @override
    def read_seen(self, seen: Seen, place: float, style: Style) -> str:
        up = self.scale.pointed_up
        place_up = seen.place
        if up is not None and self.scale.underMouse() and seen.dynamics is not None:
            place_up = nearest(to_display(seen.dynamics.found.speeds, Kind.SPEED, style), up)
        return map_read_out(seen, place, place_up, style)

    @override
    def rows_seen(self, seen: Seen, style: Style) -> list[list[str]]:
        return map_rows(seen, style)

    @override
    def title(self) -> str:
        return self.tr("Map of the contact force over speed and cam angle")


def window_of(seen: Seen, found: Sweep) -> slice:
    """The columns of the sweep that the map shows."""
    low, high = lifted(seen)
    degrees = np.degrees(found.angles)
    places = np.flatnonzero((degrees >= low - BESIDE) & (degrees <= high + AFTER))
    return slice(int(places[0]), int(places[-1]) + 1) if places.size else slice(0, degrees.size)


def edges_of(values: Floats) -> Floats:
    """The borders between neighbouring cells, one more than there are cells."""
    if values.size < 2:
        return np.array([values[0] - 0.5, values[0] + 0.5])
    middle = (values[1:] + values[:-1]) / 2
    return np.concatenate([[2 * values[0] - middle[0]], middle, [2 * values[-1] - middle[-1]]])


def nice_top(value: float) -> float:
    """A round number not below a value: the legend's end does not move at every edit."""
    if not value > 0:
        return 1.0
    power = 10.0 ** math.floor(math.log10(value))
    return next((each for each in NICE if each * power >= value), 10.0) * power


def heat_of(seen: Seen, style: Style) -> Heat:
    """The heat picture of a sweep, cropped to the angles at which the valve is off its seat."""
    if seen.dynamics is None:
        return NO_HEAT
    found = seen.dynamics.found
    columns = window_of(seen, found)
    force = np.asarray(to_display(found.force[:, columns], Kind.FORCE, style))
    speeds = np.asarray(to_display(found.speeds, Kind.SPEED, style))
    angles = np.degrees(found.angles[columns])
    across, up = edges_of(angles), edges_of(speeds)
    steps = np.diff(speeds)
    if steps.size and steps.max() > 1.001 * steps.min():  # an image has rows of one height
        count = round((up[-1] - up[0]) / (SMALL_STEP * steps.min()))
        middles = up[0] + (np.arange(count) + 0.5) * (up[-1] - up[0]) / count
        force = force[np.clip(np.searchsorted(up, middles) - 1, 0, speeds.size - 1)]
    box = (float(across[0]), float(up[0]), float(across[-1] - across[0]), float(up[-1] - up[0]))
    legend = tr("Force, {unit}").format(unit=display_unit(Kind.FORCE, style))
    return Heat(force, box, nice_top(float(np.nanmax(force))), legend)


def outline_of(seen: Seen, style: Style) -> tuple[Stroke, ...]:
    """The border of the region where the lobe has lost the follower, within the window in which it counts."""
    dynamics, dynamic = seen.dynamics, seen.motion.dynamic
    if dynamics is None or dynamic is None:
        return ()
    found = dynamics.found
    columns = window_of(seen, found)
    angles = found.angles[columns]
    parted = (found.force[:, columns] <= 0) & (np.abs(angles) <= dynamic.window)
    if not parted.any():
        return ()
    across = edges_of(np.degrees(angles))
    up = edges_of(np.asarray(to_display(found.speeds, Kind.SPEED, style)))
    framed = np.pad(parted, 1)
    sides, low, high = _runs((framed[1:-1, 1:] != framed[1:-1, :-1]).T)  # upright pieces
    levels, left, right = _runs(framed[1:, 1:-1] != framed[:-1, 1:-1])  # level pieces
    gaps = np.full(sides.size, np.nan), np.full(levels.size, np.nan)
    xs = np.concatenate([
        np.stack([across[sides], across[sides], gaps[0]], axis=1).ravel(),
        np.stack([across[left], across[right], gaps[1]], axis=1).ravel(),
    ])  # fmt: skip
    ys = np.concatenate([
        np.stack([up[low], up[high], gaps[0]], axis=1).ravel(),
        np.stack([up[levels], up[levels], gaps[1]], axis=1).ravel(),
    ])  # fmt: skip
    return Stroke(xs=xs, ys=ys, look=HALO), Stroke(xs=xs, ys=ys, look=EDGE)


def _runs(there: NDArray[np.bool_]) -> tuple[Indices, Indices, Indices]:
    """Pieces in a row as one: which row, where each run begins, and where it ends. Wide lines cost by the piece."""
    edges = np.diff(np.pad(there, ((0, 0), (1, 1))).astype(np.int8), axis=1)
    rows, begins = np.nonzero(edges == 1)
    return rows, begins, np.nonzero(edges == -1)[1]


def map_picture(seen: Seen, style: Style, outline: tuple[Stroke, ...]) -> Told:
    """The chart over the heat picture.

    Args:
        seen: a line's motion and its sweep.
        style: the units on show.
        outline: of the region where contact is lost.
    """
    if seen.dynamics is None:
        return Told(empty=tr("The sweep is not there yet."))
    found = seen.dynamics.found
    angles = np.degrees(found.angles[window_of(seen, found)])
    left, right = float(edges_of(angles)[0]), float(edges_of(angles)[-1])
    speeds = np.asarray(to_display(found.speeds, Kind.SPEED, style))
    up = edges_of(speeds)
    far = right + ROOM * (right - left)
    marks, says = _bands(seen, style, right, far)
    held = ~found.periodic
    marks += [
        Mark(x=left, y=float(each), shape=Shape.CROSS, look=Look(role="ink"), small=True) for each in speeds[held]
    ]
    strokes = (*outline, *_edges(seen, style, (left, far)), *_levels(seen, style, (left, far), right))
    notes = (*band_marks.notes(seen, style), *((tr("Outlined: the lobe has lost the follower."),) if outline else ()))
    chart = Chart(
        across=tr("Cam from the nose, deg"),
        up=words.axis(tr("Speed"), Kind.SPEED, style),
        x_range=(left, far),
        y_range=(float(up[0]), float(up[-1])),
        shades=_fields(seen, style, right, far),
        strokes=strokes,
        marks=tuple(marks),
    )
    return Told(charts=(chart,), says=says, notes=notes, description=_description(seen, style))


def _description(seen: Seen, style: Style) -> str:
    text = tr("Contact force at the valve over cam angle and speed, as colours.")
    return " ".join([text, *band_marks.notes(seen, style)])


def _fields(seen: Seen, style: Style, right: float, far: float) -> tuple[Shade, ...]:
    """The bands beside the map."""
    xs = np.array([right, right + 0.07 * (far - right)])
    return tuple(
        Shade(
            xs=np.array([xs[0], xs[1], xs[1], xs[0]]),
            ys=np.array([each.low, each.low, each.high, each.high]),
            role="stop",
            share=0.55,
        )
        for each in band_marks.stretches(seen, style)
    )


def _edges(seen: Seen, style: Style, reach: tuple[float, float]) -> list[Stroke]:
    """The edges of the bands, across the room beside the map."""
    found = []
    right = reach[1] - (reach[1] - reach[0]) * ROOM / (1 + ROOM)
    for each in band_marks.stretches(seen, style):
        look = Look(role="stop", width=1.0)
        found += [straight((right, y), (right + 0.11 * (reach[1] - right), y), look) for y in (each.low, each.high)]
    return found


def _bands(
    seen: Seen, style: Style, right: float, far: float
) -> tuple[list[Mark], dict[str, Callable[[], str]]]:  # fmt: skip
    """A mark for each band whose cause is known, by its form, with the cause beside it."""
    marks: list[Mark] = []
    says: dict[str, Callable[[], str]] = {}
    for place, each in enumerate(band_marks.stretches(seen, style)):
        if each.band is None:
            continue
        key = f"band {place}"
        says[key] = partial(words.band_sentence, each.band, style)
        name = Name(texts=words.cause_names(each.band), role="ink", must=True, rank=1, sides=((0.0, 0.5), (0.0, 1.0)))
        marks.append(
            Mark(
                x=right + 0.11 * (far - right), y=(each.low + each.high) / 2, shape=band_marks.SHAPES[each.band.cause],
                look=Look(role="stop", width=1.4), key=key, filled=True, name=name,
            )
        )  # fmt: skip
    return marks, says


def _levels(seen: Seen, style: Style, reach: tuple[float, float], right: float) -> list[Stroke]:
    """The slider's speed and the speed limit, each with its name beside the map."""
    share = (right - reach[0]) / (reach[1] - reach[0])
    found = []
    limit = seen.motion.speed_limit
    rows = [(seen.speed, tr("slider {speed}"), Look(role="accent", width=1.6), 1.0)]
    if limit is not None and abs(limit - seen.speed) > 1e-6 * limit:
        rows.append((limit, tr("limit {speed}"), Look(role="ink", pattern=DASHES[0], width=1.2), 1.0))
    elif limit is not None:
        rows[0] = (seen.speed, tr("slider at limit {speed}"), rows[0][2], 1.0)
    for at, text, look, _ in rows:
        y = float(to_display(at, Kind.SPEED, style))
        told = words.speed(at, style)
        name = Name(texts=(text.format(speed=told), told), role="ink", along=(1.0, share), rank=2, must=True)
        found += [straight((reach[0], y), (right, y), HALO), straight((reach[0], y), (reach[1], y), look, name)]
    return found


def map_read_out(seen: Seen, place: float, row: int, style: Style) -> str:
    """The read-out at a cam angle, deg, and one of the swept speeds."""
    if seen.dynamics is None:
        return ""
    found = seen.dynamics.found
    degrees = np.degrees(found.angles)
    if not degrees[0] <= place <= degrees[-1]:
        return ""
    force = float(found.force[row, nearest(degrees, place)])
    said = words.force(force, style) if force > 0 else tr("no contact")
    text = tr("{speed}, {angle}: contact force at the valve {force}").format(
        speed=words.speed(float(found.speeds[row]), style), angle=words.angle(place).lower(), force=said
    )
    return text + (tr("; not periodic.") if not found.periodic[row] else ".")


def map_rows(seen: Seen, style: Style) -> list[list[str]]:
    """The data behind the picture: a row for each speed, a column for each angle."""
    if seen.dynamics is None:
        return []
    found = seen.dynamics.found
    columns = window_of(seen, found)
    heads = [f"force_{display_unit(Kind.FORCE, style)}_at_{each:.5g}_deg" for each in np.degrees(found.angles[columns])]
    rows = [[f"speed_{display_unit(Kind.SPEED, style)}", "periodic", *heads]]
    force = np.asarray(to_display(found.force[:, columns], Kind.FORCE, style))
    for place, speed in enumerate(np.asarray(to_display(found.speeds, Kind.SPEED, style))):
        periodic = "yes" if found.periodic[place] else "no"
        rows.append([f"{float(speed):.9g}", periodic, *(f"{float(each):.6g}" for each in force[place])])
    return rows
