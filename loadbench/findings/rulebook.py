"""The rule book as data: the program's limits, changed by the shop, changed for the job, each change checked."""

from __future__ import annotations

import difflib
import functools
import tomllib
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from enum import StrEnum
from importlib import resources
from typing import Any

from loadbench.analysis.figure import FigureKind, Plain
from loadbench.errors import InputError, Place, Problem
from loadbench.job.model import LimitChange, RuleChange
from loadbench.units import Kind, Style, parse

KINDS: dict[str, FigureKind] = {
    "length": Kind.LENGTH,
    "force": Kind.FORCE,
    "speed": Kind.SPEED,
    "velocity": Kind.VELOCITY,
    "time": Kind.TIME,
    "life": Kind.LIFE,
    "share": Plain.SHARE,
    "number": Plain.NUMBER,
}


class Sense(StrEnum):
    """Which side of a limit is right."""

    AT_LEAST = "at-least"
    AT_MOST = "at-most"

    def stricter(self, one: float, other: float) -> bool:
        """Whether the first of two limits asks for more than the second."""
        return one > other if self is Sense.AT_LEAST else one < other


@dataclass(frozen=True, slots=True, kw_only=True)
class Limit:
    """One limit of a rule, SI. `house` tells who set each of its two values."""

    name: str
    sense: Sense
    kind: FigureKind
    watch: float | None = None
    stop: float | None = None
    reached: bool = False
    watch_house: str = "program"
    stop_house: str = "program"
    why: str = ""

    def ordered(self) -> bool:
        """Whether watch comes before stop."""
        return self.watch is None or self.stop is None or not self.sense.stricter(self.stop, self.watch)

    def with_maker(self, value: float | None) -> Limit:
        """The limit with the part maker's value as its stop, where that is stricter; never looser."""
        if value is None or (self.stop is not None and not self.sense.stricter(value, self.stop)):
            return self
        watch = value if self.watch is not None and self.sense.stricter(value, self.watch) else self.watch
        house = "maker" if watch is value else self.watch_house
        return replace(self, stop=value, stop_house="maker", watch=watch, watch_house=house)


@dataclass(frozen=True, slots=True, kw_only=True)
class Rule:
    """A rule: where it belongs, what it is called, its limits in order, and its source."""

    id: str
    group: str
    title: str
    limits: Mapping[str, Limit]
    alternatives: bool = False
    source: str = "common practice"

    def taking(self, name: str, in_force: Mapping[str, str] | None) -> bool:
        """Whether a plain change of watch or stop means this limit: the first, or the alternative in force."""
        if self.alternatives and (in_force is None or self.id in in_force):
            return in_force is None or in_force[self.id] == name
        return name == next(iter(self.limits), None)


def limit_value(entry: str | float, kind: FigureKind, style: Style | None = None) -> float:
    """A limit as SI from text with a unit, a percentage or a number.

    Args:
        entry: as written.
        kind: what the limit measures.
        style: unit style for a bare number in text; None: a unit is needed.

    Returns:
        The SI value; a share as a fraction of one.

    Raises:
        InputError: it cannot be read, is of another kind, or below zero.
    """
    if isinstance(kind, Kind):
        if not isinstance(entry, str):
            raise InputError(f"{entry:g} has no unit.", expected="a value with its unit")
        value = parse(entry, kind, style).value
    else:
        text = entry.replace("%", "").replace(",", ".").strip() if isinstance(entry, str) else entry
        try:
            value = float(text) / (100.0 if kind is Plain.SHARE else 1.0)
        except ValueError:
            raise InputError(f'"{entry}" is not a number.', expected="a number") from None
        if not value < float("inf"):
            raise InputError(f'"{entry}" is not a finite number.', expected="a number")
    if value < 0:
        raise InputError(f"{entry} is below zero.", expected="zero or more")
    return value


@functools.cache
def program_rules() -> Mapping[str, Rule]:
    """The shipped rules by id, in the book's order."""
    text = (resources.files("loadbench.findings") / "rulebook.toml").read_text(encoding="utf-8")
    return {name: _rule(name, row) for name, row in tomllib.loads(text).items()}


def _rule(name: str, row: dict[str, Any]) -> Rule:
    limits = {}
    for title, each in row.get("limits", {}).items():
        kind = KINDS[each["kind"]]
        watch, stop = (limit_value(each[end], kind) if end in each else None for end in ("watch", "stop"))
        reached = each.get("reached", False)
        sense = Sense(each["sense"])
        limits[title] = Limit(name=title, sense=sense, kind=kind, reached=reached, watch=watch, stop=stop)
    return Rule(
        id=name,
        group=row["group"],
        title=row["title"],
        limits=limits,
        alternatives=row.get("alternatives", False),
        source=row.get("source", "common practice"),
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class RuleBook:
    """The rules in force: program, then shop, then job. `shop_rules` are those without the job's changes."""

    rules: Mapping[str, Rule]
    shop_rules: Mapping[str, Rule]
    changed: tuple[str, ...] = ()
    problems: tuple[Problem, ...] = ()

    def limit(self, rule: str, name: str | None = None) -> Limit:
        """A limit in force; the first where no name is given."""
        limits = self.rules[rule].limits
        return limits[name or next(iter(limits))]

    def loosened(self) -> Iterator[tuple[Rule, Limit, Limit]]:
        """Limits of the job that are looser than the shop's: rule, the job's limit, the shop's."""
        for rule in self.rules.values():
            for name, limit in rule.limits.items():
                before = self.shop_rules[rule.id].limits[name]
                if any(
                    _looser(limit.sense, now, was)
                    for now, was in ((limit.watch, before.watch), (limit.stop, before.stop))
                ):
                    yield rule, limit, before


def _looser(sense: Sense, now: float | None, was: float | None) -> bool:
    return was is not None and (now is None or sense.stricter(was, now))


def rule_book(
    shop: Mapping[str, RuleChange] | None = None,
    job: Mapping[str, RuleChange] | None = None,
    style: Style | None = None,
    in_force: Mapping[str, str] | None = None,
) -> RuleBook:
    """The rule book in force.

    Args:
        shop: the shop's changes by rule id.
        job: the job's changes by rule id.
        style: unit style for bare numbers in the job's changes.
        in_force: the row in force of each rule with alternatives, which a plain change means; None: all of them.

    Returns:
        The book, with the faults of the changes; a faulty change is left out and the limit before it holds.
    """
    rules, problems = dict(program_rules()), list[Problem]()
    for name, change in (shop or {}).items():
        _apply(rules, name, _Change("shop", change, style, in_force), problems)
    shop_rules = dict(rules)
    for name, change in (job or {}).items():
        _apply(rules, name, _Change("job", change, style, in_force), problems)
    changed = tuple(name for name in rules if rules[name] != program_rules()[name])
    return RuleBook(rules=rules, shop_rules=shop_rules, changed=changed, problems=tuple(problems))


@dataclass(frozen=True, slots=True)
class _Change:
    """A change to one rule: whose it is, and how its bare numbers are read."""

    house: str
    change: RuleChange
    style: Style | None
    in_force: Mapping[str, str] | None


def _apply(rules: dict[str, Rule], name: str, wanted: _Change, problems: list[Problem]) -> None:
    place = Place(field=f"rules.{name}")
    rule, change = rules.get(name), wanted.change
    if rule is None:
        near = difflib.get_close_matches(name, rules, n=1)
        expected = f'did you mean "{near[0]}"?' if near else "a rule of the book"
        problems.append(Problem(what=f'There is no rule "{name}".', expected=expected, place=place))
        return
    limits = dict(rule.limits)
    for title, limit in rule.limits.items():
        if rule.taking(title, wanted.in_force):
            limits[title] = _changed(limit, change, wanted, f"rules.{name}", problems)
    for title, own in change.named.items():
        if title in limits:
            limits[title] = _changed(limits[title], own, wanted, f"rules.{name}.{title}", problems)
        else:
            where = Place(field=f"rules.{name}.{title}")
            problems.append(Problem(what=f'The rule has no limit "{title}".', expected=", ".join(limits), place=where))
    if not limits and (change.watch is not None or change.stop is not None):
        problems.append(Problem(what="This rule has no limits to change.", expected="no change", place=place))
    rules[name] = replace(rule, limits=limits)


def _changed(limit: Limit, change: LimitChange, wanted: _Change, path: str, problems: list[Problem]) -> Limit:
    """The limit after a change, or as it was where the change is faulty."""
    values: dict[str, Any] = {}
    for end in ("watch", "stop"):
        entry = getattr(change, end)
        if entry is None or entry == "":
            continue
        try:
            values |= {end: limit_value(entry, limit.kind, wanted.style), f"{end}_house": wanted.house}
        except InputError as error:
            fault = Problem(what=error.what, expected=error.expected, place=Place(field=f"{path}.{end}"))
            if fault not in problems:
                problems.append(fault)
    if not values:
        return limit
    after = replace(limit, why=change.why or "", **values)
    if not after.ordered():
        fault = Problem(
            what="Watch and stop are in the wrong order.", expected="watch reached before stop", place=Place(field=path)
        )
        if fault not in problems:
            problems.append(fault)
        return limit
    return after
