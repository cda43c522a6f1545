"""Surge frequencies and conical springs against published values; a row's id is the test's.

No worked example of a conical spring was found in print: S152 to S155 rest on formulas recalled from the paper named,
and S151 and S156 stand on their own.
"""

from __future__ import annotations

import dataclasses
from typing import Any

import numpy as np
import pytest

from loadbench.spring import coil, landing, surge, surge_chain, taper
from loadbench.spring.winding import Winding, elements_of
from loadbench.units import Kind, parse


def si(text: str, kind: Kind = Kind.LENGTH) -> float:
    return parse(text, kind, None).value


def row(name: str, source: str, *values: Any) -> Any:
    return pytest.param(*values, marks=pytest.mark.reference(source), id=name)


INCH = si("1 in")
PSI = si("1 psi", Kind.PRESSURE)
LBF_PER_IN = si("1 lbf/in", Kind.RATE)
# The book weighs the steel: 0.284 lbf/in3 by g = 386 in/s2.
BOOK_DENSITY = 0.284 * si("1 lbf", Kind.FORCE) / INCH**3 / (386 * INCH)


def mass(d: float, D: float, n: float) -> float:
    return float(np.pi**2 * d**2 * D * n / 4 * BOOK_DENSITY)


@pytest.mark.parametrize(
    ("d", "D", "n", "printed"),
    [
        row("S132", "shigley-answers", "0.105 in", "1.2605 in", 8.9147, 105.4329),
        row("S133", "shigley-answers", "0.112 in", "1.5380 in", 6.3529, 105.9999),
    ],
)
def test_surge_of_two_designed_springs(d: str, D: str, n: float, printed: float) -> None:
    # Printed 105.433 and 106 Hz; both springs were designed for 10 lbf/in.
    found = surge.first_mode(si("10 lbf/in", Kind.RATE), mass(si(d), si(D), n))
    assert float(found) == pytest.approx(printed, rel=3e-3)


D_BOOK, N_BOOK = 0.4705, 21.0


@pytest.mark.reference("shigley")
def test_s134_weight_of_the_active_coils() -> None:
    # Printed 0.0586 lbf. Elements of one cylinder add up to it.
    diameters, turns = taper.coil_turns(D_BOOK * INCH, D_BOOK * INCH, N_BOOK, 0.0)
    area = np.pi / 4 * (0.092 * INCH) ** 2
    weight = surge_chain.element_masses(diameters, turns, area, BOOK_DENSITY).sum() * 386 * INCH
    assert weight / si("1 lbf", Kind.FORCE) == pytest.approx(0.05860, rel=1e-3)


@pytest.mark.reference("shigley")
def test_s135_rate_as_a_taper_of_equal_ends() -> None:
    # Printed 48.1 lbf/in; the tapered formula with nothing tapered away.
    J = np.pi / 32 * (0.092 * INCH) ** 4
    rate = taper.taper_rate(11.75e6 * PSI, J, D_BOOK * INCH, D_BOOK * INCH, N_BOOK, N_BOOK)
    assert float(rate) / LBF_PER_IN == pytest.approx(48.106, rel=1e-3)


@pytest.mark.reference("shigley")
def test_s136_s137_first_mode_and_the_fastest_cam() -> None:
    # Printed 281 Hz and 14.1 Hz.
    rate = coil.rate(11.75e6 * PSI, 0.092 * INCH, D_BOOK * INCH, N_BOOK)
    first = surge.first_mode(rate, mass(0.092 * INCH, D_BOOK * INCH, N_BOOK))
    assert float(first) == pytest.approx(281.45, rel=3e-3)
    assert float(surge.highest_forcing_frequency(first)) == pytest.approx(14.07, rel=5e-3)


@pytest.mark.reference("shigley")
def test_s138_both_forms_agree() -> None:
    d, D, G = 0.092 * INCH, D_BOOK * INCH, 11.75e6 * PSI
    by_rate = surge.first_mode(coil.rate(G, d, D, N_BOOK), mass(d, D, N_BOOK))
    by_wire = surge.first_mode_of_wire(d, D, N_BOOK, G, BOOK_DENSITY)
    assert float(by_wire / by_rate) == pytest.approx(1.0, abs=1e-9)


@pytest.mark.reference("en-13906-1")
def test_s139_the_standards_constant() -> None:
    # Exactly 3558.81 in mm, MPa, kg/dm3; the standard prints 3560.
    d, D, n, G, rho = 0.004, 0.030, 6.0, 79.5e9, 7850.0
    exact = float(surge.first_mode_of_wire(d, D, n, G, rho)) * n * 30.0**2 / 4.0 / np.sqrt(79500 / 7.85)
    assert exact == pytest.approx(3558.81, abs=0.01)
    assert float(surge.first_mode_en(d, D, n, G, rho)) == pytest.approx(
        float(surge.first_mode_of_wire(d, D, n, G, rho)), rel=5e-4
    )


MET = (0.006, 0.050, 16.0842, 75e9, 7800.0)


@pytest.mark.reference("metoolbox")
def test_s140_first_mode_in_si() -> None:
    # The notebook prints 0.05207 Hz: it mixes MPa with kg/m3, a factor of 1000. From its own inputs it is 52.07 Hz.
    assert float(surge.first_mode_of_wire(*MET)) == pytest.approx(52.0715, rel=1e-4)


@pytest.mark.reference("metoolbox")
def test_s141_one_end_free() -> None:
    # Half of it, with the unit put right as in S140.
    d, D, n, G, rho = MET
    free = surge.first_mode_free_end(coil.rate(G, d, D, n), rho * np.pi**2 * d**2 * D * n / 4)
    assert float(free) == pytest.approx(26.0358, rel=1e-4)


@pytest.mark.reference("surge-rule")
def test_s142_the_ratio_rule() -> None:
    assert surge.LEAST_RATIO == (15.0, 20.0)
    # At 6000 rpm the cam turns 50 times a second: 750 to 1000 Hz are asked for.
    speed = si("6000 rpm", Kind.SPEED)
    assert surge.surge_ratio(np.array([750.0, 1000.0]), speed) == pytest.approx(surge.LEAST_RATIO, rel=1e-9)


# The cone of S151 to S155: wire 4 mm, 20 to 32 mm, six turns, 60 mm of active turns at an even pitch.
G = 79.5e9
J = np.pi / 32 * 0.004**4
CONE = Winding(
    axial=0.004, radial=0.004, large=0.032, small=0.020, active=6.0, tapered=6.0, free_height=0.068, dead=2.0
)
STACK = taper.stacked_height(0.004, 0.004, 0.032, 0.020, 6.0, 6.0)


@pytest.mark.reference("wahl")
def test_s151_linear_rate() -> None:
    assert float(taper.taper_rate(G, J, 0.032, 0.020, 6.0, 6.0)) / 1e3 == pytest.approx(22.90406, rel=1e-4)


@pytest.mark.reference("rodriguez")
def test_s152_height_of_the_landed_turns() -> None:
    assert float(STACK) * 1e3 == pytest.approx(23.23790, abs=1e-4)
    assert CONE.bind_height * 1e3 == pytest.approx(23.23790 + 8.0, abs=1e-4)


@pytest.mark.parametrize(
    ("diameter", "end", "expected"),
    [row("S153", "rodriguez", 0.032, 0, 475.6815), row("S154", "rodriguez", 0.020, -1, 1948.3913)],
)
def test_landing_loads(diameter: float, end: int, expected: float) -> None:
    assert float(taper.landing_load(G, J, diameter, (0.060 - STACK) / 6)) == pytest.approx(expected, rel=1e-3)
    # An element stands for the turns about its middle, half an element from the end: 0.4 % in load.
    own = elements_of(CONE, G, J)
    assert landing.closing_loads(own.compliances, own.gaps)[end] == pytest.approx(expected, rel=5e-3)


@pytest.mark.reference("rodriguez")
def test_s155_deflection_half_way_between_the_landings() -> None:
    own = elements_of(CONE, G, J)
    assert float(landing.deflection(1212.0364, own.compliances, own.gaps)) * 1e3 == pytest.approx(34.67292, rel=1e-3)
    back = landing.load_at_deflection(34.67292e-3, own.compliances, own.gaps)
    assert float(back) == pytest.approx(1212.0364, rel=1e-3)


@pytest.mark.reference("wahl")
def test_s156_limit_to_the_cylinder() -> None:
    for D in (0.020, 0.026, 0.032):
        ratio = taper.taper_rate(G, J, D, D, 6.0, 6.0) / coil.rate(G, 0.004, D, 6.0)
        assert float(ratio) == pytest.approx(1.0, abs=1e-12)
        straight = dataclasses.replace(CONE, large=D, small=D)
        assert 1 / elements_of(straight, G, J).compliances.sum() == pytest.approx(
            float(ratio * coil.rate(G, 0.004, D, 6.0))
        )
