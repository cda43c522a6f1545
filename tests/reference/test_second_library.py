"""Contact, oil and film against a general tribology library from the public registry.

Source of every value: `tribology` 0.5.16 (MIT), run apart on the inputs that stand here: `eeff`, `ahertz`, `phertz`,
`walther`, `dowhampoint`, `dowhamline`. It asks for a numpy of 2019, so it is no dependency of the tests.
"""

from __future__ import annotations

import pytest

from loadbench.follower import elastic, film, oil
from loadbench.follower.elliptic_contact import elliptic_contact

STEELS = elastic.reduced_modulus(elastic.STEEL, elastic.STEEL)


def test_modulus_of_steel_on_iron() -> None:
    """That library's modulus is twice ours, as in film theory."""
    both = elastic.reduced_modulus(elastic.STEEL, elastic.CAST_IRON)
    assert 2 * both == pytest.approx(146033265851.93723, rel=1e-12)


@pytest.mark.parametrize(
    ("load", "small", "large", "across", "along", "pressure"),
    [
        (4448.0, 0.006, 0.5, 2.3887360136703892e-4, 3.924682136442294e-3, 2265340654.8533406),
        (1500.0, 0.008, 1.2, 1.632970083123001e-4, 3.7854920542008995e-3, 1158596142.452722),
        (900.0, 0.012, 0.012, 4.152218000166724e-4, 4.152218000166724e-4, 2492433628.22693),
        (2500.0, 0.007, 0.05, 3.382643616451749e-4, 1.225153897792356e-3, 2880278645.3883924),
        (3000.0, 0.010, 12.7, 1.480163541136076e-4, 1.1551795651747897e-2, 837728789.5439183),
    ],
)
def test_ellipse(load: float, small: float, large: float, across: float, along: float, pressure: float) -> None:
    """Its short form is good to half a per cent; ours is exact, so that a circle agrees to the last digits."""
    found = elliptic_contact(load, small, large, STEELS)
    close = 1e-12 if small == large else 5e-3
    assert (float(found.across), float(found.along)) == pytest.approx((across, along), rel=close)
    assert float(found.pressure) == pytest.approx(pressure, rel=close)


@pytest.mark.parametrize(
    ("at_40", "at_100", "celsius", "expected"),
    [
        (100.0, 14.0, 80, 23.46489459971617),
        (107.0, 14.7, 120, 9.578298281933185),
        (46.0, 6.8, 60, 20.62274755695607),
        (180.0, 18.5, 20, 618.0203367834074),
    ],
)
def test_viscosity_over_temperature(at_40: float, at_100: float, celsius: float, expected: float) -> None:
    constants = oil.walther((oil.AT_40, at_40 * oil.CST), (oil.AT_100, at_100 * oil.CST))
    assert float(oil.kinematic(constants, celsius + 273.15)) == pytest.approx(expected * oil.CST, rel=1e-9)


@pytest.mark.parametrize(
    ("speed", "viscosity", "radius", "load", "coefficient", "point", "line"),
    [
        (1.0, 0.020, 0.006, 500.0, 2.0e-8, 1.045513251533993e-7, 1.550590898580969e-7),
        (4.0, 0.012, 0.010, 900.0, 1.8e-8, 2.165978620958019e-7, 3.1042592807114495e-7),
    ],
)
def test_films(
    speed: float, viscosity: float, radius: float, load: float, coefficient: float, point: float, line: float
) -> None:
    """A point's central film, whose factor it rounds to 1.9; the least film of a line lies 2 to 10 % below its own."""
    central = film.film_ellipse(speed, viscosity, radius, 1.0, load, STEELS, coefficient)[1]
    assert float(central) == pytest.approx(point, rel=6e-4)
    for law in (film.film_line, film.film_line_hamrock):
        least = float(law(speed, viscosity, radius, 0.012, load, STEELS, coefficient))
        assert 0.90 < least / line < 0.99
