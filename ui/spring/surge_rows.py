"""The data behind the surge picture: the modes of each coil, then every crossing in the working range."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from loadbench.units import Kind, Style, display_unit, to_display
from ui.spring.surge_reach import crossings_of, modes_of

if TYPE_CHECKING:
    from loadbench.analysis.coils.result import CoilAnalysis
    from ui.spring.surge_reach import Crossing, Reach


def surge_rows(coils: tuple[CoilAnalysis, ...], reach: Reach | None, style: Style) -> list[list[str]]:
    """A header, a row for each mode and a row for each crossing.

    Args:
        coils: the springs of the nest.
        reach: what is drawn; None where there is no picture.
        style: the units of the columns; they stand in the header.

    Returns:
        Cells; `kind` is mode or crossing, what does not belong to it stays empty.
    """
    length, hertz, speed = (display_unit(kind, style) for kind in (Kind.LENGTH, Kind.FREQUENCY, Kind.SPEED))
    ends = ("closed", "full_lift")
    rows = [
        ["kind", "spring", "mode", f"frequency_all_free_{hertz}", *(f"frequency_{end}_{hertz}" for end in ends),
         "order", *(f"engine_speed_{end}_{speed}" for end in ends), f"lift_{length}"]
    ]  # fmt: skip
    for coil in coils:
        rows += [["mode", coil.name, *_mode(coil, mode, style), "", "", "", ""] for mode in range(modes_of(coil).size)]
    if reach is not None:
        rows += [_crossing(coils[each.place], each, reach) for each in crossings_of(reach)]
    return rows


def _mode(coil: CoilAnalysis, place: int, style: Style) -> list[str]:
    """A mode by its number, with every coil free, closed and at full lift; empty where not known."""
    told = [
        "" if each is None else _cell(float(each[place]), Kind.FREQUENCY, style)
        for each in (modes_of(coil), coil.modes_closed, coil.modes_open)
    ]
    return [str(place + 1), *told]


def _crossing(coil: CoilAnalysis, each: Crossing, reach: Reach) -> list[str]:
    """A crossing: the engine speeds at both ends of its mode, whole, be they in the working range or not."""
    style, held = reach.style, reach.harmonics
    lift = "" if held is None or each.order > held.size else _cell(float(held[each.order - 1]), Kind.LENGTH, style)
    speeds = [_cell(at, Kind.SPEED, style) for at in each.speeds]
    return ["crossing", coil.name, *_mode(coil, each.mode - 1, style), str(each.order), *speeds, lift]


def _cell(value: float, kind: Kind, style: Style) -> str:
    return f"{to_display(value, kind, style):.9g}" if math.isfinite(value) else ""
