"""The document of the format's own page and the shipped samples, their figures against arithmetic written out here."""

from __future__ import annotations

import json
import math
from pathlib import Path

import pytest

from loadbench.analysis import Analysis, analyse
from loadbench.findings import judge
from loadbench.job.files import open_job
from loadbench.report.json_out import as_json
from tests.analysis.bench_jobs import INCH, LBF, shown

ROOT = Path(__file__).parents[2]
EXAMPLE = ROOT / "tests" / "job" / "data" / "example.loadbench.json"
SAMPLES = sorted((ROOT / "samples").glob("*.loadbench.json"))


def sample(word: str) -> Analysis:
    return analyse(open_job(next(path for path in SAMPLES if word in path.name)))


@pytest.mark.parametrize("path", [EXAMPLE, *SAMPLES], ids=lambda path: path.name.split(".")[0])
def test_it_opens_is_judged_and_told_as_data(path: Path) -> None:
    analysis = analyse(open_job(path))
    out = json.loads(json.dumps(as_json(analysis, judge(analysis)), allow_nan=False))
    assert bool(out["problems"]) is ("bad" in path.name)
    assert out["complete"] is ("bad" not in path.name)
    assert out["findings"]


@pytest.mark.parametrize(
    ("line", "name", "by_hand"),
    [
        ("intake", "rate", 420.0),  # (423 - 150)/(1.900 - 1.250)
        ("intake", "seat_load", 150.0),
        ("intake", "net_valve_lift", 0.560),  # 1.6 x 0.350
        ("intake", "open_load", 385.2),  # 150 + 420 x 0.560
        ("intake", "bind_margin", 0.260),  # 1.900 - 0.560 - 1.080
        ("intake", "bind_margin_pumped_up", 0.2408),  # less 1.6 x 0.012
        ("intake", "retainer_margin", 0.080),
        ("exhaust", "net_valve_lift", 0.568),  # 1.6 x 0.355
        ("exhaust", "open_load", 388.56),
        ("exhaust", "bind_margin", 0.252),
        ("exhaust", "retainer_margin", 0.072),
        ("exhaust", "follower_open_load", 621.696),
        ("exhaust", "effective_seat_load", 150.0),
    ],
)
def test_example(line: str, name: str, by_hand: float) -> None:
    assert shown(analyse(open_job(EXAMPLE)), name, line) == pytest.approx(by_hand, abs=1e-9)


def test_examples_uncertainties() -> None:
    figures = analyse(open_job(EXAMPLE)).line("intake").figures
    # One reading: +-0.5 lbf and +-0.002 in x 420 = 0.84 lbf; gain 1 %, zero 1 lbf; H +-0.002 in; lobe +-0.003 in x 1.6.
    one = (0.5**2 + 0.84**2) / 3
    of_rate = 2 * one / 0.65**2 + 4.2**2 / 3
    assert figures["rate"].expanded == pytest.approx(2 * math.sqrt(of_rate) * LBF / INCH, rel=1e-9)
    of_seat = one + 1.5**2 / 3 + 1 / 3 + 0.84**2 / 3
    assert figures["seat_load"].expanded == pytest.approx(2 * math.sqrt(of_seat) * LBF, rel=1e-9)
    share = 0.560 / 0.650
    of_open = one * ((1 - share) ** 2 + share**2) + 3.852**2 / 3 + 1 / 3 + (420 * math.hypot(0.002, 0.0048)) ** 2 / 3
    assert figures["open_load"].expanded == pytest.approx(2 * math.sqrt(of_open) * LBF, rel=1e-9)
    of_margin = (0.002**2 + 0.0048**2 + 0.003**2) / 3
    assert figures["bind_margin"].expanded == pytest.approx(2 * math.sqrt(of_margin) * INCH, rel=1e-9)


def least_squares(rows: list[tuple[float, float]]) -> tuple[float, float, float]:
    """Rate, mean height and mean load by the plain sums."""
    heights, loads = zip(*rows, strict=True)
    h, f = sum(heights) / len(rows), sum(loads) / len(rows)
    slope = sum((x - h) * (y - f) for x, y in rows) / sum((x - h) ** 2 for x in heights)
    return -slope, h, f


def test_mild_street_sample() -> None:
    found = sample("mild")
    rate, h, f = least_squares([(1.750, 104), (1.500, 186), (1.300, 252)])
    assert rate == pytest.approx(328.852459, abs=1e-6)
    assert shown(found, "rate") == pytest.approx(rate)
    assert shown(found, "installed_height") == pytest.approx(1.750)
    assert shown(found, "seat_load") == pytest.approx(f + rate * (h - 1.750))
    assert shown(found, "open_load") == pytest.approx(f + rate * (h - 1.750 + 0.447))  # 1.5 x 0.298
    assert shown(found, "bind_margin") == pytest.approx(1.750 - 0.447 - 1.150)
    # Three quarters of a turn of 3/8-24 at the pivot, R 1.5: 0.75/24 x 2.5/1.5.
    assert shown(found, "plunger_depth") == pytest.approx(0.75 / 24 * 2.5 / 1.5)


def test_short_travel_sample() -> None:
    found = sample("short")
    rate, h, f = least_squares([(1.850, 152), (1.550, 279), (1.300, 381)])
    seat = f + rate * (h - 1.850)
    assert shown(found, "rate") == pytest.approx(rate)
    assert shown(found, "seat_load") == pytest.approx(seat)
    boost = 8 * math.pi / 4 * 2.08**2
    assert shown(found, "effective_seat_load", "intake") == pytest.approx(seat - boost, rel=1e-9)
    assert shown(found, "effective_seat_load", "exhaust") == pytest.approx(seat)
    assert shown(found, "open_load", "exhaust") == pytest.approx(seat + rate * 1.7 * 0.348)
    assert shown(found, "bind_margin", "exhaust") == pytest.approx(1.850 - 1.7 * 0.348 - 1.170)
    first = found.set.springs[0]
    assert first.height == pytest.approx(1.851 * INCH)
    # S01 on 1I: 151 lbf at 1.850, 420 lbf/in, a thousandth taller.
    assert first.seat_load == pytest.approx((151 - 0.001 * 420) * LBF)
    assert first.open_load == pytest.approx((151 - 0.001 * 420 + 420 * 1.7 * 0.340) * LBF)


def test_solid_roller_sample() -> None:
    found = sample("solid")
    lift = 1.8 * 0.435 - 0.016
    members = [
        (0.0, [(2.150, 228), (1.800, 398), (1.350, 616)]),
        (0.100, [(2.050, 98), (1.700, 186), (1.250, 299)]),
        (0.200, [(1.950, 48), (1.600, 101), (1.150, 169)]),
    ]
    fits = [(step, *least_squares([(x, float(y)) for x, y in rows])) for step, rows in members]
    assert shown(found, "rate") == pytest.approx(sum(rate for _, rate, _, _ in fits))
    for name, at in (("seat_load", 2.150), ("open_load", 2.150 - lift)):
        by_hand = sum(f + rate * (h - (at - step)) for step, rate, h, f in fits)
        assert shown(found, name) == pytest.approx(by_hand)
    assert shown(found, "net_valve_lift") == pytest.approx(0.767)
    margins = [2.150 - step - 0.767 - bind for step, bind in ((0.0, 1.250), (0.100, 1.130), (0.200, 1.000))]
    assert [member.figures["bind_margin"].value for member in found.lines[0].members] == pytest.approx(
        [margin * INCH for margin in margins]
    )
    assert shown(found, "bind_margin") == pytest.approx(0.133)
    assert shown(found, "bind_margin_zero_lash") == pytest.approx(0.117)
    assert shown(found, "retainer_margin") == pytest.approx(0.083)


def test_nest_sample() -> None:
    found = sample("nest")
    members = [
        (0.0, [(1.900, 108), (1.600, 183), (1.322, 253)]),
        (0.100, [(1.800, 49), (1.500, 88), (1.222, 125)]),
        (0.160, [(1.740, 25), (1.440, 46), (1.162, 65)]),
    ]
    fits = [(step, *least_squares([(x, float(y)) for x, y in rows])) for step, rows in members]
    for name, at in (("seat_load", 1.900), ("open_load", 1.900 - 1.7 * 0.340)):
        assert shown(found, name) == pytest.approx(sum(f + rate * (h - (at - step)) for step, rate, h, f in fits))
    assert shown(found, "bind_margin") == pytest.approx(0.160)  # 1.900 - 0.578 - 1.162, the outer
    assert shown(found, "retainer_margin") == pytest.approx(0.112)
    # The wire says what the readings say: G d^4/(8 D^3 n), G 79.5 GPa.
    wires = [(0.197, 1.303, 3.9), (0.136, 0.864, 5.8), (0.096, 0.594, 8.4)]
    for (_, rate, _, _), (d, D, n) in zip(fits, wires, strict=True):
        assert 79.5e9 / 6894.757293168361 * d**4 / (8 * D**3 * n) == pytest.approx(rate, rel=0.006)


def test_beehive_sample() -> None:
    found = sample("beehive")
    coil = found.job.spring.coils[0]
    assert (coil.wire.width, coil.wire.thickness, coil.active_coils, coil.tapered_coils) == ("5.2 mm", "4.2 mm", 4.8, 2)
    # Each turn yields pi D^3/(4 G J), J of the ellipse; of the two tapered turns, the mean of the cubes from 27 to 22.
    a, b = 5.2 / 2, 4.2 / 2
    torsion = math.pi * a**3 * b**3 / (a**2 + b**2)
    cubes = 2.8 * 27**3 + 2 * (27 + 22) * (27**2 + 22**2) / 4
    by_hand = 4 * 79_500 * torsion / (math.pi * cubes)
    rate = shown(found, "rate")
    assert rate is not None
    assert rate * LBF / INCH / 1e3 == pytest.approx(by_hand, rel=0.01)
    stacked = 2.8 * 4.2 + 2 * 4.2 * math.sqrt(1 - (1.25 / 5.2) ** 2) + 2 * 4.2  # 1.25 mm nearer the axis each turn
    assert float((found.job.spring.bind_height or "").removesuffix(" mm")) == pytest.approx(stacked, abs=0.05)
    lift = 1.7 * 7.4
    assert found.value("bind_margin") == pytest.approx((45.5 - lift - 28.3) * 1e-3)
    assert found.value("retainer_margin") == pytest.approx((14.8 - lift) * 1e-3)
