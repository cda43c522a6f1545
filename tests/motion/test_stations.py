"""Forces at the named stations."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from loadbench.errors import InputError
from loadbench.motion import stations
from loadbench.motion.masses import referred_mass
from tests.motion.lifts import power_lift
from tests.motion.test_masses import M44

loads = st.floats(100.0, 3000.0)
accelerations = st.floats(-6000.0, 12000.0)
slants = st.floats(-0.5, 0.5)


def test_force_at_30_degrees_m45() -> None:
    lift, angle = power_lift(0.0132, 66.0), np.radians(30.0)
    speed = 6200 * np.pi / 30 / 2
    y, a = float(lift(angle)), float(lift(angle, 2)) * speed**2
    assert y * 1e3 == pytest.approx(8.79192, rel=1e-6)
    assert a == pytest.approx(-3172.3732, rel=1e-6)
    found = stations.stations(620.0 + 64e3 * y, a, M44)
    assert float(found.lobe) / 1.7 == pytest.approx(264.4827, rel=1e-6)
    assert float(found.lobe) == pytest.approx(449.6205, rel=1e-6)
    # The tip has only the valve's side in it, the pushrod all but the follower.
    assert float(found.tip) == pytest.approx(620.0 + 64e3 * y + float(M44.valve_side) * a, rel=1e-12)
    assert float(found.pushrod) == pytest.approx(449.6205 - 0.095 * a / 1.7, rel=1e-6)
    assert float(found.contact) == float(found.axle) == float(found.lobe)


@given(loads, accelerations, slants)
def test_each_part_is_in_balance(load: float, acceleration: float, slant: float) -> None:
    roller = 0.03
    found = stations.stations(load, acceleration, M44, pressure_angle=slant, roller_mass=roller)
    own = acceleration / 1.7
    # The rocker: the moments of tip and pushrod about its axle turn its inertia.
    short = 0.036 / 1.7
    torque = float(found.pushrod) - 0.062 * own
    assert torque * short - float(found.tip) * 0.036 == pytest.approx(9e-5 * acceleration / 0.036, abs=1e-9)
    # The roller: what the flank gives less what the axle takes is its mass times its acceleration, along the travel.
    along = float(found.contact) * np.cos(slant) - roller * own
    across = float(found.contact) * np.sin(slant)
    assert abs(float(found.axle)) == pytest.approx(np.hypot(along, across), rel=1e-12)
    assert np.sign(float(found.axle)) == np.sign(along)


@given(loads, accelerations, st.floats(0.5, 2.0))
def test_twice_the_load_and_motion_is_twice_the_force(load: float, acceleration: float, scale: float) -> None:
    one = stations.stations(load, acceleration, M44, pressure_angle=0.3, roller_mass=0.02)
    other = stations.stations(scale * load, scale * acceleration, M44, pressure_angle=0.3, roller_mass=0.02)
    for name in ("tip", "pushrod", "lobe", "contact", "axle"):
        assert float(getattr(other, name)) == pytest.approx(scale * float(getattr(one, name)), rel=1e-9, abs=1e-9)


def test_at_rest_the_follower_carries_the_ratio() -> None:
    found = stations.stations(1000.0, 0.0, M44)
    assert [float(f) for f in (found.tip, found.pushrod, found.lobe)] == pytest.approx([1000.0, 1700.0, 1700.0])


def test_a_bucket_gives_the_valve_its_tip_force() -> None:
    bucket = referred_mass(valve=0.045, retainer=0.009, locks=0.002, spring=0.045, follower=0.035)
    found = stations.stations(400.0, np.array([[2000.0, -1500.0], [4000.0, -3000.0]]), bucket)
    assert found.pushrod == pytest.approx(found.tip, rel=1e-12)
    assert found.lobe - found.tip == pytest.approx(0.035 * np.array([[2000.0, -1500.0], [4000.0, -3000.0]]), rel=1e-9)
    assert found.axle.shape == (2, 2)


def test_a_follower_with_its_own_acceleration() -> None:
    same = stations.stations(900.0, 1700.0, M44, follower_acceleration=1000.0)
    assert float(same.lobe) == pytest.approx(float(stations.stations(900.0, 1700.0, M44).lobe), rel=1e-12)
    more = stations.stations(900.0, 1700.0, M44, follower_acceleration=1100.0)
    assert float(more.lobe - same.lobe) == pytest.approx(100.0 * (0.062 + 0.095), rel=1e-9)


@pytest.mark.parametrize("wrong", [{"pressure_angle": np.pi / 2}, {"roller_mass": -0.01}, {"roller_mass": 0.2}])
def test_followers_that_cannot_be(wrong: dict[str, float]) -> None:
    with pytest.raises(InputError):
        stations.stations(500.0, 0.0, M44, **wrong)


class Cycloidal:
    """A rise of 10 mm in 120 degrees up to the nose."""

    def __call__(self, angle: float, derivative: int = 0) -> float:
        h, beta = 0.010, np.radians(120.0)
        x = (angle + beta) / beta
        turn = 2 * np.pi * x
        values = (x - np.sin(turn) / (2 * np.pi), 1 - np.cos(turn), 2 * np.pi * np.sin(turn))
        return float(h * values[derivative] / beta**derivative)


def test_force_and_torque_m49() -> None:
    # A published statement: cycloidal rise with a spring, 100 degrees into 120; answers computed from it.
    lift, angle, speed = Cycloidal(), np.radians(-20.0), 1000 * np.pi / 30
    s, a = lift(angle), lift(angle, 2) * speed**2
    assert s * 1e3 == pytest.approx(9.711656, rel=1e-5)
    assert a == pytest.approx(-136.03495, rel=1e-5)
    mass = referred_mass(valve=1.8, retainer=0.0, locks=0.0, spring=0.0, follower=0.0)
    force = stations.stations(15e3 * (s + 0.0025), a, mass).lobe
    assert float(force) == pytest.approx(-61.68808, rel=1e-5)
    assert float(stations.cam_torque(force, lift(angle, 1))) == pytest.approx(-0.147269, rel=1e-5)


# Pressures


def test_boost_takes_off_the_seat() -> None:
    # 1 bar on 40 mm: 125.66 N.
    assert float(stations.port_load(1e5, 0.040)) == pytest.approx(-125.6637, rel=1e-6)
    with pytest.raises(InputError):
        stations.port_load(1e5, 0.0)


def test_gas_presses_from_opening_on_and_blows_down() -> None:
    opening, turn = np.radians(-70.0), np.radians(40.0)
    angles = np.radians([-80.0, -70.0, -50.0, -30.0, 0.0])
    found = stations.gas_load(angles, 4e5, 0.035, opening, turn)
    full = 4e5 * np.pi / 4 * 0.035**2
    assert found == pytest.approx(full * np.array([0.0, 1.0, 0.5, 0.0, 0.0]), abs=1e-9)
    with pytest.raises(InputError):
        stations.gas_load(angles, 4e5, 0.035, opening, 0.0)
