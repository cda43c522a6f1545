"""The charts over the speed: of the usual sweep, or of the full one with the usual one pale behind it."""

from __future__ import annotations

from dataclasses import replace
from functools import partial
from typing import TYPE_CHECKING

import numpy as np

from loadbench.units import Kind, display_unit, to_display
from ui.motion import band_marks
from ui.motion import wording as words
from ui.motion.legend import legend
from ui.motion.wording import tr
from ui.plots.ink import DASHES
from ui.spring.chart import Chart, Look, Mark, Name, Shade, Shape, Stroke, Told, straight

if TYPE_CHECKING:
    from collections.abc import Callable

    from loadbench.analysis.motion.result import Dynamics
    from loadbench.arrays import Floats
    from loadbench.motion.sweep import Sweep
    from loadbench.units import Style
    from ui.motion.band_marks import Stretch
    from ui.motion.legend import Entry
    from ui.motion.seen import Seen

FULL_ONLY = frozenset({1, 2})
"""The charts that only the full sweep has: where contact is lost, plunger and seat."""

LOW, HEAD, TITLE = (
    0.04,
    0.34,
    0.09,
)  # shares of a chart beneath and above its curves; the names' row is beside the title
BAND_MARKS = 0.76  # of the height: beneath the row of names
LEAST_SPAN = {Kind.FORCE: 1.0, Kind.VELOCITY: 1e-3, Kind.LENGTH: 1e-5}
"""A chart reaches at least so far up, SI: what is less is told as zero."""

BOUNCES = 1e-5
"""A bounce counts from what a length is told to, m."""

ZERO, SLIDER, LIMIT = (
    Look(role="lines", width=0.8),
    Look(role="accent", width=1.4),
    Look(role="quiet", pattern=DASHES[0], width=1.0),
)
GREATEST, LEAST = Look(role="ink", width=1.6), Look(series=0, pattern=DASHES[0], width=1.6)
LINKAGE, OPEN = Look(series=1, pattern=DASHES[1], width=1.6), Look(series=1, pattern=DASHES[1], width=1.6)
SAME = 1e-6

Says = dict[str, "Callable[[], str]"]
Line = tuple["Floats", Look, str]
"""Values in SI, how they look, and what they are called; without a name they are not in the row of names."""


def pale(look: Look) -> Look:
    """The usual sweep behind the full one."""
    return replace(look, faint=True, width=1.0)


def speeds_picture(seen: Seen, style: Style) -> Told:
    """Five charts over the speed; the second and third are empty without a full sweep.

    Args:
        seen: a line's motion and its sweeps.
        style: the units on show.
    """
    if seen.dynamics is None:
        return Told(empty=tr("The sweep is not there yet."))
    told, tip = seen.full or seen.dynamics, None if seen.full is None else seen.full.found.tip
    found, own = told.found, seen.full is not None
    behind = seen.dynamics.found if own else None
    forces: list[Line] = [(found.peak_force, GREATEST, tr("greatest")), (found.least_force, LEAST, tr("least"))]
    if behind is not None:
        forces = [(behind.peak_force, pale(GREATEST), ""), (behind.least_force, pale(LEAST), ""), *forces]
    if tip is not None:
        forces.append((tip.least_force, LINKAGE, tr("linkage, least")))
    seating: list[Line] = [(-found.seating_speed, GREATEST, "")]
    surge: list[Line] = [
        (found.surge_load, GREATEST, tr("surge load")), (found.open_load_loss, LEAST, tr("open load lost"))
    ]  # fmt: skip
    if behind is not None:
        seating.insert(0, (-behind.seating_speed, pale(GREATEST), ""))
        surge = [(behind.surge_load, pale(GREATEST), ""), (behind.open_load_loss, pale(LEAST), ""), *surge]
    title = tr("Contact force") if own else tr("Contact force at the valve")
    first = _chart(seen, style, forces, Kind.FORCE, title)
    marks, says = ((), _says(seen, style)) if own else _bands(seen, style, first)
    first = replace(first, marks=(*first.marks, *marks, *_unsettled(found, style)))
    last = _chart(seen, style, surge, Kind.FORCE, tr("Surge"), last=True)
    charts = (
        first,
        _where(seen.full, first.x_range, style) if seen.full is not None else Chart(x_range=first.x_range),
        _plunger(seen, style) if own else Chart(x_range=first.x_range),
        _chart(seen, style, seating, Kind.VELOCITY, tr("Seating speed")),
        last,
    )
    return Told(charts=charts, says=says, notes=_notes(seen, style), description=_description(seen, style))


def _description(seen: Seen, style: Style) -> str:
    if seen.dynamics is None:
        return ""
    speeds = seen.dynamics.found.speeds
    said = tr("Greatest and least contact force, seating speed and surge load from {low} to {high}.").format(
        low=words.speed(float(speeds[0]), style), high=words.speed(float(speeds[-1]), style)
    )
    return " ".join([said, *_notes(seen, style)])


def _notes(seen: Seen, style: Style) -> tuple[str, ...]:
    own = ()
    if seen.full is not None:
        pale_told = tr("Bold: the follower as a mass of its own. Pale: one mass at the valve.")
        own = (*((tr("The full sweep is of earlier entries."),) if seen.full_stale else ()), pale_told)
        told = replace(seen, dynamics=seen.full, refined=True)
        return (*own, *band_marks.notes(told, style))
    dynamic = seen.motion.dynamic
    surges = dynamic is None or dynamic.gear.surging
    return (*band_marks.notes(seen, style), *(() if surges else (no_waves(),)))


def no_waves() -> str:
    """Why there is no surge."""
    return tr("No surge is known: wire and coils of the spring are not stated.")


# One chart


def shown(values: Floats, kind: Kind, style: Style) -> Floats:
    """In the unit on show."""
    return np.asarray(to_display(values, kind, style))


def _chart(seen: Seen, style: Style, lines: list[Line], kind: Kind, title: str, *, last: bool = False) -> Chart:
    if seen.dynamics is None:
        return Chart()
    speeds = (seen.full or seen.dynamics).found.speeds
    xs, usual = shown(speeds, Kind.SPEED, style), shown(seen.dynamics.found.speeds, Kind.SPEED, style)
    drawn = [(shown(each, kind, style), look) for each, look, _ in lines]
    finite = np.concatenate([*(each[np.isfinite(each)] for each, _ in drawn), [0.0]])
    high = max(float(finite.max()), float(to_display(LEAST_SPAN[kind], kind, style)))
    low = min(float(finite.min()), 0.0)
    reach = (float(min(xs[0], usual[0])), float(max(xs[-1], usual[-1])))
    ends = (low - LOW * (high - low), high + HEAD * (high - low))
    fields, edges = _fields(_told_stretches(seen, style), ends)
    strokes = [straight((reach[0], 0.0), (reach[1], 0.0), ZERO), *edges]
    strokes += [Stroke(xs=usual if look.faint else xs, ys=values, look=look) for values, look in drawn]
    entries: list[Entry] = [(look, (name,)) for _, look, name in lines if name]
    samples, names = legend(entries, reach, ends, down=TITLE, start=0.35) if entries else ((), ())
    return Chart(
        across=words.axis(tr("Speed"), Kind.SPEED, style) if last else "",
        up=display_unit(kind, style),
        x_range=reach,
        y_range=ends,
        shades=fields,
        strokes=(*strokes, *_levels(seen, style, ends, last=last), *samples),
        marks=names,
        title=title,
    )


def _told_stretches(seen: Seen, style: Style) -> list[Stretch]:
    """Where the lobe loses the follower, by the sweep that is told."""
    if seen.full is not None:
        return band_marks.of_bands(seen.full.bands, seen.full.found, style)
    return band_marks.stretches(seen, style)


def _fields(stretches: list[Stretch], ends: tuple[float, float]) -> tuple[tuple[Shade, ...], list[Stroke]]:
    fields = tuple(_box(each, ends, 0.16) for each in stretches)
    edge = Look(role="stop", width=0.8, pattern=DASHES[1])
    return fields, [straight((x, ends[0]), (x, ends[1]), edge) for each in stretches for x in (each.low, each.high)]


def _box(each: Stretch, ends: tuple[float, float], share: float, role: str = "stop") -> Shade:
    return Shade(
        xs=np.array([each.low, each.high, each.high, each.low]), ys=np.array([ends[0], ends[0], ends[1], ends[1]]),
        role=role, share=share,
    )  # fmt: skip


def _levels(seen: Seen, style: Style, ends: tuple[float, float], *, last: bool) -> list[Stroke]:
    """The slider's speed and the speed limit; their names stand in the lowest chart."""
    limit, strokes = seen.motion.speed_limit, []
    same = limit is not None and abs(limit - seen.speed) < SAME * limit
    rows = [(seen.speed, tr("slider at limit {speed}") if same else tr("slider {speed}"), SLIDER)]
    if limit is not None and not same:
        rows.append((limit, tr("limit {speed}"), LIMIT))
    for at, text, look in rows:
        x, told = float(to_display(at, Kind.SPEED, style)), words.speed(at, style)
        name = Name(texts=(text.format(speed=told), told), along=(0.8, 0.3), rank=2, must=True, role="ink")
        strokes.append(straight((x, ends[0]), (x, ends[1]), look, name if last else None))
    return strokes


def _bands(seen: Seen, style: Style, chart: Chart) -> tuple[tuple[Mark, ...], Says]:
    """A mark for each band whose cause is known, with its cause, in the first chart."""
    marks: list[Mark] = []
    low, high = chart.y_range
    for place, each in enumerate(band_marks.stretches(seen, style)):
        if each.band is not None:
            sides = ((1.0, 0.5), (0.0, 0.5), (0.5, 0.0), (1.0, 0.0))
            name = Name(texts=words.cause_names(each.band), role="ink", must=True, rank=1, sides=sides)
            y = low + BAND_MARKS * (high - low)
            marks.append(_mark((each.low + each.high) / 2, y, each, f"band {place}", name))
    return tuple(marks), _says(seen, style)


def _mark(x: float, y: float, each: Stretch, key: str, name: Name) -> Mark:
    shape = Shape.NONE if each.band is None else band_marks.SHAPES[each.band.cause]
    return Mark(x=x, y=y, shape=shape, look=Look(role="stop", width=1.4), key=key, filled=True, name=name)


def _says(seen: Seen, style: Style) -> Says:
    """What each band's mark says."""
    if seen.full is None:
        found = enumerate(band_marks.stretches(seen, style))
        return {f"band {at}": partial(words.band_sentence, each.band, style) for at, each in found if each.band}
    says: Says = {
        f"band {at}": partial(words.band_sentence, band, style) for at, band in enumerate(seen.full.bands)
    }  # fmt: skip
    for at, band in enumerate(seen.full.slack_bands):
        says[f"slack {at}"] = partial(band_marks.slack_sentence, band, style)
    return says


def _unsettled(found: Sweep, style: Style) -> tuple[Mark, ...]:
    """Where the motion never came again from turn to turn."""
    xs, ys = shown(found.speeds, Kind.SPEED, style), shown(found.peak_force, Kind.FORCE, style)
    return tuple(
        Mark(x=float(xs[place]), y=float(ys[place]), shape=Shape.CROSS, look=Look(role="ink"), small=True)
        for place in np.flatnonzero(~found.periodic)
    )


# Only of the full sweep


def _where(full: Dynamics, reach: tuple[float, float], style: Style) -> Chart:
    """Over the speed: where contact is lost at the lobe, in the linkage and at the seat."""
    found, tip = full.found, full.found.tip
    shades: list[Shade] = []
    marks: list[Mark] = []
    rows = [
        (2.0, "band", band_marks.of_bands(full.bands, found, style)),
        (1.0, "slack", band_marks.of_bands(full.slack_bands, found, style)),
        (0.0, "", band_marks.of_speeds(found.speeds, found.bounce >= BOUNCES, style)),
    ]
    texts = [tr("bounces")]
    if tip is not None:
        rows.append((0.0, "", band_marks.of_speeds(found.speeds, tip.held_open > 0, style)))
        texts.append(tr("stays open"))
    wide = 0.002 * (reach[1] - reach[0])  # a single speed is seen too
    for y, key, stretches in rows:
        text = texts.pop(0) if not key else ""
        for place, each in enumerate(stretches):
            seen = each._replace(low=each.low - wide, high=each.high + wide)
            shades.append(_box(seen, (y - 0.36, y + 0.36), 0.55))
            names = words.cause_names(each.band) if each.band is not None else (text,)
            name = Name(texts=names, role="ink", must=True, rank=1, sides=((1.0, 0.5), (0.0, 0.5)))
            marks.append(_mark(each.low, y, each, f"{key} {place}" if key else "", name))
    lines = tuple(straight((reach[0], y), (reach[1], y), ZERO) for y in (0.0, 1.0, 2.0))
    return Chart(
        x_range=reach, y_range=(-0.6, 3.7), shades=tuple(shades), strokes=lines, marks=tuple(marks),
        title=tr("Contact is lost at"),
    )  # fmt: skip


def _plunger(seen: Seen, style: Style) -> Chart:
    """How far a plunger pumps up, how far the valve stays open, how high it bounces."""
    if seen.full is None:
        return Chart()
    found, tip = seen.full.found, seen.full.found.tip
    lines: list[Line] = [(found.bounce, LEAST, tr("bounce"))]
    if tip is not None and (tip.plunger_high.any() or tip.plunger_low.any()):
        lines = [
            (np.maximum(tip.plunger_high, 0.0), GREATEST, tr("pumped up")),
            (tip.held_open, OPEN, tr("stays open")),
            *lines,
        ]
        return _chart(seen, style, lines, Kind.LENGTH, tr("Plunger and seat"))
    return _chart(seen, style, lines, Kind.LENGTH, tr("At the seat"))
