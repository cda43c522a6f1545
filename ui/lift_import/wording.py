"""What the window for a lift table says of it, in words."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import QCoreApplication

from loadbench.units import Kind, Style, tell

if TYPE_CHECKING:
    from collections.abc import Sequence

    from loadbench.errors import Problem
    from loadbench.readings.lift_file import LiftFile, Outcome

SHOWN = 3
"""Rows shown from each end."""
MOST_KINKS = 8


def _tr(text: str) -> str:
    return QCoreApplication.translate("LiftImport", text)


def rows_told(found: LiftFile) -> str:
    """How many rows there are, and the first and the last of them with their places in the file."""
    count = len(found.rows)
    head = _tr("{count} rows of lift, {headers} above them are headers.")
    lines = [head.format(count=count, headers=len(found.headers))]
    places = list(range(count)) if count <= 2 * SHOWN else [*range(SHOWN), -1, *range(count - SHOWN, count)]
    for place in places:
        if place < 0:
            lines.append("…")
            continue
        angle, lift = found.rows[place]
        lines.append(_tr("row {row}:  {angle}  {lift}").format(row=found.places[place], angle=angle, lift=lift))
    return "\n".join(lines)


def problem_told(problem: Problem) -> str:
    """A problem as a line: where, what, what is wanted."""
    row, column = problem.place.row, problem.place.column
    if row and column:
        where = f"{_tr('row {row}, column {column}').format(row=row, column=column)}: "
    else:
        where = f"{_tr('row {row}').format(row=row)}: " if row else ""
    wanted = _ended(_tr("Wanted: {what}").format(what=problem.expected)) if problem.expected else ""
    return f"{where}{_ended(problem.what[:1].upper() + problem.what[1:])} {wanted}".rstrip()


def _ended(sentence: str) -> str:
    return sentence if sentence.endswith((".", "?")) else f"{sentence}."


def left_told(outcome: Outcome | None, style: Style | None) -> str:
    """What smoothing leaves of the readings, as a line; blank where there is no lift."""
    if outcome is None:
        return ""
    shown = style or Style.METRIC
    rms, greatest = (str(tell(value, Kind.LENGTH, shown)) for value in (outcome.rms, outcome.greatest))
    line = _tr("Smoothing leaves {rms} (rms) of the readings, at most {greatest} in row {row}.")
    return line.format(rms=rms, greatest=greatest, row=outcome.row)


def lines_told(found: LiftFile, faults: Sequence[Problem], outcome: Outcome | None = None) -> list[tuple[str, str]]:
    """All that is to be said of a table, worst first: (level, line); the levels are stop, watch and quiet."""
    wrong = [("stop", _tr("Stop, {line}").format(line=problem_told(each))) for each in found.problems]
    doubtful = [("watch", _tr("Watch, {line}").format(line=problem_told(each))) for each in faults]
    done: list[str] = [] if outcome is None else [*outcome.told]
    if outcome is not None and outcome.kinks:
        rows = ", ".join(map(str, outcome.kinks[:MOST_KINKS]))
        done.append(_tr("The lift bends sharply, or a reading stands off it, in row {rows}.").format(rows=rows))
    told = [("quiet", _tr("Told: {line}").format(line=each)) for each in (*found.told, *done)]
    return [*wrong, *doubtful, *told]


def column_name(place: int, header: str) -> str:
    """A column in a list of choices."""
    number = _tr("column {number}").format(number=place + 1)
    return f"{number}: {header[:40]}" if header else number
