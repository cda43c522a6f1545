"""What the Speeds view reads out, the data behind it, and its table speed by speed."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from loadbench.units import Kind, Style, Told, display_unit, to_display
from ui.motion import wording as words
from ui.motion.lobe_rows import NO_ROWS, LobeRows
from ui.motion.seen import nearest
from ui.motion.speeds_charts import BOUNCES, shown
from ui.motion.wording import tr
from ui.spring.coil_rows import Cell, Figures, Row

if TYPE_CHECKING:
    from loadbench.arrays import Floats
    from loadbench.motion.sweep import Sweep
    from ui.motion.seen import Seen

PLACES = {Kind.FORCE: (0, 0), Kind.LENGTH: (3, 2), Kind.VELOCITY: (1, 2), Kind.SPEED: (0, 0)}
"""Decimals, inch-pound and metric, of the table: as figures are told."""


def told_sweep(seen: Seen) -> Sweep | None:
    """The sweep that is told: the full one where it is looked at."""
    told = seen.full or seen.dynamics
    return None if told is None or seen.dynamics is None else told.found


def speeds_read_out(seen: Seen, place: float, style: Style) -> str:
    """The read-out at the swept speed nearest to a place, in the unit on show."""
    found = told_sweep(seen)
    if found is None:
        return ""
    return sentence_at(found, nearest(shown(found.speeds, Kind.SPEED, style), place), style)


def sentence_at(found: Sweep, at: int, style: Style) -> str:
    """All that was found at one of the swept speeds."""
    least, tip = float(found.least_force[at]), found.tip
    parts = [
        tr("greatest force {force}").format(force=words.force(float(found.peak_force[at]), style)),
        tr("least {force}").format(force=words.force(least, style)) if least > 0 else tr("contact lost"),
    ]
    if tip is not None:
        least = float(tip.least_force[at])
        slack = tr("linkage slack") if least <= 0 else tr("in the linkage least {force}")
        parts.append(slack.format(force=words.force(least, style)) if np.isfinite(least) else tr("linkage unknown"))
    parts += [
        tr("seats at {velocity}").format(velocity=words.velocity(-float(found.seating_speed[at]), style)),
        tr("surge {force}").format(force=words.force(float(found.surge_load[at]), style)),
        tr("open load lost {force}").format(force=words.force(float(found.open_load_loss[at]), style)),
        tr("lift lost {length}").format(length=words.length(float(found.lift_loss[at]), style)),
        tr("loft {length}").format(length=words.length(float(found.loft[at]), style)),
        tr("bounce {length}").format(length=words.length(float(found.bounce[at]), style)),
    ]
    if tip is not None:
        if tip.plunger_high[at] > 0:
            pumped = words.length(float(tip.plunger_high[at]), style)
            parts.append(tr("plunger pumped up {length}").format(length=pumped))
        if tip.held_open[at] > 0:
            parts.append(tr("valve stays open {length}").format(length=words.length(float(tip.held_open[at]), style)))
    if not found.periodic[at]:
        parts.append(tr("not periodic"))
    return f"{words.speed(float(found.speeds[at]), style)}: {', '.join(parts)}."


def speeds_rows(seen: Seen, style: Style) -> list[list[str]]:
    """The data behind the picture, speed by speed."""
    found = told_sweep(seen)
    if found is None:
        return []
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
    flags = {"contact_lost": found.lost, "periodic": found.periodic}
    if found.tip is not None:
        tip = found.tip
        columns += [
            ("linkage_greatest_force", tip.peak_force, Kind.FORCE),
            ("linkage_least_force", tip.least_force, Kind.FORCE),
            ("held_open", tip.held_open, Kind.LENGTH),
            ("plunger_pumped", tip.plunger_high, Kind.LENGTH),
        ]
        flags["linkage_slack"] = tip.lost
    heads = [f"{name}_{display_unit(kind, style).replace('/', '_per_')}" for name, _, kind in columns]
    values = [shown(each, kind, style) for _, each, kind in columns]
    rows = [[*heads, *flags]]
    for place in range(found.speeds.size):
        told = ("yes" if each[place] else "no" for each in flags.values())
        rows.append([*(f"{float(each[place]):.9g}" for each in values), *told])
    return rows


def speed_table(seen: Seen, style: Style) -> LobeRows:
    """The table speed by speed: what was found, and where contact is lost.

    Args:
        seen: a line's motion and its sweeps.
        style: the units on show.
    """
    found = told_sweep(seen)
    if found is None:
        return NO_ROWS
    columns: list[tuple[str, Floats, Kind]] = [
        (tr("Greatest"), found.peak_force, Kind.FORCE),
        (tr("Least"), found.least_force, Kind.FORCE),
    ]
    if found.tip is not None:
        columns.append((tr("Linkage"), found.tip.least_force, Kind.FORCE))
    columns += [
        (tr("Seating"), -found.seating_speed, Kind.VELOCITY),
        (tr("Surge"), found.surge_load, Kind.FORCE),
    ]
    if found.tip is None:
        columns += [
            (tr("Load lost"), found.open_load_loss, Kind.FORCE),
            (tr("Lift lost"), found.lift_loss, Kind.LENGTH),
            (tr("Loft"), found.loft, Kind.LENGTH),
        ]
    columns.append((tr("Bounce"), found.bounce, Kind.LENGTH))
    if found.tip is not None:
        columns += [
            (tr("Open"), found.tip.held_open, Kind.LENGTH),
            (tr("Pumped"), np.maximum(found.tip.plunger_high, 0.0), Kind.LENGTH),
        ]
    heads = tuple(f"{head}, {display_unit(kind, style)}" for head, _, kind in columns)
    rows, says = [], {}
    for at, speed in enumerate(found.speeds):
        name = f"speed {at}"
        cells = tuple(_cell(float(values[at]), kind, style) for _, values, kind in columns)
        label = f"{float(to_display(float(speed), Kind.SPEED, style)):.0f}"
        rows.append(Row(name, label, cells, _lost_at(found, at)))
        says[name] = sentence_at(found, at, style)
    return LobeRows(Figures(coils=heads, rows=tuple(rows)), says)


def _cell(value: float, kind: Kind, style: Style) -> Cell:
    if not np.isfinite(value):
        return Cell(None, tr("Nothing was found at this speed."))
    number = f"{float(to_display(value, kind, style)) + 0.0:.{PLACES[kind][style is Style.METRIC]}f}"
    return Cell(Told(number=number.replace("-", "\u2212"), unit="", uncertainty=None), "")


def _lost_at(found: Sweep, at: int) -> str:
    """Where contact is lost at one of the swept speeds."""
    places = [tr("lobe")] if found.lost[at] else []
    if found.tip is not None and found.tip.lost[at]:
        places.append(tr("linkage"))
    if found.bounce[at] >= BOUNCES or (found.tip is not None and found.tip.held_open[at] > 0):
        places.append(tr("seat"))
    if not found.periodic[at]:
        places.append(tr("not periodic"))
    return ", ".join(places)
