"""Conical and beehive springs: limits, balances and laws that hold whatever the model's details."""

from __future__ import annotations

import dataclasses
import time
from typing import Any

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from loadbench.arrays import Floats
from loadbench.errors import InputError
from loadbench.spring import coil, landing, taper
from loadbench.spring.winding import Winding, elements_of
from tests.spring.windings import (
    BEEHIVE,
    CONE,
    CYLINDER,
    LAW_CONE,
    G,
    cut,
    integral,
    scaled,
    torsion_constant,
    travel,
    windings,
)

scales = st.floats(0.5, 2.0)
shares = st.floats(0.0, 1.0)


def wahl(index: Floats) -> Floats:
    return (4 * index - 1) / (4 * index - 4) + 0.615 / index


def closed_rate(winding: Winding) -> float:
    w = winding
    return float(taper.taper_rate(G, torsion_constant(w), w.large, w.small, w.active, w.tapered))


# The limit to the cylinder


@given(st.floats(0.002, 0.006), st.floats(4.0, 12.0), st.floats(2.0, 12.0), shares)
def test_equal_ends_are_a_cylinder(d: float, index: float, n: float, share: float) -> None:
    J = np.pi * d**4 / 32
    straight = float(coil.rate(G, d, index * d, n))
    assert float(taper.taper_rate(G, J, index * d, index * d, n, share * n)) == pytest.approx(straight, rel=1e-12)
    assert float(taper.taper_rate(G, J, index * d, d, n, 0.0)) == pytest.approx(straight, rel=1e-12)
    stacked = taper.stacked_height(d, d, index * d, index * d, n, share * n)
    assert float(stacked) == pytest.approx(n * d, rel=1e-12)


@pytest.mark.parametrize("small", [0.028, 0.028 - 1e-9])
@pytest.mark.parametrize("tapered", [0.0, 1e-9, 2.0, 5.0])
def test_a_spring_that_hardly_tapers_has_the_cylinders_curve(small: float, tapered: float) -> None:
    nearly = dataclasses.replace(CYLINDER, small=small, tapered=tapered)
    pressed = np.linspace(0.0, 0.9999 * travel(nearly), 50)
    straight = closed_rate(CYLINDER) * pressed
    own = cut(nearly)
    assert nearly.bind_height == pytest.approx(CYLINDER.bind_height, rel=1e-9)
    assert landing.load_at_deflection(pressed, own.compliances, own.gaps) == pytest.approx(straight, rel=1e-6)


def test_a_cylinder_lands_all_at_once() -> None:
    own = cut(CYLINDER)
    lands = landing.closing_loads(own.compliances, own.gaps)
    assert lands == pytest.approx(np.full(lands.shape, closed_rate(CYLINDER) * travel(CYLINDER)), rel=1e-12)


# The published law of a cone, and the balance of energy


def law(load: Floats, winding: Winding) -> Floats:
    """Deflection of a cone after Rodriguez, Paredes and Sartor, integrated by hand, with no elements at all."""
    D2, D1, n = winding.large, winding.small, winding.active
    soft = np.pi / (4 * G * torsion_constant(winding))
    gap = travel(winding) / n
    landed_down_to = np.clip(np.cbrt(gap / (soft * load)), D1, D2)
    a_turn = n / (D2 - D1)
    return a_turn * (soft * load * (landed_down_to**4 - D1**4) / 4 + gap * (D2 - landed_down_to))


@pytest.mark.parametrize("cone", [LAW_CONE, CONE])
def test_a_cone_follows_the_published_law(cone: Winding) -> None:
    own = cut(cone)
    last = landing.closing_loads(own.compliances, own.gaps).max()
    loads = np.linspace(0.02, 1.0, 200) * last
    assert landing.deflection(loads, own.compliances, own.gaps) == pytest.approx(law(loads, cone), rel=1e-5)


def test_more_elements_come_closer_to_the_law_by_the_square() -> None:
    # Over many loads: how near one load is to a landing decides its own error.
    loads, errors = np.linspace(500.0, 1900.0, 500), []
    for elements in (15, 60, 240):
        own = cut(LAW_CONE, elements)
        errors.append(np.abs(landing.deflection(loads, own.compliances, own.gaps) - law(loads, LAW_CONE)).max())
    assert errors[0] > 10 * errors[1] > 100 * errors[2]
    assert errors[2] < 1e-6


@given(windings())
def test_the_first_slope_is_the_closed_form(winding: Winding) -> None:
    own = cut(winding)
    assert 1 / own.compliances.sum() == pytest.approx(closed_rate(winding), rel=1e-10)
    assert float(landing.rate_at_load(0.0, own.compliances, own.gaps)) == pytest.approx(closed_rate(winding), rel=1e-10)


@given(windings(), shares)
def test_work_done_is_energy_held(winding: Winding, share: float) -> None:
    own = cut(winding)
    pressed = np.linspace(0.0, share * travel(winding), 4001)
    loads = landing.load_at_deflection(pressed, own.compliances, own.gaps)
    held = float(landing.energy(loads[-1], own.compliances, own.gaps))
    assert integral(loads, pressed) == pytest.approx(held, rel=1e-4, abs=1e-15)


# The curve


@given(windings(), st.lists(st.floats(-0.2, 1.0), min_size=1, max_size=20))
def test_load_undoes_deflection(winding: Winding, parts: list[float]) -> None:
    own = cut(winding)
    pressed = np.array(parts) * travel(winding)
    back = landing.deflection(landing.load_at_deflection(pressed, own.compliances, own.gaps), own.compliances, own.gaps)
    assert back == pytest.approx(pressed, rel=1e-9, abs=1e-9 * travel(winding))


@given(windings())
def test_pressing_never_lowers_load_rate_or_stress(winding: Winding) -> None:
    own = cut(winding)
    loads = landing.load_at_deflection(np.linspace(0.0, travel(winding), 300), own.compliances, own.gaps)
    rates = landing.rate_at_load(loads, own.compliances, own.gaps)
    free = landing.free_turns(loads, own.turns, own.compliances, own.gaps)
    stress = landing.peak_stress(loads, own.diameters, own.compliances, own.gaps, 1e-8, winding.radial, wahl)
    assert np.all(np.diff(loads) > -1e-9)
    assert np.all(rates[1:] >= rates[:-1])
    assert np.all(np.diff(free) <= 0)
    assert np.all(np.diff(stress) >= 0)
    assert free[0] == pytest.approx(winding.active, rel=1e-12)


def test_bind_ends_the_curve() -> None:
    own = cut(BEEHIVE)
    lands = landing.closing_loads(own.compliances, own.gaps)
    full = travel(BEEHIVE)
    assert own.gaps.sum() == pytest.approx(full, rel=1e-12)
    assert float(landing.load_at_deflection(full, own.compliances, own.gaps)) == pytest.approx(lands.max(), rel=1e-9)
    assert np.isnan(landing.load_at_deflection(full * 1.001, own.compliances, own.gaps))
    assert float(landing.deflection(2 * lands.max(), own.compliances, own.gaps)) == pytest.approx(full, rel=1e-12)
    assert float(landing.free_turns(lands.max(), own.turns, own.compliances, own.gaps)) == 0.0
    assert float(landing.rate_at_load(lands.max(), own.compliances, own.gaps)) == np.inf


def test_straight_turns_of_a_beehive_leave_the_active_count_first() -> None:
    own = cut(BEEHIVE)
    lands = landing.closing_loads(own.compliances, own.gaps)
    straight = own.diameters == BEEHIVE.large
    assert lands[straight].max() < lands[~straight].min()
    between = (lands[straight].max() + lands[~straight].min()) / 2
    assert float(landing.free_turns(between, own.turns, own.compliances, own.gaps)) == pytest.approx(2.0, rel=1e-12)
    left = taper.taper_rate(G, torsion_constant(BEEHIVE), BEEHIVE.large, BEEHIVE.small, 2.0, 2.0)
    assert float(landing.rate_at_load(between, own.compliances, own.gaps)) == pytest.approx(float(left), rel=1e-10)


def test_a_landed_turn_keeps_the_stress_of_its_landing() -> None:
    own = cut(BEEHIVE)
    lands = landing.closing_loads(own.compliances, own.gaps)
    W, first = 1.4e-8, lands.min()

    def stress(load: float) -> float:
        return float(
            landing.peak_stress(load, own.diameters, own.compliances, own.gaps, W, BEEHIVE.radial, np.ones_like)
        )

    # Up to the first landing the large turns bear most: F D2/2/W. Just after it they stay there, until the largest
    # turn of the taper has caught up; and at the end the small end bears most, at the last landing.
    assert stress(first) == pytest.approx(first * BEEHIVE.large / 2 / W, rel=1e-12)
    assert stress(1.001 * first) == pytest.approx(stress(first), rel=2e-3)
    small_end = landing.closing_loads(own.compliances, own.gaps)[-1] * own.diameters[-1] / 2 / W
    assert stress(2 * lands.max()) == pytest.approx(small_end, rel=1e-12)
    assert stress(3 * lands.max()) == stress(2 * lands.max())


def test_a_beehive_lies_between_its_cone_and_its_cylinder() -> None:
    assert closed_rate(CYLINDER) < closed_rate(BEEHIVE) < closed_rate(CONE)
    # The stack is another matter: a step taken over fewer turns nests deeper, so the beehive's is the lowest.
    assert CYLINDER.bind_height > CONE.bind_height > BEEHIVE.bind_height
    pressed = np.linspace(0.05, 0.95, 30) * travel(CYLINDER)
    straight, hive, cone = (
        landing.load_at_deflection(pressed, own.compliances, own.gaps) for own in map(cut, (CYLINDER, BEEHIVE, CONE))
    )
    assert np.all(straight < hive)
    early = hive < landing.closing_loads(cut(BEEHIVE).compliances, cut(BEEHIVE).gaps).min()
    assert early.any()
    assert np.all(hive[early] < cone[early])


@given(windings(), shares, shares)
def test_more_taper_is_never_softer_or_taller(winding: Winding, one: float, other: float) -> None:
    less, more = (dataclasses.replace(winding, tapered=share * winding.active) for share in sorted((one, other)))
    assert closed_rate(less) <= closed_rate(more) * (1 + 1e-12)


# Scaling laws


@given(windings(), scales, shares)
def test_a_spring_made_larger(winding: Winding, scale: float, share: float) -> None:
    own, big = cut(winding), cut(scaled(winding, scale))
    pressed = share * travel(winding)
    load = float(landing.load_at_deflection(pressed, own.compliances, own.gaps))
    grown = float(landing.load_at_deflection(scale * pressed, big.compliances, big.gaps))
    assert closed_rate(scaled(winding, scale)) == pytest.approx(scale * closed_rate(winding), rel=1e-9)
    assert grown == pytest.approx(scale**2 * load, rel=1e-6, abs=1e-6)
    held = landing.energy(load, own.compliances, own.gaps), landing.energy(grown, big.compliances, big.gaps)
    assert float(held[1]) == pytest.approx(scale**3 * float(held[0]), rel=1e-5, abs=1e-9)
    same = landing.peak_stress(scale**2 * load, big.diameters, big.compliances, big.gaps, 1.0, scale, wahl)
    was = landing.peak_stress(load, own.diameters, own.compliances, own.gaps, 1.0 / scale**3, 1.0, wahl)
    assert float(same) == pytest.approx(float(was), rel=1e-6)


@given(windings(), scales)
def test_a_stiffer_steel_lands_in_step(winding: Winding, scale: float) -> None:
    own, stiff = cut(winding), elements_of(winding, scale * G, torsion_constant(winding))
    lands = landing.closing_loads(own.compliances, own.gaps)
    assert landing.closing_loads(stiff.compliances, stiff.gaps) == pytest.approx(scale * lands, rel=1e-9)


# Stacking


def test_how_turns_stack() -> None:
    # A step of 3 in a wire of 5: the neighbour lies sqrt(25 - 9) = 4 higher; from a step of 5 on it lies inside.
    assert float(taper.turn_height(5.0, 5.0, 3.0)) == pytest.approx(4.0, rel=1e-12)
    assert float(taper.turn_height(10.0, 5.0, 3.0)) == pytest.approx(8.0, rel=1e-12)
    assert taper.turn_height(5.0, 5.0, np.array([5.0, 6.0])).tolist() == [0.0, 0.0]
    assert taper.turn_height(5.0, 5.0, np.array([3.0, 4.999, 5.0]), True).tolist() == [5.0, 5.0, 0.0]
    assert taper.radial_step(30.0, np.array([20.0, 30.0]), np.array([2.5, 0.0])).tolist() == [2.0, 0.0]


def test_a_telescoping_cone_presses_flat() -> None:
    cone = dataclasses.replace(LAW_CONE, large=0.068, free_height=0.040)
    assert cone.step == pytest.approx(cone.radial, rel=1e-12)
    steeper = dataclasses.replace(cone, large=0.070)
    assert steeper.bind_height == pytest.approx(steeper.dead_height, rel=1e-12)
    assert cut(steeper).gaps.sum() == pytest.approx(0.032, rel=1e-12)


@pytest.mark.parametrize(("ground", "dead", "bind"), [(True, 2.0, 28.0), (False, 2.0, 32.0), (False, 0.0, 24.0)])
def test_bind_of_a_cylinder_by_hand(ground: bool, dead: float, bind: float) -> None:
    # Five active turns of 4 mm: closed and ground 7 d, closed 8 d, plain 6 d.
    assert dataclasses.replace(CYLINDER, ground=ground, dead=dead).bind_height == pytest.approx(bind / 1e3, rel=1e-12)


# Arrays, cuts, refusals


def test_many_springs_go_through_together() -> None:
    small = np.array([0.016, 0.020, 0.024])
    together = taper.taper_rate(G, 3e-11, 0.028, small, 5.0, np.array([[0.0], [2.0]]))
    assert together.shape == (2, 3)
    assert together[1].tolist() == [float(taper.taper_rate(G, 3e-11, 0.028, one, 5.0, 2.0)) for one in small]
    cuts = [cut(dataclasses.replace(BEEHIVE, small=float(one)), 60) for one in small]
    c, g = np.array([one.compliances for one in cuts]), np.array([one.gaps for one in cuts])
    pressed = np.array([0.004, 0.012, 0.016])
    loads = landing.load_at_deflection(pressed, c, g)
    alone = [float(landing.load_at_deflection(at, c[i], g[i])) for i, at in enumerate(pressed)]
    assert loads == pytest.approx(alone, rel=1e-12)
    assert landing.deflection(loads, c, g) == pytest.approx(pressed, rel=1e-12)
    assert landing.rate_at_load(loads, c, g).shape == (3,)


@given(windings(), st.integers(2, 300))
def test_elements_hold_all_turns_from_large_to_small(winding: Winding, elements: int) -> None:
    diameters, turns = taper.coil_turns(winding.large, winding.small, winding.active, winding.tapered, elements)
    assert diameters.shape == turns.shape == (elements,)
    assert turns.sum() == pytest.approx(winding.active, rel=1e-12)
    assert np.all(np.diff(diameters) <= 1e-12)
    assert np.all((diameters >= winding.small * (1 - 1e-12)) & (diameters <= winding.large * (1 + 1e-12)))


@pytest.mark.parametrize(
    "odd",
    [
        {"small": 0.029},
        {"small": 0.0},
        {"tapered": 5.1},
        {"tapered": -0.1},
        {"active": 0.0, "tapered": 0.0},
        {"axial": 0.0},
        {"radial": -0.001},
        {"dead": -1.0},
        {"free_height": 0.020},
        {"large": float("nan")},
        {"free_height": float("nan")},
    ],
)
def test_what_cannot_be_wound_is_refused(odd: dict[str, Any]) -> None:
    with pytest.raises(InputError):
        dataclasses.replace(BEEHIVE, **odd)


def test_bad_cuts_are_refused() -> None:
    with pytest.raises(InputError):
        taper.coil_turns(0.028, 0.020, 5.0, 2.0, 1)
    with pytest.raises(InputError):
        taper.gaps(0.019, np.array([0.028, 0.028]), np.array([2.5, 2.5]), 0.028, 0.004, 0.004)


def test_a_picture_of_sixty_points_is_quick() -> None:
    own = cut(BEEHIVE)
    pressed = np.linspace(0.0, travel(BEEHIVE), 60)

    def once() -> float:
        begun = time.perf_counter()
        landing.load_at_deflection(pressed, own.compliances, own.gaps)
        return time.perf_counter() - begun

    assert min(once() for _ in range(50)) < 0.3e-3
