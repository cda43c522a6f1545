"""The match: each follower family analysed and judged in turn, and which of them suits."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace

from loadbench.analysis import Analysis, LineAnalysis
from loadbench.findings.finding import Finding, Level, Sentence, Verdicts
from loadbench.findings.match.changes import another_head, change_for
from loadbench.findings.match.criteria import TRADE_ANSWERS, UNKNOWN_WORDS, WAITS_FOR, sayings, silent
from loadbench.findings.match.kit_lines import kit_line
from loadbench.findings.match.kits import fits_the_head, stated_as, stated_kits
from loadbench.findings.match.recommend import Judged, by_advice, ranked, recommend
from loadbench.findings.match.result import Cell, Criterion, Kit, Match
from loadbench.findings.match.sayings import Saying, Seat, joined, weight, worst
from loadbench.findings.match.taken import filled
from loadbench.findings.rows import rows_in_force
from loadbench.findings.rulebook import rule_book
from loadbench.findings.view import View
from loadbench.job.model import RuleChange

ANOTHER_HEAD = {
    True: "A bucket stands right under its cam; this head has rockers: it would take another head.",
    False: "This head has buckets under its cams: there is no place for it.",
}
NOT_HERE = "It does not stand in this head."


def match_of(analysis: Analysis, shop: Mapping[str, RuleChange] | None = None) -> Match:
    """Hold every follower family against every criterion.

    Args:
        analysis: of the job.
        shop: the shop's changes to the rule book.

    Returns:
        The match, with what suits best and what would have to change for the others.
    """
    own = stated_kits(analysis.stated)
    made = [analysis.lines]
    judged = [_judged(kit, analysis, shop, made) for kit in Kit]
    cam_known = any(line.stated.value("cam.kind") is not None for line in analysis.lines)
    order = by_advice(ranked(judged, own, cam_known=cam_known))
    changes = {each.kit: _changes(each) for each in judged}
    family = recommend(order, own, changes)
    if family.choice is not None:
        del changes[order[0].kit]
    cells = tuple(cell for each in judged for cell in each.cells.values())
    return Match(cells=cells, family=family, changes=changes, stated=own[0] if len(own) == 1 else None)


def with_match(verdicts: Verdicts, match: Match) -> Verdicts:
    """Verdicts with the match: its recommendation becomes the advice on the family."""
    return replace(verdicts, advice=replace(verdicts.advice, family=match.family), match=match)


def seated(
    kit: Kit,
    analysis: Analysis,
    shop: Mapping[str, RuleChange] | None = None,
    made: list[tuple[LineAnalysis, ...]] | None = None,
) -> Seat:
    """A job with another follower, analysed: its lines, its rules, and what was taken.

    Args:
        kit: the follower.
        analysis: of the job as it is.
        shop: the shop's changes to the rule book.
        made: its lines with other followers, analysed already; this one's are added.

    Returns:
        The seat; the job's own lines where it states this kit. Dynamic runs are not made again.
    """
    own = analysis.stated
    stated, taken = filled(kit, own, stated_as(kit, own))
    book = rule_book(shop, analysis.job.rules, own.style, rows_in_force(stated.line(stated.lines[0])))
    lines, others = analysis.lines, [analysis.lines] if made is None else made
    if stated is not own:
        lines = tuple(
            kit_line(stated.line(name), [each[place] for each in others]) for place, name in enumerate(stated.lines)
        )
        others.append(lines)
    as_kit = replace(analysis, lines=lines, stated=stated)
    views = tuple(View(analysis=as_kit, line=line, book=book) for line in lines)
    loads = [-1.0 if view.open_load.value is None else view.open_load.value for view in views]
    return Seat(kit=kit, views=views, heaviest=views[loads.index(max(loads))], book=book, taken=taken)


def _judged(
    kit: Kit, analysis: Analysis, shop: Mapping[str, RuleChange] | None, made: list[tuple[LineAnalysis, ...]]
) -> Judged:
    if not fits_the_head(kit, analysis.stated):
        return Judged(kit=kit, cells=_elsewhere(kit), said={}, seat=None)
    seat = seated(kit, analysis, shop, made)
    cells: dict[Criterion, Cell] = {}
    said: dict[Criterion, Sequence[Saying]] = {}
    for criterion in Criterion:
        said[criterion] = [] if silent(criterion, kit) else sayings(criterion, seat)
        cells[criterion] = _cell(criterion, seat, said[criterion])
    return Judged(kit=kit, cells=cells, said=said, seat=seat)


def _elsewhere(kit: Kit) -> dict[Criterion, Cell]:
    """A kit that this head has no place for: the duty says so, nothing else concerns it."""
    said, about = Sentence(ANOTHER_HEAD[kit is Kit.BUCKET]), ("follower.family",)
    cells = {each: Cell(kit=kit, criterion=each, level=None, sentence=Sentence(NOT_HERE)) for each in Criterion}
    duty = Criterion.DUTY
    cells[duty] = Cell(kit=kit, criterion=duty, level=Level.STOP, sentence=said, practice=said, about=about)
    return cells


def _cell(criterion: Criterion, seat: Seat, said: Sequence[Saying]) -> Cell:
    kit = seat.kit
    quiet = silent(criterion, kit)
    if quiet is not None:
        return Cell(kit=kit, criterion=criterion, level=None, sentence=quiet)
    physics = worst([each for each in said if each.physics])
    practice = worst([each for each in said if not each.physics])
    if physics is None and practice is None:
        sentence = Sentence(UNKNOWN_WORDS.get(criterion, "It is not known."))
        waits = seat.heaviest.missing(*WAITS_FOR.get(criterion, ()))
        return Cell(kit=kit, criterion=criterion, level=Level.UNKNOWN, sentence=sentence, missing=waits, about=waits)
    governing, missing = _governing(criterion, practice, physics)
    known = [each for each in (practice, physics) if each is not None and each.level is not Level.UNKNOWN]
    finding = governing.finding
    notes = [each.sentence for each in seat.taken if criterion in each.criteria] if _computed(finding) else []
    return Cell(
        kit=kit,
        criterion=criterion,
        level=finding.level,
        sentence=joined(finding.sentence, *notes),
        value=finding.value,
        value_kind=finding.value_kind,
        limit=finding.limit,
        source=finding.source,
        physics=None if physics is None else physics.finding.sentence,
        practice=None if practice is None else practice.finding.sentence,
        disagree=len(known) == 2 and (known[0].level is Level.CLEAR) != (known[1].level is Level.CLEAR),
        missing=missing,
        about=finding.about,
        rule=finding.id,
        line=finding.line or None,
    )


def _computed(finding: Finding) -> bool:
    """Whether what was taken for the kit can have moved a saying: it has numbers, or is of the axle."""
    return finding.level is not Level.UNKNOWN and (finding.figure is not None or finding.id.endswith("oiling"))


def _governing(criterion: Criterion, practice: Saying | None, physics: Saying | None) -> tuple[Saying, tuple[str, ...]]:
    """The saying that the level rests on, and the fields that either side still waits for."""
    both = [each for each in (practice, physics) if each is not None]
    missing = tuple(dict.fromkeys(field for each in both for field in each.finding.missing))
    if criterion in TRADE_ANSWERS and practice is not None and physics is not None and physics.level is Level.UNKNOWN:
        return practice, missing
    governing = worst(both)
    if governing is None:
        raise LookupError("nothing was said")
    return governing, missing


def _changes(judged: Judged) -> tuple[Sentence, ...]:
    """What would have to change for a kit to suit: what clears its stops, or its watches where nothing stops it."""
    seat = judged.seat
    if seat is None:
        return (another_head(judged.kit),)
    level = Level.STOP if judged.at(Level.STOP) else Level.WATCH
    made: dict[str, Sentence] = {}
    for criterion, said in judged.said.items():
        for saying in sorted((each for each in said if each.level is level), key=weight, reverse=True):
            change = change_for(saying, criterion, seat)
            made.setdefault(change.template, change)
    return tuple(made.values())
