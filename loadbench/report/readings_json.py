"""A printout as data for scripts: its columns, springs, doubts and problems, every number in SI at full precision."""

from __future__ import annotations

from typing import Any

from loadbench.findings.set_check.printout_check import Missed, PartRate, PrintedCheck, PrintoutCheck
from loadbench.readings.printout.meaning import Column, PrintedReading
from loadbench.readings.trust.flag import Flag
from loadbench.report.json_out import problems_as_json
from loadbench.units import Style

Plain = dict[str, Any]


def readings_as_json(check: PrintoutCheck, style: Style) -> Plain:
    """A printout as a dict of plain values.

    Args:
        check: of the printout.
        style: the units of its sentences.

    Returns:
        Columns, springs, flags (each with its place in the printout, rows and columns from 1) and problems.
    """
    found = check.understood
    return {
        "columns": [_column(column) for column in found.columns],
        "springs": [_spring(spring) for spring in check.springs],
        "flags": [_flag(flag, style) for flag in check.flags],
        "problems": problems_as_json(found.problems),
        "missing": [_missed(missed) for missed in check.missed],
        "file": {
            "name": found.grid.name,
            "encoding": found.grid.encoding or None,
            "separator": found.grid.separator and found.grid.separator.value,
            "sheet": found.grid.sheet,
            "sheets": list(found.grid.sheets),
            "layout": found.layout.value,
            "decimal": found.decimal.value,
            "header_row": found.header_row,
            "unit_row": found.unit_row,
            "first_row": found.first_row,
            "recipe": found.recipe,
        },
    }


def _column(column: Column) -> Plain:
    return {
        "header": column.header,
        "understood": column.meaning.value,
        "unit": column.unit,
        "sure": column.sure,
        "column": column.place + 1,
        "part": column.part,
        "height_m": column.height,
        "assumed": column.assumed,
        "why": column.why,
    }


def _spring(check: PrintedCheck) -> Plain:
    return {
        "id": check.spring.id,
        "readings": [_reading(reading) for reading in check.spring.readings],
        "rate_N_per_m": check.whole and check.whole.rate,
        "rate_N_per_m_U": check.whole and check.whole.expanded,
        "flags": list(dict.fromkeys(flag.kind.value for flag in check.flags)),
        "mark": check.spring.mark,
        "row": check.spring.row,
        "printed_rate_N_per_m": check.spring.printed_rate,
        "parts": [_part(part) for part in check.parts],
    }


def _reading(reading: PrintedReading) -> Plain:
    return {
        "part": reading.part,
        "height_m": reading.height,
        "load_N": reading.load,
        "repeat": reading.repeat,
        "direction": reading.direction or None,
        "row": reading.row,
        "column": reading.column,
    }


def _part(part: PartRate) -> Plain:
    return {
        "part": part.part,
        "readings": part.count,
        "rate_N_per_m": part.rate,
        "rate_N_per_m_U": part.expanded,
    }


def _flag(flag: Flag, style: Style) -> Plain:
    return {
        "spring": flag.spring,
        "kind": flag.kind.value,
        "sentence": flag.told(style),
        "row": flag.row,
        "column": flag.column,
        "part": flag.part,
        "height_m": flag.height,
        "rule": flag.rule,
        "value": flag.value,
        "limit": flag.limit,
    }


def _missed(missed: Missed) -> Plain:
    return {"spring": missed.spring, "part": missed.part, "height_m": missed.height, "row": missed.row}
