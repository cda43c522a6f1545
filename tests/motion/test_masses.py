"""Masses as felt at the valve."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from loadbench.errors import InputError
from loadbench.motion.masses import (
    TYPICAL,
    TYPICAL_BUCKET,
    FilledIn,
    ReferredMass,
    referred_mass,
    valve_side_mass,
    with_typical,
)
from loadbench.sources import COMMON_PRACTICE

M44 = referred_mass(
    valve=0.105, retainer=0.018, locks=0.006, spring=0.110, rocker_inertia=9e-5, valve_arm=0.036,
    pushrod=0.062, follower=0.095, ratio=1.7,
)  # fmt: skip

masses = st.floats(0.001, 0.3)
ratios = st.floats(0.6, 2.5)


def test_referred_mass_m44() -> None:
    # Computed from the inputs, part by part.
    assert float(M44.total) == pytest.approx(0.28943637, rel=1e-7)
    assert float(M44.valve + M44.retainer + M44.locks) == pytest.approx(0.129, rel=1e-12)
    parts = [M44.spring, M44.rocker, M44.pushrod, M44.follower]
    assert [float(part) for part in parts] == pytest.approx([0.03666667, 0.06944444, 0.02145329, 0.03287197], rel=1e-6)
    assert float(M44.valve_side) == pytest.approx(float(valve_side_mass(0.105, 0.018, 0.006, 0.110)), rel=1e-15)
    assert float(M44.own_pushrod) == pytest.approx(0.062, rel=1e-12)
    assert float(M44.own_follower) == pytest.approx(0.095, rel=1e-12)


def test_a_bucket_rides_on_the_valve() -> None:
    found = referred_mass(valve=0.045, retainer=0.009, locks=0.002, spring=0.045, follower=0.035)
    assert float(found.total) == pytest.approx(0.045 + 0.009 + 0.002 + 0.015 + 0.035, rel=1e-12)


@given(masses, masses, masses, ratios)
def test_energy_is_the_same_at_both_ends(valve: float, pushrod: float, follower: float, ratio: float) -> None:
    arm, inertia, speed = 0.036, 9e-5, 2.5
    found = referred_mass(
        valve=valve, retainer=0.0, locks=0.0, spring=0.0, rocker_inertia=inertia, valve_arm=arm,
        pushrod=pushrod, follower=follower, ratio=ratio,
    )  # fmt: skip
    each = valve * speed**2 + inertia * (speed / arm) ** 2 + (pushrod + follower) * (speed / ratio) ** 2
    assert float(found.total) * speed**2 == pytest.approx(each, rel=1e-12)


@given(st.floats(0.5, 2.0))
def test_all_masses_scale_together(scale: float) -> None:
    one, other = (
        referred_mass(
            valve=s * 0.1, retainer=s * 0.02, locks=s * 0.01, spring=s * 0.1, rocker_inertia=s * 9e-5, valve_arm=0.036,
            pushrod=s * 0.06, follower=s * 0.1, ratio=1.6,
        )
        for s in (1.0, scale)
    )  # fmt: skip
    assert float(other.total) == pytest.approx(scale * float(one.total), rel=1e-12)


def test_masses_broadcast() -> None:
    found = referred_mass(
        valve=np.array([0.1, 0.12]),
        retainer=0.02,
        locks=0.006,
        spring=0.1,
        follower=0.1,
        ratio=np.array([[1.5], [1.7]]),
    )
    assert found.total.shape == (2, 2)


@pytest.mark.parametrize(
    "wrong",
    [{"valve": -0.1}, {"ratio": 0.0}, {"valve_arm": 0.0}, {"rocker_inertia": -1e-5}, {"rocker_inertia": 1e-5}],
)
def test_masses_that_cannot_be(wrong: dict[str, float]) -> None:
    with pytest.raises(InputError):
        made(with_typical(wrong, TYPICAL_BUCKET))


def test_an_inertia_wants_its_arm() -> None:
    with pytest.raises(InputError) as caught:
        made(with_typical({"rocker_inertia": 1e-5}, TYPICAL_BUCKET))
    assert caught.value.place.field == "valve_arm"


def made(filled: FilledIn) -> ReferredMass:
    return referred_mass(**filled.values)


@pytest.mark.parametrize("table", [TYPICAL, TYPICAL_BUCKET])
def test_typical_values_are_marked_and_make_a_gear(table: dict[str, object]) -> None:
    typical = TYPICAL if "pushrod" in table else TYPICAL_BUCKET
    filled = with_typical({"valve": 0.099, "retainer": None, "ratio": 1.6}, typical)
    assert filled.values["valve"] == 0.099
    assert filled.values["retainer"] == typical["retainer"].value
    assert filled.typical == typical.keys() - {"valve"}
    assert 0.05 < float(made(filled).total) < 0.5
    for each in typical.values():
        assert each.low < each.value < each.high
        assert each.source == COMMON_PRACTICE
