"""A fit of loose outers and inners: from the job's members to pairs on valves."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np

from loadbench.analysis import Analysis, LineAnalysis
from loadbench.analysis.loose import BETWEEN, loose_member, member_load_line
from loadbench.arrays import Floats
from loadbench.assembly.choices import heights_of, past_by_height, place_of, stacks_for
from loadbench.assembly.fit_inputs import FitInputs
from loadbench.assembly.fit_valve import FitValve
from loadbench.fitup.pairs import PairChosen, PairTable, paired_fit
from loadbench.readings.load_line import LoadLine

Progress = Callable[[float], None]
Named = dict[str, LoadLine]


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class LooseSprings:
    """Outers and inners numbered apart: by line name, the load line of each by its name."""

    outers: dict[str, Named]
    inners: dict[str, Named]

    @property
    def outer_names(self) -> tuple[str, ...]:
        """The outers that have a load on every line."""
        return _on_all(self.outers)

    @property
    def inner_names(self) -> tuple[str, ...]:
        """The inners that have a load on every line."""
        return _on_all(self.inners)


def _on_all(by_line: dict[str, Named]) -> tuple[str, ...]:
    named = list(by_line.values())
    return tuple(name for name in named[0] if all(name in other for other in named)) if named else ()


def loose_springs(analysis: Analysis) -> LooseSprings | None:
    """The numbered springs as loose members of a nest of two.

    Args:
        analysis: of the job.

    Returns:
        None where no spring is an outer or inner only, or the nest does not have two members.
    """
    outers: dict[str, Named] = {line.name: {} for line in analysis.lines}
    inners: dict[str, Named] = {line.name: {} for line in analysis.lines}
    for line in analysis.lines:
        if len(line.nest.members) != 2:
            return None
        for index, spring in enumerate(analysis.job.springs):
            _add(analysis, line, index, spring.id or f"#{index + 1}", (outers[line.name], inners[line.name]))
    found = LooseSprings(outers=outers, inners=inners)
    return found if found.outer_names and found.inner_names else None


def _add(analysis: Analysis, line: LineAnalysis, index: int, name: str, kinds: tuple[Named, Named]) -> None:
    path = f"springs.{index}"
    member = loose_member(analysis.stated, path, line)
    own = None if member is None else member_load_line(analysis.stated, path, line, member)
    if member is not None and own is not None:
        kinds[member].setdefault(name, own)


def pair_table(inputs: FitInputs, loose: LooseSprings) -> PairTable:
    """The choices of a fit of pairs.

    Args:
        inputs: what the job states of valves and shims.
        loose: the outers and inners.

    Returns:
        The table for `paired_fit`.
    """
    stacks = stacks_for(inputs)
    heights, opened = heights_of(inputs, stacks)
    outers, inners = loose.outer_names, loose.inner_names
    target_seat = np.array([np.nan if valve.target_seat is None else valve.target_seat for valve in inputs.valves])
    target_open = np.array([np.nan if valve.target_open is None else valve.target_open for valve in inputs.valves])
    locked = [_locked(valve, outers, inners, place_of(stacks, valve.locked_shims)) for valve in inputs.valves]
    return PairTable(
        valves=tuple(valve.id for valve in inputs.valves),
        outers=outers,
        inners=inners,
        stacks=stacks,
        seat_outer=_loads(inputs, loose.outers, outers, heights),
        seat_inner=_loads(inputs, loose.inners, inners, heights),
        open_outer=_loads(inputs, loose.outers, outers, opened),
        open_inner=_loads(inputs, loose.inners, inners, opened),
        seat_window=np.array([seat_window(valve) for valve in inputs.valves]),
        open_window=np.array([open_window(valve) for valve in inputs.valves]),
        target_seat=target_seat,
        target_open=target_open,
        refused=past_by_height(inputs, opened, stacks),
        locked=np.array(locked, dtype=np.intp),
        counts=inputs.counts,
    )


def _loads(inputs: FitInputs, by_line: dict[str, Named], names: tuple[str, ...], heights: Floats) -> Floats:
    loads = np.full((len(inputs.valves), len(names), heights.shape[1]), np.nan)
    for row, valve in enumerate(inputs.valves):
        for column, name in enumerate(names):
            loads[row, column] = by_line[valve.line][name].load(heights[row])
    return loads


def seat_window(valve: FitValve) -> tuple[float, float]:
    """The least and the greatest load closed, N, that a valve's limits leave; infinite where there is none."""
    least = [valve.makers.get("seat_load_min", -np.inf)]
    most = [valve.makers.get("seat_load_max", np.inf)]
    return _narrowed(valve.target_seat, valve.tolerance, least, most)


def open_window(valve: FitValve) -> tuple[float, float]:
    """Likewise at full lift."""
    most = [valve.makers.get(name, np.inf) for name in ("open_load_max", "follower_open_load_max")]
    return _narrowed(valve.target_open, valve.tolerance, [-np.inf], most)


def _narrowed(
    target: float | None, tolerance: float | None, least: list[float], most: list[float]
) -> tuple[float, float]:
    if target is not None and tolerance is not None:
        least.append(target * (1 - tolerance))
        most.append(target * (1 + tolerance))
    return max(least), min(most)


def _locked(
    valve: FitValve, outers: tuple[str, ...], inners: tuple[str, ...], stack: int | None
) -> tuple[int, int, int]:
    """The outer, the inner and the stack that a valve keeps; -1 where it is free."""
    names = [name.strip() for name in (valve.locked_spring or "").split(BETWEEN.strip())]
    kept = tuple(next((own.index(name) for name in names if name in own), -1) for own in (outers, inners))
    return kept[0], kept[1], -1 if stack is None else stack


def fitted_pairs(
    inputs: FitInputs, loose: LooseSprings, progress: Progress | None
) -> tuple[PairTable, PairChosen | None]:
    """The table of pairs and the plan chosen from it; raises as `paired_fit` does."""
    table = pair_table(inputs, loose)
    return table, paired_fit(table, progress)
