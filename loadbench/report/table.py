"""Tables as CSV text: the load table, the figures, the findings; keys carry SI units, numbers nine digits."""

from __future__ import annotations

import csv
import io
import math
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from pathlib import Path

import numpy as np

from loadbench.analysis import Analysis, LineAnalysis
from loadbench.analysis.damper import damper_band, damper_entered
from loadbench.analysis.figure import SI_UNITS, keyed, keyed_unit
from loadbench.arrays import Floats
from loadbench.findings.finding import Verdicts
from loadbench.job.files import write_atomically
from loadbench.report.json_out import style_of
from loadbench.report.plain_text import guarded
from loadbench.units import Kind, Style, from_display

STEPS = {Style.INCH_POUND: 0.050, Style.METRIC: 1.0}
"""Valve lift from row to row of the load table, in the style's own lengths."""

DIGITS = 9
"""Significant digits of a number: far finer than any bench measures, and without the noise of binary fractions."""

BYTE_ORDER_MARK = "\ufeff"
Cell = str | float | None


@dataclass(frozen=True, slots=True, kw_only=True)
class LoadTable:
    """The load of one line, closed to full lift, SI, each of shape (rows,); `expanded` has NaN where U is unknown.

    `loading` and `unloading` are the edges of a damper's band: NaN where its load is not stated.
    """

    lift: Floats
    height: Floats
    load: Floats
    expanded: Floats
    rate: Floats
    follower: Floats
    loading: Floats
    unloading: Floats


def lift_rows(net_lift: float | None, style: Style) -> Floats:
    """Valve lifts of the load table.

    Args:
        net_lift: m; None: unknown.
        style: decides the step, 0.050 in or 1 mm.

    Returns:
        Zero, every full step below the net lift, and the net lift itself, m; empty where it is unknown.
    """
    if net_lift is None or net_lift <= 0:
        return np.empty(0)
    step = from_display(STEPS[style], Kind.LENGTH, style)
    whole = math.ceil(net_lift / step * (1 - 1e-9))
    return np.array([*(step * place for place in range(whole)), net_lift])


def load_table(line: LineAnalysis, style: Style) -> LoadTable | None:
    """The load table of one line.

    Args:
        line: analysed.
        style: decides the step.

    Returns:
        The table; None where load line, installed height or lift cannot be had.
    """
    height, lift = line.value("installed_height"), line.value("net_valve_lift")
    lifts = lift_rows(lift, style)
    if line.load_line is None or height is None or not len(lifts):
        return None
    heights = height - lifts
    ratio = line.value("ratio")
    load = line.load_line.load(heights)
    more, less = damper_band(line.stated, load)
    return LoadTable(
        lift=lifts,
        height=heights,
        load=load,
        expanded=_expanded(line, heights),
        rate=line.load_line.rate_at(heights),
        follower=load * (float("nan") if ratio is None else ratio),
        loading=more,
        unloading=less,
    )


def height_deviations(line: LineAnalysis) -> tuple[float, float]:
    """Standard uncertainty, m, of the height at a nominal lift, and at full lift; the unstated counts as exact."""

    def half(name: str) -> float:
        figure = line.figures.get(name)
        return 0.0 if figure is None or figure.expanded is None else figure.expanded / 2

    return half("installed_height"), math.hypot(half("installed_height"), half("net_valve_lift"))


def _expanded(line: LineAnalysis, heights: Floats) -> Floats:
    nominal, full = height_deviations(line)
    unknown: Floats = np.full(len(heights), np.nan)
    if line.load_line is None:
        return unknown
    found = line.load_line.uncertainty(heights, nominal)
    last = line.load_line.uncertainty(heights[-1:], full)
    return unknown if found is None or last is None else np.concatenate([found[:-1], last])


def csv_text(head: Sequence[str], rows: Iterable[Sequence[Cell]]) -> str:
    """Rows as CSV (RFC 4180) with a byte order mark, by which spreadsheets know UTF-8.

    Args:
        head: the header row.
        rows: texts, numbers, or None for what cannot be had.

    Returns:
        The text; a text that a spreadsheet would take for a formula has an apostrophe before it.
    """
    stream = io.StringIO()
    writer = csv.writer(stream, lineterminator="\r\n")
    writer.writerow(head)
    for row in rows:
        writer.writerow([_written(cell) for cell in row])
    return BYTE_ORDER_MARK + stream.getvalue()


def _written(cell: Cell) -> str:
    if cell is None:
        return ""
    if isinstance(cell, str):
        return guarded(cell.replace("\x00", ""))
    return repr(float(f"{cell:.{DIGITS}g}")) if math.isfinite(cell) else ""


LOAD_HEAD = ("line", "valve_lift_m", "height_m", "load_N", "load_N_U", "rate_N_per_m", "follower_load_N")
DAMPED_HEAD = (*LOAD_HEAD, "loading_N", "unloading_N")
"""Of the load table where a damper's load is stated."""

FIGURES_HEAD = ("line", "member", "key", "value", "expanded_uncertainty", "unit", "evidence", "source", "waits_for")
FINDINGS_HEAD = (
    "level", "id", "sentence", "value", "unit", "limit", "margin", "chance", "house", "fix", "source", "line",
    "member", "valve", "waits_for",
)  # fmt: skip
SET_HEAD = (
    "spring", "mark", "valve", "verdict", "height_m", "seat_load_N", "seat_load_N_U", "open_height_m", "open_load_N",
    "open_load_N_U", "rate_N_per_m", "rate_N_per_m_U", "off_window_N", "bin", "lost_share", "lost_against", "doubts",
)  # fmt: skip
PLAN_HEAD = (
    "valve", "line", "spring", "mark", "bare_height_m", "shims_m", "shims_total_m", "installed_height_m",
    "seat_load_N", "open_height_m", "open_load_N", "bind_margin_m", "retainer_margin_m", "spring_before",
    "seat_load_before_N", "open_load_before_N", "plan",
)  # fmt: skip
SWEEP_COLUMNS = (
    "speed_rpm", "greatest_contact_force_N", "greatest_contact_force_angle_rad", "least_contact_force_N",
    "least_contact_force_angle_rad", "greatest_lift_m", "lift_loss_m", "loft_m", "seating_speed_m_per_s", "bounce_m",
    "surge_load_N", "open_load_loss_N",
)  # fmt: skip
SWEEP_TAIL = ("contact_lost", "cause", "turns", "periodic")
SWEEP_HEAD = ("line", *SWEEP_COLUMNS, *SWEEP_TAIL)
FULL_COLUMNS = ("greatest_tip_force_N", "least_tip_force_N", "held_open_m", "plunger_m")
FULL_SWEEP_HEAD = ("line", *SWEEP_COLUMNS, *FULL_COLUMNS, *SWEEP_TAIL, "linkage_slack")
HEADS = (LOAD_HEAD, DAMPED_HEAD, FIGURES_HEAD, FINDINGS_HEAD, SET_HEAD, PLAN_HEAD, SWEEP_HEAD, FULL_SWEEP_HEAD)
"""Of all tables; the rows of the last four come from `set_table`, `plan_table` and `sweep_rows`."""


def load_table_csv(analysis: Analysis) -> str:
    """The load table of every line as CSV."""
    damped = any(damper_entered(line.stated) for line in analysis.lines)
    return csv_text(DAMPED_HEAD if damped else LOAD_HEAD, _load_rows(analysis, damped=damped))


def _load_rows(analysis: Analysis, *, damped: bool) -> Iterator[Sequence[Cell]]:
    for line in analysis.lines:
        table = load_table(line, style_of(analysis))
        if table is not None:
            columns: tuple[Floats, ...] = (
                table.lift,
                table.height,
                table.load,
                table.expanded,
                table.rate,
                table.follower,
            )
            columns += (table.loading, table.unloading) if damped else ()
            for row in zip(*columns, strict=True):
                yield (line.name, *(float(each) for each in row))


def figures_csv(analysis: Analysis) -> str:
    """The figures of every line, and of every member of a nest, as CSV."""
    return csv_text(FIGURES_HEAD, _figure_rows(analysis))


def _figure_rows(analysis: Analysis) -> Iterator[Sequence[Cell]]:
    for line in analysis.lines:
        named = [("", figure) for figure in line.figures.values()]
        named += [(each.name or "", figure) for each in line.members if each.name for figure in each.figures.values()]
        for member, figure in named:
            values = (figure.value, figure.expanded if figure.known else None)
            shown = [None if each is None else keyed(each, figure.kind) for each in values]
            told = (figure.evidence, figure.source, " ".join(figure.missing))
            yield (line.name, member, figure.key, *shown, keyed_unit(figure.kind), *told)


def findings_csv(analysis: Analysis, verdicts: Verdicts) -> str:
    """The findings, worst first, as CSV; sentences in the job's units, numbers in SI."""
    style = style_of(analysis)
    rows = []
    for each in verdicts.findings:
        unit = None if each.value_kind is None else SI_UNITS[each.value_kind] or "1"
        fix = None if each.fix is None else each.fix.told(style)
        numbers = (each.value, unit, each.limit, each.margin, each.chance)
        where = (each.line, each.member, each.valve, " ".join(each.missing))
        rows.append(
            (str(each.level), each.id, each.sentence.told(style), *numbers, each.house, fix, each.source, *where)
        )
    return csv_text(FINDINGS_HEAD, rows)


def is_ours(path: Path) -> bool:
    """Whether a file is a table that this program wrote: its header row is one of ours.

    Args:
        path: any file.

    Returns:
        True for one of our tables; False for anything else, unreadable files too.
    """
    heads = {",".join(head) for head in HEADS}
    try:
        with path.open("rb") as stream:
            first = stream.readline(4096).decode("utf-8-sig")
    except (OSError, UnicodeDecodeError):
        return False
    return first.rstrip("\r\n") in heads


def write_csv(path: Path, text: str) -> None:
    """Write a table whole, or not at all.

    Args:
        path: the file.
        text: of one of the functions above.

    Raises:
        SaveError: it cannot be written; what stood there is untouched.
    """
    write_atomically(path, text.encode("utf-8", errors="replace"))
