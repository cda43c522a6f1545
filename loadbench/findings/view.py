"""What a verdict sees: one line of the analysis, the rules in force, and short ways to say a finding."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass
from enum import StrEnum
from typing import Any

from loadbench.analysis import Analysis, LineAnalysis
from loadbench.analysis.figure import Figure
from loadbench.findings.finding import Amount, Finding, Level, Sentence
from loadbench.findings.rulebook import Limit, Rule, RuleBook
from loadbench.findings.standing import Standing

FLAT = frozenset({"flat-tappet-solid", "flat-tappet-hydraulic"})
ROLLER = frozenset({"roller-solid", "roller-hydraulic"})
HYDRAULIC = frozenset({"flat-tappet-hydraulic", "roller-hydraulic"})
SOLID = frozenset({"flat-tappet-solid", "roller-solid", "bucket"})


OF_NONE = ""
"""Said by a verdict that is told of no line whatever the other lines say."""


class Scope(StrEnum):
    """How often a verdict is asked."""

    LINE = "once a line"
    MERGED = "once a line, told once where the lines agree"
    JOB = "once"


@dataclass(frozen=True, slots=True, kw_only=True)
class View:
    """One line of a job before the judge; for a rule of the whole job, the line where the open load is greatest."""

    analysis: Analysis
    line: LineAnalysis
    book: RuleBook

    def value(self, field: str) -> Any:
        """A stated value that holds for this line; None where it is not stated or faulty."""
        return self.line.stated.value(field)

    def path(self, field: str) -> str:
        """Where that entry stands."""
        return self.line.stated.path(field)

    def figure(self, name: str) -> Figure | None:
        """A figure of the line."""
        return self.line.figures.get(name)

    @property
    def family(self) -> str | None:
        """The follower's family."""
        word: str | None = self.value("follower.family")
        return word

    @property
    def open_load(self) -> Figure:
        """The load at full lift, at the valve."""
        return self.line.figures["open_load"]

    def missing(self, *fields: str) -> tuple[str, ...]:
        """Those of some fields that are not stated."""
        return tuple(self.path(field) for field in fields if self.value(field) is None)


@dataclass(frozen=True, slots=True, kw_only=True)
class Told:
    """Makes the findings of one rule on one line."""

    rule: Rule
    view: View
    of_job: bool = False
    of_all: bool = False

    def finding(self, level: Level, template: str, amounts: dict[str, Amount] | None = None, **more: Any) -> Finding:
        """A finding of this rule; further fields of Finding by name."""
        line = self._line(more.get("figure"))
        if "line" in more:
            line = more.pop("line") or (OF_NONE if self.of_all else None)
        return Finding(
            id=self.rule.id,
            title=self.rule.title,
            group=self.rule.group,
            source=more.pop("source", self.rule.source),
            level=level,
            sentence=Sentence(template, amounts or {}),
            line=line,
            **more,
        )

    def _line(self, figure: Figure | None) -> str | None:
        """The line a finding is of: none where there is one only, or where it speaks of what both lines share."""
        if self.of_all or not self.view.analysis.has_lines or (self.of_job and figure is not self.view.open_load):
            return None
        return self.view.line.name

    def unknown(self, template: str, missing: Iterable[str], **more: Any) -> Finding:
        """A finding that waits for inputs."""
        return self.finding(Level.UNKNOWN, template, missing=tuple(dict.fromkeys(missing)), **more)

    def judged(
        self, figure: Figure, stands: Standing, template: str, amounts: dict[str, Amount], **more: Any
    ) -> Finding:
        """A finding about a figure, judged by a limit."""
        return self.finding(
            stands.level,
            template + (CHANCE_SENTENCE if stands.by_chance else ""),
            amounts,
            figure=figure,
            value=more.pop("value", figure.value),
            value_kind=more.pop("value_kind", figure.kind),
            limit=stands.limit,
            house=stands.house,
            margin=stands.margin,
            chance=stands.chance,
            **more,
        )


CHANCE_SENTENCE = " The chance of being past the stop is over 5 %."
Verdict = Callable[[Told], Iterable[Finding]]


@dataclass(frozen=True, slots=True, kw_only=True)
class Registered:
    """A verdict with its scope."""

    verdict: Verdict
    scope: Scope


REGISTER: dict[str, Registered] = {}


def verdict(rule: str, scope: Scope = Scope.LINE) -> Callable[[Verdict], Verdict]:
    """Register a function as the verdict of a rule; a second one for the same rule is an error."""

    def register(function: Verdict) -> Verdict:
        if rule in REGISTER:
            raise ValueError(f"two verdicts for {rule}")
        REGISTER[rule] = Registered(verdict=function, scope=scope)
        return function

    return register


def amount(figure: Figure) -> Amount:
    """A figure inside a sentence."""
    return Amount(figure.value or 0.0, figure.kind, figure.expanded)


def asked(limit: Limit, stands: Standing) -> Amount:
    """The limit inside a sentence."""
    return Amount(stands.limit or 0.0, limit.kind)


HOUSES = {"program": "the rule book", "shop": "this shop", "job": "this job", "maker": "the part maker"}


def asker(stands: Standing) -> str:
    """Who asks for a limit, in words."""
    return HOUSES[stands.house]


def plain(name: str) -> str:
    """A name a person gave, so that its braces stay braces in a template."""
    return name.replace("{", "{{").replace("}", "}}")
