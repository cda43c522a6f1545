"""The polydyne lobe of a bench: what it takes over, what it waits for, and that it then stays as it was made."""

from __future__ import annotations

import math
from typing import Any

import numpy as np
import pytest

from loadbench.analysis import LineAnalysis, analyse
from loadbench.assembly.lobe_design import DIGITS, lobe_design
from loadbench.job.edits import replaced_all
from loadbench.job.model import Job
from loadbench.units import Style
from tests.analysis.test_motion import job

ANGLES: dict[str, Any] = {"cam.law.opening": "128 deg", "cam.ramps.opening": "50 deg"}
DESIGN = "cam.law.design."


def first(changed: Job) -> LineAnalysis:
    return analyse(changed).lines[0]


@pytest.mark.parametrize("style", list(Style))
def test_what_the_bench_has_is_what_the_lobe_is_made_for(style: Style) -> None:
    bench = job(**ANGLES)
    before = first(bench)
    found = lobe_design(before, style)
    assert not found.missing
    after = first(replaced_all(bench, found.changes))
    within = 10.0 ** (1 - DIGITS)
    stated = after.stated
    assert stated.value(f"{DESIGN}mass") == pytest.approx(before.value("referred_mass"), rel=within)
    assert stated.value(f"{DESIGN}seat_load") == pytest.approx(before.value("seat_load"), rel=within)
    assert stated.value(f"{DESIGN}spring_rate") == pytest.approx(before.value("rate"), rel=1e-3)
    assert stated.value(f"{DESIGN}stiffness") == pytest.approx(6e6, rel=within)
    assert stated.value(f"{DESIGN}speed") == pytest.approx(stated.value("duty.speed_limit"), rel=within)
    assert stated.value(f"{DESIGN}lash") == pytest.approx(stated.value("valve_gear.lash"), rel=within)
    assert stated.value(f"{DESIGN}ratio") == 1.6
    assert after.motion.lobe is not None
    assert not analyse(replaced_all(bench, found.changes)).stated.problems


def test_a_stated_design_speed_stays_and_a_ramp_height_goes() -> None:
    bench = job(**ANGLES, **{f"{DESIGN}speed": "6000 rpm", "cam.ramps.height": "0.012 in"})
    found = lobe_design(first(bench), Style.INCH_POUND)
    assert found.changes[f"{DESIGN}speed"] == "6000 rpm"
    assert found.clear == ("cam.ramps.height",)
    assert not analyse(replaced_all(bench, found.changes | dict.fromkeys(found.clear, ""))).stated.problems


def test_a_hydraulic_follower_has_no_lash() -> None:
    found = lobe_design(first(job(**{"follower.family": "roller-hydraulic"})), Style.METRIC)
    assert found.changes[f"{DESIGN}lash"] == "0 mm"


@pytest.mark.parametrize("field", ["duty.speed_limit", "valve_gear.lash", "valve_gear.rocker_ratio"])
def test_what_is_not_stated_is_waited_for(field: str) -> None:
    found = lobe_design(first(job(**{field: None})), Style.METRIC)
    assert found.changes == {}
    assert field in found.missing


def test_a_stiffness_that_is_not_stated_is_told_to_be_typical() -> None:
    assert lobe_design(first(job()), Style.METRIC).typical
    assert not lobe_design(first(job(**{"valve_gear.stiffness": "9000 N/mm"})), Style.METRIC).typical


def test_the_proposed_flank_is_about_as_long_as_the_durations() -> None:
    bench = job()
    found = lobe_design(first(bench), Style.INCH_POUND)
    assert found.proposed == ("cam.law.opening", "cam.ramps.opening")
    made = first(replaced_all(bench, found.changes)).motion.lobe
    assert made is not None
    angles = np.linspace(-math.pi, math.pi, 7201)
    long = math.degrees(2 * float((made(angles) >= 0.050 * 0.0254).sum()) * (angles[1] - angles[0]))
    assert long == pytest.approx(242, abs=1)
    assert lobe_design(first(job(**ANGLES)), Style.METRIC).proposed == ()
    assert lobe_design(first(job(**{"cam.durations": ()})), Style.METRIC).proposed == ()
