"""The two charts of a load line: load against height (the height up, as on the bench), and load against lift."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Any

from loadbench.report.book.blocks import Block
from loadbench.report.book.looks import INK
from loadbench.report.book.paper import Sheet
from loadbench.units import Kind, Style

CHART_WIDTH, CHART_HEIGHT, CHART_GAP, CHART_ROWS = 450, 320, 30, 20
LEFT, RIGHT = 0, 6
ROOM_BELOW = 0.7
"""The height axis begins at this share of the lowest height: a changed job has room, the line isn't squeezed."""
TIDY = {Style.INCH_POUND: 0.1, Style.METRIC: 5.0}


@dataclass(frozen=True, slots=True, kw_only=True)
class Drawn:
    """What the charts of one line show: columns of its table, the readings, the lowest height at export."""

    lift: int
    height: int
    load: int
    rows: int
    readings: Block | None
    lowest: float


def write_charts(sheet: Sheet, drawn: Drawn) -> None:
    """Write both charts under the table of a line.

    Args:
        sheet: with the table.
        drawn: what they show.
    """
    book = sheet.book
    length, force = book.unit(Kind.LENGTH), book.unit(Kind.FORCE)
    line = {"color": "#1F5F8B", "width": 2}

    def span(column: int) -> str:
        return f"={sheet.span(1, drawn.rows, column)}"

    def chart(across: int, up: int) -> Any:
        made = book.workbook.add_chart({"type": "scatter", "subtype": "straight"})
        made.add_series({"name": "Load line", "categories": span(across), "values": span(up), "line": line})
        return made

    by_height = chart(drawn.load, drawn.height)
    if drawn.readings is not None:
        _add_readings(by_height, sheet, drawn.readings)
    start = math.floor(ROOM_BELOW * drawn.lowest / TIDY[book.style]) * TIDY[book.style]
    _finish(by_height, "Load and height", f"Load, {force}", {"name": f"Height, {length}", "min": max(start, 0.0)})
    by_lift = chart(drawn.lift, drawn.load)
    _finish(by_lift, "Lift and load", f"Valve lift, {length}", {"name": f"Load, {force}"})
    top = drawn.rows + 4
    sheet.at.insert_chart(top, LEFT, by_height, {"description": "Load across, spring height up"})
    sheet.at.insert_chart(top, RIGHT, by_lift, {"description": "Valve lift across, load up", "x_offset": CHART_GAP})


def _add_readings(chart: Any, sheet: Sheet, block: Block) -> None:
    marker = {"type": "circle", "size": 7, "border": {"color": INK}, "fill": {"none": True}}
    where = {name: sheet.book.where(block.name(name)) for name in ("load", "height")}
    series = {"name": "Readings", "categories": f"={where['load']}", "values": f"={where['height']}"}
    chart.add_series({**series, "line": {"none": True}, "marker": marker})


def _finish(chart: Any, title: str, across: str, up: dict[str, Any]) -> None:
    grid = {"visible": True, "line": {"color": "#D8D5CE"}}
    chart.set_title({"name": title, "name_font": {"size": 11}})
    chart.set_x_axis({"name": across, "major_gridlines": grid})
    chart.set_y_axis({**up, "major_gridlines": grid})
    chart.set_legend({"position": "bottom"})
    chart.set_size({"width": CHART_WIDTH, "height": CHART_HEIGHT})
