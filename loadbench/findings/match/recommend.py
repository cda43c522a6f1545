"""Which follower suits best, the runner-up, and why, in words a builder would use."""

from __future__ import annotations

from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass

from loadbench.findings.axle import advise_axle, advise_travel
from loadbench.findings.finding import Amount, Choice, Level, Sentence
from loadbench.findings.match.changes import allowed_open, line_view
from loadbench.findings.match.kits import AXLE, ROLLERS, SOLID_ROLLERS, TRAVEL
from loadbench.findings.match.result import CRITERION_WORDS, KIT_WORDS, Cell, Criterion, Kit
from loadbench.findings.match.sayings import Saying, Seat, joined, small
from loadbench.findings.match.speed import LOST, lost_contact, rests_on_balance
from loadbench.units import Kind

UNKNOWN_WEIGHS = 0.4
"""Of a watch: what is not known may be one."""

CHANGE_WEIGHS = 0.5
"""A follower that is not the stated one has to be bought: it must be better by more than a doubt."""

OTHER_SHAPE_WEIGHS = 1.5
"""Where the camshaft's kind is not stated, a stated roller or flat follower tells of it."""

ANOTHER_HEAD_WEIGHS = 10
"""In stops: another head and camshaft is the most that can be asked for."""

SISTERS = (frozenset({Kit.ROLLER_HYDRAULIC_STANDARD, Kit.ROLLER_HYDRAULIC_SHORT}), SOLID_ROLLERS)
"""Followers that differ in what the advice speaks of: travel, and axle."""

CHOICE = AXLE | {kit: TRAVEL[kit] for kit in SISTERS[0]}
"""The advice's word for each."""

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


def ranked(judged: Sequence[Judged], own: Collection[Kit], *, cam_known: bool) -> list[Judged]:
    """Followers in order, the one that suits best first.

    Args:
        judged: one for each kit.
        own: the kits that the job's entries leave open; none where they name no family.
        cam_known: whether the camshaft's kind is stated.

    Returns:
        By the fewest stops, then the least weight of watches, unknowns and changes; the stated kit first where equal.
        What is not known of the job's own follower does not count: another is no better for being asked less.
    """
    lost = _lost_level(judged, own)

    def score(each: Judged) -> tuple[int, float, bool]:
        stops, watches = _stops(each, lost), _watches(each, lost)
        mine = each.kit in own
        weight = watches + (0.0 if mine else UNKNOWN_WEIGHS * len(each.unknown()))
        if own and not mine:
            weight += CHANGE_WEIGHS
            if not cam_known and all((each.kit in ROLLERS) != (kit in ROLLERS) for kit in own):
                weight += OTHER_SHAPE_WEIGHS
        return stops, weight, not mine

    return sorted(judged, key=score)


def by_advice(order: Sequence[Judged]) -> list[Judged]:
    """The same order with the travel and the axle that the advice names before its sister.

    Args:
        order: followers, the best first.

    Returns:
        The order; a sister stays before the advised one where a stop or a watch speaks against that.
    """
    found = list(order)
    for sisters in SISTERS:
        pair = [each for each in found if each.kit in sisters and each.seat is not None]
        if len(pair) == 2 and _advised(pair[1]) and not _more_against(pair[1], pair[0]):
            found.remove(pair[1])
            found.insert(found.index(pair[0]), pair[1])
    return found


def _advice(judged: Judged) -> Choice | None:
    """The advice on its travel or axle; None for a follower that has no choice of them."""
    if judged.seat is None or judged.kit not in CHOICE:
        return None
    return (advise_axle if judged.kit in SOLID_ROLLERS else advise_travel)(judged.seat.heaviest)


def _advised(judged: Judged) -> bool:
    advice = _advice(judged)
    return advice is not None and advice.choice == CHOICE[judged.kit]


def _more_against(one: Judged, other: Judged) -> bool:
    """Whether more speaks against one than against the other, of what is known."""
    return (_stops(one), _watches(one)) > (_stops(other), _watches(other))


def _lost_level(judged: Sequence[Judged], own: Collection[Kit]) -> Level | None:
    """How lost contact stands by the dynamic run of the job's own follower; it has the only run there is."""
    cells = [each.cells[Criterion.SPEED] for each in judged if each.kit in own]
    levels = [cell.level for cell in cells if cell.rule == LOST and cell.level in (Level.STOP, Level.WATCH)]
    return max((each for each in levels if each), key=lambda level: level.rank, default=None)


def _not_run(judged: Judged) -> bool:
    return all(each.finding.id != LOST for each in judged.said.get(Criterion.SPEED, ()))


def _stops(judged: Judged, lost: Level | None = None) -> int:
    """Rules that stop it. One that was not run dynamically counts as losing contact as the job's own does."""
    if judged.seat is None:
        return ANOTHER_HEAD_WEIGHS
    rules = {cell.rule or cell.criterion for cell in judged.cells.values() if cell.level is Level.STOP}
    return len(rules) + (lost is Level.STOP and _not_run(judged))


def _watches(judged: Judged, lost: Level | None = None) -> int:
    watches = set(judged.at(Level.WATCH))
    if lost is Level.WATCH and _not_run(judged) and Criterion.SPEED not in judged.at(Level.STOP):
        watches.add(Criterion.SPEED)
    return len(watches)


def recommend(order: Sequence[Judged], own: Sequence[Kit], changes: Mapping[Kit, tuple[Sentence, ...]]) -> Choice:
    """The choice, its runner-up and the reason.

    Args:
        order: followers, the best first.
        own: the kits that the job's entries leave open.
        changes: what would have to change for each.

    Returns:
        The choice; none where every follower is stopped by something, or where the open load is not known.
    """
    best, second = order[0], order[1]
    because = tuple(dict.fromkeys(cell.rule for cell in best.cells.values() if cell.rule and _known(cell)))
    if best.at(Level.STOP):
        told = [Sentence(_none_suits(best)), _nearest(best, changes.get(best.kit, ()))]
        return Choice(choice=None, reason=joined(*told), because=because)
    if best.seat is None or best.seat.heaviest.open_load.value is None:
        said = "No recommendation before the load at full lift is known."
        return Choice(choice=None, reason=Sentence(said), because=because)
    parts = [_headline(best, own, order), *_doubts(best, own)]
    if best.kit not in own:
        parts += [_behind(each, best, own) for each in order if each.kit in own]
    runner = str(second.kit) if not second.at(Level.STOP) else None
    return Choice(choice=str(best.kit), runner_up=runner, reason=joined(*parts), because=because)


def _none_suits(best: Judged) -> str:
    """What the others do of the job's lost contact is not known: they have no dynamic run."""
    stops = {cell.rule for cell in best.cells.values() if cell.level is Level.STOP}
    return "No family is shown to suit as it stands." if stops == {LOST} else "No family suits as it stands."


def _known(cell: Cell) -> bool:
    return cell.level not in (None, Level.UNKNOWN)


def _nearest(best: Judged, changes: Sequence[Sentence]) -> Sentence:
    start = Sentence(f"Nearest is the {small(KIT_WORDS[best.kit])}. For it to suit:")
    return joined(start, *changes)


def _headline(best: Judged, own: Sequence[Kit], others: Sequence[Judged]) -> Sentence:
    """What speaks for it: its load and its speed, where the trade has a word on them; what it is subject to."""
    mine = "" if best.kit not in own else ", as stated" if len(own) == 1 else ", of the stated family"
    subject = [*_lost_words(best), *_open_words(best)]
    start = Sentence(f"{KIT_WORDS[best.kit]}{mine}: nothing stops it.")
    if subject:
        amounts = {name: each for said in subject for name, each in said.amounts.items()}
        told = ", and ".join(said.template for said in subject)
        start = Sentence(f"{KIT_WORDS[best.kit]}{mine}: no rule stops it, but {told}.", amounts)
    load = None if best.kit in SOLID_ROLLERS else _load_words(best)
    found = [load, _speed_words(best), _advice_words(best, others)]
    return joined(start, *(each for each in found if each is not None))


def _lost_words(best: Judged) -> list[Sentence]:
    """Contact that the dynamic run loses up to the speed limit."""
    loss = None if best.seat is None else lost_contact(best.seat, best.said.get(Criterion.SPEED, ()))
    if loss is None:
        return []
    where = "at the speed limit, and first" if loss.at_limit else "below the speed limit, first"
    amounts = {"onset": Amount(loss.onset, Kind.SPEED)}
    return [Sentence(f"by the dynamic run contact is lost {where} at {{onset}}", amounts)]


def _open_words(best: Judged) -> list[Sentence]:
    """The advice leaves the choice open, or names neither."""
    advice = _advice(best)
    if advice is None or advice.choice not in ("open", "neither"):
        return []
    what = "axle" if best.kit in SOLID_ROLLERS else "travel"
    said = f"its {what} is an open question" if advice.choice == "open" else f"the trade would take neither {what}"
    return [Sentence(said)]


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


def _advice_words(best: Judged, others: Sequence[Judged]) -> Sentence | None:
    """Why this axle or travel: the trade's word, or what speaks against the one that the trade would take."""
    advice = _advice(best)
    if advice is None:
        return None
    if advice.choice in ("open", "neither") or (best.kit in SOLID_ROLLERS and _advised(best)):
        return advice.reason
    other = next((each for each in others if each.kit is not best.kit and _sisters(each, best)), None)
    worse = [] if _advised(best) or other is None else _worse(other, best)
    if other is None or not worse:
        return None
    what = "axle" if best.kit in SOLID_ROLLERS else "travel"
    said = f"The trade would take the {CHOICE[other.kit]} {what}"
    told = Sentence(f"{said}; here {_named(worse)} speak{'' if len(worse) > 1 else 's'} against it.")
    return joined(advice.reason, told)


def _sisters(one: Judged, other: Judged) -> bool:
    return any(one.kit in each and other.kit in each for each in SISTERS)


def _speed_words(best: Judged) -> Sentence | None:
    said = [each.finding for each in best.said[Criterion.SPEED] if each.finding.id == "short-travel"]
    return next((each.sentence for each in said if each.level is not Level.UNKNOWN), None)


def _doubts(best: Judged, own: Sequence[Kit]) -> list[Sentence]:
    watches, unknown = best.at(Level.WATCH), best.unknown()
    told = [Sentence(f"To watch: {_named(watches)}.")] if watches else []
    if best.kit in own and len(own) > 1:
        told.append(Sentence(f"Its {'axle' if best.kit in SOLID_ROLLERS else 'travel'} is not stated."))
    told += [Sentence(f"Not known yet: {_named(unknown)}.")] if unknown else []
    if rests_on_balance(best.said.get(Criterion.SPEED, ())):
        told.append(Sentence("Contact with the lobe is by the rigid force balance alone."))
    return told


def _behind(rival: Judged, best: Judged, own: Sequence[Kit]) -> Sentence:
    """Why the stated follower comes after the one that is chosen: by what is known, not by what is missing."""
    words = f"The stated {small(KIT_WORDS[rival.kit])}"
    if len(own) > 1:
        words = f"{KIT_WORDS[rival.kit]}, of the stated family,"
    stops = rival.at(Level.STOP)
    if stops:
        return Sentence(f"{words} is stopped by {_named(stops)}.")
    worse = _worse(rival, best)
    if worse:
        return Sentence(f"{words} is behind in {_named(worse)}.")
    return Sentence(f"{words} would serve too, by what is known.")


def _worse(rival: Judged, best: Judged) -> list[Criterion]:
    """Where a stop or a watch speaks against one and less against the other."""
    return [
        criterion
        for criterion, cell in rival.cells.items()
        if cell.level in (Level.STOP, Level.WATCH) and cell.level.rank > _rank(best.cells[criterion])
    ]


def _rank(cell: Cell) -> int:
    return 0 if cell.level is None else cell.level.rank


def _named(criteria: Sequence[Criterion]) -> str:
    names = [small(CRITERION_WORDS[each]) for each in criteria]
    return names[0] if len(names) == 1 else f"{', '.join(names[:-1])} and {names[-1]}"
