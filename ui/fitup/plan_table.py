"""The plan as tab separated text, for a spreadsheet or for paper at the bench."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import QCoreApplication

from loadbench.units import Kind, Style, display_unit, tell
from ui.clipboard_table import text_of
from ui.fitup import wording

if TYPE_CHECKING:
    from loadbench.assembly.answer import FitAnswer, PlacedSpring
    from ui.fitup.rows import ValveRow


def _tr(text: str) -> str:
    return QCoreApplication.translate("Fitup", text)


def plan_text(answer: FitAnswer, rows: tuple[ValveRow, ...], style: Style) -> str:
    """A plan in cylinder order with heads and units, then the shims to lay out and the springs left over.

    Args:
        answer: with a plan.
        rows: the valves, with their places in the plan.
        style: the units on show.
    """
    lines = valve_lines(rows, style)
    lines += [[], [_tr("Shims to lay out"), _tr("How many")]]
    lines += [[str(tell(size, Kind.LENGTH, style)), str(count)] for size, count in sorted(answer.shopping.items())]
    if answer.spare:
        lines += [[], [_tr("Springs left over"), _plain(", ".join(answer.spare))]]
    return text_of(lines)


def valve_lines(rows: tuple[ValveRow, ...], style: Style) -> list[list[str]]:
    """The heads, and a line for each valve that has a place in the plan."""
    return [_heads(style), *(_line(row, row.placed, style) for row in rows if row.placed is not None)]


def _plain(name: str) -> str:
    """A name that no spreadsheet takes for a formula."""
    return f"'{name}" if name[:1] in "=+-@" else name


def _heads(style: Style) -> list[str]:
    length, load = display_unit(Kind.LENGTH, style), display_unit(Kind.FORCE, style)
    return [
        _tr("Valve"),
        _tr("Line"),
        _tr("Spring"),
        _tr("Shims, {unit}").format(unit=length),
        _tr("Installed height, {unit}").format(unit=length),
        _tr("Seat load before, {unit}").format(unit=load),
        _tr("Seat load, {unit}").format(unit=load),
        _tr("Open load before, {unit}").format(unit=load),
        _tr("Open load, {unit}").format(unit=load),
        _tr("To bind, {unit}").format(unit=length),
        _tr("To seal, {unit}").format(unit=length),
        _tr("Locked"),
    ]


def _line(row: ValveRow, placed: PlacedSpring, style: Style) -> list[str]:
    def load(value: float | None) -> str:
        return "" if value is None else wording.number(value, Kind.FORCE, style)

    def length(value: float | None) -> str:
        return "" if value is None else wording.number(value, Kind.LENGTH, style)

    return [
        _plain(row.id),
        "" if row.line == "common" else row.line,
        _plain(f"{placed.spring} + {placed.inner}" if placed.inner else placed.spring),
        wording.stack(placed.shims, style) if placed.shims else "0",
        length(placed.installed_height),
        load(row.seat),
        load(placed.seat_load),
        load(row.open),
        load(placed.open_load),
        length(placed.bind_margin),
        length(placed.retainer_margin),
        _tr("locked") if row.locked else "",
    ]
