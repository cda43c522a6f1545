"""Two lobes one over the other: lift, velocity, acceleration and jerk of both on one side, valve or lobe."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

import numpy as np

from ui.motion import wording as words
from ui.motion.comparison import VALVE as AT_VALVE
from ui.motion.lift_curves import AIR, BEFORE, MARGIN, PLAIN, VALVE, ZERO, scaled, titles
from ui.motion.wording import tr
from ui.plots.ink import DASHES
from ui.spring.chart import Chart, Look, Name, Stroke, Told, straight

if TYPE_CHECKING:
    from loadbench.arrays import Floats
    from loadbench.units import Style
    from ui.motion.comparison import Beside
    from ui.motion.seen import Seen

OTHER = Look(series=0, pattern=DASHES[0], width=1.6)

Both = tuple[tuple["Floats", ...], tuple["Floats", ...]]


def _both(seen: Seen) -> tuple[Floats, Both, Beside] | None:
    """Angles, and lift with its derivatives of this lobe and of the other; None where two are not looked at."""
    shown, beside = seen.motion.shown, seen.beside
    if shown is None or beside is None:
        return None
    other = beside.lift
    if other is None or beside.lift_of(seen.motion.lobe, seen.motion.valve) is None:
        return None
    own = shown.valve if beside.side == AT_VALVE else shown.lobe
    return shown.angles, (tuple(own), tuple(np.asarray(other(shown.angles, order)) for order in range(4))), beside


def overlay_picture(seen: Seen, style: Style) -> Told | None:
    """The charts of both; None where two are not looked at.

    Args:
        seen: a line's motion and the lobe beside it.
        style: the units on show.
    """
    found = _both(seen)
    if found is None:
        return None
    angles, both, beside = found
    reach = _reach(angles, both)
    first, *others = (_chart(angles, both, order, reach, beside, style) for order in range(4))
    side = tr("At the valve, before lash.") if beside.side == AT_VALVE else tr("At the lobe.")
    notes = [tr("Solid: {own}. Dashed: {name}.").format(own=beside.own, name=beside.name), side]
    if beside.lobe.check is not None:
        notes.append(
            tr("The law has this lobe\u2019s lift, and its duration at {lift} of lobe lift.").format(
                lift=words.length(beside.lobe.check, style)
            )
        )
    description = tr("Lift, velocity, acceleration and jerk of two lobes over the cam\u2019s angle: {own} and {name}.")
    return Told(
        charts=(first, Chart(x_range=reach), *others),
        notes=tuple(notes),
        description=description.format(own=beside.own, name=beside.name),
    )


def _reach(angles: Floats, both: Both) -> tuple[float, float]:
    """The angles with any lift of either, deg, and somewhat more."""
    places = np.flatnonzero(np.maximum(both[0][0], both[1][0]) > 0)
    if not places.size:
        return -90.0, 90.0
    low, high = np.degrees(angles[places[0]]), np.degrees(angles[places[-1]])
    return max(float(low) - BEFORE, -180.0), min(float(high) + MARGIN, 180.0)


def _chart(angles: Floats, both: Both, order: int, reach: tuple[float, float], beside: Beside, style: Style) -> Chart:
    degrees = np.degrees(angles)
    own, other = (scaled(each[order], order, style) for each in both)
    inside = (degrees >= reach[0]) & (degrees <= reach[1])
    values = np.concatenate([own[inside], other[inside], [0.0]])
    low, high = float(np.nanmin(values)), float(np.nanmax(values))
    air = AIR * max(high - low, 1e-12)
    names = (
        Name(texts=(beside.own,), along=(0.3, 0.45), role="accent", rank=1),
        Name(texts=(beside.name,), along=(0.55, 0.75), rank=2, role="ink"),
    )
    return Chart(
        across=tr("Cam from the nose, deg") if order == 3 else "",
        up=words.per_degree(order, style),
        x_range=reach,
        y_range=(low - air, high + 2.5 * air),
        strokes=(
            straight((reach[0], 0.0), (reach[1], 0.0), ZERO),
            Stroke(xs=degrees, ys=other, look=OTHER, name=names[1] if order == 0 else None),
            Stroke(xs=degrees, ys=own, look=VALVE, name=names[0] if order == 0 else None),
        ),
        title=titles()[order],
    )


def overlay_read_out(seen: Seen, place: float, style: Style) -> str:
    """The read-out of both at a cam angle, deg; nothing where two are not looked at."""
    found = _both(seen)
    if found is None:
        return ""
    angles, both, beside = found
    at = math.radians(place)
    parts = []
    for name, rows in zip((beside.own, beside.name), both, strict=True):
        values = [float(np.interp(at, angles, row)) for row in rows]
        per = ", ".join(
            f"{word.lower()} {words.small(words.in_degrees(value, order, style))}\u2009{words.per_degree(order, style)}"
            for order, (word, value) in enumerate(zip(titles(), values, strict=True))
            if order
        )
        parts.append(f"{name} {words.length(values[0], style)}, {per}")
    return f"{words.angle(place)}: {'; '.join(parts)}."


def overlay_rows(seen: Seen, style: Style) -> list[list[str]]:
    """The data behind the picture of two lobes; nothing where two are not looked at."""
    found = _both(seen)
    if found is None:
        return []
    angles, both, beside = found
    units = [words.per_degree(order, style).translate(PLAIN) for order in range(4)]
    names = ("lift", "velocity", "acceleration", "jerk")
    heads = [
        f"{who}_{name}_{unit}" for who in (beside.own, beside.name) for name, unit in zip(names, units, strict=True)
    ]
    columns = [scaled(rows[order], order, style) for rows in both for order in range(4)]
    made = [["cam_deg", "crank_deg", *(head.replace(" ", "_") for head in heads)]]
    for place, radians in enumerate(angles):
        degrees = math.degrees(radians)
        made.append([f"{degrees:.6g}", f"{2 * degrees:.6g}", *(f"{float(each[place]):.9g}" for each in columns)])
    return made
