"""The wire's place in a drawing: whole height, exact stack, and no wire inside another."""

from __future__ import annotations

import dataclasses

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from loadbench.arrays import Floats
from loadbench.errors import InputError
from loadbench.spring import landing
from loadbench.spring.standing import standing_wire, stations
from loadbench.spring.winding import Winding
from tests.spring.windings import BEEHIVE, CONE, CYLINDER, LAW_CONE, cut, travel, windings

shares = st.floats(0.0, 1.0)


def closest(winding: Winding, radius: Floats, z: Floats) -> float:
    """The least distance of two sections on the same side, in wires: 1 where they touch."""
    least = np.inf
    for side in (slice(0, None, 2), slice(1, None, 2)):
        across = np.abs(radius[side][:, None] - radius[side]) / winding.radial
        up = np.abs(z[side][:, None] - z[side]) / winding.axial
        apart = np.maximum(across, up) if winding.flat else np.hypot(across, up)
        apart[np.diag_indices_from(apart)] = np.inf
        least = min(least, float(apart.min()))
    return least


def mixed_turns_touch(winding: Winding) -> float:
    """How near a turn that is half straight and half tapered may come to its neighbour at bind, in wires."""
    share = min(winding.step / winding.radial, 1.0)
    return float(np.sqrt(1 - (1 - np.sqrt(1 - share**2)) / 2))


@given(windings(), shares)
def test_the_wire_fills_the_height(winding: Winding, share: float) -> None:
    height = winding.bind_height + share * travel(winding)
    z = standing_wire(height, winding, np.array([0.0, winding.total]))[1]
    edge = 0.0 if winding.ground else winding.axial / 2
    assert z[0] == pytest.approx(edge, abs=1e-12)
    assert z[1] == pytest.approx(height - edge, rel=1e-9)


@given(windings(steepest=0.8), shares)
def test_no_wire_stands_in_another(winding: Winding, share: float) -> None:
    radius, z = standing_wire(winding.bind_height + share * travel(winding), winding)
    assert closest(winding, radius, z) >= mixed_turns_touch(winding) * (1 - 1e-9)


@given(windings(steepest=0.8))
def test_all_rise_from_seat_to_retainer(winding: Winding) -> None:
    radius, z = standing_wire(winding.bind_height, winding)
    assert np.all(np.diff(z) > 0)
    assert np.all(np.diff(radius) <= 0)


@pytest.mark.parametrize("ground", [True, False])
@pytest.mark.parametrize("dead", [0.0, 2.0, 3.0])
@pytest.mark.parametrize("flat", [True, False])
def test_a_bound_cylinder_is_a_stack_of_wire(ground: bool, dead: float, flat: bool) -> None:
    bound = dataclasses.replace(CYLINDER, ground=ground, dead=dead, flat=flat)
    radius, z = standing_wire(bound.bind_height, bound)
    assert np.diff(z) == pytest.approx(np.full(z.size - 1, bound.axial / 2), rel=1e-9)
    assert radius.tolist() == [bound.large / 2] * z.size
    assert closest(bound, radius, z) == pytest.approx(1.0, rel=1e-9)


def test_bound_tapered_turns_touch_exactly() -> None:
    # Turns wholly inside the taper: from the first active turn of the cone to the last.
    z_of = dict(zip(stations(CONE), zip(*standing_wire(CONE.bind_height, CONE), strict=True), strict=True))
    for turn in np.arange(1.0, 5.01, 0.5):
        (r1, z1), (r2, z2) = z_of[turn], z_of[turn + 1]
        assert np.hypot((r1 - r2) / CONE.radial, (z2 - z1) / CONE.axial) == pytest.approx(1.0, rel=1e-9)


def test_a_beehive_is_bound_from_the_seat_up() -> None:
    own = cut(BEEHIVE)
    lands = landing.closing_loads(own.compliances, own.gaps)
    straight, tapered = own.diameters == BEEHIVE.large, own.diameters < BEEHIVE.large
    load = (lands[straight].max() + lands[tapered].min()) / 2
    pressed = float(landing.deflection(load, own.compliances, own.gaps))
    z = standing_wire(BEEHIVE.free_height - pressed, BEEHIVE)[1]
    rises = z[2:] - z[:-2]
    # Dead turn and three straight ones bound, two tapered ones open, the last dead turn bound.
    assert rises[:7] == pytest.approx(np.full(7, BEEHIVE.axial), rel=1e-9)
    assert np.all(rises[8:11] > 1.001 * BEEHIVE.axial)
    assert rises[-1] == pytest.approx(BEEHIVE.axial, rel=1e-9)


def test_free_turns_stand_at_an_even_pitch() -> None:
    for winding in (CYLINDER, BEEHIVE, CONE):
        z = standing_wire(winding.free_height, winding)[1]
        # 50 mm less two wires ground, over five turns.
        assert (z[2:] - z[:-2])[2:-2] == pytest.approx(np.full(9, 0.0084), rel=1e-9)


def test_radii_of_the_three_kinds() -> None:
    assert standing_wire(0.045, CYLINDER)[0].tolist() == [0.014] * 15
    hive = standing_wire(0.045, BEEHIVE)[0]
    assert hive[:9].tolist() == [0.014] * 9
    assert hive[9:] == pytest.approx([0.013, 0.012, 0.011, 0.010, 0.010, 0.010], rel=1e-12)
    assert standing_wire(0.045, CONE)[0][2:13] == pytest.approx(np.linspace(0.014, 0.010, 11), rel=1e-12)


def test_rectangular_wire_stacks_whole() -> None:
    flat = dataclasses.replace(BEEHIVE, flat=True)
    radius, z = standing_wire(flat.bind_height, flat)
    assert flat.bind_height == pytest.approx(7 * flat.axial, rel=1e-12)
    assert closest(flat, radius, z) == pytest.approx(1.0, rel=1e-9)


def test_a_telescoping_cone_lies_in_one_plane() -> None:
    cone = dataclasses.replace(LAW_CONE, large=0.070, free_height=0.040)
    radius, z = standing_wire(cone.bind_height, cone)
    assert z[2:15] == pytest.approx(np.full(13, cone.axial), rel=1e-9)
    assert np.all(-np.diff(radius[2:15]) * 2 >= cone.radial)


def test_many_heights_at_once() -> None:
    heights = np.linspace(BEEHIVE.bind_height, BEEHIVE.free_height, 7)
    radius, z = standing_wire(heights, BEEHIVE)
    assert z.shape == (7, radius.size)
    for height, row in zip(heights, z, strict=True):
        assert row.tolist() == standing_wire(height, BEEHIVE)[1].tolist()


def test_part_turns_end_where_the_wire_ends() -> None:
    assert stations(dataclasses.replace(CYLINDER, active=5.3))[-1] == 7.0
    assert stations(dataclasses.replace(CYLINDER, active=4.9999999999))[-1] == 7.0


@pytest.mark.parametrize("height", [0.0279, 0.0501, -1.0, float("nan")])
def test_a_height_that_cannot_be_is_refused(height: float) -> None:
    with pytest.raises(InputError):
        standing_wire(height, CYLINDER)
