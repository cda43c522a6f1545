"""Verdicts on the wire and the coil, on both sides of every limit; limits are Shigley's unless common practice."""

from __future__ import annotations

from typing import Any

import pytest

from loadbench.analysis import analyse
from loadbench.findings import Finding, judge
from loadbench.findings.coils import _KEPT
from loadbench.findings.rulebook import rule_book
from tests.findings.jobs import job_with, told

OUTER: dict[str, Any] = {
    "name": "outer",
    "wire": {"shape": "round", "diameter": "0.207 in"},
    "mean_diameter": "1.243 in",
    "active_coils": 3.2,
    "total_coils": 5.2,
    "free_height": "2.275 in",
    "ends": "closed and ground",
    "material": "chrome-silicon",
    "shot_peened": True,
    "preset": True,
}
INNER: dict[str, Any] = OUTER | {
    "name": "inner",
    "wire": {"shape": "round", "diameter": "0.130 in"},
    "mean_diameter": "0.880 in",
    "active_coils": 5.0,
    "total_coils": 7.0,
}
LIMIT = {"speed": {"duty.speed_limit": "6800 rpm"}}
RULES = {
    "spring-index": ("least", "most"),
    "stress-share": ("not-preset", "preset", "drawn-not-preset", "drawn-preset"),
    "bind-stress": ("not-preset", "preset", "drawn-not-preset", "drawn-preset"),
    "fatigue-factor": ("usual",),
    "surge-ratio": ("usual",),
    "nest-clearance": ("coils", "step"),
}


def coil(**more: Any) -> dict[str, Any]:
    """The outer spring alone, with some of its entries changed; its own loads come from its readings."""
    return {"spring.coils": (OUTER | more,), "duty.speed_limit": "6800 rpm"}


def nest(inner: dict[str, Any] | None = None, **outer: Any) -> dict[str, Any]:
    return {"spring.coils": (OUTER | outer, INNER | (inner or {})), "duty.speed_limit": "6800 rpm"}


def only(rule: str, changes: dict[str, Any]) -> Finding:
    (finding,) = told(rule, changes)
    return finding


def with_limit(changes: dict[str, Any], rule: str, name: str, value: float, unit: str = "") -> dict[str, Any]:
    return {**changes, "rules": {rule: {name: {"watch": f"{value!r}{unit}" if unit else value}}}}


def at_limit(rule: str, name: str, changes: dict[str, Any], better: float, unit: str = "", scale: float = 1.0) -> None:
    """A limit put just on either side of the value: past it is a watch, short of it clear."""
    value = only(rule, changes).value
    assert value is not None
    for share, wanted in ((1e-6, "clear"), (-1e-6, "watch")):
        moved = with_limit(changes, rule, name, scale * value * (1 - better * share), unit)
        assert only(rule, moved).level.value == wanted, (rule, name, wanted)


WAYS = (
    ("not-preset", {"preset": False}),
    ("not-preset", {"preset": None}),
    ("preset", {"preset": True}),
    ("drawn-not-preset", {"preset": False, "material": "music"}),
    ("drawn-preset", {"preset": True, "material": "music"}),
)


@pytest.mark.parametrize("rule", ["stress-share", "bind-stress"])
@pytest.mark.parametrize(("row", "entries"), WAYS)
def test_the_stress_is_judged_by_the_row_of_its_wire(rule: str, row: str, entries: dict[str, Any]) -> None:
    at_limit(rule, row, coil(**entries), better=-1, unit=" %", scale=100)


def test_what_is_not_stated_of_presetting_is_said() -> None:
    sentence = only("stress-share", coil(preset=None)).sentence.template
    assert "preset not stated: taken as not preset" in sentence
    assert "Wahl, not preset" in only("stress-share", coil(preset=False)).sentence.template
    assert "direct shear, preset" in only("stress-share", coil(preset=True)).sentence.template


def test_a_stress_past_its_limit_at_bind_says_that_bind_is_never_reached() -> None:
    never = "the coils must never bind"
    (past,) = told("bind-stress", coil(preset=False))
    assert past.level.value == "watch"
    assert never in past.sentence.template
    assert never not in only("stress-share", coil(preset=False)).sentence.template


def test_after_presetting_the_stress_is_that_of_direct_shear() -> None:
    # 8 F D (1 + 0.5/C) / (pi d^3) by hand at 390 lbf, over 1974 MPa / 5.2578^0.108
    index = 1.243 / 0.207
    stress = 8 * 390 * 1.243 * (1 + 0.5 / index) / (3.141592653589793 * 0.207**3) * 6894.757293168
    assert only("stress-share", coil()).value == pytest.approx(stress / (1974e6 / 5.2578**0.108), rel=1e-9)


def test_the_spring_index() -> None:
    assert only("spring-index", coil()).level.value == "clear"
    changes = coil()
    at_limit("spring-index", "least", changes, better=1)
    at_limit("spring-index", "most", changes, better=-1)
    thin = coil(wire={"shape": "round", "diameter": "0.100 in"})
    assert only("spring-index", thin).level.value == "watch"
    assert only("spring-index", thin).fix is not None


def test_fatigue_and_surge() -> None:
    at_limit("fatigue-factor", "usual", coil(), better=1)
    at_limit("surge-ratio", "usual", coil(), better=1)
    peened, bare = (only("fatigue-factor", coil(shot_peened=each)).value for each in (True, False))
    assert peened is not None
    assert bare is not None
    assert peened > bare


def test_where_an_order_of_the_lift_meets_the_first_mode() -> None:
    finding = only("surge-ratio", coil())
    amounts = finding.sentence.amounts
    mode, order, speed = (amounts[name].value for name in ("mode", "order", "speed"))
    assert order * speed / (4 * 3.141592653589793) == pytest.approx(mode)  # order times half the engine's turns
    assert (order - 1) * amounts["ratio"].value < amounts["ratio"].value * order
    assert order >= amounts["ratio"].value > order - 1


MISSING = (
    ("spring-index", {"mean_diameter": None}, "spring.coils.0.mean_diameter"),
    ("stress-share", {"material": None}, "spring.coils.0.material"),
    ("bind-stress", {"material": None}, "spring.coils.0.material"),
    ("fatigue-factor", {"wire": {}}, "spring.coils.0.wire.diameter"),
    ("surge-ratio", {"material": None}, "spring.coils.0.material"),
)


@pytest.mark.parametrize(("rule", "entries", "field"), MISSING)
def test_what_is_missing_is_named(rule: str, entries: dict[str, Any], field: str) -> None:
    finding = only(rule, coil(**entries))
    assert finding.level.value == "unknown"
    assert field in finding.missing


def test_without_a_speed_limit_the_surge_is_unknown() -> None:
    finding = only("surge-ratio", {"spring.coils": (OUTER,)})
    assert finding.level.value == "unknown"
    assert finding.missing == ("duty.speed_limit",)


def test_a_job_without_wire_is_not_asked() -> None:
    assert all(not told(rule) for rule in RULES)


def gaps(changes: dict[str, Any], words: str) -> Finding:
    (finding,) = [each for each in told("nest-clearance", changes) if words in each.sentence.template]
    return finding


def test_the_gap_between_two_springs() -> None:
    # inside of the outer is 1.036 in across, and the inner is its mean diameter and 0.130 in
    for mean, level in (("0.895 in", "clear"), ("0.897 in", "watch"), ("0.910 in", "watch")):
        finding = gaps(nest({"mean_diameter": mean}), "outer and the next spring inside it")
        assert finding.level.value == level
        assert finding.member == "outer"
    pressed = gaps(nest({"mean_diameter": "0.910 in"}), "next spring")
    assert "pressed into each other" in pressed.sentence.template
    assert "A press fit that its maker intends" in pressed.sentence.template
    assert pressed.value == pytest.approx(-0.004 * 0.0254)


def test_the_gap_to_the_retainers_step() -> None:
    # inside diameter 1.036 in
    for step, level in (("1.035 in", "clear"), ("1.037 in", "watch")):
        changes = nest(retainer_step_diameter=step)
        assert gaps(changes, "outer and the retainer's step").level.value == level


STEPS = ("spring.coils.0.retainer_step_diameter", "spring.coils.1.retainer_step_diameter")


def unknown_gaps(changes: dict[str, Any]) -> list[Finding]:
    return [each for each in told("nest-clearance", changes) if each.level.value == "unknown"]


def test_a_nest_without_any_step_waits_once_for_all() -> None:
    (finding,) = unknown_gaps(nest())
    assert "steps" in finding.sentence.template
    assert finding.member is None
    assert finding.missing == STEPS
    assert finding.about == ("spring.coils.0", "spring.coils.1")


@pytest.mark.parametrize("step", ["1.030 in", "soon"])
def test_a_step_stated_for_one_spring_is_missed_for_each(step: str) -> None:
    found = unknown_gaps(nest(retainer_step_diameter=step))
    waiting = {each.member: each.missing for each in found}
    expected = {"inner": STEPS[1:]} | ({"outer": STEPS[:1]} if step == "soon" else {})
    assert waiting == expected
    (only_inner,) = unknown_gaps(nest({"retainer_step_diameter": "0.700 in"}))
    assert (only_inner.member, only_inner.missing) == ("outer", STEPS[:1])


def test_a_single_spring_waits_for_its_own_step() -> None:
    (finding,) = unknown_gaps(coil())
    assert finding.missing == STEPS[:1]
    assert finding.about == ("spring.coils.0",)


def test_lines_with_springs_of_their_own_wait_once_each() -> None:
    own = (OUTER, INNER | {"retainer_step_diameter": "0.700 in"})
    found = unknown_gaps({**nest(), "lines.exhaust.spring.coils": own})
    assert [(each.line, each.member) for each in found] == [("intake", None), ("exhaust", "outer")]
    alike = unknown_gaps({**nest(), "lines.exhaust.valve_gear.head_diameter": "1.6 in"})
    assert [each.line for each in alike] == [None]


def test_two_lines_alike_are_told_once_and_a_single_spring_has_no_name() -> None:
    both = {**coil(), "lines.exhaust.valve_gear.head_diameter": "1.6 in"}
    assert len(told("spring-index", both)) == 1
    assert only("spring-index", both).line is None
    assert only("spring-index", coil()).member is None
    assert [each.member for each in told("spring-index", nest())] == ["outer", "inner"]


CHANGED: tuple[dict[str, Any], ...] = (
    coil(),
    {**coil(), "spring.installed_height": "1.880 in"},
    {**coil(), "duty.speed_limit": "7200 rpm"},
    coil(shot_peened=False),
    nest(),
    nest(retainer_step_diameter="1.030 in"),
    {**nest(), "lines.exhaust.valve_gear.valve_lift": "0.610 in"},
    {**nest(), "lines.exhaust.spring.installed_height": "1.910 in"},
    with_limit(coil(), "spring-index", "most", 5.0),
    coil(name="main"),
)


def test_kept_findings_are_those_of_a_fresh_start() -> None:
    kept = [judge(analyse(job_with(changes))).findings for changes in CHANGED]
    for changes, findings in zip(CHANGED, kept, strict=True):
        _KEPT.clear()
        assert judge(analyse(job_with(changes))).findings == findings


# What the sources say: Shigley's recommended index, Table 10-6 (shares; the high end at bind, where presetting ends), a
# fatigue factor of one as its definition, 15 to 20 times the cam's frequency by the surge rule.
IN_THE_BOOK = [
    ("spring-index", "least", 4.0, "shigley"),
    ("spring-index", "most", 12.0, "shigley"),
    ("stress-share", "not-preset", 0.50, "shigley"),
    ("stress-share", "preset", 0.65, "shigley"),
    ("stress-share", "drawn-not-preset", 0.45, "shigley"),
    ("stress-share", "drawn-preset", 0.60, "shigley"),
    ("bind-stress", "not-preset", 0.50, "shigley"),
    ("bind-stress", "preset", 0.75, "shigley"),
    ("bind-stress", "drawn-not-preset", 0.45, "shigley"),
    ("bind-stress", "drawn-preset", 0.70, "shigley"),
    ("fatigue-factor", "usual", 1.0, "shigley"),
    ("surge-ratio", "usual", 15.0, "surge-rule"),
]


@pytest.mark.parametrize(("rule", "name", "limit", "source"), IN_THE_BOOK)
def test_the_limits_are_those_of_their_sources(rule: str, name: str, limit: float, source: str) -> None:
    book = rule_book()
    assert book.limit(rule, name).watch == pytest.approx(limit)
    assert book.rules[rule].source == source
