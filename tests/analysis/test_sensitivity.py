"""What each input does to the speed of lost contact: signs, sizes, and agreement with the line's own figure."""

from __future__ import annotations

import math

import numpy as np
import pytest

from loadbench.analysis import analyse
from loadbench.analysis.motion.balance_at import balanced_at, rigid_force
from loadbench.analysis.motion.result import MotionAnalysis
from loadbench.analysis.motion.sensitivity import (
    CAM_SIDE,
    SHARE,
    Moved,
    Quantity,
    changed,
    lowest_onset,
    mass_parts,
    onset_sensitivity,
    rigid_sensitivity,
)
from loadbench.motion.bands import loss_bands
from loadbench.motion.sweep import sweep
from tests.ui.motion.made import ANGLES, RPM, SPEEDS, balanced, motion
from tests.ui.spring.spring_jobs import pair

PARTS = {Quantity.VALVE: 0.09, Quantity.SPRING: 0.110 / 3, Quantity.PUSHROD: 0.02, Quantity.FOLLOWER: 0.023333}


def by_quantity(rows: tuple[Moved, ...]) -> dict[Quantity, Moved]:
    return {each.quantity: each for each in rows}


def test_the_base_is_the_speed_of_first_separation() -> None:
    line = analyse(pair()).lines[0]
    parts = mass_parts(line.figures["referred_mass"])
    assert sum(parts.values()) == pytest.approx(line.value("referred_mass"))
    for each in rigid_sensitivity(line.motion, parts):
        assert each.base == pytest.approx(line.value("separation_speed"), rel=1e-6)


def test_more_mass_or_lift_lowers_the_speed_and_more_spring_raises_it() -> None:
    found = by_quantity(rigid_sensitivity(motion(), PARTS))
    for quantity, each in found.items():
        assert each.less is not None
        assert each.base is not None
        assert each.more is not None
        if quantity is Quantity.RATIO:
            continue  # it raises the lift and lightens what moves with the lobe
        up = quantity in (Quantity.SEAT_LOAD, Quantity.RATE)
        assert (each.more > each.base > each.less) if up else (each.more < each.base < each.less)


def test_load_and_rate_together_go_by_the_root() -> None:
    """Both loads five per cent up is the speed times the root of 1.05: S0 + k y = m w^2 (-y'')."""
    whole = motion(preload=700 * 1.05, spring_rate=70e3 * 1.05)
    base = by_quantity(rigid_sensitivity(motion()))[Quantity.RATE].base
    up = by_quantity(rigid_sensitivity(whole))[Quantity.RATE].base
    assert base is not None
    assert up == pytest.approx(base * math.sqrt(1.05), rel=1e-6)


def test_the_mass_as_a_whole_goes_by_the_inverse_root() -> None:
    row = by_quantity(rigid_sensitivity(motion()))[Quantity.MASS]
    assert row.base is not None
    assert row.more == pytest.approx(row.base / math.sqrt(1 + SHARE), rel=1e-6)
    assert row.less == pytest.approx(row.base / math.sqrt(1 - SHARE), rel=1e-6)


def test_a_part_weighs_by_its_share_of_the_mass() -> None:
    rows = by_quantity(rigid_sensitivity(motion(), PARTS))
    base, row, total = rows[Quantity.VALVE].base, rows[Quantity.VALVE], sum(PARTS.values())
    assert base is not None
    assert row.more == pytest.approx(base / math.sqrt(1 + SHARE * PARTS[Quantity.VALVE] / total), rel=1e-4)


def test_the_rigid_base_agrees_with_the_search_over_the_turn() -> None:
    own = motion()
    assert own.dynamic is not None
    gear = own.dynamic.gear
    angles = np.linspace(-own.dynamic.window, own.dynamic.window, 20_001)
    load = gear.preload + gear.spring_rate * (own.dynamic.lift(angles) - own.dynamic.lash)
    pull = -gear.referred_mass * own.dynamic.lift(angles, 2)
    wanted = 2 * np.sqrt((load[pull > 0] / pull[pull > 0]).min())
    assert rigid_sensitivity(own)[0].base == pytest.approx(wanted, rel=1e-3)


def test_the_ratio_stretches_the_lift_and_lightens_the_cams_side() -> None:
    own = motion().dynamic
    assert own is not None
    gear, lift = changed(own, Quantity.RATIO, 1.05, PARTS)
    assert lift(0.0) == pytest.approx(1.05 * own.lift(0.0))
    moved = sum(PARTS[each] for each in CAM_SIDE)
    assert own.gear.mass - gear.mass == pytest.approx(moved * (1 - 1.05**-2))


def test_the_lowest_onset_is_the_lowest_edge_of_the_bands() -> None:
    own = motion().dynamic
    assert own is not None
    found = sweep(own.gear, own.lift, SPEEDS, lash=own.lash, window=own.window)
    bands = loss_bands(
        own.gear, own.lift, found, lambda gear, at: sweep(gear, own.lift, at, lash=own.lash, window=own.window),
        lash=own.lash, window=own.window,
    )  # fmt: skip
    assert lowest_onset(own, own.gear, own.lift, SPEEDS) == pytest.approx(bands[0].low, abs=2 * RPM)


def test_the_onset_moves_with_every_input_that_is_asked_and_tells_its_progress() -> None:
    told: list[float] = []
    rows = by_quantity(onset_sensitivity(motion(), SPEEDS, progress=told.append))
    assert set(rows) == {Quantity.MASS, Quantity.SEAT_LOAD, Quantity.RATE, Quantity.LIFT, Quantity.STIFFNESS}
    assert told == sorted(told)
    assert told[-1] == 1.0
    assert rows[Quantity.RATE].reach > 0


def test_held_throughout_is_none_and_moves_nothing() -> None:
    rows = onset_sensitivity(motion(preload=3000.0), SPEEDS[:2])
    assert {each.base for each in rows} == {None}
    assert {each.reach for each in rows} == {0.0}


def test_without_a_gear_there_is_nothing_to_tell() -> None:
    assert rigid_sensitivity(MotionAnalysis()) == ()
    assert onset_sensitivity(MotionAnalysis(), SPEEDS) == ()


def test_stations_at_any_speed_follow_from_idle_and_limit() -> None:
    found, wanted = balanced_at(motion(), 4321 * RPM), balanced(4321 * RPM)
    assert found is not None
    for name in ("tip", "pushrod", "lobe", "contact", "axle"):
        assert getattr(found, name) == pytest.approx(getattr(wanted, name), abs=1e-6)
    assert balanced_at(motion(limit=None), 4321 * RPM) is None


def test_the_rigid_force_is_zero_at_the_speed_of_first_separation() -> None:
    own = motion()
    assert own.dynamic is not None
    speed = rigid_sensitivity(own)[0].base
    assert speed is not None
    inside = abs(ANGLES) <= own.dynamic.window
    least = rigid_force(own.dynamic, ANGLES, speed)[inside].min()
    assert least == pytest.approx(0.0, abs=3.0)  # N, of some hundred: the angles here are half a degree apart
    assert rigid_force(own.dynamic, ANGLES, 0.9 * speed)[inside].min() > 50
