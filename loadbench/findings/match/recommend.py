"""Which follower suits best, the runner-up, and why, in words a builder would use."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from loadbench.findings.axle import advise_axle
from loadbench.findings.finding import Amount, Choice, Level, Sentence
from loadbench.findings.match.changes import allowed_open, line_view
from loadbench.findings.match.kits import AXLE, ROLLERS, SOLID_ROLLERS
from loadbench.findings.match.result import CRITERION_WORDS, KIT_WORDS, Cell, Criterion, Kit
from loadbench.findings.match.sayings import Saying, Seat, joined, small
from loadbench.units import Kind

UNKNOWN_WEIGHS = 0.4
"""Of a watch: what is not known may be one."""

CHANGE_WEIGHS = 0.5
"""A follower that is not the stated one has to be bought: it must be better by more than a doubt."""

OTHER_SHAPE_WEIGHS = 1.5
"""Where the camshaft's kind is not stated, a stated roller or flat follower tells of it."""

ANOTHER_HEAD_WEIGHS = 10
"""In stops: another head and camshaft is the most that can be asked for."""

OPEN_LOAD_RULES = frozenset({"flat-hydraulic-max", "flat-solid-max", "standard-travel-max", "short-travel-max"})


@dataclass(frozen=True, slots=True, kw_only=True)
class Judged:
    """One follower judged: its cells by criterion, what was said of each, and its seat; no seat in another head."""

    kit: Kit
    cells: Mapping[Criterion, Cell]
    said: Mapping[Criterion, Sequence[Saying]]
    seat: Seat | None

    def at(self, level: Level) -> tuple[Criterion, ...]:
        """The criteria that stand at a level."""
        return tuple(criterion for criterion, cell in self.cells.items() if cell.level is level)

    def unknown(self) -> tuple[Criterion, ...]:
        """The criteria of which something is not known, be it the physics beside a clear rule of the trade."""
        doubtful = {Level.UNKNOWN: True, Level.CLEAR: False}
        return tuple(
            criterion
            for criterion, cell in self.cells.items()
            if cell.level in doubtful and (doubtful[cell.level] or cell.missing)
        )


def ranked(judged: Sequence[Judged], stated: Kit | None, *, cam_known: bool) -> list[Judged]:
    """Followers in order, the one that suits best first.

    Args:
        judged: one for each kit.
        stated: the job's own kit.
        cam_known: whether the camshaft's kind is stated.

    Returns:
        By the fewest stops, then the least weight of watches, unknowns and changes; the stated kit first where equal.
    """

    def score(each: Judged) -> tuple[int, float, bool]:
        rules = {cell.rule or cell.criterion for cell in each.cells.values() if cell.level is Level.STOP}
        stops = len(rules) if each.seat is not None else ANOTHER_HEAD_WEIGHS
        weight = len(each.at(Level.WATCH)) + UNKNOWN_WEIGHS * len(each.unknown())
        if stated is not None and each.kit is not stated:
            weight += CHANGE_WEIGHS
            if not cam_known and (each.kit in ROLLERS) != (stated in ROLLERS):
                weight += OTHER_SHAPE_WEIGHS
        return stops, weight, each.kit is not stated

    return sorted(judged, key=score)


def recommend(order: Sequence[Judged], stated: Kit | None, changes: Mapping[Kit, tuple[Sentence, ...]]) -> Choice:
    """The choice, its runner-up and the reason.

    Args:
        order: followers, the best first.
        stated: the job's own kit.
        changes: what would have to change for each.

    Returns:
        The choice; none where every follower is stopped by something, or where the open load is not known.
    """
    best, second = order[0], order[1]
    because = tuple(dict.fromkeys(cell.rule for cell in best.cells.values() if cell.rule and _known(cell)))
    if best.at(Level.STOP):
        told = [Sentence("No family suits as it stands."), _nearest(best, changes.get(best.kit, ()))]
        return Choice(choice=None, reason=joined(*told), because=because)
    if best.seat is None or best.seat.heaviest.open_load.value is None:
        said = "No recommendation before the load at full lift is known."
        return Choice(choice=None, reason=Sentence(said), because=because)
    parts = [_headline(best, stated, order), *_doubts(best)]
    rival = next((each for each in order if each.kit is stated), None)
    if rival is not None and rival is not best:
        parts.append(_behind(rival, best))
    runner = str(second.kit) if not second.at(Level.STOP) else None
    return Choice(choice=str(best.kit), runner_up=runner, reason=joined(*parts), because=because)


def _known(cell: Cell) -> bool:
    return cell.level not in (None, Level.UNKNOWN)


def _nearest(best: Judged, changes: Sequence[Sentence]) -> Sentence:
    start = Sentence(f"Nearest is the {small(KIT_WORDS[best.kit])}. For it to suit:")
    return joined(start, *changes)


def _headline(best: Judged, stated: Kit | None, others: Sequence[Judged]) -> Sentence:
    """What speaks for it: its load and its speed, where the trade has a word on them."""
    own = ", as stated" if best.kit is stated else ""
    start = Sentence(f"{KIT_WORDS[best.kit]}{own}: nothing stops it.")
    load = _axle_words(best, others) if best.kit in SOLID_ROLLERS else _load_words(best)
    found = [load, _speed_words(best)]
    return joined(start, *(each for each in found if each is not None))


def _load_words(best: Judged) -> Sentence | None:
    """The open load against the most that the trade puts on it."""
    seat, cell = best.seat, best.cells[Criterion.OPEN_LOAD]
    if seat is None or cell.rule not in OPEN_LOAD_RULES or not _known(cell):
        return None
    view = line_view(cell.line, seat)
    load, allowed = view.open_load.value, allowed_open(cell.rule, cell.limit, view)
    if load is None or allowed is None:
        return None
    side = "within" if load <= allowed.value else "past"
    amounts = {"load": Amount(load, Kind.FORCE), "allowed": allowed}
    return Sentence(f"{{load}} open is {side} the {{allowed}} to which it is used.", amounts)


def _axle_words(best: Judged, others: Sequence[Judged]) -> Sentence | None:
    """Why this axle: the trade's word, or where it goes against the trade what the other axle's figures say."""
    if best.seat is None:
        return None
    advice = advise_axle(best.seat.heaviest)
    if advice.choice in (AXLE[best.kit], "open"):
        return advice.reason
    other = next((each for each in others if each.kit in SOLID_ROLLERS and each is not best), None)
    if other is None or _rank(other.cells[Criterion.AXLE_LIFE]) <= _rank(best.cells[Criterion.AXLE_LIFE]):
        return None
    load = {"load": Amount(best.seat.heaviest.open_load.value or 0.0, Kind.FORCE)}
    said = (
        f"At {{load}} open the trade would take the other axle ({AXLE[other.kit]}); here the figures speak against it."
    )
    return Sentence(said, load)


def _speed_words(best: Judged) -> Sentence | None:
    said = [each.finding for each in best.said[Criterion.SPEED] if each.finding.id == "short-travel"]
    return next((each.sentence for each in said if each.level is not Level.UNKNOWN), None)


def _doubts(best: Judged) -> list[Sentence]:
    watches, unknown = best.at(Level.WATCH), best.unknown()
    told = [Sentence(f"To watch: {_named(watches)}.")] if watches else []
    told += [Sentence(f"Not known yet: {_named(unknown)}.")] if unknown else []
    return told


def _behind(rival: Judged, best: Judged) -> Sentence:
    """Why the stated follower comes after the one that is chosen."""
    words = f"The stated {small(KIT_WORDS[rival.kit])}"
    stops = rival.at(Level.STOP)
    if stops:
        return Sentence(f"{words} is stopped by {_named(stops)}.")
    worse = [
        criterion
        for criterion, cell in rival.cells.items()
        if cell.level is not None and cell.level.rank > _rank(best.cells[criterion])
    ]
    return Sentence(f"{words} is behind in {_named(worse)}." if worse else f"{words} is no better.")


def _rank(cell: Cell) -> int:
    return 0 if cell.level is None else cell.level.rank


def _named(criteria: Sequence[Criterion]) -> str:
    names = [small(CRITERION_WORDS[each]) for each in criteria]
    return names[0] if len(names) == 1 else f"{', '.join(names[:-1])} and {names[-1]}"
