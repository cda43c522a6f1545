"""The valves in cylinder order with all that is told of each: as it stands, as planned, and what forbids a plan."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from loadbench.analysis.springs import valve_line
from loadbench.findings.set_check.cylinder_order import in_cylinder_order

if TYPE_CHECKING:
    from loadbench.analysis import Analysis, LineAnalysis
    from loadbench.assembly.answer import FitAnswer, PlacedSpring


@dataclass(frozen=True, slots=True, kw_only=True)
class ValveRow:
    """One valve, SI. `index` is its place in the job; `bars` name the limits that forbid every plan because of it.

    `seat`, `open` and `shims` are as it stands now; `target` and `tolerance` those of its line.
    """

    index: int
    id: str
    line: str
    spring: str | None
    shims: tuple[float, ...]
    seat: float | None
    open: float | None
    locked: bool
    target: float | None
    tolerance: float | None
    placed: PlacedSpring | None = None
    bars: tuple[str, ...] = ()


def rows_of(analysis: Analysis, answer: FitAnswer | None) -> tuple[ValveRow, ...]:
    """The valves in cylinder order.

    Args:
        analysis: of the job on the table.
        answer: of a fit of this job or, where it is out of date, of one before; its valves are found by name.

    Returns:
        A row for each valve.
    """
    lines = {line.name: line for line in analysis.lines}
    placed: dict[object, PlacedSpring] = {}
    for each in answer.plan if answer is not None else ():
        placed[each.valve] = placed[each.valve, each.index] = each
    bars: dict[str, tuple[str, ...]] = {}
    for bar in answer.binding if answer is not None else ():
        for valve in bar.valves:
            bars[valve] = (*bars.get(valve, ()), bar.limit)
    return tuple(_row(analysis, index, lines, placed, bars) for index in in_cylinder_order(analysis.job.valves))


def _row(
    analysis: Analysis,
    index: int,
    lines: dict[str, LineAnalysis],
    placed: dict[object, PlacedSpring],
    bars: dict[str, tuple[str, ...]],
) -> ValveRow:
    valve, now = analysis.job.valves[index], analysis.set.valves[index]
    stated, line = analysis.stated, valve_line(analysis.stated, index, lines)
    name, path = valve.id or f"#{index + 1}", f"valves.{index}.shims"
    count = stated.values.get(f"{path}#", 0)
    shims = (stated.values.get(f"{path}.{place}") for place in range(count))
    percent = line.stated.value("targets.tolerance_percent")
    return ValveRow(
        index=index,
        id=name,
        line=line.name,
        spring=valve.spring,
        shims=tuple(float(shim) for shim in shims if shim is not None),
        seat=now.seat_load,
        open=now.open_load,
        locked=bool(valve.locked),
        target=line.stated.value("targets.seat_load"),
        tolerance=None if percent is None else percent / 100,
        placed=placed.get((name, index), placed.get(name)),
        bars=bars.get(name, ()),
    )


def spread_of(loads: list[float | None]) -> float | None:
    """Greatest less least of the loads; None with fewer than two, or where one is not known."""
    known = [load for load in loads if load is not None]
    return max(known) - min(known) if len(known) > 1 and len(known) == len(loads) else None
