"""Stated uncertainties against draws of every instrument: shared gain and zero, each reading's own chance."""

from __future__ import annotations

import math
from typing import Any

import numpy as np
import pytest

from loadbench.arrays import Floats
from tests.analysis.bench_jobs import INCH, LBF, analysis_of

STATED: dict[str, Any] = {
    "tester.load_accuracy_percent": 1.0,
    "tester.load_accuracy_fixed": "1 lbf",
    "tester.load_repeatability": "0.5 lbf",
    "tester.height_accuracy": "0.002 in",
    "instruments.installed_height": "0.003 in",
    "instruments.bind_height": "0.003 in",
    "instruments.lift": "0.004 in",
    "instruments.seal": "0.005 in",
}
DRAWS = pytest.mark.parametrize(
    "draws", [pytest.param(20_000, id="20k"), pytest.param(400_000, id="400k", marks=pytest.mark.strength)]
)
TWO = ((1.900, 150.0), (1.300, 402.0))
FIVE = ((1.900, 150.0), (1.750, 213.0), (1.600, 276.0), (1.450, 339.0), (1.300, 402.0))
INNER = ((1.800, 40.0), (1.500, 70.0), (1.200, 100.0))


class Bench:
    """One draw of the shop's instruments for each row."""

    def __init__(self, draws: int) -> None:
        self.random, self.draws = np.random.default_rng(20260314), draws
        self.gain, self.zero = self.half(0.01), self.half(1.0)
        self.height, self.bind, self.lobe, self.seal = (self.half(a) for a in (0.003, 0.003, 0.004, 0.005))

    def half(self, width: float, *more: int) -> Floats:
        return self.random.uniform(-width, width, (self.draws, *more))

    def fitted(self, rows: tuple[tuple[float, float], ...]) -> tuple[Floats, Floats, float]:
        """Rate and load at the mean height of readings taken with this bench, lbf and in, by the plain sums."""
        at, true = np.array(rows).T
        rate = -np.polyfit(at, true, 1)[0]
        # The tester stops a little off the height that it shows: the load read there is the true one of that place.
        really = true - rate * self.half(0.002, len(rows))
        read = really * (1 + self.gain[:, None]) + self.zero[:, None] + self.half(0.5, len(rows))
        off = at - at.mean()
        return -(read @ off) / (off @ off), read.mean(axis=1), float(at.mean())


def rows_of(rows: tuple[tuple[float, float], ...]) -> tuple[dict[str, str], ...]:
    return tuple({"height": f"{height} in", "load": f"{load} lbf"} for height, load in rows)


def agrees(expanded: float | None, simulated: Floats) -> None:
    assert expanded is not None
    assert expanded == pytest.approx(2 * float(np.std(simulated)), rel=0.03)


@DRAWS
@pytest.mark.parametrize("rows", [TWO, FIVE], ids=["two", "five"])
def test_one_spring(rows: tuple[tuple[float, float], ...], draws: int) -> None:
    figures = analysis_of(STATED, {"spring.readings": rows_of(rows)}).figures
    bench = Bench(draws)
    rate, mean_load, mean_height = bench.fitted(rows)
    height, lift = 1.900 + bench.height, 1.6 * (0.350 + bench.lobe)
    agrees(figures["rate"].expanded, rate * LBF / INCH)
    agrees(figures["seat_load"].expanded, (mean_load + rate * (mean_height - height)) * LBF)
    agrees(figures["open_load"].expanded, (mean_load + rate * (mean_height - height + lift)) * LBF)
    agrees(figures["follower_open_load"].expanded, 1.6 * (mean_load + rate * (mean_height - height + lift)) * LBF)
    agrees(figures["bind_margin"].expanded, (height - lift - 1.080 - bench.bind) * INCH)
    agrees(figures["retainer_margin"].expanded, (0.640 + bench.seal - lift) * INCH)
    agrees(figures["open_height"].expanded, (height - lift) * INCH)
    agrees(figures["installed_height"].expanded, height * INCH)


@DRAWS
def test_a_nest_shares_its_tester(draws: int) -> None:
    coils = (
        {"name": "outer", "readings": rows_of(FIVE)},
        {"name": "inner", "seat_step": "0.100 in", "readings": rows_of(INNER)},
    )
    figures = analysis_of(STATED, {"spring.readings": (), "spring.coils": coils}).figures
    bench = Bench(draws)
    height, lift = 1.900 + bench.height, 1.6 * (0.350 + bench.lobe)
    outer, inner = bench.fitted(FIVE), bench.fitted(INNER)

    def load(at: Floats) -> Floats:
        return (outer[1] + outer[0] * (outer[2] - at) + inner[1] + inner[0] * (inner[2] - at + 0.100)) * LBF

    agrees(figures["rate"].expanded, (outer[0] + inner[0]) * LBF / INCH)
    agrees(figures["seat_load"].expanded, load(height))
    agrees(figures["open_load"].expanded, load(height - lift))


def test_valve_lift_carries_its_own_instrument_and_lobe_lift_the_ratio() -> None:
    lobe = analysis_of(STATED).figures["net_valve_lift"].expanded
    valve = analysis_of(STATED, {"valve_gear.valve_lift": "0.560 in"}).figures["net_valve_lift"].expanded
    measured = analysis_of(STATED, {"valve_gear.measured_net_lift": "0.560 in"}).figures["net_valve_lift"].expanded
    assert lobe == pytest.approx(2 * 1.6 * 0.004 * INCH / math.sqrt(3))
    assert valve == measured == pytest.approx(2 * 0.004 * INCH / math.sqrt(3))


def test_the_installed_height_carries_its_instrument_once_however_it_is_stated() -> None:
    shimmed = {"spring.installed_height": None, "spring.bare_height": "1.945 in", "spring.shims": ("0.015 in",) * 3}
    for stated in ({}, shimmed, shimmed | {"spring.installed_height": "1.900 in"}):
        found = analysis_of(STATED, stated).figures["installed_height"]
        assert found.expanded == pytest.approx(2 * 0.003 * INCH / math.sqrt(3))


def test_lash_and_ratio_count_as_exact() -> None:
    solid = {"follower.family": "roller-solid", "valve_gear.lash": "0.016 in"}
    with_lash = analysis_of(STATED, solid).figures["net_valve_lift"].expanded
    assert with_lash == pytest.approx(analysis_of(STATED).figures["net_valve_lift"].expanded)
