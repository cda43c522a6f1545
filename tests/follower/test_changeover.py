"""Where needles give way to a bush: what falls with load, what rests on idling, and the crossing."""

from __future__ import annotations

import numpy as np
import pytest

from loadbench.errors import InputError
from loadbench.follower import bush, bush_film, needle
from loadbench.follower.changeover import (
    Better,
    BushAxle,
    BushOil,
    ChangeOver,
    NeedleAxle,
    Turn,
    change_line,
    change_over,
    crossing,
)

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
    works = [
        float(np.mean(bush.bush_pressure(each, 0.010, 0.011) * bush.surface_speed(0.011, turn.spin)))
        for each, turn in zip(loads, TURNS, strict=True)
    ]
    assert found.bush_pv[row, column] == pytest.approx(max(works))
    idle_only = change_over(LOADS, np.array([1.0]), 2000.0, TURNS, NEEDLES, BUSH)
    assert idle_only.bush_pv[row, 0] == pytest.approx(works[0])  # the speed limit has no share of time


def test_the_film_is_that_of_the_worse_speed_and_counts_only_where_it_is_asked_for() -> None:
    oil = BushOil(clearance=15e-6, viscosity=0.012, roughness=0.45e-6)
    told = change_over(LOADS, SHARES, 2000.0, TURNS, NEEDLES, BUSH._replace(oil=oil))
    asked = change_over(LOADS, SHARES, 2000.0, TURNS, NEEDLES, BUSH._replace(oil=oil, film_ratio=1.0))
    row, column = 12, 3
    films = [
        bush_film.bush_film(np.maximum(LOADS[row] / 2000.0 * each.static + each.inertia, 0.0), each.spin,
                            bush_film.Oiled(0.011, 0.010, *oil)).ratio.min()
        for each in TURNS
    ]  # fmt: skip
    assert told.bush_film_ratio[row, column] == pytest.approx(min(films))
    assert told.bush_film_ratio[row, 0] == pytest.approx(films[1])  # never idling
    assert films[0] < films[1]
    assert np.array_equal(told.bush_margin, grid().bush_margin)
    assert np.array_equal(asked.bush_margin, np.minimum(told.bush_margin, asked.bush_film_ratio))
    assert np.isnan(grid().bush_film_ratio).all()
    assert not asked.bush_film_inside[-1, -1]
    assert asked.bush_film_inside[0, 0]


def test_a_margin_of_one_holds_and_each_axle_has_its_bit() -> None:
    found = grid()
    assert np.array_equal(found.better & Better.NEEDLE > 0, found.needle_margin >= 1)
    assert np.array_equal(found.better & Better.BUSH > 0, found.bush_margin >= 1)
    assert found.better[0, 0] == Better.BOTH
    assert found.better[-1, 0] == Better.NEITHER


def test_needles_give_way_where_both_margins_are_the_same() -> None:
    line = change_line(grid())
    assert np.isfinite(line).any()
    for column, load in enumerate(line):
        if np.isfinite(load):
            there = change_over(np.array([load]), SHARES, 2000.0, TURNS, NEEDLES, BUSH)
            assert there.needle_margin[0, column] == pytest.approx(there.bush_margin[0, column], rel=0.03)
    assert np.isnan(change_line(change_over(LOADS, SHARES, 2000.0, TURNS, NEEDLES, BUSH._replace(pressure=1.0)))).all()


def test_a_margin_that_rises_again_is_crossed_where_it_first_falls() -> None:
    values = np.array([[4.0, 0.5, 2.0], [0.25, 2.0, 4.0], [4.0, 0.5, 8.0]])
    found = crossing(values, np.array([1.0, 2.0, 4.0]))
    assert found[0] == pytest.approx(2**0.5)
    assert np.isnan(found[1:]).all()


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
