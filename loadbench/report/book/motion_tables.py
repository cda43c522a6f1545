"""The tables of one line's motion: the sweep with its chart of contact forces, and the lift over the turn."""

from __future__ import annotations

import math
from typing import Any

import numpy as np

from loadbench.analysis import LineAnalysis
from loadbench.arrays import Floats
from loadbench.report.book.charts import CHART_ROWS
from loadbench.report.book.formulas import when
from loadbench.report.book.inputs import cell_name
from loadbench.report.book.paper import Book, Sheet
from loadbench.report.motion_words import cause_told
from loadbench.report.sweep_rows import COLUMNS, band_at
from loadbench.units import Kind, Style, from_display, to_display

PLACES = {
    Kind.SPEED: ("0", "0"), Kind.FORCE: ("0.0", "0.0"), Kind.ANGLE: ("0.0", "0.0"), Kind.LENGTH: ("0.0000", "0.000"),
    Kind.VELOCITY: ("0.00", "0.000"),
}  # fmt: skip
DEGREE = math.pi / 180
DECIMALS = 12
"""Spreadsheets differ in what they make of more."""
MOVES = ("Velocity", "Acceleration")
FIRST = 2
"""The first column of the lift's own numbers."""
CHART_SIZE = {"width": 930, "height": 340}
OF_SWEEP = (
    "Numbers as at export. Contact forces are at the valve; angles are of the cam from its nose, below zero before it.",
    "Not periodic: the motion does not come again from turn to turn; the row holds the extremes of the last turns.",
)
OF_LIFT = "As at export, at zero lash but for the net lift; what stands for the speed limit follows the sheet Job."


def write_sweep(book: Book, line: LineAnalysis, title: str) -> None:
    """Write a dynamic run speed by speed, with a chart; nothing where none was made.

    Args:
        book: the workbook.
        line: analysed.
        title: of the sheet.
    """
    if line.dynamics is None:
        return
    found = line.dynamics.found
    heads = [(f"{each.over} {each.head}".strip(), each.kind) for each in COLUMNS.values()]
    columns: list[tuple[str, float]] = [(f"{head}, {book.unit(kind)}", 10.0) for head, kind in heads]
    columns += [("Contact lost (1 yes)", 9.0), ("Turns followed", 9.0), ("Periodic (1 yes)", 9.0), ("Cause", 40.0)]
    sheet = book.sheet(title, columns)
    metric = book.style is Style.METRIC
    values = [
        (to_display(each.of(found), each.kind, book.style), PLACES[each.kind][metric]) for each in COLUMNS.values()
    ]
    for place, speed in enumerate(found.speeds):
        row, sheet.row = sheet.row, sheet.row + 1
        for column, (numbers, places) in enumerate(values):
            sheet.number(row, column, float(numbers[place]), places)
        flags = (found.lost[place], found.turns[place], found.periodic[place])
        for column, flag in enumerate(flags, len(values)):
            sheet.number(row, column, float(flag), "0")
        band = band_at(float(speed), line.dynamics.bands)
        sheet.text(row, len(values) + len(flags), "" if band is None else cause_told(band), "quiet")
    for place, note in enumerate(OF_SWEEP, 1):
        sheet.text(sheet.row + place, 0, note, "note")
    _chart(sheet, found.speeds.size, sheet.row + len(OF_SWEEP) + 2, float(values[0][0][0]) // 500 * 500)


def _chart(sheet: Sheet, rows: int, top: int, low: float) -> None:
    """Greatest and least contact force over speed."""
    book, keys = sheet.book, list(COLUMNS)
    made: Any = book.workbook.add_chart({"type": "scatter", "subtype": "straight"})
    for key, name, line in (
        ("greatest_contact_force_N", "Greatest", {"color": "#1F5F8B", "width": 2}),
        ("least_contact_force_N", "Least", {"color": "#8A5A00", "width": 2, "dash_type": "dash"}),
    ):
        spans = {"categories": f"={sheet.span(1, rows, 0)}", "values": f"={sheet.span(1, rows, keys.index(key))}"}
        made.add_series({"name": name, **spans, "line": line})
    grid = {"visible": True, "line": {"color": "#D8D5CE"}}
    made.set_title({"name": "Contact force at the valve over engine speed", "name_font": {"size": 11}})
    made.set_x_axis({"name": f"Engine speed, {book.unit(Kind.SPEED)}", "major_gridlines": grid, "min": low})
    made.set_y_axis({"name": f"Contact force, {book.unit(Kind.FORCE)}", "major_gridlines": grid})
    made.set_legend({"position": "bottom"})
    made.set_size(CHART_SIZE)
    sheet.at.insert_chart(top, 0, made, {"description": "Engine speed across, greatest and least contact force up"})
    sheet.at.print_area(0, 0, top + CHART_ROWS, len(keys) + 3)


def write_lift(book: Book, line: LineAnalysis, title: str) -> None:
    """Write the lift at every degree of the cam at which the valve is open at zero lash.

    Args:
        book: the workbook.
        line: analysed, with its lift.
        title: of the sheet.
    """
    shown = line.motion.shown
    if shown is None:
        return
    length, metric = book.unit(Kind.LENGTH), book.style is Style.METRIC
    lift = PLACES[Kind.LENGTH][metric]
    columns = [
        (f"Valve lift, {length}", shown.valve[0], lift),
        (f"Net valve lift, {length}", shown.net, lift),
        (f"Velocity, {length} per cam degree", shown.valve[1] * DEGREE, "0.000000"),
        (f"Acceleration, {length} per cam degree\u00b2", shown.valve[2] * DEGREE**2, "0.00000000"),
    ]
    if line.motion.lobe is not None:
        columns.append((f"Follower lift, {length}", shown.lobe[0], lift))
    at_speed = [f"{what} at the speed limit, {_per_second(book, order)}" for order, what in enumerate(MOVES, 1)]
    heads = ["Cam angle, deg", "Crank angle, deg", *(head for head, _, _ in columns), *at_speed]
    sheet = book.sheet(title, [(head, 12.5) for head in heads], upright=True)
    limit, speed = cell_name(line.stated.path("duty.speed_limit")), line.stated.value("duty.speed_limit")
    values = [np.round(to_display(np.asarray(each), Kind.LENGTH, book.style), DECIMALS) for _, each, _ in columns]
    for place in _degrees(shown.angles, shown.valve[0]):
        row, sheet.row = sheet.row, sheet.row + 1
        degrees = float(round(float(shown.angles[place]) / DEGREE))
        sheet.number(row, 0, degrees, "0")
        sheet.formula(row, 1, f"2*{sheet.cell(row, 0)}", 2 * degrees, "0")
        for column, (numbers, (_, _, places)) in enumerate(zip(values, columns, strict=True), FIRST):
            sheet.number(row, column, float(numbers[place]), places)
        for order in (1, 2):
            column, factor = FIRST + len(columns) - 1 + order, _to_seconds(book, order)
            slope = FIRST + 1 + order
            value = None
            if speed is not None:
                value = (
                    float(values[1 + order][place]) * factor * to_display(speed, Kind.SPEED, book.style) ** order + 0.0
                )
            formula = when(limit, f"{sheet.cell(row, slope)}*{factor!r}*{limit}^{order}")
            sheet.formula(row, column, formula, value, "0.00" if order == 1 else "0")
    sheet.text(sheet.row + 1, 0, OF_LIFT, "note")


def _degrees(angles: Floats, lift: Floats) -> list[int]:
    """The places of whole degrees from the last before the valve opens to the first after it has closed."""
    whole = [int(at) for at in np.flatnonzero(np.abs(angles / DEGREE - np.round(angles / DEGREE)) < 1e-6)]
    open_ = [place for place, at in enumerate(whole) if lift[at] > 0]
    return whole[max(open_[0] - 1, 0) : open_[-1] + 2] if open_ else []


def _per_second(book: Book, order: int) -> str:
    velocity = book.unit(Kind.VELOCITY)
    return velocity if order == 1 else f"{velocity}\u00b2"


def _to_seconds(book: Book, order: int) -> float:
    """From a cell's length per cam degree to the power of the order, times rpm to that power, to velocity per s.

    The cam turns by three degrees a second for each turn of the engine a minute.
    """
    return 3.0**order * from_display(1.0, Kind.LENGTH, book.style) * to_display(1.0, Kind.VELOCITY, book.style)
