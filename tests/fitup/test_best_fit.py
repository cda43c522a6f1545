"""The best plan against every plan tried on small cases, and against an integer programme on larger ones."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given

from loadbench.errors import Cancelled
from loadbench.fitup.best_fit import best_fit
from loadbench.fitup.choice_table import ChoiceTable
from tests.fitup.judges import (
    LBF,
    Verdict,
    best_of_all,
    by_integer_programme,
    head,
    holds,
    small_tables,
    table,
    verdict,
)

SHIM = 0.4e-3


def agree(found: Verdict | None, judged: Verdict | None) -> bool:
    if found is None or judged is None:
        return found is judged
    return (
        abs(found[0] - judged[0]) < 2e-5 and abs(found[1] - judged[1]) < 2e-5 and found[2] == judged[2]
    )  # the programme's tolerances


@given(choices=small_tables())
def test_no_plan_of_all_is_better(choices: ChoiceTable) -> None:
    chosen = best_fit(choices)
    assert agree(verdict(chosen), best_of_all(choices))
    if chosen is not None:
        assert chosen.proved
        assert holds(choices, chosen)


@pytest.mark.parametrize(("valves", "springs"), [(8, 10), (8, 8), (10, 12), (12, 14)])
@pytest.mark.parametrize("seed", [1, 2])
def test_an_integer_programme_finds_nothing_better(valves: int, springs: int, seed: int) -> None:
    choices = head(valves, springs, seed=seed, tolerance=0.03)
    chosen = best_fit(choices)
    assert agree(verdict(chosen), by_integer_programme(choices))
    assert chosen is None or holds(choices, chosen)


def test_a_judge_sees_a_worse_plan() -> None:
    choices = head(3, 4, seed=5)
    spread, deviation, shims = best_of_all(choices) or (0.0, 0.0, 0)
    assert agree((spread, deviation, shims), by_integer_programme(choices))
    worse = ((spread + 1e-3, deviation, shims), (spread, deviation + 1e-3, shims), (spread, deviation, shims + 1))
    assert not any(agree(each, (spread, deviation, shims)) for each in worse)


def test_spread_comes_before_deviation_and_deviation_before_shims() -> None:
    seat = [[[100.0, 110.0], [104.0, 111.0]], [[112.0, 120.0], [103.0, 110.0]]]
    deviation = [[[0, 9], [0, 0]], [[0, 0], [0, 9]]]
    chosen = best_fit(table(seat, [(), (SHIM,)], deviation=deviation))
    assert chosen is not None
    # 110 and 110 with two shims and the most deviation, though 111 and 112 have neither.
    assert verdict(chosen) == (0.0, 18.0, 2)
    tied = table([[[100.0, 100.0], [100.0, 100.0]]], [(SHIM,), ()], deviation=[[[0, 1], [2, 0]]])
    assert verdict(best_fit(tied)) == (0.0, 0.0, 0)


def test_of_all_windows_as_narrow_the_nearest_to_the_target_is_taken() -> None:
    seat = [[[100.0], [np.nan], [300.0], [np.nan]], [[np.nan], [101.0], [np.nan], [301.0]]]
    for near in (0, 2):
        deviation = np.full((2, 4, 1), 5.0)
        deviation[:, near : near + 2] = 1.0
        chosen = best_fit(table(seat, [()], deviation=deviation))
        assert chosen is not None
        assert chosen.springs == (near, near + 1)


def test_what_float_rounding_parts_is_equal() -> None:
    seat = np.array([[[600 * (1 + 3e-13)], [600.0]], [[600.0], [600 * (1 - 3e-13)]]])
    deviation = [[[1.0], [0.0]], [[0.0], [1.0]]]
    chosen = best_fit(table(seat, [()], deviation=deviation))
    assert chosen is not None
    assert chosen.springs == (1, 0)


def test_without_an_assignment_there_is_none() -> None:
    assert best_fit(table(np.full((2, 1, 1), 600.0), [()])) is None
    assert best_fit(table(np.full((1, 1, 1), np.nan), [()])) is None
    refused = np.array([[[False], [True]], [[False], [True]]])
    assert best_fit(table(np.full((2, 2, 1), 600.0), [()], refused={"bind": refused})) is None


def test_a_locked_spring_widens_the_spread_it_has_to() -> None:
    choices = head(4, 6, seed=2)
    locked = np.zeros(choices.seat.shape, dtype=np.bool_)
    locked[:, 0], locked[1], locked[1, 0] = True, True, False
    free, kept = best_fit(choices), best_fit(replace(choices, refused={"locked": locked}))
    assert free is not None
    assert kept is not None
    assert kept.springs[1] == 0
    assert kept.spread >= free.spread


def test_two_groups_far_apart_are_pulled_together_to_their_limits() -> None:
    choices = head(8, 12, seed=4)
    seat = choices.seat.copy()
    seat[4:] *= 2.0
    target = np.where(np.arange(8) < 4, 150, 300)[:, None, None] * LBF
    both = replace(choices, seat=seat, refused={"seat-tolerance": np.abs(seat - target) > 0.05 * target})
    chosen = best_fit(both)
    assert agree(verdict(chosen), by_integer_programme(both))


def test_progress_rises_from_nothing_to_all_and_may_cancel() -> None:
    shares: list[float] = []
    assert best_fit(head(6, 8, seed=1), shares.append) is not None
    assert shares == sorted(shares)
    assert (shares[0], shares[-1]) == (0.0, 1.0)

    def stop(_: float) -> None:
        raise Cancelled

    with pytest.raises(Cancelled):
        best_fit(head(6, 8, seed=1), stop)


def test_the_largest_head_of_the_trade_is_solved() -> None:
    choices = head(32, 64, seed=1)
    chosen = best_fit(choices)
    assert chosen is not None
    assert chosen.proved
    assert holds(choices, chosen)
    assert chosen.spread < 0.2 * LBF
