"""A line's gear with the follower as a mass of its own: when it can be had, and what it shares with the quick one."""

from __future__ import annotations

import dataclasses
import math
from pathlib import Path

import numpy as np
import pytest

from loadbench.analysis import analyse
from loadbench.analysis.line import LineAnalysis
from loadbench.analysis.motion.dynamics import run_dynamics
from loadbench.analysis.own_follower import BUCKET, full_motion, with_own_follower
from loadbench.job.files import open_job
from loadbench.motion.gear import Gear
from loadbench.report.motion_words import slack_told
from loadbench.units import Style
from tests.report.motion_cases import MASSES, moving

SAMPLES = Path(__file__).parents[2] / "samples"
RPM = math.pi / 30


def line_of(job: object) -> LineAnalysis:
    return analyse(job).lines[0]  # type: ignore[arg-type]


def sample(name: str) -> LineAnalysis:
    return line_of(open_job(SAMPLES / f"{name}.loadbench.json"))


def gears(line: LineAnalysis) -> tuple[Gear, Gear]:
    full = full_motion(line)
    assert line.motion.dynamic is not None
    assert full.motion is not None
    assert full.motion.dynamic is not None
    return line.motion.dynamic.gear, full.motion.dynamic.gear


@pytest.mark.parametrize("name", ["solid-roller-1000-lbf", "lobe-from-a-degree-wheel", "mild-street-flat-hydraulic"])
def test_slowly_both_gears_are_alike(name: str) -> None:
    one, two = gears(sample(name))
    assert not one.own_follower
    assert two.own_follower
    assert two.referred_mass == pytest.approx(one.referred_mass)
    assert 1 / two.stiffness + 1 / two.lobe_stiffness == pytest.approx(1 / one.stiffness)
    share = one.stiffness / two.lobe_stiffness
    assert two.damping * (1 - share) ** 2 + two.lobe_damping * share**2 == pytest.approx(one.damping)
    assert (two.preload, two.spring_rate, two.surging_mass) == (one.preload, one.spring_rate, one.surging_mass)


def test_damper_rubs_only_where_its_load_is_stated() -> None:
    assert gears(sample("lobe-from-a-degree-wheel"))[1].friction == pytest.approx(9 * 4.4482216, rel=1e-6)
    assert gears(sample("solid-roller-1000-lbf"))[1].friction == 0


def test_oil_is_the_plunger_s_as_felt_at_the_valve() -> None:
    line = sample("mild-street-flat-hydraulic")
    gear, ratio = gears(line)[1], line.value("ratio")
    assert ratio is not None
    assert gear.oil_stiffness == pytest.approx((line.value("plunger_stiffness") or 0) / ratio**2)
    assert gear.travel == pytest.approx(0.140 * 0.0254 * ratio)
    assert gear.depth == pytest.approx((line.value("plunger_depth") or 0) * ratio)
    # the time to leak down under the full load, from the other end
    sunk, load = gear.travel - gear.depth, (line.value("open_load") or 0)
    assert sunk / (gear.leak * load) == pytest.approx(line.value("leak_down_time"), rel=0.02)


def test_what_is_not_stated_is_named() -> None:
    light = {name: mass for name, mass in MASSES.items() if name != "follower"}
    found = full_motion(line_of(moving(gear={"masses": light})))
    assert found.motion is None
    assert found.missing == ("valve_gear.masses.follower",)
    bare = full_motion(sample("printout-and-fit"))
    assert {"follower.plunger.diameter", "duty.oil.grade", "valve_gear.masses.follower"} <= set(bare.missing)
    waiting = with_own_follower(sample("printout-and-fit"))
    assert run_dynamics(waiting.motion) is None
    assert waiting.motion.missing == bare.missing


def test_a_bucket_s_full_sweep_is_the_usual_one() -> None:
    line = sample("bucket-head-with-shims")
    found = full_motion(line)
    assert found.note == BUCKET
    assert found.motion is line.motion


def test_full_run_tells_lobe_from_linkage() -> None:
    line = with_own_follower(sample("solid-roller-1000-lbf"))
    run = run_dynamics(line.motion, np.arange(7500, 9501, 100) * RPM)
    assert run is not None
    assert run.found.tip is not None
    assert run.bands
    # the lobe has more to hold down than the linkage
    assert not run.slack_bands or run.bands[0].low < run.slack_bands[0].low
    assert np.all(run.found.tip.lost <= run.found.lost)
    assert "the stiffness and damping at the lobe" in (line.motion.dynamic.typical if line.motion.dynamic else ())


def test_pumped_up_follower_is_told() -> None:
    line = with_own_follower(sample("mild-street-flat-hydraulic"))
    speeds = np.array([3000.0, 4000.0, 6000.0]) * RPM
    run = run_dynamics(line.motion, speeds, refine=False)
    assert run is not None
    assert run.found.tip is not None
    assert list(run.found.tip.held_open > 0) == [False, False, True]
    assert run.found.periodic.all()
    (told,) = slack_told(dataclasses.replace(line, dynamics=run), Style.METRIC)
    assert "holds the valve open, first at 6000" in told
    assert list(slack_told(line, Style.METRIC)) == []
