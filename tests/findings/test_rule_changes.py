"""Editing the changes to the book: one limit at a time, nothing else moved."""

from __future__ import annotations

import pytest

from loadbench.findings.rule_changes import change_of, with_change, without_loosened
from loadbench.findings.rulebook import program_rules, rule_book
from loadbench.job.model import LimitChange, RuleChange

INCH = 0.0254
BIND, RETAINER, TRAVEL = (program_rules()[name] for name in ("bind-margin-min", "retainer-margin-min", "short-travel"))


def test_a_rule_of_one_limit_is_written_plainly() -> None:
    after = with_change({}, RETAINER, "usual", LimitChange(watch="0.070 in", why="a soft seal"))
    assert after == {"retainer-margin-min": RuleChange(watch="0.070 in", why="a soft seal")}
    assert change_of(after, RETAINER, "usual").watch == "0.070 in"


def test_a_plain_change_of_alternatives_stays_with_the_row_in_force() -> None:
    before = {"bind-margin-min": RuleChange(watch="0.070 in")}
    now = {"bind-margin-min": "usual"}
    book = rule_book(with_change(before, BIND, "bucket", LimitChange(watch="0.045 in"), now), in_force=now)
    assert book.limit("bind-margin-min", "usual").watch == pytest.approx(0.070 * INCH)
    assert book.limit("bind-margin-min", "bucket").watch == pytest.approx(0.045 * INCH)
    mine = with_change(before, BIND, "usual", LimitChange(stop="0.040 in"), now)
    assert mine["bind-margin-min"].watch is None
    assert change_of(mine, BIND, "usual", now) == LimitChange(stop="0.040 in")


def test_a_plain_change_speaks_of_the_first_limit_only_where_they_stand_together() -> None:
    before = {"short-travel": RuleChange(watch="380 lbf")}
    assert change_of(before, TRAVEL, "open_load").watch == "380 lbf"
    assert change_of(before, TRAVEL, "speed") == LimitChange()


def test_an_empty_entry_takes_the_change_out_and_leaves_others() -> None:
    before = {"bind-margin-min": RuleChange(watch="0.070 in"), "prep": RuleChange(why="x")}
    after = with_change(before, RETAINER, "usual", LimitChange())
    assert after == before
    assert with_change({"retainer-margin-min": RuleChange(stop="0.040 in")}, RETAINER, "usual", LimitChange()) == {}


def test_a_limit_that_the_book_does_not_know_stays() -> None:
    before = {"short-travel": RuleChange.model_validate({"strange": {"watch": "1 in"}})}
    after = with_change(before, TRAVEL, "speed", LimitChange(stop="7500 rpm"))
    assert set(after["short-travel"].named) == {"strange", "speed"}


def loose(changes: dict[str, RuleChange], shop: dict[str, RuleChange] | None = None) -> dict[str, RuleChange]:
    now = {"bind-margin-min": "usual"}
    after = without_loosened(changes, rule_book(shop, changes, None, now), now)
    assert list(rule_book(shop, after, None, now).loosened()) == []
    return after


def test_the_shops_rules_take_out_only_what_is_looser() -> None:
    stricter = RuleChange(watch="0.080 in", why="a soft seal")
    changes = {"bind-margin-min": RuleChange(watch="0.040 in"), "retainer-margin-min": stricter}
    assert loose(changes) == {"retainer-margin-min": stricter}


def test_one_end_of_a_limit_may_stay() -> None:
    changes = {"retainer-margin-min": RuleChange(watch="0.050 in", stop="0.040 in", why="a soft seal")}
    assert loose(changes) == {"retainer-margin-min": RuleChange(stop="0.040 in", why="a soft seal")}


def test_the_shops_own_limit_is_what_counts() -> None:
    changes = {"retainer-margin-min": RuleChange(watch="0.065 in")}
    assert loose(changes) == changes
    assert loose(changes, {"retainer-margin-min": RuleChange(watch="0.070 in")}) == {}


def test_the_other_limits_of_a_rule_stay() -> None:
    named = {"open_load": {"watch": "380 lbf"}, "speed": {"stop": "9000 rpm", "why": "light valves"}}
    after = loose({"short-travel": RuleChange.model_validate(named)})
    assert after == {"short-travel": RuleChange.model_validate({"open_load": {"watch": "380 lbf"}})}


def test_a_plain_change_that_means_the_row_in_force_goes_too() -> None:
    changes = {"bind-margin-min": RuleChange.model_validate({"watch": "0.050 in", "bucket": {"watch": "0.045 in"}})}
    assert loose(changes) == {"bind-margin-min": RuleChange.model_validate({"bucket": {"watch": "0.045 in"}})}
