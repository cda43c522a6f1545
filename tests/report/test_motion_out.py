"""The motion in JSON, in the terminal and as a table speed by speed."""

from __future__ import annotations

import csv
import io
import json
import math
from dataclasses import replace
from typing import Any

import pytest

from loadbench.analysis import Analysis, analyse
from loadbench.analysis.dynamic_runs import fully_analysed
from loadbench.analysis.figure import RPM
from loadbench.findings import judge
from loadbench.motion.bands import Cause, LossBand
from loadbench.report.json_out import as_json
from loadbench.report.motion_json import bands_of
from loadbench.report.motion_plain import motion_told
from loadbench.report.motion_words import HELD, band_told, bands_told, cause_told
from loadbench.report.sweep_rows import COLUMNS, band_at, sweep_as_json, sweep_csv
from loadbench.report.table import SWEEP_HEAD
from loadbench.units import Style
from tests.report.cases import CASES
from tests.report.motion_cases import COIL, moving, of_lines

SURGE = LossBand(low=5000 * RPM, high=5400 * RPM, cause=Cause.SURGE, order=9, mode=1)
BEYOND = LossBand(low=6100 * RPM, high=None, cause=Cause.INERTIA)


@pytest.fixture(scope="module")
def one() -> Analysis:
    return fully_analysed(analyse(moving({"coils": [COIL]})))


@pytest.fixture(scope="module")
def lines() -> Analysis:
    return fully_analysed(analyse(of_lines({"coils": [COIL]})))


def with_bands(analysis: Analysis, *bands: tuple[LossBand, ...]) -> Analysis:
    own = []
    for line, some in zip(analysis.lines, bands, strict=True):
        assert line.dynamics is not None
        own.append(replace(line, dynamics=replace(line.dynamics, bands=some)))
    return replace(analysis, lines=tuple(own))


def out_of(analysis: Analysis) -> dict[str, Any]:
    told: dict[str, Any] = json.loads(json.dumps(as_json(analysis, judge(analysis)), allow_nan=False))
    return told


def test_figures_of_the_motion_are_there_with_rpm_for_speeds(one: Analysis) -> None:
    figures = out_of(one)["figures"]
    assert not [key for key in figures if "rad_per_s" in key]
    speed = one.value("separation_speed")
    assert speed is not None
    assert figures["separation_speed_rpm"] == pytest.approx(speed * 60 / (2 * math.pi), rel=1e-12)
    for key, name in (
        ("referred_mass_kg", "referred_mass"), ("least_contact_force_N", "least_contact_force"),
        ("greatest_contact_force_N", "greatest_contact_force"), ("seating_speed_m_per_s", "seating_speed"),
        ("surge_load_N", "surge_load"),
    ):  # fmt: skip
        assert figures[key] == one.value(name) is not None
    assert isinstance(figures["loss_bands_rpm"], list)


def test_without_a_dynamic_run_its_figures_are_null() -> None:
    figures = out_of(analyse(moving()))["figures"]
    assert figures["separation_speed_rpm"] > 3000
    assert figures["loss_bands_rpm"] is figures["surge_load_N"] is figures["surge_load_N_U"] is None


def test_bands_are_pairs_and_the_last_may_be_open(one: Analysis) -> None:
    out = out_of(with_bands(one, (SURGE, BEYOND)))
    pairs = out["figures"]["loss_bands_rpm"]
    assert pairs == [[pytest.approx(5000), pytest.approx(5400)], [pytest.approx(6100), None]]
    first, second = out["loss_bands"]
    assert first | {"from_rpm": 0, "to_rpm": 0} == {
        "line": None, "from_rpm": 0, "to_rpm": 0, "cause": "surge", "order": 9, "mode": 1, "spring": None,
            "begins_below": False,
    }  # fmt: skip
    assert (second["to_rpm"], second["cause"], second["order"]) == (None, "inertia", None)
    assert out_of(with_bands(one, ()))["figures"]["loss_bands_rpm"] == []


def test_the_bands_told_first_are_those_of_the_lowest_onset(lines: Analysis) -> None:
    out = out_of(with_bands(lines, (BEYOND,), (SURGE,)))
    assert out["figures"]["loss_bands_rpm"] == [[pytest.approx(5000), pytest.approx(5400)]]
    assert out["lines"]["intake"]["figures"]["loss_bands_rpm"] == [[pytest.approx(6100), None]]
    assert [each["line"] for each in out["loss_bands"]] == ["intake", "exhaust"]
    assert out["lines"]["exhaust"]["loss_bands"][0]["mode"] == 1
    held = out_of(with_bands(lines, (), (BEYOND,)))["figures"]["loss_bands_rpm"]
    assert held == [[pytest.approx(6100), None]], "a line that holds is not the worst"


def test_the_worst_line_leads(lines: Analysis) -> None:
    out = out_of(lines)
    apart = [line["figures"] for line in out["lines"].values()]
    for key, worst in (("least_contact_force_N", min), ("separation_speed_rpm", min), ("greatest_contact_force_N", max),
                       ("seating_speed_m_per_s", max), ("surge_load_N", max), ("referred_mass_kg", max)):  # fmt: skip
        assert out["figures"][key] == worst(each[key] for each in apart)


def test_bands_in_words() -> None:
    told = [f"{band_told(each, Style.METRIC)}: {cause_told(each)}".replace("\u2009", " ") for each in (SURGE, BEYOND)]
    assert told[0].startswith("5000 rpm to 5400 rpm: surge, mode 1 of the spring at order 9 of the cam")
    assert told[1].startswith("6100 rpm to beyond the sweep: inertia against the load")
    assert band_told(replace(BEYOND, begins_below=True), Style.METRIC).startswith("before 6100")
    assert band_at(5200 * RPM, (SURGE, BEYOND)) is SURGE
    assert band_at(5600 * RPM, (SURGE, BEYOND)) is None
    assert band_at(9000 * RPM, (SURGE, BEYOND)) is BEYOND


def test_the_terminal_tells_of_the_motion_where_there_is_a_lift(one: Analysis) -> None:
    text = "\n".join(motion_told(with_bands(one, (SURGE,)), Style.INCH_POUND))
    for word in ("Motion, forces at the valve", "Speed of first separation", "Speed in hand", "Least contact force",
                 "Greatest contact force", "Seating speed", "surge load", "5000", "surge, mode 1"):  # fmt: skip
        assert word in text
    assert "taken as is typical: the gear's stiffness" in text
    assert HELD in list(bands_told(with_bands(one, ()).lines[0], Style.METRIC))
    assert motion_told(analyse(CASES["two readings"][0]), Style.METRIC) == []


def test_a_line_that_cannot_be_swept_names_what_it_waits_for() -> None:
    analysis = analyse(moving(gear={"lash": None}))
    text = "\n".join(motion_told(analysis, Style.METRIC))
    assert "waits for" in text
    assert "ash" in text
    out = sweep_as_json(analysis, analysis.lines)
    assert out["sweep"] == []
    assert out["not_swept"] == [{"line": None, "missing": ["valve_gear.lash"]}]
    assert bands_of(analysis.lines[0]) == []


def test_rows_of_a_sweep_are_those_of_the_run(one: Analysis) -> None:
    dynamics = one.lines[0].dynamics
    assert dynamics is not None
    rows = sweep_as_json(one, one.lines)["sweep"]
    assert len(rows) == dynamics.found.speeds.size
    last = rows[-1]
    assert last["speed_rpm"] == pytest.approx(float(dynamics.found.speeds[-1]) / RPM)
    assert last["greatest_contact_force_N"] == dynamics.found.peak_force[-1]
    assert last["seating_speed_m_per_s"] >= 0
    assert {row["contact_lost"] for row in rows} == set(map(bool, dynamics.found.lost))
    limit = next(row for row in rows if row["speed_rpm"] == pytest.approx(6500))
    assert limit["surge_load_N"] == one.value("surge_load")
    table = list(csv.reader(io.StringIO(sweep_csv(one.lines).removeprefix("\ufeff"))))
    assert tuple(table[0]) == SWEEP_HEAD
    assert len(table) == len(rows) + 1
    assert float(table[-1][2]) == pytest.approx(last["greatest_contact_force_N"], rel=1e-8)
    assert table[1][-1] in {"yes", "no"}
    assert len(COLUMNS) == len(SWEEP_HEAD) - 5


def test_surge_of_a_spring_without_wire_is_not_zero_but_not_known() -> None:
    bare = fully_analysed(analyse(moving()))
    figures = out_of(bare)["figures"]
    assert figures["surge_load_N"] is None
    assert figures["open_load_loss_N"] is None
    assert bare.lines[0].figures["surge_load"].missing == ("spring.coils",)
    assert "wire" in bare.lines[0].figures["surge_load"].note
