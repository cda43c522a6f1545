"""Whether any plan holds, asked again and again of changed inputs: without a limit, on one valve, with other springs.

Every answer is tried, not estimated: the choices are made anew with the change, and counts of shims are kept to.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field, replace

import numpy as np

from loadbench.assembly.choices import stacks_for, table_of
from loadbench.assembly.fit_inputs import FitInputs
from loadbench.assembly.fit_valve import FitValve
from loadbench.assembly.pairing import LooseSprings, open_window, pair_table, seat_window
from loadbench.fitup.choice_table import Bools
from loadbench.fitup.counted import any_plan, stock_of
from loadbench.fitup.integer_plan import Clock
from loadbench.fitup.levels import Progress, levels_of
from loadbench.fitup.matching import largest_matching
from loadbench.fitup.pair_table import PairTable

ONE_TRIAL = 2.0
ALL_TRIALS = 12.0
"""Seconds for one question, and for all of them: what is not known by then is not told."""

LIMITS = ("bind", "retainer", "maker", "seat-tolerance", "open-tolerance", "locked", "shim-counts")


def eased(inputs: FitInputs, limits: Iterable[str]) -> FitInputs:
    """The inputs without some of the hard limits.

    Args:
        inputs: of the fit.
        limits: names out of `LIMITS`.

    Returns:
        The same as if these limits were not stated.
    """
    changes: dict[str, object] = {}
    for limit in limits:
        changes |= _UNSTATED.get(limit, {})
    valves = tuple(replace(valve, **changes) for valve in inputs.valves)  # type: ignore[arg-type]
    return replace(inputs, valves=valves, counts={} if "shim-counts" in limits else inputs.counts)


_UNSTATED: dict[str, dict[str, object]] = {
    "bind": {"bind": None},
    "retainer": {"retainer_room": None},
    "maker": {"makers": {}},
    "seat-tolerance": {"target_seat": None},
    "open-tolerance": {"target_open": None},
    "locked": {"locked_spring": None, "locked_shims": None},
}


def ideal_stacks(inputs: FitInputs) -> Bools:
    """On which stacks a spring of the right load and rate would hold on a valve, (V, K); none where one is locked."""
    fitting = (_some_spring_can(valve) and valve.locked_spring is None for valve in inputs.valves)
    table = pair_table(inputs, LooseSprings(outers={}, inners={}))
    kept = table.locked[:, 2, None]
    mine = (kept < 0) | (kept == np.arange(len(table.stacks)))
    ideal: Bools = ~table.refused & mine & np.fromiter(fitting, dtype=np.bool_, count=len(inputs.valves))[:, None]
    return ideal


def _some_spring_can(valve: FitValve) -> bool:
    """Whether its limits on load leave room for any spring, which carries more open than closed."""
    (least, most), (least_open, most_open) = seat_window(valve), open_window(valve)
    return most >= max(least, 0.0) and most_open >= max(least_open, 0.0) and most_open > max(least, 0.0)


@dataclass(kw_only=True)
class Trials:
    """The questions of one fit; `loose` where it is a fit of pairs."""

    loose: LooseSprings | None = None
    progress: Progress | None = None
    _clock: Clock = field(init=False)

    def __post_init__(self) -> None:
        self._clock = Clock(ALL_TRIALS, self.progress)

    def hold(self, inputs: FitInputs, more: tuple[int, int] = (0, 0)) -> bool:
        """Whether a plan holds.

        Args:
            inputs: of the fit, changed or not.
            more: how many springs that carry whatever is wanted are added; of a fit of pairs outers and inners.

        Returns:
            True where one holds.

        Raises:
            OutOfTimeError: the time for all questions is used up.
            NotKnownError: this one could not be settled in its own time.
            Cancelled: by the listener.
        """
        self._clock.left()
        allowed = _with_more(inputs, more[0]) if self.loose is None else _pairs_with_more(inputs, self.loose, more)
        if not all(_matched(allowed, kind) for kind in range(1, allowed.ndim - 1)):
            return False
        if not inputs.counts:
            if allowed.ndim == 3:
                return True
            allowed = np.asarray(allowed.any(axis=-1, keepdims=True), dtype=np.bool_)
        nothing = np.zeros(allowed.shape)
        shims = np.zeros(allowed.shape[-1], dtype=np.intp)
        stacks = stacks_for(inputs) if inputs.counts else ((),)
        return any_plan(levels_of(nothing, allowed, nothing, shims), stock_of(stacks, inputs.counts), ONE_TRIAL)

    def hold_alone(self, inputs: FitInputs, valve: FitValve) -> bool:
        """Whether one of the valves could have a spring if it were the only one."""
        return self.hold(replace(inputs, valves=(valve,)))

    def lacking(self, inputs: FitInputs) -> tuple[int, int]:
        """How many springs are fewer than the valves; of a fit of pairs outers and inners."""
        if self.loose is None:
            return max(len(inputs.valves) - len(inputs.springs), 0), 0
        names = self.loose.outer_names, self.loose.inner_names
        outers, inners = (max(len(inputs.valves) - len(own), 0) for own in names)
        return outers, inners


def _matched(allowed: Bools, kind: int) -> bool:
    """Whether every valve can have a spring of one kind for itself."""
    others = tuple(axis for axis in range(1, allowed.ndim) if axis != kind)
    return largest_matching(np.asarray(allowed.any(axis=others), dtype=np.bool_))[0] == len(allowed)


def _with_more(inputs: FitInputs, more: int) -> Bools:
    """Where each spring may stand, (V, S + more, K)."""
    allowed = table_of(inputs).allowed
    if more:
        added = np.repeat(ideal_stacks(inputs)[:, None, :], more, axis=1)
        allowed = np.concatenate([allowed, added], axis=1)
    return allowed


def _pairs_with_more(inputs: FitInputs, loose: LooseSprings, more: tuple[int, int]) -> Bools:
    """Where each pair may stand, (V, O + more, I + more, K); an added member carries what its partner leaves."""
    table = pair_table(inputs, loose)
    shape = len(table.valves), len(table.outers), len(table.inners), len(table.stacks)
    outer, inner = (each.ravel() for each in np.indices(shape[1:3]))
    allowed = np.zeros((shape[0], shape[1] + more[0], shape[2] + more[1], shape[3]), dtype=np.bool_)
    allowed[:, : shape[1], : shape[2]] = table.allowed(outer, inner).reshape(shape)
    if not any(more):
        return allowed
    ideal = ideal_stacks(inputs)[:, None, :]
    allowed[:, shape[1] :, shape[2] :] = ideal[:, None]
    allowed[:, shape[1] :, : shape[2]] = (ideal & _partnered(table, 1))[:, None]
    allowed[:, : shape[1], shape[2] :] = (ideal & _partnered(table, 0))[:, :, None]
    return allowed


def _partnered(table: PairTable, kind: int) -> Bools:
    """Where an outer (kind 0) or inner (1) leaves room for a partner of some load and rate, (V, springs, K)."""
    closed, at_lift = ((table.seat_outer, table.open_outer), (table.seat_inner, table.open_inner))[kind]
    least, most = table.seat_window.T[:, :, None, None]
    most_open = table.open_window[:, 1, None, None]
    room: Bools = (closed < most) & (at_lift < most_open) & (most_open - at_lift > np.maximum(least - closed, 0.0))
    kept = table.locked[:, kind]
    return room & ~np.isin(np.arange(room.shape[1]), kept[kept >= 0])[:, None]
