"""A printout as plain text: what was understood column by column, the springs, what is doubtful and what is wrong."""

from __future__ import annotations

from collections.abc import Sequence

from loadbench.findings.set_check.printout_check import Missed, PartRate, PrintedCheck, PrintoutCheck
from loadbench.readings.printout.cells import Separator
from loadbench.readings.printout.meaning import Column, Layout, Meaning, Understood
from loadbench.readings.trust.flag import Flag
from loadbench.report.plain_text import cell_text
from loadbench.units import Kind, Style, tell

SEPARATORS = {
    Separator.COMMA: "commas",
    Separator.SEMICOLON: "semicolons",
    Separator.TAB: "tabs",
    Separator.BAR: "bars",
    Separator.BLANKS: "blanks",
}
LAYOUTS = {Layout.ROW_A_SPRING: "one row a spring", Layout.ROW_A_READING: "one row a reading"}
MEANINGS = {
    Meaning.SPRING: "spring number",
    Meaning.PART: "part of the spring",
    Meaning.HEIGHT: "height",
    Meaning.LOAD: "load",
    Meaning.RATE: "rate as printed",
    Meaning.REPEAT: "number of the repeat",
    Meaning.DIRECTION: "loading or unloading",
    Meaning.MARK: "mark",
    Meaning.UNIT: "unit",
    Meaning.NOTHING: "not read",
}
HEADS = ("Spring", "Mark", "Readings", "Rate", "Doubts")
SHOWN = 8
"""How many springs a sentence names before it counts the rest."""


def readings_as_text(check: PrintoutCheck, style: Style) -> str:
    """Everything a person reads of a printout in a terminal.

    Args:
        check: of the printout.
        style: the units on show.

    Returns:
        Lines of text.
    """
    found = check.understood
    lines = [_head(check), "", "Columns:", *_table([_column(column, style) for column in found.columns])]
    if check.springs:
        rows = [HEADS, *(_spring(spring, style) for spring in check.springs)]
        lines += ["", "Springs:", *_table(_filled(rows))]
    lines += ["", *_missed(check.missed, style)] if check.missed else []
    if found.count:
        lines += ["", "Doubtful:" if check.flags else "No reading is doubtful by its statistics."]
    lines += [f"  {_flag(flag, style)}" for flag in check.flags]
    lines += ["", "To mend:", *(f"  {problem}" for problem in found.problems)] if found.problems else []
    return "\n".join(_shown(line) for line in lines)


def _shown(line: str) -> str:
    """A line without what a terminal would act on."""
    return cell_text(line).replace("\t", " ").replace("\n", " ")


def _head(check: PrintoutCheck) -> str:
    found = check.understood
    count, springs = found.count, len(found.springs)
    told = f"{_counted(springs, 'spring')}, {_counted(count, 'reading')}: {', '.join(_form(found))}."
    return f"{found.grid.name}: {told}" if found.grid.name else told


def _form(found: Understood) -> list[str]:
    """How the printout is written."""
    grid = found.grid
    told = [LAYOUTS[found.layout]]
    told += [f"columns parted by {SEPARATORS[grid.separator]}"] if grid.separator else []
    told += [f'sheet "{grid.sheet}" of {len(grid.sheets)}'] if grid.sheet else []
    told += [f"decimal {found.decimal.value}"]
    told += [grid.encoding] if grid.encoding else []
    told += [f"header in row {found.header_row}"] if found.header_row else ["no header"]
    return [*told, f'by the recipe "{found.recipe}"'] if found.recipe else told


def _counted(count: int, what: str) -> str:
    return f"{count} {what}" if count == 1 else f"{count} {what}s"


def _column(column: Column, style: Style) -> tuple[str, ...]:
    what = " ".join(part for part in (column.part, MEANINGS[column.meaning]) if part)
    if column.height is not None:
        what += f" at {tell(column.height, Kind.LENGTH, style)}"
    if column.unit:
        what += f", {column.unit}" + (" (taken from the job)" if column.assumed else "")
    header = " ".join(column.header.split())
    doubt = "" if column.sure else "not sure"
    return (
        str(column.place + 1),
        f'"{header}"' if header else "no header",
        what,
        ": ".join(filter(None, (doubt, column.why))),
    )


def _spring(check: PrintedCheck, style: Style) -> tuple[str, ...]:
    parts = (check.whole,) if check.whole is not None else check.parts
    rates = "; ".join(_rate(part, style) for part in parts)
    doubts = ", ".join(dict.fromkeys(flag.kind.value for flag in check.flags))
    return (check.spring.id, check.spring.mark, str(len(check.spring.readings)), rates or "-", doubts)


def _rate(part: PartRate, style: Style) -> str:
    told = "-" if part.rate is None else str(tell(part.rate, Kind.RATE, style, part.expanded))
    return f"{part.part} {told}" if part.part else told


def _filled(rows: Sequence[tuple[str, ...]]) -> list[tuple[str, ...]]:
    """The rows without the columns in which nothing stands below the head."""
    kept = [place for place in range(len(rows[0])) if any(row[place] for row in rows[1:])]
    return [tuple(row[place] for place in kept) for row in rows]


def _table(rows: Sequence[tuple[str, ...]]) -> list[str]:
    widths = [max(len(row[place]) for row in rows) for place in range(len(rows[0]))] if rows else []
    return [
        "  " + "  ".join(cell.ljust(width) for cell, width in zip(row, widths, strict=True)).rstrip() for row in rows
    ]


def _missed(missed: Sequence[Missed], style: Style) -> list[str]:
    """What most springs have and some have not, by part and height."""
    springs: dict[tuple[str, float], list[str]] = {}
    for each in missed:
        springs.setdefault((each.part, each.height), []).append(each.spring)
    told = []
    for (part, height), names in springs.items():
        more = f" and {len(names) - SHOWN} more" if len(names) > SHOWN else ""
        of = f"{part} load" if part else "load"
        told.append(f"No {of} at {tell(height, Kind.LENGTH, style)}: spring {', '.join(names[:SHOWN])}{more}.")
    return told


def _flag(flag: Flag, style: Style) -> str:
    where = f"row {flag.row}, column {flag.column}" if flag.row else "the whole set"
    return f"{flag.kind.value.replace('-', ' ')} ({where}): {flag.told(style)}"
