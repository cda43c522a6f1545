"""Both travels drawn, plunger and the oil beneath it in its bore, to one vertical scale; what each does in words."""

from __future__ import annotations

from functools import partial
from typing import TYPE_CHECKING

import numpy as np

from loadbench.units import Kind, display_unit, tell, to_display
from ui.followers.wording import DASH, axis, tr
from ui.spring.chart import Chart, Look, Mark, Name, Shade, Shape, Stroke, Told, straight
from ui.trust.lists import Listed, ListRow

if TYPE_CHECKING:
    from collections.abc import Callable

    from loadbench.analysis import LineAnalysis
    from loadbench.analysis.followers.result import TravelShown
    from loadbench.units import Style

WALL, PLUNGER, STOP = Look(role="ink", width=1.6), Look(role="accent", width=1.6), Look(role="lines", width=0.8)
TALL = 0.7
"""Of a drawn plunger, in travels of the longer one."""
HALF, PLAY = 0.26, 0.94
"""Half of a bore's width on the picture; the plunger's share of it."""


def travels_listed(travels: tuple[TravelShown, ...], style: Style) -> Listed:
    """Each quantity a row, each travel a column."""
    if not travels:
        return Listed(heads=(), rows=())
    words = {"standard": tr("Standard travel"), "short": tr("Short travel")}
    heads = [words[each.name] + (tr(" (stated)") if each.stated else tr(" (as is usual)")) for each in travels]
    columns = [_values(each, style) for each in travels]
    rows = tuple(
        ListRow(cells=(label[:1].upper() + label[1:], *(column[place][1] for column in columns)))
        for place, (label, _) in enumerate(columns[0])
    )
    return Listed(heads=(tr("At this job"), *heads), rows=rows)


def plunger_picture(line: LineAnalysis, style: Style) -> Told:
    """Both travels.

    Args:
        line: on show.
        style: the units on show.
    """
    travels = line.follower.travels
    if not travels:
        return Told(empty=tr("This follower has no plunger."))
    longest = max(each.travel for each in travels)
    strokes: list[Stroke] = []
    shades: list[Shade] = []
    marks: list[Mark] = []
    says: dict[str, Callable[[], str]] = {}
    for place, each in enumerate(travels):
        _draw(each, 1.0 + place, longest, (strokes, shades, marks), style)
        key = f"travel {place}"
        says[key] = partial(travel_sentence, each, style)
        y = -float(to_display(each.depth, Kind.LENGTH, style))
        marks.append(Mark(x=1.0 + place, y=y, shape=Shape.DIAMOND, look=PLUNGER, key=key, filled=True))
    low, high = (float(to_display(each, Kind.LENGTH, style)) for each in (-1.28 * longest, TALL * longest))
    chart = Chart(
        up=axis(tr("Depth below the stop"), Kind.LENGTH, style), x_range=(0.55, len(travels) + 0.65),
        y_range=(low, high), shades=tuple(shades), strokes=tuple(strokes), marks=tuple(marks),
        across=tr("At this job\u2019s loads and speed limit"),
    )  # fmt: skip
    notes = (
        tr("Nearer to its bottom there is less oil under a plunger: it is stiffer, pumps up less and recovers sooner."),
        tr("The travel that is not stated has a usual travel and depth (common practice)."),
    )
    description = " ".join(travel_sentence(each, style) for each in travels)
    return Told(charts=(chart,), says=says, notes=notes, description=description)


def _draw(
    each: TravelShown, x: float, longest: float, into: tuple[list[Stroke], list[Shade], list[Mark]], style: Style
) -> None:
    """One bore with its plunger: the stop at nought, the bottom at the travel."""
    strokes, shades, marks = into

    def up(metres: float) -> float:
        return float(to_display(metres, Kind.LENGTH, style))

    bottom, depth, head = up(-each.travel), up(-each.depth), up(min(TALL * longest, 0.6 * longest - each.depth))
    wall, inner = up(TALL * longest), PLAY * HALF
    xs = np.array([x - HALF, x - HALF, x + HALF, x + HALF])
    strokes.append(Stroke(xs=xs, ys=np.array([wall, bottom, bottom, wall]), look=WALL))
    shades.append(Shade(xs=xs[[0, 0, 2, 2]], ys=np.array([bottom, depth, depth, bottom]), role="watch", share=0.25))
    box = np.array([x - inner, x - inner, x + inner, x + inner, x - inner])
    shades.append(Shade(xs=box[:4], ys=np.array([depth, head, head, depth]), role="accent", share=0.18))
    strokes.append(Stroke(xs=box, ys=np.array([depth, head, head, depth, depth]), look=PLUNGER))
    strokes.append(straight((x - HALF - 0.04, 0.0), (x + HALF + 0.04, 0.0), STOP))
    strokes.append(straight((x + HALF, depth), (x + HALF + 0.04, depth), STOP))
    marks += _names(each, x, (bottom, depth, head), style)


def _names(each: TravelShown, x: float, levels: tuple[float, float, float], style: Style) -> list[Mark]:
    """What stands at a bore: its travel beneath, stop and depth beside it, plunger and oil within."""
    bottom, depth, head = levels
    word = tr("standard travel {travel}") if each.name == "standard" else tr("short travel {travel}")
    of_whom = tr(" (stated)") if each.stated else tr(" (as is usual)")
    told = word.format(travel=tell(each.travel, Kind.LENGTH, style)) + of_whom
    oil = tr("oil {height}").format(height=tell(each.travel - each.depth, Kind.LENGTH, style))
    deep = tr("depth {depth}").format(depth=tell(each.depth, Kind.LENGTH, style))
    left, right = x - PLAY * HALF, x + HALF + 0.04
    rows = (
        (x, bottom, Name(texts=(told,), role="ink", bold=each.stated, sides=((0.5, 0.0),), rank=0, must=True)),
        (right, 0.0, Name(texts=(tr("stop"),), sides=((0.0, 1.0), (0.0, 0.5)), rank=1)),
        (right, depth, Name(texts=(deep,), sides=((0.0, 0.0), (0.0, 0.5)), rank=1)),
        (left, (bottom + depth) / 2, Name(texts=(oil,), role="ink", sides=((0.0, 0.5),), rank=1)),
        (left, (head + max(depth, 0.0)) / 2, Name(texts=(tr("plunger"),), sides=((0.0, 0.5),), rank=2)),
    )
    return [Mark(x=across, y=y, shape=Shape.NONE, name=name) for across, y, name in rows]


def travel_sentence(each: TravelShown, style: Style) -> str:
    """One travel in words."""
    word = tr("Standard travel") if each.name == "standard" else tr("Short travel")
    said = [f"{label} {shown}" for label, shown in _values(each, style)]
    return f"{word}: {', '.join(said)}."


def _values(each: TravelShown, style: Style) -> list[tuple[str, str]]:
    def told(value: float | None, kind: Kind) -> str:
        return DASH if value is None else str(tell(value, kind, style))

    return [
        (tr("travel"), told(each.travel, Kind.LENGTH)),
        (tr("depth"), told(each.depth, Kind.LENGTH)),
        (tr("stiffness"), told(each.stiffness, Kind.RATE)),
        (tr("give under load"), told(each.squeeze, Kind.LENGTH)),
        (tr("leak-down"), told(each.leak_down_time, Kind.TIME)),
        (tr("lift lost an event"), told(each.lift_loss, Kind.LENGTH)),
        (tr("pumps up to"), told(each.pump_up, Kind.LENGTH)),
        (tr("recovers in"), told(each.recovery_time, Kind.TIME)),
    ]


def plunger_rows(line: LineAnalysis, style: Style) -> list[list[str]]:
    """The data behind the picture: a row a travel."""
    kinds = (
        ("travel", Kind.LENGTH), ("depth", Kind.LENGTH), ("stiffness", Kind.RATE), ("squeeze", Kind.LENGTH),
        ("leak_down_time", Kind.TIME), ("lift_loss", Kind.LENGTH), ("pump_up", Kind.LENGTH),
        ("recovery_time", Kind.TIME),
    )  # fmt: skip
    rows = [["kind", *(f"{name}_{display_unit(kind, style)}" for name, kind in kinds)]]
    for each in line.follower.travels:
        values = [(getattr(each, name), kind) for name, kind in kinds]
        rows.append(
            [each.name, *("" if v is None else f"{float(to_display(v, kind, style)):.9g}" for v, kind in values)]
        )
    return rows
