"""The headless JSON: the keys that scripts rely on, SI, no NaN."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest

from loadbench.analysis import analyse
from loadbench.errors import Place, Problem
from loadbench.findings import judge
from loadbench.job.files import open_job
from loadbench.report.json_out import as_json, problems_as_json
from tests.report.cases import CASES

ALWAYS = (
    "rate_N_per_m", "seat_load_N", "open_load_N", "net_valve_lift_m", "open_height_m", "bind_margin_m",
    "retainer_margin_m", "follower_seat_load_N", "follower_open_load_N", "effective_seat_load_N", "referred_mass_kg",
    "separation_speed_rpm", "least_contact_force_N", "greatest_contact_force_N", "onset_speed_rpm",
    "seating_speed_m_per_s", "surge_load_N",
)  # fmt: skip
FINDING = {
    "id", "level", "sentence", "value", "unit", "limit", "margin", "chance", "missing", "fix", "source", "kind",
    "about", "line", "member", "valve",
}  # fmt: skip


def told(name: str) -> dict[str, Any]:
    analysis = analyse(CASES[name][0])
    out: dict[str, Any] = json.loads(json.dumps(as_json(analysis, judge(analysis)), allow_nan=False))
    return out


@pytest.mark.parametrize("name", list(CASES))
def test_the_figures_that_scripts_rely_on_are_there(name: str) -> None:
    out = told(name)
    for figures in (out["figures"], *(line["figures"] for line in out["lines"].values())):
        assert {key for key in ALWAYS for key in (key, f"{key}_U")} <= figures.keys()
        assert "rate_evidence" in figures
        assert figures["loss_bands_rpm"] is None, "nothing is known of any lift here"
        assert all(isinstance(value, float | str | None) for value in figures.values())
    assert all(finding.keys() == FINDING for finding in out["findings"])


def test_clearances_of_one_kind_of_follower() -> None:
    assert "bind_margin_zero_lash_m" in told("two readings")["figures"]
    assert "bind_margin_pumped_up_m" not in told("two readings")["figures"]
    assert "bind_margin_pumped_up_m" in told("lines")["figures"]
    assert "bind_margin_zero_lash_m" not in told("lines")["figures"]


def test_numbers_are_at_full_precision_and_unknowns_null() -> None:
    analysis = analyse(CASES["two readings"][0])
    figures = told("two readings")["figures"]
    assert figures["seat_load_N"] == analysis.value("seat_load")
    assert figures["seat_load_N_U"] == analysis.figures["seat_load"].expanded
    assert told("what is missing")["figures"]["bind_margin_m"] is None
    assert told("what is missing")["figures"]["rate_evidence"] is None
    assert told("stated rate")["figures"]["rate_evidence"] == "stated"


def test_lines_members_and_units() -> None:
    assert set(told("lines")["lines"]) == {"intake", "exhaust"}
    assert told("two readings")["lines"] == {}
    members = told("nest")["members"]
    assert [member["name"] for member in members] == ["outer", "inner"]
    assert members[1]["figures"]["bind_margin_m"] > 0
    units = {finding["unit"] for finding in told("nest")["findings"]}
    assert {"m", "N", None} <= units <= {"m", "N", "1", "N/m", "rad/s", None}


def test_advice_and_valves() -> None:
    out = told("lines")
    assert out["advice"]["family"] is None
    assert out["advice"]["axle"].keys() == {"choice", "runner_up", "because"}
    example = open_job(Path(__file__).parents[1] / "job/data/example.loadbench.json")
    analysis = analyse(example)
    own = as_json(analysis, judge(analysis))
    assert own["valves"][0]["id"] == "1E"
    assert own["rules_changed"] == ["retainer-margin-min"]


def test_a_problem_has_its_place() -> None:
    problem = Problem(what="Bad.", expected="good", place=Place(file="a", row=2, column=3, field="spring"))
    (found,) = problems_as_json([problem])
    assert found == {"field": "spring", "file": "a", "row": 2, "column": 3, "what": "Bad.", "expected": "good"}
