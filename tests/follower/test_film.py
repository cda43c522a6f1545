"""The oil film of line and ellipse: published groups, how it scales, and its regimes."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from loadbench.errors import InputError
from loadbench.follower.film import (
    Regime,
    film_ellipse,
    film_line,
    film_line_hamrock,
    film_ratio,
    hamrock_regimes,
    regime,
)

MODULUS, COEFFICIENT = 228e9 / 2, 2.2e-8
speeds, loads = st.floats(0.01, 20.0), st.floats(10.0, 1e4)


@pytest.mark.reference("hamrock-film")
def test_f89_and_f90_groups_and_film_of_a_roller_bearing() -> None:
    for radius, speed_group, film_group in ((6.4e-3, 6.895e-11, 50.5e-6), (9.6e-3, 4.597e-11, 40.7e-6)):
        U = 0.01 * 10.061 / (228e9 * radius)
        assert pytest.approx(speed_group, rel=1e-3) == U
        least, _ = film_ellipse(10.061, 0.01, radius, np.inf, 4800.0, MODULUS, COEFFICIENT)
        assert float(least) / radius == pytest.approx(film_group, rel=5e-3)
    assert pytest.approx(5016, rel=1e-3) == COEFFICIENT * 228e9
    assert pytest.approx(5.14e-4, rel=1e-3) == 4800 / (228e9 * 6.4e-3**2)


@given(speed=speeds, load=loads, scale=st.floats(0.2, 5.0))
def test_how_films_scale(speed: float, load: float, scale: float) -> None:
    for law, of_speed, of_load in ((film_line, 0.70, 0.13), (film_line_hamrock, 0.694, 0.128)):
        one = float(law(speed, 0.01, 0.008, 0.014, load, MODULUS, COEFFICIENT))
        assert float(law(speed * scale, 0.01, 0.008, 0.014, load, MODULUS, COEFFICIENT)) == pytest.approx(
            one * scale**of_speed, rel=1e-9
        )
        # Twice the oil is as good as twice the speed.
        assert float(law(speed, 0.01 * scale, 0.008, 0.014, load, MODULUS, COEFFICIENT)) == pytest.approx(
            one * scale**of_speed, rel=1e-9
        )
        assert float(law(speed, 0.01, 0.008, 0.014, load * scale, MODULUS, COEFFICIENT)) == pytest.approx(
            one * scale**-of_load, rel=1e-9
        )
        assert float(law(speed, 0.01, 0.008, 0.014 * scale, load * scale, MODULUS, COEFFICIENT)) == pytest.approx(
            one, rel=1e-9
        )


@given(speed=speeds, load=loads, ratio=st.floats(1.0, 50.0))
def test_the_least_film_lies_under_the_central_one(speed: float, load: float, ratio: float) -> None:
    least, centre = film_ellipse(speed, 0.01, 0.012, ratio, load, MODULUS, COEFFICIENT)
    assert 0 < float(least) < float(centre)
    wider, _ = film_ellipse(speed, 0.01, 0.012, ratio * 1.1, load, MODULUS, COEFFICIENT)
    assert float(wider) >= float(least)


@pytest.mark.reference("hamrock-film")
@pytest.mark.parametrize(("ratio", "least", "centre"), [(1.0, 0.493383, 0.706036), (3.0, 0.869971, 0.931731)])
def test_what_the_ends_of_a_short_ellipse_let_out(ratio: float, least: float, centre: float) -> None:
    # 1 - exp(-0.68 k) and 1 - 0.61 exp(-0.73 k), worked out apart from the program.
    short, long = (film_ellipse(1.0, 0.01, 0.012, k, 500.0, MODULUS, COEFFICIENT) for k in (ratio, np.inf))
    assert float(short[0] / long[0]) == pytest.approx(least, rel=1e-5)
    assert float(short[1] / long[1]) == pytest.approx(centre, rel=1e-5)


def test_nothing_that_moves_no_film_and_arrays_in_arrays_out() -> None:
    speed = np.array([0.0, 1.0, 2.0])
    line = film_line(speed, 0.01, 0.008, 0.014, 2000.0, MODULUS, COEFFICIENT)
    least, centre = film_ellipse(speed, 0.01, 0.008, 5.0, 2000.0, MODULUS, COEFFICIENT)
    assert line[0] == least[0] == centre[0] == 0
    assert line.shape == least.shape == (3,)
    for wrong in ({"load": 0.0}, {"load": -1.0}, {"viscosity": 0.0}, {"speed": -0.1}, {"radius": np.nan}):
        given_ = {"speed": 1.0, "viscosity": 0.01, "radius": 0.008, "length": 0.014, "load": 1.0} | wrong
        with pytest.raises(InputError):
            film_line(**given_, modulus=MODULUS, coefficient=COEFFICIENT)


@pytest.mark.reference("hamrock-machine")
@pytest.mark.parametrize(
    ("ratio", "simple", "ranges"),
    [
        (0.0, Regime.BOUNDARY, ("boundary",)),
        (0.999, Regime.BOUNDARY, ("boundary",)),
        (1.0, Regime.MIXED, ("partial",)),
        (2.999, Regime.MIXED, ("partial",)),
        (3.0, Regime.FULL, ("partial", "elastohydrodynamic")),
        (5.0, Regime.FULL, ("elastohydrodynamic", "hydrodynamic")),
        (10.0, Regime.FULL, ("hydrodynamic",)),
        (100.0, Regime.FULL, ()),
    ],
)
def test_f96_regimes(ratio: float, simple: Regime, ranges: tuple[str, ...]) -> None:
    assert regime(ratio) is simple
    assert hamrock_regimes(ratio) == ranges


def test_roughness_counts_as_the_root_of_both_squares() -> None:
    assert film_ratio(np.array([0.5e-6, 1e-6]), 0.3e-6, 0.4e-6) == pytest.approx([1.0, 2.0])
    for both in ((0.0, 0.0), (-0.1e-6, 0.2e-6)):
        with pytest.raises(InputError):
            film_ratio(1e-6, *both)
