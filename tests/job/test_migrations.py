"""Every older version of the document opens as the present one, with all that it stated."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from loadbench.analysis import analyse
from loadbench.job.files import open_job, save_job, text_of_job
from loadbench.job.migrations import STEPS
from loadbench.job.model import VERSION
from loadbench.job.reading_in import job_from_text
from loadbench.job.stated import read_stated
from tests.job.test_round_trip import told

DATA = Path(__file__).parent / "data"
FROZEN = {
    1: DATA / "example.loadbench.json",
    2: DATA / "version-2.loadbench.json",
    3: DATA / "version-3.loadbench.json",
    4: DATA / "version-4.loadbench.json",
    5: DATA / "version-5.loadbench.json",
}


def test_there_is_a_step_and_a_frozen_file_for_every_older_version() -> None:
    assert sorted(STEPS) == sorted(FROZEN) == list(range(1, VERSION))
    for version, file in FROZEN.items():
        assert json.loads(file.read_text(encoding="utf-8"))["version"] == version


def test_version_1_opens_with_its_shims_and_gains_the_printouts(tmp_path: Path) -> None:
    job = open_job(FROZEN[1])
    assert job.version == VERSION
    assert job.shims_in_stock == ("0.015 in", "0.030 in", "0.060 in")
    assert (job.printouts, job.recipes, job.photos, job.plan.placed) == ((), (), (), ())
    save_job(job, tmp_path / "a.loadbench.json")
    assert open_job(tmp_path / "a.loadbench.json") == job


def test_version_2_opens_with_its_plan_and_gains_the_coils_new_keys(tmp_path: Path) -> None:
    job = open_job(FROZEN[2])
    assert job.version == VERSION
    outer = job.spring.coils[0]
    assert (outer.wire.thickness, outer.small_mean_diameter, job.spring.damper.load) == (
        "0.160 in",
        "1.000 in",
        "6 lbf",
    )
    assert (outer.tapered_coils, outer.retainer_step_diameter) == (None, None)
    targets = job.targets
    assert (targets.bind_height_max, targets.outer_diameter_max, targets.inner_diameter_min) == (None, None, None)
    assert (job.shim_counts, job.plan.placed[0].spring, job.photos[0].data) == ((4, None), "1", "iVBORw0KGgo=")
    assert not analyse(job).problems
    save_job(job, tmp_path / "a.loadbench.json")
    assert open_job(tmp_path / "a.loadbench.json") == job


def test_nothing_that_an_older_version_stated_moves() -> None:
    for file in FROZEN.values():
        before, after = json.loads(file.read_text(encoding="utf-8")), json.loads(text_of_job(open_job(file)))
        assert told(after) == {**told(before), "version": VERSION}


def test_the_keys_of_version_3_are_read() -> None:
    coil = {"tapered_coils": 1.5, "retainer_step_diameter": "0.640 in"}
    targets = {"bind_height_max": "1.080 in", "outer_diameter_max": "36 mm", "inner_diameter_min": "0.700 in"}
    tree = {"format": "loadbench-job", "version": 3, "title": "t", "units": "inch-pound"}
    lines = {"exhaust": {"spring": {"coils": [coil]}, "targets": {"bind_height_max": "1.000 in"}}}
    job = job_from_text(json.dumps(tree | {"spring": {"coils": [coil]}, "targets": targets, "lines": lines}))
    values = read_stated(job).values
    assert values["spring.coils.0.tapered_coils"] == 1.5
    assert values["lines.exhaust.spring.coils.0.retainer_step_diameter"] == pytest.approx(0.640 * 0.0254)
    assert values["targets.outer_diameter_max"] == pytest.approx(0.036)
    assert values["targets.inner_diameter_min"] == pytest.approx(0.700 * 0.0254)
    assert read_stated(job).line("exhaust").value("targets.bind_height_max") == pytest.approx(0.0254)
    assert read_stated(job).line("intake").value("targets.bind_height_max") == pytest.approx(1.080 * 0.0254)


def test_version_3_opens_and_gains_what_followers_are_set_by(tmp_path: Path) -> None:
    job = open_job(FROZEN[3])
    assert job.version == VERSION
    assert (job.spring.coils[0].tapered_coils, job.targets.outer_diameter_max) == (1.5, "1.450 in")
    assert (job.follower.needles.count, job.follower.plunger.travel) == (17.0, "0.060 in")
    assert (job.follower.pin.span, job.valve_gear.warming.cold, job.bucket_shims_in_stock) == (None, None, ())
    assert (job.check_list, job.valves[0].lash_found, job.duty.life_hours) == ((), None, None)
    assert not analyse(job).problems
    save_job(job, tmp_path / "a.loadbench.json")
    assert open_job(tmp_path / "a.loadbench.json") == job


def test_the_keys_of_version_4_are_read() -> None:
    follower = {
        "pin": {"span": "0.500 in", "bore": "0 mm", "material": "steel"},
        "bore": {"diameter": "0.8437 in", "lower_end": "-0.1 in", "upper_end": "2.2 in"},
        "oil_band": {"lower": "0.9 in", "upper": "1.3 in"},
        "roughness": "0.15 um",
        "plunger": {"chamber": "1.5 mm", "air_share": 0.02},
    }
    warming = {"cold": "20 degC", "warm": "90 degC", "head_height": "100 mm", "stem_warm": "320 degC"}
    adjuster = {"at": "pivot", "thread": "7/16-20", "pushrod_arm": "24 mm", "cup_angle": "12 deg"}
    tree = {"format": "loadbench-job", "version": 4, "title": "t", "units": "inch-pound"}
    tree |= {"follower": follower, "valve_gear": {"warming": warming, "adjuster": adjuster}}
    tree |= {
        "duty": {"life_hours": 500, "oil": {"category": "API SL", "viscosity_40_cst": 95, "viscosity_100_cst": 14}}
    }
    tree |= {"valves": [{"id": "1", "lash_found": "0.2 mm", "bucket_shim": "2.65 mm", "set_by": "AB"}]}
    tree |= {"bucket_shims_in_stock": ["2.65 mm"], "bucket_shim_counts": [2], "pushrods_in_stock": ["7.200 in"]}
    tree |= {"check_list": [{"item": "oil", "initials": "AB", "date": "2026-03-14"}]}
    values = read_stated(job_from_text(json.dumps(tree))).values
    assert values["follower.roughness"] == pytest.approx(1.5e-7)
    assert values["follower.bore.lower_end"] == pytest.approx(-0.1 * 0.0254)
    assert values["valve_gear.warming.warm"] == pytest.approx(363.15)
    assert values["valves.0.bucket_shim"] == pytest.approx(2.65e-3)
    assert values["bucket_shims_in_stock.0"] == pytest.approx(2.65e-3)
    assert values["pushrods_in_stock.0"] == pytest.approx(7.2 * 0.0254)
    assert (values["check_list.0.initials"], values["duty.life_hours"]) == ("AB", 500)


def test_version_4_opens_with_its_law_and_gains_the_ramps(tmp_path: Path) -> None:
    job = open_job(FROZEN[4])
    assert job.version == VERSION
    assert (job.cam.law.name, job.cam.law.opening, job.follower.roughness) == ("3-4-5", "120 deg", "0.15 um")
    assert (job.cam.ramps.height, job.cam.ramps.opening, job.cam.ramps.closing) == (None, None, None)
    assert not analyse(job).problems
    save_job(job, tmp_path / "a.loadbench.json")
    assert open_job(tmp_path / "a.loadbench.json") == job


def test_the_keys_of_version_5_are_read() -> None:
    tree = {"format": "loadbench-job", "version": 5, "title": "t", "units": "inch-pound"}
    ramps = {"height": "0.012 in", "opening": "40 deg", "closing": "60 deg"}
    job = job_from_text(json.dumps(tree | {"cam": {"ramps": ramps}, "lines": {"exhaust": {"cam": {"ramps": ramps}}}}))
    values = read_stated(job).values
    assert values["cam.ramps.height"] == pytest.approx(0.012 * 0.0254)
    assert values["lines.exhaust.cam.ramps.opening"] == pytest.approx(0.6981317)
    low = job_from_text(json.dumps(tree | {"cam": {"ramps": {"height": "0 in", "opening": "-3 deg"}}}))
    assert set(read_stated(low).problems) == {"cam.ramps.height", "cam.ramps.opening"}


def test_version_5_opens_with_its_ramps_and_gains_the_design(tmp_path: Path) -> None:
    job = open_job(FROZEN[5])
    assert job.version == VERSION
    ramps = job.cam.ramps
    assert (ramps.height, ramps.opening, ramps.closing, job.cam.law.name) == ("0.008 in", "40 deg", "50 deg", "3-4-5")
    assert (job.cam.law.design.speed, job.cam.law.design.mass) == (None, None)
    assert not analyse(job).problems
    save_job(job, tmp_path / "a.loadbench.json")
    assert open_job(tmp_path / "a.loadbench.json") == job


def test_the_keys_of_version_6_are_read() -> None:
    tree = {"format": "loadbench-job", "version": 6, "title": "t", "units": "inch-pound"}
    design = {
        "speed": "6500 rpm", "mass": "280 g", "spring_rate": "420 lbf/in", "stiffness": "6000 N/mm",
        "seat_load": "150 lbf", "lash": "0 in", "ratio": 1.7,
    }  # fmt: skip
    law = {"cam": {"law": {"name": "polydyne", "design": design}}}
    values = read_stated(job_from_text(json.dumps(tree | law | {"lines": {"intake": law}}))).values
    assert values["cam.law.design.speed"] == pytest.approx(680.678, rel=1e-5)
    assert values["lines.intake.cam.law.design.mass"] == pytest.approx(0.280)
    assert (values["cam.law.design.stiffness"], values["cam.law.design.lash"]) == (pytest.approx(6e6), 0.0)
    assert values["cam.law.design.ratio"] == 1.7
    broken = {"speed": "-1 rpm", "mass": "104 kg", "seat_load": "0 lbf", "lash": "-0.001 in"}
    told = read_stated(job_from_text(json.dumps(tree | {"cam": {"law": {"design": broken}}}))).problems
    assert set(told) == {f"cam.law.design.{name}" for name in broken}
