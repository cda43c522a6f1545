"""Loose outers and inners: every plan tried on small cases; limits, locks and time on larger ones."""

from __future__ import annotations

import itertools
from dataclasses import replace
from typing import Any

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from hypothesis.extra.numpy import arrays

from loadbench.errors import Cancelled, InputError
from loadbench.fitup import pairs
from loadbench.fitup.inverse import STOCK_SHIMS
from loadbench.fitup.pairs import NotKnownError, PairChosen, PairTable, paired_fit
from loadbench.fitup.stacks import stacks_of
from tests.fitup.judges import IN, LBF, STACKS, Verdict, best_verdict
from tests.fitup.test_best_fit import agree

EVERY = np.array([-np.inf, np.inf])


def pair_table(seat_outer: Any, seat_inner: Any, stacks: Any, **changes: Any) -> PairTable:
    """Loads at full lift 100 N and 50 N above those closed; no limits and no targets but those given."""
    outer, inner = np.asarray(seat_outer, dtype=np.float64), np.asarray(seat_inner, dtype=np.float64)
    valves = outer.shape[0]
    return PairTable(
        **{
            "valves": tuple(f"valve {row}" for row in range(valves)),
            "outers": tuple(f"outer {row}" for row in range(outer.shape[1])),
            "inners": tuple(f"inner {row}" for row in range(inner.shape[1])),
            "stacks": tuple(stacks),
            "seat_outer": outer,
            "seat_inner": inner,
            "open_outer": outer + 100.0,
            "open_inner": inner + 50.0,
            "seat_window": np.tile(EVERY, (valves, 1)),
            "open_window": np.tile(EVERY, (valves, 1)),
            "target_seat": np.full(valves, np.nan),
            "target_open": np.full(valves, np.nan),
            "refused": np.zeros((valves, len(stacks)), dtype=np.bool_),
            "locked": np.full((valves, 3), -1),
            **changes,
        }
    )


def pair_head(
    valves: int, outers: int, inners: int, *, seed: int, tolerance: float = 0.05, **changes: Any
) -> PairTable:
    """Invented pairs of about 110 and 40 lbf at 1.900 in on valves of about 1.930 in."""
    draw = np.random.default_rng(seed)
    stacks = stacks_of(STOCK_SHIMS, changes.get("counts"))
    closed = 1.93 + draw.normal(0, 0.008, valves)[:, None] - np.array([sum(stack) for stack in stacks]) / IN

    def loads(count: int, load: float, rate: float) -> Any:
        own, rates = draw.normal(load, 0.027 * load, count), draw.normal(rate, 0.02 * rate, count)
        return (own[:, None] + rates[:, None] * (1.9 - closed[:, None, :])) * LBF

    window = 150 * LBF * np.array([1 - tolerance, 1 + tolerance])
    changes = {"seat_window": np.tile(window, (valves, 1)), "target_seat": np.full(valves, 150 * LBF)} | changes
    return pair_table(loads(outers, 110, 300), loads(inners, 40, 120), stacks, **changes)


def chosen_verdict(chosen: PairChosen | None) -> Verdict | None:
    return None if chosen is None else (chosen.spread, chosen.deviation, chosen.shims)


def refusals(table: PairTable, valve: int, outer: int, inner: int, stack: int) -> bool:
    """Whether a limit or a lock forbids one choice, read from the table by plain words."""
    seat = table.seat_outer[valve, outer, stack] + table.seat_inner[valve, inner, stack]
    opened = table.open_outer[valve, outer, stack] + table.open_inner[valve, inner, stack]
    windows = zip((seat, opened), (table.seat_window[valve], table.open_window[valve]), strict=True)
    out = any(not (low - 1e-6 <= load <= high + 1e-6) for load, (low, high) in windows)
    mine = zip(table.locked[valve], (outer, inner, stack), strict=True)
    kept = any(lock >= 0 and lock != own for lock, own in mine)
    others = np.delete(table.locked, valve, axis=0)
    taken = outer in others[:, 0] or inner in others[:, 1]
    return bool(out or table.refused[valve, stack] or kept or taken)


def off_target(table: PairTable, valve: int, outer: int, inner: int, stack: int) -> float:
    if np.isfinite(table.target_seat[valve]):
        load = table.seat_outer[valve, outer, stack] + table.seat_inner[valve, inner, stack]
        return float(abs(load - table.target_seat[valve]))
    if np.isfinite(table.target_open[valve]):
        load = table.open_outer[valve, outer, stack] + table.open_inner[valve, inner, stack]
        return float(abs(load - table.target_open[valve]))
    return 0.0


def best_of_all(table: PairTable) -> Verdict | None:
    """The best of all plans of pairs."""
    valves, stacks = len(table.valves), range(len(table.stacks))
    orders = itertools.product(
        itertools.permutations(range(len(table.outers)), valves),
        itertools.permutations(range(len(table.inners)), valves),
    )
    plans: list[Verdict] = []
    for outers, inners in orders:
        each = [
            [
                (
                    table.seat_outer[v, outers[v], k] + table.seat_inner[v, inners[v], k],
                    off_target(table, v, outers[v], inners[v], k),
                    table.stacks[k],
                )
                for k in stacks
                if not refusals(table, v, outers[v], inners[v], k)
            ]
            for v in range(valves)
        ]
        for plan in itertools.product(*each):
            loads, deviation, laid = zip(*plan, strict=True)
            shims = [shim for stack in laid for shim in stack]
            if all(shims.count(size) <= count for size, count in table.counts.items()):
                plans.append((max(loads) - min(loads), sum(deviation), len(shims)))
    return best_verdict(plans, 1e-9 * 1000)


@st.composite
def small_pair_tables(draw: st.DrawFn) -> PairTable:
    valves, outers, inners, stacks = (draw(st.integers(low, 3)) for low in (1, 1, 1, 1))
    loads = st.integers(0, draw(st.sampled_from([3, 20])))
    outer = 400.0 + draw(arrays(np.int64, (valves, outers, stacks), elements=loads))
    inner = 200.0 + draw(arrays(np.int64, (valves, inners, stacks), elements=loads))
    if draw(st.booleans()):
        outer[draw(st.integers(0, valves - 1)), draw(st.integers(0, outers - 1))] = np.nan
    locked = np.full((valves, 3), -1)
    if draw(st.booleans()):
        locked[draw(st.integers(0, valves - 1))] = [
            draw(st.integers(-1, count - 1)) for count in (outers, inners, stacks)
        ]
    window = draw(st.sampled_from([EVERY, np.array([603.0, 620.0]), np.array([601.0, 606.0])]))
    target = draw(st.sampled_from([np.nan, 605.0]))
    return pair_table(
        outer,
        inner,
        STACKS[:stacks],
        seat_window=np.tile(window, (valves, 1)),
        open_window=np.tile(draw(st.sampled_from([EVERY, np.array([755.0, 775.0])])), (valves, 1)),
        target_seat=np.full(valves, target),
        target_open=np.full(valves, draw(st.sampled_from([np.nan, 758.0]))),
        refused=draw(arrays(np.bool_, (valves, stacks), elements=st.sampled_from([False, False, True]))),
        locked=locked,
        counts={0.4e-3: draw(st.integers(0, 3))} if draw(st.booleans()) else {},
    )


def stands(table: PairTable, chosen: PairChosen) -> bool:
    """Whether a plan keeps every limit, gives no spring twice, and is told as it is."""
    plan = list(zip(range(len(table.valves)), chosen.outers, chosen.inners, chosen.stacks, strict=True))
    loads = [table.seat_outer[v, o, k] + table.seat_inner[v, i, k] for v, o, i, k in plan]
    return (
        not any(refusals(table, *choice) for choice in plan)
        and len(set(chosen.outers)) == len(set(chosen.inners)) == len(plan)
        and abs(chosen.spread - (max(loads) - min(loads))) < 1e-9
        and abs(chosen.deviation - sum(off_target(table, *choice) for choice in plan)) < 1e-6
        and chosen.shims == sum(len(table.stacks[k]) for k in chosen.stacks)
    )


@given(table=small_pair_tables())
def test_no_plan_of_all_is_better(table: PairTable) -> None:
    chosen = paired_fit(table)
    assert agree(chosen_verdict(chosen), best_of_all(table))
    if chosen is not None:
        assert chosen.proved
        assert stands(table, chosen)


@pytest.mark.parametrize("seed", [1, 2])
def test_on_a_small_head_no_plan_of_all_is_better(seed: int) -> None:
    table = pair_head(3, 4, 4, seed=seed)
    chosen = paired_fit(table)
    assert chosen is not None
    assert chosen.proved
    assert agree(chosen_verdict(chosen), best_of_all(table))


def test_eight_valves_are_proved_and_better_than_exchanges(monkeypatch: pytest.MonkeyPatch) -> None:
    table = pair_head(8, 12, 12, seed=1)
    best = paired_fit(table)
    monkeypatch.setattr(pairs, "MOST_CHOICES", 0)
    exchanged = paired_fit(table)
    assert best is not None
    assert exchanged is not None
    assert stands(table, best)
    assert stands(table, exchanged)
    assert (best.proved, exchanged.proved) == (True, False)
    assert best.spread < exchanged.spread < 0.02 * 150 * LBF


def test_locks_are_kept() -> None:
    locked = np.full((6, 3), -1)
    locked[1], locked[4] = (3, -1, 0), (-1, 5, -1)
    table = pair_head(6, 8, 8, seed=3, locked=locked, tolerance=0.1)
    chosen = paired_fit(table)
    assert chosen is not None
    assert (chosen.outers[1], chosen.stacks[1], chosen.inners[4]) == (3, 0, 5)
    assert stands(table, chosen)


def test_counted_shims_are_kept_to() -> None:
    free = paired_fit(pair_head(4, 6, 6, seed=1))
    few = pair_head(4, 6, 6, seed=1, tolerance=0.1, counts=dict.fromkeys(STOCK_SHIMS, 0))
    none = paired_fit(few)
    assert free is not None
    assert none is not None
    assert free.shims > none.shims == 0
    assert stands(few, none)


def test_too_few_inners_leave_no_plan() -> None:
    assert paired_fit(pair_head(4, 6, 3, seed=1)) is None


def test_a_plan_that_is_not_found_is_not_called_impossible(monkeypatch: pytest.MonkeyPatch) -> None:
    table = pair_head(6, 8, 8, seed=3)
    monkeypatch.setattr(pairs, "MOST_CHOICES", 0)
    with pytest.raises(NotKnownError):
        paired_fit(table, time_limit=0.0)


def test_progress_rises_from_nothing_to_all_and_may_cancel() -> None:
    shares: list[float] = []
    assert paired_fit(pair_head(4, 6, 6, seed=1), shares.append) is not None
    assert shares == sorted(shares)
    assert (shares[0], shares[-1]) == (0.0, 1.0)

    def stop(share: float) -> None:
        if share > 0:
            raise Cancelled

    with pytest.raises(Cancelled):
        paired_fit(pair_head(8, 8, 8, seed=1), stop)


def test_a_table_of_the_wrong_shape_is_refused() -> None:
    with pytest.raises(InputError, match="refused of shape"):
        replace(pair_head(4, 6, 6, seed=1), refused=np.zeros((4, 2), dtype=np.bool_))
