"""The film in a roller's bush over loads and speeds: a whole turn, a whole sweep, and what keeps the metals apart."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from loadbench.errors import InputError
from loadbench.follower.bush_film import Oiled, Wear, bush_film, film_over_turn, regimes
from loadbench.follower.film import Regime, regime
from loadbench.follower.journal import journal, sommerfeld

BUSH = Oiled(bore=9e-3, length=10e-3, clearance=15e-6, viscosity=0.012, roughness=0.45e-6)
ANGLES = np.linspace(-np.pi, np.pi, 361)


def test_it_is_the_journal_bearing_in_metres() -> None:
    number = sommerfeld(0.012, 300 / (2 * np.pi), 800.0, 4.5e-3, 15e-6, 10e-3)
    found = bush_film(800.0, -300.0, BUSH)  # either way round
    assert found.film == pytest.approx(float(journal(number, 10 / 9).film) * 15e-6)
    assert found.ratio == pytest.approx(float(found.film) / 0.45e-6)
    assert found.inside


@given(load=st.floats(1, 2e4), spin=st.floats(1, 2000), more=st.floats(1.05, 10))
def test_load_thins_the_film_and_speed_or_thicker_oil_builds_it(load: float, spin: float, more: float) -> None:
    film = bush_film(load, spin, BUSH).film
    assert bush_film(load * more, spin, BUSH).film < film
    faster = bush_film(load, spin * more, BUSH).film
    assert faster > film
    assert bush_film(load, spin, BUSH._replace(viscosity=0.012 * more)).film == pytest.approx(float(faster), rel=1e-9)


def test_nothing_pressing_is_a_centred_shaft_and_nothing_turning_is_metal_on_metal() -> None:
    found = bush_film(np.array([0.0, 1000.0, 0.0]), np.array([100.0, 0.0, 0.0]), BUSH)
    assert found.film == pytest.approx([15e-6, 0.0, 15e-6])
    assert list(found.wear) == [Wear.FULL, Wear.BOUNDARY, Wear.FULL]


def test_the_turn_is_as_its_worst_angle() -> None:
    load = np.maximum(3000 * np.cos(ANGLES), 0.0)
    spin = 200 + 80 * np.sin(3 * ANGLES)
    every = bush_film(load, spin, BUSH)
    found = film_over_turn(load, spin, BUSH)
    assert found.film == pytest.approx(float(every.film.min()))
    assert found.wear == every.wear.min()
    stuck = film_over_turn(load, np.where(np.abs(ANGLES) < 0.1, 0.0, spin), BUSH)
    assert stuck.film == 0


def test_a_sweep_of_speeds_goes_from_boundary_at_idle_to_a_full_film() -> None:
    speeds = np.linspace(40, 1500, 60)
    light = np.full((60, 361), 60.0)
    found = film_over_turn(light, np.broadcast_to(speeds[:, None], (60, 361)), BUSH._replace(viscosity=0.006))
    assert found.ratio.shape == (60,)
    assert np.all(np.diff(found.wear) >= 0)
    heavy = film_over_turn(60 * light, np.broadcast_to(speeds[:, None], (60, 361)), BUSH)
    assert heavy.wear[0] == Wear.BOUNDARY
    assert not heavy.inside[0]
    assert found.wear[-1] == Wear.FULL


@pytest.mark.reference("hamrock-machine")
def test_regimes_are_those_of_one_ratio_at_a_time() -> None:
    ratios = np.array([0.0, 0.99, 1.0, 2.99, 3.0, 50.0])
    words = {Wear.BOUNDARY: Regime.BOUNDARY, Wear.MIXED: Regime.MIXED, Wear.FULL: Regime.FULL}
    assert [words[Wear(each)] for each in regimes(ratios)] == [regime(each) for each in ratios]


@pytest.mark.parametrize("wrong", [{"clearance": 0.0}, {"viscosity": -1.0}, {"bore": 0.0}, {"roughness": 0.0}])
def test_a_bush_that_cannot_be_is_refused(wrong: dict[str, float]) -> None:
    with pytest.raises(InputError):
        bush_film(1000.0, 100.0, BUSH._replace(**wrong))
    with pytest.raises(InputError):
        bush_film(-1.0, 100.0, BUSH)
