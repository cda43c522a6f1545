"""Bands of lost contact against the check cases, and their causes."""

from __future__ import annotations

import dataclasses
import math

import numpy as np
import pytest

from loadbench.arrays import Floats
from loadbench.motion.bands import Cause, LossBand, loss_bands
from loadbench.motion.force_balance import Closing, separation_speed
from loadbench.motion.gear import Gear
from loadbench.motion.lift import Lift
from loadbench.motion.periodic import strongest_order
from loadbench.motion.sweep import Sweep, sweep
from tests.motion.lifts import FOUR_FIVE_SIX_SEVEN, power_lift
from tests.motion.test_sweep import M_LIFT, M_STATIC, M_WAVES, RPM, STATIC, WAVES

SOURCE = "two-contact"


def bands(
    gear: Gear, lift: Lift, rpm: tuple[float, float, float], *, lash: float, window: float,
    closing: Closing | None = None,
) -> tuple[LossBand, ...]:  # fmt: skip
    def again(other: Gear, speeds: Floats) -> Sweep:
        return sweep(other, lift, speeds, lash=lash, window=math.radians(window), closing=closing)

    found = again(gear, np.arange(rpm[0], rpm[1] + 1, rpm[2]) * RPM)
    return loss_bands(gear, lift, found, again, lash=lash, window=math.radians(window), closing=closing)


@pytest.mark.reference(SOURCE)
def test_static_spring_loses_it_once_t06() -> None:
    (only,) = bands(STATIC, FOUR_FIVE_SIX_SEVEN, (3000, 8000, 25), lash=0.2e-3, window=50)
    assert only.low / RPM == pytest.approx(5539, abs=4)
    assert only.high is None
    assert only.cause is not Cause.SURGE


@pytest.mark.reference(SOURCE)
def test_waves_lose_it_in_bands_t12() -> None:
    found = bands(WAVES, FOUR_FIVE_SIX_SEVEN, (3000, 8000, 25), lash=0.2e-3, window=50)
    edges = [(band.low / RPM, None if band.high is None else band.high / RPM) for band in found]
    assert len(edges) == 3
    assert edges[0] == (pytest.approx(5130, abs=20), pytest.approx(5370, abs=20))
    assert edges[1] == (pytest.approx(5670, abs=20), pytest.approx(6130, abs=20))
    assert edges[2] == (pytest.approx(6350, abs=20), None)
    assert found[0].cause is Cause.SURGE
    assert found[0].mode == 1
    # the order nearest to the first mode
    assert found[0].order == round(WAVES.first_mode / (found[0].low / (4 * math.pi)))


@pytest.mark.reference(SOURCE)
def test_linkage_rings_m72() -> None:
    (only,) = bands(M_STATIC, M_LIFT, (5000, 8000, 50), lash=0.15e-3, window=45)
    assert only.low / RPM == pytest.approx(6522.8, rel=0.003)
    assert only.cause is Cause.LINKAGE
    # the published balance takes no lash off the lift
    apart = separation_speed(M_LIFT, 0.118, (310.0, 42e3), window=math.radians(45))
    assert float(apart.speed) / RPM == pytest.approx(8351.65, rel=1e-4)


@pytest.mark.reference(SOURCE)
def test_bands_of_another_law_m77() -> None:
    found = bands(M_WAVES, M_LIFT, (3000, 8000, 25), lash=0.15e-3, window=45)
    assert [round(band.low / RPM) for band in found] == [pytest.approx(6066, abs=5), pytest.approx(6781, abs=5)]
    assert found[0].high is not None
    assert found[0].high / RPM == pytest.approx(6250, abs=5)
    assert found[1].high is None


def test_a_rigid_linkage_loses_it_by_inertia() -> None:
    stiff = dataclasses.replace(
        M_STATIC, stiffness=2e8, damping=0.7 * math.sqrt(2e8 * 0.118), preload=150.0, spring_rate=20e3
    )
    (only,) = bands(stiff, power_lift(0.0102, 62.0), (3000, 8000, 100), lash=0.0, window=45)
    assert only.cause is Cause.INERTIA
    # a port that pushes the valve open takes load off: contact is lost sooner, and it is inertia all the same
    (boosted,) = bands(
        stiff, power_lift(0.0102, 62.0), (3000, 8000, 100), lash=0.0, window=45,
        closing=lambda angles: np.full(angles.shape, -40.0),
    )  # fmt: skip
    assert boosted.low < 0.95 * only.low
    assert boosted.cause is Cause.INERTIA


def test_no_band_where_contact_is_held() -> None:
    assert bands(STATIC, FOUR_FIVE_SIX_SEVEN, (2000, 5000, 250), lash=0.2e-3, window=50) == ()


def test_a_band_open_at_both_ends() -> None:
    (only,) = bands(STATIC, FOUR_FIVE_SIX_SEVEN, (6000, 7000, 250), lash=0.2e-3, window=50)
    assert only.begins_below
    assert only.low == pytest.approx(6000 * RPM)
    assert only.high is None


def test_strongest_order_follows_the_first_mode() -> None:
    for order in (6, 8, 10):
        cam = 2 * math.pi * WAVES.first_mode / order
        assert strongest_order(WAVES, FOUR_FIVE_SIX_SEVEN, 0.2e-3, cam) == (order, 1, "")
