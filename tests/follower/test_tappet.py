"""Flat tappets: where crown and taper set the contact, what turns the tappet and what holds it, room of the face."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from loadbench.arrays import Floats
from loadbench.errors import InputError
from loadbench.follower.tappet import (
    contact_offset,
    crown_drop,
    least_face,
    least_offset,
    spin,
    wear_load,
)
from loadbench.motion.geometry import cam_radius_flat, face_width_needed

TURN = np.linspace(-np.pi, np.pi, 721)


def lobe() -> tuple[Floats, Floats, Floats]:
    """Reach, surface speed at one rad/s and load of a smooth lobe of 8 mm lift on a 15 mm base circle."""
    open_ = np.abs(TURN) < 1.2
    lift = np.where(open_, 0.004 * (1 + np.cos(np.pi * TURN / 1.2)), 0.0)
    slope = np.where(open_, -0.004 * np.pi / 1.2 * np.sin(np.pi * TURN / 1.2), 0.0)
    return slope, 0.015 + lift, np.where(open_, 600 + 6e4 * lift, 30.0)


def friction_moment(turns: float, offset: float) -> float:
    """Moment about the tappet's axis, from the sliding velocity as a vector, friction going along with it."""
    reach, surface, load = lobe()
    arm = np.stack([reach, np.full_like(reach, offset), np.zeros_like(reach)], axis=-1)
    own = np.cross(np.array([0.0, 0.0, -turns]), arm)  # clockwise, as seen from the lobe
    over = np.stack([surface, np.zeros_like(reach), np.zeros_like(reach)], axis=-1) - own
    return float(np.sum(np.cross(arm, load[:, None] * over)[:, 2]))


@given(offset=st.floats(1e-4, 5e-3))
def test_a_tappet_turns_so_fast_that_friction_no_longer_drives_it(offset: float) -> None:
    found = spin(*lobe(), offset)
    assert found.turns
    at_rest = friction_moment(0.0, offset)
    assert at_rest != 0
    assert friction_moment(found.ratio, offset) == pytest.approx(0.0, abs=1e-9 * abs(at_rest))
    assert friction_moment(found.ratio * 1.1, offset) * at_rest < 0


def test_a_contact_that_stays_put_turns_the_tappet_as_two_wheels_turn() -> None:
    still, ones = np.zeros(5), np.ones(5)
    assert spin(still, 0.016 * ones, ones, 0.002).ratio == pytest.approx(0.016 / 0.002)


def test_without_offset_nothing_turns_and_the_other_way_turns_the_other_way() -> None:
    assert not spin(*lobe(), 0.0).turns
    assert spin(*lobe(), -0.002).ratio == pytest.approx(-spin(*lobe(), 0.002).ratio)
    assert not spin(np.zeros(3), np.ones(3), np.ones(3), 0.0).turns
    with pytest.raises(InputError):
        spin(np.zeros(3), np.ones(3), np.zeros(3), 0.001)
    with pytest.raises(InputError):
        spin(np.zeros(3), np.ones(4), np.ones(3), 0.001)


def test_what_the_bore_holds() -> None:
    assert least_offset(np.array([0.0107, 0.0107]), 0.1) == pytest.approx([0.00107, 0.00107])
    assert float(least_offset(0.0107, 0.0)) == 0.0
    # The usual crown and taper clear it, a lobe ground nearly straight does not.
    usual, straight = (float(contact_offset(1.27, np.radians(minutes / 60))) for minutes in (8, 1))
    assert straight < float(least_offset(0.0107)) < usual
    for wrong in ((0.0, 0.1), (0.01, -0.1)):
        with pytest.raises(InputError):
            least_offset(*wrong)


@given(radius=st.floats(0.01, 5.0), share=st.floats(0.0, 1.0))
def test_the_crown_falls_as_a_circle_does(radius: float, share: float) -> None:
    r = radius * share
    assert float(crown_drop(radius, r)) == pytest.approx(radius - np.sqrt(radius**2 - r**2), abs=1e-12 * radius)
    assert float(crown_drop(radius, r)) >= r**2 / (2 * radius) * (1 - 1e-12)


def test_a_face_larger_than_its_sphere_is_refused() -> None:
    for wrong in ((0.01, 0.02), (0.0, 0.0), (0.01, -0.001)):
        with pytest.raises(InputError):
            crown_drop(*wrong)
    with pytest.raises(InputError):
        contact_offset(0.0, 0.002)
    with pytest.raises(InputError):
        least_face(-0.001)


@pytest.mark.reference("own-form")
def test_f27_to_f29_with_the_lobes_own_geometry() -> None:
    slope = 0.150e-3 * 180 / np.pi  # 0.150 mm a degree
    assert face_width_needed(np.array([0.0, slope, -0.5 * slope])) == pytest.approx(17.189e-3, abs=1e-6)
    assert float(least_face(slope)) == pytest.approx(17.189e-3, abs=1e-6)
    assert float(least_face(9.2e-3, 14e-3, -1.5e-3)) == pytest.approx(25.051e-3, abs=1e-6)
    assert float(cam_radius_flat(0.015, 0.005, -0.008)) == pytest.approx(0.012, rel=1e-12)


def test_wear_load_is_load_times_sliding_either_way_round() -> None:
    assert float(wear_load(2000.0, -3.0)) == 6000.0
    assert wear_load(np.array([1000.0, 0.0]) / 0.014, 2.0) == pytest.approx([2000 / 0.014, 0.0])
