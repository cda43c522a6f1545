"""Entries once passed in silence: masses in the wrong unit, heights out of reach, half readings, absent springs."""

from __future__ import annotations

from typing import Any

import pytest

from loadbench.errors import Problem
from loadbench.job.checks import checked
from loadbench.job.edits import replaced_all
from loadbench.job.model import Job
from loadbench.job.stated import Stated, read_stated

MOST_KG = {
    "valve_gear.masses.valve": 3.0,
    "valve_gear.masses.retainer": 1.0,
    "valve_gear.masses.locks": 0.3,
    "valve_gear.masses.pushrod": 2.0,
    "valve_gear.masses.follower": 3.0,
    "spring.mass": 3.0,
}


def stated(changes: dict[str, Any], units: str = "inch-pound") -> Stated:
    return checked(read_stated(replaced_all(Job(title="t"), {"units": units} | changes)))


def problems(changes: dict[str, Any]) -> dict[str, Problem]:
    return stated(changes).problems


def reading(height: str | None, load: str | None) -> dict[str, str]:
    return {name: text for name, text in (("height", height), ("load", load)) if text is not None}


# Masses


@pytest.mark.parametrize(("field", "most"), MOST_KG.items())
def test_a_mass_has_a_most(field: str, most: float) -> None:
    assert stated({field: f"{most} kg"}).values[field] == pytest.approx(most)
    over = stated({field: f"{most * 1.01} kg"})
    assert (list(over.problems), field in over.values) == ([field], False)


@pytest.mark.parametrize(
    ("field", "typed", "read"),
    [("valve_gear.masses.valve", "104", "47.2"), ("valve_gear.masses.retainer", "18", "8.16")],
)
def test_grams_without_a_unit_in_an_inch_pound_job_are_told(field: str, typed: str, read: str) -> None:
    problem = problems({field: typed})[field]
    assert f"{typed} reads as {typed} lb = {read} kg" in problem.what
    assert problem.expected.startswith(f"its unit, such as {typed} g")


def test_pounds_without_a_unit_that_can_be_are_pounds() -> None:
    assert stated({"valve_gear.masses.valve": "0.25"}).values["valve_gear.masses.valve"] == pytest.approx(0.1133981)
    grams = stated({"valve_gear.masses.valve": "104"}, units="metric")
    assert (grams.problems, grams.values["valve_gear.masses.valve"]) == ({}, pytest.approx(0.104))


# Readings


@pytest.mark.parametrize(
    "where", ["spring.readings", "spring.coils.0.readings", "springs.0.readings", "history.0.springs.0.readings"]
)
def test_a_height_of_more_than_twice_the_installed_one_is_withdrawn(where: str) -> None:
    rows = (reading("1.900 in", "150 lbf"), reading("12.50 in", "423 lbf"))
    found = stated({"spring.installed_height": "1.900 in", where: rows})
    assert list(found.problems) == [f"{where}.1.height"]
    assert f"{where}.1.height" not in found.values
    at_most = (reading("1.900 in", "150 lbf"), reading("3.790 in", "0 lbf"))
    assert problems({"spring.installed_height": "1.900 in", where: at_most}) == {}


def test_without_an_installed_height_the_valves_own_count_else_nothing_is_said() -> None:
    rows = {"springs": ({"id": "S1", "readings": (reading("19.00 in", "150 lbf"),)},)}
    assert problems(rows) == {}
    assert list(problems(rows | {"valves": ({"bare_height": "1.900 in"},)})) == ["springs.0.readings.0.height"]


def test_a_line_counts_by_its_own_height() -> None:
    rows = (reading("4.500 in", "150 lbf"),)
    lines = {"lines.intake.spring.installed_height": "1.900 in", "lines.exhaust.spring.installed_height": "2.400 in"}
    assert list(problems(lines | {"lines.intake.spring.readings": rows})) == ["lines.intake.spring.readings.0.height"]
    assert problems(lines | {"lines.exhaust.spring.readings": rows}) == {}
    assert problems(lines | {"spring.readings": rows}) == {}


@pytest.mark.parametrize(
    ("half", "field", "told"), [("height", "load", "No height stands"), ("load", "height", "No load stands")]
)
@pytest.mark.parametrize("where", ["spring.readings", "springs.0.readings"])
def test_half_a_reading_has_a_note_and_the_rest_stays_in_use(where: str, half: str, field: str, told: str) -> None:
    broken = {"height": "1.500 in", "load": "300 lbf"} | {half: ""}
    rows = (reading("1.900 in", "150 lbf"), broken, reading("1.250 in", "423 lbf"))
    found = stated({where: rows})
    assert found.problems == {}
    assert told in found.notes[f"{where}.1.{field}"]


def test_an_empty_reading_and_one_with_a_faulty_half_are_not_told_twice() -> None:
    empty = stated({"spring.readings": (reading(None, None), {"part": "outer"})})
    assert (empty.problems, empty.notes) == ({}, {})
    faulty = stated({"spring.readings": (reading("tall", "150 lbf"),)})
    assert (list(faulty.problems), faulty.notes) == (["spring.readings.0.height"], {})
    out_of_reach = {"spring.installed_height": "1.900 in", "spring.readings": (reading("19 in", "150 lbf"),)}
    assert list(problems(out_of_reach)) == ["spring.readings.0.height"]


# Names


@pytest.mark.parametrize(
    ("name", "told"),
    [
        ("S1", None), (" S1 ", None), ("", None), ("O3 + I7", None), ("a+b", None),
        ("S99", "There is no numbered spring S99."), ("O3 + I8", "There is no numbered spring I8."),
    ],
)  # fmt: skip
def test_a_valve_names_springs_that_are_there(name: str, told: str | None) -> None:
    springs = tuple({"id": each} for each in ("S1", "O3", "I7", "a+b"))
    found = problems({"springs": springs, "valves": ({"id": "1I", "spring": name},)})
    assert [(field, each.what) for field, each in found.items()] == ([("valves.0.spring", told)] if told else [])


def test_a_near_name_is_offered_and_without_springs_a_name_is_a_label() -> None:
    valves = ({"id": "1I", "spring": "spring-99"},)
    found = problems({"springs": ({"id": "spring-9"},), "valves": valves})
    assert found["valves.0.spring"].expected == 'did you mean "spring-9"?'
    assert problems({"valves": valves}) == {}
