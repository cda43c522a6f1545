"""Modes of a taper under any load: against chains of elements, a cylinder that loses turns, and in their limits."""

from __future__ import annotations

import dataclasses

import numpy as np
import pytest

from loadbench.arrays import Floats
from loadbench.spring import surge, surge_chain
from loadbench.spring.landed_surge import LandingSpring, landing_spring
from loadbench.spring.winding import Elements, Winding
from tests.spring.test_surge import RHO, area, closed_first
from tests.spring.windings import BEEHIVE, CONE, CYLINDER, LAW_CONE, cut

MODES = 5
STEEP = dataclasses.replace(LAW_CONE, large=0.050)  # each turn has 0.6 of a wire less radius


def masses_of(winding: Winding, own: Elements) -> Floats:
    return surge_chain.element_masses(own.diameters, own.turns, area(winding), RHO)


def spring_of(winding: Winding) -> LandingSpring:
    own = cut(winding)
    masses = masses_of(winding, own)
    free = surge_chain.chain_frequencies(own.compliances, masses, MODES)
    found = landing_spring(own.compliances, own.gaps, masses, free)
    assert found is not None
    return found


def at_landing(spring: LandingSpring, down: int) -> Floats:
    """The modes with so many elements landed."""
    return spring.modes(float(spring.landing[down - 1]) * (1 + 1e-12))


def levels_of(winding: Winding, spring: LandingSpring, leave: int) -> range:
    """How many elements may have landed: all straight ones at once, then one after another until some are left."""
    straight = int(np.count_nonzero(cut(winding).diameters == winding.large))
    return range(max(straight, 1), spring.landing.size - leave, 5)


@pytest.mark.parametrize(
    ("winding", "error"), [(BEEHIVE, 2e-4), (CONE, 2e-4), (LAW_CONE, 2e-4), (STEEP, 1e-3)], ids=str
)
def test_modes_meet_those_of_a_chain_ten_times_as_fine(winding: Winding, error: float) -> None:
    spring, fine = spring_of(winding), cut(winding, 2400)
    masses = masses_of(winding, fine)
    for down in levels_of(winding, spring, 24):  # to the last tenth of the elements
        exact = surge_chain.chain_frequencies(fine.compliances, masses, MODES, np.arange(10 * down, 2400))
        assert at_landing(spring, down) == pytest.approx(exact, rel=error)


@pytest.mark.parametrize("winding", [BEEHIVE, CONE, LAW_CONE], ids=str)
def test_they_meet_the_chain_of_their_own_elements_as_far_as_that_is_fine_enough(winding: Winding) -> None:
    spring, own = spring_of(winding), cut(winding)
    masses = masses_of(winding, own)
    for down in levels_of(winding, spring, 60):
        load = float(spring.landing[down - 1]) * (1 + 1e-12)
        chain = surge_chain.modes_at_load(load, own.compliances, own.gaps, masses, MODES)
        # The chain itself falls short of the continuous spring by (k pi/(2 elements))^2/6.
        short = (np.arange(1, MODES + 1) * np.pi / 2 / (own.turns.size - down)) ** 2 / 6
        assert np.all(np.abs(spring.modes(load) / chain - 1) <= 1.2 * short + 2e-4)


@pytest.mark.parametrize("winding", [BEEHIVE, CONE, LAW_CONE, STEEP], ids=str)
def test_modes_rise_as_turns_land(winding: Winding) -> None:
    spring = spring_of(winding)
    found = np.array([spring.modes(load) for load in np.linspace(0.0, 0.999, 400) * spring.landing[-1]])
    assert np.all(np.diff(found, axis=0) >= -1e-9 * found[:-1])
    assert found[-1, 0] > 2 * found[0, 0]


@pytest.mark.parametrize("winding", [CYLINDER, BEEHIVE, CONE], ids=str)
def test_with_no_turn_landed_they_are_those_of_the_free_spring_and_with_all_landed_none(winding: Winding) -> None:
    spring = spring_of(winding)
    assert spring.modes(0.0) is spring.free
    assert spring.modes(float(spring.landing[0]) * (1 - 1e-9)) is spring.free
    assert not spring.ratios  # no chain was solved for that
    assert np.isnan(spring.modes(float(spring.landing[-1]) * (1 + 1e-9))).all()


@pytest.mark.parametrize("turns", [1, 2, 3, 4])
def test_turns_of_one_diameter_that_land_leave_a_shorter_cylinder(turns: int) -> None:
    # A cylinder wound closer at the seat: element by element a little more gap, so that it lands turn by turn.
    own, first = cut(CYLINDER), closed_first(CYLINDER)
    gaps = own.gaps * np.linspace(0.5, 1.5, own.gaps.size)
    masses = masses_of(CYLINDER, own)
    spring = landing_spring(
        own.compliances, gaps, masses, surge_chain.chain_frequencies(own.compliances, masses, MODES)
    )
    assert spring is not None
    expected = float(surge.mode_with_coils_landed(first, 5.0, 5.0 - turns))
    found = at_landing(spring, 48 * turns)  # 240 elements, 48 a turn
    assert found == pytest.approx(expected * np.arange(1, MODES + 1), rel=1e-4)
    chain = surge_chain.modes_at_load(float(spring.landing[48 * turns - 1]), own.compliances, gaps, masses, MODES)
    assert found == pytest.approx(chain, rel=5e-3)


def test_turns_that_land_in_another_order_are_not_taken_for_such_a_spring() -> None:
    own = cut(CONE)
    turned = own.compliances[::-1]
    assert landing_spring(turned, own.gaps, masses_of(CONE, own)[::-1], np.ones(MODES)) is None


def test_a_taper_of_hardly_any_turn_has_nodes_for_no_chain() -> None:
    short = dataclasses.replace(BEEHIVE, tapered=0.05, small=0.027)
    spring = spring_of(short)
    found = at_landing(spring, 238)
    assert found == pytest.approx(np.arange(1, MODES + 1) / (2 * spring.left[238]))
    assert not spring.nodes


def test_frequencies_alone_are_those_of_the_shapes() -> None:
    own = cut(BEEHIVE)
    masses = masses_of(BEEHIVE, own)
    free = np.arange(30, 240)
    both = surge_chain.chain_modes(own.compliances, masses, MODES, free)[0]
    assert surge_chain.chain_frequencies(own.compliances, masses, MODES, free) == pytest.approx(both, rel=1e-9)
    assert np.isnan(surge_chain.chain_frequencies(own.compliances, masses, 3, np.array([5]))).all()
