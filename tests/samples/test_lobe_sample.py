"""The invented lobes: the job holds the law it was made from, and each table is read with what was planted in it."""

from __future__ import annotations

import json
import math
from pathlib import Path

import numpy as np
import pytest

import loadbench
from loadbench import analyse, open_job
from loadbench.cli import main
from loadbench.motion.lobe import PowerLobe, solid_ramp
from loadbench.readings.lift_file import LiftFile, read_lift_file

SAMPLES = Path(loadbench.__file__).parent.parent / "samples"
JOB = SAMPLES / "lobe-from-a-degree-wheel.loadbench.json"
LOBES = SAMPLES / "lobes"
DEG, INCH = math.pi / 180, 0.0254
LAW = PowerLobe(
    powers=(2, 6, 8, 10),
    lift=0.405 * INCH,
    half_opening=82 * DEG,
    half_closing=86 * DEG,
    opening_ramp=solid_ramp(0.014 * INCH, 22 * DEG),
    closing_ramp=solid_ramp(0.014 * INCH, 26 * DEG),
)


def read(name: str) -> LiftFile:
    return read_lift_file(LOBES / name)


def test_every_table_is_listed_here() -> None:
    names = {"invented-degree-wheel.csv", "invented-degree-wheel-crank-metric.csv", "invented-degree-wheel-bad.csv"}
    assert {file.name for file in LOBES.iterdir()} == names


def test_the_job_says_that_it_is_invented_and_is_sound(capsys: pytest.CaptureFixture[str]) -> None:
    assert open_job(JOB).title.startswith("Invented demo")
    assert main(["check", str(JOB), "--json", "--strict"]) == 0
    told = json.loads(capsys.readouterr().out)
    assert told["problems"] == []
    assert 0.08 < told["figures"]["float_margin"] < 0.15


def test_its_lobe_is_the_law_rounded_to_a_ten_thousandth() -> None:
    line = analyse(open_job(JOB)).lines[0]
    values = line.stated.stated.values
    count = line.stated.rows("cam.profile")[1]
    angles, lifts = (np.array([values[f"cam.profile.{row}.{side}"] for row in range(count)]) for side in (0, 1))
    assert np.diff(angles) == pytest.approx(2 * DEG)
    assert np.abs(lifts - LAW(angles)).max() <= 0.00005 * INCH * (1 + 1e-9)
    shown = line.motion.shown
    assert shown is not None
    assert "table" in shown.how


def test_the_clean_table() -> None:
    found = read("invented-degree-wheel.csv")
    assert (found.profile_angle, found.profile_side, len(found.rows)) == ("cam", "lobe", 117)
    assert (found.told, found.problems, found.faults()) == ((), (), ())
    assert np.abs(found.lifts - LAW(found.angles - 106 * DEG)).max() < 0.0008 * INCH


def test_the_table_in_crank_degrees_and_millimetres() -> None:
    found = read("invented-degree-wheel-crank-metric.csv")
    assert (found.profile_angle, found.profile_side, len(found.rows)) == ("crank", "valve", 97)
    assert found.rows[0] == ("692.5 deg", "0.00 mm")
    assert found.usable
    assert found.faults() == ()
    assert np.abs(found.lifts - 1.7 * LAW(found.angles / 2 - 226.25 * DEG)).max() < 0.04e-3
    assert any("fall from row to row" in each for each in found.told)


def test_the_slip_of_the_pen_is_found_in_its_row() -> None:
    (fault,) = read("invented-degree-wheel-bad.csv").faults()
    assert fault.place.row == 44
    assert "off its neighbours" in fault.what
