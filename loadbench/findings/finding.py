"""What the judge says: levels, sentences that follow the units on show, findings, advice, verdicts."""

from __future__ import annotations

from dataclasses import dataclass, field
from enum import StrEnum
from typing import TYPE_CHECKING

from loadbench.analysis.figure import Figure, FigureKind, told
from loadbench.errors import Problem
from loadbench.units import Style

if TYPE_CHECKING:
    from loadbench.findings.match.result import Match


class Level(StrEnum):
    """How a finding stands, the worst last in rank."""

    CLEAR = "clear"
    UNKNOWN = "unknown"
    WATCH = "watch"
    STOP = "stop"

    @property
    def rank(self) -> int:
        """0 for clear to 3 for stop: findings are told worst first."""
        return RANKS[self]


RANKS = {level: place for place, level in enumerate(Level)}


class Nature(StrEnum):
    """What sort of finding it is."""

    LIMIT = "limit"
    REMARK = "remark"
    ADVICE = "advice"


@dataclass(frozen=True, slots=True)
class Amount:
    """A value inside a sentence, SI."""

    value: float
    kind: FigureKind
    expanded: float | None = None


@dataclass(frozen=True, slots=True)
class Sentence:
    """A sentence a builder would say; its amounts follow the units on show."""

    template: str
    amounts: dict[str, Amount] = field(default_factory=dict)

    def told(self, style: Style) -> str:
        """The sentence in one unit style."""
        texts = {name: str(told(each.value, each.kind, style, each.expanded)) for name, each in self.amounts.items()}
        return self.template.format_map(texts)


@dataclass(frozen=True, slots=True, kw_only=True)
class Finding:
    """One rule's word on the job (on one line, member or valve of it).

    `value`, `limit` and `margin` are SI in the unit of `value_kind`. `margin` is above zero on the right side.
    `chance` is that of standing on the wrong side of `limit`. `house` set the limit: program, shop, job, maker.
    """

    id: str
    title: str
    group: str
    level: Level
    sentence: Sentence
    nature: Nature = Nature.LIMIT
    figure: Figure | None = None
    value: float | None = None
    value_kind: FigureKind | None = None
    limit: float | None = None
    house: str = "program"
    margin: float | None = None
    chance: float | None = None
    missing: tuple[str, ...] = ()
    fix: Sentence | None = None
    source: str = "common practice"
    about: tuple[str, ...] = ()
    line: str | None = None
    member: str | None = None
    valve: str | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Choice:
    """Advice on one question: the choice, its runner-up, the reason, and the rules it rests on."""

    choice: str | None
    runner_up: str | None = None
    reason: Sentence = Sentence("")
    because: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Advice:
    """Needle or bushed axle, standard or short travel; the family waits for the match of families."""

    axle: Choice
    travel: Choice
    family: Choice = Choice(choice=None)


@dataclass(frozen=True, slots=True, kw_only=True)
class Verdicts:
    """Everything judged: findings worst first, advice, what is missing, and the faults of the statement."""

    findings: tuple[Finding, ...]
    advice: Advice
    complete: bool
    missing: tuple[str, ...]
    problems: tuple[Problem, ...]
    rules_changed: tuple[str, ...]
    match: Match | None = None

    def count(self, level: Level) -> int:
        """How many findings stand at a level."""
        return sum(finding.level is level for finding in self.findings)

    @property
    def worst(self) -> Level:
        """The worst level there is."""
        return max((finding.level for finding in self.findings), key=lambda level: level.rank, default=Level.CLEAR)
