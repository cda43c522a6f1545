"""Judges of a fit, which share nothing with the solver: every plan tried, and an integer programme over the table."""

from __future__ import annotations

import itertools
from collections.abc import Iterator
from typing import Any

import numpy as np
from hypothesis import strategies as st
from hypothesis.extra.numpy import arrays

from loadbench.fitup.choice_table import ChoiceTable, Chosen
from loadbench.fitup.inverse import STOCK_SHIMS
from loadbench.fitup.stacks import stacks_of

Verdict = tuple[float, float, int]
"""Spread, N; deviation, N; shims."""

LBF, IN = 4.4482216152605, 0.0254


def table(seat: Any, stacks: Any, *, deviation: Any = None, refused: Any = None, counts: Any = None) -> ChoiceTable:
    """A table of choices from what a test cares about."""
    loads = np.asarray(seat, dtype=np.float64)
    return ChoiceTable(
        valves=tuple(f"valve {row}" for row in range(loads.shape[0])),
        springs=tuple(f"spring {row}" for row in range(loads.shape[1])),
        stacks=tuple(stacks),
        seat=loads,
        open=loads + 100.0,
        deviation=np.zeros(loads.shape) if deviation is None else np.asarray(deviation, dtype=np.float64),
        refused={} if refused is None else refused,
        counts=counts or {},
    )


def head(
    valves: int, springs: int, *, seed: int, stock: Any = STOCK_SHIMS, tolerance: float = 0.0, counts: Any = None
) -> ChoiceTable:
    """Invented springs of about 150 lbf at 1.900 in on valves of about 1.930 in, in SI."""
    draw = np.random.default_rng(seed)
    load, rate = draw.normal(150, 4, springs), draw.normal(420, 8, springs)
    bare = 1.93 + draw.normal(0, 0.008, valves)
    stacks = stacks_of(stock, counts)
    height = bare[:, None] - np.array([sum(stack) for stack in stacks]) / IN
    seat = (load[:, None] + rate[:, None] * (1.9 - height[:, None, :])) * LBF
    off = np.abs(seat - 150 * LBF)
    refused = {"seat-tolerance": off > tolerance * 150 * LBF} if tolerance else {}
    return table(seat, stacks, deviation=off, refused=refused, counts=counts)


def verdict(chosen: Chosen | None) -> Verdict | None:
    """What a plan is judged by."""
    return None if chosen is None else (chosen.spread, chosen.deviation, chosen.shims)


def holds(choices: ChoiceTable, chosen: Chosen) -> bool:
    """Whether a plan keeps the limits and counts, gives no spring twice, and is told as it is."""
    rows = np.arange(len(choices.valves))
    springs, stacks = np.array(chosen.springs), np.array(chosen.stacks)
    loads = choices.seat[rows, springs, stacks]
    used = [shim for stack in stacks for shim in choices.stacks[stack]]
    return (
        bool(choices.allowed[rows, springs, stacks].all())
        and len(set(chosen.springs)) == len(rows)
        and all(sum(abs(shim - size) < 1e-9 for shim in used) <= count for size, count in choices.counts.items())
        and chosen.spread == loads.max() - loads.min()
        and np.isclose(chosen.deviation, choices.deviation[rows, springs, stacks].sum(), rtol=1e-12, atol=1e-9)
        and chosen.shims == len(used)
    )


def every_plan(choices: ChoiceTable) -> Iterator[Verdict]:
    """All plans that hold, by permutations and products."""
    valves, springs, stacks = choices.seat.shape
    rows = np.arange(valves)
    picks = np.array(list(itertools.product(range(stacks), repeat=valves)))
    shims = np.array([len(stack) for stack in choices.stacks])[picks].sum(axis=1)
    within = np.ones(len(picks), dtype=bool)
    for size, count in choices.counts.items():
        own = np.array([sum(abs(shim - size) < 1e-9 for shim in stack) for stack in choices.stacks])
        within &= own[picks].sum(axis=1) <= count
    for order in itertools.permutations(range(springs), valves):
        good = within & choices.allowed[rows, order, picks].all(axis=1)
        loads = choices.seat[rows, order, picks][good]
        deviation = choices.deviation[rows, order, picks][good].sum(axis=1)
        yield from zip(
            (loads.max(axis=1) - loads.min(axis=1)).tolist(), deviation.tolist(), shims[good].tolist(), strict=True
        )


def best_of_all(choices: ChoiceTable) -> Verdict | None:
    """The best of all plans; loads, spreads and deviations that differ by float rounding are equal."""
    return best_verdict(list(every_plan(choices)), 1e-9 * float(np.nanmax(np.abs(choices.seat), initial=0.0)))


def best_verdict(plans: list[Verdict], slack: float) -> Verdict | None:
    """Least spread, then least deviation, then fewest shims."""
    if not plans:
        return None
    least = min(plan[0] for plan in plans)
    return min((plan for plan in plans if plan[0] <= least + slack), key=lambda plan: (round(plan[1], 6), plan[2]))


def by_integer_programme(choices: ChoiceTable) -> Verdict | None:
    """The same three aims one after the other, each a bound for the next, by scipy's milp over the whole table."""
    from scipy.optimize import Bounds, LinearConstraint, milp

    valve, spring, stack = np.nonzero(choices.allowed)
    count = len(valve)
    load = choices.seat[valve, spring, stack]
    deviation = choices.deviation[valve, spring, stack]
    shims = np.array([len(each) for each in choices.stacks], dtype=float)[stack]
    own = (valve == np.arange(len(choices.valves))[:, None]).astype(float)
    once = (spring == np.arange(len(choices.springs))[:, None]).astype(float)
    zero, one = np.zeros((len(own), 1)), np.ones((len(own), 1))
    # The last two unknowns are the least and the greatest load.
    rows = [
        LinearConstraint(np.hstack([own, zero, zero]), 1, 1),
        LinearConstraint(np.hstack([once, np.zeros((len(once), 2))]), 0, 1),
        LinearConstraint(np.hstack([own * load, -one, zero]), 0, np.inf),
        LinearConstraint(np.hstack([own * load, zero, -one]), -np.inf, 0),
    ]
    for size, there in choices.counts.items():
        takes = np.array([sum(abs(shim - size) < 1e-9 for shim in each) for each in choices.stacks], dtype=float)[stack]
        rows.append(LinearConstraint(np.concatenate([takes, [0, 0]]), 0, there))
    aims = (
        np.concatenate([np.zeros(count), [-1, 1]]),
        np.concatenate([deviation, [0, 0]]),
        np.concatenate([shims, [0, 0]]),
    )
    found = []
    for aim in aims:
        solved = milp(
            aim,
            constraints=rows,
            integrality=np.concatenate([np.ones(count), [0, 0]]),
            bounds=Bounds(np.zeros(count + 2), np.concatenate([np.ones(count), [np.inf, np.inf]])),
            options={"mip_rel_gap": 0.0},
        )
        if solved.status == 2:
            return None
        assert solved.status == 0
        found.append(float(solved.fun))
        rows.append(LinearConstraint(aim, -np.inf, solved.fun + 1e-5))
    return found[0], found[1], round(found[2])


# Small tables, all that is odd about them drawn often: ties, noise of rounding, gaps, refusals, locks.

STACKS = ((), (0.4e-3,), (0.8e-3,), (0.4e-3, 0.4e-3), (0.8e-3, 0.4e-3))


@st.composite
def small_tables(draw: st.DrawFn, *, counted: bool = False) -> ChoiceTable:
    """Tables of up to four valves, five springs and four stacks."""
    valves = draw(st.integers(1, 4))
    springs = draw(st.integers(valves, 5) if draw(st.integers(0, 9)) else st.just(max(valves - 1, 1)))
    stacks = draw(st.permutations(STACKS))[: draw(st.integers(1, 4))]
    shape = (valves, springs, len(stacks))
    step, noise = draw(st.sampled_from([1.0, 0.1, 7.3])), draw(st.sampled_from([0.0, 1e-13]))
    seat = 600 + step * draw(arrays(np.int64, shape, elements=st.integers(0, draw(st.sampled_from([3, 12, 60])))))
    seat = seat * (1 + noise * draw(arrays(np.int64, shape, elements=st.integers(-2, 2))))
    if draw(st.booleans()):
        seat[draw(arrays(np.bool_, shape, elements=st.booleans()))] = np.nan
    refused = draw(arrays(np.bool_, shape, elements=st.sampled_from([False, False, False, True])))
    deviation = 0.5 * draw(arrays(np.int64, shape, elements=st.integers(0, 4)))
    return table(
        seat,
        stacks,
        deviation=deviation,
        refused={"maker": refused & draw(st.booleans()), "locked": draw(locks(shape))},
        counts={size: draw(st.integers(0, 3)) for size in (0.4e-3, 0.8e-3) if draw(st.booleans())} if counted else {},
    )


@st.composite
def locks(draw: st.DrawFn, shape: tuple[int, int, int]) -> Any:
    """A locked spring stands on its own valve only, a locked stack beneath it."""
    locked = np.zeros(shape, dtype=np.bool_)
    if draw(st.booleans()):
        valve, spring = draw(st.integers(0, shape[0] - 1)), draw(st.integers(0, shape[1] - 1))
        locked[:, spring], locked[valve] = True, True
        locked[valve, spring] = False
        if draw(st.booleans()):
            locked[valve] |= (np.arange(shape[2]) != draw(st.integers(0, shape[2] - 1)))[None, :]
    return locked
