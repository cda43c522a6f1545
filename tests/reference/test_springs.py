"""Rates, heights, loads and nests against published springs; springs.csv holds a row a value, its notes last."""

from __future__ import annotations

import csv
import json
from pathlib import Path
from typing import Any

import numpy as np
import pytest

from loadbench.readings.accuracy import expanded
from loadbench.spring import coil
from loadbench.spring.nest import deflection_of_nest, rate_in_line
from loadbench.units import Kind, parse

ROWS = list(csv.DictReader((Path(__file__).parent / "springs.csv").read_text(encoding="utf-8").splitlines()))
KINDS = {
    "shear_modulus": Kind.PRESSURE,
    "spring_rate": Kind.RATE,
    "load": Kind.FORCE,
    "known_load": Kind.FORCE,
    "upper_load": Kind.FORCE,
    "lower_load": Kind.FORCE,
}


def si(text: str, kind: Kind) -> float:
    return parse(text, kind, None).value


def cases() -> list[Any]:
    return [pytest.param(row, marks=pytest.mark.reference(row["source"]), id=row["id"]) for row in ROWS]


@pytest.mark.parametrize("row", cases())
def test_published_springs(row: dict[str, str]) -> None:
    given = json.loads(row["inputs"])
    inputs = {
        name: si(entry, KINDS.get(name, Kind.LENGTH)) if isinstance(entry, str) else entry
        for name, entry in given.items()
    }
    found = float(getattr(coil, row["function"])(**inputs))
    kind = Kind(row["kind"]) if row["kind"] else None
    expected, tolerance = (float(row[key]) if kind is None else si(row[key], kind) for key in ("expected", "tolerance"))
    assert found == pytest.approx(expected, abs=tolerance, rel=0)


@pytest.mark.reference("metoolbox")
def test_direct_shear_is_what_the_short_formula_leaves_out() -> None:
    # S14: Na = G d^4/(8 D^3 k (1 + 1/(2 C^2))) = 16.0841938, 0.72 % fewer coils; this program keeps to the short form.
    short = float(coil.active_coils(75e9, 0.006, 0.050, 6000.0))
    index = 50 / 6
    assert short / (1 + 1 / (2 * index**2)) == pytest.approx(16.0841938, abs=1e-6)


@pytest.fixture
def nest() -> tuple[np.ndarray, np.ndarray]:
    """Outer and inner spring of Bhandari's example 10.19: rates and lengths, the outer 15 mm longer."""
    rates = np.array([float(coil.rate(81.37e9, 0.006, 0.036, 10)), float(coil.rate(81.37e9, 0.005, 0.030, 8))])
    return rates, np.array([0.115, 0.100])


@pytest.mark.reference("bhandari")
def test_nest_of_two_lengths(nest: tuple[np.ndarray, np.ndarray]) -> None:
    rates, lengths = nest
    deflection = float(deflection_of_nest(1000.0, rates, lengths))
    assert deflection == pytest.approx(24.988839e-3, abs=1e-8)  # S143
    outer = float(coil.load_at_height(rates[0], 0.115 - deflection, 0.115, 0.0))
    inner = float(coil.load_at_height(rates[1], 0.115 - deflection, 0.100, 0.0))
    assert outer == pytest.approx(706.02147, abs=1e-4)  # S144
    assert inner == pytest.approx(293.97853, abs=1e-4)  # S145
    assert outer + inner == pytest.approx(1000.0, rel=1e-12)


@pytest.mark.reference("bhandari")
def test_springs_in_line(nest: tuple[np.ndarray, np.ndarray]) -> None:
    assert nest[0] / 1e3 == pytest.approx([28.2534722, 29.4307002], abs=1e-6)
    assert float(rate_in_line(nest[0])) == pytest.approx(14415.04, abs=0.1)  # S150


@pytest.mark.reference("gum")
def test_uncertainty_of_a_geometric_rate() -> None:
    # S254: u(d)/d 0.5 %, u(D)/D 0.3 %, u(G)/G 1 %: sqrt(1 + (4 x 0.5)^2 + (3 x 0.3)^2) = 2.4104 %.
    at = {"shear_modulus": 79.5e9, "wire_diameter": 0.005, "mean_diameter": 0.030, "active_coils": 5.0}
    shares = {"shear_modulus": 0.01, "wire_diameter": 0.005, "mean_diameter": 0.003}
    rate, step = float(coil.rate(**at)), 1e-6
    parts = []
    for name, share in shares.items():
        slope = float(coil.rate(**at | {name: at[name] * (1 + step)}) - coil.rate(**at | {name: at[name] * (1 - step)}))
        parts.append(slope / (2 * step) * share)
    u = expanded(*parts)
    assert u is not None
    assert 100 * u / 2 / rate == pytest.approx(2.4104, abs=1e-3)
