"""Builds the surge picture: orders of the cam as rays, the modes of each coil across them, crossings as marks."""

from __future__ import annotations

from functools import partial
from typing import TYPE_CHECKING

import numpy as np

from loadbench.spring.surge import LEAST_RATIO, order_frequency
from loadbench.units import Style, display_unit, from_display
from ui.plots.ink import CHAIN, DASHES
from ui.spring import surge_words as words
from ui.spring.chart import CENTRED, ENDING, SHAPES, Chart, Look, Mark, Name, Shade, Shape, Stroke, Told, straight
from ui.spring.mode_strip import tr
from ui.spring.stress_sight import chosen_of, other_series
from ui.spring.surge_reach import (
    FREQUENCY,
    ORDERS,
    SPEED,
    Band,
    Crossing,
    Reach,
    bands_of,
    crossings_of,
    modes_of,
    reach_of,
    widens,
)
from ui.spring.waiting import waited_for

if TYPE_CHECKING:
    from loadbench.analysis.coils.result import CoilAnalysis, SurgeRange

EDGE = 1.05  # of the picture beyond the ends of the rays, for their numbers
DECADES = 3.0  # of the harmonics from the thickest ray to the thinnest
THIN, THICK = 0.5, 2.6
NAMED = 3  # crossings that are named in any case
TALL = 0.2  # of the picture
FULL = 3.0  # width of what an order meets of a band
RULE = Look(role="watch", pattern=CHAIN, width=1.0)


def surge_picture(coils: tuple[CoilAnalysis, ...], surge: SurgeRange, member: str | None, style: Style) -> Told:
    """The whole picture of a nest.

    Args:
        coils: its springs.
        surge: the working range and the lift's harmonics.
        member: name of the chosen one; None: the first.
        style: the units on show.

    Returns:
        The chart, or what it waits for.
    """
    reach = reach_of(coils, surge, member, style)
    if reach is None:
        return Told(empty=_waits(coils, surge, member))
    crossings = crossings_of(reach)
    drawn = list(reach.coils.values())
    notes = [words.rule_words(drawn, reach.limit, style), words.harmonics_words(reach.harmonics)]
    if surge.idle_speed is None:
        notes.append(tr("The idle speed is not stated: the range begins at standstill."))
    notes += words.beside_words(drawn, surge.friction, style)
    notes += [words.unknown_words(coil) for place, coil in enumerate(coils) if place not in reach.coils]
    return Told(
        charts=(_chart(reach, crossings),),
        says={
            each.key: partial(
                words.crossing_says,
                coils[each.place], each, reach.harmonics, style,
            )
            for each in crossings
        },
        notes=tuple(notes),
        description=words.description(drawn, reach.idle, reach.limit, len(crossings), style),
    )  # fmt: skip


def _waits(coils: tuple[CoilAnalysis, ...], surge: SurgeRange, member: str | None) -> str:
    wanted = []
    if not any(modes_of(coil).size for coil in coils):
        place = chosen_of(coils, member)
        wanted.append(waited_for(None if place is None else coils[place], "surge_frequency"))
    if surge.speed_limit is None:
        wanted.append(tr("speed limit"))
    text = tr("The surge picture needs the wire, the turns and the engine's speeds.\nIt waits for: {fields}.")
    return text.format(fields=", ".join(wanted))


def read_at(reach: Reach, place: float) -> str:
    """What the read-out says at an engine speed in the unit on show."""
    return words.at_speed(from_display(place, SPEED, reach.style), list(reach.coils.values()), reach.style)


def _chart(reach: Reach, crossings: list[Crossing]) -> Chart:
    return Chart(
        across=tr("engine speed, {unit}").format(unit=display_unit(SPEED, reach.style)),
        up=tr("frequency, {unit}").format(unit=display_unit(FREQUENCY, reach.style)),
        x_range=(0.0, EDGE * reach.across(reach.fast)),
        y_range=(0.0, EDGE * reach.up(reach.high)),
        shades=_shades(reach),
        strokes=(*_modes(reach), *_limits(reach), *_rule(reach), *_rays(reach), *_stretches(reach, crossings)),
        marks=(*_marks(reach, crossings), *_ray_numbers(reach)),
    )


def _working(reach: Reach) -> Shade:
    low, high, top = reach.across(reach.idle), reach.across(reach.limit), EDGE * reach.up(reach.high)
    return Shade(xs=np.array([low, high, high, low]), ys=np.array([0.0, 0.0, top, top]), role="accent", share=0.08)


def _wedge(reach: Reach) -> Shade:
    """Between the two ratios of the rule, inside the working range."""
    ends = [_ray_end(reach, each) for each in LEAST_RATIO]
    xs, ys = [0.0, *(x for x, _ in ends)], [0.0, *(y for _, y in ends)]
    if ends[0][1] < ends[1][1] or ends[0][0] > ends[1][0]:  # the corner of the picture lies between them
        corner = (reach.across(reach.fast), reach.up(reach.high))
        xs.insert(2, corner[0])
        ys.insert(2, corner[1])
    return Shade(xs=np.array(xs), ys=np.array(ys), role="watch", share=0.12)


def _ray_end(reach: Reach, order: float) -> tuple[float, float]:
    """Where a ray leaves the picture, on the right or above, in the units on show."""
    most = float(order_frequency(order, reach.fast))
    share = min(1.0, reach.high / most)
    return reach.across(share * reach.fast), reach.up(share * most)


def _shades(reach: Reach) -> tuple[Shade, ...]:
    """The working range, the rule and the bands; a tall band lies beneath the rule, which it would hide."""
    bands, tall = _bands(reach), TALL * reach.up(reach.high)
    under = [each for each in bands if np.ptp(each.ys) > tall]
    return (_working(reach), *under, _wedge(reach), *(each for each in bands if np.ptp(each.ys) <= tall))


def _bands(reach: Reach) -> list[Shade]:
    """Each mode that rises as coils land, from closed to full lift; the chosen coil's on top."""
    right, top = reach.across(reach.fast), EDGE * reach.up(reach.high)
    found = []
    for place, coil in sorted(reach.coils.items(), key=lambda each: each[0] == reach.chosen):
        role, share = ("accent", 0.3) if place == reach.chosen else ("lines", 0.3)
        for band in bands_of(coil):
            if widens(band) and band[0] <= reach.high:
                low, high = reach.up(band[0]), min(reach.up(band[1]), top)
                ys = np.array([low, low, high, high])
                found.append(Shade(xs=np.array([0.0, right, right, 0.0]), ys=ys, role=role, share=share))
    return found


def _modes(reach: Reach) -> list[Stroke]:
    found = []
    for place, coil in reach.coils.items():
        for mode, band in enumerate(bands_of(coil), start=1):
            if band[0] > reach.high:
                break
            found += _mode(reach, place, mode, band)
    return found


def _mode(reach: Reach, place: int, mode: int, band: Band) -> list[Stroke]:
    """The line of a mode; of a band both ends, each by its name."""
    coil, right, chosen = reach.coils[place], reach.across(reach.fast), place == reach.chosen
    look, role = _own_look(reach, place, 2.0 if mode == 1 else 1.0), "accent" if chosen else "ink"
    within = band[1] <= EDGE * reach.high
    name = Name(
        texts=words.mode_names(coil, mode, band, reach.style, within=within), role=role, along=(0.0, 0.6),
        bold=chosen and mode == 1, rank=0 if mode == 1 else 1, must=mode == 1,
    )  # fmt: skip
    low, high = (reach.up(each) for each in band)
    found = [straight((0.0, low), (right, low), look, name)]
    if widens(band) and within:
        lift = Name(texts=words.full_lift_names(coil, band, reach.style), role=role, along=(0.0, 0.6), rank=2)
        upper = _own_look(reach, place, 1.0)
        found.append(straight((0.0, high), (right, high), upper, lift if mode == 1 else None))
    return found


def _own_look(reach: Reach, place: int, width: float) -> Look:
    """The look of a coil's lines: others differ from the chosen one by dash as well."""
    if place == reach.chosen:
        return Look(role="accent", width=width)
    return Look(series=other_series(place, reach.chosen), pattern=DASHES[place % 3], width=width)


def _stretches(reach: Reach, crossings: list[Crossing]) -> list[Stroke]:
    """What of its band each order meets in the working range, on the order's own ray."""
    found = []
    for each in crossings:
        if widens(each.band):
            start, end = (_met_at(reach, each, at) for at in (each.start, each.end))
            series = None if each.place == reach.chosen else other_series(each.place, reach.chosen)
            found.append(
                straight(start, end, Look(role="accent", series=series, width=FULL if each.mode == 1 else THICK))
            )
    return found


def _met_at(reach: Reach, each: Crossing, speed: float) -> tuple[float, float]:
    """A place on the ray of a crossing's order, in the units on show."""
    return reach.across(speed), reach.up(float(order_frequency(float(each.order), speed)))


def _limits(reach: Reach) -> list[Stroke]:
    rows = [(reach.limit, tr("limit {speed}"))]
    if reach.idle > 0:
        rows.append((reach.idle, tr("idle {speed}")))
    top = EDGE * reach.up(reach.high)
    return [
        straight((reach.across(at), 0.0), (reach.across(at), top), Look(role="quiet", width=1.0),
            name=Name(texts=(text.format(speed=words.speed(at, reach.style)),), along=(1.0, 0.6), rank=2, must=True),
        )
        for at, text in rows
    ]  # fmt: skip


def _rule(reach: Reach) -> list[Stroke]:
    """The two rays of the rule; its name stands at the steeper one, where the picture is empty."""
    low, high = LEAST_RATIO
    texts = (
        tr("textbook rule: first mode {low:.0f} to {high:.0f} times cam speed").format(low=low, high=high),
        tr("rule: {low:.0f} to {high:.0f} times cam speed").format(low=low, high=high),
        tr("rule {low:.0f} to {high:.0f} times").format(low=low, high=high),
    )
    name = Name(texts=texts, role="watch", along=(0.95, 0.2), rank=2)
    return [
        straight((0.0, 0.0), _ray_end(reach, low), RULE),
        straight((0.0, 0.0), _ray_end(reach, high), RULE, name=name),
    ]


def _rays(reach: Reach) -> list[Stroke]:
    return [
        straight((0.0, 0.0), _ray_end(reach, order), Look(role="lines", width=_weight(reach, order)))
        for order in range(1, ORDERS + 1)
    ]


def _weight(reach: Reach, order: int) -> float:
    """Of a ray: by its harmonic, logarithmically; alike where no lift curve is given."""
    held = reach.harmonics
    if held is None:
        return 0.8
    most = float(np.max(held))
    own = float(held[order - 1]) if order <= held.size else 0.0
    if most <= 0 or own <= 0:
        return THIN
    return THIN + (THICK - THIN) * float(np.clip(1 + np.log10(own / most) / DECADES, 0.0, 1.0))


def _ray_numbers(reach: Reach) -> list[Mark]:
    """The order at the end of each ray; round ones choose first where there is little room."""
    found = []
    for order in range(1, ORDERS + 1):
        x, y = _ray_end(reach, order)
        rank = 1 if order == 1 or order % 5 == 0 else 4
        name = Name(texts=(str(order),), role="quiet", rank=rank, must=True, sides=ENDING)
        found.append(Mark(x=x, y=y, shape=Shape.NONE, name=name))
    return found


def _marks(reach: Reach, crossings: list[Crossing]) -> list[Mark]:
    """The fastest of the chosen coil's first mode are named whatever lies beneath: they hold the most lift."""
    found, named = [], NAMED
    for each in crossings:
        chosen = each.place == reach.chosen
        first = chosen and each.mode == 1
        look = (
            Look(role="accent", width=1.5) if chosen else Look(series=other_series(each.place, reach.chosen), width=1.3)
        )
        sure = first and named > 0
        named -= sure
        texts = words.crossing_names(each.order, each.speeds, reach.style) if sure else (str(each.order),)
        name = Name(texts=texts, role="ink", rank=1 if sure else 3, must=sure, sides=CENTRED)
        x, y = _met_at(reach, each, each.start)
        found.append(
            Mark(
                x=x, y=y, shape=SHAPES[each.place % 3], look=look,
                key=each.key, filled=first, small=not first, name=name if chosen else None,
            )
        )  # fmt: skip
    return found
