"""Lobes by law: flanks, ramps, the lobe for a wanted valve lift, and ratios."""

from __future__ import annotations

import dataclasses
import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from loadbench.errors import InputError
from loadbench.motion.laws import LAWS, rise
from loadbench.motion.lift import Lift
from loadbench.motion.lobe import LawLobe, PowerLobe, Ramp, hydraulic_ramp, solid_ramp
from loadbench.motion.ratio import ByRatioCurve, scaled, with_ratio_curve
from tests.motion.lifts import FOUR_FIVE_SIX_SEVEN, power_lift

MM = 1e-3
POWERS = (2.0, 10.0, 18.0, 26.0, 34.0)
TURN = np.linspace(-math.pi, math.pi, 7201)
OFF_NOSE = TURN[np.abs(TURN) > 1e-6]
rad = math.radians


def lobe(law: str = "4-5-6-7") -> LawLobe:
    ramps = solid_ramp(0.3 * MM, rad(30)), hydraulic_ramp(0.2 * MM, rad(20))
    return LawLobe(
        law=law, lift=10.5 * MM, opening=rad(60), closing=rad(70), opening_ramp=ramps[0], closing_ramp=ramps[1]
    )


def assert_derivatives(lift: Lift, joints: tuple[float, ...], within: float = 1e-5) -> None:
    """Each derivative is the slope of the one before, away from the joints."""
    step = 1e-5
    at = TURN[1:-1:7]
    at = at[np.abs(at[:, None] - np.array(joints)).min(axis=1) > 1e-3]
    for order in range(3):
        slope = (lift(at + step, order) - lift(at - step, order)) / (2 * step)
        assert slope == pytest.approx(lift(at, order + 1), abs=within * float(np.abs(slope).max()))


def test_lobes_are_as_those_written_apart() -> None:
    law = LawLobe(law="4-5-6-7", lift=13.7 * MM, opening=rad(65), closing=rad(65))
    power = PowerLobe(powers=POWERS, lift=10.5 * MM, half_opening=rad(62), half_closing=rad(62))
    for order in range(4):
        # The lifts written apart have no derivative on the nose itself.
        expected = FOUR_FIVE_SIX_SEVEN(OFF_NOSE, order)
        assert law(OFF_NOSE, order) == pytest.approx(expected, abs=1e-11 * float(np.abs(expected).max()))
        expected = power_lift(10.5 * MM, 62)(OFF_NOSE, order)
        assert power(OFF_NOSE, order) == pytest.approx(expected, abs=1e-11 * float(np.abs(expected).max()))


def test_each_side_has_its_own_duration_law_and_ramp() -> None:
    made = lobe()
    assert made.span == pytest.approx((-rad(90), rad(90)))
    assert float(made(0.0)) == pytest.approx(10.5 * MM, rel=1e-12)
    half = (10.5 - 0.3) * MM * float(rise("4-5-6-7", 0.5)) + 0.3 * MM
    assert float(made(-rad(30))) == pytest.approx(half, rel=1e-12)
    half = (10.5 - 0.2) * MM * float(rise("4-5-6-7", 0.5)) + 0.2 * MM
    assert float(made(rad(35))) == pytest.approx(half, rel=1e-12)
    mixed = LawLobe(law="3-4-5", lift=1.0, opening=1.0, closing=1.0, closing_law="harmonic")
    assert float(mixed(-0.75)) == pytest.approx(float(rise("3-4-5", 0.25)))
    assert float(mixed(0.75)) == pytest.approx(float(rise("harmonic", 0.25)))


def test_derivatives_with_ramps() -> None:
    assert_derivatives(lobe(), (0.0, *(rad(at) for at in (-90, -82.5, -60, -52.5, 50, 70, 90))))
    power = PowerLobe(
        powers=POWERS, lift=8 * MM, half_opening=rad(60), half_closing=rad(70), opening_ramp=solid_ramp(0.3 * MM, 0.4)
    )
    assert_derivatives(power, (0.0, rad(-60), rad(70), -rad(60) - 0.4, -rad(60) - 0.3, -rad(60) + 0.1))


def test_a_solid_ramp_takes_up_lash_at_one_speed() -> None:
    ramp = solid_ramp(0.3 * MM, rad(30))
    steady = np.radians(np.linspace(-22, -1, 50))
    assert ramp(steady, 1) == pytest.approx(np.full(50, ramp.speed), rel=1e-12)
    assert ramp.speed == pytest.approx(0.3 * MM / rad(30))
    ends = np.array([-rad(31), -rad(30), rad(7.5), rad(8)])
    assert ramp(ends) == pytest.approx([0, 0, 0.3 * MM, 0.3 * MM], abs=1e-12)
    assert ramp(ends, 1) == pytest.approx(np.zeros(4), abs=1e-12)
    assert ramp(ends, 2) == pytest.approx(np.zeros(4), abs=1e-12)


def test_a_hydraulic_ramp_is_fastest_where_the_flank_starts() -> None:
    ramp = hydraulic_ramp(0.2 * MM, rad(20))
    at = np.radians(np.linspace(-20, 20, 401))
    assert int(ramp(at, 1).argmax()) == 200
    assert float(ramp(0.0)) == pytest.approx(0.1 * MM)


@given(st.sampled_from(LAWS), st.floats(0.5, 2.0), st.floats(0.4, 1.5))
def test_lift_and_duration_scale(law: str, bigger: float, longer: float) -> None:
    one = LawLobe(law=law, lift=MM, opening=1.0, closing=1.2)
    other = LawLobe(law=law, lift=bigger * MM, opening=longer, closing=1.2 * longer)
    at = np.linspace(-1.4, 1.4, 29)
    for order in range(4):
        expected = one(at, order) * bigger / longer**order
        assert other(at * longer, order) == pytest.approx(expected, rel=1e-6, abs=1e-9)


@pytest.mark.parametrize(
    ("changed", "told"),
    [
        ({"law": "cubic"}, "no law"),
        ({"lift": 0.0}, "lift of a lobe"),
        ({"opening": -1.0}, "duration of a lobe"),
        ({"closing": math.nan}, "duration of a lobe"),
        ({"opening": rad(160)}, "half a turn"),
        ({"lift": 0.3 * MM}, "as high as the lobe"),
        ({"closing": rad(10)}, "after the nose"),
    ],
)
def test_what_is_no_lobe_is_refused(changed: dict[str, float], told: str) -> None:
    with pytest.raises(InputError, match=told):
        dataclasses.replace(lobe(), **changed)  # type: ignore[arg-type]


def test_what_is_no_ramp_is_refused() -> None:
    with pytest.raises(InputError, match="height of a ramp"):
        solid_ramp(0.0, 0.5)
    with pytest.raises(InputError, match="longer than the ramp"):
        Ramp(MM, 0.3, 0.4)


# Ratios


def test_a_constant_ratio_scales_all() -> None:
    valve = scaled(lobe(), 1.7)
    for order in range(4):
        assert valve(TURN, order) == pytest.approx(1.7 * lobe()(TURN, order), rel=1e-14)
    one_row = with_ratio_curve(lobe(), [5 * MM], [1.7])
    assert one_row(TURN) == pytest.approx(valve(TURN), rel=1e-14)
    flat = with_ratio_curve(lobe(), [2 * MM, 9 * MM], [1.7, 1.7])
    assert flat(TURN, 3) == pytest.approx(valve(TURN, 3), rel=1e-9, abs=1e-12)


LIFTS, RATIOS = np.array([2.0, 6.0, 10.0, 14.0]) * MM, np.array([1.62, 1.68, 1.71, 1.69])


def test_a_ratio_curve_goes_through_its_rows() -> None:
    valve = with_ratio_curve(lobe(), LIFTS, RATIOS)
    assert isinstance(valve, ByRatioCurve)
    assert valve.valve_lift(LIFTS / RATIOS) == pytest.approx(LIFTS, rel=1e-12)
    assert float(valve(0.0)) / 10.5e-3 == pytest.approx(float(valve.curve(float(valve(0.0)))), rel=1e-12)
    assert_derivatives(valve, (0.0, *(rad(at) for at in (-90, -82.5, -60, -52.5, 50, 70, 90))), 1e-4)
    # Force goes by the local ratio: the valve's speed over the follower's.
    at = np.array([-0.6, 0.4, 0.8])
    assert valve.local_ratio(valve(at)) == pytest.approx(valve(at, 1) / lobe()(at, 1), rel=1e-9)


@pytest.mark.parametrize(
    ("lifts", "ratios", "told"),
    [
        ([1 * MM, 1 * MM], [1.6, 1.7], "lifts of a ratio table"),
        ([-1 * MM, 1 * MM], [1.6, 1.7], "lifts of a ratio table"),
        ([1 * MM, 2 * MM], [1.6, 0.0], "ratio of 0"),
        ([1 * MM, 2 * MM], [1.6], "a ratio table"),
        ([1 * MM, 2 * MM, 3 * MM], [1.0, 1.6, 3.0], "more lobe is less valve"),
    ],
)
def test_what_is_no_ratio_table_is_refused(lifts: list[float], ratios: list[float], told: str) -> None:
    with pytest.raises(InputError, match=told):
        with_ratio_curve(lobe(), lifts, ratios)


def test_a_ratio_of_nothing_is_refused() -> None:
    with pytest.raises(InputError, match="ratio of 0"):
        scaled(lobe(), 0.0)
