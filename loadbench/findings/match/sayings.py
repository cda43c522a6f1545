"""What is said of one follower under one criterion, by the trade or by physics; sentences put together."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field, replace
from string import Formatter

from loadbench.findings.finding import Amount, Finding, Level, Sentence
from loadbench.findings.match.result import Kit
from loadbench.findings.match.taken import Taken
from loadbench.findings.rulebook import RuleBook
from loadbench.findings.view import REGISTER, Scope, Told, View


@dataclass(frozen=True, slots=True, kw_only=True)
class Saying:
    """One saying: a finding, and whether it rests on a computation or on a rule of the trade."""

    finding: Finding
    physics: bool = False

    @property
    def level(self) -> Level:
        """How it stands."""
        return self.finding.level


@dataclass(frozen=True, slots=True, kw_only=True)
class Seat:
    """One follower before the judge: its lines, the one with the greatest open load, its rules, what was taken."""

    kit: Kit
    views: tuple[View, ...]
    heaviest: View
    book: RuleBook
    taken: tuple[Taken, ...]
    asked: dict[str, tuple[Finding, ...]] = field(default_factory=dict)

    def findings(self, rule: str) -> tuple[Finding, ...]:
        """What a rule of the book says of this follower; asked once."""
        found = self.asked.get(rule)
        if found is None:
            registered = REGISTER[rule]
            views = (self.heaviest,) if registered.scope is Scope.JOB else self.views
            found = tuple(
                finding for view in views for finding in registered.verdict(Told(rule=self.book.rules[rule], view=view))
            )
            self.asked[rule] = found
        return found

    def of_line(self, rule: str, view: View) -> tuple[Finding, ...]:
        """What a rule of the book says of one line of this follower."""
        return tuple(REGISTER[rule].verdict(Told(rule=self.book.rules[rule], view=view)))

    def took(self, path: str) -> bool:
        """Whether an entry was taken and is not the job's."""
        return any(each.field == path for each in self.taken)

    def teller(self, rule: str, view: View) -> Told:
        """Makes findings of a rule beside its own verdict."""
        return Told(rule=self.book.rules[rule], view=view)


def weight(saying: Saying) -> tuple[int, bool, float]:
    """How much a saying weighs: by its level, then one with numbers, then the one with the least margin."""
    finding = saying.finding
    margin = float("inf") if finding.margin is None else finding.margin / (abs(finding.limit or 0.0) or 1.0)
    return saying.level.rank, finding.value is not None, -margin


def worst(sayings: Sequence[Saying]) -> Saying | None:
    """The saying that governs; None where nothing was said."""
    return max(sayings, key=weight, default=None)


def joined(*sentences: Sentence) -> Sentence:
    """Sentences one after another as one; amounts of the same name stay apart."""
    if len(sentences) == 1:
        return sentences[0]
    parts: list[str] = []
    amounts: dict[str, Amount] = {}
    for place, sentence in enumerate(sentences):
        mark = f"s{place}_" if place else ""
        text = ""
        for literal, name, _, _ in Formatter().parse(sentence.template):
            text += literal.replace("{", "{{").replace("}", "}}")
            text += "" if name is None else f"{{{mark}{name}}}"
        if text:
            parts.append(text)
        amounts |= {f"{mark}{name}": each for name, each in sentence.amounts.items()}
    return Sentence(" ".join(parts), amounts)


def lowered(sentence: Sentence) -> Sentence:
    """A sentence that goes on after a colon; an amount at its start stays as it is."""
    return replace(sentence, template=small(sentence.template))


def small(text: str) -> str:
    """A text with its first letter small."""
    return text[:1].lower() + text[1:]
