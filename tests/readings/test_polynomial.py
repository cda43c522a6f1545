"""Weighted least squares: exact data come back, weights weigh, too little is refused."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from loadbench.errors import InputError
from loadbench.readings.regression import fit_polynomial

abscissae = st.lists(st.floats(0.02, 0.08), min_size=4, max_size=8, unique_by=lambda x: round(x, 4))


@given(abscissae, st.floats(-5e3, 5e3), st.floats(-2e5, 2e5))
def test_a_line_comes_back(at: list[float], intercept: float, slope: float) -> None:
    x = np.array(at)
    fit = fit_polynomial(x, intercept + slope * x, 1)
    assert fit.at(x) == pytest.approx(intercept + slope * x, abs=1e-7)
    assert fit.coefficients[1] == pytest.approx(slope, abs=1e-3)


@given(abscissae, st.integers(0, 7))
def test_weight_two_is_the_reading_twice(at: list[float], which: int) -> None:
    x = np.array(at)
    y = np.cos(100 * x)
    twice = which % len(x)
    weights = np.ones_like(x)
    weights[twice] = 2.0
    weighted = fit_polynomial(x, y, 1, weights)
    repeated = fit_polynomial(np.append(x, x[twice]), np.append(y, y[twice]), 1)
    assert weighted.coefficients == pytest.approx(repeated.coefficients, rel=1e-7, abs=1e-7)
    assert weighted.covariance == pytest.approx(repeated.covariance, rel=1e-7)


def test_covariance_of_a_line_by_hand() -> None:
    # x = -1, 0, 1: the mean has 1/3, the slope 1/2, and they do not touch.
    fit = fit_polynomial(np.array([-1.0, 0.0, 1.0]), np.array([1.0, 2.0, 4.0]), 1)
    assert fit.covariance == pytest.approx(np.diag([1 / 3, 1 / 2]), abs=1e-12)
    assert fit.coefficients == pytest.approx([7 / 3, 1.5])
    # Residuals 1/6, -1/3, 1/6: their squares add to 1/6, with one degree of freedom.
    assert fit.residual_deviation == pytest.approx((1 / 6) ** 0.5)


def test_without_freedom_there_is_no_spread() -> None:
    fit = fit_polynomial(np.array([1.0, 2.0]), np.array([3.0, 5.0]), 1)
    assert (fit.residual_deviation, fit.standard_errors) == (None, None)


@pytest.mark.parametrize(("x", "degree"), [([1.0, 1.0], 1), ([1.0, 2.0, 2.0], 2), ([1.0], 1)])
def test_too_few_abscissae_are_refused(x: list[float], degree: int) -> None:
    with pytest.raises(InputError):
        fit_polynomial(np.array(x), np.array(x), degree)
