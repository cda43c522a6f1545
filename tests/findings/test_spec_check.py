"""Pass or fail of numbered springs, on both sides of every window and without it."""

from __future__ import annotations

from typing import Any

import pytest

from loadbench.analysis import analyse
from loadbench.findings.finding import Level
from loadbench.findings.spec_check import SpecVerdict, direct_loads, judged, windows_of
from loadbench.job.edits import replaced_all
from loadbench.job.model import Job

SPEC = {"height": "1.900 in", "load": "150 lbf", "minus": "8 lbf", "plus": "8 lbf"}


def verdict(changes: dict[str, Any], *loads: tuple[str, str]) -> SpecVerdict:
    readings = tuple({"height": height, "load": load} for height, load in loads)
    base = {
        "spring.installed_height": "1.900 in",
        "valve_gear.measured_net_lift": "0.600 in",
        "springs": ({"id": "S01", "readings": readings},),
    }
    analysis = analyse(replaced_all(Job(title="A job", units="inch-pound"), base | changes))
    line = analysis.lines[0]
    direct = direct_loads(analysis, 0, whole=len(line.members) <= 1)
    return judged(analysis.set.springs[0], direct, windows_of(line))


@pytest.mark.parametrize(
    ("load", "level"),
    [("142", Level.CLEAR), ("141.99", Level.STOP), ("158", Level.CLEAR), ("158.01", Level.STOP), ("x", Level.UNKNOWN)],
)
def test_a_reading_at_the_specs_height_is_held_against_its_window(load: str, level: Level) -> None:
    assert verdict({"spring.spec": (SPEC,)}, ("1.900 in", f"{load} lbf")).level is level


def test_a_load_between_readings_is_taken_from_the_load_line() -> None:
    spec = {**SPEC, "height": "1.600 in", "load": "276 lbf"}
    found = verdict({"spring.spec": (spec,)}, ("1.900 in", "150 lbf"), ("1.250 in", "423 lbf"))
    assert found.level is Level.CLEAR
    low = verdict({"spring.spec": (spec,)}, ("1.900 in", "130 lbf"), ("1.250 in", "403 lbf"))
    assert low.level is Level.STOP
    assert low.misses[0].off == pytest.approx((130 + 420 * 0.3 - 268) * 4.4482216, rel=1e-6)


def test_repeats_count_by_their_mean() -> None:
    found = verdict({"spring.spec": (SPEC,)}, ("1.900 in", "141 lbf"), ("1.900 in", "144 lbf"))
    assert found.level is Level.CLEAR


def test_a_side_that_is_not_stated_takes_the_targets_tolerance() -> None:
    spec = {**SPEC, "minus": None, "plus": None}
    readings = (("1.900 in", "143 lbf"),)
    assert verdict({"spring.spec": (spec,)}, *readings).level is Level.UNKNOWN
    assert verdict({"spring.spec": (spec,), "targets.tolerance_percent": 4.0}, *readings).level is Level.STOP
    assert verdict({"spring.spec": (spec,), "targets.tolerance_percent": 5.0}, *readings).level is Level.CLEAR


def test_without_a_spec_the_targets_are_the_windows() -> None:
    targets = {"targets.seat_load": "150 lbf", "targets.open_load": "400 lbf", "targets.tolerance_percent": 5.0}
    good = (("1.900 in", "150 lbf"), ("1.300 in", "400 lbf"))
    assert verdict(targets, *good).level is Level.CLEAR
    assert verdict(targets, good[0], ("1.300 in", "430 lbf")).level is Level.STOP
    assert verdict(targets, good[0]).level is Level.UNKNOWN
    assert verdict({}, *good).level is Level.UNKNOWN


def test_a_members_reading_is_not_the_pairs() -> None:
    coils = ({"name": "outer"}, {"name": "inner"})
    own = ({"part": "outer", "height": "1.900 in", "load": "150 lbf"},)
    changes = {"spring.spec": (SPEC,), "spring.coils": coils, "springs": ({"id": "S01", "readings": own},)}
    assert verdict(changes).level is Level.UNKNOWN
    pair = ({"part": "pair", "height": "1.900 in", "load": "150 lbf"},)
    assert verdict({**changes, "springs": ({"id": "S01", "readings": pair},)}).level is Level.CLEAR
