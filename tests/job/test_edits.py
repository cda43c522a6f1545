"""Edits of a frozen job: one field, several at once, an item out; what cannot be is refused and changes nothing."""

from __future__ import annotations

from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from loadbench.errors import InputError
from loadbench.job.edits import removed, replaced, replaced_all, value_at
from loadbench.job.files import text_of_job
from loadbench.job.model import Job
from loadbench.job.reading_in import job_from_text
from tests.job.documents import text_of, trees

EMPTY = Job(title="t")
THREE = replaced_all(EMPTY, {f"spring.readings.{place}.load": f"{place} N" for place in range(3)})
FIELDS: list[tuple[str, Any]] = [
    ("title", "u"),
    ("spring.rate", "420 lbf/in"),
    ("spring.shims.0", "0.015 in"),
    ("spring.readings.0.load", "150 lbf"),
    ("spring.coils.0.wire.diameter", "4 mm"),
    ("valve_gear.rocker_ratio", 1.6),
    ("valve_gear.ratio_curve", (("0 in", 1.5), ("0.5 in", 1.6))),
    ("cam.profile.0", ("0 deg", "0 in")),
    ("duty.first_running", False),
    ("lines.exhaust.valve_gear.lobe_lift", "0.355 in"),
    ("engine.firing_order", (1, 3, 4, 2)),
    ("valves.0.plunger_travel", "0.060 in"),
    ("springs.0.readings.0.part", "outer"),
    ("variants.0.spring.rate", "395 lbf/in"),
    ("history.0.springs.0.id", "S01"),
    ("rules.bind-margin-min.watch", "0.05 in"),
    ("rules.bushed-axle.open_load.stop", "900 lbf"),
]


@pytest.mark.parametrize(("field", "value"), FIELDS, ids=[field for field, _ in FIELDS])
def test_a_field_holds_what_was_put_there(field: str, value: Any) -> None:
    after = replaced(EMPTY, field, value)
    assert value_at(after, field) == value
    assert Job(title="t") == EMPTY
    assert replaced(after, field, value) == after
    assert job_from_text(text_of_job(after)) == after


def test_several_at_once_in_order() -> None:
    one_by_one = EMPTY
    for field, value in FIELDS:
        one_by_one = replaced(one_by_one, field, value)
    assert replaced_all(EMPTY, dict(FIELDS)) == one_by_one
    assert replaced_all(EMPTY, {}) == EMPTY


def test_all_or_none() -> None:
    with pytest.raises(InputError):
        replaced_all(EMPTY, {"spring.rate": "420 lbf/in", "spring.mass": 88})
    assert EMPTY.spring.rate is None


@pytest.mark.parametrize("nothing", [None, ""])
def test_an_emptied_field_is_as_if_it_had_never_been_there(nothing: str | None) -> None:
    assert replaced(replaced(EMPTY, "spring.rate", "420 lbf/in"), "spring.rate", nothing) == EMPTY
    assert replaced(EMPTY, "customer", nothing) == EMPTY
    assert replaced(EMPTY, "title", "").title == ""


def test_an_item_past_the_end_is_added_and_taken_out_again() -> None:
    four = replaced(THREE, "spring.readings.3.load", "3 N")
    assert [reading.load for reading in four.spring.readings] == ["0 N", "1 N", "2 N", "3 N"]
    assert removed(four, "spring.readings.3") == THREE
    assert [reading.load for reading in removed(four, "spring.readings.1").spring.readings] == ["0 N", "2 N", "3 N"]


def test_a_rule_is_taken_out_by_its_name() -> None:
    assert removed(replaced(EMPTY, "rules.bind-margin-min.watch", "0.05 in"), "rules.bind-margin-min") == EMPTY


@pytest.mark.parametrize(
    "field",
    [
        *("", "sprng", "spring.bind_hight", "spring.rate.x", "title.x", "title.x.y", "spring.readings.x"),
        *("spring.readings.4", "spring.readings.-1", "spring.readings.-1.load", "spring.readings.9.load"),
        *("spring.readings.x.load", "lines.middle.spring"),
    ],
)
def test_there_is_no_such_field(field: str) -> None:
    with pytest.raises(InputError) as error:
        replaced(THREE, field, "1 N")
    assert error.value.place.field == field


@pytest.mark.parametrize(
    "field",
    ["spring.readings.3", "spring.readings.-1", "spring.readings.x", "rules.none", "sprng", "title", "spring.rate.x"],
)
def test_there_is_nothing_to_take_out(field: str) -> None:
    with pytest.raises(InputError):
        removed(THREE, field)


@pytest.mark.parametrize(
    ("field", "value"),
    [
        ("spring.rate", 420),
        ("valve_gear.rocker_ratio", "1.6"),
        ("valve_gear.rocker_ratio", True),
        ("record.hours", float("nan")),
        ("record.hours", float("inf")),
        ("rules.bind-margin-min.watch", float("nan")),
        ("duty.first_running", 1),
        ("engine.cylinders", 8.5),
        ("title", None),
        ("spring.readings", "150 lbf"),
        ("cam.profile.0", ("0 deg",)),
    ],
)
def test_a_field_that_cannot_hold_this(field: str, value: Any) -> None:
    with pytest.raises(InputError):
        replaced(EMPTY, field, value)


@pytest.mark.parametrize(
    "field", ["spring.readings.9.load", "spring.readings.-1", "spring.readings.x", "nothing.at.all", "title.x"]
)
def test_nothing_stands_where_nothing_is(field: str) -> None:
    assert value_at(THREE, field) is None


@given(trees(), st.sampled_from(FIELDS))
def test_an_edit_changes_its_field_alone(tree: dict[str, Any], edit: tuple[str, Any]) -> None:
    job, (field, value) = job_from_text(text_of(tree)), edit
    after = replaced(job, field, value)
    assert value_at(after, field) == value
    for other, _ in FIELDS:
        if not field.startswith(other.rsplit(".", 1)[0]) and not other.startswith(field):
            assert value_at(after, other) == value_at(job, other)
