"""Durations, areas, lash and two lobes side by side."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from loadbench.motion.durations import area, compare, duration, lash_effect, open_close
from loadbench.motion.laws import rise
from loadbench.motion.lobe import LawLobe, PowerLobe, solid_ramp
from loadbench.motion.ratio import scaled

MM = 1e-3
POWERS = (2.0, 10.0, 18.0, 26.0, 34.0)
LOBE = LawLobe(law="3-4-5", lift=10 * MM, opening=1.0, closing=1.2)


def test_open_and_close_lie_where_the_law_says() -> None:
    level = 10 * MM * float(rise("3-4-5", 0.25))
    opens, closes = open_close(LOBE, np.array([level, 5 * MM]))
    assert opens == pytest.approx([-0.75, -0.5], rel=1e-12)
    assert closes == pytest.approx([0.9, 0.6], rel=1e-12)
    assert duration(LOBE, level) == pytest.approx(1.65, rel=1e-12)


def test_at_zero_the_whole_lift_counts() -> None:
    # The lift starts with the third power of the angle: 1e-5 of the flank is 1e-14 of the lift.
    ramped = LawLobe(law="3-4-5", lift=10 * MM, opening=1.0, closing=1.2, opening_ramp=solid_ramp(0.2 * MM, 0.3))
    assert float(duration(LOBE)) == pytest.approx(2.2, abs=1e-4)
    assert float(duration(ramped)) == pytest.approx(2.5, abs=1e-4)


def test_a_lift_that_is_never_reached() -> None:
    assert np.isnan(open_close(LOBE, 11 * MM)).all()
    assert duration(LOBE, np.array([5 * MM, 11 * MM]))[1] == 0.0


@pytest.mark.reference("stoddart")
def test_area_of_a_power_polynomial() -> None:
    lobe = PowerLobe(powers=POWERS, lift=10 * MM, half_opening=1.0, half_closing=1.1)
    assert float(area(lobe)) == pytest.approx(10 * MM * 2.1 * 0.537100327, rel=1e-7)


@given(st.floats(0.0, 9.5 * MM), st.floats(0.5, 2.0))
def test_durations_are_those_of_a_scaled_lift(level: float, scale: float) -> None:
    bigger = scaled(LOBE, scale)
    assert float(duration(bigger, scale * level)) == pytest.approx(float(duration(LOBE, level)), abs=1e-4)
    assert float(area(bigger, scale * level)) == pytest.approx(scale * float(area(LOBE, level)), rel=1e-9, abs=1e-12)


@given(st.floats(0.05 * MM, 9 * MM), st.floats(0.05 * MM, 9 * MM))
def test_higher_is_shorter(one: float, other: float) -> None:
    low, high = sorted((one, other))
    assert duration(LOBE, high) <= duration(LOBE, low) + 1e-12
    assert area(LOBE, high) <= area(LOBE, low) + 1e-12


def test_lash_takes_duration() -> None:
    lash = np.array([0.0, 0.3, 0.5]) * MM
    taken = lash_effect(LOBE, lash, 1 * MM)
    assert taken[0] == 0.0
    assert 0 < taken[1] < taken[2]
    assert taken[2] == pytest.approx(float(duration(LOBE, 1 * MM) - duration(LOBE, 1.5 * MM)), rel=1e-12)
    # On a ramp of constant speed each side loses lash over speed.
    ramp = solid_ramp(0.5 * MM, 0.5)
    ramped = LawLobe(law="3-4-5", lift=10 * MM, opening=1.0, closing=1.0, opening_ramp=ramp, closing_ramp=ramp)
    lost = float(lash_effect(ramped, 0.1 * MM, 0.2 * MM))
    assert lost == pytest.approx(2 * 0.1 * MM / ramp.speed, rel=1e-9)


def test_two_lobes_side_by_side() -> None:
    other = LawLobe(law="cycloidal", lift=11 * MM, opening=1.0, closing=1.2)
    rows = {(row.what, row.at_lift): row for row in compare(LOBE, other, [1 * MM, 5 * MM])}
    assert [row.what for row in compare(LOBE, other, [1 * MM])][:3] == ["greatest lift", "area", "duration"]
    lift = rows["greatest lift", None]
    assert (lift.one, lift.other, lift.unit) == (10 * MM, 11 * MM, "m")
    assert rows["duration", 5 * MM].one == pytest.approx(1.1, rel=1e-9)
    assert rows["duration", 1 * MM].other == pytest.approx(float(duration(other, 1 * MM)), rel=1e-12)
    assert rows["area", None].other == pytest.approx(11 * MM * 1.1, rel=1e-6)
    assert rows["greatest speed", None].one == pytest.approx(10 * MM * 1.875, rel=1e-5)
    assert rows["greatest acceleration", None].other == pytest.approx(11 * MM * 2 * math.pi, rel=1e-5)
    assert rows["least acceleration", None].one == pytest.approx(-10 * MM * 5.77350269, rel=1e-5)
    assert rows["greatest jerk", None].one == pytest.approx(10 * MM * 60, rel=1e-2)
