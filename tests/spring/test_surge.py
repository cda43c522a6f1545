"""Surge: closed forms against chains, chains against the wave equation, and what changes when coils land."""

from __future__ import annotations

import dataclasses

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from loadbench.arrays import Floats
from loadbench.spring import coil, landing, surge, surge_chain
from loadbench.spring.winding import Winding
from tests.spring.windings import BEEHIVE, CONE, CYLINDER, G, cut, torsion_constant, travel, windings

RHO = 7850.0
wires = st.floats(0.001, 0.008)
indices = st.floats(4.0, 12.0)
turns = st.floats(2.0, 20.0)
scales = st.floats(0.5, 2.0)
frequencies = st.floats(50.0, 2000.0)


def area(winding: Winding) -> float:
    return np.pi / 4 * winding.axial * winding.radial


def chain(winding: Winding, count: int, elements: int = 240) -> Floats:
    own = cut(winding, elements)
    J = torsion_constant(winding)
    return surge_chain.tapered_modes(own.diameters, own.turns, J, area(winding), G, RHO, count)


def closed_first(winding: Winding) -> float:
    """First mode of a cylinder, by its rate and its mass."""
    w = winding
    rate = 4 * G * torsion_constant(w) / (np.pi * w.large**3 * w.active)
    return float(surge.first_mode(rate, RHO * area(w) * np.pi * w.large * w.active))


# Closed forms


@given(wires, indices, turns)
def test_rate_and_mass_say_the_same_as_the_wire(d: float, index: float, n: float) -> None:
    D = index * d
    mass = RHO * np.pi * d**2 / 4 * np.pi * D * n
    held = float(surge.first_mode(coil.rate(G, d, D, n), mass))
    assert float(surge.first_mode_of_wire(d, D, n, G, RHO)) == pytest.approx(held, rel=1e-12)
    assert float(surge.first_mode_free_end(coil.rate(G, d, D, n), mass)) == pytest.approx(held / 2, rel=1e-12)
    assert float(surge.first_mode_en(d, D, n, G, RHO)) == pytest.approx(held, rel=5e-4)


@given(wires, indices, turns, scales)
def test_frequency_goes_with_the_powers_of_the_sizes(d: float, index: float, n: float, scale: float) -> None:
    D = index * d
    f = float(surge.first_mode_of_wire(d, D, n, G, RHO))
    for changed, power in (
        ((scale * d, D, n, G, RHO), 1.0),
        ((d, scale * D, n, G, RHO), -2.0),
        ((d, D, scale * n, G, RHO), -1.0),
        ((d, D, n, scale * G, RHO), 0.5),
        ((d, D, n, G, scale * RHO), -0.5),
        ((scale * d, scale * D, n, G, RHO), -1.0),
    ):
        assert float(surge.first_mode_of_wire(*changed)) == pytest.approx(f * scale**power, rel=1e-12)


def test_modes_and_shapes_of_a_cylinder() -> None:
    assert surge.modes(np.array([400.0, 500.0]), 3).tolist() == [[400.0, 800.0, 1200.0], [500.0, 1000.0, 1500.0]]
    along = np.linspace(0.0, 1.0, 5)
    assert surge.mode_shape(along, 1) == pytest.approx([0, np.sqrt(0.5), 1, np.sqrt(0.5), 0], abs=1e-12)
    assert surge.mode_shape(along, 2) == pytest.approx([0, 1, 0, -1, 0], abs=1e-12)


# Chains


def test_a_chain_of_a_cylinder_has_the_closed_modes() -> None:
    exact = surge.modes(closed_first(CYLINDER), 10)
    k = np.arange(1, 11)
    # What a chain of 240 falls short by is known: sin(x)/x, x = k pi/480.
    x = k * np.pi / 480
    assert chain(CYLINDER, 10) == pytest.approx(exact * np.sin(x) / x, rel=1e-9)
    assert chain(CYLINDER, 10) == pytest.approx(exact, rel=1e-3)


@pytest.mark.parametrize("winding", [CYLINDER, BEEHIVE, CONE])
def test_chains_converge_by_the_square(winding: Winding) -> None:
    coarse, middle, fine = (chain(winding, 6, elements) for elements in (60, 120, 240))
    assert (middle - coarse) / (fine - middle) == pytest.approx(np.full(6, 4.0), rel=0.1)


@pytest.mark.parametrize("winding", [BEEHIVE, CONE])
def test_a_chain_meets_the_wave_equation(winding: Winding) -> None:
    # With no chain at all: over the turn s, F' = -m w^2 u and u' = c F, c ~ D^3, m ~ D; a mode where u ends at zero.
    from scipy.integrate import solve_ivp

    w = winding
    soft, heavy = np.pi / (4 * G * torsion_constant(w)), np.pi * area(w) * RHO

    def diameter(s: float) -> float:
        return w.large - (w.large - w.small) * max(s - (w.active - w.tapered), 0.0) / w.tapered

    found = chain(w, 4)
    richardson = found + (found - chain(w, 4, 120)) / 3
    for f in richardson:
        square = (2 * np.pi * f) ** 2

        def slope(s: float, y: Floats, square: float = square) -> list[float]:
            return [soft * diameter(s) ** 3 * y[1], -heavy * diameter(s) * square * y[0]]

        run = solve_ivp(slope, (0.0, w.active), [0.0, 1.0], rtol=1e-9, atol=1e-14, max_step=0.02)
        assert abs(run.y[0, -1]) < 1e-4 * np.abs(run.y[0]).max()


def test_a_small_end_raises_the_modes() -> None:
    straight, hive, cone = (chain(winding, 3) for winding in (CYLINDER, BEEHIVE, CONE))
    assert np.all(straight < hive)
    assert np.all(hive < cone)


@given(windings())
def test_a_taper_lies_between_its_two_cylinders(winding: Winding) -> None:
    first = chain(winding, 1)[0]
    small = closed_first(dataclasses.replace(winding, large=winding.small))
    assert closed_first(winding) * (1 - 1e-4) <= first <= small * (1 + 1e-4)


def test_shapes_of_a_chain() -> None:
    own = cut(CYLINDER)
    masses = surge_chain.element_masses(own.diameters, own.turns, area(CYLINDER), RHO)
    shapes = surge_chain.chain_modes(own.compliances, masses, 3)[1]
    along = np.linspace(0.0, 1.0, 241)
    for number, shape in enumerate(shapes, start=1):
        exact = surge.mode_shape(along, number)
        assert shape * np.sign(shape[1]) == pytest.approx(exact, abs=1e-3)
    # In a beehive the soft large turns move most.
    hive = cut(BEEHIVE)
    masses = surge_chain.element_masses(hive.diameters, hive.turns, area(BEEHIVE), RHO)
    first = surge_chain.chain_modes(hive.compliances, masses, 1)[1][0]
    assert first.max() == 1.0
    assert np.cumsum(hive.turns)[first.argmax() - 1] < BEEHIVE.active / 2
    assert first[[0, -1]].tolist() == [0.0, 0.0]


def test_mass_of_the_elements_is_that_of_the_wire() -> None:
    own = cut(BEEHIVE)
    length = np.pi * (3.0 * 0.028 + 2.0 * 0.024)
    found = surge_chain.element_masses(own.diameters, own.turns, area(BEEHIVE), RHO).sum()
    assert found == pytest.approx(length * area(BEEHIVE) * RHO, rel=1e-5)


# Coils that have landed


def modes_of(winding: Winding, load: float, count: int = 4) -> Floats:
    own = cut(winding)
    masses = surge_chain.element_masses(own.diameters, own.turns, area(winding), RHO)
    return surge_chain.modes_at_load(load, own.compliances, own.gaps, masses, count)


def test_landed_coils_swing_no_more() -> None:
    own = cut(BEEHIVE)
    lands = landing.closing_loads(own.compliances, own.gaps)
    assert modes_of(BEEHIVE, 0.0) == pytest.approx(chain(BEEHIVE, 4), rel=1e-12)
    # With the straight turns landed the cone of two turns is left: the chain of that cone alone.
    between = (lands[own.diameters == 0.028].max() + lands[own.diameters < 0.028].min()) / 2
    left = dataclasses.replace(BEEHIVE, active=2.0)
    assert modes_of(BEEHIVE, between) == pytest.approx(chain(left, 4, 96), rel=1e-9)
    firsts = [modes_of(BEEHIVE, load, 1)[0] for load in np.linspace(0.0, 0.98, 40) * lands.max()]
    assert np.all(np.diff(firsts) >= 0)
    assert np.isnan(modes_of(BEEHIVE, 2 * lands.max())).all()


def test_a_cylinder_that_loses_coils() -> None:
    first = closed_first(CYLINDER)
    fewer = dataclasses.replace(CYLINDER, active=4.0)
    assert float(surge.mode_with_coils_landed(first, 5.0, 4.0)) == pytest.approx(closed_first(fewer), rel=1e-12)
    own = cut(CYLINDER)
    before_bind = float(landing.load_at_deflection(0.999 * travel(CYLINDER), own.compliances, own.gaps))
    assert modes_of(CYLINDER, before_bind) == pytest.approx(chain(CYLINDER, 4), rel=1e-12)


def test_landed_coils_between_free_ones_ride_along() -> None:
    # Springs of 1 m/N each side of one that has landed: masses 1/2 + 1 + 1/2 in the middle, stiffness 2.
    found, shapes = surge_chain.chain_modes(np.ones(3), np.ones(3), 2, np.array([0, 2]))
    assert found[0] == pytest.approx(np.sqrt(2 / 2) / (2 * np.pi), rel=1e-12)
    assert np.isnan(found[1])
    assert shapes[0].tolist() == [0.0, 1.0, 1.0, 0.0]


# Against the engine


@given(frequencies, st.integers(1, 40))
def test_a_critical_speed_is_where_order_and_mode_meet(frequency: float, order: int) -> None:
    speed = surge.critical_speed(frequency, order)
    assert float(surge.order_frequency(order, speed)) == pytest.approx(frequency, rel=1e-12)
    assert float(surge.surge_ratio(frequency, speed)) == pytest.approx(order, rel=1e-12)


def test_orders_by_hand() -> None:
    # 6000 rpm: the cam turns 50 times a second; a spring of 500 Hz is ten times as fast.
    speed = 6000 * 2 * np.pi / 60
    assert float(surge.order_frequency(1, speed)) == pytest.approx(50.0, rel=1e-12)
    assert float(surge.surge_ratio(500.0, speed)) == pytest.approx(10.0, rel=1e-12)
    assert float(surge.highest_forcing_frequency(500.0)) == 25.0


def test_only_the_working_range_counts() -> None:
    speeds = surge.critical_speeds(np.array([400.0, 800.0]), np.array([8, 10, 16]), 400.0, 630.0)
    hertz = 4 * np.pi
    expected = [[50 * hertz, 40 * hertz, np.nan], [np.nan, np.nan, 50 * hertz]]
    assert speeds == pytest.approx(np.array(expected), rel=1e-12, nan_ok=True)
    edge = 40 * hertz
    assert not np.isnan(surge.critical_speeds(np.array([400.0]), np.array([10]), edge, edge)[0, 0])


def test_each_spring_of_a_nest_has_its_own_mode() -> None:
    d, D, n = np.array([0.0045, 0.0032]), np.array([0.030, 0.021]), np.array([5.0, 6.5])
    both = surge.first_mode_of_wire(d, D, n, G, RHO)
    alone = [float(surge.first_mode_of_wire(*one, G, RHO)) for one in zip(d, D, n, strict=True)]
    assert both.tolist() == alone
    assert surge.surge_ratio(both, 600.0).shape == (2,)
