"""The rule book: precedence of program, shop, job and maker; faulty changes; loosened limits; slack and chance."""

from __future__ import annotations

import math

import pytest

from loadbench.analysis.figure import Plain
from loadbench.findings.finding import Level
from loadbench.findings.rulebook import Limit, Sense, program_rules, rule_book
from loadbench.findings.standing import standing
from loadbench.findings.view import REGISTER
from loadbench.job.model import LimitChange, RuleChange
from loadbench.units import Kind
from tests.findings.jobs import job_with, level, told, verdicts

INCH = 0.0254
AT_LEAST = Limit(name="x", sense=Sense.AT_LEAST, kind=Kind.LENGTH, watch=0.002, stop=0.001)


def test_every_rule_has_its_verdict_and_every_verdict_its_rule() -> None:
    verdicts()
    assert set(REGISTER) == set(program_rules())


def test_every_limit_keeps_its_order() -> None:
    assert all(limit.ordered() for rule in program_rules().values() for limit in rule.limits.values())


def test_job_goes_before_shop_and_shop_before_program() -> None:
    shop = {"bind-margin-min": RuleChange(watch="0.080 in", stop="0.050 in")}
    job = {"bind-margin-min": RuleChange(watch="0.070 in")}
    book = rule_book(shop, job)
    limit = book.limit("bind-margin-min")
    assert (limit.watch, limit.watch_house) == (pytest.approx(0.070 * INCH), "job")
    assert (limit.stop, limit.stop_house) == (pytest.approx(0.050 * INCH), "shop")
    assert book.changed == ("bind-margin-min",)


def test_a_plain_change_means_the_row_in_force() -> None:
    book = rule_book(None, {"seat-load-min": RuleChange(watch="90 lbf", stop="10 lbf")})
    assert {round(limit.watch or 0) for limit in book.rules["seat-load-min"].limits.values()} == {400}
    book = rule_book(
        None, {"seat-load-min": RuleChange(watch="90 lbf", stop="10 lbf")}, in_force={"seat-load-min": "bucket"}
    )
    assert book.limit("seat-load-min", "bucket").watch == pytest.approx(90 * 4.4482216152605)
    assert book.limit("seat-load-min", "flat-solid") == program_rules()["seat-load-min"].limits["flat-solid"]


def test_a_named_change_means_its_limit_only() -> None:
    change = RuleChange.model_validate({"speed": LimitChange(watch="6000 rpm")})
    book = rule_book(None, {"short-travel": change})
    assert book.limit("short-travel", "speed").watch == pytest.approx(6000 * math.pi / 30)
    assert book.limit("short-travel", "open_load") == program_rules()["short-travel"].limits["open_load"]


@pytest.mark.parametrize(
    ("rule", "change"),
    [
        ("bind-margin-min", RuleChange(watch="0.020 in")),
        ("bind-margin-min", RuleChange(stop="0.070 in")),
        ("bind-margin-min", RuleChange(stop="-0.010 in")),
        ("bind-margin-min", RuleChange(watch="5 lbf")),
        ("bind-margin-min", RuleChange(watch=5)),
        ("load-loss", RuleChange(watch="nan")),
        ("load-loss", RuleChange(watch="a bit")),
        ("bind-margin", RuleChange(watch="0.070 in")),
        ("prep", RuleChange(watch="1 in")),
        ("bind-margin-min", RuleChange.model_validate({"open_load": LimitChange(watch="5 lbf")})),
    ],
)
def test_a_faulty_change_is_told_and_left_out(rule: str, change: RuleChange) -> None:
    book = rule_book(None, {rule: change}, in_force={"bind-margin-min": "usual"})
    assert book.problems
    assert all((problem.place.field or "").startswith(f"rules.{rule}") for problem in book.problems)
    assert not book.changed


def test_a_near_name_is_offered_for_an_unknown_rule() -> None:
    book = rule_book(None, {"bind-margin": RuleChange(watch="0.070 in")})
    assert "bind-margin-min" in book.problems[0].expected or "bind-margin-wide" in book.problems[0].expected


def test_percent_and_number_limits_take_plain_numbers() -> None:
    book = rule_book(None, {"load-loss": RuleChange(watch=4, stop="8 %"), "flat-oil": RuleChange(watch=1400)})
    assert book.limit("load-loss").watch == pytest.approx(0.04)
    assert book.limit("load-loss").stop == pytest.approx(0.08)
    assert book.limit("flat-oil", "phosphorus").watch == 1400


def test_a_loosened_limit_is_a_watch_with_its_reason() -> None:
    changes = {"rules.bind-margin-min": {"watch": "0.050 in", "why": "short block"}}
    (finding,) = told("rule-loosened", changes)
    assert finding.level == "watch"
    assert "short block" in finding.sentence.template
    assert finding.about == ("rules.bind-margin-min",)


def test_a_stricter_limit_is_no_loosening() -> None:
    assert not told("rule-loosened", {"rules.bind-margin-min": {"watch": "0.080 in"}})


def test_loosening_is_measured_by_the_shops_rules() -> None:
    shop = {"bind-margin-min": RuleChange(watch="0.100 in")}
    judged = verdicts({"rules.bind-margin-min": {"watch": "0.080 in"}}, shop=shop)
    assert [finding.id for finding in judged.findings if finding.id == "rule-loosened"] == ["rule-loosened"]


def test_a_house_value_says_whose_it_is() -> None:
    (finding,) = told("bind-margin-min", {"rules.bind-margin-min": {"watch": "0.250 in"}})
    assert (finding.level.value, finding.house) == ("watch", "job")


def test_a_value_on_the_limit_is_on_the_right_side() -> None:
    assert standing(AT_LEAST, 0.002).level is Level.CLEAR
    assert standing(AT_LEAST, 0.002 * (1 - 5e-10)).level is Level.CLEAR
    assert standing(AT_LEAST, 0.002 * (1 - 5e-9)).level is Level.WATCH
    assert standing(AT_LEAST, 0.001).level is Level.WATCH
    assert standing(AT_LEAST, 0.00099999).level is Level.STOP


def test_a_limit_that_counts_when_reached() -> None:
    zero = Limit(name="x", sense=Sense.AT_LEAST, kind=Kind.LENGTH, watch=0.001, stop=0.0, reached=True)
    assert standing(zero, 0.0).level is Level.STOP
    assert standing(zero, 1e-9).level is Level.WATCH


def test_chance_is_that_of_a_normal_value() -> None:
    """One standard uncertainty (U/2) past the limit: 15.87 % of a normal distribution lies beyond (gum, annex G)."""
    stands = standing(Limit(name="x", sense=Sense.AT_MOST, kind=Plain.NUMBER, watch=10.0), 9.0, 2.0)
    assert stands.chance == pytest.approx(0.158655254, abs=1e-8)
    assert stands.margin == pytest.approx(1.0)


@pytest.mark.parametrize(("expanded", "expected"), [(0.00120, Level.CLEAR), (0.00123, Level.WATCH)])
def test_five_percent_of_chance_past_the_stop_makes_a_watch(expanded: float, expected: Level) -> None:
    """A margin of 1.6449 standard uncertainties leaves 5 % past the limit: here 0.001 m, so U = 0.0012159 m."""
    stands = standing(Limit(name="x", sense=Sense.AT_LEAST, kind=Kind.LENGTH, watch=0.002, stop=0.001), 0.002, expanded)
    assert stands.level is expected


def test_completeness() -> None:
    assert verdicts().complete
    for field in ("spring.bind_height", "valve_gear.retainer_to_seal", "follower.family", "follower.travel"):
        assert not verdicts({field: None}).complete, field
    solid = {"follower.family": "roller-solid", "valve_gear.lash": "0.016 in"}
    assert verdicts(solid).complete
    assert not verdicts(solid | {"follower.axle": None}).complete
    bucket = {"follower.family": "bucket", "valve_gear.rocker_ratio": None, "valve_gear.lash": "0.010 in"}
    assert verdicts(bucket).complete


def test_worst_first() -> None:
    ranks = [finding.level.rank for finding in verdicts().findings]
    assert ranks == sorted(ranks, reverse=True)


def test_markup_and_braces_in_names_stay_text() -> None:
    from loadbench.units import Style

    coils = ({"name": "{limit} <b>", "bind_height": "1.100 in"}, {"name": "{0}", "bind_height": "1.000 in"})
    sentences = [each.sentence.told(Style.METRIC) for each in verdicts({"spring.coils": coils}).findings]
    assert any("{limit} <b>" in sentence for sentence in sentences)


def test_lines_that_agree_are_told_once() -> None:
    job = {"lines.exhaust": {"valve_gear": {"valve_lift": "0.610 in"}}}
    assert [each.line for each in told("cam-follower-kind", job)] == [None]
    assert {each.line for each in told("bind-margin-min", job)} == {"intake", "exhaust"}
    assert job_with(job).lines.exhaust is not None


def test_level_of_a_rule_is_asked_alone() -> None:
    assert level("bind-margin-min") == "clear"
