"""The plan that a job keeps, in cylinder order: heights, loads and margins as they follow from the job."""

from __future__ import annotations

from dataclasses import dataclass

from loadbench.analysis import Analysis
from loadbench.analysis.loose import pair_load_line
from loadbench.analysis.springs import spring_load_line, valve_line
from loadbench.assembly.fit_inputs import fit_inputs
from loadbench.assembly.fit_valve import FitValve
from loadbench.findings.rows import rows_in_force
from loadbench.findings.rulebook import rule_book
from loadbench.findings.set_check.cylinder_order import in_cylinder_order
from loadbench.findings.shop import Shop
from loadbench.readings.load_line import LoadLine


@dataclass(frozen=True, slots=True, kw_only=True)
class KeptPlace:
    """One valve of the kept plan, SI; None where a value cannot be had.

    `place` is its number in the plan, `index` the valve's in the job; `valve` is what the fit reads of the valve, None
    while that cannot be read; `shims` is None while one of them cannot be read.
    """

    place: int
    index: int
    name: str
    line: str
    spring: str
    mark: str
    shims: tuple[float, ...] | None
    valve: FitValve | None
    installed_height: float | None
    open_height: float | None
    seat_load: float | None
    open_load: float | None

    @property
    def bind_margin(self) -> float | None:
        """Coil clearance at full lift, m."""
        if self.valve is None or self.valve.bind is None or self.open_height is None:
            return None
        return self.open_height - self.valve.bind

    @property
    def retainer_margin(self) -> float | None:
        """Retainer to seal at full lift, m."""
        if self.valve is None or self.valve.retainer_room is None:
            return None
        return self.valve.retainer_room - self.valve.lift


def kept_plan(analysis: Analysis, shop: Shop | None = None) -> tuple[KeptPlace, ...]:
    """Read the plan that a job keeps.

    Args:
        analysis: of the job.
        shop: the shop's changes to the rule book.

    Returns:
        Its valves in cylinder order; a place of a valve that the job no longer has is left out. Empty without a plan.
    """
    job = analysis.job
    places = {placed.valve: place for place, placed in enumerate(job.plan.placed)}
    if not places:
        return ()
    book = rule_book(shop, job.rules, analysis.stated.style, rows_in_force(analysis.lines[0].stated))
    valves = {valve.index: valve for valve in fit_inputs(analysis, book).valves}
    found = []
    for index in in_cylinder_order(job.valves):
        name = job.valves[index].id or f"#{index + 1}"
        if name in places:
            found.append(_kept(analysis, places[name], index, name, valves.get(index)))
    return tuple(found)


def _kept(analysis: Analysis, place: int, index: int, name: str, valve: FitValve | None) -> KeptPlace:
    line = valve_line(analysis.stated, index, {each.name: each for each in analysis.lines})
    spring = analysis.job.plan.placed[place].spring or ""
    shims = _shims(analysis, place)
    known = valve is not None and shims is not None
    height = valve.bare_height - sum(shims) if valve is not None and shims is not None else None
    opened = height - valve.lift if valve is not None and height is not None else None
    load_line = carried_on(analysis, spring, line.name) if known else None
    return KeptPlace(
        place=place,
        index=index,
        name=name,
        line=line.name,
        spring=spring,
        mark=mark_of_spring(analysis, spring),
        shims=shims,
        valve=valve,
        installed_height=height,
        open_height=opened,
        seat_load=None if load_line is None or height is None else load_line.load_at(height),
        open_load=None if load_line is None or opened is None else load_line.load_at(opened),
    )


def _shims(analysis: Analysis, place: int) -> tuple[float, ...] | None:
    values, own = analysis.stated.values, f"plan.placed.{place}.shims"
    read = [values.get(f"{own}.{shim}") for shim in range(len(analysis.job.plan.placed[place].shims))]
    known = tuple(shim for shim in read if shim is not None)
    return known if len(known) == len(read) else None


def carried_on(analysis: Analysis, name: str, line_name: str) -> LoadLine | None:
    """The load line of a numbered spring, or of a pair such as "O3 + I7", on a line.

    Args:
        analysis: of the job.
        name: of the spring or the pair.
        line_name: of the line.
    """
    line = analysis.line(line_name)
    for index, spring in enumerate(analysis.job.springs):
        if name and name == (spring.id or f"#{index + 1}"):
            return spring_load_line(analysis.stated, f"springs.{index}", line)[0]
    return pair_load_line(analysis.stated, name, line)


def mark_of_spring(analysis: Analysis, name: str) -> str:
    """The mark of a numbered spring; "" for a pair or a spring without one."""
    for index, spring in enumerate(analysis.job.springs):
        if name == (spring.id or f"#{index + 1}"):
            return spring.mark or ""
    return ""
