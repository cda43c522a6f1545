"""Ramps as a job states them: under a law and under durations, by the lobe's kind, and what they cannot be."""

from __future__ import annotations

import math
from typing import Any

import pytest

from loadbench.analysis import LineAnalysis, analyse
from loadbench.analysis.dynamic_runs import fully_analysed
from loadbench.findings import judge
from loadbench.motion.lobe import LawLobe, PowerLobe, Ramp, hydraulic_ramp, solid_ramp
from loadbench.motion.ramped_fit import duration_at
from tests.analysis.test_motion import job

INCH = 0.0254
RAMPS: dict[str, Any] = {"cam.ramps.height": "0.012 in", "cam.ramps.opening": "40 deg", "cam.ramps.closing": "60 deg"}
LAW: dict[str, Any] = {
    "cam.durations": (),
    "cam.law.name": "4-5-6-7",
    "cam.law.opening": "130 deg",
    "cam.law.closing": "140 deg",
}


def line(**changes: Any) -> LineAnalysis:
    return analyse(job(**changes)).lines[0]


@pytest.mark.parametrize(
    ("changes", "made"),
    [
        ({"cam.lash_kind": "solid"}, solid_ramp), ({"cam.lash_kind": "hydraulic"}, hydraulic_ramp), ({}, solid_ramp),
        ({"follower.family": "roller-hydraulic"}, hydraulic_ramp),
        ({"follower.family": "roller-hydraulic", "cam.lash_kind": "solid"}, solid_ramp),
    ],
    ids=["solid", "hydraulic", "of the family", "of a hydraulic family", "the lobe's word first"],
)  # fmt: skip
def test_a_law_has_its_ramps(changes: dict[str, Any], made: Any) -> None:
    lobe = line(**LAW, **RAMPS, **changes).motion.lobe
    up, down = (made(0.012 * INCH, math.radians(angle)) for angle in (20, 30))
    assert lobe == LawLobe(
        law="4-5-6-7", lift=0.370 * INCH, opening=math.radians(65), closing=math.radians(70), opening_ramp=up,
        closing_ramp=down,
    )  # fmt: skip


def test_a_closing_ramp_not_stated_is_as_the_opening_one() -> None:
    lobe = line(**LAW, **RAMPS | {"cam.ramps.closing": None}).motion.lobe
    assert isinstance(lobe, LawLobe)
    assert lobe.opening_ramp == lobe.closing_ramp


def test_durations_are_met_with_the_ramps_in() -> None:
    lobe = line(**RAMPS).motion.lobe
    assert isinstance(lobe, PowerLobe)
    assert isinstance(lobe.opening_ramp, Ramp)
    for lift, crank in ((0.050, 242), (0.200, 160)):
        assert math.degrees(2 * duration_at(lobe, lift * INCH)) == pytest.approx(crank, abs=1e-4)
    assert float(lobe(0.0)) == pytest.approx(0.370 * INCH)


def test_a_family_that_changes_changes_the_ramps_kind() -> None:
    solid, hydraulic = (
        line(**LAW, **RAMPS, **{"follower.family": f"roller-{kind}"}) for kind in ("solid", "hydraulic")
    )
    assert solid.motion.lobe != hydraulic.motion.lobe


@pytest.mark.parametrize(
    ("changes", "missing"),
    [
        ({"cam.ramps.height": None}, "cam.ramps.height"), ({"cam.ramps.opening": None}, "cam.ramps.opening"),
        ({"cam.ramps.closing": "soon"}, "cam.ramps.closing"), ({"cam.ramps.height": "0.5 in"}, "cam.ramps.height"),
    ],
    ids=["no height", "no angle", "unread", "higher than the lobe"],
)  # fmt: skip
@pytest.mark.parametrize("lobe", [LAW, {}], ids=["law", "durations"])
def test_half_a_ramp_gives_no_lift_and_says_why(lobe: dict[str, Any], changes: dict[str, Any], missing: str) -> None:
    found = line(**lobe, **RAMPS | changes)
    assert found.motion.lobe is None
    assert set(found.motion.missing) & {missing, "cam.durations"}
    assert "no lift" in found.figures["separation_speed"].note


def test_a_lobe_with_stated_ramps_is_judged_by_its_seating_speed() -> None:
    def seating(**changes: Any) -> str:
        verdicts = judge(fully_analysed(analyse(job(**changes))))
        return next(each.level.value for each in verdicts.findings if each.id == "seating-velocity")

    assert seating() == "unknown"
    assert seating(**RAMPS) in {"clear", "watch"}


@pytest.mark.parametrize(
    ("changes", "field"),
    [
        ({"cam.law.name": "zigzag"}, "cam.law.name"), ({"cam.law.opening": "1.3 deg"}, "cam.law.opening"),
        ({"cam.law.closing": "700 deg"}, "cam.law.closing"),
    ],
    ids=["name", "short", "long"],
)  # fmt: skip
def test_a_law_that_cannot_be_is_told_at_its_field(changes: dict[str, Any], field: str) -> None:
    assert list(analyse(job(**LAW | changes)).stated.problems) == [field]
    assert not analyse(job(**LAW | {"cam.law.name": "4-5-6-7"})).stated.problems


def test_durations_that_grow_with_the_lift_are_told_at_the_row() -> None:
    rows = ({"lift": "0.200 in", "crank": "250 deg"}, {"lift": "0.050 in", "crank": "242 deg"})
    (told,) = analyse(job(**{"cam.durations": rows})).stated.problems.values()
    assert told.place.field == "cam.durations.0.crank"
