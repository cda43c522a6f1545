"""Uncertainties combined and expanded as in the Guide's own examples."""

from __future__ import annotations

import pytest

from loadbench.readings.accuracy import chance_below, expanded, standard
from loadbench.readings.regression import student_factor

# End-gauge calibration, annex H.1: a 50 mm gauge; the expected figures are recomputed, the printed ones rounded.
GAUGE, ALPHA, THETA = 50.000623e6, 11.5e-6, -0.1  # nm, 1/K, K


@pytest.mark.reference("gum-h1")
def test_end_gauge() -> None:
    from_temperature = GAUGE * ALPHA * 0.029
    from_expansion = GAUGE * abs(THETA) * 0.58e-6
    assert from_temperature == pytest.approx(16.675, abs=0.1)  # S242, printed 16.6
    assert from_expansion == pytest.approx(2.900, abs=0.05)  # S243, printed 2.9
    whole = expanded(25.0, 9.7, from_temperature, from_expansion)
    assert whole is not None
    assert whole / 2 == pytest.approx(31.711, abs=0.1)  # S244, printed 32
    assert student_factor(16, 0.99) * whole / 2 == pytest.approx(92.62, abs=0.5)  # S246, printed 93


@pytest.mark.reference("gum")
@pytest.mark.parametrize(
    ("freedom", "printed"),
    [(1, 13.97), (2, 4.53), (3, 3.31), (4, 2.87), (5, 2.65), (6, 2.52), (8, 2.37), (10, 2.28), (20, 2.13), (50, 2.05)],
)
def test_students_t_for_95_45_percent(freedom: int, printed: float) -> None:
    assert student_factor(freedom) == pytest.approx(printed, abs=0.005)  # table G.2


@pytest.mark.reference("gum")
def test_half_width_of_an_even_distribution() -> None:
    # 4.3.7: a spread of +-a with nothing else known has the variance a^2/3.
    assert standard(3.0) ** 2 == pytest.approx(3.0)


@pytest.mark.reference("gum")
@pytest.mark.parametrize(("k", "outside"), [(1.0, 0.3173), (2.0, 0.0455), (3.0, 0.0027)])
def test_normal_chance(k: float, outside: float) -> None:
    # Table G.1: 68.27 %, 95.45 % and 99.73 % lie within one, two and three deviations; half of the rest below.
    assert chance_below(-k, 0.0, 2.0) == pytest.approx(outside / 2, abs=5e-5)
