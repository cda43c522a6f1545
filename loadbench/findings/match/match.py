"""The match: each follower family analysed and judged in turn, and which of them suits."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace

from loadbench.analysis import Analysis
from loadbench.findings.finding import Choice, Finding, Level, Sentence, Verdicts
from loadbench.findings.match.criteria import CONCERNS, PHYSICS, PLAINLY, RULES, Plainly
from loadbench.findings.match.kits import analysed_as, fits_the_head, stated_kit
from loadbench.findings.match.result import CRITERION_WORDS, KIT_WORDS, Cell, Criterion, Kit, Match
from loadbench.findings.rows import rows_in_force
from loadbench.findings.rulebook import rule_book
from loadbench.findings.view import REGISTER, Scope, Told, View
from loadbench.job.model import RuleChange

ANOTHER_HEAD = {
    True: "A bucket stands right under its cam; this head has rockers: it would take another head.",
    False: "This head has buckets under its cams: there is no place for it.",
}
RANK = {Level.CLEAR: 0, Level.UNKNOWN: 1, Level.WATCH: 2, Level.STOP: 3}
UNKNOWN_WEIGHS = 0.4
"""Of a watch: what is not known may be one."""


def match_of(analysis: Analysis, shop: Mapping[str, RuleChange] | None = None) -> Match:
    """Hold every follower family against every criterion.

    Args:
        analysis: of the job.
        shop: the shop's changes to the rule book.

    Returns:
        The match, with what suits best and what would have to change for the others.
    """
    stated = stated_kit(analysis.stated)
    cells: list[Cell] = []
    fixes: dict[tuple[Kit, Criterion], Sentence | None] = {}
    for kit in Kit:
        for cell, fix in _column(kit, analysis, shop):
            cells.append(cell)
            fixes[cell.kit, cell.criterion] = fix
    order = sorted(Kit, key=lambda kit: (*_score(kit, cells), kit is not stated, list(Kit).index(kit)))
    changes = {kit: _changes(kit, cells, fixes) for kit in Kit if kit is not order[0]}
    return Match(cells=tuple(cells), family=_choice(order, cells), changes=changes, stated=stated)


def with_match(verdicts: Verdicts, match: Match) -> Verdicts:
    """Verdicts with the match: its recommendation becomes the advice on the family."""
    return replace(verdicts, advice=replace(verdicts.advice, family=match.family), match=match)


def _column(kit: Kit, analysis: Analysis, shop: Mapping[str, RuleChange] | None) -> list[tuple[Cell, Sentence | None]]:
    if not fits_the_head(kit, analysis.stated):
        return _elsewhere(kit)
    lines = analysed_as(kit, analysis)
    own = replace(analysis, lines=lines, stated=lines[0].stated.stated)
    book = rule_book(shop, analysis.job.rules, analysis.stated.style, rows_in_force(lines[0].stated))
    views = tuple(View(analysis=own, line=line, book=book) for line in lines)
    loads = [-1.0 if view.open_load.value is None else view.open_load.value for view in views]
    heaviest = views[loads.index(max(loads))]
    return [_cell(kit, criterion, views, heaviest) for criterion in Criterion]


def _elsewhere(kit: Kit) -> list[tuple[Cell, Sentence | None]]:
    """A kit that this head has no place for: the duty says so, nothing else concerns it."""
    said = Sentence(ANOTHER_HEAD[kit is Kit.BUCKET])
    made = []
    for criterion in Criterion:
        stops = criterion is Criterion.DUTY
        sentence = said if stops else Sentence("It does not stand in this head.")
        cell = Cell(
            kit=kit, criterion=criterion, level=Level.STOP if stops else None, sentence=sentence,
            about=("follower.family",), practice=said if stops else None,
        )  # fmt: skip
        made.append((cell, Sentence("Another head and camshaft.") if stops else None))
    return made


def _cell(kit: Kit, criterion: Criterion, views: tuple[View, ...], heaviest: View) -> tuple[Cell, Sentence | None]:
    if kit not in CONCERNS.get(criterion, frozenset(Kit)):
        nothing = Cell(kit=kit, criterion=criterion, level=None, sentence=Sentence("This does not concern it."))
        return nothing, None
    found = [finding for rule in RULES[criterion] for finding in _asked(rule, views, heaviest)]
    physics = _worst([each for each in found if each.id in PHYSICS])
    practice = _worst([each for each in found if each.id not in PHYSICS])
    plain = PLAINLY[criterion](kit, heaviest) if criterion in PLAINLY else None
    if plain is not None and (practice is None or RANK[plain.level] > RANK[practice.level]):
        said: Finding | Plainly | None = plain
    else:
        said = practice
    if said is None and physics is None:
        if criterion is Criterion.OPEN_LOAD or criterion is Criterion.SPEED or found:
            waits = Cell(kit=kit, criterion=criterion, level=Level.UNKNOWN, sentence=Sentence("It is not known."))
            return waits, None
        return Cell(kit=kit, criterion=criterion, level=None, sentence=Sentence("No rule speaks of it.")), None
    return _told(kit, criterion, said, physics)


def _told(
    kit: Kit, criterion: Criterion, practice: Finding | Plainly | None, physics: Finding | None
) -> tuple[Cell, Sentence | None]:
    governing = max((each for each in (practice, physics) if each is not None), key=lambda each: RANK[each.level])
    known = [each for each in (practice, physics) if each is not None and each.level is not Level.UNKNOWN]
    disagree = len(known) == 2 and (known[0].level is Level.CLEAR) != (known[1].level is Level.CLEAR)
    rule = governing if isinstance(governing, Finding) else None
    cell = Cell(
        kit=kit,
        criterion=criterion,
        level=governing.level,
        sentence=governing.sentence,
        value=None if rule is None else rule.value,
        value_kind=None if rule is None else rule.value_kind,
        limit=None if rule is None else rule.limit,
        source="common practice" if rule is None else rule.source,
        physics=None if physics is None else physics.sentence,
        practice=None if practice is None else practice.sentence,
        disagree=disagree,
        missing=governing.missing,
        about=governing.about,
        rule="" if rule is None else rule.id,
    )
    return cell, governing.fix


def _asked(rule: str, views: tuple[View, ...], heaviest: View) -> list[Finding]:
    registered = REGISTER[rule]
    asked = (heaviest,) if registered.scope is Scope.JOB else views
    return [finding for view in asked for finding in registered.verdict(Told(rule=view.book.rules[rule], view=view))]


def _worst(findings: list[Finding]) -> Finding | None:
    """The finding that governs: the worst, then the one with the least margin."""

    def rank(each: Finding) -> tuple[int, float]:
        return RANK[each.level], -(each.margin if each.margin is not None else float("inf"))

    return max(findings, key=rank, default=None)


# The recommendation


def _of(kit: Kit, cells: list[Cell]) -> list[Cell]:
    return [each for each in cells if each.kit is kit and each.level is not None]


def _score(kit: Kit, cells: list[Cell]) -> tuple[float, float]:
    own = _of(kit, cells)
    stops = sum(each.level is Level.STOP for each in own)
    weights = {Level.WATCH: 1.0, Level.UNKNOWN: UNKNOWN_WEIGHS}
    return float(stops), sum(weights.get(each.level, 0.0) for each in own if each.level is not None)


def _choice(order: list[Kit], cells: list[Cell]) -> Choice:
    best, second = order[0], order[1]
    own = _of(best, cells)
    stops = [each for each in own if each.level is Level.STOP]
    watches = [each for each in own if each.level is Level.WATCH]
    unknown = [each for each in own if each.level is Level.UNKNOWN]
    because = tuple(dict.fromkeys(each.rule for each in own if each.rule and each.level is not Level.UNKNOWN))
    if stops:
        said = (
            f"No family suits as it stands. Nearest is {_small(KIT_WORDS[best])}: {_named(stops)} would have to change."
        )
        return Choice(choice=None, runner_up=None, reason=Sentence(said), because=because)
    parts = [f"{KIT_WORDS[best]}: nothing stops it"]
    if watches:
        parts.append(f"to watch: {_named(watches)}")
    if unknown:
        parts.append(f"not known yet: {_named(unknown)}")
    runner = None if any(each.level is Level.STOP for each in _of(second, cells)) else str(second)
    return Choice(choice=str(best), runner_up=runner, reason=Sentence("; ".join(parts) + "."), because=because)


def _named(cells: list[Cell]) -> str:
    return ", ".join(_small(CRITERION_WORDS[each.criterion]) for each in cells)


def _small(text: str) -> str:
    return text[:1].lower() + text[1:]


def _changes(kit: Kit, cells: list[Cell], fixes: dict[tuple[Kit, Criterion], Sentence | None]) -> tuple[Sentence, ...]:
    """What would have to change for a kit to suit: what clears its stops, or its watches where nothing stops it."""
    own = _of(kit, cells)
    worst = [each for each in own if each.level is Level.STOP] or [each for each in own if each.level is Level.WATCH]
    told = []
    for cell in worst:
        fix = fixes.get((kit, cell.criterion))
        words = CRITERION_WORDS[cell.criterion]
        if fix is not None:
            told.append(Sentence(f"{words}: {_small(fix.template)}", fix.amounts))
        else:
            told.append(Sentence(f"{words}: {_small(cell.sentence.template)}", cell.sentence.amounts))
    return tuple(told)
