"""Every entry read once: values in SI, words, faults with their places, the line's own before the common."""

from __future__ import annotations

from typing import Any

import pytest

from loadbench.job.checks import checked
from loadbench.job.edits import replaced_all
from loadbench.job.kinds import Number, Quantity, Words
from loadbench.job.model import Job
from loadbench.job.reading_in import job_from_text
from loadbench.job.stated import Stated, mark_of, read_stated
from loadbench.units import Kind, Style


def stated(fields: dict[str, Any] | None = None, **units: str) -> Stated:
    return read_stated(replaced_all(Job(title="t"), {"units": units.get("units", "inch-pound")} | (fields or {})))


def faulty(fields: dict[str, Any]) -> list[str]:
    return sorted(stated(fields).problems)


@pytest.mark.parametrize(
    ("field", "entry", "value"),
    [
        ("spring.bind_height", "1.080 in", 0.027432),
        ("spring.bind_height", "27,43 mm", 0.02743),
        ("spring.bind_height", "1.080", 0.027432),
        ("spring.shims.1", "15 thou", 0.000381),
        ("spring.rate", "420 lb/in", 420 * 4.4482216152605 / 0.0254),
        ("spring.mass", "88 g", 0.088),
        ("tester.load_accuracy_percent", 1, 1),
        ("valve_gear.rocker_ratio", 1.6, 1.6),
        ("duty.boost", "14.503773773 psi", 1e5),
        ("duty.oil.temperature", "212 degF", 373.15),
        ("duty.first_running", False, False),
        ("cam.profile.1.1", "0.1 in", 0.00254),
        ("valve_gear.ratio_curve.0.1", 1.5, 1.5),
        ("spring.material", None, None),
        ("spring.coils.0.material", "chrome-silicon", "chrome-silicon"),
        ("follower.family", " Roller Hydraulic ", "roller-hydraulic"),
        ("follower.guide", "tiebar", "tie-bar"),
        ("valve_gear.head", "Aluminum", "aluminium"),
        ("spring.readings_on", "in retainer", "retainer"),
        ("follower.preload.depth", "-0.01 in", -0.000254),
    ],
)
def test_an_entry_as_a_value(field: str, entry: Any, value: Any) -> None:
    before = {
        "spring.shims.0": "0 in",
        "cam.profile": (("0 deg", "0 in"), ("1 deg", "0 in")),
        "valve_gear.ratio_curve": (("0 in", 1.6),),
    }
    if entry is not None:
        read = stated(before | {field: entry})
        assert read.problems == {}
        assert read.values[field] == (pytest.approx(value, rel=1e-8) if isinstance(value, float) else value)


@pytest.mark.parametrize(
    ("field", "entry"),
    [
        ("spring.bind_height", "0 in"),
        ("spring.bind_height", "2 m"),
        ("spring.bind_height", "420 lbf/in"),
        ("spring.bind_height", "1,250"),
        ("spring.bind_height", "nan"),
        ("spring.shims.0", "-0.015 in"),
        ("spring.shims.0", "0.060 m"),
        ("spring.rate", "420 in"),
        ("spring.rate", "-1 lbf/in"),
        ("spring.readings.0.load", "-5 lbf"),
        ("spring.readings.0.direction", "sideways"),
        ("tester.load_accuracy_percent", -1),
        ("tester.load_accuracy_percent", 101),
        ("valve_gear.rocker_ratio", 0),
        ("valve_gear.rocker_ratio", 16),
        ("valve_gear.ratio_curve.0.1", -1.0),
        ("duty.idle_share", 1.5),
        ("duty.boost", "-5 psi"),
        ("duty.use", "racing"),
        ("follower.family", "rollers"),
        ("cam.kind", "square"),
        ("valves.0.line", "both"),
        ("lines.exhaust.spring.bind_height", "?"),
        ("springs.0.readings.0.height", "-1 in"),
        ("history.0.springs.0.readings.0.load", "much"),
        ("units", "imperial"),
    ],
)
def test_a_fault_with_its_place_and_what_was_expected(field: str, entry: Any) -> None:
    rows = {"valve_gear.ratio_curve": (("0 in", 1.6),)} if "ratio_curve" in field else {}
    read = stated(rows | {field: entry})
    assert list(read.problems) == [field]
    problem = read.problems[field]
    assert (problem.place.field, bool(problem.what), bool(problem.expected)) == (field, True, True)
    assert field not in read.values


@pytest.mark.parametrize("nothing", ["", " ", "\t"])
def test_blank_is_not_stated(nothing: str) -> None:
    read = stated({"spring.rate": nothing, "follower.family": nothing, "spring.shims.0": nothing})
    assert read.problems == {}
    assert "spring.rate" not in read.values
    assert read.values["spring.shims#"] == 1


def test_null_absent_and_empty_are_the_same() -> None:
    texts = [
        f'{{"format": "loadbench-job", "version": 1, "title": "t"{rest}}}'
        for rest in (
            "",
            ', "spring": null',
            ', "spring": {}',
            ', "spring": {"rate": ""}',
            ', "spring": {"rate": null}',
            ', "spring": ""',
        )
    ]
    assert [job_from_text(text) for text in texts] == [Job(title="t")] * len(texts)


def test_bare_numbers_take_the_units_of_the_file() -> None:
    fields: dict[str, Any] = {"spring.rate": "73.6", "spring.bind_height": "27.432", "duty.boost": "1"}
    metric = stated(fields, units="metric")
    assert metric.style is Style.METRIC
    assert metric.values["spring.rate"] == pytest.approx(73600)
    assert metric.values["duty.boost"] == pytest.approx(1e5)
    unsaid = read_stated(replaced_all(Job(title="t"), fields))
    assert sorted(unsaid.problems) == sorted(fields)


def test_kilograms_of_load_are_noted() -> None:
    read = stated({"spring.readings.0.load": "80 kg"})
    assert read.values["spring.readings.0.load"] == pytest.approx(80 * 9.80665)
    assert "spring.readings.0.load" in read.notes


# Lines


def test_a_lines_entry_comes_first_even_when_it_is_faulty() -> None:
    read = stated({"valve_gear.lash": "0.016 in", "lines.exhaust.valve_gear.lash": "wide"})
    intake, exhaust = read.line("intake"), read.line("exhaust")
    assert intake.value("valve_gear.lash") == pytest.approx(0.016 * 0.0254)
    assert (exhaust.value("valve_gear.lash"), exhaust.faulty("valve_gear.lash")) == (None, True)
    assert exhaust.path("valve_gear.lash") == "lines.exhaust.valve_gear.lash"
    assert intake.path("valve_gear.lash") == "valve_gear.lash"


def test_what_lines_do_not_have_is_common() -> None:
    read = stated({"follower.family": "bucket", "lines.exhaust": {}})
    assert read.lines == ("intake", "exhaust")
    assert read.line("exhaust").value("follower.family") == "bucket"
    assert read.line("exhaust").path("duty.boost") == "duty.boost"


def test_a_lines_own_list_whole_or_the_common_one() -> None:
    read = stated({"spring.shims": ("0.015 in", "0.015 in"), "lines.exhaust.spring.shims": ("0.030 in",)})
    assert read.line("intake").rows("spring.shims") == ("spring.shims", 2)
    assert read.line("exhaust").rows("spring.shims") == ("lines.exhaust.spring.shims", 1)
    assert read.line("exhaust").rows("spring.readings") == ("spring.readings", 0)


# Marks


@pytest.mark.parametrize(
    ("field", "kind"),
    [
        ("spring.readings.0.load", Kind.FORCE),
        ("lines.exhaust.valve_gear.lash", Kind.LENGTH),
        ("spring.shims.3", Kind.LENGTH),
        ("valve_gear.stiffness", Kind.RATE),
        ("variants.0.spring.coils.1.wire.width", Kind.LENGTH),
        ("duty.oil.temperature", Kind.TEMPERATURE),
    ],
)
def test_the_mark_of_a_quantity(field: str, kind: Kind) -> None:
    mark = mark_of(field)
    assert isinstance(mark, Quantity)
    assert mark.kind is kind


def test_other_marks() -> None:
    assert isinstance(mark_of("cam.kind"), Words)
    assert isinstance(mark_of("valve_gear.rocker_ratio"), Number)
    assert mark_of("spring.name") is None
    with pytest.raises(KeyError):
        mark_of("spring.bind_hight")


@pytest.mark.parametrize(
    ("changes", "field"),
    [
        ({"springs": ({"id": "A"}, {"id": "A"})}, "springs.1.id"),
        ({"valves": ({"id": "1I"}, {"id": "1I"})}, "valves.1.id"),
        ({"valves": ({"id": "1", "spring": "A"}, {"id": "2", "spring": "A"})}, "valves.1.spring"),
    ],
)
def test_a_name_that_stands_twice_is_a_fault(changes: dict[str, object], field: str) -> None:
    assert field in checked(read_stated(replaced_all(Job(title="t"), changes))).problems


def test_springs_without_a_name_are_no_doubles() -> None:
    assert not checked(read_stated(replaced_all(Job(title="t"), {"springs": ({}, {}), "valves": ({}, {})}))).problems


@pytest.mark.parametrize(
    ("changes", "field"),
    [
        ({"spring.readings": ({"height": "1.5 in", "load": "300 lbf"},)}, "spring.readings.0.height"),
        ({"spring.bare_height": "1.55 in"}, "spring.bind_height"),
    ],
)
def test_a_height_that_bound_coils_cannot_reach_is_a_fault(changes: dict[str, object], field: str) -> None:
    bound = {"units": "inch-pound", "spring.bind_height": "1.6 in", "spring.installed_height": "1.85 in"}
    assert field in checked(read_stated(replaced_all(Job(title="t"), bound | changes))).problems


def test_a_reading_at_the_bind_height_is_none() -> None:
    bound = {"units": "inch-pound", "spring.bind_height": "1.6 in", "spring.installed_height": "1.85 in"}
    at_bind = {"spring.readings": ({"height": "1.598 in", "load": "300 lbf"},)}
    assert not checked(read_stated(replaced_all(Job(title="t"), bound | at_bind))).problems
