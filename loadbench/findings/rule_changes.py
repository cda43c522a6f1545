"""Changes to the rule book edited: one limit of one rule at a time, for the shop or for a job."""

from __future__ import annotations

from collections.abc import Mapping
from typing import TYPE_CHECKING, Any

from loadbench.job.model import LimitChange, RuleChange

if TYPE_CHECKING:
    from loadbench.findings.rulebook import Limit, Rule, RuleBook

ENDS = ("watch", "stop", "why")


InForce = Mapping[str, str] | None
"""The row in force of each rule with alternatives, as the rule book takes it."""


def change_of(changes: Mapping[str, RuleChange], rule: Rule, name: str, in_force: InForce = None) -> LimitChange:
    """What a set of changes says of one limit.

    Args:
        changes: by rule id.
        rule: the rule.
        name: of its limit.
        in_force: which of a rule's alternatives a plain change means.

    Returns:
        The limit's own entry, completed by the rule's plain one where that means this limit; empty where neither is.
    """
    change = changes.get(rule.id)
    if change is None:
        return LimitChange()
    own = change.named.get(name, LimitChange())
    if not rule.taking(name, in_force):
        return own
    return LimitChange(**{end: _first(getattr(own, end), getattr(change, end)) for end in ENDS})


def _first(own: Any, plain: Any) -> Any:
    return plain if own is None or own == "" else own


def with_change(
    changes: Mapping[str, RuleChange], rule: Rule, name: str, entry: LimitChange, in_force: InForce = None
) -> dict[str, RuleChange]:
    """A set of changes with one limit's entry replaced.

    Args:
        changes: by rule id.
        rule: the rule.
        name: of its limit.
        entry: what it says from now on; an empty one takes the change out.
        in_force: which of a rule's alternatives a plain change means.

    Returns:
        The changes after; a rule of one limit is written plainly, others by the names of their limits. Everything
        else stays as it is written.
    """
    change = changes.get(rule.id, RuleChange())
    named = {limit: _said(each) for limit, each in change.named.items() if limit != name}
    plain = {} if rule.taking(name, in_force) else _said(change)
    if len(rule.limits) == 1:
        plain = _said(entry)
    else:
        named[name] = _said(entry)
    tree = plain | {limit: said for limit, said in named.items() if said}
    after = {rule_id: each for rule_id, each in changes.items() if rule_id != rule.id}
    return after | ({rule.id: RuleChange.model_validate(tree)} if tree else {})


def without_loosened(
    changes: Mapping[str, RuleChange], book: RuleBook, in_force: InForce = None
) -> dict[str, RuleChange]:
    """A job's changes less those that are looser than the shop's.

    Args:
        changes: the job's, by rule id.
        book: made of the shop's rules and these changes.
        in_force: which of a rule's alternatives a plain change means.

    Returns:
        The changes after. A stricter watch stays where only the stop was looser, and the other way round.
    """
    after = dict(changes)
    for rule, now, before in book.loosened():
        entry = change_of(after, rule, now.name, in_force)
        kept = LimitChange(**{end: getattr(entry, end) for end in ENDS if end not in _loosened_ends(now, before)})
        empty = not (kept.watch or kept.stop)  # a reason alone changes nothing
        after = with_change(after, rule, now.name, LimitChange() if empty else kept, in_force)
    return after


def _loosened_ends(now: Limit, before: Limit) -> set[str]:
    pairs = ((end, getattr(now, end), getattr(before, end)) for end in ("watch", "stop"))
    return {end for end, new, old in pairs if old is not None and (new is None or now.sense.stricter(old, new))}


def _said(entry: LimitChange) -> dict[str, Any]:
    return {end: value for end in ENDS if (value := getattr(entry, end)) not in (None, "")}
