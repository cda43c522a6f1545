"""Certified regressions: lines and a parabola whose coefficients and errors are known to more digits than ours need."""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pytest

from loadbench.readings.regression import Polynomial, fit_polynomial

DATA = Path(__file__).parent / "data"


def fit_of(file: str, degree: int, *, x: int, y: int, shift: float = 0.0) -> Polynomial:
    table = np.loadtxt(DATA / file, delimiter=",", skiprows=1)
    return fit_polynomial(table[:, x] - shift, table[:, y], degree)


@pytest.mark.reference("nist-norris")
def test_norris_line() -> None:
    fit = fit_of("nist_norris.csv", 1, x=1, y=0)
    errors = fit.standard_errors
    assert errors is not None
    assert len(fit.residuals) == 36
    assert fit.coefficients == pytest.approx([-0.262323073774029, 1.00211681802045], rel=1e-9)  # S200, S201
    assert errors == pytest.approx([0.232818234301152, 0.429796848199937e-3], rel=1e-9)  # S202, S203
    assert fit.residual_deviation == pytest.approx(0.884796396144373, rel=1e-9)  # S204
    assert fit.sum_of_squares == pytest.approx(26.6173985294224, rel=1e-9)  # S206


@pytest.mark.reference("nist-pontius")
def test_pontius_load_cell() -> None:
    fit = fit_of("nist_pontius.csv", 2, x=1, y=0)
    errors = fit.standard_errors
    assert errors is not None
    assert len(fit.residuals) == 40
    certified = [0.673565789473684e-3, 0.732059160401003e-6, -0.316081871345029e-14]
    assert fit.coefficients == pytest.approx(certified, rel=1e-8, abs=0)  # S207 to S209
    certified = [0.107938612033077e-3, 0.157817399981659e-9, 0.486652849992036e-16]
    assert errors == pytest.approx(certified, rel=1e-8, abs=0)  # S210 to S212
    assert fit.residual_deviation == pytest.approx(0.205177424076185e-3, rel=1e-8)  # S213


@pytest.mark.reference("gum-h3")
def test_thermometer_calibration_line() -> None:
    fit = fit_of("gum_h3.csv", 1, x=0, y=1, shift=20.0)
    errors = fit.standard_errors
    assert errors is not None
    assert fit.freedom == 9
    assert fit.coefficients == pytest.approx([-0.171204, 0.002183], abs=1e-6)  # S248, S250
    assert errors == pytest.approx([0.002878, 0.000668], abs=1e-6)  # S249, S251
    correlation = fit.covariance[0, 1] / np.sqrt(fit.covariance[0, 0] * fit.covariance[1, 1])
    assert correlation == pytest.approx(-0.930430, abs=1e-5)  # S252
    assert fit.residual_deviation == pytest.approx(0.003498, abs=1e-6)  # S253
