"""Bucket shims: the formula, the fewest bought, the least deviation; against trying everything on small heads."""

from __future__ import annotations

import itertools
import time

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from loadbench.errors import InputError
from loadbench.fitup.bucket_shims import ShimChoice, choose_shims, shim_wanted

MM = 1e-3
NONE = np.array([])


def chosen(old: list[float], found: list[float], **more: object) -> tuple[ShimChoice, ...]:
    wanted = np.full(len(old), 0.20 * MM)
    given_: dict[str, object] = {"tolerance": 0.03 * MM, "stock": NONE} | more
    return choose_shims(np.array(old) * MM, np.array(found) * MM, wanted, **given_)  # type: ignore[arg-type]


def test_the_new_shim_takes_what_is_too_much_of_lash() -> None:
    new = shim_wanted(np.array([2.50 * MM]), np.array([0.28 * MM]), np.array([0.20 * MM]))
    assert new.tolist() == pytest.approx([2.58 * MM])


def test_a_valve_within_its_tolerance_keeps_its_shim() -> None:
    (only,) = chosen([2.50], [0.22])
    assert only.kept
    assert (only.shim, only.lash) == pytest.approx((2.50 * MM, 0.22 * MM))


def test_shims_are_crossed_over_before_any_is_bought() -> None:
    one, other = chosen([2.50, 2.60], [0.30, 0.10])
    assert (one.taken_from, other.taken_from) == (1, 0)
    assert not one.buy
    assert (one.lash, other.lash) == pytest.approx((0.20 * MM, 0.20 * MM))


def test_what_no_stock_reaches_is_bought_on_the_grid() -> None:
    (only,) = chosen([2.50], [0.31], stock=np.array([2.30 * MM]))
    assert only.buy
    assert only.shim == pytest.approx(2.60 * MM)
    assert only.lash == pytest.approx(0.21 * MM)


def test_counts_are_kept() -> None:
    stock = np.array([2.60 * MM])
    many = chosen([2.50, 2.50], [0.30, 0.30], stock=stock)
    assert [each.stock for each in many] == [0, 0]
    one = chosen([2.50, 2.50], [0.30, 0.30], stock=stock, counts=(1,))
    assert sorted(each.buy for each in one) == [False, True]


def test_a_bought_shim_counts_in_the_greatest_deviation() -> None:
    # One shim of 2.62 in stock: the first valve just right, the second 0.02 off. Bought on the grid the first would be
    # 0.02 off, the second just right: so the first has the one from stock and the second is bought.
    got = chosen([2.50, 2.50], [0.32, 0.30], stock=np.array([2.62]) * MM, counts=(1,))
    assert [each.buy for each in got] == [False, True]
    assert [each.lash / MM for each in got] == pytest.approx([0.20, 0.20])


def test_a_valve_that_is_well_gives_its_shim_only_where_all_may_move() -> None:
    # The second keeps 2.60, which the first wants; what is on the shelf serves the second only.
    shelf = {"stock": np.array([2.62]) * MM, "counts": (1,), "tolerance": 0.02 * MM}
    kept = chosen([2.48, 2.60], [0.32, 0.21], **shelf)
    assert [(each.buy, each.kept) for each in kept] == [(False, False), (False, True)]
    tight = chosen([2.48, 2.60], [0.31, 0.21], **shelf)
    assert [(each.buy, each.kept) for each in tight] == [(True, False), (False, True)]
    moved = chosen([2.48, 2.60], [0.31, 0.21], move_all=True, **shelf)
    assert [each.buy for each in moved] == [False, False]
    assert (moved[0].taken_from, moved[1].stock) == (1, 0)


def test_a_valve_may_keep_its_own_where_all_may_move() -> None:
    got = chosen([2.50, 2.60], [0.20, 0.20], move_all=True)
    assert [each.kept for each in got] == [True, True]
    assert [each.taken_from for each in got] == [None, None]


def test_a_grid_too_coarse_for_the_tolerance_is_told() -> None:
    (only,) = chosen([2.50], [0.325], tolerance=0.01 * MM)
    assert only.buy
    assert not only.within
    assert abs(only.lash - 0.20 * MM) == pytest.approx(0.025 * MM)


def test_a_shim_of_nothing_cannot_be_bought() -> None:
    (only,) = chosen([0.10], [0.05])
    assert only.shim == pytest.approx(0.05 * MM)
    assert chosen([0.10], [0.0], stock=NONE)[0].shim == pytest.approx(0.05 * MM)
    assert not chosen([0.10], [0.0])[0].within


@pytest.mark.parametrize(
    "bad", [{"tolerance": -1.0}, {"tolerance": np.nan}, {"grid": 0.0}, {"counts": (-1,), "stock": np.array([2e-3])}]
)
def test_nonsense_is_refused(bad: dict[str, object]) -> None:
    with pytest.raises(InputError):
        chosen([2.5], [0.3], **bad)


def test_a_value_that_is_no_number_is_told_with_its_valve() -> None:
    with pytest.raises(InputError) as told:
        chosen([2.5, 2.5], [0.3, np.nan])
    assert (told.value.place.field, told.value.place.row) == ("found", 2)


def test_nothing_to_do_is_nothing_done() -> None:
    assert chosen([], []) == ()


def test_thirty_two_valves_from_a_full_cabinet_are_quick() -> None:
    rng = np.random.default_rng(3)
    old, found = 2.5 + 0.05 * rng.integers(0, 16, 32), 0.20 + rng.uniform(-0.15, 0.25, 32)
    cabinet = np.arange(2.0, 3.5, 0.025) * MM
    chosen(list(old), list(found), stock=cabinet)  # scipy's first call loads it
    took = []
    for _ in range(5):
        start = time.perf_counter()
        got = chosen(list(old), list(found), stock=cabinet)
        took.append(time.perf_counter() - start)
    assert min(took) < 0.050
    assert all(each.within for each in got)


UNIT, WANTED, TOLERANCE = 0.005 * MM, 0.20 * MM, 0.03 * MM


@given(
    st.lists(st.tuples(st.integers(0, 30), st.integers(-20, 25)), min_size=1, max_size=3),
    st.lists(st.tuples(st.integers(-10, 50), st.integers(0, 2)), max_size=2),
    st.booleans(),
)
@settings(max_examples=150, deadline=None)
def test_nothing_better_is_found_by_trying_everything(
    valves: list[tuple[int, int]], stock: list[tuple[int, int]], move_all: bool
) -> None:
    old = 2.40 * MM + UNIT * np.array([size for size, _ in valves])
    found = WANTED + UNIT * np.array([off for _, off in valves])
    shelf = 2.40 * MM + UNIT * np.array([size for size, _ in stock])
    counts = tuple(count for _, count in stock)
    wanted = np.full(old.size, WANTED)
    got = choose_shims(old, found, wanted, tolerance=TOLERANCE, stock=shelf, counts=counts, move_all=move_all)
    off = [abs(each.lash - WANTED) for each in got]
    still = np.abs(found - WANTED) <= TOLERANCE + 1e-9
    moving = [place for place in range(old.size) if move_all or not still[place]]
    ours = (sum(each.buy for each in got), max((off[place] for place in moving), default=0.0), sum(off))
    least = best(old, found, moving, [size for size, count in zip(shelf, counts, strict=True) for _ in range(count)])
    fixed = sum(abs(found[place] - WANTED) for place in range(old.size) if place not in moving)
    assert ours[0] == least[0]
    assert ours[1] == pytest.approx(least[1], abs=2e-9)
    assert ours[2] == pytest.approx(least[2] + fixed, abs=1e-8)
    sources = [
        ("valve", place if each.kept else each.taken_from) if each.stock is None else ("stock", each.stock)
        for place, each in enumerate(got)
        if not each.buy
    ]
    for source in sources:
        allowed = 1 if source[0] == "valve" else counts[source[1]]  # type: ignore[index]
        assert sources.count(source) <= allowed
    for place, each in enumerate(got):
        assert each.lash == pytest.approx(found[place] + old[place] - each.shim, abs=1e-12)
        assert each.buy or each.within


def best(
    old: np.ndarray,  # type: ignore[type-arg]
    found: np.ndarray,  # type: ignore[type-arg]
    moving: list[int],
    shelf: list[float],
) -> tuple[int, float, float]:
    """Bought, greatest and summed deviation of the best of all ways there are."""
    pool = [*(old[place] for place in moving), *shelf]
    grid, answers = 0.05 * MM, []
    for pick in itertools.product([None, *range(len(pool))], repeat=len(moving)):
        used = [each for each in pick if each is not None]
        if len(set(used)) < len(used):
            continue
        off, allowed = [], True
        for place, each in zip(moving, pick, strict=True):
            ideal = found[place] + old[place] - WANTED
            size = max(round(ideal / grid), 1) * grid if each is None else pool[each]
            off.append(abs(size - ideal))
            allowed = allowed and (each is None or off[-1] <= TOLERANCE + 1e-9)
        if allowed:
            # Rounded: whole steps of 0.005 mm, so that a last bit decides nothing.
            answers.append((pick.count(None), round(max(off, default=0.0), 9), round(sum(off), 9)))
    return min(answers)
