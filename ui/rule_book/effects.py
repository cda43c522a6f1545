"""What a change of the rules does: findings whose level differs before and after."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from loadbench.findings import judge

if TYPE_CHECKING:
    from collections.abc import Mapping

    from loadbench.analysis.result import Analysis
    from loadbench.findings.finding import Finding, Level, Verdicts
    from loadbench.findings.shop import Shop
    from loadbench.job.model import RuleChange


@dataclass(frozen=True, slots=True)
class Effect:
    """One finding that moves; None where it is not there before or after."""

    finding: Finding
    before: Level | None
    after: Level | None

    @property
    def worse(self) -> bool:
        """Whether it is told more strictly after."""
        return (self.after.rank if self.after else -1) > (self.before.rank if self.before else -1)


def verdicts_under(
    analysis: Analysis, shop: Shop | None, job_rules: Mapping[str, RuleChange] | None = None
) -> Verdicts:
    """The same figures judged by other rules.

    Args:
        analysis: what was computed.
        shop: the shop's changes.
        job_rules: the job's changes; None: those of the job.

    Returns:
        The verdicts.
    """
    if job_rules is not None:
        analysis = replace(analysis, job=analysis.job.model_copy(update={"rules": dict(job_rules)}))
    return judge(analysis, shop)


def effects(before: Verdicts, after: Verdicts) -> tuple[Effect, ...]:
    """The findings whose level differs, those that get worse first."""
    was, now = _by_subject(before), _by_subject(after)
    found = []
    for subject in dict.fromkeys((*now, *was)):
        then, later = was.get(subject), now.get(subject)
        levels = (then.level if then else None, later.level if later else None)
        shown = later or then
        if levels[0] is not levels[1] and shown is not None:
            found.append(Effect(shown, *levels))
    return tuple(sorted(found, key=lambda each: (not each.worse, -(each.after.rank if each.after else -1))))


def _by_subject(verdicts: Verdicts) -> dict[tuple[object, ...], Finding]:
    """Findings by what they speak of; a rule that asks twice of one thing is told apart by its order."""
    found: dict[tuple[object, ...], Finding] = {}
    for finding in verdicts.findings:
        subject: tuple[object, ...] = (finding.id, finding.line, finding.member, finding.valve, finding.about)
        place = 0
        while (*subject, place) in found:
            place += 1
        found[*subject, place] = finding
    return found
