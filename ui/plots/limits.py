"""The rule book's loads that concern a line, for the thin lines in the load plot."""

from __future__ import annotations

from dataclasses import dataclass

from PySide6.QtCore import QT_TRANSLATE_NOOP, QCoreApplication

from loadbench.analysis import Analysis, LineAnalysis
from loadbench.findings.finding import Finding
from loadbench.findings.loads import QUOTED_RATIO
from loadbench.findings.rows import seat_row, solid_row
from loadbench.findings.rulebook import Limit, RuleBook

CONTEXT = "LoadLimits"
NAMES = {
    "short-travel": QT_TRANSLATE_NOOP("LoadLimits", "short travel from {load}"),
    "standard-travel-max": QT_TRANSLATE_NOOP("LoadLimits", "standard travel {load}"),
    "short-travel-max": QT_TRANSLATE_NOOP("LoadLimits", "short travel {load}"),
    "bushed-axle": QT_TRANSLATE_NOOP("LoadLimits", "needle axle {load}"),
    "flat-hydraulic-max": QT_TRANSLATE_NOOP("LoadLimits", "flat tappet {load}"),
    "flat-solid-max": QT_TRANSLATE_NOOP("LoadLimits", "flat tappet {load}"),
    "flat-break-in": QT_TRANSLATE_NOOP("LoadLimits", "first running {load}"),
    "seat-load-min": QT_TRANSLATE_NOOP("LoadLimits", "least seat {load}"),
}


@dataclass(frozen=True, slots=True, kw_only=True)
class LoadLimit:
    """One limit: its rule, its name (a template that takes the load as told), its level word, its load, N.

    `closed`: it speaks of the closed valve.
    """

    rule: str
    name: str
    level: str
    load: float
    closed: bool = False


def limits_of(analysis: Analysis, line: LineAnalysis, book: RuleBook) -> tuple[LoadLimit, ...]:
    """The limits that concern the line's follower, by load.

    Args:
        analysis: of the job.
        line: the line on show.
        book: the rules in force.

    Returns:
        The limits; none where the family isn't stated. Flat-tappet limits are turned to the line's own ratio.
    """
    family = line.stated.value("follower.family")
    if family is None:
        return ()
    found: list[LoadLimit] = []
    for rule, name in _open_rules(line, str(family), analysis):
        ratio = line.value("ratio")
        factor = QUOTED_RATIO / ratio if rule.startswith("flat-") and ratio else 1.0
        found += _told(rule, book.limit(rule, name), factor)
    seat, _ = seat_row(line.stated)
    if seat:
        found += _told("seat-load-min", book.limit("seat-load-min", seat), lost=_lost(line), closed=True)
    return tuple(sorted(_thinned(found), key=lambda each: each.load))


def _open_rules(line: LineAnalysis, family: str, analysis: Analysis) -> list[tuple[str, str | None]]:
    travel = line.stated.value("follower.travel")
    rules: list[tuple[str, str | None]] = []
    if family == "roller-hydraulic":
        if travel != "short":
            rules.append(("standard-travel-max", None))
        if travel != "standard":
            rules.append(("short-travel-max", None))
        rules.append(("short-travel", "open_load"))
    if family.startswith("roller"):
        rules.append(("bushed-axle", "open_load"))
    if family == "flat-tappet-hydraulic":
        rules.append(("flat-hydraulic-max", None))
    if family == "flat-tappet-solid":
        rules.append(("flat-solid-max", solid_row(line.stated)))
    if family.startswith("flat") and analysis.job.duty.first_running:
        rules.append(("flat-break-in", None))
    return rules


def _lost(line: LineAnalysis) -> float:
    """What boost and back pressure take off the seat: its limits speak of what is left, N."""
    seat, left = line.value("seat_load"), line.value("effective_seat_load")
    return 0.0 if seat is None or left is None else seat - left


def _told(rule: str, limit: Limit, factor: float = 1.0, *, lost: float = 0.0, closed: bool = False) -> list[LoadLimit]:
    name = QCoreApplication.translate(CONTEXT, str(NAMES[rule]))
    ends = (("watch", limit.watch), ("stop", limit.stop))
    return [
        LoadLimit(rule=rule, name=name, level=level, load=value * factor + lost, closed=closed)
        for level, value in ends
        if value is not None
    ]


def _thinned(limits: list[LoadLimit]) -> list[LoadLimit]:
    """Without the second of two lines at one load: the short-travel advice ends where its load limit stands."""
    kept: list[LoadLimit] = []
    for limit in limits:
        if not any(abs(limit.load - other.load) < 1e-6 and limit.closed == other.closed for other in kept):
            kept.append(limit)
    return kept


def level_of(findings: tuple[Finding, ...], figure: str, line: str, member: str | None = None) -> Finding | None:
    """The worst finding about a figure of a line (and a member)."""
    own = [
        finding
        for finding in findings
        if finding.figure is not None
        and finding.figure.name == figure
        and finding.valve is None
        and finding.line in (None, line)
        and (member is None or finding.member in (None, member))
    ]
    return max(own, key=lambda finding: finding.level.rank, default=None)
