"""The speeds on the sheet Summary: the speed limit and where the dynamic run loses contact, held against the export."""

from __future__ import annotations

from loadbench.analysis import Analysis, LineAnalysis
from loadbench.report.book.formulas import DASH
from loadbench.report.book.inputs import cell_name
from loadbench.report.book.motion_cells import moving_lines
from loadbench.report.book.paper import Sheet
from loadbench.units import Kind

LIMIT, ONSET = "duty.speed_limit", "onset_speed"
HELD, NOT_RUN = "held", "not run at export"
LABELS = {LIMIT: "Speed limit", ONSET: "Contact is lost first at"}

Cell = tuple[str, float | str | None]
"""A formula and its value at export."""


def speed_rows(sheet: Sheet, analysis: Analysis) -> tuple[tuple[str, dict[str, Cell], str], ...]:
    """The rows of the speeds; none for a job without a lobe.

    Args:
        sheet: the Summary.
        analysis: of the job, with its dynamic runs where they are wanted.

    Returns:
        Of each row its label, the cell of each line, and where it is from. A line whose run loses contact nowhere
        has the word `HELD`.
    """
    lines = moving_lines(analysis)
    if not lines:
        return ()
    limits = {line.name: _limit(sheet, line) for line in lines}
    onsets = {line.name: _onset(sheet, line) for line in lines}
    return (LABELS[LIMIT], limits, "stated"), (LABELS[ONSET], onsets, _came(sheet, lines))


def _limit(sheet: Sheet, line: LineAnalysis) -> Cell:
    cell = cell_name(line.stated.path(LIMIT))
    return f"IF(COUNT({cell})=1,{cell},{DASH})", sheet.book.shown(line.stated.value(LIMIT), Kind.SPEED)


def _onset(sheet: Sheet, line: LineAnalysis) -> Cell:
    figure = line.figures.get(ONSET)
    if line.dynamics is None or figure is None:
        return DASH, None
    if figure.value is None:
        return f'IF({line.name}_motion_as_exported=1,"{HELD}",{DASH})', HELD
    cell = f"{line.name}_{ONSET}"
    return f"IF(COUNT({cell})=1,{cell},{DASH})", sheet.book.shown(figure.value, Kind.SPEED)


def _came(sheet: Sheet, lines: tuple[LineAnalysis, ...]) -> str:
    swept = [line.dynamics.found.speeds[-1] for line in lines if line.dynamics is not None]
    if not swept:
        return NOT_RUN
    return f"dynamic run to {sheet.book.shown(float(min(swept)), Kind.SPEED):.0f}"
