"""The rule book's loads in the plot: those that concern the follower, at the valve."""

from __future__ import annotations

from typing import Any

import pytest

from loadbench.analysis import analyse
from loadbench.findings.rows import rows_in_force
from loadbench.findings.rulebook import rule_book
from loadbench.job.edits import replaced_all
from loadbench.job.model import Job
from ui.plots.limits import LoadLimit, limits_of

LBF = 4.4482216152605


def found(**more: Any) -> list[LoadLimit]:
    fields = {"valve_gear.rocker_ratio": 1.6} | {name.replace("__", "."): value for name, value in more.items()}
    analysis = analyse(replaced_all(Job(title="t", units="inch-pound"), fields))
    line = analysis.lines[0]
    book = rule_book({}, analysis.job.rules, None, rows_in_force(line.stated))
    return list(limits_of(analysis, line, book))


def loads(**more: Any) -> dict[str, list[int]]:
    told: dict[str, list[int]] = {}
    for limit in found(**more):
        told.setdefault(limit.rule, []).append(round(limit.load / LBF))
    return told


def test_a_short_travel_roller_sees_axle_and_travel() -> None:
    assert loads(follower__family="roller-hydraulic", follower__travel="short") == {
        "seat-load-min": [95, 120],
        "short-travel": [400],
        "short-travel-max": [500, 575],
        "bushed-axle": [850, 1000],
    }


def test_a_standard_travel_roller_sees_its_own() -> None:
    told = loads(follower__family="roller-hydraulic", follower__travel="standard")
    assert told["standard-travel-max"] == [400, 475]
    assert "short-travel-max" not in told


def test_a_solid_roller_sees_the_axle_only() -> None:
    assert loads(follower__family="roller-solid", duty__use="drag") == {
        "seat-load-min": [160, 200],
        "bushed-axle": [850, 1000],
    }


def test_flat_limits_are_turned_to_the_jobs_own_ratio() -> None:
    assert loads(follower__family="flat-tappet-hydraulic")["flat-hydraulic-max"] == [320, 360]
    turned = loads(follower__family="flat-tappet-hydraulic", valve_gear__rocker_ratio=1.5)["flat-hydraulic-max"]
    assert turned == [round(320 * 1.6 / 1.5), 384]
    hard = loads(follower__family="flat-tappet-solid", follower__material="tool-steel", cam__material="tool-steel")
    assert hard["flat-solid-max"] == [450, 600]
    assert "flat-break-in" in loads(follower__family="flat-tappet-solid", duty__first_running=True)


def test_a_limit_changed_for_the_job_moves() -> None:
    job = {"rules": {"bushed-axle": {"open_load": {"watch": "800 lbf"}}}}
    assert loads(follower__family="roller-solid", **job)["bushed-axle"] == [800, 1000]


def test_without_a_family_there_are_none() -> None:
    assert found() == []


def test_boost_moves_the_seat_limits_by_what_it_takes_off() -> None:
    blown = {
        "follower__family": "roller-solid",
        "duty__boost": "10 psi",
        "valve_gear__head_diameter": "2.00 in",
        "spring__installed_height": "1.900 in",
        "spring__rate": "400 lbf/in",
        "spring__readings": ({"height": "1.900 in", "load": "200 lbf"},),
    }
    taken = 10 * 3.14159265
    assert loads(**blown)["seat-load-min"] == [round(120 + taken), round(150 + taken)]


@pytest.mark.parametrize("family", ["bucket", "roller-solid"])
def test_names_take_the_load(family: str) -> None:
    assert all("{load}" in limit.name for limit in found(follower__family=family))
