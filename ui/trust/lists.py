"""The lists of the panel as tables of text: the strip list, the bins, the checks before; also as text to take away."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from loadbench.units import Kind, Style, display_unit
from ui.clipboard_table import text_of
from ui.trust import wording
from ui.trust.wording import tr

if TYPE_CHECKING:
    from collections.abc import Sequence

    from loadbench.findings.set_check.result import CheckPoint, SetCheck, SpringCheck


@dataclass(frozen=True, slots=True, kw_only=True)
class ListRow:
    """One line: its cells, and the springs that it speaks of."""

    cells: tuple[str, ...]
    springs: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Listed:
    """A table: heads with the unit on their second line, rows, and a sentence above it."""

    heads: tuple[str, ...]
    rows: tuple[ListRow, ...]
    right: tuple[int, ...] = ()  # the columns of numbers
    sentence: str = ""


def as_text(listed: Listed, rows: Sequence[int] | None = None) -> str:
    """A table as tab separated text with its heads, for a spreadsheet.

    Args:
        listed: the table.
        rows: places of those wanted; None: all.
    """
    wanted = [listed.rows[place] for place in rows] if rows is not None else listed.rows
    heads = [head.replace("\n", ", ") for head in listed.heads]
    return text_of([heads, *([_plain(cell) for cell in row.cells] for row in wanted)])


def _plain(cell: str) -> str:
    """A text that no spreadsheet takes for a formula; a minus before a figure is none."""
    return f"'{cell}" if cell[:1] in "=+@" or (cell[:1] == "-" and not cell[1:2].isdigit()) else cell


def strip_list(check: SetCheck, style: Style) -> Listed:
    """The springs as they are laid out: by valve in cylinder order, else as they stand in the job."""
    load = display_unit(Kind.FORCE, style)
    marks = any(place.mark for place in check.laid_out)
    valves = any(place.valve for place in check.laid_out)
    heads = [tr("Valve")] if valves else []
    heads += [tr("Spring"), *([tr("Mark")] if marks else []), tr("Bin")]
    heads += [f"{tr('Seat')}\n{load}", f"{tr('Open')}\n{load}"]
    rows = tuple(
        ListRow(
            cells=(
                *([place.valve] if valves else []),
                place.spring or wording.DASH,
                *([place.mark] if marks else []),
                place.bin,
                wording.number(place.seat_load, Kind.FORCE, style),
                wording.number(place.open_load, Kind.FORCE, style),
            ),
            springs=(place.spring,) if place.spring else (),
        )
        for place in check.laid_out
    )
    told = tr("In cylinder order: the plan\u2019s springs, else those that the valves name.")
    if not valves:
        told = tr("No valves are laid out yet: the springs as they stand.")
    return Listed(heads=tuple(heads), rows=rows, right=(len(heads) - 2, len(heads) - 1), sentence=told)


def bins(check: SetCheck, style: Style) -> Listed:
    """Springs of nearly one load together."""
    found: dict[str, list[SpringCheck]] = {}
    for spring in sorted(check.springs, key=lambda each: each.seat_load or 0.0):
        if spring.bin:
            found.setdefault(spring.bin, []).append(spring)
    load = display_unit(Kind.FORCE, style)
    heads = (tr("Bin"), tr("Springs"), f"{tr('Seat')}\n{load}", tr("Names"))
    limit = wording.share(check.spread_limit.watch)
    told = tr(
        "Within one bin the seat loads are at most {limit} of the mean apart, the rule book\u2019s limit for a set."
    )
    if not found:
        told = tr("Needs the installed height and the springs\u2019 loads.")
    rows = tuple(_bin(name, own, style) for name, own in found.items())
    return Listed(heads=heads, rows=rows, right=(1, 2), sentence=told.format(limit=limit))


def _bin(name: str, own: list[SpringCheck], style: Style) -> ListRow:
    ends = [wording.number(each.seat_load, Kind.FORCE, style) for each in (own[0], own[-1])]
    loads = ends[0] if ends[0] == ends[1] else wording.DASH.join(ends)
    names = tuple(spring.id for spring in own)
    return ListRow(cells=(name, str(len(own)), loads, wording.listed(names)), springs=names)


def past_checks(check: SetCheck, style: Style) -> Listed:
    """The checks of the same springs, the first first."""
    del style  # shares and dates have no unit
    heads = (tr("Check"), tr("Mean lost"), tr("Worst"), tr("Spring"))
    past = check.past
    if past is None:
        told = tr("No earlier check. When these springs are tested again, read their next printout into this job.")
        return Listed(heads=heads, rows=(), sentence=told)
    rows = tuple(_check(point, past.unit) for point in past.checks)
    return Listed(heads=heads, rows=rows, right=(1, 2), sentence=wording.trend_told(past, check.loss_limit))


def _check(point: CheckPoint, unit: str | None) -> ListRow:
    lost = wording.any_lost(point)
    cells = (
        wording.when(point, unit),
        wording.share(point.mean_lost),
        wording.share(point.worst_lost if lost else None),
        point.worst_spring if lost else wording.DASH,
    )
    return ListRow(cells=cells, springs=(point.worst_spring,) if lost else ())
