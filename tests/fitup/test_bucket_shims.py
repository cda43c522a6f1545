"""Bucket shims: the formula, the fewest bought, the least deviation; against trying everything on small heads."""

from __future__ import annotations

import itertools

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


def test_nonsense_is_refused() -> None:
    with pytest.raises(InputError):
        chosen([2.5], [0.3], tolerance=-1.0)
    with pytest.raises(InputError):
        chosen([2.5], [0.3], grid=0.0)


@given(
    st.lists(st.tuples(st.integers(0, 8), st.integers(-6, 8)), min_size=1, max_size=3),
    st.lists(st.integers(-2, 12), max_size=2),
)
@settings(max_examples=60, deadline=None)
def test_nothing_better_is_found_by_trying_everything(valves: list[tuple[int, int]], stock: list[int]) -> None:
    old = np.array([2.40 + 0.05 * size for size, _ in valves]) * MM
    found = np.array([0.20 + 0.02 * off for _, off in valves]) * MM
    wanted, shelf = np.full(old.size, 0.20 * MM), np.array([2.40 + 0.05 * each for each in stock]) * MM
    counts = tuple(1 for _ in stock)
    got = choose_shims(old, found, wanted, tolerance=0.03 * MM, stock=shelf, counts=counts)
    moving = [place for place, each in enumerate(got) if not each.kept]
    off = [abs(got[place].lash - 0.20 * MM) for place in moving if not got[place].buy]
    ours = (sum(each.buy for each in got), max(off, default=0.0), sum(off))
    assert ours <= best(old, found, moving, shelf)
    taken = [(each.taken_from, each.stock) for each in got if not each.kept and not each.buy]
    assert len(set(taken)) == len(taken)  # no shim twice


def best(old: np.ndarray, found: np.ndarray, moving: list[int], shelf: np.ndarray) -> tuple[float, float, float]:  # type: ignore[type-arg]
    """Bought, greatest and summed deviation of the best of all ways, with some slack for floats."""
    pool = [*(old[place] for place in moving), *shelf]
    answers = []
    for pick in itertools.product([None, *range(len(pool))], repeat=len(moving)):
        used = [each for each in pick if each is not None]
        if len(set(used)) < len(used):
            continue
        off = [
            abs(found[place] + old[place] - pool[each] - 0.20 * MM)
            for place, each in zip(moving, pick, strict=True)
            if each is not None
        ]
        if all(each <= 0.03 * MM + 1e-9 for each in off):
            answers.append((pick.count(None), max(off, default=0.0) + 2e-9, sum(off) + 1e-8))
    return min(answers)
