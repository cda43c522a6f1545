"""The words of the page: limits, stacks, loads before and after, one valve in a sentence, the standing of a plan."""

from __future__ import annotations

from itertools import groupby
from typing import TYPE_CHECKING

from PySide6.QtCore import QCoreApplication

from loadbench.findings.finding import Level
from loadbench.units import Kind, Style, tell

if TYPE_CHECKING:
    from collections.abc import Iterable

    from loadbench.assembly.answer import FitAnswer
    from ui.fitup.planner import Planner
    from ui.fitup.rows import ValveRow

DASH = "\u2013"
ARROW = "\u2192"
TIMES = "\u00d7"


def _tr(text: str) -> str:
    return QCoreApplication.translate("Fitup", text)


def limit_word(limit: str) -> str:
    """A hard limit as it stands beside a valve."""
    words = {
        "bind": _tr("bind"),
        "retainer": _tr("seal"),
        "maker": _tr("maker"),
        "seat-tolerance": _tr("seat load"),
        "open-tolerance": _tr("open load"),
        "locked": _tr("lock"),
    }
    return words.get(limit, limit.replace("-", " "))


def locked_word() -> str:
    """What stands beside a valve that stays as it is."""
    return _tr("locked")


def amount(value: float | None, kind: Kind, style: Style) -> str:
    """A figure with its unit; a dash where it is not known."""
    return DASH if value is None else str(tell(value, kind, style))


def number(value: float | None, kind: Kind, style: Style) -> str:
    """A figure under a head that names its unit."""
    return DASH if value is None else tell(value, kind, style).number


def stack(shims: tuple[float, ...], style: Style) -> str:
    """A stack under a head that names its unit: "0.060 + 0.015", equal ones counted; "none"."""
    sizes = [tell(shim, Kind.LENGTH, style).number for shim in shims]
    counted = [(size, len(list(same))) for size, same in groupby(sizes)]
    return " + ".join(size if many == 1 else f"{many}{TIMES}{size}" for size, many in counted) or _tr("none")


def sizes(shims: Iterable[float], style: Style) -> str:
    """Sizes of shims in a sentence, thinnest first: "0.015, 0.030, 0.060 in"."""
    told = [tell(shim, Kind.LENGTH, style) for shim in sorted(shims)]
    return f"{', '.join(each.number for each in told)} {told[0].unit}"


def stack_with_unit(shims: tuple[float, ...], style: Style) -> str:
    """A stack within a sentence."""
    return f"{stack(shims, style)} {tell(0.0, Kind.LENGTH, style).unit}" if shims else _tr("no shims")


def change(before: float | None, after: float | None, style: Style) -> str:
    """A load before and after, under a head that names its unit."""
    if after is None:
        return number(before, Kind.FORCE, style)
    return f"{number(before, Kind.FORCE, style)} {ARROW} {number(after, Kind.FORCE, style)}"


def valve_told(row: ValveRow, style: Style) -> str:
    """One valve in a sentence, for the read-out and for screen readers."""
    parts = [_stands(row, style)]
    placed = row.placed
    if placed is not None:
        spring = f"{placed.spring} + {placed.inner}" if placed.inner else placed.spring
        text = _tr("Planned: spring {spring} on {shims}, seat {seat}, open {open}")
        parts.append(
            text.format(
                spring=spring,
                shims=stack_with_unit(placed.shims, style),
                seat=amount(placed.seat_load, Kind.FORCE, style),
                open=amount(placed.open_load, Kind.FORCE, style),
            )
        )
        if placed.bind_margin is not None:
            parts[-1] += ", " + _tr("{margin} to bind").format(margin=amount(placed.bind_margin, Kind.LENGTH, style))
    if row.locked:
        parts.append(_tr("Locked"))
    if row.bars:
        parts.append(_tr("No plan holds here: {limits}").format(limits=", ".join(map(limit_word, row.bars))))
    return ". ".join(parts) + "."


def _stands(row: ValveRow, style: Style) -> str:
    if row.seat is None:
        return _tr("Valve {valve}").format(valve=row.id)
    text = _tr("Valve {valve} now: seat {seat}, open {open}")
    seat, opened = amount(row.seat, Kind.FORCE, style), amount(row.open, Kind.FORCE, style)
    return text.format(valve=row.id, seat=seat, open=opened)


def standing_of(planner: Planner) -> tuple[Level, str]:
    """How the plan stands, as level and word."""
    answer = planner.answer
    if planner.failure and not planner.busy:
        return Level.UNKNOWN, _tr("No answer")
    if answer is None:
        return Level.UNKNOWN, _tr("Working out a plan") if planner.busy else _tr("No plan yet")
    if planner.stale:
        return Level.UNKNOWN, _tr("Out of date")
    return _answered(answer)


def _answered(answer: FitAnswer) -> tuple[Level, str]:
    if answer.feasible:
        word = _tr("Best plan, proved") if answer.proved else _tr("Best found, not proved")
        if answer.doubts:
            return Level.WATCH, _tr("{word}; look again").format(word=word)
        return (Level.CLEAR if answer.proved else Level.WATCH), word
    if answer.problems:
        return Level.UNKNOWN, _tr("Not to be had yet")
    return Level.STOP, _tr("No plan holds")
