"""Builds the surge picture: orders of the cam as rays, the modes of each coil across them, crossings as marks."""

from __future__ import annotations

from dataclasses import dataclass
from functools import partial
from typing import TYPE_CHECKING

import numpy as np

from loadbench.spring.surge import LEAST_RATIO, critical_speeds, order_frequency
from loadbench.units import Kind, Style, display_unit, from_display, to_display
from ui.plots.ink import CHAIN, DASHES
from ui.spring import surge_words as words
from ui.spring.chart import CENTRED, ENDING, SHAPES, Chart, Look, Mark, Name, Shade, Shape, Stroke, Told, straight
from ui.spring.mode_strip import tr
from ui.spring.stress_sight import chosen_of, other_series
from ui.spring.waiting import waited_for

if TYPE_CHECKING:
    from loadbench.analysis.coils.result import CoilAnalysis, SurgeRange
    from loadbench.arrays import Floats

SPEED, FREQUENCY = Kind.SPEED, Kind.FREQUENCY
ORDERS = int(LEAST_RATIO[1])
"""Rays drawn: the rule holds that orders beyond it hold too little lift to matter."""
ABOVE = 1.1  # times the limit: how far the picture goes on
EDGE = 1.05  # of the picture beyond the ends of the rays, for their numbers
DECADES = 3.0  # of the harmonics from the thickest ray to the thinnest
THIN, THICK = 0.5, 2.6
NAMED = 3  # crossings that are named in any case
RULE = Look(role="watch", pattern=CHAIN, width=1.0)


@dataclass(frozen=True, slots=True, kw_only=True)
class Crossing:
    """Where an order of the cam meets a mode of a coil, by its place in the nest; speed in rad/s, frequency in Hz."""

    place: int
    mode: int
    order: int
    speed: float
    frequency: float

    @property
    def key(self) -> str:
        """What the read-out knows it by."""
        return f"{self.place} {self.mode} {self.order}"


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Reach:
    """What is drawn: coils with modes by place, the chosen one's place, speeds in rad/s, the top of the picture in Hz.

    `idle` to `limit` is the working range; the picture goes on to `fast` and up to `high`.
    """

    coils: dict[int, CoilAnalysis]
    chosen: int
    idle: float
    limit: float
    fast: float
    high: float
    harmonics: Floats | None
    style: Style

    def across(self, speed: float) -> float:
        """An engine speed in the unit on show."""
        return to_display(speed, SPEED, self.style)

    def up(self, frequency: float) -> float:
        """A frequency in the unit on show."""
        return to_display(frequency, FREQUENCY, self.style)


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
                coils[each.place], each.mode, each.order, each.speed, reach.harmonics, style,
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


def modes_of(coil: CoilAnalysis) -> Floats:
    """The modes that are known, Hz; a taper of which hardly a coil is free has none."""
    held = np.empty(0) if coil.modes is None else np.asarray(coil.modes)
    return held[np.isfinite(held)]


def reach_of(
    coils: tuple[CoilAnalysis, ...], surge: SurgeRange, member: str | None, style: Style
) -> Reach | None:  # fmt: skip
    """What is drawn and how far; None where no coil has modes or the speed limit is unknown."""
    known = {place: coil for place, coil in enumerate(coils) if modes_of(coil).size}
    place, limit = chosen_of(coils, member), surge.speed_limit
    if not known or place is None or limit is None:
        return None
    firsts = [float(modes_of(coil)[0]) for coil in known.values()]
    tops = [float(modes_of(coil)[:3][-1]) for coil in known.values()]
    fast = ABOVE * limit
    wanted = float(order_frequency(float(ORDERS), limit))
    high = min(max(wanted, 1.2 * max(firsts)), 1.1 * max(tops))
    return Reach(
        coils=known, chosen=place, idle=surge.idle_speed or 0.0, limit=limit, fast=fast, high=high,
        harmonics=surge.harmonics, style=style,
    )  # fmt: skip


def crossings_of(reach: Reach) -> list[Crossing]:
    """Every crossing in the working range and the picture: the chosen coil and low modes first, then the fastest."""
    orders = np.arange(1.0, ORDERS + 1)
    found = []
    for place, coil in reach.coils.items():
        modes = modes_of(coil)
        modes = modes[modes <= reach.high]
        speeds = critical_speeds(modes, orders, reach.idle, reach.limit)
        for mode, at in np.argwhere(np.isfinite(speeds)):
            found.append(
                Crossing(
                    place=place, mode=int(mode) + 1, order=int(at) + 1, speed=float(speeds[mode, at]),
                    frequency=float(modes[mode]),
                )
            )  # fmt: skip
    return sorted(found, key=lambda each: (each.place != reach.chosen, each.mode, -each.speed))


def read_at(reach: Reach, place: float) -> str:
    """What the read-out says at an engine speed in the unit on show."""
    return words.at_speed(from_display(place, SPEED, reach.style), list(reach.coils.values()), reach.style)


def _chart(reach: Reach, crossings: list[Crossing]) -> Chart:
    return Chart(
        across=tr("engine speed, {unit}").format(unit=display_unit(SPEED, reach.style)),
        up=tr("frequency, {unit}").format(unit=display_unit(FREQUENCY, reach.style)),
        x_range=(0.0, EDGE * reach.across(reach.fast)),
        y_range=(0.0, EDGE * reach.up(reach.high)),
        shades=(_working(reach), _wedge(reach)),
        strokes=(*_modes(reach), *_limits(reach), *_rule(reach), *_rays(reach)),
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


def _modes(reach: Reach) -> list[Stroke]:
    right = reach.across(reach.fast)
    found = []
    for place, coil in reach.coils.items():
        chosen = place == reach.chosen
        for mode, value in enumerate(modes_of(coil), start=1):
            if value > reach.high:
                break
            wide = 2.0 if mode == 1 else 1.0
            other = Look(series=other_series(place, reach.chosen), pattern=DASHES[place % 3], width=wide)
            look = Look(role="accent", width=wide) if chosen else other
            names = words.mode_names(coil, mode, float(value), reach.style)
            name = Name(
                texts=names, role="accent" if chosen else "ink", along=(0.0, 0.6), bold=chosen and mode == 1,
                rank=0 if mode == 1 else 1, must=mode == 1,
            )  # fmt: skip
            found.append(straight((0.0, reach.up(value)), (right, reach.up(value)), look, name))
    return found


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
        texts = words.crossing_names(each.order, each.speed, reach.style) if sure else (str(each.order),)
        name = Name(texts=texts, role="ink", rank=1 if sure else 3, must=sure, sides=CENTRED)
        found.append(
            Mark(
                x=reach.across(each.speed), y=reach.up(each.frequency), shape=SHAPES[each.place % 3], look=look,
                key=each.key, filled=first, small=not first, name=name if chosen else None,
            )
        )  # fmt: skip
    return found
