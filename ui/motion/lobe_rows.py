"""The rows of the Lift view's tables: durations with and without lash, and two lobes side by side."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING

from loadbench.analysis.motion.lobe_durations import LASH_STEP, LEVELS, durations_of, lashes_of
from loadbench.motion.durations import compare
from loadbench.units import Kind, Told, display_unit, to_display
from ui.motion import wording as words
from ui.motion.comparison import LOBE, VALVE
from ui.motion.wording import tr
from ui.spring.coil_rows import NOTHING, Cell, Figures, Row

if TYPE_CHECKING:
    from loadbench.analysis.motion.lobe_durations import Durations
    from loadbench.motion.durations import Compared
    from loadbench.motion.lift import Lift
    from loadbench.units import Style
    from ui.motion.comparison import Beside

CRANK = 2.0
MINUS = "\u2212"


@dataclass(frozen=True, slots=True)
class LobeRows:
    """A table and what each of its rows says when it is opened."""

    figures: Figures
    says: dict[str, str]


NO_ROWS = LobeRows(NOTHING, {})


def levels_of(style: Style, extra: float | None) -> tuple[float, ...]:
    """The usual lifts and the one that was typed, m, in their order."""
    usual = LEVELS[style]
    if extra is None or any(abs(extra - each) < 1e-9 for each in usual):
        return usual
    return tuple(sorted((*usual, extra)))


def duration_rows(lift: Lift | None, lash: float | None, extra: float | None, side: str, style: Style) -> LobeRows:
    """Durations at each lift, a column for each lash; the area under the curve beneath.

    Args:
        lift: of the line, gross, at the side that is looked at.
        lash: at the valve, m; it takes nothing at the lobe.
        extra: a lift that was typed, m.
        side: VALVE or LOBE.
        style: the units on show.
    """
    if lift is None:
        return NO_ROWS
    levels = levels_of(style, extra)
    lashes = lashes_of(lash if side == VALVE else None, LASH_STEP[style])
    found = durations_of(lift, levels, lashes)
    head = tr("Duration, degrees of the crank") if side == VALVE else tr("Duration at the lobe, degrees of the crank")
    rows, says = [Row("durations", head)], {}
    for place, level in enumerate(levels):
        name, label = f"duration {place}", level_word(level, side, style)
        cells = tuple(_degrees(float(each)) for each in CRANK * found.durations[place])
        rows.append(Row(name, label, cells, _events(found, place)))
        says[name] = _duration_sentence(found, place, side, style)
    cells = tuple(_area(float(each), style) for each in found.areas)
    rows += [Row("areas", tr("Area")), Row("area", tr("Under the lift that is left"), cells)]
    says["area"] = _area_sentence(found, style)
    return LobeRows(Figures(coils=tuple(lash_word(each, side, style) for each in lashes), rows=tuple(rows)), says)


def lash_word(lash: float, side: str, style: Style) -> str:
    """What a column of a lash is called."""
    if side == LOBE:
        return tr("Value")
    return tr("Lash, {lash}").format(lash=words.length(lash, style)) if lash else tr("No lash")


def level_word(level: float, side: str, style: Style) -> str:
    """What a row of a lift is called."""
    if level > 0:
        return tr("At {lift}").format(lift=words.length(level, style))
    return tr("Off the seat") if side == VALVE else tr("Off the base circle")


def _degrees(radians: float) -> Cell:
    if not radians > 0:
        return Cell(None, tr("The lift never comes so high."))
    return Cell(Told(number=f"{math.degrees(radians):.1f}", unit="deg", uncertainty=None), "")


def _area(value: float, style: Style) -> Cell:
    return Cell(Told(number=area_number(value, style), unit=area_unit(style), uncertainty=None), "")


def area_unit(style: Style) -> str:
    """The unit of an area under a lift: over degrees of the crank."""
    return f"{display_unit(Kind.LENGTH, style)}\u2009deg"


def area_number(value: float, style: Style) -> str:
    """An area, m rad of the cam, over degrees of the crank in the unit on show."""
    return words.small(CRANK * math.degrees(to_display(value, Kind.LENGTH, style)))


def _crank(radians: float) -> str:
    return f"{abs(CRANK * math.degrees(radians)):.1f}"


def _events(found: Durations, place: int) -> str:
    """When the lift with the line's own lash passes a level."""
    column = min(1, len(found.lashes) - 1)
    opens, closes = float(found.opens[place, column]), float(found.closes[place, column])
    if not math.isfinite(opens):
        return ""
    return tr("{opens} before the nose to {closes} after").format(opens=_crank(opens), closes=_crank(closes))


def _duration_sentence(found: Durations, place: int, side: str, style: Style) -> str:
    level = level_word(found.levels[place], side, style)
    column = min(1, len(found.lashes) - 1)
    duration = CRANK * math.degrees(float(found.durations[place, column]))
    if not duration > 0:
        return tr("{level}: the lift never comes so high.").format(level=level)
    said = tr("{level} {duration} deg of the crank, from {events}").format(
        level=level, duration=f"{duration:.1f}", events=_events(found, place)
    )
    if len(found.lashes) == 1:
        return f"{said}."
    without = CRANK * math.degrees(float(found.durations[place, 0]))
    return said + tr("; the lash of {lash} takes {taken} of {without} deg.").format(
        lash=words.length(found.lashes[1], style), taken=f"{without - duration:.1f}", without=f"{without:.1f}"
    )


def _area_sentence(found: Durations, style: Style) -> str:
    own = float(found.areas[min(1, len(found.lashes) - 1)])
    said = tr("Area under the lift that is left: {area}").format(area=f"{area_number(own, style)} {area_unit(style)}")
    if len(found.lashes) == 1:
        return f"{said}."
    share = 100 * (1 - own / float(found.areas[0])) if found.areas[0] else 0.0
    return said + tr("; the lash takes {share} % of it.").format(share=f"{share:.1f}")


# Two lobes


def compared_rows(lift: Lift | None, beside: Beside | None, extra: float | None, style: Style) -> LobeRows:
    """This lobe, the other one, and how far the other is from this.

    Args:
        lift: of the line, gross, at the side that is looked at.
        beside: the other lobe.
        extra: a lift that was typed, m.
        style: the units on show.
    """
    other = None if beside is None else beside.lift
    if lift is None or beside is None or other is None:
        return NO_ROWS
    found = compare(lift, other, levels_of(style, extra))
    rows, says = [Row("compared", _compared_head(beside.side))], {}
    for place, each in enumerate(found):
        name, label = f"compared {place}", _compared_word(each, beside.side, style)
        cells = tuple(_compared_cell(each, value, style) for value in (each.one, each.other))
        rows.append(Row(name, label, (*cells, _compared_cell(each, each.other - each.one, style, signed=True))))
        says[name] = tr("{what}: {own} {one}, {name} {other}, {more} between them.").format(
            what=label, own=beside.own, name=beside.name, one=cells[0].text, other=cells[1].text,
            more=rows[-1].cells[2].text,
        )  # fmt: skip
    heads = (beside.own[:1].upper() + beside.own[1:], beside.name[:1].upper() + beside.name[1:], tr("Difference"))
    return LobeRows(Figures(coils=heads, rows=tuple(rows)), says)


def _compared_head(side: str) -> str:
    return tr("At the valve, without lash") if side == VALVE else tr("At the lobe")


def _compared_word(row: Compared, side: str, style: Style) -> str:
    if row.at_lift is not None:
        level = level_word(row.at_lift, side, style)
        return tr("Duration {level}").format(level=level[:1].lower() + level[1:])
    return {
        "greatest lift": tr("Greatest lift"),
        "area": tr("Area under the lift"),
        "greatest speed": tr("Greatest velocity"),
        "greatest acceleration": tr("Greatest acceleration"),
        "least acceleration": tr("Acceleration over the nose"),
        "greatest jerk": tr("Greatest jerk"),
    }[row.what]


ORDERS = {"m": 0, "m/rad": 1, "m/rad^2": 2, "m/rad^3": 3}


def _compared_cell(row: Compared, value: float, style: Style, *, signed: bool = False) -> Cell:
    if row.unit == "rad":
        number, unit = f"{CRANK * math.degrees(value):.1f}", "deg"
    elif row.unit == "m*rad":
        number, unit = area_number(value, style), area_unit(style)
    else:
        order = ORDERS[row.unit]
        number, unit = words.small(words.in_degrees(value, order, style)), words.per_degree(order, style)
    number = number.replace("-", MINUS)
    if signed and value > 0 and number.strip("0.") != "":
        number = f"+{number}"
    return Cell(Told(number=number, unit=unit, uncertainty=None), "")
