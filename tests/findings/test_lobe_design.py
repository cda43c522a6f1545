"""The rule on what a polydyne lobe was made for: both sides of each limit, and silence where there is no such lobe."""

from __future__ import annotations

from typing import Any

import pytest

from loadbench.analysis import analyse
from loadbench.findings import Finding, judge
from loadbench.findings.rulebook import program_rules
from tests.analysis.test_motion import job
from tests.readings.test_polydyne_of_job import POLYDYNE

HERE: dict[str, Any] = POLYDYNE | {
    "cam.law.design.mass": "317 g", "cam.law.design.stiffness": "6000 N/mm", "duty.speed_limit": "7000 rpm",
}  # fmt: skip


def found(**changes: Any) -> list[Finding]:
    return [each for each in judge(analyse(job(**HERE | changes))).findings if each.id == "lobe-design"]


def level(**changes: Any) -> str:
    (one,) = found(**changes)
    return one.level.value


def test_the_limits_are_those_of_the_book() -> None:
    limits = program_rules()["lobe-design"].limits
    assert {name: (each.watch, each.stop) for name, each in limits.items()} == {
        "usual": (0.10, None), "speed": (0.20, None), "lash": (pytest.approx(0.1016e-3), None)
    }  # fmt: skip


def test_on_its_own_bench_it_is_clear() -> None:
    (one,) = found()
    assert one.level.value == "clear"
    assert "within" in one.sentence.template
    assert one.value is not None
    assert one.value < 0.03


@pytest.mark.parametrize(
    ("field", "near", "far", "word"),
    [
        ("spring_rate", "455 lbf/in", "475 lbf/in", "a spring rate of"),
        ("seat_load", "184 lbf", "192 lbf", "a seat load of"),
        ("stiffness", "5500 N/mm", "5000 N/mm", "a linkage of"),
        ("ratio", 1.7, 1.8, "a rocker ratio of"),
        ("mass", "340 g", "360 g", "a mass at the valve of"),
    ],
)
def test_each_quantity_is_watched_past_its_limit(field: str, near: Any, far: Any, word: str) -> None:
    assert level(**{f"cam.law.design.{field}": near}) == "clear"
    (one,) = found(**{f"cam.law.design.{field}": far})
    assert one.level.value == "watch"
    assert word in one.sentence.template
    assert one.fix is not None


@pytest.mark.parametrize(
    ("changes", "said"),
    [
        ({"cam.law.design.speed": "5800 rpm"}, "off the speed limit"),
        ({"duty.speed_limit": "8000 rpm"}, "off the speed limit"),
        ({"valve_gear.lash": "0.022 in"}, "a lash of"), ({"valve_gear.lash": "0.010 in"}, "a lash of"),
    ],
)  # fmt: skip
def test_another_speed_or_lash_is_watched(changes: dict[str, Any], said: str) -> None:
    one, other = found(**changes)
    assert (one.level.value, other.level.value) == ("watch", "clear")
    assert said in one.sentence.template
    near = {"cam.law.design.speed": "5900 rpm", "valve_gear.lash": "0.0195 in"}
    assert level(**near) == "clear"


@pytest.mark.parametrize("changes", [{"cam.law.name": "3-4-5"}, {"cam.law.design.mass": None}])
def test_without_such_a_lobe_nothing_is_said(changes: dict[str, Any]) -> None:
    assert found(**changes) == []
