"""Rates, lengths, loads, nests, buckling and tolerances against published springs; springs.csv: a row a value.

The last column says where a printed figure does not follow from its own inputs. Wire sections: test_coil_geometry.py.
"""

from __future__ import annotations

import csv
import json
from pathlib import Path
from typing import Any

import numpy as np
import pytest

from loadbench.readings.accuracy import expanded
from loadbench.spring import buckling, coil, ends, nest, tolerances
from loadbench.spring.section import round_section
from loadbench.spring.stress import shear_stress, wahl_factor
from loadbench.units import Kind, parse

ROWS = list(csv.DictReader((Path(__file__).parent / "springs.csv").read_text(encoding="utf-8").splitlines()))
FUNCTIONS: dict[str, Any] = {
    name: thing
    for module in (coil, ends, nest, buckling, tolerances)
    for name, thing in vars(module).items()
    if getattr(thing, "__module__", "") == module.__name__
}
KINDS = {
    "shear_modulus": Kind.PRESSURE,
    "elastic_modulus": Kind.PRESSURE,
    "spring_rate": Kind.RATE,
    "load": Kind.FORCE,
    "known_load": Kind.FORCE,
    "upper_load": Kind.FORCE,
    "lower_load": Kind.FORCE,
}


def si(text: str, kind: Kind) -> float:
    return parse(text, kind, None).value


def read(name: str, entry: str | float) -> Any:
    if name == "ends":
        return ends.ends_of(str(entry))
    return si(entry, KINDS.get(name, Kind.LENGTH)) if isinstance(entry, str) else entry


def cases() -> list[Any]:
    return [pytest.param(row, marks=pytest.mark.reference(row["source"]), id=row["id"]) for row in ROWS]


@pytest.mark.parametrize("row", cases())
def test_published_springs(row: dict[str, str]) -> None:
    inputs = {name: read(name, entry) for name, entry in json.loads(row["inputs"]).items()}
    found = float(FUNCTIONS[row["function"]](**inputs))
    kind = Kind(row["kind"]) if row["kind"] else None
    expected, tolerance = (float(row[key]) if kind is None else si(row[key], kind) for key in ("expected", "tolerance"))
    assert found == pytest.approx(expected, abs=tolerance, rel=0)


@pytest.fixture
def pair() -> tuple[np.ndarray, np.ndarray]:
    """Outer and inner spring of Bhandari's example 10.19: rates and lengths, the outer 15 mm longer."""
    rates = np.array([float(coil.rate(81.37e9, 0.006, 0.036, 10)), float(coil.rate(81.37e9, 0.005, 0.030, 8))])
    return rates, np.array([0.115, 0.100])


@pytest.mark.reference("bhandari")
def test_nest_of_two_lengths(pair: tuple[np.ndarray, np.ndarray]) -> None:
    rates, lengths = pair
    deflection = float(nest.deflection_of_nest(1000.0, rates, lengths))
    assert deflection == pytest.approx(24.988839e-3, abs=1e-8)  # S143
    outer = float(coil.load_at_height(rates[0], 0.115 - deflection, 0.115, 0.0))
    inner = float(coil.load_at_height(rates[1], 0.115 - deflection, 0.100, 0.0))
    assert outer == pytest.approx(706.02147, abs=1e-4)  # S144
    assert inner == pytest.approx(293.97853, abs=1e-4)  # S145
    assert outer + inner == pytest.approx(1000.0, rel=1e-12)


@pytest.mark.reference("bhandari")
@pytest.mark.parametrize(
    ("load", "wire", "mean", "stress"),
    [
        pytest.param(706.02147, 0.006, 0.036, 375.30514e6, id="S146"),
        pytest.param(293.97853, 0.005, 0.030, 225.03222e6, id="S147"),
    ],
)
def test_stress_in_a_nest(load: float, wire: float, mean: float, stress: float) -> None:
    modulus = round_section(wire).torsion_modulus
    found = shear_stress(load, mean, modulus, wahl_factor(coil.spring_index(mean, wire)))
    assert float(found) == pytest.approx(stress, abs=100.0)


@pytest.mark.reference("bhandari")
def test_load_shared_by_the_wires() -> None:
    # S148: index 6, so the wires stand as C/(C - 2) = 1.5, and 6000 N split as 2.25 to 1.
    outer, inner = nest.load_split_by_wire(6000.0, 0.0105, 0.007)
    assert float(outer) == pytest.approx(4153.8462, abs=1e-3)
    assert float(outer + inner) == pytest.approx(6000.0, rel=1e-12)


@pytest.mark.reference("bhandari")
def test_springs_in_line(pair: tuple[np.ndarray, np.ndarray]) -> None:
    assert pair[0] / 1e3 == pytest.approx([28.2534722, 29.4307002], abs=1e-6)
    assert float(nest.rate_in_line(pair[0])) == pytest.approx(14415.04, abs=0.1)  # S150


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
