"""The rule on a bind height that the wire cannot reach: both sides of its limit, members, and springs without wire."""

from __future__ import annotations

from typing import Any

import pytest

from loadbench.analysis import analyse
from loadbench.findings import Finding, judge
from loadbench.findings.rulebook import program_rules
from tests.findings.jobs import job_with

COIL: dict[str, Any] = {
    "name": "outer", "wire": {"shape": "round", "diameter": "0.200 in"}, "mean_diameter": "1.250 in",
    "total_coils": 6.0, "ends": "closed and ground", "bind_height": "1.200 in",
}  # fmt: skip
INNER = COIL | {"name": "inner", "wire": {"shape": "round", "diameter": "0.150 in"}, "total_coils": 7.0}


def found(*coils: dict[str, Any], **changes: Any) -> list[Finding]:
    verdicts = judge(analyse(job_with({"spring.coils": coils} | changes)))
    return [each for each in verdicts.findings if each.id == "bind-agreement"]


def test_the_limit_is_that_of_the_book() -> None:
    (limit,) = program_rules()["bind-agreement"].limits.values()
    assert (limit.watch, limit.stop) == (0.10, None)


@pytest.mark.parametrize(
    ("bind", "level"),
    [("1.300 in", "clear"), ("1.200 in", "clear"), ("1.081 in", "clear"), ("1.079 in", "watch"), ("0.6 in", "watch")],
)
def test_only_a_height_far_below_the_coils_is_watched(bind: str, level: str) -> None:
    (one,) = found(COIL | {"bind_height": bind})
    assert one.level.value == level
    assert one.sentence.amounts["coils"].value == pytest.approx(1.2 * 0.0254)
    assert one.about[0] == "spring.coils.0.bind_height"


@pytest.mark.parametrize(("ends", "coils"), [("closed", 1.4), ("closed and ground", 1.2), (None, 1.2)])
def test_ends_that_are_not_stated_take_a_wire_for_each_coil(ends: str | None, coils: float) -> None:
    (one,) = found(COIL | {"ends": ends})
    assert one.sentence.amounts["coils"].value == pytest.approx(coils * 0.0254)


def test_each_member_is_judged_by_its_own_and_named() -> None:
    outer, inner = found(COIL, INNER | {"bind_height": "0.900 in"})
    assert {(each.member, each.level.value) for each in (outer, inner)} == {("outer", "clear"), ("inner", "watch")}


def test_one_spring_takes_the_bind_height_of_the_set() -> None:
    (one,) = found(COIL | {"bind_height": None}, **{"spring.bind_height": "0.900 in"})
    assert (one.level.value, one.about[0]) == ("watch", "spring.bind_height")


@pytest.mark.parametrize("absent", ["wire", "total_coils"])
def test_without_wire_and_coils_nothing_is_said(absent: str) -> None:
    assert found({name: value for name, value in COIL.items() if name != absent}) == []
    assert found() == []
