"""The journal bearing between, below and beyond the printed tables, held against Reynolds' equation."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from loadbench.errors import InputError
from loadbench.follower import journal_table
from loadbench.follower.journal import RATIOS, journal, least_film, sommerfeld
from tests.follower.reynolds import Solved, solve

INCH, LBF = 0.0254, 4.4482216152605
PSI = LBF / INCH**2


def _off(eccentricity: float, ratio: float, solved: Solved) -> tuple[float, float, float, float]:
    """How far film, attitude, friction and pressure are from the solution, relative to it."""
    found = journal(solved.sommerfeld, ratio)
    return (
        float(found.film) / (1 - eccentricity) - 1, float(np.degrees(found.attitude)) / solved.attitude - 1,
        float(found.friction) / solved.friction - 1, float(found.pressure) / solved.pressure - 1,
    )  # fmt: skip


def _held(eccentricity: float, ratio: float) -> None:
    fine = (720, 32) if eccentricity > 0.9 else (240, 16)
    off = _off(eccentricity, ratio, solve(eccentricity, ratio, *fine))
    most = (0.015, 0.02, 0.015, 0.05) if ratio <= 1 or np.isinf(ratio) else (0.08, 0.06, 0.03, 0.17)
    assert all(abs(each) < limit for each, limit in zip(off, most, strict=True)), (eccentricity, ratio, off)


@pytest.mark.reference("reynolds-solution")
@pytest.mark.parametrize(
    ("eccentricity", "ratio"),
    [(0.05, 0.1), (0.85, 0.125), (0.9, 0.3), (0.7, 0.35), (0.85, 0.7), (0.5, 1.1), (0.85, 2.0)],
)  # fmt: skip
def test_between_the_tables_it_is_what_reynolds_equation_gives(eccentricity: float, ratio: float) -> None:
    _held(eccentricity, ratio)


@pytest.mark.strength
@pytest.mark.reference("reynolds-solution")
@pytest.mark.parametrize(
    "ratio", [0.1, 0.15, 0.2, 0.25, 0.3, 0.4, 0.5, 0.6, 0.7, 0.85, 1.0, 1.1, 1.5, 2.0, 3.0, np.inf]
)
def test_any_length_and_load_is_what_reynolds_equation_gives(ratio: float) -> None:
    for eccentricity in (0.05, 0.15, 0.3, 0.5, 0.7, 0.85, 0.95):
        _held(eccentricity, ratio)


@pytest.mark.reference("reynolds-solution")
@pytest.mark.parametrize("ratio", [0.25, 0.7, 1.0, 2.0])
def test_beyond_the_tables_no_film_is_promised_that_is_not_there(ratio: float) -> None:
    solved = solve(0.98, ratio, 720, 24)
    film, inside = least_film(solved.sommerfeld, ratio)
    assert not inside
    assert 0.8 * 0.02 < film < 0.02
    assert all(np.isnan(each) for each in journal(solved.sommerfeld, ratio))


@pytest.mark.strength
@pytest.mark.reference("reynolds-solution")
@pytest.mark.parametrize("ratio", [0.1, 0.25, 0.5, 1.0, 1.1, 2.0, 3.0, np.inf])
def test_far_beyond_the_tables_too(ratio: float) -> None:
    for eccentricity in (0.98, 0.99, 0.995):
        film, inside = least_film(solve(eccentricity, ratio, 1440, 32).sommerfeld, ratio)
        assert not inside
        assert film < (1 - eccentricity) * (1.001 if ratio <= 1 else 1.04)


@pytest.mark.reference("reynolds-solution")
@pytest.mark.parametrize("ratio", RATIOS)
def test_the_attitude_of_a_centred_shaft(ratio: float) -> None:
    assert journal_table.CENTRED[ratio] == pytest.approx(solve(0.01, ratio).attitude, abs=1.0)
    assert np.degrees(journal(1e9, ratio).attitude) == pytest.approx(journal_table.CENTRED[ratio])


@pytest.mark.reference("reynolds-solution")
@pytest.mark.parametrize("eccentricity", [0.2, 0.6, 0.9])
def test_the_short_bearing_is_the_limit_of_the_equation(eccentricity: float) -> None:
    number, attitude, pressure = journal_table.short_bearing(np.array(eccentricity))
    solved = solve(eccentricity, 0.02, 360, 12)
    assert number == pytest.approx(solved.sommerfeld * 0.02**2, rel=0.01)
    assert attitude == pytest.approx(solved.attitude, rel=0.01)
    assert pressure == pytest.approx(solved.pressure, rel=0.03)


@pytest.mark.reference("raimondi-boyd")
@pytest.mark.parametrize("ratio", RATIOS)
def test_at_the_printed_places_it_is_the_print(ratio: float) -> None:
    found = journal(journal_table.SOMMERFELD[ratio], ratio)
    assert found.film == pytest.approx(1 - journal_table.ECCENTRICITIES, rel=1e-3)
    assert np.degrees(found.attitude) == pytest.approx(journal_table.ATTITUDE[ratio], rel=1e-3)
    assert found.friction == pytest.approx(journal_table.FRICTION[ratio], rel=1e-3)
    assert found.pressure == pytest.approx(journal_table.PRESSURE[ratio], rel=1e-3)


@given(ratio=st.floats(0.05, 4.0))
def test_a_heavier_load_thins_the_film_at_any_length(ratio: float) -> None:
    film, _ = least_film(np.geomspace(1e-6, 1e4, 3000), ratio)
    assert np.all(np.diff(film) > 0)
    assert film[0] > 0
    assert film[-1] < 1


@given(number=st.floats(1e-3, 100), ratio=st.floats(0.1, 0.95))
def test_a_longer_bush_under_the_same_pressure_has_the_thicker_film(number: float, ratio: float) -> None:
    assert least_film(number, ratio * 1.05)[0] > least_film(number, ratio)[0]


def test_the_end_of_the_tables_is_where_three_percent_is_left() -> None:
    for ratio in (0.3, 1.0, 1.1, 2.0):
        numbers = np.geomspace(1e-3, 1, 4000)
        found, (film, inside) = journal(numbers, ratio), least_film(numbers, ratio)
        assert np.array_equal(np.isfinite(found.film), inside)
        assert film[inside].min() == pytest.approx(0.03, rel=0.01)
        assert found.film[inside] == pytest.approx(film[inside])


def test_nothing_turning_has_no_film_and_nothing_pressing_a_full_clearance() -> None:
    film, inside = least_film(np.array([0.0, np.inf]), 1.1)
    assert list(film) == pytest.approx([0.0, 1.0])
    assert list(inside) == [False, True]


def test_what_cannot_be_is_refused() -> None:
    for number, ratio in ((0.0, 1.0), (-1.0, 1.0), (0.1, 0.0)):
        with pytest.raises(InputError):
            journal(number, ratio)
    with pytest.raises(InputError):
        least_film(-1.0, 1.0)
    with pytest.raises(InputError):
        sommerfeld(0.01, 10.0, 0.0, 0.005, 1e-5, 0.01)


@pytest.mark.reference("shigley-bearings")
def test_f81_f82_pressure_torque_and_least_film_of_the_worked_bearing() -> None:
    reyn, r, c, W = PSI, 0.75 * INCH, 0.0015 * INCH, 500 * LBF
    found = journal(sommerfeld(4e-6 * reyn, 30.0, W, r, c, 1.5 * INCH), 1.0)
    mean = W / (2 * r * 1.5 * INCH)
    f = found.friction * c / r
    assert mean / PSI == pytest.approx(222, rel=0.005)
    assert found.film * c / INCH == pytest.approx(0.00063, rel=0.03)
    assert f == pytest.approx(0.0070, rel=0.03)
    assert f * W * r / (LBF * INCH) == pytest.approx(2.62, rel=0.03)
    assert mean / found.pressure / PSI == pytest.approx(529, rel=0.03)


@pytest.mark.reference("shigley-bearings")
def test_f85_friction_torque_and_greatest_pressure_of_the_worked_bearing() -> None:
    r, c, W = 1.25 * INCH, 0.002 * INCH, 1200 * LBF
    found = journal(sommerfeld(4.541e-6 * PSI, 1120 / 60, W, r, c, 2.5 * INCH), 1.0)
    f = found.friction * c / r
    assert f == pytest.approx(0.00656, rel=0.02)
    assert f * W * r / (LBF * INCH) == pytest.approx(9.84, rel=0.02)
    assert W / (2 * r * 2.5 * INCH) / found.pressure / PSI == pytest.approx(427, rel=0.02)


@pytest.mark.reference("reynolds-solution")
def test_f88_film_and_power_of_the_metric_bearing() -> None:
    r, c, W, turns = 12.5e-3, 0.015e-3, 1200.0, 1100 / 60
    found = journal(sommerfeld(0.055, turns, W, r, c, 12.5e-3), 0.5)
    assert found.film * c == pytest.approx(4.46e-6, rel=0.03)
    assert found.friction * c / r * W * r * 2 * np.pi * turns == pytest.approx(11.0, rel=0.03)
