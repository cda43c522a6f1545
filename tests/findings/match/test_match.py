"""The match: what concerns whom, trade beside physics, the recommendation and what would have to change."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest

from loadbench.analysis import Analysis, analyse
from loadbench.findings import judge
from loadbench.findings.finding import Level
from loadbench.findings.match.kits import stated_as, stated_kit
from loadbench.findings.match.match import match_of, with_match
from loadbench.findings.match.result import Criterion, Kit, Match
from loadbench.job.reading_in import job_from_text
from loadbench.units import Style

ROOT = Path(__file__).parents[3]
FILES = [*sorted((ROOT / "samples").glob("*.loadbench.json")), ROOT / "tests/job/data/example.loadbench.json"]


def sample(name: str, **changes: Any) -> Analysis:
    tree = json.loads((ROOT / "samples" / f"{name}.loadbench.json").read_text(encoding="utf-8"))
    for path, value in changes.items():
        *above, last = path.split("__")
        part = tree
        for step in above:
            part = part.setdefault(step, {})
        part[last] = value
    return analyse(job_from_text(json.dumps(tree)))


def levels(match: Match, kit: Kit) -> dict[Criterion, str | None]:
    return {each.criterion: each.level and each.level.value for each in match.cells if each.kit is kit}


@pytest.mark.parametrize("file", FILES, ids=lambda file: file.stem)
def test_every_job_has_a_whole_match(file: Path) -> None:
    analysis = analyse(job_from_text(file.read_text(encoding="utf-8")))
    match = match_of(analysis)
    assert len(match.cells) == len(Kit) * len(Criterion)
    for cell in match.cells:
        for sentence in (cell.sentence, cell.physics, cell.practice):
            if sentence is not None:
                told = sentence.told(Style.INCH_POUND)
                assert told.endswith((".", "?"))
                assert "{" not in told
        assert cell.source
        if cell.value is not None and cell.limit is not None:
            assert cell.value_kind is not None
    for sentences in match.changes.values():
        assert all("{" not in each.told(Style.METRIC) for each in sentences)
    assert match.family.reason.told(Style.METRIC).endswith(".")


def test_the_cells_of_the_stated_family_are_the_findings_of_the_job() -> None:
    analysis = sample("solid-roller-1000-lbf")
    found = {finding.id: finding for finding in judge(analysis).findings}
    match = match_of(analysis)
    assert match.stated is Kit.ROLLER_SOLID_BUSHED
    axle = match.cell(Kit.ROLLER_SOLID_BUSHED, Criterion.AXLE_LIFE)
    assert axle.practice is not None
    assert axle.practice.told(Style.METRIC) == found["bushed-axle"].sentence.told(Style.METRIC)
    assert axle.disagree  # the trade says a bush, the list says too much pressure for it
    assert axle.level is Level.WATCH


@pytest.mark.parametrize(
    ("name", "choice", "runner_up"),
    [
        ("mild-street-flat-hydraulic", "flat-tappet-hydraulic", "flat-tappet-solid"),
        ("short-travel-hydraulic-roller", "roller-hydraulic-short", "roller-hydraulic-standard"),
        ("solid-roller-1000-lbf", "roller-solid-bushed", None),
        ("bucket-head-with-shims", "bucket", None),
    ],
)
def test_what_is_recommended(name: str, choice: str, runner_up: str | None) -> None:
    match = match_of(sample(name))
    assert (match.family.choice, match.family.runner_up) == (choice, runner_up)


def test_a_needle_axle_stops_past_the_trades_load_and_a_bush_does_not() -> None:
    match = match_of(sample("solid-roller-1000-lbf"))
    assert match.cell(Kit.ROLLER_SOLID_NEEDLE, Criterion.AXLE_LIFE).level is Level.STOP
    told = " ".join(each.told(Style.INCH_POUND) for each in match.changes[Kit.ROLLER_SOLID_NEEDLE])
    assert "bushed axle" in told


def test_another_cam_is_what_a_flat_tappet_would_take() -> None:
    match = match_of(sample("short-travel-hydraulic-roller"))
    cell = match.cell(Kit.FLAT_HYDRAULIC, Criterion.DUTY)
    assert cell.level is Level.STOP
    told = " ".join(each.told(Style.INCH_POUND) for each in match.changes[Kit.FLAT_HYDRAULIC])
    assert "a cam ground for flat followers" in told


def test_buckets_and_rockers_do_not_share_a_head() -> None:
    rockers, buckets = match_of(sample("solid-roller-1000-lbf")), match_of(sample("bucket-head-with-shims"))
    assert rockers.cell(Kit.BUCKET, Criterion.DUTY).level is Level.STOP
    assert "overhead" not in rockers.cell(Kit.BUCKET, Criterion.SPEED).sentence.template
    assert rockers.cell(Kit.BUCKET, Criterion.SPEED).level is None
    assert buckets.cell(Kit.ROLLER_SOLID_BUSHED, Criterion.DUTY).level is Level.STOP


def test_the_oil_of_flat_tappets() -> None:
    for ppm, wanted in ((1200, "clear"), (1199, "watch")):
        match = match_of(sample("mild-street-flat-hydraulic", duty__oil__phosphorus_ppm=ppm))
        assert levels(match, Kit.FLAT_HYDRAULIC)[Criterion.OIL_ADDITIVE] == wanted
        assert levels(match, Kit.ROLLER_HYDRAULIC_SHORT)[Criterion.OIL_ADDITIVE] is None


def test_oil_to_the_axle_by_feed_and_idling() -> None:
    for feed, share, wanted in (("splash", 0.21, "watch"), ("splash", 0.20, "clear"), ("pressure", 0.9, "clear")):
        match = match_of(sample("short-travel-hydraulic-roller", follower__oil_feed=feed, duty__idle_share=share))
        assert levels(match, Kit.ROLLER_HYDRAULIC_SHORT)[Criterion.OIL_TO_AXLE] == wanted


def test_lash_is_upkeep_on_the_street_and_none_for_hydraulics() -> None:
    for use, wanted in (("street", "watch"), ("drag", "clear"), (None, "unknown")):
        match = match_of(sample("solid-roller-1000-lbf", duty__use=use))
        assert levels(match, Kit.ROLLER_SOLID_BUSHED)[Criterion.LASH_UPKEEP] == wanted
        assert levels(match, Kit.ROLLER_HYDRAULIC_SHORT)[Criterion.LASH_UPKEEP] == "clear"


def test_nothing_suits_is_said_plainly() -> None:
    match = match_of(sample("solid-roller-1000-lbf", cam__kind="flat"))
    assert match.family.choice is None
    assert match.family.reason.template.startswith("No family suits as it stands.")


def test_a_family_is_tried_on_without_reading_the_job_again() -> None:
    analysis = sample("short-travel-hydraulic-roller")
    stated = analysis.stated
    assert stated_as(Kit.ROLLER_HYDRAULIC_SHORT, stated) is stated
    other = stated_as(Kit.FLAT_SOLID, stated)
    assert other.values["follower.family"] == "flat-tappet-solid"
    assert "follower.material" not in other.values  # a roller's says nothing of a face
    assert other.values["cam.base_radius"] == stated.values["cam.base_radius"]
    assert stated_kit(other) is Kit.FLAT_SOLID
    assert stated.values["follower.family"] == "roller-hydraulic"


def test_the_match_becomes_the_advice() -> None:
    analysis = sample("bucket-head-with-shims")
    verdicts = with_match(judge(analysis), match_of(analysis))
    assert verdicts.advice.family.choice == "bucket"
    assert verdicts.match is not None


def test_the_shops_limits_hold_in_the_match() -> None:
    from loadbench.job.model import RuleChange

    analysis = sample("solid-roller-1000-lbf")
    shop = {"bushed-axle": RuleChange.model_validate({"open_load": {"watch": "1500 lbf", "stop": "1800 lbf"}})}
    assert match_of(analysis, shop).cell(Kit.ROLLER_SOLID_NEEDLE, Criterion.AXLE_LIFE).level is not Level.STOP
