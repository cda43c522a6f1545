"""The data behind the surge picture: the modes of each coil, then every crossing in the working range."""

from __future__ import annotations

from typing import TYPE_CHECKING

from loadbench.units import Kind, Style, display_unit, to_display
from ui.spring.surge_charts import crossings_of, modes_of

if TYPE_CHECKING:
    from loadbench.analysis.coils.result import CoilAnalysis
    from ui.spring.surge_charts import Crossing, Reach


def surge_rows(coils: tuple[CoilAnalysis, ...], reach: Reach | None, style: Style) -> list[list[str]]:
    """A header, a row for each mode and a row for each crossing.

    Args:
        coils: the springs of the nest.
        reach: what is drawn; None where there is no picture.
        style: the units of the columns; they stand in the header.

    Returns:
        Cells; `kind` is mode or crossing, what does not belong to it stays empty.
    """
    length = display_unit(Kind.LENGTH, style)
    units = (display_unit(Kind.FREQUENCY, style), display_unit(Kind.SPEED, style))
    rows = [["kind", "spring", "mode", f"frequency_{units[0]}", "order", f"engine_speed_{units[1]}", f"lift_{length}"]]
    for coil in coils:
        known = modes_of(coil).tolist()
        rows += [
            ["mode", coil.name, str(mode), _cell(value, Kind.FREQUENCY, style), "", "", ""]
            for mode, value in enumerate(known, start=1)
        ]
    if reach is not None:
        rows += [_crossing(coils[each.place].name, each, reach) for each in crossings_of(reach)]
    return rows


def _crossing(name: str, each: Crossing, reach: Reach) -> list[str]:
    style, held = reach.style, reach.harmonics
    lift = "" if held is None or each.order > held.size else _cell(float(held[each.order - 1]), Kind.LENGTH, style)
    frequency, speed = _cell(each.frequency, Kind.FREQUENCY, style), _cell(each.speed, Kind.SPEED, style)
    return ["crossing", name, str(each.mode), frequency, str(each.order), speed, lift]


def _cell(value: float, kind: Kind, style: Style) -> str:
    return f"{to_display(value, kind, style):.9g}"
