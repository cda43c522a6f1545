"""Where needles give way to a bush: what falls with load, what rests on idling, and the crossing."""

from __future__ import annotations

import numpy as np
import pytest

from loadbench.errors import InputError
from loadbench.follower import bush, needle
from loadbench.follower.changeover import Better, BushAxle, ChangeOver, NeedleAxle, Turn, change_over, crossing

ANGLES = np.linspace(-np.pi, np.pi, 181)
SHAPE = np.maximum(np.cos(ANGLES), 0.0)
TURNS = (
    Turn(static=4000 * SHAPE, inertia=np.zeros_like(SHAPE), spin=np.full_like(SHAPE, 70.0)),
    Turn(static=4000 * SHAPE, inertia=-300 * SHAPE, spin=np.full_like(SHAPE, 600.0)),
)
NEEDLES = NeedleAxle(dynamic=8000.0, static=9500.0, life=100 * 3600.0, safety=1.5)
BUSH = BushAxle(bore=0.011, length=0.010, pressure=60e6, pv=60e6)
LOADS, SHARES = np.linspace(500, 8000, 40), np.linspace(0, 0.9, 10)


def grid() -> ChangeOver:
    return change_over(LOADS, SHARES, 2000.0, TURNS, NEEDLES, BUSH)


def test_a_place_of_the_grid_is_what_the_parts_give_one_by_one() -> None:
    found = grid()
    row, column = 12, 3
    factor, share = LOADS[row] / 2000.0, SHARES[column]
    loads = [np.maximum(factor * each.static + each.inertia, 0.0) for each in TURNS]
    shares = [np.full(181, part / 181) for part in (share, 1 - share)]
    spins = np.concatenate([each.spin for each in TURNS])
    load = needle.equivalent_load(np.concatenate(loads), spins, np.concatenate(shares))
    mean = float(np.sum(spins * np.concatenate(shares)))
    life = needle.life_seconds(needle.rating_life(8000.0, load), mean)
    assert found.needle_life[row, column] == pytest.approx(float(life), rel=1e-9)
    greatest = max(float(each.max()) for each in loads)
    assert found.needle_safety[row, column] == pytest.approx(9500 / greatest)
    assert found.bush_pressure[row, column] == pytest.approx(float(bush.bush_pressure(greatest, 0.010, 0.011)))
    pv = sum(
        part * np.mean(bush.bush_pressure(each, 0.010, 0.011) * bush.surface_speed(0.011, turn.spin))
        for part, each, turn in zip((share, 1 - share), loads, TURNS, strict=True)
    )
    assert found.bush_pv[row, column] == pytest.approx(float(pv))


def test_margins_fall_with_load_and_idling_spares_the_needles() -> None:
    found = grid()
    assert np.all(np.diff(found.needle_margin, axis=0) < 0)
    assert np.all(np.diff(found.bush_margin, axis=0) < 0)
    assert np.all(np.diff(found.needle_life, axis=1) > 0)  # fewer turns
    assert set(np.unique(found.better)) <= {int(each) for each in Better}


def test_the_crossing_is_where_the_margin_is_one() -> None:
    found = grid()
    limit = crossing(found.needle_margin, LOADS)
    for column, load in enumerate(limit):
        if np.isfinite(load):
            there = change_over(np.array([load]), SHARES, 2000.0, TURNS, NEEDLES, BUSH).needle_margin[0, column]
            assert there == pytest.approx(1.0, rel=0.04)
    assert np.isfinite(limit).any()
    assert np.isnan(crossing(np.full((40, 10), 2.0), LOADS)).all()


def test_nonsense_is_refused() -> None:
    with pytest.raises(InputError):
        change_over(np.array([0.0]), SHARES, 2000.0, TURNS, NEEDLES, BUSH)
    with pytest.raises(InputError):
        change_over(LOADS, np.array([1.2]), 2000.0, TURNS, NEEDLES, BUSH)
