"""Findings grouped for reading: the same rule on several lines, members or valves is one entry, its worst first."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from PySide6.QtCore import QCoreApplication

from ui.labels import common_path
from ui.level_words import line_word

if TYPE_CHECKING:
    from loadbench.findings.finding import Finding, Level

_CONTEXT = "Findings"
SEVERAL_SUBJECTS = frozenset({"maker-limits", "rule-loosened", "target-met", "rate-agreement"})
"""Rules that ask several things at once: a group for each of them."""


@dataclass(frozen=True, slots=True)
class Group:
    """One entry of the list; `findings` has at least one, the worst first."""

    key: tuple[str, str]
    findings: tuple[Finding, ...]

    @property
    def worst(self) -> Finding:
        """The finding that the entry shows."""
        return self.findings[0]

    @property
    def level(self) -> Level:
        """The worst level."""
        return self.worst.level


def grouped(findings: tuple[Finding, ...], first: str = "") -> tuple[Group, ...]:
    """Findings as entries.

    Args:
        findings: worst first.
        first: the group of rules that stands before the others; "" for none.

    Returns:
        Groups, worst first; within a group by level, then by the least margin as a share of the limit.
    """
    together: dict[tuple[str, str], list[Finding]] = {}
    for finding in findings:
        together.setdefault(_key(finding), []).append(finding)
    groups = [Group(key, tuple(sorted(each, key=_urgency))) for key, each in together.items()]
    return tuple(sorted(groups, key=lambda group: (group.worst.group != first, -group.level.rank)))


def _key(finding: Finding) -> tuple[str, str]:
    if finding.id not in SEVERAL_SUBJECTS:
        return finding.id, ""
    about = common_path(finding.about[0]) if finding.about else ""
    # Rates agree: stated against measured and geometric against either speak of one field, by two limits.
    return finding.id, about if finding.id != "rate-agreement" else finding.sentence.template.partition(",")[0]


def _urgency(finding: Finding) -> tuple[int, float]:
    if finding.margin is None:
        return -finding.level.rank, float("inf")
    return -finding.level.rank, finding.margin / abs(finding.limit) if finding.limit else finding.margin


def place_of(finding: Finding) -> str:
    """Where a finding holds: its line, member, valve; "" where it holds for the whole job."""
    parts = []
    if finding.line:
        parts.append(line_word(finding.line))
    if finding.member:
        parts.append(QCoreApplication.translate(_CONTEXT, "{member} spring").format(member=finding.member))
    if finding.valve:
        parts.append(QCoreApplication.translate(_CONTEXT, "valve {valve}").format(valve=finding.valve))
    return ", ".join(parts)


def chance_words(chance: float) -> str:
    """A chance in percent, without false digits at either end."""
    if chance < 0.001:
        return QCoreApplication.translate(_CONTEXT, "under 0.1 %")
    if chance > 0.999:
        return QCoreApplication.translate(_CONTEXT, "over 99.9 %")
    digits = 1 if chance < 0.1 else 0
    return f"{100 * chance:.{digits}f} %"
