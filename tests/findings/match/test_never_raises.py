"""Whatever a job states and leaves out, the match is whole, says its sentences and names what it waits for."""

from __future__ import annotations

import json
import math
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from loadbench.analysis import Analysis, analyse
from loadbench.findings import judge
from loadbench.findings.match.match import match_of, with_match
from loadbench.findings.match.result import Criterion, Kit, Match
from loadbench.job.edits import replaced_all
from loadbench.report.json_out import as_json
from loadbench.report.plain import as_text
from loadbench.sources import COMMON_PRACTICE, SOURCES
from loadbench.units import Style
from tests.findings.match.tried import DRAG, SAMPLES, SHORT, STREET, sample, sample_job

NAMES = sorted(path.name.removesuffix(".loadbench.json") for path in SAMPLES.glob("*.loadbench.json"))
ENTRIES: dict[str, tuple[Any, ...]] = {
    "follower.family": (None, "flat-tappet-solid", "flat-tappet-hydraulic", "roller-solid", "roller-hydraulic",
                        "bucket", "spoon {load}"),
    "follower.travel": (None, "standard", "short", "long"),
    "follower.axle": (None, "needle", "bushed", "magnetic"),
    "follower.oil_feed": (None, "pressure", "splash"),
    "follower.material": (None, "steel", "iron", "tool steel", "{brass}"),
    "follower.preload.depth": (None, "0.013 in", "-0.010 in", "0.300 in", "deep"),
    "follower.preload.turns": (None, 0.5, 40.0),
    "follower.preload.way": (None, "minimal", "bottomed", "custom"),
    "follower.plunger.travel": (None, "0.060 in", "0.140 in", "x"),
    "follower.needles.count": (None, 17.0, 400.0),
    "follower.needles.axle_diameter": (None, "9 mm", "0 mm"),
    "follower.bush.bore": (None, "9 mm", "90 mm"),
    "follower.bush.material": (None, "bronze", "{cheese}"),
    "follower.maker_limits.open_load_max": (None, "200 lbf", "2000 lbf"),
    "follower.maker_limits.sheet": (None, "sheet {4}"),
    "valve_gear.lash": (None, "0.016 in", "0 in", "1 in", "tight"),
    "valve_gear.lash_at": (None, "cold", "hot"),
    "valve_gear.rocker_ratio": (None, 1.0, 1.7),
    "valve_gear.head": (None, "iron", "aluminium", "steel"),
    "valve_gear.block": (None, "iron", "aluminium"),
    "cam.kind": (None, "flat", "roller", "bucket"),
    "cam.lash_kind": (None, "solid", "hydraulic"),
    "cam.material": (None, "iron", "steel", "{wood}"),
    "cam.base_radius": (None, "0.550 in", "0.001 in"),
    "spring.readings": ((),),
    "duty.use": (None, "street", "drag", "tow", "{fun}"),
    "duty.speed_limit": (None, "6500 rpm", "60 rpm", "14000 rpm"),
    "duty.idle_speed": (None, "850 rpm"),
    "duty.idle_share": (None, 0.0, 0.15, 1.0),
    "duty.first_running": (None, True, False),
    "duty.oil.phosphorus_ppm": (None, 0.0, 1250.0),
    "duty.oil.temperature": (None, "100 degC", "-60 degC"),
}  # fmt: skip


def whole(analysis: Analysis) -> Match:
    """The match, with everything about it that holds of every job."""
    match = match_of(analysis)
    pairs = [(cell.kit, cell.criterion) for cell in match.cells]
    assert pairs == [(kit, criterion) for kit in Kit for criterion in Criterion]
    for cell in match.cells:
        for sentence in (cell.sentence, cell.physics, cell.practice):
            for style in Style if sentence is not None else ():
                told = sentence.told(style)
                assert told.strip()
                assert told[-1] in ".?"
        assert cell.source in {*SOURCES, COMMON_PRACTICE} or "maker" in cell.source
        if cell.level is None:
            assert (cell.value, cell.missing, cell.disagree) == (None, (), False)
        if cell.disagree:
            assert cell.physics is not None
            assert cell.practice is not None
        for number in (cell.value, cell.limit):
            assert number is None or math.isfinite(number)
        assert cell.value is None or cell.value_kind is not None
    for sentences in match.changes.values():
        for sentence in sentences:
            assert sentence.told(Style.METRIC)[-1] == "."
    family = match.family
    assert family.reason.told(Style.INCH_POUND)[-1] == "."
    if family.choice is None:
        assert family.runner_up is None
        assert set(match.changes) == set(Kit)
    else:
        best = [cell.level for cell in match.cells if cell.kit == family.choice]
        assert "stop" not in best
        assert family.choice != family.runner_up
        assert set(match.changes) == set(Kit) - {Kit(family.choice)}
    return match


@pytest.mark.parametrize("name", NAMES)
def test_every_sample_has_a_whole_match_without_loose_braces(name: str) -> None:
    analysis = sample(name)
    match = whole(analysis)
    verdicts = with_match(judge(analysis), match)
    text = json.dumps(as_json(analysis, verdicts)["advice"], allow_nan=False) + as_text(analysis, verdicts)
    told = [cell.sentence.told(Style.METRIC) for cell in match.cells]
    assert not any("{" in each or "}" in each for each in told)
    assert all(str(kit) in text for kit in Kit)


@given(st.sampled_from(NAMES), st.fixed_dictionaries({}, optional={k: st.sampled_from(v) for k, v in ENTRIES.items()}))
def test_no_entry_breaks_the_match(name: str, changes: dict[str, Any]) -> None:
    whole(analyse(replaced_all(sample_job(name), changes)))


@pytest.mark.parametrize("name", [STREET, SHORT, DRAG])
def test_no_single_entry_that_is_left_out_breaks_the_match(name: str) -> None:
    for field, values in ENTRIES.items():
        whole(sample(name, {field: values[0]}))
