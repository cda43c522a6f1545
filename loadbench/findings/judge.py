"""The judge: every rule of the book asked of every line it concerns, and the advice."""

from __future__ import annotations

import importlib
from collections.abc import Iterator, Mapping
from dataclasses import replace
from itertools import chain

from loadbench.analysis import Analysis
from loadbench.findings.axle import advise_axle, advise_travel
from loadbench.findings.finding import Advice, Finding, Level, Verdicts
from loadbench.findings.rows import rows_in_force
from loadbench.findings.rulebook import RuleBook, rule_book
from loadbench.findings.view import OF_NONE, REGISTER, Scope, Told, View
from loadbench.job.model import RuleChange

for _chapter in (
    "room",
    "loads",
    "sets",
    "coils",
    "bind_height",
    "motion",
    "contact",
    "makers",
    "pairing",
    "axle",
    "axle_physics",
    "lobe_contact",
    "lobe_design",
    "body",
    "setting",
):
    importlib.import_module(f"loadbench.findings.{_chapter}")

OPEN_LOAD_RULES = {
    "flat-tappet-hydraulic": ("flat-hydraulic-max",),
    "flat-tappet-solid": ("flat-solid-max",),
    "roller-hydraulic": ("standard-travel-max", "short-travel-max"),
    "roller-solid": ("bushed-axle",),
}
ALWAYS_ASKED = ("bind-margin-min", "retainer-margin-min", "seat-load-min")


def judge(analysis: Analysis, shop: Mapping[str, RuleChange] | None = None) -> Verdicts:
    """Judge an analysis by the rule book.

    Args:
        analysis: what was computed.
        shop: the shop's changes to the rule book by rule id; None: none.

    Returns:
        Findings worst first, advice, what is missing, and the faults of the statement and of the rules' changes.
    """
    in_force = rows_in_force(analysis.lines[0].stated)
    book = rule_book(shop, analysis.job.rules, analysis.stated.style, in_force)
    views = tuple(View(analysis=analysis, line=line, book=book) for line in analysis.lines)
    heaviest = _heaviest(views)
    findings = tuple(finding for rule in book.rules for finding in _asked(rule, book, views, heaviest))
    order = {rule: place for place, rule in enumerate(book.rules)}
    ranked = tuple(sorted(findings, key=lambda each: (-each.level.rank, order[each.id])))
    return Verdicts(
        findings=ranked,
        advice=Advice(axle=advise_axle(heaviest), travel=advise_travel(heaviest)),
        complete=_complete(analysis, findings),
        missing=_missing(analysis, ranked),
        problems=(*analysis.problems, *book.problems),
        rules_changed=book.changed,
    )


def _heaviest(views: tuple[View, ...]) -> View:
    """The line where the open load is greatest: it speaks for the follower, which both lines share."""
    return max(views, key=lambda view: view.open_load.value if view.open_load.value is not None else -1.0)


def _asked(rule: str, book: RuleBook, views: tuple[View, ...], heaviest: View) -> Iterator[Finding]:
    if rule not in REGISTER:
        raise LookupError(f"the rule {rule} has no verdict yet: add one with @verdict in loadbench/findings")
    registered = REGISTER[rule]
    if registered.scope is Scope.JOB:
        yield from registered.verdict(Told(rule=book.rules[rule], view=heaviest, of_job=True))
        return
    merged = registered.scope is Scope.MERGED and len(views) > 1
    tellers = [Told(rule=book.rules[rule], view=view, of_all=merged and place == 0) for place, view in enumerate(views)]
    answers = [list(registered.verdict(each)) for each in tellers]
    yield from _merged(answers, views[0].line.name) if merged else chain(*answers)


def _merged(answers: list[list[Finding]], first: str) -> Iterator[Finding]:
    """What every line says alike, once and of no line; then what a line says alone.

    The findings of the first line come as of no line: most are alike, and to make one anew costs more than to compare.
    """
    for place, answer in enumerate(answers):
        others = [other for at, other in enumerate(answers) if at != place]
        for finding in answer:
            alike = all(any(_alike(finding, each) for each in other) for other in others)
            if place == 0 and finding.line == OF_NONE:
                yield replace(finding, line=None)
            elif place == 0:
                yield finding if alike else replace(finding, line=first)
            elif not alike:
                yield finding


def _alike(one: Finding, other: Finding) -> bool:
    """Whether two lines' findings differ in the line alone."""
    return (
        one.level is other.level
        and one.value == other.value
        and one.limit == other.limit
        and one.sentence.template == other.sentence.template
        and one.sentence.amounts == other.sentence.amounts
        and one.member == other.member
        and one.valve == other.valve
        and one.missing == other.missing
        and one.about == other.about
    )


def _complete(analysis: Analysis, findings: tuple[Finding, ...]) -> bool:
    """Whether bind, retainer, least seat load and the family's open-load rule are all known."""
    family = analysis.stated.values.get("follower.family")
    wanted = {*ALWAYS_ASKED, *OPEN_LOAD_RULES.get(str(family), ())}
    return family is not None and not any(each.level is Level.UNKNOWN and each.id in wanted for each in findings)


def _missing(analysis: Analysis, findings: tuple[Finding, ...]) -> tuple[str, ...]:
    """The fields that figures or findings wait for, and the figures that a line lacks."""
    fields = [field for finding in findings for field in finding.missing]
    fields += [
        field
        for line in analysis.lines
        for figure in line.figures.values()
        if figure.name in SHOWN
        for field in figure.missing
    ]
    if analysis.has_lines:
        fields += [
            f"lines.{line.name}.figures.{figure.key}"
            for line in analysis.lines
            for figure in line.figures.values()
            if figure.name in SHOWN and not figure.known
        ]
    return tuple(dict.fromkeys(fields))


SHOWN = frozenset(
    {
        "rate",
        "seat_load",
        "open_load",
        "net_valve_lift",
        "open_height",
        "bind_margin",
        "retainer_margin",
        "follower_seat_load",
        "follower_open_load",
        "effective_seat_load",
        "bind_margin_zero_lash",
        "bind_margin_pumped_up",
    }
)
"""The figures that every job is asked for."""
