"""The questions asked the other way round, against the plain answers they must give back."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from loadbench.errors import InputError
from loadbench.fitup.inverse import STOCK_SHIMS, LiftStop, height_for_load, most_lift, nearest_stack, rate_wanted

IN, LBF = 0.0254, 4.4482216152605
thou = st.integers(1200, 2400).map(lambda n: n * IN / 1000)


def straight(height: float) -> float:
    return 150 * LBF + 420 * LBF / IN * (1.9 * IN - height)


def test_the_height_for_a_load_gives_the_load() -> None:
    height = height_for_load(straight, 160 * LBF, 1.08 * IN, 2.2 * IN)
    assert height == pytest.approx((1.9 - 10 / 420) * IN, abs=1e-12)


def test_a_load_out_of_reach_has_no_height() -> None:
    assert height_for_load(straight, 600 * LBF, 1.08 * IN, 2.2 * IN) is None
    assert height_for_load(straight, 1 * LBF, 1.08 * IN, 2.2 * IN) is None
    assert height_for_load(straight, 150 * LBF, 2.0 * IN, 1.0 * IN) is None


@given(share=st.floats(0, 1))
def test_any_load_between_the_ends_is_found(share: float) -> None:
    low, high = 1.08 * IN, 2.2 * IN
    wanted = straight(high) + share * (straight(low) - straight(high))
    height = height_for_load(straight, wanted, low, high)
    assert height is not None
    assert straight(height) == pytest.approx(wanted, rel=1e-9)


@pytest.mark.parametrize(
    ("wanted", "shims"),
    [(1.915, []), (1.9, [15]), (1.885, [30]), (1.87, [30, 15]), (1.855, [60]), (1.84, [60, 15]), (1.825, [60, 30])],
)
def test_stock_shims_reach_each_step_with_the_fewest(wanted: float, shims: list[int]) -> None:
    plan = nearest_stack(1.915 * IN, wanted * IN)
    assert plan.shims == pytest.approx([size * IN / 1000 for size in shims])
    assert plan.miss == pytest.approx(0, abs=1e-12)
    assert (plan.gain, plan.pack) == (0, 0)


def test_between_two_steps_the_nearer_one_wins_and_the_miss_is_told() -> None:
    plan = nearest_stack(1.915 * IN, 1.894 * IN)
    assert plan.stack == pytest.approx(0.015 * IN)
    assert plan.miss == pytest.approx(0.006 * IN)


def test_more_height_than_bare_must_be_gained() -> None:
    plan = nearest_stack(1.915 * IN, 1.927 * IN)
    assert plan.shims == ()
    assert plan.gain == pytest.approx(0.012 * IN)
    assert plan.height == pytest.approx(1.915 * IN)


def test_a_stack_too_tall_is_not_made() -> None:
    plan = nearest_stack(2.0 * IN, 1.88 * IN)
    assert plan.stack == pytest.approx(0.090 * IN)
    assert len(plan.shims) <= 3
    assert plan.pack == pytest.approx(0.030 * IN)


def test_without_stock_there_is_no_shim() -> None:
    plan = nearest_stack(1.9 * IN, 1.88 * IN, ())
    assert plan.shims == ()
    assert plan.pack == pytest.approx(0.020 * IN)


@given(bare=thou, wanted=thou)
def test_a_stack_keeps_its_limits_and_none_comes_nearer(bare: float, wanted: float) -> None:
    plan = nearest_stack(bare, wanted)
    assert len(plan.shims) <= 3
    assert plan.stack <= 0.0900001 * IN
    assert plan.height == pytest.approx(bare - plan.stack)
    one_more = [bare - size for size in (0.0, *STOCK_SHIMS)]
    assert abs(plan.miss) <= min(abs(height - wanted) for height in one_more) + 1e-9


@pytest.mark.parametrize(("bare", "wanted", "stock"), [(0, 1, (0.001,)), (1, 0, (0.001,)), (1, 1, (0,))])
def test_heights_and_shims_at_zero_are_refused(bare: float, wanted: float, stock: tuple[float, ...]) -> None:
    with pytest.raises(InputError):
        nearest_stack(bare, wanted, stock)


def test_the_least_room_stops_the_lift() -> None:
    most = most_lift([0.82 * IN, 0.70 * IN], 0.9 * IN, 0.060 * IN, 0.060 * IN)
    assert most is not None
    assert (most.lift, most.stop, most.member) == (pytest.approx(0.64 * IN), LiftStop.COILS, 1)
    most = most_lift([0.82 * IN, 0.70 * IN], 0.64 * IN, 0.060 * IN, 0.060 * IN)
    assert most is not None
    assert (most.lift, most.stop, most.member) == (pytest.approx(0.58 * IN), LiftStop.SEAL, None)


def test_no_room_is_no_lift_and_nothing_known_no_answer() -> None:
    most = most_lift([0.02 * IN], None, 0.060 * IN, 0.060 * IN)
    assert most is not None
    assert most.lift == 0
    assert most_lift([], None, 0.001, 0.001) is None


def test_the_rate_joins_two_loads() -> None:
    assert rate_wanted(150 * LBF, 402 * LBF, 0.6 * IN) == pytest.approx(420 * LBF / IN)
    for seat, opened, lift in ((150, 402, 0), (402, 402, 0.6), (500, 402, 0.6)):
        with pytest.raises(InputError):
            rate_wanted(seat * LBF, opened * LBF, lift * IN)
