"""Moments, groups, gauge study and fits against certified figures; set_statistics.csv holds a row each."""

from __future__ import annotations

import csv
import operator
from pathlib import Path
from typing import Any

import numpy as np
import pytest

from loadbench.arrays import Floats
from loadbench.readings.regression import fit_polynomial
from loadbench.readings.trust.gauge_study import GaugeStudy, expected_range, gauge_study, root_mean_square_range
from loadbench.readings.trust.moments import compared_groups, extreme_deviates, moments

HERE = Path(__file__).parent
ROWS = list(csv.DictReader((HERE / "set_statistics.csv").read_text(encoding="utf-8").splitlines()))
MADE = {
    "NumAcc1": np.array([10000001.0, 10000003.0, 10000002.0]),
    "NumAcc3": np.array([1000000.2] + [1000000.1, 1000000.3] * 500),
}


def table(name: str) -> Floats:
    return np.loadtxt(HERE / "data" / name, delimiter=",", skiprows=1, ndmin=2)


def fitted(name: str, degree: int) -> dict[str, float]:
    y, x = table(name).T
    fit = fit_polynomial(x, y, degree)
    whole = moments(y)
    found = {"share_explained": 1 - fit.sum_of_squares / ((whole.count - 1) * whole.deviation**2)}
    errors = fit.standard_errors
    assert errors is not None
    assert fit.residual_deviation is not None
    return found | {"deviation": fit.residual_deviation} | {f"error_{i}": float(each) for i, each in enumerate(errors)}


def study() -> GaugeStudy:
    with (HERE / "data" / "grr_msa.csv").open(encoding="utf-8") as lines:
        values = [float(row["value"]) for row in csv.DictReader(lines)]
    return gauge_study(np.array(values).reshape(3, 3, 10))


def found(row: dict[str, str]) -> float:
    kind, _, figure = row["figure"].partition(".")
    name = row["data"]
    if kind in {"line", "parabola"}:
        return fitted(name, 1 if kind == "line" else 2)[figure]
    if kind == "moments":
        answer: Any = moments(MADE[name] if name in MADE else table(name)[:, 0])
    elif kind == "groups":
        instrument, y = table(name).T
        answer = compared_groups([y[instrument == each] for each in np.unique(instrument)])
    else:
        answer = study()
    return float(operator.attrgetter(figure)(answer))


def cases() -> list[Any]:
    return [pytest.param(row, marks=pytest.mark.reference(row["source"]), id=row["id"]) for row in ROWS]


@pytest.mark.parametrize("row", cases())
def test_certified_statistics(row: dict[str, str]) -> None:
    assert found(row) == pytest.approx(float(row["expected"]), rel=float(row["rel"]), abs=0)


@pytest.mark.reference("msa")
def test_gauge_study_by_variances() -> None:
    # The study's published report, from memory: the interaction is no more than chance and is pooled.
    variances = study().variances
    assert variances.pooled
    assert variances.interaction_chance == pytest.approx(0.974, abs=5e-4)
    assert variances.shares.repeatability == pytest.approx(0.199933, abs=1e-6)
    assert variances.shares.reproducibility == pytest.approx(0.226838, abs=1e-6)
    assert variances.shares.gauge == pytest.approx(0.302373, abs=2e-6)
    assert variances.shares.parts == pytest.approx(1.042327, abs=1e-6)


@pytest.mark.reference("msa")
@pytest.mark.parametrize(("trials", "printed"), [(2, 0.8862), (3, 0.5908)])
def test_factor_of_the_mean_range(trials: int, printed: float) -> None:
    assert 1 / expected_range(trials) == pytest.approx(printed, abs=5e-5)  # K1


@pytest.mark.reference("msa")
@pytest.mark.parametrize(
    ("count", "printed"), [(2, 0.7071), (3, 0.5231), (4, 0.4467), (5, 0.4030), (6, 0.3742), (8, 0.3375), (10, 0.3146)]
)
def test_factor_of_one_range(count: int, printed: float) -> None:
    assert 1 / root_mean_square_range(count) == pytest.approx(printed, abs=6e-5)  # K2, K3


ROSNER = """
-0.25 0.68 0.94 1.15 1.20 1.26 1.26 1.34 1.38 1.43 1.49 1.49 1.55 1.56 1.58 1.65 1.69 1.70 1.76 1.77 1.81 1.91 1.94 1.96
1.99 2.06 2.09 2.10 2.14 2.15 2.23 2.24 2.26 2.35 2.37 2.40 2.47 2.54 2.62 2.64 2.90 2.92 2.92 2.93 3.21 3.26 3.30 3.59
3.68 4.30 4.64 5.34 5.42 6.01
"""


@pytest.mark.reference("rosner")
def test_three_extreme_deviates_of_54() -> None:
    # One at a time none is found: the first deviate, 3.119, is under its limit, 3.159.
    values = np.array([float(each) for each in ROSNER.split()])
    assert len(values) == 54
    assert values[extreme_deviates(values, 0.05, 10)].tolist() == [5.34, 5.42, 6.01]
    assert not extreme_deviates(values, 0.05, 1).any()
